package eval

import (
	"math"

	"bankwright/engine/arith"
)

// unary and binary are the operations on single values; columns.go has
// them over columns. No value (NaN) in gives no value out, except where
// a value is not needed: the arm of ?: that is not taken, the right side of and/or
// that the left decides, the left side of ??.

func unary(op opcode, x float64) float64 {
	if op == opNot {
		return 1 - x
	}
	return -x
}

func binary(op opcode, x, y float64) float64 {
	switch op {
	case opAdd:
		return arith.Finite(x + y)
	case opSub:
		return arith.Finite(x - y)
	case opMul:
		return arith.Finite(x * y)
	case opDiv:
		return arith.Finite(x / y) // by zero there is no value
	case opPow:
		return arith.Power(x, y)
	case opMin:
		return min(x, y)
	case opMax:
		return max(x, y)
	case opAnd, opOr:
		if x == truth(op == opOr) || x != x { // the left value settles it
			return x
		}
		return y
	case opElse:
		if x != x {
			return y
		}
		return x
	}
	if x != x || y != y {
		return math.NaN()
	}
	return truth(compare(op, x, y))
}

func compare(op opcode, x, y float64) bool {
	switch op {
	case opEqNum:
		return x == y || arith.Near(x, y)
	case opNeNum:
		return !(x == y || arith.Near(x, y))
	case opEqText:
		return x == y
	case opNeText:
		return x != y
	case opLt:
		return arith.Below(x, y)
	case opLe:
		return arith.AtMost(x, y)
	case opGt:
		return arith.Below(y, x)
	}
	return arith.AtMost(y, x)
}

// choice is the value of cond ? a : b.
func choice(cond, a, b float64) float64 {
	switch {
	case cond != cond:
		return cond
	case cond != 0:
		return a
	}
	return b
}

// jumps reports whether what follows is not needed.
func jumps(op opcode, x float64) bool {
	switch op {
	case opJumpFalse:
		return x == 0 || x != x
	case opJumpTrue:
		return x != 0 // NaN is unlike 0
	}
	return x == x
}
