package eval

import (
	"math"

	"bankwright/engine/formula"
)

// unary and binary are the operations on single values; columns.go has the loops
// that do the same over columns. No value (NaN) in gives no value out, except where
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
		return finite(x + y)
	case opSub:
		return finite(x - y)
	case opMul:
		return finite(x * y)
	case opDiv:
		return finite(x / y) // by zero there is no value
	case opPow:
		return power(x, y)
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

// power is math.Pow, but no value in gives no value out even for x ** 0.
func power(x, y float64) float64 {
	if x != x || y != y {
		return math.NaN()
	}
	return finite(math.Pow(x, y))
}

// finite is a result that is too large to be a number turned into no value,
// wherever it arises: a spreadsheet stops there too, even if the formula would
// have thrown it away.
func finite(v float64) float64 {
	if v > math.MaxFloat64 || v < -math.MaxFloat64 {
		return math.NaN()
	}
	return v
}

func compare(op opcode, x, y float64) bool {
	switch op {
	case opEqNum:
		return x == y || formula.Near(x, y)
	case opNeNum:
		return !(x == y || formula.Near(x, y))
	case opEqText:
		return x == y
	case opNeText:
		return x != y
	case opLt:
		return formula.Below(x, y)
	case opLe:
		return formula.AtMost(x, y)
	case opGt:
		return formula.Below(y, x)
	}
	return formula.AtMost(y, x)
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
