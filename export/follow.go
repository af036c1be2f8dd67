package export

import (
	"maps"
	"slices"
	"strings"

	"bankwright/engine/check"
	"bankwright/engine/decl"
)

// What follows from a computed figure is live in all but that figure. It says
// so where it stands; a check that follows from one is judged only as long as
// the inputs of that figure are those of then.

const (
	followWord = " (from computed)"
	followNote = "Follows from computed figures: see the sheet " + computedName + "."
	followTold = " (This follows from figures that were computed at other inputs: see the sheet " + computedName + ".)"
)

// notJudged stands in place of a check's result that follows from a figure
// which was computed at other inputs.
const notJudged = "not judged"

// follows are the computed quantities that q follows from, by their number.
func (pl *plan) follows(q *check.Quantity) []int {
	if len(pl.computed) == 0 {
		return nil
	}
	if out, ok := pl.followed[q]; ok {
		return out
	}
	seen := make([]bool, len(pl.prog.Quantities))
	seen[q.Index] = true
	queue := []*check.Quantity{q}
	for n := 0; n < len(queue); n++ {
		for _, t := range pl.readsOf(queue[n]) {
			if !seen[t.Index] {
				seen[t.Index] = true
				queue = append(queue, t)
			}
		}
	}
	out := []int{}
	for i, c := range pl.computed {
		if seen[c.line.q.Index] {
			out = append(out, i)
		}
	}
	pl.followed[q] = out
	return out
}

// readsOf are the quantities that the formulas of one read, each once.
func (pl *plan) readsOf(q *check.Quantity) []*check.Quantity {
	out, ok := pl.reads[q]
	if !ok {
		eachRef(q, func(r *check.Ref) {
			out = append(append(out, r.Target), r.Hops...)
		})
		slices.SortFunc(out, func(a, b *check.Quantity) int { return a.Index - b.Index })
		out = slices.Compact(out)
		pl.reads[q] = out
	}
	return out
}

// computedCell is the cell of the sheet Computed that says whether the inputs of
// a computed quantity have changed; those of sets follow.
func (pl *plan) computedCell(i int) string {
	row := computedHeadRow + 1 + i
	if len(pl.computed) > 1 {
		row++ // below that of all
	}
	return "$" + columnName(thenLiveCol) + "$" + number(float64(row))
}

// since is the condition that a computed quantity which one of the given follows
// from is of other inputs, "" where none does.
func (pl *plan) since(list ...*check.Quantity) string {
	seen := map[int]bool{}
	for _, q := range list {
		for _, i := range pl.follows(q) {
			seen[i] = true
		}
	}
	some := slices.Sorted(maps.Keys(seen))
	cell := computedName + "!"
	switch len(some) {
	case 0:
		return ""
	case 1:
		cell += pl.computedCell(some[0])
	case len(pl.computed):
		cell += allComputed
	default:
		cell += pl.computedCell(len(pl.computed) + pl.several(some))
	}
	return cell + `="` + changed + `"`
}

// several is the number of a set of computed quantities that something follows
// from; each has a row on the sheet Computed.
func (pl *plan) several(some []int) int {
	for i, s := range pl.sets {
		if slices.Equal(s, some) {
			return i
		}
	}
	pl.sets = append(pl.sets, some)
	return len(pl.sets) - 1
}

// allComputed is the cell that says whether the inputs of any of several
// computed quantities have changed.
var allComputed = "$" + columnName(thenLiveCol) + "$" + number(computedHeadRow+1)

// told is a sentence that says of itself when what it reads follows from figures
// that were computed at other inputs.
func (s *scope) told(parts []check.Part) text {
	t := s.sentence(parts)
	var read []*check.Quantity
	for _, p := range parts {
		if p.Read != nil {
			read = append(append(read, p.Read.Ref.Target), p.Read.Ref.Hops...)
		}
	}
	if since := s.pl.since(read...); since != "" {
		return s.pieces([]text{t, lit("IF(" + since + "," + quoteText(followTold) + `,"")`)})
	}
	return t
}

// someFollow reports whether a check of a severity follows from a computed
// quantity.
func (pl *plan) someFollow(list []*check.Check, only ...decl.Severity) bool {
	for _, c := range list {
		if len(pl.follows(c.Result)) > 0 && (len(only) == 0 || only[0] == c.Severity) {
			return true
		}
	}
	return false
}

// markFollowers marks what follows from computed quantities: quantities, what is
// brought from them to other sheets, and the workings that read them.
func (pl *plan) markFollowers() {
	if len(pl.computed) == 0 {
		return
	}
	for _, q := range pl.prog.Quantities {
		if l := pl.places[q]; l != nil && l.frozen == nil && len(pl.follows(q)) > 0 {
			l.follow()
		}
	}
	for _, pg := range pl.pages() {
		for _, l := range pg.pulled {
			if l.of != nil && len(pl.follows(l.of)) > 0 {
				l.follow()
			}
		}
		for _, l := range pg.lines { // workings stand in front of what reads them
			if l.q == nil && l.readsComputed() {
				l.follow()
			}
		}
	}
}

// follow marks a line.
func (l *line) follow() {
	l.onComputed = true
	l.label += followWord
	l.note = strings.TrimSpace(followNote + " " + l.note)
}

// readsComputed reports whether formulas of a line read what is computed or
// follows from it.
func (l *line) readsComputed() bool {
	for _, form := range []func(item, row int) text{l.step, l.start} {
		if form == nil {
			continue
		}
		for r := range max(l.rows, l.across) {
			for _, p := range form(0, r) {
				if p.ref != nil && (p.ref.to.frozen != nil || p.ref.to.onComputed) {
					return true
				}
			}
		}
	}
	return false
}

// staleWords begin the line of the first sheet that says that computed figures are of
// other inputs.
func (pl *plan) staleWords() string {
	if k := pl.prog.Compared(); k != nil && pl.someFollow(pl.checksOf(k)) {
		return "Computed figures are of other inputs, checks of them not judged: "
	}
	return "Computed figures are of other inputs: "
}
