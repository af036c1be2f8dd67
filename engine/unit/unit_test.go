package unit

import (
	"math"
	"slices"
	"testing"
)

// close reports whether two numbers agree within a relative tolerance.
func closeTo(got, want, relative float64) bool {
	return got == want || math.Abs(got-want) <= relative*math.Abs(want)
}

// Tolerances: rounding alone, and half a unit of the seventh digit.
const exact, printed = 1e-15, 5e-7

// Source: NIST Special Publication 811 (2008), Appendix B.8, figures as printed
// there (from memory). Factors given in bold there are exact; the others are
// rounded to seven digits.
var factorTests = []struct {
	from, to  string
	factor    float64
	tolerance float64
}{
	{"ft", "m", 3.048e-01, exact},
	{"in", "m", 2.54e-02, exact},
	{"lb", "kg", 4.5359237e-01, exact},
	{"ft²", "m²", 9.290304e-02, exact},
	{"in²", "m²", 6.4516e-04, exact},
	{"ft³", "m³", 2.831685e-02, printed},
	{"L", "m³", 1.0e-03, exact},
	{"min", "s", 6.0e+01, exact},
	{"h", "s", 3.6e+03, exact},
	{"day", "s", 8.64e+04, exact},
	{"year", "s", 3.1536e+07, exact}, // year (365 days)
	{"kWh", "W·s", 3.6e+06, exact},   // to joule
	{"Wh", "W·s", 3.6e+03, exact},
	{"Ah", "A·s", 3.6e+03, exact}, // to coulomb
	{"lb/ft²", "kg/m²", 4.882428, printed},
	{"lb/ft³", "kg/m³", 1.601846e+01, printed},
	{"lb/in³", "kg/m³", 2.767990e+04, printed},
	{"W/in²", "W/m²", 1.550003e+03, printed},
	{"ft/s", "m/s", 3.048e-01, exact},
	{"°F·1", "K", 1 / 1.8, 2e-16}, // as a difference
	{"V/°F", "V/K", 1.8, 2e-16},
	// 3.28084 ft to the metre, the usual figure for resistances by length
	{"ohm/ft", "ohm/km", 3280.84, 1e-6},
	// a month is a twelfth of a year of 365 days: a convention of this package
	{"year", "month", 12, exact},
	{"week", "day", 7, exact},
	{"h/day", "1", 1.0 / 24, exact},
	{"h/day", "%", 100.0 / 24, 3e-16},
	{"Wh/day", "W", 1.0 / 24, exact},
	{"kWh/month", "W", 1000.0 / 730, exact},
	{"%/month", "1/year", 0.12, 2e-16},
	{"A/mm²", "A/m²", 1e6, exact},
	{"mm²", "m²", 1e-6, exact},
	{"mm³", "L", 1e-6, exact},
	{"USD/kWh", "USD/Wh", 1e-3, exact},
	{"kVA", "MW", 1e-3, exact},
	{"µΩ", "mohm", 1e-3, exact},
}

func TestFactors(t *testing.T) {
	for _, c := range factorTests {
		from, err := Parse(c.from)
		if err != nil {
			t.Fatal(c.from, err)
		}
		to, err := Parse(c.to)
		if err != nil {
			t.Fatal(c.to, err)
		}
		if from.Dim != to.Dim {
			t.Errorf("%s and %s: %v is not %v", c.from, c.to, from.Dim, to.Dim)
		}
		if got := to.FromBase(from.ToBase(1)); !closeTo(got, c.factor, c.tolerance) {
			t.Errorf("1 %s = %v %s, published %v", c.from, got, c.to, c.factor)
		}
	}
}

// Source: NIST SP 811, B.8 (temperature): t/°C = (t/°F - 32)/1.8 and
// t/°C = T/K - 273.15; the points are those at which water freezes and boils,
// absolute zero, and the one at which both scales meet.
func TestTemperatureScales(t *testing.T) {
	c, f, k := unitTable["°C"], unitTable["°F"], unitTable["K"]
	kelvin, ok := k.As(Temperature)
	if !ok {
		t.Fatal("K does not serve as a temperature")
	}
	for _, p := range []struct{ c, f, k float64 }{
		{0, 32, 273.15}, {100, 212, 373.15}, {-273.15, -459.67, 0}, {-40, -40, 233.15}, {25, 77, 298.15},
	} {
		for _, u := range []struct {
			unit Unit
			v    float64
		}{{c, p.c}, {f, p.f}, {kelvin, p.k}} {
			if got := u.unit.ToBase(u.v); math.Abs(got-p.c) > 1e-12 {
				t.Errorf("%v %s = %v °C, want %v", u.v, u.unit.Name, got, p.c)
			}
			if got := u.unit.FromBase(p.c); math.Abs(got-u.v) > 1e-12 {
				t.Errorf("%v °C = %v %s, want %v", p.c, got, u.unit.Name, u.v)
			}
		}
	}
}

func TestAs(t *testing.T) {
	if u, ok := unitTable["K"].As(Difference); !ok || u.Zero != 0 || u.Dim != Difference {
		t.Errorf("K as a difference is %+v, %v", u, ok)
	}
	if _, ok := unitTable["°C"].As(Difference); ok {
		t.Error("a temperature passes for a difference")
	}
	if _, ok := unitTable["V"].As(Temperature); ok {
		t.Error("V passes for a temperature")
	}
	if u, ok := unitTable["kWh"].As(dim(t, "W·h")); !ok || u != unitTable["kWh"] {
		t.Errorf("kWh as an energy is %+v, %v", u, ok)
	}
	if b := Base(dim(t, "kWh")); b.Name != "Wh" || b.ToBase(7) != 7 {
		t.Errorf("the base of energy is %+v", b)
	}
}

// Every unit gives back what it was given but for rounding; whole and simple
// figures come through to the bit.
func TestRoundTrip(t *testing.T) {
	names := append(slices.Clone(plainNames), "USD/kWh", "Wh/day", "ohm/km", "%/month", "A/mm²", "lb/ft²")
	for _, name := range names {
		u, err := Parse(name)
		if err != nil {
			t.Fatal(err)
		}
		for _, v := range []float64{0, 1, -1, 7, 80, 12.8, 0.31, 1e-9, 314, 123456.789} {
			got := u.FromBase(u.ToBase(v))
			if math.Abs(got-v) > 4e-16*math.Abs(v)+1e-15*u.Zero {
				t.Errorf("%v %s comes back as %v", v, name, got)
			}
		}
	}
	for _, c := range []struct {
		v    float64
		unit string
		base float64
	}{{80, "%", 0.8}, {38, "%", 0.38}, {30, "min", 0.5}, {1.5, "kWh", 1500}, {3, "year", 26280}} {
		if got := unitTable[c.unit].ToBase(c.v); got != c.base {
			t.Errorf("%v %s = %v, want %v", c.v, c.unit, got, c.base)
		}
	}
}

// Factors are kept as whole numbers in lowest terms where they fit.
func TestExactFactors(t *testing.T) {
	for name, want := range map[string][2]float64{
		"USD/kWh": {1, 1000}, "Wh/day": {1, 24}, "h/day": {1, 24}, "mV/mA": {1, 1}, "km/h": {1000, 1}, "in/ft": {1, 12},
	} {
		u, err := Parse(name)
		if err != nil || u.Mul != want[0] || u.Div != want[1] {
			t.Errorf("%s is %v/%v, %v, want %v", name, u.Mul, u.Div, err, want)
		}
	}
}

// Source: ISO 4217 list one; withdrawn codes are those of list three.
func TestCurrencies(t *testing.T) {
	codes := Currencies()
	if !slices.IsSorted(codes) || len(slices.Compact(slices.Clone(codes))) != len(codes) {
		t.Error("the codes are not in order, or one stands twice")
	}
	for _, c := range codes {
		if len(c) != 3 || !IsCurrency(c) {
			t.Errorf("%q is no code", c)
		}
		if u, err := Parse(c + "/kWh"); err != nil || u.Currency != c || u.Dim.Symbol() != "money/Wh" {
			t.Errorf("%s/kWh reads %+v, %v", c, u, err)
		}
		if _, clash := unitTable[c]; clash {
			t.Errorf("%s is a unit as well", c)
		}
	}
	for _, c := range []string{"DEM", "HRK", "ANG", "BGN", "SLL", "ZWL", "XXX", "XTS", "XAU", "usd", ""} {
		if IsCurrency(c) {
			t.Errorf("%q is taken for an active currency", c)
		}
	}
}
