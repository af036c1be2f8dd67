package eval

import (
	"math"

	"bankwright/engine/check"
	"bankwright/engine/decl"
	"bankwright/engine/formula"
)

// tally is an aggregate under way. One value that is missing makes the result
// missing, except that any and all may be settled without it.
type tally struct {
	kind  check.FoldKind
	n     int
	value float64
	list  []float64 // of a deviation, which goes over the values twice
}

func newTally(kind check.FoldKind) tally {
	t := tally{kind: kind}
	switch kind {
	case check.All:
		t.value = 1
	case check.Min, check.Max, check.First, check.Last:
		t.value = math.NaN()
	}
	return t
}

// add takes in one value.
func (t *tally) add(v float64) {
	t.n++
	switch t.kind {
	case check.Sum, check.Count, check.Mean:
		t.value += v
	case check.Min:
		if t.n == 1 || v < t.value || v != v {
			t.value = v
		}
	case check.Max:
		if t.n == 1 || v > t.value || v != v {
			t.value = v
		}
	case check.Any:
		if t.value != 1 && v != 0 {
			t.value = v
		}
	case check.All:
		if t.value != 0 && v != 1 {
			t.value = v
		}
	case check.First:
		if t.n == 1 {
			t.value = v
		}
	case check.Last:
		t.value = v
	case check.Deviation:
		t.list = append(t.list, v)
	}
}

// result is the aggregate: nothing of no values at all for min, max, mean, and
// of a single one for deviation.
func (t *tally) result() float64 {
	switch t.kind {
	case check.Mean:
		if t.n == 0 {
			return math.NaN()
		}
		return finite(t.value / float64(t.n))
	case check.Deviation:
		return finite(formula.Deviation(t.list))
	}
	return finite(t.value)
}

// foldItems runs the body of an aggregate for each item in turn.
func (w *worker) foldItems(dst []float64, in *instr, base int) {
	spec := in.expr.Fold
	tallies := make([]tally, len(dst))
	for i := range tallies {
		tallies[i] = newTally(spec.Kind)
	}
	outer := w.each
	for w.each = range spec.Items.Items {
		body := w.run(in.body, base)
		for i := range tallies {
			if spec.Set == nil || w.member(spec.Set, w.lo+i) {
				tallies[i].add(body[i])
			}
		}
	}
	w.each = outer
	for i := range dst {
		dst[i] = tallies[i].result()
	}
}

// member reports whether the aggregate's item is in the set that a reference
// reaches.
func (w *worker) member(set *check.Ref, lane int) bool {
	each := w.each
	p, item := w.reach(set, lane)
	return item >= 0 && w.r.AtPoint(set.Target, p, item, each) == 1
}

// foldSeries combines the steps in use along the collapsed axes of a series.
func (w *worker) foldSeries(dst []float64, e *check.Expr) {
	ref := e.Args[0].Ref
	for i := range dst {
		p, item := w.reach(ref, w.lo+i)
		t := newTally(e.Fold.Kind)
		if item < 0 {
			dst[i] = math.NaN()
			continue
		}
		w.eachValue(ref.Target, e.Fold.Over, p, item, t.add)
		dst[i] = t.result()
	}
}

// eachValue calls f with the values of an item's series along the steps in use
// of some of its axes, the others being current.
func (w *worker) eachValue(q *check.Quantity, over []*decl.Axis, p, item int, f func(float64)) {
	n := len(q.Kind.Items)
	col := w.r.cols[q.Index]
	limit := make([]int, len(over))
	for j, a := range over {
		limit[j] = w.r.active(q.Kind, a, p, item)
	}
	first, apart := w.strides(q, over)
	eachWithin(over, limit, func(at []int) {
		row := first
		for j, step := range at {
			row += step * apart[j]
		}
		f(col[row*w.r.Points*n+p*n+item])
	})
}

// strides are the row of the first step along some axes of q, the others being
// current, and how far the rows of two neighbouring steps lie apart on each.
func (w *worker) strides(q *check.Quantity, over []*decl.Axis) (first int, apart [4]int) {
	var at [4]int
	first = w.rowOf(q, over, at[:])
	for j := range over {
		at[j] = 1
		apart[j] = w.rowOf(q, over, at[:]) - first
		at[j] = 0
	}
	return first, apart
}

// eachWithin counts through the steps in use, the last axis fastest.
func eachWithin(over []*decl.Axis, limit []int, f func(at []int)) {
	at := make([]int, len(over))
	for _, l := range limit {
		if l == 0 {
			return
		}
	}
	for {
		f(at)
		i := len(at) - 1
		for ; i >= 0; i-- {
			if at[i]++; at[i] < limit[i] {
				break
			}
			at[i] = 0
		}
		if i < 0 {
			return
		}
	}
}
