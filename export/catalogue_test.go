package export

import (
	"bytes"
	"encoding/json"
	"strings"
	"testing"
	"testing/fstest"

	"bankwright/engine"
	"bankwright/engine/decl"
	"bankwright/engine/eval"
	"bankwright/export/calc"
)

// boards is a comparison of 25 shelves, of which five are stopped: too many to
// show all in full.
const boards = `
title = "Shelves of boards"
currency = "EUR"
date = "2026-02-01"
standard_rules = false
shortlist = ["deal_5"]
[rules.table.cut]
columns = { length = "mm", waste = "money", saw = "text" }
rows = [[500, 0, "hand"], [4000, 0, "band"]]
source = "invented"
[rules.kind.board]
many = "boards"
[rules.kind.shop]
doc = "Where they are bought."
[rules.kind.shelf]
many    = "shelves"
name    = "{board}_{count}"
compare = { by = "cost", best = "lowest", show = ["count"], frontier = { lowest = "cost", highest = "length" } }
[rules.shop.margin]
unit    = "%"
default = "10 %"
[rules.board.price]
unit = "money"
[rules.board.length]
unit = "m"
[rules.board.paint]
unit     = "money"
optional = true
[rules.board.wax]
unit    = "money"
default = "0 money"
[rules.board.waste]
unit    = "money"
formula = "interpolate(cut.length, cut.waste, length)"
[rules.board.colour]
unit     = "K"
optional = true
[rules.shelf.board]
refers = "board"
[rules.shelf.count]
default = 1
[rules.shelf.length]
unit    = "m"
formula = "count * board.length"
doc     = "Length of all boards."
[rules.shelf.cost]
unit    = "money"
formula = "count * (board.price + (board.paint ?? 0) + board.wax + board.waste) * (1 + shop.margin)"
doc     = "What it costs."
[rules.check.count]
of        = "shelf"
severity  = "stop"
require   = "count < 5"
otherwise = "It has {count} boards."
[board.oak]
price  = "9 EUR"
length = "1 m"
[board.elm]
price  = "8 EUR"
length = "1.5 m"
paint  = "1 EUR"
[board.ash]
price  = "7 EUR"
length = "= 2 * boards.oak.length"
[board.fir]
price  = "6 EUR"
length = "2.5 m"
[board.deal]
price  = "5 EUR"
length = "3 m"
[shelf.every]
each = { board = "all", count = [1, 2, 3, 4, 5] }
`

func loadBoards(t *testing.T) *engine.Model {
	t.Helper()
	return load(t, fstest.MapFS{"boards.toml": {Data: []byte(boards)}}, "boards.toml", nil)
}

// TestCatalogue: all stand on their sheet in ranked order with the engine's
// values; those of the shortlist are live beside them and come to the same.
func TestCatalogue(t *testing.T) {
	m := loadBoards(t)
	c := m.Compare()
	pl := plotBook(m, nil)
	if pl.fault != nil {
		t.Fatal(pl.fault)
	}
	if err := pl.book.fill(); err != nil {
		t.Fatal(err)
	}
	run := calc.New(live{Book: pl.book})
	noErrors(t, pl.book, run)
	n := pl.book.Sheet("All shelves")
	// place, count, length, cost, not met, frontier, now
	for i, st := range c.Ranked {
		row := allRow + i
		if name := run.Cell(n, row, labelCol).S; name != c.Kind.Items[st.Item].Name {
			t.Fatalf("row %d is %s, want %s", row, name, c.Kind.Items[st.Item].Name)
		}
		if cost := run.Cell(n, row, 5); !same(cost, calc.Num(st.Figure)) {
			t.Errorf("row %d costs %v, want %v", row, cost, st.Figure)
		}
		now := run.Cell(n, row, 8)
		if st.Full && !same(now, calc.Num(st.Figure)) || !st.Full && now.T != calc.Empty {
			t.Errorf("row %d has now %v, want %v", row, now, st.Figure)
		}
		if finding := run.Cell(n, row, 6).S; (finding == "stop: count") != st.Stopped {
			t.Errorf("row %d has the finding %q", row, finding)
		}
		if front := run.Cell(n, row, 7).S == "yes"; front != st.Frontier {
			t.Errorf("row %d is on the frontier: %v", row, front)
		}
	}
	if got := len(pl.prog.Compared().Items); got != 7 { // six and the one that is named
		t.Errorf("%d go through the workbook", got)
	}
	answer := pl.book.Find("Answer")
	text := ""
	for _, row := range answer.Rows() {
		for _, c := range row {
			if s, ok := c.Value.(string); ok {
				text += s + "\n"
			}
		}
	}
	for _, want := range []string{"deal_1 has the lowest cost: 5.5 EUR; fir_1 lies 20.0 % above", "18 more stand on the sheet All shelves", "unchanged"} {
		if !strings.Contains(text, want) {
			t.Errorf("the answer lacks %q:\n%s", want, text)
		}
	}
}

// TestInputsSince: one cell names the first input that is no longer what it
// was, and the live figures follow while the values stay.
func TestInputsSince(t *testing.T) {
	m := loadBoards(t)
	pl := plotBook(m, nil)
	inputs, all := pl.book.Sheet("Inputs"), pl.book.Sheet("All shelves")
	for _, c := range []struct {
		kind, name, item string
		data             any
		want             string
		now              float64 // of deal_1, 5.5 at first
	}{
		{"", "", "", nil, "unchanged", 5.5},
		{"board", "price", "deal", 6.0, "changed: Price (deal)", 6.6},
		{"board", "price", "oak", 8.0, "changed: Price (oak)", 5.5},
		{"board", "price", "oak", 9.0, "unchanged", 5.5},
		{"board", "paint", "elm", nil, "changed: Paint (elm)", 5.5},
		{"board", "paint", "deal", 0.5, "changed: Paint (deal)", 6.05},
		{"board", "wax", "deal", nil, "changed: Wax (deal)", 0},       // 0 before: missing
		{"board", "length", "ash", 2.5, "changed: Length (ash)", 5.5}, // a formula before
		{"shop", "margin", "shop", 20.0, "changed: Margin (Shop)", 6},
		{"shelf", "count", "deal_1", 2.0, "changed: Count (deal_1)", 11},
	} {
		l := live{Book: pl.book, changed: map[[3]int]any{}}
		if c.kind != "" {
			k := pl.prog.Kind(c.kind)
			at := pl.places[k.Quantity(c.name)]
			l.changed[[3]int{inputs, at.row, at.column(k.Item(c.item))}] = c.data
		}
		run := calc.New(l)
		if got := run.Cell(all, sinceRow, placeCol).S; got != c.want {
			t.Errorf("%s.%s = %v: %q, want %q", c.kind, c.name, c.data, got, c.want)
		}
		if got := run.Cell(all, allRow, 8); c.now > 0 && !same(got, calc.Num(c.now)) {
			t.Errorf("%s.%s = %v: deal_1 is now %v, want %v", c.kind, c.name, c.data, got, c.now)
		}
		if got := run.Cell(all, allRow, 5); !same(got, calc.Num(5.5)) {
			t.Errorf("%s.%s = %v: the value then is %v", c.kind, c.name, c.data, got)
		}
	}
}

// TestTablesSince: a value of a table counts among the inputs if and only if
// values of the list follow from its column.
func TestTablesSince(t *testing.T) {
	pl := plotBook(loadBoards(t), nil)
	table := pl.prog.Model.Tables[0]
	for _, c := range []struct {
		col  int
		data any
		want string
		now  float64 // of deal_1
	}{
		{0, 600.0, "changed: Cut: length 2 (Tables)", 5.5},
		{1, 7.0, "changed: Cut: waste 2 (Tables)", (5 + 5) * 1.1}, // 3 m lies 5/7 of the way from 500 to 4000 mm
		{2, "fret", "unchanged", 5.5},
	} {
		l := pl.published[columnKey{table, c.col}]
		run := calc.New(live{Book: pl.book, changed: map[[3]int]any{{pl.book.Sheet("Tables"), l.row + 1, l.col}: c.data}})
		all := pl.book.Sheet("All shelves")
		if got := run.Cell(all, sinceRow, placeCol).S; got != c.want {
			t.Errorf("column %d: %q, want %q", c.col, got, c.want)
		}
		if got := run.Cell(all, allRow, 8); c.col > 0 && !same(got, calc.Num(c.now)) {
			t.Errorf("column %d: deal_1 is now %v, want %v", c.col, got, c.now)
		}
	}
}

// TestCatalogueReach: whatever moves a value of the list, as the engine finds
// it, is among the inputs that the sheet looks at.
func TestCatalogueReach(t *testing.T) {
	m := loadBoards(t)
	pl := plotBook(m, nil)
	all := pl.book.Sheet("All shelves")
	seen := map[bool]int{}
	for _, q := range pl.prog.Quantities {
		l, of := pl.places[q], m.Kind(q.Kind.Name).Quantity(q.Name)
		if of == nil || q.IsRule() || q.Type != decl.Number || l.row == 0 {
			continue
		}
		for i, it := range q.Kind.Items {
			shown := q.Unit.FromBase(pl.res.At(q, i, 0))*1.1 + 0.1
			if shown != shown {
				shown = 1
			}
			now := eval.New(m.Program).Run(eval.Change{Quantity: of, Item: of.Kind.Item(it.Name), Value: q.Unit.ToBase(shown)})
			moved := false
			for _, c := range pl.catalogue.cells() {
				a, b := m.Result.At(c.q, c.item, 0), now.At(c.q, c.item, 0)
				moved = moved || a != b && (a == a || b == b)
			}
			run := calc.New(live{Book: pl.book, changed: map[[3]int]any{{pl.book.Sheet("Inputs"), l.row, l.column(i)}: shown}})
			if said := run.Cell(all, sinceRow, placeCol).S; moved != strings.HasPrefix(said, changed+": ") {
				t.Errorf("%s of %s moves values of the list: %v; the sheet says %q", q.Name, it.Name, moved, said)
			}
			seen[moved]++
		}
	}
	if seen[true] < 10 || seen[false] < 3 {
		t.Errorf("moved: %v", seen)
	}
}

// TestCatalogueJSON: the document always holds all, and says of each whether it
// is on the shortlist and on the frontier.
func TestCatalogueJSON(t *testing.T) {
	m := loadBoards(t)
	var b bytes.Buffer
	if err := CompareJSON(&b, m); err != nil {
		t.Fatal(err)
	}
	var doc struct {
		Shelves []struct {
			Name      string
			Shortlist bool
			Frontier  *bool
		}
	}
	if err := json.Unmarshal(b.Bytes(), &doc); err != nil {
		t.Fatal(err)
	}
	var short, front []string
	for _, s := range doc.Shelves {
		if s.Shortlist {
			short = append(short, s.Name)
		}
		if s.Frontier == nil {
			t.Fatalf("%s does not say", s.Name)
		}
		if *s.Frontier {
			front = append(front, s.Name)
		}
	}
	if len(doc.Shelves) != 25 {
		t.Errorf("%d shelves", len(doc.Shelves))
	}
	// Costs of one to four boards: deal 5.5 each, fir 6.6, ash 7.7, oak and elm
	// 9.9. Deal is the cheapest and the longest, so that it alone is not beaten.
	if got := strings.Join(short, " "); got != "oak_1 elm_1 ash_1 fir_1 deal_1 deal_2 deal_5" {
		t.Errorf("the shortlist is %s", got)
	}
	if got := strings.Join(front, " "); got != "deal_1 deal_2 deal_3 deal_4" {
		t.Errorf("the frontier is %s", got)
	}
	none := load(t, fstest.MapFS{"boards.toml": {Data: []byte(strings.Replace(boards, `, frontier = { lowest = "cost", highest = "length" }`, "", 1))}}, "boards.toml", nil)
	b.Reset()
	if err := CompareJSON(&b, none); err != nil || !strings.Contains(b.String(), `"frontier": null`) {
		t.Errorf("without a frontier: %v", err)
	}
}

// Edited are workbooks of the boards in which somebody has changed an input,
// by what the sheet of all must then say.
func Edited(t *testing.T) map[string]*Book {
	t.Helper()
	out := map[string]*Book{}
	for _, c := range []struct {
		kind, name, item string
		data             any
		want             string
	}{
		{"shop", "margin", "shop", 10.0, "unchanged"},
		{"board", "price", "fir", 7.0, "changed: Price (fir)"},
		{"board", "paint", "elm", nil, "changed: Paint (elm)"},
		{"board", "wax", "oak", nil, "changed: Wax (oak)"},
		{"board", "length", "ash", 2.5, "changed: Length (ash)"},
	} {
		pl := plotBook(loadBoards(t), nil)
		if err := pl.book.fill(); err != nil {
			t.Fatal(err)
		}
		k := pl.prog.Kind(c.kind)
		at := pl.places[k.Quantity(c.name)]
		pl.inputs.sheet.Set(at.row, at.column(k.Item(c.item)), Cell{Value: c.data, Style: Input})
		out[c.want] = pl.book
	}
	return out
}
