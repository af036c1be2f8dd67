package unit

import (
	"math"
	"slices"
	"testing"
)

// TestKnownFactors: factors are those that people know, and give what the unit converts by.
func TestKnownFactors(t *testing.T) {
	for name, want := range map[string][2][]float64{
		"kWh/year": {{1000}, {8760}}, "%/month": {{12}, {100, 8760}}, "kWh/m²/day": {{1000}, {24}},
		"mΩ/ft": {nil, {1000, 0.3048}}, "mm²": {nil, {1e6}}, "ft²": {{0.09290304}, nil}, "USD/kWh": {nil, {1000}},
		"deg": {{math.Pi}, {180}}, "°F": {{5}, {9}}, "W": {nil, nil}, "week": {{24, 7}, nil}, "lb": {{0.45359237}, nil}, "1": {nil, nil},
	} {
		u, err := Parse(name)
		if err != nil {
			t.Fatal(err)
		}
		mul, div := u.Factors()
		if !slices.Equal(mul, want[0]) || !slices.Equal(div, want[1]) {
			t.Errorf("%s: %v / %v, want %v", name, mul, div, want)
		}
	}
	given := 0
	for _, a := range plainNames {
		for _, b := range plainNames {
			u, err := Parse(a + "/" + b)
			if err != nil {
				continue
			}
			x := 1.0
			mul, div := u.Factors()
			for _, m := range mul {
				x *= m
			}
			for _, d := range div {
				x /= d
			}
			if given++; math.Abs(x*u.Div/u.Mul-1) > 1e-14 {
				t.Errorf("%s: %v / %v give %v, not %v", u.Name, mul, div, x, u.Mul/u.Div)
			}
		}
	}
	if given < 500 {
		t.Errorf("only %d units", given)
	}
	other := Unit{Name: "kWh/year", Mul: 3, Div: 7} // by a name of another one
	if mul, div := other.Factors(); !slices.Equal(mul, []float64{3}) || !slices.Equal(div, []float64{7}) {
		t.Errorf("%v / %v", mul, div)
	}
}
