package arith

import "math"

// Functions of one number, over columns: each enters, to the last bit, what the
// function gives, where that is finite, and no value elsewhere. Dst and x are apart,
// and as long as a multiple of Together.

// Floors is Floor.
func Floors(dst, x []float64) {
	if wideFloor == nil {
		each(dst, x, Floor)
	} else if len(x) > 0 {
		wideFloor(&dst[0], &x[0], len(x))
	}
}

// Ceils is Ceil.
func Ceils(dst, x []float64) {
	if wideCeil == nil {
		each(dst, x, Ceil)
	} else if len(x) > 0 {
		wideCeil(&dst[0], &x[0], len(x))
	}
}

// Logs is math.Log.
func Logs(dst, x []float64) {
	if wideLog == nil {
		each(dst, x, math.Log)
	} else if len(x) > 0 {
		wideLog(&dst[0], &x[0], len(x))
	}
}

// Exps is math.Exp.
func Exps(dst, x []float64) {
	if wideExp == nil {
		each(dst, x, math.Exp)
	} else if len(x) > 0 && wideExp(&dst[0], &x[0], len(x)) {
		for i, v := range x {
			if v < 0 && !(dst[i] > 0) { // too small for eight lanes at a time
				dst[i] = math.Exp(v)
			}
		}
	}
}

func each(dst, x []float64, f func(float64) float64) {
	for i, v := range x {
		dst[i] = Finite(f(v))
	}
}

// What the machine does of these eight lanes at a time, nil where it cannot. WideExp
// reports whether there are lanes that it leaves at 0 or no value because what comes
// out is too small.
var (
	wideFloor, wideCeil, wideLog func(dst, x *float64, n int)
	wideExp                      func(dst, x *float64, n int) (small bool)
)
