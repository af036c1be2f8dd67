package arith

import "math"

// Functions of one number, over columns: each enters, to the last bit, what the
// function gives, where that is finite, and no value elsewhere. Dst and x are apart,
// of one length, a multiple of Together.

// Floors is Floor.
func Floors(dst, x []float64) {
	fits(len(dst) == len(x), len(x))
	if wideFloor == nil {
		each(dst, x, Floor)
	} else if len(x) > 0 {
		wideFloor(&dst[0], &x[0], len(x))
	}
}

// Ceils is Ceil.
func Ceils(dst, x []float64) {
	fits(len(dst) == len(x), len(x))
	if wideCeil == nil {
		each(dst, x, Ceil)
	} else if len(x) > 0 {
		wideCeil(&dst[0], &x[0], len(x))
	}
}

// Logs is math.Log.
func Logs(dst, x []float64) {
	fits(len(dst) == len(x), len(x))
	if wideLog == nil {
		each(dst, x, math.Log)
	} else if len(x) > 0 {
		wideLog(&dst[0], &x[0], len(x))
	}
}

// Exps is math.Exp.
func Exps(dst, x []float64) {
	fits(len(dst) == len(x), len(x))
	if wideExp == nil {
		each(dst, x, math.Exp)
	} else if len(x) > 0 && wideExp(&dst[0], &x[0], len(x)) {
		for i, v := range x {
			if v < 0 && !(dst[i] > 0) { // too small for four lanes at a time
				dst[i] = math.Exp(v)
			}
		}
	}
}

// Power is x to the power y; no value where one of them is none, also for x to the
// power 0.
func Power(x, y float64) float64 {
	if x != x || y != y {
		return absent
	}
	return Finite(math.Pow(x, y))
}

// Powers is Power of one y.
func Powers(dst, x []float64, y float64) {
	if fits(len(dst) == len(x), len(x)); len(x) == 0 {
		return
	}
	if widePow == nil || y != math.Trunc(y) || y == 0 || math.Abs(y) > mostPower {
		each(dst, x, func(v float64) float64 { return Power(v, y) })
		return
	}
	high := math.Exp2(1000 / math.Abs(y)) // no power is near the ends of what a number can be
	low := 1 / high
	if widePow(&dst[0], &x[0], len(x), int(y), low, high) {
		for i, v := range x {
			if !(low <= v && v <= high) {
				dst[i] = Power(v, y)
			}
		}
	}
}

// mostPower is as far as exponents are whole numbers of which powers are made several
// lanes at a time.
const mostPower = 1 << 10

func each(dst, x []float64, f func(float64) float64) {
	for i, v := range x {
		dst[i] = Finite(f(v))
	}
}

// What the machine does of these four lanes at a time, nil where it cannot. WideExp
// reports whether there are lanes that it leaves at 0 or no value because what comes
// out is too small, widePow whether there are some below low or above high, at which
// it does nothing sensible.
var (
	widePow                      func(dst, x *float64, n, y int, low, high float64) (odd bool)
	wideFloor, wideCeil, wideLog func(dst, x *float64, n int)
	wideExp                      func(dst, x *float64, n int) (small bool)
)
