package export

import (
	"strings"
	"testing"

	"bankwright/engine/decl"
	"bankwright/engine/oracle"
	"bankwright/export/calc"
)

// TestNotPossible: what is pasted past the limits is named on the first sheet,
// which then recommends nothing; what lies on a limit is possible.
func TestNotPossible(t *testing.T) {
	oracle.OneCore(t)
	m := models(t)["cabin"]
	pl := plotBook(m, nil)
	for _, c := range []struct {
		kind, quantity string
		item           int
		value          any
		want           string // "": it is possible
	}{
		{"site", "study_period", 0, 45.0, "Study period"},
		{"site", "study_period", 0, 40.0, ""},
		{"site", "study_period", 0, "long", "Study period"},
		{"site", "discount_rate", 0, -1.0, "Real discount rate"},
		{"load", "count", 1, 1.5, "Count"},
		{"load", "count", 1, -1.0, "Count"},
		{"load", "count", 1, "many", "Count"},
		{"load", "count", 1, 0.0, ""},
		{"load", "supply", 1, "gas", "Supply"},
		{"load", "supply", 1, "dc", ""},
		{"alternative", "battery", 2, "elm", "Battery"},
		{"alternative", "battery", 2, "oak", ""},
		{"alternative", "inverter", 2, "foo", "Inverter"},
		{"site", "dwelling", 0, "perhaps", "Dwelling"},
	} {
		k := m.Kind(c.kind)
		q := k.Quantity(c.quantity)
		if q == nil {
			t.Fatalf("no %s.%s", c.kind, c.quantity)
		}
		l := pl.places[q]
		run := calc.New(live{Book: pl.book, changed: map[[3]int]any{{pl.book.Sheet("Inputs"), l.row, l.column(c.item)}: c.value}})
		places, sentence := answerOf(pl.book, run)
		whose := " (" + titleOf(k) + ")"
		if k.Many {
			whose = " of " + itemLabel(k.Items[c.item])
		}
		switch {
		case c.want == "" && strings.HasPrefix(sentence, "Not possible"):
			t.Errorf("%s = %v: %q", c.quantity, c.value, sentence)
		case c.want != "" && (sentence != "Not possible: "+l.label+whose+" (sheet Inputs, cell "+cellName(l.row, l.column(c.item))+")." || strings.Trim(strings.Join(places, ""), "-") != ""):
			t.Errorf("%s = %v: %q, places %v", c.quantity, c.value, sentence, places)
		}
	}
}

// TestTextOverNumber types a text over numbers, of large models some: the first sheet
// names the cell, recommends nothing and shows no error value, and each sheet that shows
// one says above, in the words of the first, where it comes from.
func TestTextOverNumber(t *testing.T) {
	oracle.OneCore(t)
	for name, m := range eachModel(t) {
		if m.Compared() == nil || !small[name] && name != "quarry" {
			continue
		}
		t.Run(name, func(t *testing.T) {
			pl := plotBook(m, nil)
			tried, below := 0, 0
			type number struct {
				l    *line
				item int
			}
			var numbers []number
			for i, l := range pl.inputs.lines {
				if l.q == nil || l.q.Type != decl.Number || l.q.IsRule() || l.row == 0 {
					continue
				}
				for item := range l.items() {
					if few := name == "quarry" || name == "cabin"; !few || i%9 == 0 && item == l.row%l.items() {
						numbers = append(numbers, number{l, item})
					}
				}
			}
			for _, k := range pl.prog.Kinds {
				for _, l := range pl.extra[k] {
					if l.figureOf != nil {
						numbers = append(numbers, number{l, l.only})
					}
				}
			}
			for _, n := range numbers {
				if n.l.q != nil && n.l.q.Own[n.item] != nil {
					continue // calculated
				}
				tried++
				below += wrongNumber(t, pl, n.l, n.item)
			}
			if tried < 5 || below == 0 {
				t.Errorf("%d numbers tried, %d sheets with error values", tried, below)
			}
		})
	}
}

// wrongNumber types a text over a number, and tells how many sheets show error values.
func wrongNumber(t *testing.T, pl *plan, l *line, item int) (below int) {
	t.Helper()
	at := cellName(l.row, l.column(item))
	run := calc.New(live{Book: pl.book, changed: map[[3]int]any{{pl.book.Sheet("Inputs"), l.row, l.column(item)}: "about 5"}})
	places, sentence := answerOf(pl.book, run)
	if !strings.HasPrefix(sentence, "Not possible: "+l.rowLabel(0)) || !strings.Contains(sentence, "(sheet Inputs, cell "+at+")") || strings.Trim(strings.Join(places, ""), "-") != "" {
		t.Errorf("a text in %s (%s): %q, places %v", at, l.rowLabel(0), sentence, places)
	}
	for n, s := range pl.book.Sheets {
		shown := firstError(run, n, s)
		if shown == "" {
			continue
		}
		below++
		if n == 0 || run.Cell(n, warnRow, labelCol).S != sentence && run.Cell(n, lastWarnRow, labelCol).S != sentence {
			t.Errorf("a text in %s (%s): %s!%s shows an error value, and the sheet does not say why", at, l.rowLabel(0), s.Name, shown)
		}
	}
	return below
}

// firstError is the first cell of a sheet that shows an error value, "" for none.
func firstError(run *calc.Book, n int, s *Sheet) string {
	for r, row := range s.Rows() {
		for c := range row {
			if run.Cell(n, r+1, c+1).T == calc.Error {
				return cellName(r+1, c+1)
			}
		}
	}
	return ""
}

// TestInputsAreRead: what looks like an input, and may be typed over, is one that is
// read when the workbook comes back.
func TestInputsAreRead(t *testing.T) {
	for name, m := range eachModel(t) {
		pl := plotBook(m, nil)
		read := (&returned{pl: pl}).inputCells(pl.inputs.sheet)
		for n, s := range pl.book.Sheets {
			for r, row := range s.Rows() {
				for c, cell := range row {
					legend := cell.Value == legendWord
					if figure := s == pl.inputs.sheet && isFigure(pl, r+1); cell.isInput() && !legend && !figure && (s != pl.inputs.sheet || !read[[2]int{r + 1, c + 1}]) {
						t.Errorf("%s: %s!%s (sheet %d) looks like an input and is not read", name, s.Name, cellName(r+1, c+1), n)
					}
				}
			}
		}
	}
}

// isFigure reports whether a row of the sheet Inputs holds a figure of a formula.
func isFigure(pl *plan, row int) bool {
	for _, list := range pl.extra {
		for _, l := range list {
			if l.figureOf != nil && l.row == row {
				return true
			}
		}
	}
	return false
}
