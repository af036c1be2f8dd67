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
		t.acc = b.binary(opMin+opcode(t.kind-check.Min), t.acc, v, dst)
	}
}

// own is a value in a column of its own.
func own(v value, dst []float64) value {
	if v.col == nil {
		return v
	}
	copy(dst, v.col)
	return value{col: dst[:len(v.col)]}
}

// settle takes a truth into any or all: at settled nothing changes any more, and
// idle changes nothing.
func (b *block) settle(acc, v value, settled, idle float64, dst []float64) value {
	one := func(acc, v float64) float64 {
		if acc != settled && v != idle {
			return v
		}
		return acc
	}
	if acc.col == nil && v.col == nil {
		return value{num: one(acc.num, v.num)}
	}
	for i := range dst[:b.n] {
		dst[i] = one(acc.at(i), v.at(i))
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
