package eval

import (
	"math"

	"bankwright/engine/check"
)

func fill(col []float64, x float64) {
	for i := range col {
		col[i] = x
	}
}

// spread is a value as a column; one number is written to all lanes of room.
func (b *block) spread(v value, room int) []float64 {
	if v.col != nil {
		return v.col
	}
	col := b.spare[room][:b.n]
	fill(col, v.num)
	return col
}

// binary applies an operation to all lanes; it uses dst where the result is a column.
func (b *block) binary(op opcode, x, y value, dst []float64) value {
	if x.col == nil && y.col == nil {
		return value{num: binary(op, x.num, y.num)}
	}
	xs, ys := b.spread(x, 0), b.spread(y, 1)
	dst = dst[:len(xs)]
	ys = ys[:len(xs)]
	switch op {
	case opAdd:
		for i, x := range xs {
			dst[i] = finite(x + ys[i])
		}
	case opSub:
		for i, x := range xs {
			dst[i] = finite(x - ys[i])
		}
	case opMul:
		for i, x := range xs {
			dst[i] = finite(x * ys[i])
		}
	case opDiv:
		for i, x := range xs {
			dst[i] = quotient(x, ys[i])
		}
	case opMin:
		for i, x := range xs {
			dst[i] = smaller(x, ys[i])
		}
	case opMax:
		for i, x := range xs {
			dst[i] = larger(x, ys[i])
		}
	default:
		for i, x := range xs {
			dst[i] = binary(op, x, ys[i])
		}
	}
	return value{col: dst}
}

func (b *block) unary(op opcode, x value, dst []float64) value {
	if x.col == nil {
		return value{num: unary(op, x.num)}
	}
	dst = dst[:len(x.col)]
	for i, v := range x.col {
		dst[i] = unary(op, v)
	}
	return value{col: dst}
}

func (b *block) choose(cond, x, y value, dst []float64) value {
	if cond.col == nil {
		switch {
		case cond.num != cond.num:
			return value{num: math.NaN()}
		case cond.num != 0:
			return x
		}
		return y
	}
	xs, ys := b.spread(x, 0), b.spread(y, 1)
	for i, c := range cond.col {
		dst[i] = choice(c, xs[i], ys[i])
	}
	return value{col: dst}
}

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
	case check.Min, check.Max:
		if t.n > 1 {
			t.acc = b.binary(opMin+opcode(t.kind-check.Min), t.acc, v, dst)
			return
		}
		fallthrough
	case check.First:
		if t.n == 1 {
			t.acc = own(v, dst)
		}
	case check.Last:
		t.acc = v
	}
}

// own is a value in a column of its own.
func own(v value, dst []float64) value {
	if v.col == nil {
		return v
	}
	copy(dst, v.col)
	return value{col: dst}
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
	xs, ys := b.spread(acc, 0), b.spread(v, 1)
	for i, x := range xs {
		dst[i] = one(x, ys[i])
	}
	return value{col: dst}
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
