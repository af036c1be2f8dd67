package unit

import (
	"fmt"
	"math"
	"math/rand/v2"
	"strconv"
	"strings"
	"testing"

	"bankwright/engine/oracle"
)

func TestFormat(t *testing.T) {
	for _, c := range []struct {
		v        float64
		decimals int
		want     string
	}{
		{0, -1, "0"}, {math.Copysign(0, -1), -1, "0"}, {0, 2, "0.00"}, {math.Copysign(0, -1), 2, "0.00"},
		{1935, -1, "1,935"}, {1935.4, -1, "1,935"}, {-1935.4, -1, "-1,935"}, {100, -1, "100"}, {999.5, -1, "1,000"},
		{91.72, -1, "91.7"}, {12, -1, "12"}, {12.04, -1, "12.0"}, {99.96, -1, "100"}, {9.996, -1, "10.0"},
		{3.686, -1, "3.69"}, {2.5, -1, "2.50"}, {1, -1, "1"}, {0.9996, -1, "1.00"},
		{0.3211, -1, "0.321"}, {0.5, -1, "0.500"}, {0.0123, -1, "0.0123"}, {0.000123, -1, "0.000123"},
		{0.0000123, -1, "1.23e-5"}, {-5e-7, -1, "-5e-7"}, {1e-5, 2, "0.00"}, {-0.001, 2, "0.00"}, {-0.006, 2, "-0.01"},
		{0.1 + 0.2, 1, "0.3"}, {80 * (1 + 1e-15), -1, "80"}, {80.001, -1, "80.0"},
		{2764.8, 1, "2,764.8"}, {1234567.891, 2, "1,234,567.89"}, {999999.999, 0, "1,000,000"}, {123, 0, "123"},
		{1e14, -1, "100,000,000,000,000"}, {1.5e15, -1, "1.5e15"}, {1e15, 2, "1e15"}, {-1.234e300, -1, "-1.23e300"},
		{math.MaxFloat64, 0, "1.8e308"}, {math.SmallestNonzeroFloat64, -1, "4.94e-324"},
		{math.NaN(), -1, "no value"}, {math.Inf(-1), 2, "infinite"},
	} {
		if got := Format(c.v, c.decimals); got != c.want {
			t.Errorf("Format(%v, %d) = %q, want %q", c.v, c.decimals, got, c.want)
		}
	}
}

// Figures of one sentence are told apart and can be compared.
func TestDecimalsTogether(t *testing.T) {
	for _, c := range []struct {
		values   []float64
		declared int
		want     int
	}{
		{[]float64{0.838, 1.5}, 1, 2}, // 0.84 and 1.50
		{[]float64{0.838, 1}, 1, 1},   // 0.8 and 1
		{[]float64{0.96, 1}, 1, 2},    // not 1.0 and 1
		{[]float64{200.4, 200}, -1, 1},
		{[]float64{2765.3, 1843.2}, -1, 0},
		{[]float64{2765.3, 0.4}, -1, 1}, // 0.4 is not shown as 0
		{[]float64{3, 4}, -1, 0},
		{[]float64{math.NaN(), 0.5}, -1, 3},
		{nil, -1, 0},
	} {
		if got := DecimalsTogether(c.values, c.declared); got != c.want {
			t.Errorf("DecimalsTogether(%v, %d) = %d, want %d", c.values, c.declared, got, c.want)
		}
	}
}

func TestShow(t *testing.T) {
	for _, c := range []struct {
		base     float64
		unit     string
		decimals int
		currency string
		want     string
	}{
		{2764.8, "Wh", 1, "USD", "2,764.8 Wh"},
		{2764.8, "kWh", -1, "USD", "2.76 kWh"},
		{0.8, "%", -1, "", "80 %"},
		{0.38, "%", 1, "", "38.0 %"},
		{1935.2, "money", -1, "USD", "1,935 USD"},
		{0.000321, "money/kWh", -1, "USD", "0.321 USD/kWh"},
		{0.000321, "money/kWh", -1, "", "0.321 money/kWh"},
		{5, "EUR", -1, "USD", "5 EUR"},
		{12 * 8760, "year", -1, "", "12 years"},
		{8760, "year", -1, "", "1 year"},
		{8760, "year", 1, "", "1.0 years"},
		{1, "cycles", -1, "", "1 cycle"},
		{4000, "cycles", -1, "", "4,000 cycles"},
		{2.0 / 8760, "1/year", -1, "", "2 /year"},
		{7, "1", -1, "", "7"},
		{25, "°F", -1, "", "77 °F"},
		{-5, "°C", -1, "", "-5 °C"},
		{math.NaN(), "kWh", -1, "", "no value"},
	} {
		u, err := Parse(c.unit)
		if err != nil {
			t.Fatal(err)
		}
		if got := u.Show(c.base, c.decimals, c.currency); got != c.want {
			t.Errorf("%v in %s reads %q, want %q", c.base, c.unit, got, c.want)
		}
	}
}

func TestDecimalsFor(t *testing.T) {
	nan := math.NaN()
	for _, c := range []struct {
		values []float64
		want   int
	}{
		{nil, 0},
		{[]float64{nan, math.Inf(1)}, 0},
		{[]float64{0, 0}, 0},
		{[]float64{2.7648, 2.7648, 3.6864, 5.5296}, 2},
		{[]float64{30.16, 40.21, 20.11, nan}, 1},
		{[]float64{1935.3, 1844.9, 2846.1}, 0},
		{[]float64{0.3214, 0.3341, 0.4903}, 3},
		{[]float64{12, 8, 25}, 0},
		{[]float64{12, 8.5, 25}, 1},
		{[]float64{1935.2, 1935.4}, 1},
		{[]float64{1935.21, 1935.24}, 2},
		{[]float64{1935.2001, 1935.2002}, 0}, // not told apart by two more decimals
		{[]float64{1500.2, 0.3}, 1},
		{[]float64{0, 0.5}, 3},
		{[]float64{-91.72, 3.1}, 1},
		{[]float64{1e-12, 2e-12}, 9},
	} {
		if got := DecimalsFor(c.values); got != c.want {
			t.Errorf("DecimalsFor(%v) = %d, want %d", c.values, got, c.want)
		}
	}
}

// seeds are what both fuzz targets begin with: the tables of the tests, and more.
func seeds() (list []string) {
	for _, c := range parseTests {
		list = append(list, c.in)
	}
	for _, c := range parseErrorTests {
		list = append(list, c.in)
	}
	for _, c := range valueTests {
		list = append(list, c.in)
	}
	for _, c := range valueErrorTests {
		list = append(list, c.in)
	}
	return append(list, moreSeeds...)
}

var moreSeeds = []string{
	"80 lb", "0.31 USD/kWh", "80%", "-5 °C", "1,000 W", "3,5 kW", "1 000 W", "USD 5/kWh", "$5", "inf", "1/2 in", "5-10 V",
	"1e3 W", "1e999", "5 kWh/Day", "mm²", "m^-2", "kg/m·h", "USD per kWh", "deg C", "m**2", "(kg)", "V\x00", "\xff", "5 1/day", "°",
}

func checkFuzzError(t *testing.T, in string, err error) {
	e, ok := err.(*Error)
	if !ok {
		t.Fatalf("%q: %T", in, err)
	}
	n := len([]rune(in))
	if e.Text == "" || e.Mend == "" || e.Offset < 0 || e.Len < 0 || e.Offset+e.Len > n {
		t.Fatalf("%q (%d characters): %+v", in, n, e)
	}
}

func FuzzParse(f *testing.F) {
	for _, s := range seeds() {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, in string) {
		defer oracle.Within(t, oracle.Fuzzed)()
		u, err := Parse(in)
		if err != nil {
			checkFuzzError(t, in, err)
			return
		}
		if !(u.Mul > 0 && u.Div > 0) || math.IsInf(u.Mul, 0) || math.IsInf(u.Div, 0) {
			t.Fatalf("%q: %+v", in, u)
		}
		if u == One {
			return
		}
		if again, err := Parse(u.Name); err != nil || again != u {
			t.Fatalf("%q reads %+v, written and read again %+v, %v", in, u, again, err)
		}
	})
}

func FuzzParseValue(f *testing.F) {
	for _, s := range seeds() {
		f.Add(s, 2)
	}
	f.Fuzz(func(t *testing.T, in string, decimals int) {
		v, u, err := ParseValue(in)
		if err != nil {
			checkFuzzError(t, in, err)
			return
		}
		if base := u.ToBase(v); math.IsNaN(base) || math.IsInf(base, 0) {
			t.Fatalf("%q is %v in base units", in, base)
		}
		// Written, read and written again it is the same text; chosen by size,
		// the decimals of a number that became whole may go.
		text := Format(v, max(-1, min(decimals, 9)))
		again, _, err := ParseValue(strings.ReplaceAll(text, ",", ""))
		if err != nil {
			t.Fatalf("%q is written %q: %v", in, text, err)
		}
		if decimals >= 0 && Format(again, min(decimals, 9)) != text {
			t.Fatalf("%q is written %q, then %q", in, text, Format(again, min(decimals, 9)))
		}
		third, _, _ := ParseValue(strings.ReplaceAll(Format(again, -1), ",", ""))
		if decimals < 0 && third != again {
			t.Fatalf("%q is written %q, which is %v, then %v", in, text, again, third)
		}
	})
}

// TestRounded: a figure without a text is the one that is written.
func TestRounded(t *testing.T) {
	r := rand.New(rand.NewPCG(3, 4))
	for range 100_000 {
		v := (r.Float64() - 0.5) * math.Pow(10, float64(r.IntN(30)-15))
		switch decimals := r.IntN(4); r.IntN(3) {
		case 0:
			v = math.Round(v*math.Pow(10, float64(decimals))) / math.Pow(10, float64(decimals))
		case 1: // a half to be rounded
			v = (math.Round(v*math.Pow(10, float64(decimals))) + 0.5) / math.Pow(10, float64(decimals))
		}
		if math.Abs(v) >= hugest {
			continue
		}
		decimals := r.IntN(11)
		f := figureOf(v).rounded(decimals)
		text := strings.ReplaceAll(Format(v, decimals), ",", "")
		want, err := strconv.ParseFloat(text, 64)
		got, also := strconv.ParseFloat(fmt.Sprintf("%de%d", f.n, f.power), 64)
		if err != nil || also != nil || got != want {
			t.Fatalf("%v with %d decimals is %s, but figure %+v", v, decimals, text, f)
		}
	}
}

func TestCounted(t *testing.T) {
	for n, want := range map[int]string{0: "0 more stand", 1: "1 more stands", 2: "2 more stand", 1200: "1,200 more stand"} {
		if got := Counted(n, "more stands", "more stand"); got != want {
			t.Errorf("%d: %q, want %q", n, got, want)
		}
	}
}
