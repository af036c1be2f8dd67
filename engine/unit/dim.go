// Package unit is the arithmetic of dimensions and the reading and writing of
// values with units. Its base units are those of the trade it serves: V, A, h,
// m, kg, K and money, so that V·A is a watt, A·h an ampere hour and V·A·h a
// watt hour, and no formula needs a factor.
//
// Factors follow NIST Special Publication 811 (2008), Guide for the Use of the
// International System of Units, Appendix B; currencies follow ISO 4217.
package unit

// Places of the base units in Dim.exp.
const (
	volt = iota
	ampere
	hour
	metre
	kilogram
	kelvin
	money
	bases
)

// Dim is a dimension: the exponents of the base units. Two dimensions are the
// same if they are equal by ==. The zero value is None.
type Dim struct {
	exp   [bases]int8
	point bool // a temperature on a scale, as opposed to a difference
	any   bool
}

var (
	// None is the dimension of a number without unit.
	None = Dim{}
	// Any is the dimension of a literal 0, and of what is not known because of
	// an earlier mistake. It fits everything and absorbs what it meets.
	Any = Dim{any: true}
	// Temperature is a temperature on a scale (base: °C). A difference of
	// temperatures is the plain dimension of K.
	Temperature = Dim{exp: [bases]int8{kelvin: 1}, point: true}
	// Difference is a difference of temperatures (base: K).
	Difference = Dim{exp: [bases]int8{kelvin: 1}}
	// Hour is the dimension of time (base: h).
	Hour = Dim{exp: [bases]int8{hour: 1}}
	// Money is the dimension of prices and costs.
	Money = Dim{exp: [bases]int8{money: 1}}
)

// IsNone reports whether d is that of a number without unit.
func (d Dim) IsNone() bool { return d == None }

// IsAny reports whether d fits everything.
func (d Dim) IsAny() bool { return d.any }

// IsPoint reports whether d is a temperature on a scale. Such values have no
// sign, sum or product that means anything: see Add, Sub, Mul.
func (d Dim) IsPoint() bool { return d.point }

// HasMoney reports whether money is a part of d.
func (d Dim) HasMoney() bool { return d.exp[money] != 0 }

// Fit reports whether a and b are the same dimension, and which: Any takes on
// the other's. It is the rule for comparisons, minimum, maximum and choices.
func Fit(a, b Dim) (Dim, bool) {
	switch {
	case a.any:
		return b, true
	case b.any || a == b:
		return a, true
	}
	return Any, false
}

// Add is the dimension of a sum. A temperature plus a difference is a
// temperature; two temperatures have no sum.
func Add(a, b Dim) (Dim, bool) {
	switch {
	case a.point && b.point:
		return Any, false
	case a.point && (b.any || b == Difference):
		return a, true
	case b.point && (a.any || a == Difference):
		return b, true
	}
	return Fit(a, b)
}

// Sub is the dimension of a difference. A temperature minus a temperature is a
// difference, minus a difference it is a temperature.
func Sub(a, b Dim) (Dim, bool) {
	switch {
	case a.point && b.any:
		return Any, true // either, by what the unknown turns out to be
	case b.point && (a.point || a.any):
		return Difference, true
	case a.point && b == Difference:
		return a, true
	}
	return Fit(a, b)
}

// Mul is the dimension of a product. It is refused for temperatures on a
// scale, and where an exponent grows out of bounds.
func Mul(a, b Dim) (Dim, bool) { return combine(a, b, 1) }

// Div is the dimension of a quotient. It is refused like that of Mul.
func Div(a, b Dim) (Dim, bool) { return combine(a, b, -1) }

// combine is a·b^sign.
func combine(a, b Dim, sign int) (Dim, bool) {
	switch {
	case a.any || b.any:
		return Any, true
	case a.point || b.point:
		return Any, false
	}
	for i := range a.exp {
		n := int(a.exp[i]) + sign*int(b.exp[i])
		if n != int(int8(n)) {
			return Any, false
		}
		a.exp[i] = int8(n)
	}
	return a, true
}

// Pow is the dimension of a to the power n. It is refused like that of Mul.
func Pow(a Dim, n int) (Dim, bool) {
	switch {
	case a.any || a == None:
		return a, true
	case a.point || n < -128 || n > 127:
		return Any, false
	}
	for i, e := range a.exp {
		p := int(e) * n
		if p != int(int8(p)) {
			return Any, false
		}
		a.exp[i] = int8(p)
	}
	return a, true
}

// Root is the dimension of the n-th root of a, refused where an exponent is no
// multiple of n, n is 0, or a is a temperature on a scale.
func Root(a Dim, n int) (Dim, bool) {
	switch {
	case a.any || a == None && n != 0:
		return a, true
	case a.point || n == 0:
		return Any, false
	}
	for i, e := range a.exp {
		if int(e)%n != 0 {
			return Any, false
		}
		root := int(e) / n
		if root != int(int8(root)) { // -128 / -1
			return Any, false
		}
		a.exp[i] = int8(root)
	}
	return a, true
}
