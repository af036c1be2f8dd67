package eval

import (
	"math"

	"bankwright/engine/arith"
)

// columnOps are the operations that package arith has, 1 added. Those of all others
// are done lane by lane.
var columnOps = [opJumpPresent + 1]arith.Op{
	opAdd: arith.Add + 1, opSub: arith.Sub + 1, opMul: arith.Mul + 1, opDiv: arith.Div + 1, opMin: arith.Min + 1, opMax: arith.Max + 1,
	opLt: arith.Less + 1, opLe: arith.LessOrEqual + 1, opAnd: arith.And + 1, opOr: arith.Or + 1, opElse: arith.Else + 1,
}

// side is a value as an operation on columns takes it.
func side(v *value, room *[arith.Together]float64, n int) arith.Operand {
	if v.col != nil {
		return arith.Of(v.col[:n])
	}
	return arith.Number(v.num, room)
}

// binary applies an operation to all lanes; it uses dst where the result is a column.
func (b *block) binary(op opcode, x, y *value, dst []float64) value {
	if x.col == nil {
		if y.col == nil {
			return value{num: binary(op, x.num, y.num)}
		}
		if (op == opAnd || op == opOr || op == opElse) && binary(op, x.num, math.NaN()) == x.num {
			return *x // the right side may not have been computed
		}
	}
	if op == opGt || op == opGe { // are the others turned round
		op, x, y = op-opGt+opLt, y, x
	}
	if of := columnOps[op]; of > 0 {
		return b.apply(of-1, x, y, dst)
	}
	if op == opPow && y.col == nil {
		arith.Powers(dst[:b.wide], x.col[:b.wide], y.num)
		return value{col: dst[:b.n]}
	}
	dst = dst[:b.n]
	for i := range dst {
		dst[i] = binary(op, x.at(i), y.at(i))
	}
	return value{col: dst}
}

// apply applies an operation of package arith, at least one value being a column.
func (b *block) apply(op arith.Op, x, y *value, dst []float64) value {
	op.Apply(dst[:b.wide], side(x, &b.numbered[0], b.wide), side(y, &b.numbered[1], b.wide))
	return value{col: dst[:b.n]}
}

// unary is written as a subtraction, which gives the same to the last bit.
func (b *block) unary(op opcode, x *value, dst []float64) value {
	switch {
	case x.col == nil:
		return value{num: unary(op, x.num)}
	case op == opNot:
		return b.apply(arith.Sub, &value{num: 1}, x, dst)
	}
	return b.apply(arith.Sub, &value{num: math.Copysign(0, -1)}, x, dst)
}

// choose is cond ? x : y; where all lanes take the same arm it is that value itself.
func (b *block) choose(cond, x, y *value, dst []float64) value {
	if cond.col == nil {
		switch {
		case cond.num != cond.num:
			return value{num: math.NaN()}
		case cond.num != 0:
			return *x
		}
		return *y
	}
	arith.Choose(dst[:b.wide], cond.col[:b.wide], side(x, &b.numbered[0], b.wide), side(y, &b.numbered[1], b.wide))
	return value{col: dst[:b.n]}
}

// within is x at lanes that use more steps than so many, y at others.
func (b *block) within(uses []float64, step int, x, y *value, dst []float64) value {
	arith.Within(dst[:b.wide], uses[:b.wide], float64(step), side(x, &b.numbered[0], b.wide), side(y, &b.numbered[1], b.wide))
	return value{col: dst[:b.n]}
}
