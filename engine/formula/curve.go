package formula

import (
	"math"
	"sort"

	"bankwright/engine/arith"
)

// straight is y at x on straight lines between points.
func straight(xs, ys []float64) Single {
	return Single{At: func(x float64) float64 {
		k, at := between(xs, x)
		if at {
			return value(ys, k)
		}
		x0, x1, y0, y1 := xs[k-1], xs[k], ys[k-1], ys[k]
		return y0 + (y1-y0)*((x-x0)/(x1-x0))
	}}
}

// logCurve is y at x on lines that are straight on log-log paper: with the slope of
// each line found beforehand, y0 * exp(slope * ln(x/x0)).
type logCurve struct {
	xs, ys, slopes []float64 // the slope of a line at its end

	scale, along []float64 // of the column under way: y0, and the slope
	ratio        []float64 // x/x0
}

func straightLog(xs, ys []float64) Single {
	c := &logCurve{xs: xs, ys: ys, slopes: make([]float64, len(xs))}
	for k := 1; k < len(xs); k++ {
		c.slopes[k] = math.NaN()
		if xs[k-1] > 0 && ys[k-1] > 0 && ys[k] > 0 {
			c.slopes[k] = arith.Finite(math.Log(ys[k]/ys[k-1]) / math.Log(xs[k]/xs[k-1]))
		}
	}
	return Single{c.at, c.column}
}

func (c *logCurve) at(x float64) float64 {
	k, at := between(c.xs, x)
	if at {
		return value(c.ys, k)
	}
	return c.ys[k-1] * math.Exp(c.slopes[k]*math.Log(x/c.xs[k-1]))
}

// column is at for each lane. Where x stands at a point the rest of the formula
// comes to 1.
func (c *logCurve) column(dst, x []float64) {
	if cap(c.scale) < len(x) {
		c.scale, c.along, c.ratio = make([]float64, len(x)), make([]float64, len(x)), make([]float64, len(x))
	}
	scale, along, ratio := c.scale[:len(x)], c.along[:len(x)], c.ratio[:len(x)]
	for i, v := range x {
		k, at := between(c.xs, v)
		if at {
			scale[i], along[i], ratio[i] = value(c.ys, k), 0, 1
			continue
		}
		scale[i], along[i], ratio[i] = c.ys[k-1], c.slopes[k], v/c.xs[k-1]
	}
	arith.Logs(dst, ratio)
	arith.Mul.Apply(ratio, arith.Of(dst), arith.Of(along))
	arith.Exps(dst, ratio)
	arith.Mul.Apply(dst, arith.Of(dst), arith.Of(scale))
}

// value is the k-th of a column; none where there are no rows.
func value(ys []float64, k int) float64 {
	if k < 0 {
		return math.NaN()
	}
	return ys[k]
}

// between finds the row of a rising column at which x stands: the value there is that
// of the row, and so is that of the first or last row for an x outside. Otherwise x
// lies between that row and the one before. Where there are no rows, or no x, it is -1.
func between(xs []float64, x float64) (k int, at bool) {
	n := len(xs)
	switch {
	case n == 0 || x != x:
		return -1, true
	case x <= xs[0]:
		return 0, true
	case x >= xs[n-1]:
		return n - 1, true
	}
	if n > 16 {
		k = sort.SearchFloat64s(xs, x)
	} else {
		for k = 1; xs[k] < x; k++ {
		}
	}
	return k, xs[k] == x
}
