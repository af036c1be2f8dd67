package sample

import (
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"bankwright/engine/oracle"
)

// figures are all that a summary tells, for comparison.
func figures(s *Summary) string {
	text := fmt.Sprint(s.Count(), s.Missing(), s.Mean(), s.Deviation(), s.Min(), s.Max(), s.Rounding(), s.Histogram(7))
	for _, p := range []float64{0, 0.05, 0.25, 0.5, 0.75, 0.95, 1} {
		text += fmt.Sprint(" ", s.Percentile(p))
	}
	return text
}

// TestSummaryByHand: five values; percentiles by definition 7 of Hyndman and Fan,
// Sample quantiles in statistical packages (1996).
func TestSummaryByHand(t *testing.T) {
	var s Summary
	s.Add([]float64{4, math.NaN(), 1, 2})
	s.Add([]float64{math.Inf(1), 10, math.Inf(-1), 3})
	if s.Count() != 5 || s.Missing() != 3 {
		t.Errorf("%d values, %d missing", s.Count(), s.Missing())
	}
	near(t, "mean", s.Mean(), 4, 1e-15)
	near(t, "deviation", s.Deviation(), math.Sqrt(50.0/4), 1e-15)
	near(t, "min", s.Min(), 1, 0)
	near(t, "max", s.Max(), 10, 0)
	for p, want := range map[float64]float64{0: 1, 0.05: 1.2, 0.25: 2, 0.3: 2.2, 0.5: 3, 0.75: 4, 0.95: 8.8, 1: 10, -0.1: math.NaN(), 2: math.NaN()} {
		near(t, fmt.Sprint("percentile ", p), s.Percentile(p), want, 1e-14)
	}
	var none, one Summary
	none.Add([]float64{math.NaN()})
	for _, x := range []float64{none.Mean(), none.Deviation(), none.Min(), none.Max(), none.Percentile(0.5), one.Deviation()} {
		near(t, "of nothing", x, math.NaN(), 0)
	}
	one.Add([]float64{7})
	if got := fmt.Sprint(one.Mean(), one.Deviation(), one.Percentile(0.3), one.Histogram(5)); got != "7 NaN 7 {7 7 [1] 0 0}" {
		t.Errorf("one value: %s", got)
	}
}

// TestSummaryStRD: NIST's Statistical Reference Datasets, univariate summaries
// NumAcc3 and NumAcc4: values of which few digits differ. Certified: means
// 1000000.2 and 10000000.2, deviation 0.1, none of which is a binary number: the
// digits that are lost are those of the data.
func TestSummaryStRD(t *testing.T) {
	for _, base := range []float64{1e6, 1e7} {
		var s Summary
		s.Add([]float64{base + 0.2})
		for range 500 {
			s.Add([]float64{base + 0.1, base + 0.3})
		}
		near(t, "mean", s.Mean(), base+0.2, 2e-15*base)
		near(t, "deviation", s.Deviation(), 0.1, 2e-15*base)
	}
}

func TestSummaryAgainstNumPy(t *testing.T) {
	r := rand.New(rand.NewPCG(3, 4))
	x := make([]float64, 5000)
	for i := range x {
		x[i] = math.Exp(3*r.NormFloat64()) - 2
	}
	shares := []float64{0, 0.005, 0.05, 0.25, 0.5, 0.75, 0.95, 0.995, 1}
	var want struct {
		Mean, Deviation float64
		Percentiles     []float64
		Bars            []int
	}
	scipy(t, `
v = np.array(x["values"])
p = np.percentile(v, np.array(x["shares"]) * 100)
print(json.dumps({"Mean": v.mean(), "Deviation": v.std(ddof=1), "Percentiles": p.tolist(),
    "Bars": np.histogram(v, bins=30, range=(p[1], p[-2]))[0].tolist()}))`, map[string]any{"values": x, "shares": shares}, &want)
	var s Summary
	s.Add(x)
	near(t, "mean", s.Mean(), want.Mean, 1e-12*math.Abs(want.Mean))
	near(t, "deviation", s.Deviation(), want.Deviation, 1e-12*want.Deviation)
	for i, p := range shares {
		near(t, fmt.Sprint("percentile ", p), s.Percentile(p), want.Percentiles[i], 1e-12*math.Abs(want.Percentiles[i]))
	}
	h := s.Histogram(30)
	total := h.Below + h.Above
	for i, n := range h.Counts {
		total += n
		if n-want.Bars[i] > 1 || want.Bars[i]-n > 1 { // a value at an edge
			t.Errorf("bar %d: %d, NumPy says %d", i, n, want.Bars[i])
		}
	}
	if total != len(x) || h.Below != 25 || h.Above != 25 {
		t.Errorf("%d values in all, %d and %d outside", total, h.Below, h.Above)
	}
}

// TestSummaryOfMany: more values than are kept. Percentiles are within what
// Rounding says of those of all values, however the values came: in another order,
// in summaries that are merged, kept ones or counted ones.
func TestSummaryOfMany(t *testing.T) {
	oracle.OneCore(t)
	const n = Kept + Kept/2
	r := rand.New(rand.NewPCG(5, 6))
	x := make([]float64, n)
	for i := range x {
		x[i] = 100 * r.NormFloat64()
		if i%10 == 0 {
			x[i] = 42
		}
		if i%11 == 0 {
			x[i] = 0
		}
	}
	var whole, turned, merged, late Summary
	whole.Add(x[:Kept])
	if whole.Rounding() != 0 {
		t.Error("not all values are kept that should be")
	}
	whole.Add(x[Kept : Kept+1])
	if whole.Rounding() == 0 {
		t.Error("more values are kept than should be")
	}
	whole.Add(x[Kept+1:])
	parts := make([]Summary, 3)
	for i := range parts {
		parts[i].Add(x[i*Kept/2 : (i+1)*Kept/2])
		merged.Merge(&parts[i])
	}
	late.Merge(&parts[0]) // a small one into nothing, a counted one into a kept one, a kept one into a counted one
	var counted Summary
	counted.Add(x[Kept/2:])
	counted.Add([]float64{7})
	late.Merge(&counted)
	late.Merge(&Summary{})
	slices.Reverse(x)
	turned.Add(x)
	slices.Sort(x)
	if whole.Rounding() == 0 || whole.Rounding() > 1e-4 {
		t.Errorf("rounding %v", whole.Rounding())
	}
	for _, p := range []float64{0, 0.005, 0.05, 0.25, 0.5, 0.75, 0.95, 0.995, 1} {
		rank := p * (n - 1)
		k := int(rank)
		want := x[k] + (rank-float64(k))*(x[min(k+1, n-1)]-x[k])
		got := whole.Percentile(p)
		near(t, fmt.Sprint("percentile ", p), got, want, whole.Rounding()*math.Abs(want)*1.001)
		if turned.Percentile(p) != got || merged.Percentile(p) != got {
			t.Errorf("percentile %v depends on the way: %v, %v, %v", p, got, turned.Percentile(p), merged.Percentile(p))
		}
		near(t, fmt.Sprint("late percentile ", p), late.Percentile(p), got, 1e-3+1e-3*math.Abs(got))
	}
	near(t, "the value that occurs often", whole.Percentile(0.45), 0, 0)
	if a, b := fmt.Sprint(whole.Histogram(20)), fmt.Sprint(merged.Histogram(20)); a != b {
		t.Errorf("histograms differ: %s, %s", a, b)
	}
	for _, s := range []*Summary{&turned, &merged} {
		near(t, "mean", s.Mean(), whole.Mean(), 1e-10)
		near(t, "deviation", s.Deviation(), whole.Deviation(), 1e-10)
	}
	if late.Count() != n+1 || merged.Count() != n || len(whole.kept) != 0 {
		t.Errorf("%d and %d values, %d kept", late.Count(), merged.Count(), len(whole.kept))
	}
}

// TestMergeKept: merging summaries that keep all their values is like one that got
// them in that order, and however long the blocks are the figures are the same.
func TestMergeKept(t *testing.T) {
	r := rand.New(rand.NewPCG(7, 8))
	x := make([]float64, 3000)
	for i := range x {
		x[i] = r.ExpFloat64()
	}
	var whole, blocks, merged Summary
	whole.Add(x)
	for part := range slices.Chunk(x, 77) {
		blocks.Add(part)
		var s Summary
		s.Add(part)
		merged.Merge(&s)
	}
	if figures(&whole) != figures(&blocks) {
		t.Error("the figures depend on the length of blocks")
	}
	near(t, "mean", merged.Mean(), whole.Mean(), 1e-14)
	near(t, "deviation", merged.Deviation(), whole.Deviation(), 1e-14)
	near(t, "percentile", merged.Percentile(0.77), whole.Percentile(0.77), 0)
}

// TestBins: numbers of every size and sign, in any order, come out within the
// rounding, in bounded memory.
func TestBins(t *testing.T) {
	oracle.OneCore(t)
	r := rand.New(rand.NewPCG(9, 10))
	var x []float64
	for range 40000 {
		v := math.Float64frombits(r.Uint64())
		if !bad(v) {
			x = append(x, v)
		}
	}
	x = append(x, 0, math.Copysign(0, -1), math.MaxFloat64, -math.MaxFloat64, 5e-324, 1, -1)
	var all, back, few, most, few2, most2 bins // few have all their digits still
	for i, v := range x {
		all.add(v, 1)
		back.add(x[len(x)-1-i], 1)
		if i < 10 {
			few.add(v, 1)
			few2.add(v, 1)
		} else {
			most.add(v, 1)
			most2.add(v, 1)
		}
	}
	few.merge(&most)
	most2.merge(&few2)
	if size := len(all.binades) << all.digits; size > 1<<mostBits || all.digits != 8 {
		t.Errorf("%d bins, %d digits", size, all.digits)
	}
	slices.Sort(x)
	for i := 0; i < len(x); i += 997 {
		got := all.nth(i)
		near(t, fmt.Sprint("rank ", i), got, x[i], math.Ldexp(math.Abs(x[i]), -all.digits-1)+0x1p-1022)
		if back.nth(i) != got || few.nth(i) != got || most2.nth(i) != got {
			t.Fatalf("rank %d depends on the order", i)
		}
	}
}

func BenchmarkAdd(b *testing.B) {
	x := columns(sobol(b, 1, 1), 256, 0)[0]
	for name, s := range map[string]*Summary{"kept": {}, "counted": {bins: &bins{}}} {
		b.Run(name, func(b *testing.B) {
			for b.Loop() {
				if s.bins == nil && s.count+256 > Kept {
					*s = Summary{kept: s.kept[:0]}
				}
				s.Add(x)
			}
			b.ReportMetric(float64(b.Elapsed().Nanoseconds())/float64(b.N)/256, "ns/value")
		})
	}
}
