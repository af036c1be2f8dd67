package export

import (
	"slices"
	"strings"
	"testing"

	"bankwright/engine/diag"
	"bankwright/engine/oracle"
)

// TestMovedCells: rows and columns that were put in between are told, and inputs are
// found all the same; without the row of an input there is nothing to read.
func TestMovedCells(t *testing.T) {
	oracle.OneCore(t)
	m := models(t)["cabin"]
	pl := plotBook(m, nil)
	price := placed(t, pl, "battery.oak.price", 0)
	book := sentBack{pl.book, map[[3]int]any{price: 1100.0}}
	for _, c := range []struct {
		what string
		move func(row, col int) (int, int)
		want string
		at   string
	}{
		{"a row above", func(r, c int) (int, int) { return r + btoi(r >= price[1]), c }, "row " + number(float64(price[1])) + " was added", cellName(price[1]+1, price[2])},
		{"a column before", func(r, c int) (int, int) { return r, c + btoi(c >= price[2]) }, "the column C was added", cellName(price[1], price[2]+1)},
		{"a column before all", func(r, c int) (int, int) { return r, c + 1 }, "the column A was added", cellName(price[1], price[2]+1)},
	} {
		read, faults := readBack(pl, moved{book, c.move}, "book.xlsx")
		if faults.HasErrors() || len(faults) != 1 || !strings.Contains(faults[0].Error(), c.want) || len(read.Changes) != 1 || read.Changes[0].Address != "Inputs!"+c.at {
			t.Errorf("%s: %v %v", c.what, faults, read.Changes)
		}
	}
	_, faults := readBack(pl, moved{book, func(r, c int) (int, int) {
		if r == price[1] {
			return 5000, c
		}
		return r - btoi(r > price[1]), c
	}}, "book.xlsx")
	if !faults.HasErrors() || !strings.Contains(faults[len(faults)-1].Summary, "the row of \"Price\", an input, is gone") {
		t.Errorf("%v", faults)
	}
	last := pl.prog.Kinds[0]
	for _, k := range pl.prog.Kinds {
		if pl.names[k].row > pl.names[last].row {
			last = k
		}
	}
	_, faults = readBack(pl, moved{sentBack{pl.book, nil}, func(r, c int) (int, int) {
		if c == itemCol && r >= pl.names[last].row {
			return 5000, c
		}
		return r, c - btoi(c > itemCol && r >= pl.names[last].row)
	}}, "book.xlsx")
	if n := len(faults) - 1; n < 0 || !strings.Contains(faults[0].Summary, "is gone from the row of names of "+titleOf(last)) || strings.Contains(faults[n].Summary, "tolerance") {
		t.Errorf("%v", faults)
	}
}

// TestSwappedCells: rows and columns that have changed places, with what stands in
// them, are not taken for renamed ones.
func TestSwappedCells(t *testing.T) {
	oracle.OneCore(t)
	m := models(t)["cabin"]
	pl := plotBook(m, nil)
	swap := func(n, a, b int) int {
		switch n {
		case a:
			return b
		case b:
			return a
		}
		return n
	}
	one, other := placed(t, pl, "battery.oak.mass", 0), placed(t, pl, "battery.oak.max_series", 0)
	k := pl.prog.Kind("alternative")
	inBlock := func(row int) bool { return row >= pl.names[k].row && row <= pl.missing[k].row }
	last := itemCol + len(k.Items) - 1
	for _, c := range []struct {
		what string
		to   func(row, col int) (int, int)
		want string
	}{
		{"rows", func(r, c int) (int, int) { return swap(r, one[1], other[1]), c }, "an input, was row"},
		{"columns", func(r, c int) (int, int) {
			if inBlock(r) {
				return r, swap(c, itemCol, last)
			}
			return r, c
		}, `the names of "one_oak" and "six_ash" have changed places, here and in ` + cellName(pl.names[k].row, last)},
	} {
		read, faults := readBack(pl, moved{sentBack{pl.book, nil}, c.to}, "book.xlsx")
		told := slices.ContainsFunc(faults, func(d diag.Diagnostic) bool { return d.Severity == diag.Error && strings.Contains(d.Summary, c.want) })
		if !told || len(read.Changes) > 0 {
			t.Errorf("%s: %v %v", c.what, faults, read.Changes)
		}
	}
	names := pl.names[k].row
	sheet := pl.book.Sheet("Inputs")
	for _, c := range []struct {
		to   map[[3]int]any
		want []string
	}{
		{map[[3]int]any{{sheet, names, itemCol}: "two_ash", {sheet, names, itemCol + 1}: "one_oak"}, []string{`the names of "one_oak" and "two_ash" have changed places`}},
		{map[[3]int]any{{sheet, names, itemCol}: "three_ash", {sheet, names, itemCol + 1}: "one_oak", {sheet, names, itemCol + 2}: "two_ash"},
			[]string{`this says "three_ash", which stood in`, `this says "one_oak", which stood in`, `this says "two_ash", which stood in`}},
		{map[[3]int]any{{sheet, names, itemCol}: "elm"}, []string{`this says "elm", where "one_oak" stood; names stay as the scenario has them`}},
	} {
		_, faults := readBack(pl, sentBack{pl.book, c.to}, "book.xlsx")
		for i, want := range c.want {
			if len(faults) != len(c.want) || !strings.Contains(faults[i].Summary, want) || faults[i].Mend == "" {
				t.Errorf("%v, want %s", faults, want)
			}
		}
	}
	var keys [][3]int
	tables := pl.book.Find("Tables")
	for r := range tables.rows {
		if tables.At(r+1, 1).isPublished() && r >= tables.FreezeRows {
			keys = append(keys, [3]int{pl.book.Sheet("Tables"), r + 1, 1})
		}
	}
	swapped := map[[3]int]any{keys[0]: tables.At(keys[4][1], 1).Value, keys[4]: tables.At(keys[0][1], 1).Value}
	if _, faults := readBack(pl, sentBack{pl.book, swapped}, "book.xlsx"); !faults.HasErrors() {
		t.Errorf("figures of the rules that have changed places: %v", faults)
	}
}

// moved is a workbook of which the cells of the sheet Inputs stand elsewhere.
type moved struct {
	sentBack
	to func(row, col int) (int, int)
}

func (b moved) Read(sheet string, n int) (*ReturnedSheet, error) {
	s, err := b.sentBack.Read(sheet, n)
	if sheet != "Inputs" {
		return s, err
	}
	out := &ReturnedSheet{Name: sheet}
	for at, c := range s.cells {
		if row, col := b.to(at[0], at[1]); row < 5000 {
			out.Set(row, col, c)
		}
	}
	return out, err
}

// TestSortedRows: rows of inputs that were sorted are told with where they stand now, and
// none of them as removed or added.
func TestSortedRows(t *testing.T) {
	oracle.OneCore(t)
	pl := plotBook(models(t)["cabin"], nil)
	first, last := placed(t, pl, "battery.oak.capacity", 0)[1], placed(t, pl, "battery.oak.cutoff_voltage", 0)[1]
	back := func(r, c int) (int, int) {
		if r >= first && r <= last {
			return first + last - r, c
		}
		return r, c
	}
	read, faults := readBack(pl, moved{sentBack{pl.book, nil}, back}, "book.xlsx")
	if len(read.Changes) > 0 || len(faults) < last-first-1 {
		t.Errorf("%v %v", read.Changes, faults)
	}
	for _, d := range faults {
		if d.Severity != diag.Error || !strings.Contains(d.Summary, "stands here now: rows were sorted or moved") || d.Mend == "" {
			t.Error(d)
		}
	}
}

// TestRenamedSheets: a sheet of another name is known by its title and read.
func TestRenamedSheets(t *testing.T) {
	oracle.OneCore(t)
	pl := plotBook(models(t)["cabin"], nil)
	price := placed(t, pl, "battery.oak.price", 0)
	usable := pl.places[pl.prog.Kind("alternative").Quantity("usable_energy")]
	changed := sentBack{pl.book, map[[3]int]any{price: 1200.0, {pl.book.Sheet(usable.page.name), usable.row, usable.col}: 5.0}}
	read, faults := readBack(pl, renamed{changed, map[string]string{"Inputs": "Our inputs", usable.page.name: "Ways", "Checks": "Inputs of ours"}}, "book.xlsx")
	var told []string
	for _, d := range faults {
		told = append(told, d.Error())
	}
	want := []string{
		"book.xlsx: warning: the sheet Inputs is called Our inputs now",
		"book.xlsx: warning: the sheet " + usable.page.name + " is called Ways now",
		"book.xlsx: warning: the sheet Checks is called Inputs of ours now",
		"book.xlsx:Ways!" + cellName(usable.row, usable.col) + ": warning: the formula was overwritten by 5",
	}
	for i, w := range want {
		if len(told) != len(want) || !strings.HasPrefix(told[i], w) {
			t.Fatalf("%q, want %q", told, want)
		}
	}
	if at := "Our inputs!" + cellName(price[1], price[2]); len(read.Changes) != 1 || read.Changes[0].Address != at {
		t.Errorf("%+v, want one at %s", read.Changes, at)
	}
}

// renamed is a workbook of which sheets have other names.
type renamed struct {
	sentBack
	to map[string]string
}

func (b renamed) Sheets() []string {
	names := b.sentBack.Sheets()
	for i, name := range names {
		if now := b.to[name]; now != "" {
			names[i] = now
		}
	}
	return names
}

func (b renamed) Read(sheet string, n int) (*ReturnedSheet, error) {
	for name, now := range b.to {
		if now == sheet {
			s, err := b.sentBack.Read(name, n)
			if s != nil {
				s.Name = sheet
			}
			return s, err
		}
	}
	return b.sentBack.Read(sheet, n)
}
