package sample

import (
	"fmt"
	"math"
	"testing"

	"bankwright/engine/oracle"
)

func sobol(t testing.TB, dims int, seed uint64) *Sobol {
	t.Helper()
	s, err := NewSobol(dims, seed)
	if err != nil {
		t.Fatal(err)
	}
	return s
}

// columns are n points of a sequence, from first.
func columns(s *Sobol, n int, first uint64) [][]float64 {
	dst := make([][]float64, len(s.axes))
	for d := range dst {
		dst[d] = make([]float64, n)
	}
	s.Fill(dst, first)
	return dst
}

// plain is a dimension of a point before scrambling.
func plain(s *Sobol, index uint64, dim int) float64 {
	return fraction(s.axes[dim].point(index)) - 0x1p-53
}

// TestTable: the table has a line for each dimension and, as Sobol' (1967) needs
// for nets, odd numbers below 2^j.
func TestTable(t *testing.T) {
	lines := tableLines(MaxDimensions + 1)
	if len(lines) != MaxDimensions {
		t.Fatalf("%d lines", len(lines))
	}
	for i, line := range lines[1:] {
		var dim, degree int
		var inner uint64
		if _, err := fmt.Sscan(line, &dim, &degree, &inner); err != nil || dim != i+2 || inner>>(degree-1) != 0 {
			t.Errorf("%q: %v", line, err)
		}
		numbers, err := directions(line)
		if err != nil {
			t.Fatal(err)
		}
		for j, v := range numbers {
			if v>>j != 1 { // its last digit stands in place j, and is 1
				t.Errorf("dimension %d, number %d: %b", dim, j, v)
			}
		}
	}
}

// TestFirstPoints: the first points in three dimensions as Joe and Kuo publish them
// beside their table (example of their program sobol.cc, 10 points, 3 dimensions).
func TestFirstPoints(t *testing.T) {
	s := sobol(t, 3, 1)
	for i, want := range [][3]float64{
		{0, 0, 0}, {0.5, 0.5, 0.5}, {0.75, 0.25, 0.25}, {0.25, 0.75, 0.75}, {0.375, 0.375, 0.625},
		{0.875, 0.875, 0.125}, {0.625, 0.125, 0.875}, {0.125, 0.625, 0.375}, {0.1875, 0.3125, 0.9375}, {0.6875, 0.8125, 0.4375},
	} {
		for d, w := range want {
			if got := plain(s, uint64(i), d); got != w {
				t.Errorf("point %d, dimension %d: %v, want %v", i, d, got, w)
			}
		}
	}
}

// TestSobolAgainstSciPy: all dimensions without scrambling, near the beginning and
// far from it.
func TestSobolAgainstSciPy(t *testing.T) {
	const points, far = 130, 1 << 16
	var want [][][]uint64
	scipy(t, `
out = []
for first in x["first"]:
    s = stats.qmc.Sobol(x["dims"], scramble=False)
    if first: s.fast_forward(first)
    out.append((s.random(x["points"]) * 2.0 ** 30).astype(int).tolist())
print(json.dumps(out))`, map[string]any{"dims": MaxDimensions, "points": points, "first": []int{0, far}}, &want)
	s := sobol(t, MaxDimensions, 1)
	for b, first := range []uint64{0, far} {
		if len(want[b]) != points {
			t.Fatal(len(want[b]))
		}
		for i, point := range want[b] {
			for d, w := range point {
				if got := plain(s, first+uint64(i), d) * 0x1p30; got != float64(w) {
					t.Fatalf("point %d, dimension %d: %v, SciPy says %d", first+uint64(i), d, got, w)
				}
			}
		}
	}
}

// TestNets: scrambled, 2^m points from a multiple of 2^m lie one in each of 2^m
// parts of every axis, and in the plane of the first two dimensions one in each
// box of area 2^-m, whatever its shape: they are a (0,m,2)-net (Sobol' 1967; Owen
// 1995 for scrambled ones).
func TestNets(t *testing.T) {
	for _, seed := range []uint64{0, 1, 77} {
		for _, c := range []struct{ dims, m int }{{MaxDimensions, 7}, {40, 12}, {3, 16}} {
			n := 1 << c.m
			points := columns(sobol(t, c.dims, seed), n, uint64(3*n))
			for d, x := range points {
				once(t, fmt.Sprintf("seed %d, %d points, dimension %d", seed, n, d), n, func(i int) int { return int(x[i] * float64(n)) })
			}
			for a := range c.m + 1 {
				wide, high := float64(int(1)<<a), float64(n>>a)
				once(t, fmt.Sprintf("seed %d, boxes %v by %v", seed, wide, high), n, func(i int) int {
					return int(points[0][i]*wide)*int(high) + int(points[1][i]*high)
				})
			}
		}
	}
}

// once asks that box takes every value from 0 to n-1 once.
func once(t *testing.T, what string, n int, box func(i int) int) {
	t.Helper()
	seen := make([]bool, n)
	for i := range n {
		b := box(i)
		if seen[b] {
			t.Errorf("%s: two points in part %d", what, b)
			return
		}
		seen[b] = true
	}
}

func TestBlocks(t *testing.T) {
	s := sobol(t, 5, 9)
	whole := columns(s, 1000, 1<<40)
	for first, size := 0, 1; first < 1000; first, size = first+size, size*2 {
		size = min(size, 1000-first)
		for d, x := range columns(s, size, 1<<40+uint64(first)) {
			for i, v := range x {
				if v != whole[d][first+i] {
					t.Fatalf("dimension %d, point %d differs by block", d, first+i)
				}
			}
		}
	}
	if a, b := fraction(0), fraction(math.MaxUint64); a != 0x1p-53 || b != 1-0x1p-53 {
		t.Errorf("the ends are %v and %v", a, b)
	}
	if n := testing.AllocsPerRun(10, func() { s.Fill(whole, 7) }); n != 0 {
		t.Errorf("%v allocations", n)
	}
}

// TestSeeds: no number occurs twice in several dimensions under several seeds.
func TestSeeds(t *testing.T) {
	seen := map[float64]bool{}
	for _, seed := range []uint64{0, 1, 2, Seed(1, 0), Seed(1, 1), Seed(2, 0), math.MaxUint64} {
		for _, x := range columns(sobol(t, 8, seed), 1<<10, 0) {
			for _, v := range x {
				if seen[v] {
					t.Fatalf("%v occurs twice", v)
				}
				seen[v] = true
			}
		}
	}
	for _, dims := range []int{0, -1, MaxDimensions + 1} {
		if _, err := NewSobol(dims, 1); err == nil {
			t.Errorf("%d dimensions", dims)
		}
	}
}

// TestScrambleVariance: the mean of x over N points has the variance 1/(12N³) if
// each part of the axis has a point that is uniform in it and not correlated with
// those of other parts, as nested uniform scrambling makes them (Owen 1997). A hash
// that turns the digits of neighbouring parts alike fails here. 4,000 seeds: the
// ratio is out by 2.2 % (one deviation).
func TestScrambleVariance(t *testing.T) {
	for _, dim := range []int{0, 1, 500} {
		for _, m := range []int{0, 1, 2, 3, 4, 6, 8} {
			n := 1 << m
			x := make([]float64, n)
			const seeds = 4000
			sum, squares := 0.0, 0.0
			a := sobol(t, dim+1, 1).axes[dim]
			for seed := range uint64(seeds) {
				for i := range a.keys {
					a.keys[i] = mix(mix(seed*3+uint64(i)+1) + uint64(dim))
				}
				s := Sobol{axes: []axis{a}}
				s.Column(x, 0, 0)
				mean := 0.0
				for _, v := range x {
					mean += v - 0.5
				}
				mean /= float64(n)
				sum += mean
				squares += mean * mean
			}
			unit := 12 * math.Pow(float64(n), 3)
			if ratio := squares / seeds * unit; math.Abs(ratio-1) > 0.09 {
				t.Errorf("dimension %d, %d points: the variance is %.3f of the theory's", dim, n, ratio)
			}
			if bias := sum / seeds * math.Sqrt(unit*seeds); math.Abs(bias) > 4 {
				t.Errorf("dimension %d, %d points: the mean is %.1f deviations off", dim, n, bias)
			}
		}
	}
}

// TestScrambleReference: the error of means in two dimensions is that of points
// whose every digit is turned by a hash of its own, a slow scrambling that is
// nested and uniform beyond doubt. 1,500 seeds each: the ratio of two variances is
// out by 5 % (one deviation) for means that are about normal.
func TestScrambleReference(t *testing.T) {
	oracle.OneCore(t)
	const n, seeds = 64, 1500
	slow := func(x uint64, key uint64) uint64 {
		out := uint64(0)
		for j := range 30 {
			out |= (x>>j ^ mix(mix(x&(1<<j-1)^key)+uint64(j)*golden)) & 1 << j
		}
		return out
	}
	functions := []func(x, y float64) float64{
		func(x, y float64) float64 { return x * y },
		func(x, y float64) float64 { return math.Exp(x) * math.Sin(3*y) },
		func(x, y float64) float64 {
			if x+y < 0.7 {
				return 1
			}
			return 0
		},
	}
	plane := sobol(t, 2, 0)
	for k, f := range functions {
		var quick, exact Summary
		for seed := range uint64(seeds) {
			points := columns(sobol(t, 2, Seed(11, int(seed))), n, 0)
			a, b := 0.0, 0.0
			for i := range uint64(n) {
				a += f(points[0][i], points[1][i])
				x := fraction(slow(plane.axes[0].point(i), mix(2*seed+1)))
				y := fraction(slow(plane.axes[1].point(i), mix(2*seed+2)))
				b += f(x, y)
			}
			quick.Add([]float64{a / n})
			exact.Add([]float64{b / n})
		}
		if ratio := quick.Deviation() / exact.Deviation(); math.Abs(ratio-1) > 0.1 {
			t.Errorf("function %d: the deviation of means is %.3f of what it should be", k, ratio)
		}
		off := (quick.Mean() - exact.Mean()) / math.Hypot(quick.Deviation(), exact.Deviation()) * math.Sqrt(seeds)
		if math.Abs(off) > 4 {
			t.Errorf("function %d: the means are %.1f deviations apart", k, off)
		}
	}
}

// TestIntegration: over five dimensions the error of the mean of a smooth function
// falls faster than 1/√N, with which 64 times the points make it 8 times smaller,
// and the mean over seeds is free of bias.
func TestIntegration(t *testing.T) {
	const seeds = 40
	deviation := func(n int) float64 {
		var s Summary
		for seed := range seeds {
			mean := 0.0
			points := columns(sobol(t, 5, Seed(3, seed)), n, 0)
			for i := range n {
				f := 1.0
				for d := range points {
					f *= 1 + (math.Exp(points[d][i])-(math.E-1))/float64(d+1)
				}
				mean += f
			}
			s.Add([]float64{mean/float64(n) - 1}) // every factor's mean is 1
		}
		if off := s.Mean() / s.Deviation() * math.Sqrt(seeds); math.Abs(off) > 4 {
			t.Errorf("%d points: the mean over seeds is %.1f deviations off", n, off)
		}
		return s.Deviation()
	}
	few, many := deviation(1<<6), deviation(1<<12)
	if few/many < 32 {
		t.Errorf("the error falls from %.3g to %.3g only", few, many)
	}
	t.Logf("64 times the points make the error %.0f times smaller", few/many)
}

func BenchmarkFill(b *testing.B) {
	s := sobol(b, 16, 1)
	dst := columns(s, 256, 0)
	for b.Loop() {
		s.Fill(dst, 1<<20)
	}
	b.ReportMetric(float64(b.Elapsed().Nanoseconds())/float64(b.N)/(16*256), "ns/value")
}

func BenchmarkNewSobol(b *testing.B) {
	for b.Loop() {
		sobol(b, 40, 1)
	}
}
