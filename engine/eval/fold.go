package eval

import (
	"math"

	"bankwright/engine/arith"
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
		if t.value = min(t.value, v); t.n == 1 {
			t.value = v
		}
	case check.Max:
		if t.value = max(t.value, v); t.n == 1 {
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
		return arith.Finite(t.value / float64(t.n))
	case check.Deviation:
		return arith.Finite(formula.Deviation(t.list))
	}
	return arith.Finite(t.value)
}

// foldItems runs the body of an aggregate for each item in turn.
func (w *worker) foldItems(in *instr, base int) float64 {
	spec := in.expr.Fold
	t := newTally(spec.Kind)
	outer := w.each
	for w.each = range spec.Items.Items {
		if spec.Set == nil || w.member(spec.Set) {
			t.add(w.run(in.body, base))
		}
	}
	w.each = outer
	return t.result()
}

// member reports whether the aggregate's item is in the set that a reference
// reaches.
func (w *worker) member(set *check.Ref) bool {
	item := w.reach(set)
	return item >= 0 && w.cell(set.Target, item, w.each) == 1
}

// foldSeries combines the steps in use along the collapsed axes of a series.
func (w *worker) foldSeries(in *instr) float64 {
	ref := in.expr.Args[0].Ref
	item := w.reach(ref)
	if item < 0 {
		return math.NaN()
	}
	t := newTally(in.expr.Fold.Kind)
	w.eachRow(ref.Target, in.row, in.along, in.expr.Fold.Over, item, func(row int) {
		t.add(w.cell(ref.Target, item, row))
	})
	return t.result()
}

// eachRow calls f with the rows of an item's series along the steps in use of some
// of its axes, the others being current: row is that of the first steps, along says
// how far the steps lie apart.
func (w *worker) eachRow(q *check.Quantity, row, along rowAt, over []*decl.Axis, item int, f func(row int)) {
	var at, limit [4]int
	for j, a := range over {
		limit[j] = w.active(q.Kind, a, item)
	}
	first, steps := row.at(w.steps), at[:len(over)]
	for more := start(steps, limit[:]); more; more = next(steps, limit[:]) {
		f(first + along.at(steps))
	}
}

// start and next count through steps below limits, the last fastest; false where
// there is none, or none any more.
func start(steps, limit []int) bool {
	for i := range steps {
		if steps[i] = 0; limit[i] == 0 {
			return false
		}
	}
	return true
}

func next(steps, limit []int) bool {
	for i := len(steps) - 1; i >= 0; i-- {
		if steps[i]++; steps[i] < limit[i] {
			return true
		}
		steps[i] = 0
	}
	return false
}
