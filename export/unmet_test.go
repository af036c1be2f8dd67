package export

import (
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"bankwright/engine"
	"bankwright/engine/check"
	"bankwright/engine/decl"
	"bankwright/engine/oracle"
	"bankwright/export/calc"
)

// TestUnmet: the first sheet names the checks that are not met, those of the best first,
// then the gravest, as the engine finds them, also after inputs were changed.
func TestUnmet(t *testing.T) {
	oracle.OneCore(t)
	for name, m := range eachModel(t) {
		if m.Compared() == nil {
			continue // the first sheet lists what is not met of what is compared
		}
		pl := plotBook(m, nil)
		r := rand.New(rand.NewPCG(2, 3))
		rounds := 6
		if !small[name] {
			rounds = 2
		}
		for round := range rounds {
			list := changes(pl, m, r, 3*min(round, 1))
			tr := Trial{Book: pl.book, list: list}
			want := unmetOf(apply(m, list))
			got, more := unmetLines(pl.book, tr.changed())
			if round > 0 { // what is not live stays as it was
				want, got = liveOnly(pl, want), liveOnly(pl, got)
			}
			if more {
				want = want[:min(len(want), len(got))]
			}
			if strings.Join(got, "; ") != strings.Join(want, "; ") {
				t.Errorf("%s, round %d: the sheet names\n%s, the engine\n%s", name, round, strings.Join(got, "; "), strings.Join(want, "; "))
			}
		}
	}
}

// liveOnly leaves out the checks that follow from computed quantities.
func liveOnly(pl *plan, list []string) []string {
	computed := onComputed(pl)
	return slices.DeleteFunc(list, func(s string) bool {
		return slices.ContainsFunc(pl.prog.Checks, func(c *check.Check) bool {
			return computed[c.Result] && strings.Contains(s, ": "+lowerFirst(checkLabel(c))+" ")
		})
	})
}

// unmetOf are the checks of the compared kind that are not met: the gravest of the best
// item, then that of each that is stopped or unfit, then the others of the best, then the
// gravest first, of one severity those of the better place.
func unmetOf(m *engine.Model) []string {
	var out []string
	k := m.Compared()
	place := make([]int, len(k.Items))
	for n, st := range m.Compare().Ranked {
		if place[st.Item] = n; !st.Eligible {
			place[st.Item] = len(k.Items)
		}
	}
	order := make([]int, len(k.Items))
	for i := range order {
		order[i] = i
	}
	slices.SortStableFunc(order, func(a, b int) int { return place[a] - place[b] })
	best := 0
	if len(order) > 0 && place[order[0]] == 0 {
		best = 1
	}
	var first, others []string
	for n, items := range [][]int{order[:best], order[best:]} {
		told := map[int]bool{}
		for sev := decl.Stop; sev <= decl.Caution; sev++ {
			for _, i := range items {
				for _, o := range m.Outcomes(k) {
					if o.Item != i || !o.Failed() || o.Check.Severity != sev {
						continue
					}
					says := itemLabel(k.Items[i]) + ": " + lowerFirst(checkLabel(o.Check)) + " " + sev.String()
					if !told[i] && (n == 0 || sev < decl.Caution) {
						first = append(first, says)
					} else {
						others = append(others, says)
					}
					told[i] = true
				}
			}
		}
	}
	out = append(first, others...)
	return out
}

// unmetLines reads them from the first sheet; more tells that not all have room.
func unmetLines(b *Book, run *calc.Book) (lines []string, more bool) {
	s := b.Find("Answer")
	for r := range s.Rows() {
		if s.At(r+1, labelCol).Value != unmetWords {
			continue
		}
		for c := unitCol; c <= len(s.Widths); c++ { // beside the heading
			more = more || strings.HasPrefix(run.Cell(0, r+1, c).S, "and ")
		}
		for r += 2; s.At(r, itemCol).Style == Words; r++ {
			if name := run.Cell(0, r, labelCol).S; name != "" {
				lines = append(lines, name+" "+run.Cell(0, r, unitCol).S)
				if run.Cell(0, r, itemCol).S == "" {
					lines = append(lines, "without a sentence")
				}
			}
		}
	}
	return lines, more
}
