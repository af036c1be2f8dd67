package eval

import (
	"math"

	"bankwright/engine/formula"
)

// Columns are worked through four lanes at a time, and are as long as a multiple of
// four: what stands behind the last lane is computed along and never read. An
// operand that is one number stands in four lanes, over which the loop does not
// move on. Of four results it is found out at once whether all are finite, since
// v - v is 0 for these alone; few are not, and these are seen to one by one.

const together = 4

// padded is a number of lanes with what is computed along.
func padded(n int) int { return (n + together - 1) &^ (together - 1) }

func fill(col []float64, x float64) {
	for i := range col {
		col[i] = x
	}
}

// operand is a value as a loop takes it: lanes, and how far to move on after four.
func operand(v value, four *[together]float64, n int) (lanes []float64, move int) {
	if v.col != nil {
		return v.col[:n], together
	}
	*four = [together]float64{v.num, v.num, v.num, v.num}
	return four[:], 0
}

// binary applies an operation to all lanes; it uses dst where the result is a column.
func (b *block) binary(op opcode, x, y value, dst []float64) value {
	if x.col == nil && y.col == nil {
		return value{num: binary(op, x.num, y.num)}
	}
	if x.col == nil && (op == opAnd || op == opOr || op == opElse) && binary(op, x.num, math.NaN()) == x.num {
		return x // the right side may not have been computed
	}
	if op == opGt || op == opGe { // are the others turned round
		op, x, y = op-opGt+opLt, y, x
	}
	n := padded(b.n)
	xs, dx := operand(x, &b.fours[0], n)
	ys, dy := operand(y, &b.fours[1], n)
	to := dst[:n]
	switch op {
	case opAdd:
		addColumns(to, xs, ys, dx, dy)
	case opSub:
		subColumns(to, xs, ys, dx, dy)
	case opMul:
		mulColumns(to, xs, ys, dx, dy)
	case opDiv:
		divColumns(to, xs, ys, dx, dy)
	case opMin:
		minColumns(to, xs, ys, dx, dy)
	case opMax:
		maxColumns(to, xs, ys, dx, dy)
	case opLt:
		belowColumns(to, xs, ys, dx, dy)
	case opLe:
		atMostColumns(to, xs, ys, dx, dy)
	case opAnd, opOr:
		logicColumns(to, xs, ys, dx, dy, truth(op == opOr))
	case opElse:
		elseColumns(to, xs, ys, dx, dy)
	default:
		restColumns(op, to, xs, ys, dx, dy)
	}
	return value{col: dst[:b.n]}
}

func addColumns(dst, xs, ys []float64, dx, dy int) {
	for i, j := 0, 0; len(dst) >= together; i, j = i+dx, j+dy {
		x, y, to := xs[i:i+4:i+4], ys[j:j+4:j+4], dst[:4:4]
		v, w, p, q := x[0]+y[0], x[1]+y[1], x[2]+y[2], x[3]+y[3]
		to[0], to[1], to[2], to[3] = v, w, p, q
		if (v-v)+(w-w)+((p-p)+(q-q)) != 0 {
			makeFinite(to)
		}
		dst = dst[4:]
	}
}

func subColumns(dst, xs, ys []float64, dx, dy int) {
	for i, j := 0, 0; len(dst) >= together; i, j = i+dx, j+dy {
		x, y, to := xs[i:i+4:i+4], ys[j:j+4:j+4], dst[:4:4]
		v, w, p, q := x[0]-y[0], x[1]-y[1], x[2]-y[2], x[3]-y[3]
		to[0], to[1], to[2], to[3] = v, w, p, q
		if (v-v)+(w-w)+((p-p)+(q-q)) != 0 {
			makeFinite(to)
		}
		dst = dst[4:]
	}
}

func mulColumns(dst, xs, ys []float64, dx, dy int) {
	for i, j := 0, 0; len(dst) >= together; i, j = i+dx, j+dy {
		x, y, to := xs[i:i+4:i+4], ys[j:j+4:j+4], dst[:4:4]
		v, w, p, q := x[0]*y[0], x[1]*y[1], x[2]*y[2], x[3]*y[3]
		to[0], to[1], to[2], to[3] = v, w, p, q
		if (v-v)+(w-w)+((p-p)+(q-q)) != 0 {
			makeFinite(to)
		}
		dst = dst[4:]
	}
}

// divColumns divides; a division by zero is not finite.
func divColumns(dst, xs, ys []float64, dx, dy int) {
	for i, j := 0, 0; len(dst) >= together; i, j = i+dx, j+dy {
		x, y, to := xs[i:i+4:i+4], ys[j:j+4:j+4], dst[:4:4]
		v, w, p, q := x[0]/y[0], x[1]/y[1], x[2]/y[2], x[3]/y[3]
		to[0], to[1], to[2], to[3] = v, w, p, q
		if (v-v)+(w-w)+((p-p)+(q-q)) != 0 {
			makeFinite(to)
		}
		dst = dst[4:]
	}
}

func makeFinite(col []float64) {
	for i, v := range col {
		col[i] = finite(v)
	}
}

func minColumns(dst, xs, ys []float64, dx, dy int) {
	for i, j := 0, 0; len(dst) >= together; i, j = i+dx, j+dy {
		x, y, to := xs[i:i+4:i+4], ys[j:j+4:j+4], dst[:4:4]
		to[0], to[1], to[2], to[3] = min(x[0], y[0]), min(x[1], y[1]), min(x[2], y[2]), min(x[3], y[3])
		dst = dst[4:]
	}
}

func maxColumns(dst, xs, ys []float64, dx, dy int) {
	for i, j := 0, 0; len(dst) >= together; i, j = i+dx, j+dy {
		x, y, to := xs[i:i+4:i+4], ys[j:j+4:j+4], dst[:4:4]
		to[0], to[1], to[2], to[3] = max(x[0], y[0]), max(x[1], y[1]), max(x[2], y[2]), max(x[3], y[3])
		dst = dst[4:]
	}
}

func belowColumns(dst, xs, ys []float64, dx, dy int) {
	for i, j := 0, 0; len(dst) >= together; i, j = i+dx, j+dy {
		x, y, to := xs[i:i+4:i+4], ys[j:j+4:j+4], dst[:4:4]
		for k, v := range x {
			switch w := y[k]; {
			case v < w:
				to[k] = 1
				if formula.Near(v, w) {
					to[k] = 0
				}
			case v >= w:
				to[k] = 0
			default:
				to[k] = math.NaN()
			}
		}
		dst = dst[4:]
	}
}

func atMostColumns(dst, xs, ys []float64, dx, dy int) {
	for i, j := 0, 0; len(dst) >= together; i, j = i+dx, j+dy {
		x, y, to := xs[i:i+4:i+4], ys[j:j+4:j+4], dst[:4:4]
		for k, v := range x {
			switch w := y[k]; {
			case v <= w:
				to[k] = 1
			case v > w:
				to[k] = 0
				if formula.Near(v, w) {
					to[k] = 1
				}
			default:
				to[k] = math.NaN()
			}
		}
		dst = dst[4:]
	}
}

// logicColumns is `and` and `or`: decides is the left value that settles it.
func logicColumns(dst, xs, ys []float64, dx, dy int, decides float64) {
	for i, j := 0, 0; len(dst) >= together; i, j = i+dx, j+dy {
		x, y, to := xs[i:i+4:i+4], ys[j:j+4:j+4], dst[:4:4]
		for k, v := range x {
			if v != decides && v == v {
				v = y[k]
			}
			to[k] = v
		}
		dst = dst[4:]
	}
}

func elseColumns(dst, xs, ys []float64, dx, dy int) {
	for i, j := 0, 0; len(dst) >= together; i, j = i+dx, j+dy {
		x, y, to := xs[i:i+4:i+4], ys[j:j+4:j+4], dst[:4:4]
		for k, v := range x {
			if v != v {
				v = y[k]
			}
			to[k] = v
		}
		dst = dst[4:]
	}
}

func restColumns(op opcode, dst, xs, ys []float64, dx, dy int) {
	for i, j := 0, 0; len(dst) >= together; i, j = i+dx, j+dy {
		x, y, to := xs[i:i+4:i+4], ys[j:j+4:j+4], dst[:4:4]
		for k, v := range x {
			to[k] = binary(op, v, y[k])
		}
		dst = dst[4:]
	}
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

// choose is cond ? x : y; where all lanes take the same arm it is that value itself.
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
	n := padded(b.n)
	conds := cond.col[:n]
	xs, dx := operand(x, &b.fours[0], n)
	ys, dy := operand(y, &b.fours[1], n)
	to := dst[:n]
	for i, j := 0, 0; len(conds) >= together; i, j = i+dx, j+dy {
		x, y, four := xs[i:i+4:i+4], ys[j:j+4:j+4], to[:4:4]
		for k, c := range conds[:4:4] {
			v := y[k]
			if c != 0 {
				v = x[k]
			}
			if c != c {
				v = c
			}
			four[k] = v
		}
		conds, to = conds[4:], to[4:]
	}
	return value{col: dst[:b.n]}
}
