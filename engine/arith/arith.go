// Package arith is the arithmetic of formulas: what counts as equal, what is too large
// to be a number, and operations over columns of numbers. Of each pair of lanes of
// columns these make what engine/eval makes of two numbers, to the last bit, except
// that any NaN stands for no value. On amd64 machines with AVX2 they work through
// several lanes at a time in assembly, elsewhere in Go.
package arith

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
	return math.Abs(a-b) <= Tolerance*max(math.Abs(a), math.Abs(b))
}

// AtMost reports whether a <= b, equal within Tolerance counting as equal.
func AtMost(a, b float64) bool { return a <= b || Near(a, b) }

// Below reports whether a < b and the two are not equal within Tolerance.
func Below(a, b float64) bool { return a < b && !Near(a, b) }

// tolerated is how far from a whole number x may lie and count as one: less than
// half of what two of them lie apart, however large they are.
func tolerated(x float64) float64 { return min(Tolerance*max(1, math.Abs(x)), 0.25) }

// Ceil is the least whole number not below x, x snapped first.
func Ceil(x float64) float64 {
	c := math.Ceil(x)
	if x-(c-1) <= tolerated(x) {
		return c - 1
	}
	return c
}

// Floor is the greatest whole number not above x, x snapped first.
func Floor(x float64) float64 {
	f := math.Floor(x)
	if f+1-x <= tolerated(x) {
		return f + 1
	}
	return f
}

// Finite is a result that is too large to be a number turned into no value,
// wherever it arises: a spreadsheet stops there too, even if the formula would
// have thrown it away.
func Finite(v float64) float64 {
	if v > math.MaxFloat64 || v < -math.MaxFloat64 {
		return math.NaN()
	}
	return v
}
