package export

import (
	"math/rand/v2"
	"slices"
	"testing"

	"bankwright/engine"
	"bankwright/engine/check"
	"bankwright/engine/decl"
)

// TestSentences: what the sheet of checks says of every check that is not met,
// stored and live after inputs were changed, is letter by letter what the engine
// says.
func TestSentences(t *testing.T) {
	for name, m := range models(t) {
		t.Run(name, func(t *testing.T) {
			b, err := NewBook(m)
			if err != nil {
				t.Fatal(err)
			}
			pl := plotBook(m)
			told := sentences(t, pl, m, func(row int) string { s, _ := b.Find("Checks").At(row, unmetWordsCol).Value.(string); return s })
			r := rand.New(rand.NewPCG(13, 17))
			rounds := 8
			if !small[name] {
				rounds = 2
			}
			for range rounds {
				list := changes(pl, m, r, 4)
				run := Trial{Book: pl.book, list: list}.changed()
				sheet := pl.book.Sheet("Checks")
				told += sentences(t, pl, apply(m, list), func(row int) string { return run.Cell(sheet, row, unmetWordsCol).S })
				if t.Failed() {
					t.Fatalf("after changing %v", Trial{list: list}.Changes())
				}
			}
			t.Logf("%d sentences", told)
		})
	}
}

// sentences holds the sentences of the sheet of checks against the engine.
func sentences(t *testing.T, pl *plan, m *engine.Model, got func(row int) string) (told int) {
	t.Helper()
	computed := onComputed(pl)
	row := 0
	for _, k := range m.Kinds {
		list := pl.checksOf(k)
		if len(list) == 0 || len(k.Items) == 0 {
			continue
		}
		said := map[*check.Check]map[int]string{}
		for _, o := range m.Outcomes(k) {
			if said[o.Check] == nil {
				said[o.Check] = map[int]string{}
			}
			said[o.Check][o.Item] = o.Text
		}
		for row++; pl.checks.sheet.At(row, labelCol).Value != "What is not met, in words"; row++ {
		}
		for sev := decl.Stop; sev <= decl.Caution; sev++ {
			for i, it := range k.Items {
				for _, c := range list {
					if c.Severity != sev {
						continue
					}
					row++
					want := said[c][i]
					if want != "" {
						told++
					}
					if s := got(row); s != want && (m.Result == pl.res || !follows(c, computed)) {
						t.Errorf("%s of %s, row %d: %q, want %q", c.Name, it.Name, row, s, want)
					}
				}
			}
		}
	}
	return told
}

// follows reports whether a check or its sentence reads one of some quantities.
func follows(c *check.Check, some map[*check.Quantity]bool) bool {
	return some[c.Result] || slices.ContainsFunc(c.Message, func(p check.Part) bool { return p.Read != nil && some[p.Read.Ref.Target] })
}
