package formula

import (
	"math"
	"testing"
)

// TestStudentTable compares with the critical values of Student's t
// distribution, NIST/SEMATECH e-Handbook of Statistical Methods, 1.3.6.7.2,
// printed to three decimals (from memory).
func TestStudentTable(t *testing.T) {
	freedom := []float64{1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 12, 15, 16, 19, 20, 25, 30, 40, 60, 100}
	for share, row := range map[float64][]float64{
		0.90:  {3.078, 1.886, 1.638, 1.533, 1.476, 1.440, 1.415, 1.397, 1.383, 1.372, 1.356, 1.341, 1.337, 1.328, 1.325, 1.316, 1.310, 1.303, 1.296, 1.290},
		0.95:  {6.314, 2.920, 2.353, 2.132, 2.015, 1.943, 1.895, 1.860, 1.833, 1.812, 1.782, 1.753, 1.746, 1.729, 1.725, 1.708, 1.697, 1.684, 1.671, 1.660},
		0.975: {12.706, 4.303, 3.182, 2.776, 2.571, 2.447, 2.365, 2.306, 2.262, 2.228, 2.179, 2.131, 2.120, 2.093, 2.086, 2.060, 2.042, 2.021, 2.000, 1.984},
		0.99:  {31.821, 6.965, 4.541, 3.747, 3.365, 3.143, 2.998, 2.896, 2.821, 2.764, 2.681, 2.602, 2.583, 2.539, 2.528, 2.485, 2.457, 2.423, 2.390, 2.364},
		0.995: {63.657, 9.925, 5.841, 4.604, 4.032, 3.707, 3.499, 3.355, 3.250, 3.169, 3.055, 2.947, 2.921, 2.861, 2.845, 2.787, 2.750, 2.704, 2.660, 2.626},
	} {
		for i, df := range freedom {
			near(t, "t_quantile", apply(t, "t_quantile", nil, share, df), row[i], 0.00051)
			near(t, "t_quantile below", apply(t, "t_quantile", nil, 1-share, df), -row[i], 0.00051)
			near(t, "t_probability", apply(t, "t_probability", nil, row[i], df), share, 0.0002)
		}
	}
}

// TestStudentClosed compares with the forms that Student's distribution has for
// 1, 2 and 4 degrees of freedom (W. T. Shaw, Journal of Computational Finance
// 9, 2006), and goes there and back for others, whole and not.
func TestStudentClosed(t *testing.T) {
	relative := func(what string, got, want, tolerance float64) {
		t.Helper()
		near(t, what, got, want, tolerance*math.Abs(want))
	}
	for _, share := range []float64{1e-6, 0.001, 0.025, 0.2, 0.4, 0.499, 0.499999, 0.500001, 0.51, 0.6, 0.75, 0.8, 0.95, 0.975, 0.9995} {
		a := 4 * share * (1 - share)
		closed := map[float64]float64{
			1: math.Tan(math.Pi * (share - 0.5)),
			2: (2*share - 1) * math.Sqrt(2/a),
			4: math.Copysign(2*math.Sqrt(math.Cos(math.Acos(math.Sqrt(a))/3)/math.Sqrt(a)-1), share-0.5),
		}
		if math.Abs(share-0.5) < 0.05 {
			delete(closed, 4) // its form has lost them there
		}
		for df, want := range closed {
			relative("t_quantile, closed", apply(t, "t_quantile", nil, share, df), want, 1e-10)
		}
		for _, df := range []float64{0.5, 1.37, 2.5, 3, 8.44, 16, 29.7, 194, 1e5} {
			q := apply(t, "t_quantile", nil, share, df)
			relative("there and back", apply(t, "t_probability", nil, q, df), share, 1e-10)
		}
	}
	for _, df := range []float64{0.3, 1, 7.7, 1e4} {
		if q, p := apply(t, "t_quantile", nil, 0.5, df), apply(t, "t_probability", nil, 0, df); q != 0 || p != 0.5 {
			t.Errorf("in the middle, at %v degrees of freedom: %v, %v", df, q, p)
		}
	}
}

// TestStatisticsOutside: what is no share, or no number of degrees of freedom,
// has no result.
func TestStatisticsOutside(t *testing.T) {
	for _, c := range []struct {
		name string
		x    []float64
	}{
		{"t_quantile", []float64{0, 5}}, {"t_quantile", []float64{1, 5}}, {"t_quantile", []float64{97.5, 5}}, {"t_quantile", []float64{-0.1, 5}},
		{"t_quantile", []float64{0.9, 0}}, {"t_quantile", []float64{0.9, -1}}, {"t_quantile", []float64{math.NaN(), 1}}, {"t_quantile", []float64{0.5, 0}},
		{"t_probability", []float64{1, 0}}, {"t_probability", []float64{1, -2}}, {"t_probability", []float64{1, math.NaN()}},
		{"normal_quantile", []float64{0}}, {"normal_quantile", []float64{1}}, {"normal_quantile", []float64{95}},
	} {
		if got := apply(t, c.name, nil, c.x...); got == got {
			t.Errorf("%s%v = %v, want no value", c.name, c.x, got)
		}
	}
}

// TestNormalQuantile compares with the percentage points of the normal
// distribution, Abramowitz and Stegun, Handbook of Mathematical Functions,
// table 26.5 and the constants of 26.2 (from memory).
func TestNormalQuantile(t *testing.T) {
	for _, c := range []struct{ share, want float64 }{
		{0.5, 0}, {0.9, 1.2815515655446004}, {0.95, 1.6448536269514722}, {0.975, 1.959963984540054}, {0.995, 2.5758293035489004}, {0.025, -1.959963984540054},
	} {
		near(t, "normal_quantile", apply(t, "normal_quantile", nil, c.share), c.want, 1e-13)
	}
	const z = 1.959963984540054
	// The first terms of the expansion in 1/freedom, same handbook, 26.7.5.
	near(t, "t_quantile at many degrees of freedom", apply(t, "t_quantile", nil, 0.975, 1e5), z+(z*z*z+z)/4e5, 1e-8)
}
