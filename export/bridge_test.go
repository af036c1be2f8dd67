package export

import (
	"context"
	"math/rand/v2"
	"strconv"
	"strings"
	"testing"

	"bankwright/engine"
	"bankwright/engine/decl"
	"bankwright/export/calc"
)

// What the tests that write files need of this package's insides; they cannot
// stand in it, since package xlsx imports it.

// Trial is a workbook with some inputs changed, beside the engine's result for
// the same changes.
type Trial struct {
	Name  string
	Book  *Book
	plan  *plan
	model *engine.Model
	list  []change
}

// Trials are the workbook of every model, as it is and after n rounds of
// changes (half of that for small models, one for large ones).
func Trials(t *testing.T, n int) []Trial {
	var out []Trial
	blanked, chosen := false, false
	for name, m := range models(t) {
		if !recalculated[name] {
			continue
		}
		pl := plotBook(m, nil)
		if pl.fault != nil {
			t.Fatal(name, pl.fault)
		}
		if err := pl.book.fill(); err != nil {
			t.Fatal(name, err)
		}
		r := rand.New(rand.NewPCG(3, 5))
		out = append(out, Trial{name, pl.book, pl, m, nil})
		rounds := n
		switch {
		case !small[name]:
			rounds = min(n, 1)
		case name != "cabin":
			rounds = n / 2
		}
		for i := range rounds {
			list := changes(pl, m, r, 10)
			for _, c := range list {
				blanked = blanked || c.data == nil
				chosen = chosen || c.engine.Quantity.Type == decl.Reference
			}
			out = append(out, Trial{name + " changed " + number(float64(i)), pl.book, pl, apply(m, list), list})
		}
		if name == "cabin" {
			for _, c := range []pointsTrial{pointsTrials[0], pointsTrials[3], pointsTrials[5]} {
				out = append(out, c.trial(pl, m))
			}
			out = append(out, blankedTrials(pl, m)...)
		}
	}
	m := stovesWith(t, map[string][]byte{"short": stoveLog(60, nil), "long": stoveLog(700, nil)})
	pl := plotBook(m, nil)
	if err := pl.book.fill(); err != nil {
		t.Fatal(err)
	}
	out = append(out, Trial{"stoves", pl.book, pl, m, nil})
	if n > 0 && (!blanked || !chosen) {
		t.Errorf("the changes should blank an input (%v) and choose a reference (%v)", blanked, chosen)
	}
	return out
}

// Changed calls f while the inputs are changed in the book; the values that
// are stored beside the formulas stay those of before.
func (tr Trial) Changed(f func()) {
	var back []func()
	for _, c := range tr.list {
		s := tr.Book.Find(c.sheet)
		old := s.At(c.row, c.col)
		back = append(back, func() { s.Set(c.row, c.col, old) })
		s.Set(c.row, c.col, Cell{Value: c.data, Style: old.Style, Format: old.Format})
	}
	f()
	for _, b := range back {
		b()
	}
}

// Changes names what was changed.
func (tr Trial) Changes() []string {
	var out []string
	for _, c := range tr.list {
		out = append(out, c.what)
	}
	return out
}

// Check holds what a spreadsheet program calculated against the engine, where
// the engine can be run with the same changes, and every cell against package
// calc. The first sheet shows no error value, whatever was changed.
func (tr Trial) Check(t *testing.T, got func(sheet string, row, col int) string) (cells int) {
	t.Helper()
	if tr.model != nil {
		for _, c := range cellsOf(tr.plan, tr.model) {
			if g := got(c.sheet, c.row, c.col); !c.failed && !reads(g, c.want) {
				t.Errorf("%s: %s (%s!%s): spreadsheet %q, engine %v, after changing %v", tr.Name, c.name, c.sheet, cellName(c.row, c.col), g, c.want, tr.Changes())
			}
		}
	}
	tr.since(t, got)
	if tr.model != nil {
		judgements(t, tr.Name, tr.plan, tr.model, got)
	}
	run := tr.changed()
	for n, s := range tr.Book.Sheets {
		for r, row := range s.Rows() {
			for c := range row {
				cells++
				v, g := run.Cell(n, r+1, c+1), got(s.Name, r+1, c+1)
				if isError(g) != (v.T == calc.Error) || !isError(g) && !reads(g, v) || isError(g) && n == 0 {
					t.Errorf("%s: %s!%s: spreadsheet %q, calc %v: %s", tr.Name, s.Name, cellName(r+1, c+1), g, v, row[c].Formula)
				}
			}
		}
	}
	return cells
}

// since holds what the sheet of computed figures says against what was changed.
func (tr Trial) since(t *testing.T, got func(sheet string, row, col int) string) {
	t.Helper()
	if tr.Book.Find(computedName) == nil {
		return
	}
	moved := false
	for _, c := range tr.list {
		same := tr.Book.Find(c.sheet).At(c.row, c.col).Value == c.data
		moved = moved || !same && isStand(tr.plan, c.sheet, c.row, c.col)
	}
	if state := got(computedName, computedStateRow, 1); moved != strings.HasPrefix(state, changed+": ") || !moved && state != unchanged {
		t.Errorf("%s: computed figures follow from what was changed (%v): %v; the sheet says %q", tr.Name, tr.Changes(), moved, state)
	}
}

// isError reports whether the raw text of a cell is an error value.
func isError(got string) bool { return strings.HasPrefix(got, "#") }

// reads reports whether the raw text of a cell is a value.
func reads(got string, want calc.Value) bool {
	switch want.T {
	case calc.Number, calc.Boolean:
		return same(numeral(got), calc.Num(want.N))
	}
	return got == want.S
}

// numeral is a number as a cell stores it; what is none is no number.
func numeral(s string) calc.Value {
	x, err := strconv.ParseFloat(s, 64)
	if err != nil {
		return calc.Str(s)
	}
	return calc.Num(x)
}

// Workbook is the workbook of a model that the tests know, with its studies.
func Workbook(t *testing.T, name string) *Book {
	t.Helper()
	m := models(t)[name]
	if name == "trays" {
		m = trayModel(t)
	}
	b, err := NewBook(m, study(t, m))
	if err != nil {
		t.Fatal(name, err)
	}
	return b
}

// Studied is the workbook of a small scenario whose studies are run anew.
func Studied(t *testing.T) *Book {
	t.Helper()
	m := trayModel(t)
	found, err := m.Study(context.Background())
	if err != nil {
		t.Fatal(err)
	}
	b, err := NewBook(m, found)
	if err != nil {
		t.Fatal(err)
	}
	return b
}
