package eval

import (
	"math"

	"bankwright/engine/check"
)

// columnTally is an aggregate under way at all lanes: see tally.
type columnTally struct {
	kind check.FoldKind
	n    int
	acc  value
}

func newColumnTally(kind check.FoldKind) columnTally {
	return columnTally{kind: kind, acc: value{num: newTally(kind).value}}
}

// add takes in one value of each lane.
func (t *columnTally) add(b *block, v value, dst []float64) {
	t.n++
	switch t.kind {
	case check.Sum, check.Count, check.Mean:
		t.acc = b.binary(opAdd, t.acc, v, dst)
	case check.Any:
		t.acc = b.settle(t.acc, v, 1, 0, dst)
	case check.All:
		t.acc = b.settle(t.acc, v, 0, 1, dst)
	case check.Last:
		t.acc = v
	case check.First:
		if t.n == 1 {
			t.acc = v
		}
	case check.Min, check.Max:
		if t.n == 1 {
			t.acc = own(v, dst)
			return
		}
		op := opMin
		if t.kind == check.Max {
			op = opMax
		}
		t.acc = b.binary(op, t.acc, v, dst)
	}
}

// addWithin takes in one value of each lane that uses more steps than so many.
func (t *columnTally) addWithin(b *block, v value, dst []float64, step float64, uses []float64) {
	t.n++
	if t.kind == check.First {
		return
	}
	one := func(acc, v float64) float64 { return v } // the last
	switch t.kind {
	case check.Sum, check.Count, check.Mean:
		one = func(acc, v float64) float64 { return finite(acc + v) }
	case check.Min:
		one = func(acc, v float64) float64 { return min(acc, v) }
	case check.Max:
		one = func(acc, v float64) float64 { return max(acc, v) }
	case check.Any:
		one = func(acc, v float64) float64 { return taken(acc, v, 1, 0) }
	case check.All:
		one = func(acc, v float64) float64 { return taken(acc, v, 0, 1) }
	}
	acc := t.acc
	for i, n := range uses {
		x := acc.at(i)
		if step < n {
			x = one(x, v.at(i))
		}
		dst[i] = x
	}
	t.acc = value{col: dst[:b.n]}
}

// taken is a truth taken into any or all.
func taken(acc, v, settles, idle float64) float64 {
	if acc != settles && v != idle {
		return v
	}
	return acc
}

// own is a value in a column of its own.
func own(v value, dst []float64) value {
	if v.col == nil {
		return v
	}
	copy(dst, v.col)
	return value{col: dst[:len(v.col)]}
}

// settle takes a truth into any or all: at settles nothing changes any more, and
// idle changes nothing.
func (b *block) settle(acc, v value, settles, idle float64, dst []float64) value {
	if acc.col == nil && v.col == nil {
		return value{num: taken(acc.num, v.num, settles, idle)}
	}
	for i := range dst[:b.n] {
		dst[i] = taken(acc.at(i), v.at(i), settles, idle)
	}
	return value{col: dst[:b.n]}
}

// result is the aggregate at all lanes.
func (t *columnTally) result(b *block, dst []float64) value {
	switch {
	case t.kind == check.Mean && t.n == 0:
		return value{num: math.NaN()}
	case t.kind == check.Mean:
		return b.binary(opDiv, t.acc, value{num: float64(t.n)}, dst)
	case t.acc.col == nil:
		return value{num: finite(t.acc.num)}
	}
	return t.acc
}
