package formula

import "math"

// Tolerance is the relative difference below which two numbers count as equal
// wherever a formula decides something: in comparisons, ceil, floor and
// at_least. Without it three lifetimes of four years can miss the twelfth year
// by one rounding error, and a spreadsheet and the engine part at ties. It is
// far above the rounding of a long chain of operations (about 1e-15 a step)
// and far below what any measurement can tell apart.
const Tolerance = 1e-12

// Near reports whether a and b are equal within Tolerance. A NaN is near
// nothing.
func Near(a, b float64) bool {
	return math.Abs(a-b) <= Tolerance*math.Max(math.Abs(a), math.Abs(b))
}

// AtMost reports whether a <= b, equal within Tolerance counting as equal.
func AtMost(a, b float64) bool { return a <= b || Near(a, b) }

// Below reports whether a < b and the two are not equal within Tolerance.
func Below(a, b float64) bool { return a < b && !Near(a, b) }

// whole is x as a whole number where it is one within Tolerance.
func whole(x float64) (float64, bool) {
	r := math.Round(x)
	return r, math.Abs(x-r) <= Tolerance*math.Max(1, math.Abs(x))
}

// Ceil is the least whole number not below x, x snapped first.
func Ceil(x float64) float64 {
	if r, ok := whole(x); ok {
		return r
	}
	return math.Ceil(x)
}

// Floor is the greatest whole number not above x, x snapped first.
func Floor(x float64) float64 {
	if r, ok := whole(x); ok {
		return r
	}
	return math.Floor(x)
}
