package export

import (
	"context"
	"slices"
	"strings"
	"testing"
	"testing/fstest"

	"bankwright/engine"
	"bankwright/engine/check"
	"bankwright/engine/decl"
	"bankwright/engine/oracle"
	"bankwright/export/calc"
)

// TestSweepsSince: a change is named if a study reaches what was changed, on the sheet,
// beside each study and on the first sheet; else all is as it was.
func TestSweepsSince(t *testing.T) {
	m, _, pl, l := trayBook(t)
	sweeps, inputs := pl.book.Sheet(sweepsName), pl.book.Sheet("Inputs")
	state := func(run *calc.Book, study string) string {
		return run.Cell(sweeps, l.below(l.below(1, study), "Inputs since then"), 2).S
	}
	for _, c := range []struct {
		kind, name, item string
		data             any
		all, pair        string // all studies; those of two trays
	}{
		{"hall", "idle", "hall", 8.0, unchanged, unchanged},
		{"hall", "wear", "hall", 2.0, unchanged, unchanged},
		{"hall", "wear", "hall", 3.0, "changed: Wear (Hall)", "changed: Wear (Hall)"},
		{"tray", "depth", "round", 5.0, "changed: Depth (round)", unchanged},
		{"tray", "wood", "deep", "larch", "changed: Wood (deep)", "changed: Wood (deep)"},
	} {
		k := m.Kind(c.kind)
		at := pl.places[pl.prog.Kind(c.kind).Quantity(c.name)]
		run := calc.New(live{Book: pl.book, changed: map[[3]int]any{{inputs, at.row, at.column(k.Item(c.item))}: c.data}})
		got := []string{run.Cell(sweeps, studyStateRow, 1).S, state(run, "sweep along"), state(run, "doubt market"), state(run, "break-even wear")}
		if want := []string{c.all, c.all, c.all, c.pair}; !slices.Equal(got, want) {
			t.Errorf("%s.%s = %v: %q, want %q", c.item, c.name, c.data, got, want)
		}
		if line := run.Cell(0, pl.studiesRow, itemCol+3).S; line != c.all {
			t.Errorf("%s.%s = %v: the first sheet says %q", c.item, c.name, c.data, line)
		}
		for i, st := range pl.tellStudies()[:mostStudied] {
			lead := ""
			if name, is := strings.CutPrefix(state(run, st.study), "changed: "); is {
				lead = "As computed before " + name + " was changed: "
			}
			if i == 0 { // stands below the recommendation
				if lead == "" {
					lead = sameWords
				}
				st.title, st.words = "How sure it is", st.words+" In doubt: "+st.title+"."
			}
			at := slices.IndexFunc(pl.book.Sheets[0].Rows(), func(row []Cell) bool { return len(row) > 0 && row[0].Value == st.title })
			if got := run.Cell(0, at+1, unitCol).S; at < 0 || got != lead+st.words || st.words == "" {
				t.Errorf("%s.%s = %v: study %d is told as %q, want %q", c.item, c.name, c.data, i, got, lead+st.words)
			}
		}
	}
}

// TestSweepsReach: whatever changes what any study of the trays finds is among the inputs
// that the sheet looks at, and of the rest none is.
func TestSweepsReach(t *testing.T) {
	m, found, pl, _ := trayBook(t)
	before := documentOf(t, m, found)
	for _, q := range m.Quantities {
		l := pl.places[pl.prog.Kind(q.Kind.Name).Quantity(q.Name)]
		if q.IsRule() || q.Type != decl.Number || l == nil || l.row == 0 {
			continue
		}
		for item := range q.Kind.Items {
			other := m.With(check.Place{Quantity: q, Item: item}, 1.1*m.Result.At(q, item, 0)+0.01)
			s, err := other.Study(context.Background())
			if err != nil {
				t.Fatal(err)
			}
			moved := documentOf(t, other, s) != before
			run := calc.New(live{Book: pl.book, changed: map[[3]int]any{{pl.book.Sheet("Inputs"), l.row, l.column(item)}: 123.0}})
			if told := run.Cell(pl.book.Sheet(sweepsName), studyStateRow, 1).S != unchanged; told != moved {
				t.Errorf("%s.%s moves a study: %v; the sheet tells of it: %v", q.Kind.Items[item].Name, q.Name, moved, told)
			}
		}
	}
}

func documentOf(t *testing.T, m *engine.Model, s *engine.Studies) string {
	t.Helper()
	var b strings.Builder
	s = &engine.Studies{Sweeps: s.Sweeps, Doubts: s.Doubts, BreakEvens: s.BreakEvens} // effects move with all that is given
	if err := StudiesJSON(&b, m, s); err != nil {
		t.Fatal(err)
	}
	return b.String()
}

// TestSweepsOfCatalogue: of a long comparison the sheet names the items of the whole
// scenario, also those that do not go through the workbook.
func TestSweepsOfCatalogue(t *testing.T) {
	text := boards + `
[sweep.deal]
vary = [{ input = "board.deal.price", from = "1 EUR", to = "20 EUR", points = 20 }]
`
	m := load(t, fstest.MapFS{"boards.toml": {Data: []byte(text)}}, "boards.toml", nil)
	pl := plotBook(m, study(t, m))
	if pl.fault != nil {
		t.Fatal(pl.fault)
	}
	if err := pl.book.fill(); err != nil {
		t.Fatal(err)
	}
	l := looked{t, pl.book.Find(sweepsName)}
	g := ranStudies[m].Sweeps[0].Table
	first := l.below(l.below(1, "sweep deal"), "EUR") + 1
	for p := range g.Points() {
		l.is(first+p, 2, itemLabel(m.Compared().Items[g.Best[p]]))
	}
	k := pl.prog.Kind("board")
	at := pl.places[k.Quantity("price")]
	run := calc.New(live{Book: pl.book, changed: map[[3]int]any{{pl.book.Sheet("Inputs"), at.row, at.column(k.Item("oak"))}: 1.0}})
	if got := run.Cell(pl.book.Sheet(sweepsName), studyStateRow, 1).S; got != "changed: Price (oak)" {
		t.Errorf("a price of a board that is not in the workbook's comparison: %q", got)
	}
}

// TestSweepsReadBack: the sheet of studies is neither foreign nor missed when a workbook
// comes back, and told of where it is changed or gone; a sheet of that name is foreign
// where nothing was studied.
func TestSweepsReadBack(t *testing.T) {
	oracle.OneCore(t)
	for name, m := range map[string]*engine.Model{"trays": trayModel(t), "garden": models(t)["garden"], "cabin": models(t)["cabin"]} {
		found := study(t, m)
		pl := plotBook(m, found)
		told := func(book Returned) string {
			read, faults := ReadBack(m, found, book, "book.xlsx")
			if !HasStudies(book) || len(read.Changes) > 0 {
				t.Errorf("%s: %v, %v", name, HasStudies(book), read.Changes)
			}
			var all []string
			for _, d := range faults {
				all = append(all, d.Summary)
			}
			return strings.Join(all, "\n")
		}
		if got := told(sentBack{pl.book, nil}); got != "" {
			t.Errorf("%s: %s", name, got)
		}
		if got := told(sentBack{pl.book, map[[3]int]any{{pl.book.Sheet(sweepsName), 1, labelCol}: "All is well"}}); got != "\"All is well\" stands where \"Sweeps\" stood" && !strings.HasPrefix(got, "this says \"All is well\"") {
			t.Errorf("%s: %s", name, got)
		}
		for _, gone := range [][]string{{sweepsName}, {reachedName}, {sweepsName, reachedName}, {"Lists"}} {
			var want []string
			for _, s := range gone {
				want = append(want, "the sheet "+s+" was removed")
			}
			if got := told(lacking{sentBack{pl.book, nil}, gone}); got != strings.Join(want, "\n") {
				t.Errorf("%s without %v: %s", name, gone, got)
			}
		}
	}
	m := load(t, fstest.MapFS{"odd.toml": {Data: []byte("title = \"Odd\"\nstandard_rules = false\n[rules.kind.hall]\n[rules.hall.rent]\n[hall]\nrent = 3\n")}}, "odd.toml", nil)
	book := plotBook(m, nil).book
	if HasStudies(sentBack{book, nil}) {
		t.Error("studies are found where none were run")
	}
	book.Sheets = append(book.Sheets, &Sheet{Name: sweepsName})
	if _, faults := ReadBack(m, study(t, m), sentBack{book, nil}, "book.xlsx"); len(faults) != 1 || !strings.Contains(faults[0].Summary, "the sheet Sweeps was added") {
		t.Errorf("a sheet that was added: %v", faults)
	}
}

// lacking is a workbook of which sheets were deleted.
type lacking struct {
	sentBack
	gone []string
}

func (b lacking) Sheets() []string {
	return slices.DeleteFunc(b.sentBack.Sheets(), func(s string) bool { return slices.Contains(b.gone, s) })
}

// TestWhenWritten: the date of a scenario is told as its own, not as that of computing.
func TestWhenWritten(t *testing.T) {
	for date, want := range map[string]string{"2026-02-14": "for the scenario of 2026-02-14", "": "when this workbook was written"} {
		m := load(t, rackFiles(), "racks.toml", nil)
		m.Model.Date = date
		pl := plotBook(m, nil)
		if pl.fault != nil {
			t.Fatal(pl.fault)
		}
		if lead := plainText(pl.book.Find("Sketch").At(2, labelCol)); !strings.HasPrefix(lead, "Drawn "+want+" ") {
			t.Errorf("date %q: %q", date, lead)
		}
	}
}
