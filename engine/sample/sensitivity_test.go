package sample

import (
	"fmt"
	"math"
	"strings"
	"testing"
)

// shares does a whole study of a function of numbers between 0 and 1.
func shares(t testing.TB, f func(u []float64) float64, inputs, replicates, points int, seed uint64) *Indices {
	t.Helper()
	x := NewIndices(inputs, replicates)
	const block = 64
	u, answers := make([][]float64, inputs), make([][]float64, inputs+2)
	for i := range u {
		u[i] = make([]float64, block)
	}
	for i := range answers {
		answers[i] = make([]float64, block)
	}
	point := make([]float64, inputs)
	for r := range replicates {
		d, err := NewDesign(inputs, nil, Seed(seed, r))
		if err != nil {
			t.Fatal(err)
		}
		for first := 0; first < points; first += block {
			for set := range answers {
				d.Fill(u, set, uint64(first))
				for k := range block {
					for i := range u {
						point[i] = u[i][k]
					}
					answers[set][k] = f(point)
				}
			}
			x.Add(r, answers[SetA], answers[SetB], answers[SetAB:])
		}
	}
	return x
}

// ishigami is the function of Ishigami and Homma (1990) with a = 7, b = 0.1.
func ishigami(u []float64) float64 {
	angle := func(i int) float64 { return math.Pi * (2*u[i] - 1) }
	s := math.Sin(angle(1))
	return math.Sin(angle(0)) + 7*s*s + 0.1*math.Pow(angle(2), 4)*math.Sin(angle(0))
}

// sobolG is the g-function of Sobol' (Saltelli and Sobol' 1995), and its indices by
// the published formulas: V_i = 1/(3(1+a_i)²), V = Π(1+V_i)-1, S_i = V_i/V,
// T_i = V_i·Π_{j≠i}(1+V_j)/V.
var sobolA = []float64{0, 1, 4.5, 9, 99, 99, 99, 99}

func sobolG(u []float64) float64 {
	g := 1.0
	for i, a := range sobolA {
		g *= (math.Abs(4*u[i]-2) + a) / (1 + a)
	}
	return g
}

func sobolIndices() (first, total []float64) {
	product := 1.0
	for _, a := range sobolA {
		product *= 1 + 1/(3*(1+a)*(1+a))
	}
	for _, a := range sobolA {
		v := 1 / (3 * (1 + a) * (1 + a))
		first = append(first, v/(product-1))
		total = append(total, v*product/(1+v)/(product-1))
	}
	return first, total
}

// TestPublishedIndices: Saltelli and others, Global Sensitivity Analysis: The Primer
// (2008), for the function of Ishigami and the g-function; and for a straight line,
// whose shares are the squares of its slopes times the variances of its inputs.
func TestPublishedIndices(t *testing.T) {
	gFirst, gTotal := sobolIndices()
	line := func(u []float64) float64 { return 1000 + 3*NormalQuantile(u[0]) + math.Sqrt(12)*4*u[1] + 0*u[2] }
	for _, c := range []struct {
		name         string
		f            func(u []float64) float64
		first, total []float64
		tolerance    float64
	}{
		{"Ishigami", ishigami, []float64{0.3139, 0.4424, 0}, []float64{0.5576, 0.4424, 0.2437}, 0.004},
		{"g", sobolG, gFirst, gTotal, 0.004},
		{"line", line, []float64{9.0 / 25, 16.0 / 25, 0}, []float64{9.0 / 25, 16.0 / 25, 0}, 0.002},
	} {
		x := shares(t, c.f, len(c.first), 16, 1024, 1)
		for i := range c.first {
			first, total := x.First(i), x.Total(i)
			near(t, fmt.Sprint(c.name, " first ", i), first.Value, c.first[i], c.tolerance)
			near(t, fmt.Sprint(c.name, " total ", i), total.Value, c.total[i], c.tolerance)
			if !(first.Error < c.tolerance) || !(total.Error < c.tolerance) {
				t.Errorf("%s %d: errors %v, %v", c.name, i, first.Error, total.Error)
			}
		}
	}
}

// TestIndicesByHand: the estimators written out plainly, with a mean far from 0;
// and the error of a ratio, worked out from two replicates.
func TestIndicesByHand(t *testing.T) {
	a := [][]float64{{1e6 + 3, 1e6 + 1, 1e6 + 4, 1e6 + 1}, {1e6 + 5, 1e6 + 9, 1e6 + 2, 1e6 + 6}}
	b := [][]float64{{1e6 + 5, 1e6 + 9, 1e6 + 2, 1e6 + 6}, {1e6 + 5, 1e6 + 3, 1e6 + 5, 1e6 + 8}}
	ab := [][]float64{{1e6 + 5, 1e6 + 3, 1e6 + 5, 1e6 + 8}, {1e6 + 9, 1e6 + 7, 1e6 + 9, 1e6 + 3}}
	x := NewIndices(1, 2)
	var first, total, variance [2]float64
	for r := range 2 {
		x.Add(r, a[r], b[r], [][]float64{ab[r]})
		mean := 0.0
		for k := range 4 {
			mean += (a[r][k] + b[r][k]) / 8
		}
		for k := range 4 {
			first[r] += (b[r][k] - mean) * (ab[r][k] - a[r][k])
			total[r] += (ab[r][k] - a[r][k]) * (ab[r][k] - a[r][k]) / 2
			variance[r] += ((a[r][k]-mean)*(a[r][k]-mean) + (b[r][k]-mean)*(b[r][k]-mean)) / 2
		}
	}
	whole := variance[0] + variance[1]
	for name, c := range map[string]struct {
		got  Estimate
		part [2]float64
	}{"first": {x.First(0), first}, "total": {x.Total(0), total}} {
		ratio := (c.part[0] + c.part[1]) / whole
		near(t, name, c.got.Value, ratio, 1e-12)
		off := (c.part[0] - ratio*variance[0]) / (whole / 2) // the other replicate's is the opposite
		near(t, name+" error", c.got.Error, math.Abs(off), 1e-12)
		near(t, name+" high", c.got.High, ratio+12.7062047361747*math.Abs(off), 1e-9)
	}
}

// TestBoundsOfIndices: of 200 studies the bounds at 95 % hold the true index in
// about 95 of a hundred (the binomial deviation is 1.5 of a hundred).
func TestBoundsOfIndices(t *testing.T) {
	first, total := []float64{0.31390, 0.44241, 0}, []float64{0.55759, 0.44241, 0.24368}
	const studies = 200
	for i := range first {
		held, heldTotal, sum := 0, 0, 0.0
		for seed := range uint64(studies) {
			x := shares(t, ishigami, 3, 8, 128, 1000+seed)
			if e := x.First(i); e.Low <= first[i] && first[i] <= e.High {
				held++
			}
			if e := x.Total(i); e.Low <= total[i] && total[i] <= e.High {
				heldTotal++
			}
			sum += x.First(i).Value
		}
		t.Logf("input %d: in %d and %d of %d bounds; the mean is %.4f of %.4f", i, held, heldTotal, studies, sum/studies, first[i])
		for _, n := range []int{held, heldTotal} {
			if n < studies*89/100 || n > studies*99/100 {
				t.Errorf("input %d: in %d of %d bounds", i, n, studies)
			}
		}
	}
}

// TestDesign: set AB of an input is A but for its column, which is B's; nothing
// else is shared by A and B.
func TestDesign(t *testing.T) {
	const inputs, n = 5, 300
	d, err := NewDesign(inputs, &Correlation{}, 4)
	if err != nil {
		t.Fatal(err)
	}
	fill := func(set int) [][]float64 {
		u := make([][]float64, inputs)
		for i := range u {
			u[i] = make([]float64, n)
		}
		d.Fill(u, set, 17)
		return u
	}
	a, b := fill(SetA), fill(SetB)
	for input := range inputs {
		ab := fill(SetAB + input)
		for i := range inputs {
			for k := range n {
				want := a[i][k]
				if i == input {
					want = b[i][k]
				}
				if ab[i][k] != want || a[i][k] == b[i][k] {
					t.Fatalf("set AB of %d, input %d, point %d", input, i, k)
				}
			}
		}
	}
	if n := testing.AllocsPerRun(3, func() { d.Fill(a, SetB, 0) }); n != 0 {
		t.Errorf("%v allocations", n)
	}
	x := NewIndices(inputs, 1)
	if n := testing.AllocsPerRun(3, func() { x.Add(0, a[0], b[0], a) }); n != 0 {
		t.Errorf("%v allocations", n)
	}
}

func TestNoIndices(t *testing.T) {
	ties, err := Correlate([]string{"a", "b"}, []Pair{{0, 1, 0.1}})
	if err != nil {
		t.Fatal(err)
	}
	for want, make := range map[string]func() (*Design, error){
		"defined for independent inputs only": func() (*Design, error) { return NewDesign(2, ties, 1) },
		"1 to 512 inputs, not for 0":          func() (*Design, error) { return NewDesign(0, nil, 1) },
		"1 to 512 inputs, not for 513":        func() (*Design, error) { return NewDesign(513, nil, 1) },
	} {
		if d, err := make(); err == nil || d != nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%v, want %q", err, want)
		}
	}
	// An answer that never varies has no shares; points without one are left out.
	x := NewIndices(1, 2)
	for r := range 2 {
		x.Add(r, []float64{3, 3, math.NaN(), 3, 3}, []float64{3, 3, 3, math.Inf(1), 3}, [][]float64{{3, 3, 3, 3, math.NaN()}})
	}
	if n := x.of[0].count + x.of[1].count; n != 4 {
		t.Errorf("%d points", n)
	}
	if e := x.First(0); !math.IsNaN(e.Value) || !math.IsNaN(e.Error) {
		t.Error(e)
	}
	if e := NewIndices(1, 2).Total(0); !math.IsNaN(e.Value) || !math.IsNaN(e.Low) {
		t.Error(e)
	}
}

func BenchmarkIndicesAdd(b *testing.B) {
	u := columns(sobol(b, 12, 1), 256, 0)
	x := NewIndices(10, 1)
	for b.Loop() {
		x.Add(0, u[0], u[1], u[2:])
	}
	b.ReportMetric(float64(b.Elapsed().Nanoseconds())/float64(b.N)/256/12, "ns/value")
}
