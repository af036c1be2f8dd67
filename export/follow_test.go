package export

import (
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"bankwright/engine"
	"bankwright/engine/check"
	"bankwright/engine/oracle"
)

// judgements holds every check that follows from computed figures against the
// engine: it is judged if and only if the inputs of those are the ones of then,
// and the first sheet has no finding that the engine has not. It returns how
// many were judged and how many were not.
func judgements(t *testing.T, what string, pl *plan, m *engine.Model, got func(sheet string, row, col int) string) (judged, not int) {
	t.Helper()
	checks := pl.book.Find("Checks")
	for _, c := range pl.prog.Checks {
		if len(pl.follows(c.Result)) == 0 {
			continue
		}
		moved := movedSince(pl, c.Result, got)
		row := 1
		for checks.At(row, labelCol).Value != checkLabel(c) || checks.At(row, checkSeverityCol).Value != c.Severity.String() {
			row++
		}
		outcomes := m.Outcomes(m.Kind(c.Result.Kind.Name))
		for i := range c.Result.Kind.Items {
			at := slices.IndexFunc(outcomes, func(o engine.Outcome) bool { return o.Check.Name == c.Name && o.Item == i })
			want := passed
			switch o := outcomes[at]; {
			case !o.Applicable:
				want = notApplicable
			case !o.Passed:
				want = c.Severity.String()
			}
			switch g := got("Checks", row, checkItemCol+i); {
			case g == unknown:
			case g == notJudged && moved:
				not++
			case g == want && !moved:
				judged++
			default:
				t.Errorf("%s: %s says %q of %s, the engine %q; computed figures of other inputs: %v", what, c.Name, g, c.Result.Kind.Items[i].Name, want, moved)
			}
		}
	}
	return judged, not
}

// movedSince reports whether the sheet of computed figures says that one which a
// quantity follows from is of other inputs.
func movedSince(pl *plan, q *check.Quantity, got func(sheet string, row, col int) string) bool {
	first := computedHeadRow + 1
	if len(pl.computed) > 1 {
		first++ // below that of all
	}
	return slices.ContainsFunc(pl.follows(q), func(i int) bool { return got(computedName, first+i, thenLiveCol) == changed })
}

// onComputedOnly are the lines of the first sheet about checks that follow from
// computed figures.
func onComputedOnly(pl *plan, list []string) []string {
	live := liveOnly(pl, list)
	return slices.DeleteFunc(slices.Clone(list), func(s string) bool { return slices.Contains(live, s) })
}

// TestJudged: after inputs were changed no check that follows from a computed
// figure is told that the engine has not, be it that it is not judged.
func TestJudged(t *testing.T) {
	oracle.OneCore(t)
	for _, name := range []string{"cabin", "days", "quarry"} {
		m := models(t)[name]
		pl := plotBook(m, nil)
		r := rand.New(rand.NewPCG(17, 19))
		judged, not := 0, 0
		rounds := 30
		if !small[name] {
			rounds = 8
		}
		for round := range rounds {
			list := changes(pl, m, r, 2*min(round, 1))
			now := apply(m, list)
			run := Trial{Book: pl.book, list: list}.changed()
			cell := func(sheet string, row, col int) string { return run.Cell(pl.book.Sheet(sheet), row, col).S }
			a, b := judgements(t, name, pl, now, cell)
			judged, not = judged+a, not+b
			told, _ := unmetLines(pl.book, run)
			want := unmetOf(now)
			for _, f := range onComputedOnly(pl, told) {
				if !slices.Contains(want, f) {
					t.Errorf("%s, after changing %v: the first sheet says %q, the engine does not", name, Trial{list: list}.Changes(), f)
				}
			}
		}
		if judged == 0 || not == 0 {
			t.Errorf("%s: %d judged, %d not", name, judged, not)
		}
	}
}

// TestFollowersMarked: all that follows from a computed figure says so: in its
// label, and in its note.
func TestFollowersMarked(t *testing.T) {
	oracle.OneCore(t)
	m := models(t)["cabin"]
	pl := plotBook(m, nil)
	frozen := map[*check.Quantity]bool{}
	for _, c := range pl.computed {
		frozen[c.line.q] = true
	}
	marked := 0
	for q := range onComputed(pl) {
		if frozen[q] {
			continue
		}
		marked++
		if l := pl.places[q]; !strings.HasSuffix(l.label, followWord) || !strings.HasPrefix(l.note, followNote) {
			t.Errorf("%s.%s follows from computed figures and is labelled %q, %q", q.Kind.Name, q.Name, l.label, l.note)
		}
	}
	for _, pg := range pl.pages() {
		for _, l := range pg.lines {
			if q := l.q; q != nil && l.onComputed && !onComputed(pl)[q] {
				t.Errorf("%s is marked and does not follow from computed figures", l.label)
			}
		}
	}
	if marked < 3 {
		t.Errorf("only %d are marked", marked)
	}
}
