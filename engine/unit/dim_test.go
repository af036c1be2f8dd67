package unit

import (
	"math/rand/v2"
	"testing"
)

// dim is the dimension of a unit that the test knows to be right.
func dim(t testing.TB, s string) Dim {
	t.Helper()
	u, err := Parse(s)
	if err != nil {
		t.Fatal(err)
	}
	return u.Dim
}

// The relations of the SI between electrical quantities (SI Brochure, 9th
// edition, table 4), in the base units of this package.
func TestProducts(t *testing.T) {
	for _, c := range []struct{ a, b, product string }{
		{"V", "A", "W"}, {"A", "h", "Ah"}, {"W", "h", "Wh"}, {"V", "Ah", "Wh"}, {"A", "ohm", "V"},
		{"m", "m", "m²"}, {"m²", "m", "m³"}, {"money/Wh", "Wh", "money"}, {"Wh/day", "h", "Wh"},
		{"h/day", "W", "W"}, {"%", "V", "V"}, {"cycles", "1", "%"}, {"ohm/m", "m", "ohm"},
		{"V/°C", "K", "V"}, {"1/year", "h", "1"}, {"VA", "1", "W"}, {"A·h", "1", "Ah"},
	} {
		a, b, want := dim(t, c.a), dim(t, c.b), dim(t, c.product)
		if got, ok := Mul(a, b); !ok || got != want {
			t.Errorf("%s · %s is %v, want %s", c.a, c.b, got, c.product)
		}
		if got, ok := Div(want, a); !ok || got != b {
			t.Errorf("%s / %s is %v, want %s", c.product, c.a, got, c.b)
		}
	}
}

func TestTemperatures(t *testing.T) {
	point, diff, volt := Temperature, Difference, dim(t, "V")
	type result struct {
		d  Dim
		ok bool
	}
	no := result{Any, false}
	for _, c := range []struct {
		a, b                     Dim
		add, sub, fit, mul, quot result
	}{
		{point, point, no, result{diff, true}, result{point, true}, no, no},
		{point, diff, result{point, true}, result{point, true}, no, no, no},
		{diff, point, result{point, true}, no, no, no, no},
		{point, volt, no, no, no, no, no},
		{volt, point, no, no, no, no, no},
		{point, None, no, no, no, no, no},
		{None, point, no, no, no, no, no},
		{point, Any, result{point, true}, result{Any, true}, result{point, true}, result{Any, true}, result{Any, true}},
		{Any, point, result{point, true}, result{diff, true}, result{point, true}, result{Any, true}, result{Any, true}},
		{volt, Any, result{volt, true}, result{volt, true}, result{volt, true}, result{Any, true}, result{Any, true}},
		{Any, Any, result{Any, true}, result{Any, true}, result{Any, true}, result{Any, true}, result{Any, true}},
		{volt, None, no, no, no, result{volt, true}, result{volt, true}},
	} {
		for _, f := range []struct {
			name string
			f    func(a, b Dim) (Dim, bool)
			want result
		}{{"Add", Add, c.add}, {"Sub", Sub, c.sub}, {"Fit", Fit, c.fit}, {"Mul", Mul, c.mul}, {"Div", Div, c.quot}} {
			if d, ok := f.f(c.a, c.b); (result{d, ok}) != f.want {
				t.Errorf("%s(%v, %v) = %v, %v, want %v, %v", f.name, c.a, c.b, d, ok, f.want.d, f.want.ok)
			}
		}
	}
	if _, ok := Pow(point, 2); ok {
		t.Error("a temperature has a square")
	}
	if _, ok := Root(point, 1); ok {
		t.Error("a temperature has a root")
	}
}

func TestPowersAndRoots(t *testing.T) {
	m := dim(t, "m")
	square, ok := Pow(m, 2)
	if !ok || square != dim(t, "m²") {
		t.Errorf("m to the power 2 is %v", square)
	}
	if root, ok := Root(square, 2); !ok || root != m {
		t.Errorf("the square root of m² is %v", root)
	}
	if inverse, ok := Pow(dim(t, "V/m²"), -1); !ok || inverse != dim(t, "m²/V") {
		t.Errorf("V/m² to the power -1 is %v", inverse)
	}
	if d, ok := Pow(m, 0); !ok || d != None {
		t.Errorf("m to the power 0 is %v", d)
	}
	for _, n := range []int{0, 2, 3} {
		if d, ok := Root(m, n); ok {
			t.Errorf("root %d of m is %v", n, d)
		}
	}
	for _, n := range []int{128, -129, 1 << 40} {
		if _, ok := Pow(m, n); ok {
			t.Errorf("m to the power %d is not refused", n)
		}
		if d, ok := Pow(None, n); !ok || d != None {
			t.Errorf("a number to the power %d is %v", n, d)
		}
	}
	high, _ := Pow(m, 127)
	if _, ok := Mul(high, m); ok {
		t.Error("an exponent of 128 is not refused")
	}
	low, _ := Pow(m, -128)
	if _, ok := Root(low, -1); ok {
		t.Error("an exponent of 128 is not refused in a root")
	}
}

// What a product does, a quotient undoes, for any dimensions.
func TestAlgebra(t *testing.T) {
	random := rand.New(rand.NewPCG(1, 2))
	for range 2000 {
		a, b := randomDim(random), randomDim(random)
		product, ok := Mul(a, b)
		if !ok {
			t.Fatalf("%v · %v is refused", a, b)
		}
		if other, _ := Mul(b, a); other != product {
			t.Fatalf("%v · %v depends on the order", a, b)
		}
		if back, ok := Div(product, b); !ok || back != a {
			t.Fatalf("%v · %v / %v = %v", a, b, b, back)
		}
		cube, _ := Pow(a, 3)
		if back, ok := Root(cube, 3); !ok || back != a {
			t.Fatalf("the cube root of %v is %v, want %v", cube, back, a)
		}
	}
}

func randomDim(random *rand.Rand) Dim {
	var d Dim
	for i := range d.exp {
		if random.IntN(2) == 0 {
			d.exp[i] = int8(random.IntN(7) - 3)
		}
	}
	return d
}

// A symbol reads back as the dimension it came from, with the factor 1.
func TestSymbol(t *testing.T) {
	random := rand.New(rand.NewPCG(3, 4))
	for range 2000 {
		d := randomDim(random)
		if d == None {
			continue
		}
		u, err := Parse(d.Symbol())
		if err != nil || u.Dim != d || u.Mul != 1 || u.Div != 1 {
			t.Fatalf("%v is written %q, which reads %+v, %v", d.exp, d.Symbol(), u, err)
		}
	}
}

func TestDescribe(t *testing.T) {
	for _, c := range []struct {
		d    Dim
		want string
	}{
		{None, "a number without unit"},
		{Any, "any quantity"},
		{Money, "money"},
		{Temperature, "a temperature (°C)"},
		{Difference, "a temperature difference (K)"},
		{dim(t, "mAh"), "a charge (Ah)"},
		{dim(t, "kWh"), "an energy (Wh)"},
		{dim(t, "VA"), "a power (W)"},
		{dim(t, "Wh/day"), "a power (W)"},
		{dim(t, "mV"), "a voltage (V)"},
		{dim(t, "USD/kWh"), "a price of energy (money/Wh)"},
		{dim(t, "1/year"), "a rate (1/h)"},
		{dim(t, "kg·m^4/V"), "a quantity in kg·m^4/V"},
		{dim(t, "1/W/m"), "a quantity in 1/W/m"},
	} {
		if got := c.d.Describe(); got != c.want {
			t.Errorf("got %q, want %q", got, c.want)
		}
	}
	for symbol := range phrases {
		if got := dim(t, symbol).Symbol(); got != symbol {
			t.Errorf("the phrase for %s is never found, because its symbol is %s", symbol, got)
		}
	}
}
