package sample

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"
)

// ranks are the places of values in their order, from 0.
func ranks(x []float64) []float64 {
	order := make([]int, len(x))
	for i := range order {
		order[i] = i
	}
	slices.SortFunc(order, func(a, b int) int {
		if x[a] < x[b] {
			return -1
		}
		return 1
	})
	r := make([]float64, len(x))
	for place, i := range order {
		r[i] = float64(place)
	}
	return r
}

// pearson is the correlation of two columns.
func pearson(x, y []float64) float64 {
	var sx, sy Summary
	sx.Add(x)
	sy.Add(y)
	sum := 0.0
	for i := range x {
		sum += (x[i] - sx.Mean()) * (y[i] - sy.Mean())
	}
	return sum / float64(len(x)-1) / sx.Deviation() / sy.Deviation()
}

// spearman is the rank correlation that a coefficient of normal scores makes (Kruskal
// 1958).
func spearman(coefficient float64) float64 { return 6 / math.Pi * math.Asin(coefficient/2) }

// TestSpearman: the rank correlation of a Gaussian copula is 6/π·asin(ρ/2)
// (Kruskal, Ordinal measures of association, 1958), that of the normal scores ρ;
// each input by itself stays uniform, and inputs not named stay as they were.
func TestSpearman(t *testing.T) {
	const n = 1 << 14
	names := []string{"a", "b", "c", "d", "e"}
	pairs := []Pair{{0, 2, 0.8}, {2, 4, -0.5}, {4, 0, -0.3}, {1, 2, 0.25}}
	c, err := Correlate(names, pairs)
	if err != nil {
		t.Fatal(err)
	}
	if got := fmt.Sprint(c.tied); got != "[0 1 2 4]" {
		t.Errorf("tied: %s", got)
	}
	u := columns(sobol(t, 5, 21), n, 0)
	alone := slices.Clone(u[3])
	c.Apply(u)
	if !slices.Equal(alone, u[3]) {
		t.Error("an input that is not correlated was changed")
	}
	want := map[[2]int]Pair{}
	for _, p := range pairs {
		want[[2]int{min(p.A, p.B), max(p.A, p.B)}] = p
	}
	scores := make([][]float64, len(u))
	for d := range u {
		for i, v := range u[d] {
			if !(v > 0 && v < 1) {
				t.Fatalf("input %d, point %d: %v", d, i, v)
			}
			scores[d] = append(scores[d], NormalQuantile(v))
		}
		var s Summary
		s.Add(u[d])
		for p := 0.05; p < 1; p += 0.05 {
			near(t, fmt.Sprintf("input %d: percentile %.2f", d, p), s.Percentile(p), p, 0.004)
		}
	}
	for a := range u {
		for b := range a {
			p := want[[2]int{b, a}] // no pair: independent
			near(t, fmt.Sprintf("rank correlation of %d and %d", b, a), pearson(ranks(u[a]), ranks(u[b])), spearman(p.Coefficient), 0.004)
			near(t, fmt.Sprintf("correlation of scores %d and %d", b, a), pearson(scores[a], scores[b]), p.Coefficient, 0.004)
		}
	}
	near(t, "published", spearman(0.5), 0.4826, 5e-5) // 6/π·asin(1/4)
	if n := testing.AllocsPerRun(3, func() { c.Apply(u) }); n != 0 {
		t.Errorf("%v allocations", n)
	}
}

// TestNearlyPerfect: coefficients close to 1 work, and nothing reaches 0 or 1.
func TestNearlyPerfect(t *testing.T) {
	c, err := Correlate([]string{"a", "b"}, []Pair{{0, 1, 0.9999999}})
	if err != nil {
		t.Fatal(err)
	}
	u := [][]float64{{0x1p-53, 1 - 0x1p-53, 0.3}, {0x1p-53, 1 - 0x1p-53, 0.9}}
	c.Apply(u)
	for _, x := range u {
		near(t, "low", x[0], 0x1p-53, 1e-18)
		near(t, "high", x[1], 1, 0x1p-52)
	}
	near(t, "the other", u[1][2], 0.3, 1e-3)
	if u[0][0] <= 0 || u[1][1] >= 1 {
		t.Error(u)
	}
	empty, err := Correlate(nil, nil)
	if err != nil {
		t.Fatal(err)
	}
	empty.Apply(u)
}

func TestContradictions(t *testing.T) {
	names := []string{"price", "size", "age", "mass", "depth"}
	for _, c := range []struct {
		want  string
		pairs []Pair
	}{
		{"of price and size must be between -1 and 1, both left out, but it is 1.5", []Pair{{0, 1, 1.5}}},
		{"of age and size must be between -1 and 1, both left out, but it is -1", []Pair{{2, 1, -1}}},
		{"must be between -1 and 1, both left out, but it is NaN", []Pair{{2, 1, math.NaN()}}},
		{"mass is correlated with itself", []Pair{{3, 3, 0.5}}},
		{"of size and price is given twice", []Pair{{0, 1, 0.5}, {1, 0, 0.5}}},
		{"of an input that there is not", []Pair{{0, 5, 0.5}}},
		{"of an input that there is not", []Pair{{-1, 2, 0.5}}},
		// Only three of the five quarrel.
		{"the correlations of size, age and mass contradict each other", []Pair{{0, 4, 0.5}, {1, 2, 0.9}, {2, 3, 0.9}, {1, 3, -0.9}, {0, 1, 0.1}}},
		// Two that each go with a third very nearly must go together: at least 0.62.
		{"the correlations of price, size and age contradict each other", []Pair{{0, 1, 0.9}, {1, 2, 0.9}, {0, 2, 0.61}}},
	} {
		got, err := Correlate(names, c.pairs)
		if err == nil || !strings.Contains(err.Error(), c.want) || got != nil {
			t.Errorf("%v: %v, want %q", c.pairs, err, c.want)
		}
	}
	if _, err := Correlate(names, []Pair{{0, 1, 0.9}, {1, 2, 0.9}, {0, 2, 0.63}}); err != nil {
		t.Error(err)
	}
}

func BenchmarkApply(b *testing.B) {
	c, err := Correlate(make([]string, 4), []Pair{{0, 1, 0.5}, {2, 3, 0.5}, {1, 2, 0.2}})
	if err != nil {
		b.Fatal(err)
	}
	u := columns(sobol(b, 4, 1), 256, 0)
	for b.Loop() {
		c.Apply(u)
	}
	b.ReportMetric(float64(b.Elapsed().Nanoseconds())/float64(b.N)/1024, "ns/value")
}
