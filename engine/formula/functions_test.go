package formula

import (
	"math"
	"testing"

	"bankwright/engine/arith"
)

// apply runs a registry function on columns and numbers.
func apply(t *testing.T, name string, cols [][]float64, x ...float64) float64 {
	t.Helper()
	f := Lookup(name)
	if f == nil {
		t.Fatalf("no function %s", name)
	}
	return f.Apply(cols, x)
}

func near(t *testing.T, what string, got, want, tolerance float64) {
	t.Helper()
	if math.Abs(got-want) > tolerance || got != got {
		t.Errorf("%s = %v, published %v (± %v)", what, got, want, tolerance)
	}
}

// TestDiscountFactors compares with NIST Handbook 135 (1995): single and
// uniform present value factors at 3 %, printed to three and two decimals
// (values from memory).
func TestDiscountFactors(t *testing.T) {
	years := []float64{10, 15, 20, 25, 30}
	spv := []float64{0.744, 0.642, 0.554, 0.478, 0.412}
	upv := []float64{8.53, 11.94, 14.88, 17.41, 19.60}
	for i, n := range years {
		near(t, "discount(3 %)", apply(t, "discount", nil, 0.03, n), spv[i], 0.0005)
		near(t, "annuity(3 %)", apply(t, "annuity", nil, 0.03, n), upv[i], 0.005)
	}
}

// TestInterestTable compares with the standard discrete compound-interest
// factor table at 0.25 % a period (engineering-economy textbook appendix,
// table A-1): P/F and P/A, four decimals.
func TestInterestTable(t *testing.T) {
	n := []float64{1, 5, 10, 12, 20, 24, 25}
	pf := []float64{0.9975, 0.9876, 0.9753, 0.9705, 0.9513, 0.9418, 0.9395}
	pa := []float64{0.9975, 4.9627, 9.8639, 11.8073, 19.4845, 23.2660, 24.2055}
	for i := range n {
		near(t, "discount(0.25 %)", apply(t, "discount", nil, 0.0025, n[i]), pf[i], 0.00006)
		near(t, "annuity(0.25 %)", apply(t, "annuity", nil, 0.0025, n[i]), pa[i], 0.00006)
	}
}

// TestPresentWorth compares with R. Panneerselvam, Engineering Economics (PHI
// 2010), examples 4.1, 4.2, 4.3 and 6.2, recomputed exactly from the printed
// inputs, and with the test values of the numpy-financial library (npv, pmt).
func TestPresentWorth(t *testing.T) {
	annuity := func(r, n float64) float64 { return apply(t, "annuity", nil, r, n) }
	discount := func(r, n float64) float64 { return apply(t, "discount", nil, r, n) }
	npv := func(rate float64, flow ...float64) (sum float64) {
		for i, c := range flow {
			sum += c * discount(rate, float64(i))
		}
		return sum
	}
	for i, want := range []float64{476988.834, 515483.251, 296236.043} {
		first, revenue := []float64{1200000, 2000000, 1800000}[i], []float64{400000, 600000, 500000}[i]
		near(t, "example 4.1", revenue*annuity(0.20, 10)-first, want, 0.01)
	}
	near(t, "example 4.2 a", 450000+27000*annuity(0.15, 15), 607878.993, 0.01)
	near(t, "example 4.2 b", 540000+28500*annuity(0.15, 15), 706650.048, 0.01)
	near(t, "example 4.3 a", npv(0.18, -10000, 3000, 3000, 7000, 6000), 2052.076, 0.01)
	near(t, "example 4.3 b", npv(0.18, -10000, 6000, 6000, 3000, 3000), 2767.112, 0.01)
	for i, want := range []float64{306941.06, 385552.848, 278329.272} {
		first, cost := []float64{500000, 400000, 600000}[i], []float64{200000, 300000, 150000}[i]
		near(t, "example 6.2", cost+first/annuity(0.20, 15), want, 0.01)
	}
	near(t, "npv", npv(0.05, -15000, 1500, 2500, 3500, 4500, 6000), 122.89, 0.005)
	near(t, "pmt", 15000/annuity(0.08/12, 60), 304.145914, 1e-6)
	near(t, "annuity at rate 0", annuity(0, 7), 7, 0)
	near(t, "annuity near rate 0", annuity(1e-12, 10), 10, 1e-9)
}

func TestThresholds(t *testing.T) {
	third := 1.0 / 3
	for _, c := range []struct {
		name string
		x    float64
		want float64
	}{
		{"ceil", 3 * (third + third + third), 3},
		{"ceil", 12 / (4 * 0.1 * 10) * (1 + 1e-15), 3},
		{"ceil", 3.0000001, 4},
		{"ceil", -2.5, -2},
		{"floor", 2.9999999999999996, 3},
		{"floor", 2.9999, 2},
		{"floor", -0.5, -1},
		{"round", 2.5, 3},
		{"round", -2.5, -3},
	} {
		if got := apply(t, c.name, nil, c.x); got != c.want {
			t.Errorf("%s(%v) = %v, want %v", c.name, c.x, got, c.want)
		}
	}
	sizes := [][]float64{{10, 15, 20}}
	for _, c := range []struct{ x, want float64 }{{15, 15}, {15 * (1 + 1e-15), 15}, {15.001, 20}, {1, 10}, {20, 20}} {
		if got := apply(t, "at_least", sizes, c.x); got != c.want {
			t.Errorf("at_least(%v) = %v, want %v", c.x, got, c.want)
		}
	}
	falling := [][]float64{{30, 20, 10}}
	for _, c := range []struct{ x, want float64 }{{30, 30}, {29, 20}, {20 * (1 - 1e-14), 20}, {10, 10}} {
		if got := apply(t, "at_most", falling, c.x); got != c.want {
			t.Errorf("at_most(%v) = %v, want %v", c.x, got, c.want)
		}
	}
	if got := apply(t, "at_most", falling, 9.9); got == got {
		t.Errorf("at_most below the table = %v, want no value", got)
	}
	if got := apply(t, "at_least", sizes, 20.1); got == got {
		t.Errorf("at_least above the table = %v, want no value", got)
	}
	if !arith.AtMost(0.1+0.2, 0.3) || arith.Below(0.3, 0.1+0.2) || arith.AtMost(0.3000001, 0.3) || arith.Near(math.NaN(), math.NaN()) {
		t.Error("comparisons do not snap as documented")
	}
}

// TestInterpolation: on y = 1/x², a straight line on log-log paper, the log-log
// form is exact everywhere and the linear one only at the points.
func TestInterpolation(t *testing.T) {
	xs := []float64{1, 2, 5, 10}
	ys := make([]float64, len(xs))
	for i, x := range xs {
		ys[i] = 1 / (x * x)
	}
	cols := [][]float64{xs, ys}
	for x := 1.0; x <= 10; x += 0.25 {
		near(t, "interpolate_log", apply(t, "interpolate_log", cols, x), 1/(x*x), 1e-15)
	}
	for i, x := range xs {
		if got := apply(t, "interpolate", cols, x); got != ys[i] {
			t.Errorf("interpolate(%v) = %v, want %v", x, got, ys[i])
		}
	}
	near(t, "interpolate", apply(t, "interpolate", cols, 1.5), (1+0.25)/2, 1e-15)
	for _, name := range []string{"interpolate", "interpolate_log"} {
		if low, high := apply(t, name, cols, 0.01), apply(t, name, cols, 99); low != ys[0] || high != ys[3] {
			t.Errorf("%s is not held at the ends: %v, %v", name, low, high)
		}
		if got := apply(t, name, [][]float64{{3}, {7}}, 5); got != 7 {
			t.Errorf("%s with one point = %v, want 7", name, got)
		}
		if got := apply(t, name, cols, math.NaN()); got == got {
			t.Errorf("%s of no value = %v", name, got)
		}
	}
	if got := apply(t, "interpolate_log", [][]float64{{0, 1}, {1, 2}}, 0.5); got == got {
		t.Errorf("log-log from 0 = %v, want no value", got)
	}
	if got := apply(t, "lookup", cols, 5); got != ys[2] {
		t.Errorf("lookup = %v", got)
	}
	if got := apply(t, "lookup", cols, 6); got == got {
		t.Errorf("lookup of a missing key = %v", got)
	}
}

// TestRegistry walks the registry: every entry is whole, every placeholder of
// its spreadsheet form names a parameter or an earlier step, and no value in
// gives no value out.
func TestRegistry(t *testing.T) {
	for _, f := range Functions {
		if f.Doc == "" || f.Dim == nil || (f.Eval == nil && f.One.At == nil && f.Ready == nil) != (f.Measure != nil) || (f.Result == "") != (f.History() || f.Measure != nil) {
			t.Errorf("%s is not whole", f.Name)
		}
		if f.Columns() > 4 || len(f.Params)-f.Columns() > 8 { // the evaluator has room for so many
			t.Errorf("%s takes too much", f.Name)
		}
		if f.Measure != nil {
			continue // see TestRecorded
		}
		known := map[string]bool{"...": f.Rest}
		for _, p := range f.Params {
			known[trimBrackets(p)] = true
		}
		for _, s := range append(append([]SheetStep{}, f.Steps...), SheetStep{"", f.Result}) {
			for _, name := range placeholders(s.Text) {
				if !known[name] {
					t.Errorf("%s: {%s} names nothing in %q", f.Name, name, s.Text)
				}
			}
			known["#"+s.Label] = true
		}
		x := make([]float64, len(f.Params)-f.Columns())
		for i := range x {
			for j := range x {
				x[j] = 2
			}
			x[i] = math.NaN()
			cols := make([][]float64, f.Columns())
			for j := range cols {
				cols[j] = []float64{1, 2, 3}
			}
			if got := f.Apply(cols, x); got == got {
				t.Errorf("%s of no value is %v", f.Name, got)
			}
		}
	}
}

func trimBrackets(s string) string {
	if s[0] == '[' {
		return s[1 : len(s)-1]
	}
	return s
}

func placeholders(s string) []string {
	var out []string
	for i := 0; i < len(s); i++ {
		if s[i] == '{' {
			j := i
			for s[j] != '}' {
				j++
			}
			out = append(out, s[i+1:j])
		}
	}
	return out
}

// TestFloorOfLarge: whole numbers stay what they are, and what lies between them goes
// down or up to them, however large they are.
func TestFloorOfLarge(t *testing.T) {
	for x := 1.0; x < 1e17; x *= 7 {
		if arith.Floor(x) != x || arith.Ceil(x) != x || arith.Floor(-x) != -x || arith.Ceil(-x) != -x {
			t.Errorf("%v: floor %v, ceiling %v", x, arith.Floor(x), arith.Ceil(x))
		}
		if half := x + 0.5; half > x && half < x+1 && (arith.Floor(half) != x || arith.Ceil(half) != x+1) {
			t.Errorf("%v: floor %v, ceiling %v", half, arith.Floor(half), arith.Ceil(half))
		}
	}
}

// TestColumns: of functions that take many numbers at a time, each number gives, to the
// last bit, what it gives alone; between points, at them and outside.
func TestColumns(t *testing.T) {
	xs, ys := []float64{0.2, 0.5, 0.8, 1}, []float64{12000, 7000, 4000, 2500}
	x := []float64{0.1, 0.2, 0.3, 0.5, 0.7, 0.8, 0.95, 1, 1.5, math.NaN(), 0.21, 0.49, 0.51, 0.79, 0.81, 0.99}
	for _, f := range Functions {
		one := f.One
		if f.Ready != nil {
			one = f.Ready(xs, ys)
		}
		if one.Column == nil {
			continue
		}
		got := make([]float64, len(x))
		one.Column(got, x)
		for i, v := range x {
			if want := one.At(v); math.Float64bits(got[i]) != math.Float64bits(want) && !(got[i] != got[i] && want != want) {
				t.Errorf("%s(%v) = %v among others, %v alone", f.Name, v, got[i], want)
			}
		}
	}
}

// TestRows: rows are counted from 1, and what a size falls into is found as at_least finds it.
func TestRows(t *testing.T) {
	sizes := [][]float64{{10, 15, 20}}
	absent := math.NaN()
	for _, c := range []struct {
		function string
		x        []float64
		want     float64
	}{
		{"row_at_least", []float64{9}, 1},
		{"row_at_least", []float64{10 * (1 + 1e-15)}, 1},
		{"row_at_least", []float64{10.1}, 2},
		{"row_at_least", []float64{20}, 3},
		{"row_at_least", []float64{20.1}, 4},
		{"row_at_least", []float64{absent}, absent},
		{"entry", []float64{1}, 10},
		{"entry", []float64{3}, 20},
		{"entry", []float64{2.9}, 15},
		{"entry", []float64{3 * (1 - 1e-15)}, 20},
		{"entry", []float64{0.9}, absent},
		{"entry", []float64{4}, absent},
		{"entry", []float64{absent}, absent},
		{"last_entry", nil, 20},
	} {
		if got := apply(t, c.function, sizes, c.x...); got != c.want && (got == got || c.want == c.want) {
			t.Errorf("%s(%v) = %v, want %v", c.function, c.x, got, c.want)
		}
	}
	if got := apply(t, "last_entry", [][]float64{{}}); got == got {
		t.Errorf("the last entry of none is %v", got)
	}
}
