// Package straight is the standard rules, as far as a ranking of the default
// scenario's alternatives needs them, written out as straight Go: what sweeps are
// timed against. Only tests use it. All but this file is written by a test of
// cmd/bankwright, which also holds it against the engine to the last bit.
package straight

//lint:file-ignore U1000 what is written out uses what the rules name at the time

import (
	"math"
	"sort"

	"bankwright/engine/formula"
)

var absent = math.NaN()

func truth(b bool) float64 {
	if b {
		return 1
	}
	return 0
}

// over is x / y, absent where y is 0.
func over(x, y float64) float64 {
	v := x / y
	if v > math.MaxFloat64 || v < -math.MaxFloat64 {
		return absent
	}
	return v
}

// tolerance is how far apart numbers count as equal where something is decided.
const tolerance = 1e-12

func near(x, y float64) bool {
	d := math.Abs(x - y)
	return d <= tolerance*math.Abs(x) || d <= tolerance*math.Abs(y)
}

func same(x, y float64) bool   { return x == y || near(x, y) }
func below(x, y float64) bool  { return x < y && !near(x, y) }
func atMost(x, y float64) bool { return x <= y || near(x, y) }

func whole(x float64) (float64, bool) {
	r := math.Round(x)
	return r, math.Abs(x-r) <= tolerance*max(1, math.Abs(x))
}

func floor(x float64) float64 {
	if r, ok := whole(x); ok {
		return r
	}
	return math.Floor(x)
}

func abs(x float64) float64 {
	if x < 0 {
		return -x
	}
	return x
}

// inUse is how many steps a count leaves in use of so many.
func inUse(count float64, steps int) int {
	if count >= 0 {
		return int(min(floor(count), float64(steps)))
	}
	return 0
}

func power(x, y float64) float64 {
	if x != x || y != y {
		return absent
	}
	return over(math.Pow(x, y), 1)
}

func discount(rate, years float64) float64 {
	if rate != rate || years != years {
		return absent
	}
	return over(math.Pow(1+rate, -years), 1)
}

func natural(x float64) float64 {
	if x <= 0 {
		return absent
	}
	return math.Log(x)
}

// lookup is the value beside the key x.
func lookup(keys, values []float64, x float64) float64 {
	for i, k := range keys {
		if same(k, x) {
			return values[i]
		}
	}
	return absent
}

// atLeast is the first of rising sizes that is not below x.
func atLeast(sizes []float64, x float64) float64 {
	for _, v := range sizes {
		if atMost(x, v) {
			return v
		}
	}
	return absent
}

// rowAtLeast is the row of the first of rising sizes that is not below x, counted from 1.
func rowAtLeast(sizes []float64, x float64) float64 {
	for i, v := range sizes {
		if atMost(x, v) {
			return float64(i + 1)
		}
	}
	return float64(len(sizes) + 1)
}

// entry is what stands in row n, counted from 1.
func entry(values []float64, n float64) float64 {
	if row := int(floor(n)); n >= 1 && row <= len(values) {
		return values[row-1]
	}
	return absent
}

// lastEntry is the last of values.
func lastEntry(values []float64) float64 { return values[len(values)-1] }

// row finds the row of rising xs at which, or before which, x lies; inside tells that
// x lies between it and the one before.
func row(xs []float64, x float64) (k int, inside bool) {
	last := len(xs) - 1
	switch {
	case x <= xs[0]:
		return 0, false
	case x >= xs[last]:
		return last, false
	}
	k = sort.SearchFloat64s(xs, x)
	return k, xs[k] != x
}

// interpolate is y at x on straight lines between points, held at the ends.
func interpolate(xs, ys []float64, x float64) float64 {
	if len(xs) == 0 || x != x {
		return absent
	}
	k, inside := row(xs, x)
	if !inside {
		return ys[k]
	}
	return ys[k-1] + float64((ys[k]-ys[k-1])*((x-xs[k-1])/(xs[k]-xs[k-1])))
}

// interpolateLog is interpolate on log-log paper.
func interpolateLog(xs, ys []float64, x float64) float64 {
	if len(xs) == 0 || x != x {
		return absent
	}
	k, inside := row(xs, x)
	if !inside {
		return ys[k]
	}
	x0, x1, y0, y1 := xs[k-1], xs[k], ys[k-1], ys[k]
	if x0 <= 0 || y0 <= 0 || y1 <= 0 {
		return absent
	}
	return y0 * math.Exp(math.Log(y1/y0)/math.Log(x1/x0)*math.Log(x/x0))
}

var student = formula.Lookup("t_quantile")

// tQuantile is the t below which that share of Student's distribution lies.
func tQuantile(share, freedom float64) float64 {
	return over(student.Eval(nil, []float64{share, freedom}), 1)
}

// deviation is the standard deviation of a sample.
func deviation(x []float64) float64 { return over(formula.Deviation(x), 1) }
