package engine_test

import (
	"strings"
	"testing"

	"bankwright/engine"
	"bankwright/engine/eval"
)

// cellOf is the cell of a name.
func cellOf(t *testing.T, m *engine.Model, name string) eval.Cell {
	t.Helper()
	c, err := m.ParseCell(name)
	if err != nil {
		t.Fatal(err)
	}
	return c
}

// traced is a trace as text: each cell and, in brackets, what it was computed from.
func traced(t *engine.Trace) string {
	s := t.Name + " " + t.Text
	for _, word := range []string{t.Reason, t.Verdict} {
		if word != "" {
			s += " (" + word + ")"
		}
	}
	if t.Given != nil {
		s += " given"
	}
	if t.Cut {
		s += " …"
	}
	var from []string
	for _, f := range t.From {
		from = append(from, traced(f))
	}
	if len(from) > 0 {
		s += " [" + strings.Join(from, ", ") + "]"
	}
	return s
}

// TestExplain: how a value came about, level by level, down to what is given; why there
// is none; and what a check says that is not met.
func TestExplain(t *testing.T) {
	m := nurseryModel(t, "#north", "wood = \"ash\"\nsold = [1, 2, 3]\nlog = \"a.csv\"")
	for _, c := range []struct {
		cell  string
		depth int
		want  string
	}{
		{"bench.north.number", 3, "bench.north.number 10 given"},
		{"bench.north.cost", 0, "bench.north.cost 20 EUR …"},
		{"bench.north.cost", 1, "bench.north.cost 20 EUR [bench.north.number 10 given, pot.clay.price 2 EUR given]"},
		{"bench.north.sold[2]", 1, "bench.north.sold[2] 2 given"},
		{"bench.south.sold[2]", 1, "bench.south.sold[2] - (bench.south.sold[2] is not given)"},
		{"bench.north.log", 1, "bench.north.log a.csv, 2 rows given"},
		{"check.wooden.north", 1, "check.wooden.north no (It is no oak.) [bench.north.wood ash given]"},
		{"check.wooden.south", 1, "check.wooden.south - (bench.south.wood is not given) [bench.south.wood - (bench.south.wood is not given)]"},
		{"check.dear.north", 1, "check.dear.north yes [bench.north.cost 20 EUR …, constant.dear_from 100 EUR given]"},
	} {
		if got := traced(m.Explain(cellOf(t, m, c.cell), c.depth)); got != c.want {
			t.Errorf("%s, depth %d:\n got %s\nwant %s", c.cell, c.depth, got, c.want)
		}
	}
}

// TestBelow: how deep what a cell comes from goes, what stands there, each once, and
// which of it the scenario gives itself.
func TestBelow(t *testing.T) {
	m := nurseryModel(t, "#north", "number = 7")
	for _, c := range []struct {
		cell         string
		levels       int
		below, given string
	}{
		{"bench.north.number", 0, "", ""},
		{"bench.north.cost", 1, "bench.north.number pot.clay.price", "bench.north.number pot.clay.price"},
		{"bench.south.cost", 1, "bench.south.number pot.fibre.price", "pot.fibre.price"},
		{"check.dear.north", 2, "bench.north.cost constant.dear_from bench.north.number pot.clay.price", "bench.north.number pot.clay.price"},
	} {
		cell := cellOf(t, m, c.cell)
		levels, cells := m.Below(cell)
		var below, given []string
		for _, b := range cells {
			below = append(below, m.CellName(b))
		}
		for _, g := range m.GivenBelow(cell) {
			given = append(given, g.Name)
		}
		if levels != c.levels || strings.Join(below, " ") != c.below || strings.Join(given, " ") != c.given {
			t.Errorf("%s: %d levels, %v, given %v", c.cell, levels, below, given)
		}
	}
}

// TestWhyMissing: each reason for which there is no value, in words.
func TestWhyMissing(t *testing.T) {
	for _, c := range []struct {
		formula string
		moved   float64 // what becomes of the number, which is 3 to begin with
		want    string
	}{
		{"number * 2", 2, ""},
		{"blank * 2", 2, "shelf.a.blank is not given"},
		{"1 / number", 0, "division by zero, with shelf.a.number = 0"},
		{"number ** (1 / 2)", -1, "this power has no result, with shelf.a.number = -1"},
		{"ln(number)", -1, "ln has no result for this value, with shelf.a.number = -1"},
		{"10 ** (100 * number)", 4, "the value is too large to be a number, with shelf.a.number = 4"},
		{"mean(map(kept_in, .number))", 2, "no shelf refers to a"},
		{"deviation(map(beside, .number))", 2, "one value has no spread, with shelf.b.number = 3"},
		{"lookup(lid.width, lid.price, number)", 4, "there is no such row in the table, with shelf.a.number = 4"},
	} {
		m := loadText(t, `title = "Why"
currency = "EUR"
standard_rules = false
[rules.kind.shelf]
many = "shelves"
doc = "A shelf."
[rules.shelf.number]
default = 3
doc = "A number."
[rules.axis.row]
steps = 5
active = "shop.rows"
doc = "Rows."
[rules.shelf.books]
over = "row"
start = "1"
formula = "prev(books) + number"
doc = "Books."
[rules.kind.shop]
doc = "The shop."
[rules.shop.rows]
default = 2
doc = "Rows in use."
[rules.table.lid]
columns = { width = "1", price = "1" }
rows = [[1, 2], [2, 3], [3, 5]]
source = "invented"
[rules.shelf.of]
refers = "shelf"
optional = true
doc = "What it stands on."
[rules.shelf.kept_in]
inverse = "shelf.of"
doc = "What stands on it."
[rules.shelf.beside]
refers = "shelf"
set = true
default = ["b"]
doc = "What stands beside it."
[rules.shelf.blank]
optional = true
doc = "Not given."
[rules.shelf.value]
formula = "`+c.formula+`"
doc = "A value."
[shelf.a]
[shelf.b]
`)
		m = m.With(cellOf(t, m, "shelf.a.number"), c.moved)
		if got := m.WhyMissing(cellOf(t, m, "shelf.a.value")); got != c.want {
			t.Errorf("%s: %q, want %q", c.formula, got, c.want)
		}
		if got := m.WhyMissing(cellOf(t, m, "shelf.a.books[3]")); got != "shelf.a.books[3] is beyond the steps in use" {
			t.Errorf("of a row that is not in use: %q", got)
		}
	}
}

// TestWith: another value of an input is used by everything that follows from it, and
// the model that it was put to stays as it is.
func TestWith(t *testing.T) {
	m := nurseryModel(t)
	other := m.With(cellOf(t, m, "pot.clay.price"), 5)
	for name, want := range map[string]string{"pot.clay.price": "5 EUR", "bench.north.cost": "50 EUR", "bench.south.cost": "10 EUR"} {
		if got := other.CellText(cellOf(t, m, name)); got != want {
			t.Errorf("%s is %s, want %s", name, got, want)
		}
	}
	if got := m.CellText(cellOf(t, m, "bench.north.cost")); got != "20 EUR" {
		t.Errorf("in the model itself it is %s", got)
	}
}

// TestInSeries: of a series the steps in use, of a set all items.
func TestInSeries(t *testing.T) {
	m := load(t, "testdata/good", "market_garden.toml")
	for name, want := range map[string]int{
		"garden.discount[1]": 4, "bed.south.row_share[1]": 1, "bed.north.row_share[1]": 2, "bed.south.neighbours": 3, "bed.south.rows": 1,
	} {
		var got []string
		for _, c := range m.InSeries(cellOf(t, m, name)) {
			got = append(got, m.CellName(c))
		}
		if len(got) != want {
			t.Errorf("%s: %v", name, got)
		}
	}
}
