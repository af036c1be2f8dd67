package eval

import (
	"math"

	"bankwright/engine/formula"
)

// unary and binary hold the loops over columns. No value (NaN) in gives no
// value out, except where a value is not needed: the arm of ?: that is not
// taken, the right side of and/or that the left decides, the left side of ??.

func unary(op opcode, dst, a []float64) {
	switch op {
	case opNeg:
		for i, x := range a {
			dst[i] = -x
		}
	case opNot:
		for i, x := range a {
			dst[i] = 1 - x
		}
	}
}

func arithmetic(op opcode, dst, a, b []float64) {
	b = b[:len(a)]
	dst = dst[:len(a)]
	switch op {
	case opAdd:
		for i, x := range a {
			dst[i] = finite(x + b[i])
		}
	case opSub:
		for i, x := range a {
			dst[i] = finite(x - b[i])
		}
	case opMul:
		for i, x := range a {
			dst[i] = finite(x * b[i])
		}
	case opDiv: // by zero there is no value
		for i, x := range a {
			if y := b[i]; y != 0 {
				dst[i] = finite(x / y)
			} else {
				dst[i] = math.NaN()
			}
		}
	case opPow:
		for i, x := range a {
			dst[i] = power(x, b[i])
		}
	case opMin:
		for i, x := range a {
			if y := b[i]; y < x || y != y {
				x = y
			}
			dst[i] = x
		}
	case opMax:
		for i, x := range a {
			if y := b[i]; y > x || y != y {
				x = y
			}
			dst[i] = x
		}
	}
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

func comparison(op opcode, dst, a, b []float64) {
	b = b[:len(a)]
	for i, x := range a {
		y := b[i]
		if x != x || y != y {
			dst[i] = math.NaN()
			continue
		}
		dst[i] = truth(compare(op, x, y))
	}
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

func logic(op opcode, dst, a, b []float64) {
	decides := truth(op == opOr) // the left value that settles it
	for i, x := range a {
		if x == decides || x != x {
			dst[i] = x
		} else {
			dst[i] = b[i]
		}
	}
}

func choose(dst, cond, a, b []float64) {
	for i, c := range cond {
		switch {
		case c != c:
			dst[i] = c
		case c != 0:
			dst[i] = a[i]
		default:
			dst[i] = b[i]
		}
	}
}

func replace(dst, a, b []float64) {
	for i, x := range a {
		if x != x {
			x = b[i]
		}
		dst[i] = x
	}
}
