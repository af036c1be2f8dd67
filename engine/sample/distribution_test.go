package sample

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"bankwright/engine/oracle"
)

// must is a distribution without fault.
func must(t testing.TB, d Distribution, err error) Distribution {
	t.Helper()
	if err != nil {
		t.Fatal(err)
	}
	return d
}

func near(t *testing.T, what string, got, want, tolerance float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tolerance) && !(math.IsNaN(got) && math.IsNaN(want)) {
		t.Errorf("%s: %.17g, want %.17g", what, got, want)
	}
}

// distributions are one or more of each form; what SciPy calls them is beside.
func distributions(t testing.TB) map[string]Distribution {
	t.Helper()
	all := map[string]Distribution{}
	add := func(scipy string, d Distribution, err error) Distribution {
		all[scipy] = must(t, d, err)
		return d
	}
	uniform, err := Uniform(-2, 6)
	add("stats.uniform(-2, 8)", uniform, err)
	for _, m := range []float64{1, 2.5, 5} {
		d, err := Triangular(1, m, 5)
		add(fmt.Sprintf("stats.triang(%v, 1, 4)", (m-1)/4), d, err)
	}
	normal, err := Normal(10, 3)
	add("stats.norm(10, 3)", normal, err)
	logs, err := LogNormal(300, 0.25)
	add("stats.lognorm(0.25, 0, 300)", logs, err)
	for _, freedom := range []float64{1, 1.5, 2, 4, 9, 30, 250} {
		d, err := Student(5, 2, freedom)
		add(fmt.Sprintf("stats.t(%v, 5, 2)", freedom), d, err)
	}
	d, err := MeanOf(100, 3, 8)
	add("stats.t(7, 100, 3 / 8 ** 0.5)", d, err)
	d, err = Truncated(normal, 4, 11)
	add("stats.truncnorm(-2, 1/3, 10, 3)", d, err)
	d, err = Truncated(normal, 0, math.Inf(1))
	add("stats.truncnorm(-10/3, np.inf, 10, 3)", d, err)
	d, err = Truncated(uniform, 0, 10)
	add("stats.uniform(0, 6)", d, err)
	return all
}

// TestAgainstSciPy: values, shares and means. The quantile of t is held by its
// share, since older versions of SciPy have that right to all digits and the
// quantile to some 5e-9 only.
func TestAgainstSciPy(t *testing.T) {
	shares := []float64{1e-9, 1e-5, 0.001, 0.025, 0.1, 0.3, 0.5, 0.55, 0.8, 0.95, 0.999, 1 - 1e-7}
	type question struct {
		Name   string    `json:"name"`
		Values []float64 `json:"values"`
	}
	var ask []question
	all := distributions(t)
	for name, d := range all {
		q := question{Name: name}
		for _, u := range shares {
			q.Values = append(q.Values, d.Quantile(u))
		}
		ask = append(ask, q)
	}
	var answers []struct{ Quantile, Share []float64 }
	scipy(t, `
out = []
for q in x["ask"]:
    d = eval(q["name"])
    out.append({"Quantile": d.ppf(x["shares"]).tolist(), "Share": d.cdf(q["values"]).tolist()})
print(json.dumps(out))`, map[string]any{"shares": shares, "ask": ask}, &answers)
	for i, a := range answers {
		d := all[ask[i].Name]
		scale := d.Quantile(0.84) - d.Quantile(0.5)
		for k, u := range shares {
			what := fmt.Sprintf("%s at %v", ask[i].Name, u)
			v := ask[i].Values[k]
			near(t, what+": share of the quantile", a.Share[k], u, 3e-13*math.Max(u, 1e-3))
			near(t, what+": share", d.CDF(v), u, 3e-13*math.Max(u, 1e-3))
			if !strings.HasPrefix(ask[i].Name, "stats.t(") && u < 0.9999 {
				near(t, what+": quantile", v, a.Quantile[k], 1e-12*(math.Abs(v)+scale))
			}
		}
	}
}

// TestPublishedQuantiles: NIST/SEMATECH e-Handbook of Statistical Methods, tables
// 1.3.6.7.1 (normal) and 1.3.6.7.2 (t), as many digits as are printed.
func TestPublishedQuantiles(t *testing.T) {
	near(t, "normal 0.975", NormalQuantile(0.975), 1.959964, 5e-7) // Abramowitz and Stegun, table 26.5
	near(t, "normal below 1.96", NormalCDF(1.96)-0.5, 0.47500, 5e-6)
	near(t, "normal below 0.5", NormalCDF(0.5)-0.5, 0.19146, 5e-6)
	near(t, "normal below 3", NormalCDF(3)-0.5, 0.49865, 5e-6)
	for _, c := range []struct{ freedom, share, want float64 }{
		{1, 0.975, 12.706}, {2, 0.95, 2.920}, {4, 0.975, 2.776}, {4, 0.9, 1.533}, {4, 0.999, 7.173},
		{9, 0.975, 2.262}, {10, 0.95, 1.812}, {30, 0.99, 2.457}, {60, 0.995, 2.660}, {100, 0.975, 1.984},
	} {
		d, err := Student(0, 1, c.freedom)
		near(t, fmt.Sprint("t ", c), must(t, d, err).Quantile(c.share), c.want, 5e-4)
	}
}

// TestStudentDigits: quantiles that mpmath found with 30 digits from the
// incomplete beta function, and closed forms for 1, 2 and 4 degrees of freedom
// (Shaw, Journal of Computational Finance 9(4), 2006).
func TestStudentDigits(t *testing.T) {
	for _, c := range [][3]float64{
		{1, 0.4, 0.32491969623290625}, {1, 0.025, 12.706204736174704}, {1, 1e-9, 318309886.18379065},
		{1.5, 0.4, 0.30074539256979535}, {1.5, 0.025, 6.0166631044279317}, {1.5, 1e-9, 521946.94273343724},
		{3, 0.4, 0.27667066233268985}, {3, 0.1, 1.6377443536962101}, {3, 0.001, 10.214531852407386}, {3, 1e-9, 1033.1096745038077},
		{7, 0.4, 0.26316686135202275}, {7, 0.025, 2.3646242515927853}, {7, 1e-9, 38.705980643231614},
		{24, 0.4, 0.25617339831779159}, {24, 0.025, 2.0638985616280258}, {24, 1e-9, 9.2972848775486817},
		{99.5, 0.4, 0.25402558011844342}, {99.5, 0.025, 1.9840936109906242}, {99.5, 0.001, 3.1741694469120163},
		{1000, 0.4, 0.25341451583949871}, {1000, 0.025, 1.9623390808264085}, {1000, 1e-9, 6.0536902720798336},
	} {
		d, err := Student(0, 1, c[0])
		must(t, d, err)
		near(t, fmt.Sprint("lower ", c), d.Quantile(c[1]), -c[2], 1e-12*c[2])
	}
	closed := map[float64]func(u float64) float64{
		1: func(u float64) float64 { return -1 / math.Tan(math.Pi*u) },
		2: func(u float64) float64 { return (2*u - 1) / math.Sqrt(2*u*(1-u)) },
		4: func(u float64) float64 {
			a := 4 * u * (1 - u)
			return math.Copysign(2*math.Sqrt(math.Cos(math.Acos(math.Sqrt(a))/3)/math.Sqrt(a)-1), u-0.5)
		},
	}
	for freedom, quantile := range closed {
		d, err := Student(0, 1, freedom)
		must(t, d, err)
		for u := 1e-9; u < 0.4; u *= 1.07 {
			want := quantile(u)
			near(t, fmt.Sprintf("t of %v degrees at %v", freedom, u), d.Quantile(u), want, 2e-12*math.Abs(want))
		}
	}
	// The expansion of Cornish and Fisher, Abramowitz and Stegun 26.7.5.
	z, n := NormalQuantile(0.975), float64(MaxFreedom)
	want := z + (z*z*z+z)/(4*n) + (5*math.Pow(z, 5)+16*z*z*z+3*z)/(96*n*n)
	d, err := Student(0, 1, MaxFreedom)
	near(t, "t of very many degrees", must(t, d, err).Quantile(0.975), want, 1e-9*want)
}

// TestOrder: quantiles never fall, also where two branches or pieces meet, shares
// come back, and the ends are what they should be.
func TestOrder(t *testing.T) {
	oracle.OneCore(t)
	for name, d := range distributions(t) {
		was := math.Inf(-1)
		u := make([]float64, 200001)
		for i := range u {
			u[i] = (float64(i) + 0.5) / float64(len(u))
		}
		v := append([]float64{}, u...)
		Transform(d, v)
		for i, x := range v {
			if x < was {
				t.Errorf("%s falls at %v", name, u[i])
				break
			}
			was = x
			if i%1000 == 0 {
				near(t, fmt.Sprint(name, " share at ", u[i]), d.CDF(x), u[i], 1e-12)
			}
		}
		if a, b := d.Quantile(0), d.Quantile(1); a > v[0] || b < v[len(v)-1] || d.CDF(a) != 0 || d.CDF(b) != 1 {
			t.Errorf("%s ends at %v and %v, with shares %v and %v", name, a, b, d.CDF(a), d.CDF(b))
		}
		for _, u := range []float64{-0.1, 1.1, math.NaN()} {
			near(t, name+" outside", d.Quantile(u), math.NaN(), 0)
		}
		for _, u := range []float64{0x1p-53, 1e-30, 1 - 0x1p-53} {
			if x := d.Quantile(u); math.IsNaN(x) || math.IsInf(x, 0) {
				t.Errorf("%s at %v: %v", name, u, x)
			}
		}
	}
}

// TestMeans: the mean is the integral of the quantile, here by the midpoint rule
// over equal parts of the share in the middle and ever smaller ones at the ends.
func TestMeans(t *testing.T) {
	oracle.OneCore(t)
	for name, d := range distributions(t) {
		if strings.HasPrefix(name, "stats.t(1,") {
			near(t, name, d.Mean(), math.NaN(), 0)
			continue
		}
		sum := 0.0
		const parts = 4000
		for e := 1; e < 50; e++ { // shares from 2^-e-1 to 2^-e at both ends
			width := math.Ldexp(1, -e-1) / parts
			for i := range parts {
				u := math.Ldexp(1, -e-1) + (float64(i)+0.5)*width
				sum += width * (d.Quantile(u) + d.Quantile(1-u))
			}
		}
		tolerance := 1e-6
		if strings.HasPrefix(name, "stats.t(1.5,") {
			tolerance = 1e-3 // the ends cancel, but 1-u has few digits there
		}
		near(t, name, d.Mean(), sum, tolerance*math.Max(1, math.Abs(sum)))
	}
	half, err := Student(0, 1, 1)
	half, err2 := Truncated(must(t, half, err), -1, 3)
	// The integral of t/(π(1+t²)) from -1 to 3 over the share between.
	near(t, "t of 1 degree, cut", must(t, half, err2).Mean(), math.Log(10.0/2)/(2*math.Pi)/(math.Atan(3)/math.Pi+0.25), 1e-12)
	open, err := Truncated(half, 0, math.Inf(1))
	near(t, "cut twice", must(t, open, err).Mean(), math.Log(10)/(2*math.Pi)/(math.Atan(3)/math.Pi), 1e-12)
	// Cut on both sides, the mean of t with 4 degrees by its closed share.
	d, err := Student(5, 2, 4)
	d, err2 = Truncated(must(t, d, err), 4, 9)
	sum := 0.0
	for i := range 100000 {
		sum += must(t, d, err2).Quantile((float64(i) + 0.5) / 100000)
	}
	near(t, "t cut", d.Mean(), sum/100000, 1e-8)
}

func TestImpossible(t *testing.T) {
	nan, inf := math.NaN(), math.Inf(1)
	normal, _ := Normal(0, 1)
	for _, c := range []struct {
		want string
		make func() (Distribution, error)
	}{
		{"4 is not above 4", func() (Distribution, error) { return Uniform(4, 4) }},
		{"must be finite", func() (Distribution, error) { return Uniform(0, inf) }},
		{"must be finite", func() (Distribution, error) { return Uniform(nan, 1) }},
		{"so wide", func() (Distribution, error) { return Uniform(-1.5e308, 1.5e308) }},
		{"so wide", func() (Distribution, error) { return Triangular(-1.5e308, 0, 1.5e308) }},
		{"the likeliest value, 9, must be within", func() (Distribution, error) { return Triangular(1, 9, 5) }},
		{"1 is not above 5", func() (Distribution, error) { return Triangular(5, 3, 1) }},
		{"must be above 0, but it is 0", func() (Distribution, error) { return Normal(5, 0) }},
		{"must be above 0, but it is -1", func() (Distribution, error) { return Normal(5, -1) }},
		{"must be finite", func() (Distribution, error) { return Normal(5, nan) }},
		{"median of a lognormal distribution must be above 0", func() (Distribution, error) { return LogNormal(0, 1) }},
		{"of a logarithm must be above 0", func() (Distribution, error) { return LogNormal(1, 0) }},
		{"so wide", func() (Distribution, error) { return LogNormal(1, 1000) }},
		{"may be 1 to 1000000, not 0.5", func() (Distribution, error) { return Student(0, 1, 0.5) }},
		{"may be 1 to 1000000, not NaN", func() (Distribution, error) { return Student(0, 1, nan) }},
		{"scale of Student's distribution must be above 0", func() (Distribution, error) { return Student(0, 0, 5) }},
		{"scale of Student's distribution must be above 0", func() (Distribution, error) { return Student(0, nan, 5) }},
		{"must be finite", func() (Distribution, error) { return Student(inf, 1, 5) }},
		{"from 2 of them or more, not from 1", func() (Distribution, error) { return MeanOf(0, 1, 1) }},
		{"not between 3 and 2", func() (Distribution, error) { return Truncated(normal, 3, 2) }},
		{"not between NaN and 2", func() (Distribution, error) { return Truncated(normal, nan, 2) }},
		{"only 3e-07 of the distribution lies between 5 and +Inf", func() (Distribution, error) { return Truncated(normal, 5, inf) }},
	} {
		d, err := c.make()
		if err == nil || !strings.Contains(err.Error(), c.want) || d != nil {
			t.Errorf("%v, %v; want %q", d, err, c.want)
		}
	}
}

func BenchmarkQuantile(b *testing.B) {
	u := make([]float64, 256)
	x := make([]float64, 256)
	s := sobol(b, 1, 1)
	s.Column(u, 0, 0)
	for _, name := range []string{"stats.uniform(-2, 8)", "stats.triang(0.375, 1, 4)", "stats.norm(10, 3)", "stats.lognorm(0.25, 0, 300)", "stats.t(4, 5, 2)", "stats.t(250, 5, 2)", "stats.truncnorm(-2, 1/3, 10, 3)"} {
		d := distributions(b)[name]
		b.Run(name, func(b *testing.B) {
			for b.Loop() {
				copy(x, u)
				Transform(d, x)
			}
			b.ReportMetric(float64(b.Elapsed().Nanoseconds())/float64(b.N)/256, "ns/value")
		})
	}
}
