package export

import (
	"math/rand/v2"
	"strings"
	"testing"

	"bankwright/engine"
	"bankwright/engine/decl"
	"bankwright/export/calc"
)

// TestUnmet: the first sheet names the checks that are not met, the gravest
// first, as the engine finds them, also after inputs were changed.
func TestUnmet(t *testing.T) {
	for name, m := range models(t) {
		pl := plotBook(m)
		r := rand.New(rand.NewPCG(2, 3))
		for round := range 6 {
			list := changes(pl, m, r, 3*min(round, 1))
			tr := Trial{Book: pl.book, list: list}
			want := unmetOf(apply(m, list))
			got, more := unmetLines(pl.book, tr.changed())
			if more {
				want = want[:min(len(want), len(got))]
			}
			if strings.Join(got, "; ") != strings.Join(want, "; ") {
				t.Errorf("%s, round %d: the sheet names\n%s, the engine\n%s", name, round, strings.Join(got, "; "), strings.Join(want, "; "))
			}
		}
	}
}

// unmetOf are the checks of the compared kind that are not met.
func unmetOf(m *engine.Model) []string {
	var out []string
	k := m.Compared()
	for sev := decl.Stop; sev <= decl.Caution; sev++ {
		for i, it := range k.Items {
			for _, o := range m.Outcomes(k) {
				if o.Item == i && o.Applicable && !o.Passed && o.Check.Severity == sev {
					out = append(out, itemLabel(it)+": "+lowerFirst(checkLabel(o.Check))+" "+sev.String())
				}
			}
		}
	}
	return out
}

// unmetLines reads them from the first sheet; more tells that not all have room.
func unmetLines(b *Book, run *calc.Book) (lines []string, more bool) {
	s := b.Find("Answer")
	for r := range s.Rows() {
		if s.At(r+1, labelCol).Value != "Checks not met, the gravest first" {
			continue
		}
		for r += 2; s.At(r, itemCol).Style == Sentence; r++ {
			if name := run.Cell(0, r, labelCol).S; name != "" {
				lines = append(lines, name+" "+run.Cell(0, r, unitCol).S)
				if run.Cell(0, r, itemCol).S == "" {
					lines = append(lines, "without a sentence")
				}
			}
		}
		more = strings.HasPrefix(run.Cell(0, r, labelCol).S, "and ")
	}
	return lines, more
}
