package eval

import (
	"math"

	"bankwright/engine/arith"
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
		t.acc = b.binary(opAdd, &t.acc, &v, dst)
	case check.Any:
		t.acc = b.settle(arith.Any, t.acc, v, 1, 0, dst)
	case check.All:
		t.acc = b.settle(arith.All, t.acc, v, 0, 1, dst)
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
		t.acc = b.binary(op, &t.acc, &v, dst)
	}
}

// addWithin takes in one value of each lane that uses more steps than so many.
func (t *columnTally) addWithin(b *block, v value, dst []float64, step int, uses []float64) {
	before := t.acc
	t.add(b, v, b.spare)
	t.acc = b.within(uses, step, &t.acc, &before, dst)
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
func (b *block) settle(op arith.Op, acc, v value, settles, idle float64, dst []float64) value {
	if acc.col == nil && v.col == nil {
		return value{num: taken(acc.num, v.num, settles, idle)}
	}
	return b.apply(op, &acc, &v, dst)
}

// result is the aggregate at all lanes.
func (t *columnTally) result(b *block, dst []float64) value {
	switch {
	case t.kind == check.Mean && t.n == 0:
		return value{num: math.NaN()}
	case t.kind == check.Mean:
		return b.binary(opDiv, &t.acc, &value{num: float64(t.n)}, dst)
	case t.acc.col == nil:
		return value{num: arith.Finite(t.acc.num)}
	}
	return t.acc
}
