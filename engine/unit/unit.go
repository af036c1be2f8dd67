package unit

import "math"

// Unit is a unit of measurement: a value v in it is ((v-Zero)*Mul)/Div in base
// units. Mul and Div are whole numbers wherever they can be, so that a
// conversion rounds as little as possible; the zero Unit is not usable, see One.
type Unit struct {
	Name     string // as written out: "kWh", "USD/kWh", "" for One
	Dim      Dim
	Mul, Div float64 // both positive and finite
	Zero     float64 // what the unit reads at 0 °C; temperatures only
	Currency string  // ISO 4217 code; empty without money, and for money of the scenario's currency
}

// One is the unit of a number without unit.
var One = Unit{Mul: 1, Div: 1}

// Percent is the unit of a share.
var Percent = unitTable["%"]

// ToBase converts a value in the unit to base units.
func (u Unit) ToBase(v float64) float64 { return ((v - u.Zero) * u.Mul) / u.Div }

// FromBase converts a value in base units to the unit.
func (u Unit) FromBase(v float64) float64 { return (v*u.Div)/u.Mul + u.Zero }

// String is the unit as written, empty for a number without unit.
func (u Unit) String() string { return u.Name }

// Base is the unit in which values of a dimension are kept.
func Base(d Dim) Unit { return Unit{Name: d.Symbol(), Dim: d, Mul: 1, Div: 1} }

// As is the unit as it is meant where a value of dimension d belongs: K counts
// from absolute zero where a temperature belongs. It is false where the unit
// does not fit.
func (u Unit) As(d Dim) (Unit, bool) {
	if d == Temperature && u == unitTable["K"] {
		u.Dim, u.Zero = Temperature, 273.15 // SP 811, B.8: t/°C = T/K - 273.15
		return u, true
	}
	_, ok := Fit(u.Dim, d)
	return u, ok
}

// compound multiplies the unit by v to the power n. Temperatures count as
// differences there: V/°C is V/K.
func (u Unit) compound(v Unit, n int) (Unit, bool) {
	if v.Dim.point {
		v.Dim = Difference
	}
	p, ok := Pow(v.Dim, n)
	if !ok {
		return u, false
	}
	if u.Dim, ok = Mul(u.Dim, p); !ok {
		return u, false
	}
	if n < 0 {
		v.Mul, v.Div, n = v.Div, v.Mul, -n
	}
	for range n {
		u.Mul *= v.Mul
		u.Div *= v.Div
	}
	u.Mul, u.Div = reduce(u.Mul, u.Div)
	return u, !math.IsInf(u.Mul, 0) && !math.IsInf(u.Div, 0)
}

// reduce cancels what two whole numbers have in common.
func reduce(a, b float64) (float64, float64) {
	const exact = 1 << 53
	if a > exact || b > exact || a != math.Trunc(a) || b != math.Trunc(b) {
		return a, b
	}
	x, y := uint64(a), uint64(b)
	for y != 0 {
		x, y = y, x%y
	}
	return a / float64(x), b / float64(x)
}
