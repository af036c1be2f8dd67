package sample

import (
	"fmt"
	"math"
	"sync"
	"testing"

	"bankwright/engine/oracle"
)

// model is a function of two numbers between 0 and 1 whose mean is 1/4 + ln 2 and
// whose value is NaN nowhere; it is not smooth, so that errors are not tiny.
func model(x, y float64) float64 { return math.Abs(x-0.5) + 1/(1+y) }

// study fills replicates of so many points each.
func study(t testing.TB, seed uint64, replicates, points int, limit float64) (*Replicates, *Events) {
	t.Helper()
	values, events := NewReplicates(replicates), NewEvents(replicates)
	out, over := make([]float64, points), make([]float64, points)
	for r := range replicates {
		u := columns(sobol(t, 2, Seed(seed, r)), points, 0)
		for i := range out {
			out[i], over[i] = model(u[0][i], u[1][i]), 0
			if out[i] > limit {
				over[i] = 1
			}
		}
		values.Of(r).Add(out)
		events.Add(r, over)
	}
	return values, events
}

// TestCoverage: of 400 studies the bounds at 95 % hold the true figure in about 95
// of a hundred. The binomial deviation is 1.1 of a hundred; percentiles have a bias
// besides. The true figures are from two million points in even order.
func TestCoverage(t *testing.T) {
	oracle.OneCore(t)
	const limit = 1.2
	var truth Summary
	over := 0.0
	for i := range 1400 {
		row := make([]float64, 1400)
		for j := range row {
			row[j] = model((float64(i)+0.5)/1400, (float64(j)+0.5)/1400)
			if row[j] > limit {
				over++
			}
		}
		truth.Add(row)
	}
	near(t, "mean", truth.Mean(), 0.25+math.Ln2, 1e-6)
	share := over / 1400 / 1400
	held, far := map[string]int{}, map[string]float64{}
	const studies = 400
	for seed := range uint64(studies) {
		values, events := study(t, seed, 8, 128, limit)
		check := func(what string, e Estimate, want float64) {
			if e.Low <= want && want <= e.High {
				held[what]++
			}
			far[what] += (e.Value - want) * (e.Value - want) / studies
			far[what+" told"] += e.Error * e.Error / studies
		}
		check("mean", values.Mean(), truth.Mean())
		check("median", values.Percentile(0.5), truth.Percentile(0.5))
		check("95th percentile", values.Percentile(0.95), truth.Percentile(0.95))
		check("deviation", values.Estimate((*Summary).Deviation), truth.Deviation())
		check("probability", events.Probability(), share)
	}
	for what, n := range held {
		told := math.Sqrt(far[what+" told"] / far[what])
		t.Logf("%s: in %.1f %% of the bounds; the error told is %.2f of what it is", what, float64(n)*100/studies, told)
		if n < studies*91/100 || n > studies*985/1000 {
			t.Errorf("%s: in %d of %d bounds", what, n, studies)
		}
		if told < 0.85 || told > 1.2 {
			t.Errorf("%s: the error told is %.2f of what it is", what, told)
		}
	}
	if len(held) != 5 {
		t.Error(held)
	}
}

func TestEstimateByHand(t *testing.T) {
	r := NewReplicates(4)
	for i, x := range []float64{1, 2, 3, 6} {
		r.Of(i).Add([]float64{x, x})
	}
	e := r.Mean()
	near(t, "value", e.Value, 3, 1e-15)
	// Deviation of 1, 2, 3, 6: √(14/3); t of 3 degrees: 3.182446 (NIST/SEMATECH 1.3.6.7.2: 3.182).
	near(t, "error", e.Error, math.Sqrt(14.0/3)/2, 1e-15)
	near(t, "high", e.High, 3+3.182446305284*math.Sqrt(14.0/3)/2, 1e-11)
	near(t, "low", e.Low, 3-3.182446305284*math.Sqrt(14.0/3)/2, 1e-11)

	one := NewReplicates(2)
	one.Of(0).Add([]float64{5})
	if got := fmt.Sprint(one.Mean()); got != "{5 NaN NaN NaN}" {
		t.Errorf("one replicate with values: %s", got)
	}
}

// TestRareEvents: bounds of Clopper and Pearson (1934). For none of n it is the
// closed form 1-0.025^(1/n); others from SciPy.
func TestRareEvents(t *testing.T) {
	counted := func(hits, count int) *Events {
		e := NewEvents(10)
		for i := range count {
			x := 0.0
			if i < hits {
				x = 3
			}
			e.Add(i%10, []float64{x, math.NaN()})
		}
		return e
	}
	none := counted(0, 1000)
	p := none.Probability()
	near(t, "none: high", p.High, 1-math.Pow(0.025, 1e-3), 1e-14)
	near(t, "none: low", p.Low, 0, 0)
	if n := none.total().count; n != 1000 { // what is missing is left out
		t.Errorf("%d points", n)
	}
	p = counted(1000, 1000).Probability()
	near(t, "all: low", p.Low, math.Pow(0.025, 1e-3), 1e-14)
	near(t, "all: high", p.High, 1, 0)
	near(t, "of nothing", NewEvents(3).Probability().Value, math.NaN(), 0)
	near(t, "bounds of nothing", NewEvents(3).Probability().High, math.NaN(), 0)
	var want [][2]float64
	cases := [][2]int{{1, 10}, {3, 1000}, {9, 300000}, {997, 1000}, {299999, 300000}}
	scipy(t, `
out = []
for hits, n in x:
    b = stats.binomtest(hits, n).proportion_ci(0.95, "exact")
    out.append([b.low, b.high])
print(json.dumps(out))`, cases, &want)
	for i, c := range cases {
		p := counted(c[0], c[1]).Probability()
		near(t, fmt.Sprint("low ", c), p.Low, want[i][0], 1e-8*want[i][0])
		near(t, fmt.Sprint("high ", c), p.High, want[i][1], 1e-8*want[i][1])
	}
}

// TestCores: what is told is the same however many cores filled the replicates, and
// in whatever order.
func TestCores(t *testing.T) {
	const replicates, points = 8, 3000
	s := make([]*Sobol, replicates)
	for r := range s {
		s[r] = sobol(t, 2, Seed(5, r))
	}
	run := func(cores int) string {
		values := NewReplicates(replicates)
		next := make(chan int)
		var done sync.WaitGroup
		for range cores {
			done.Go(func() {
				for r := range next {
					u := columns(s[r], points, 0)
					for i, x := range u[0] {
						values.Of(r).Add([]float64{model(x, u[1][i])})
					}
				}
			})
		}
		for r := range replicates {
			next <- replicates - 1 - r
		}
		close(next)
		done.Wait()
		return figures(values.Pooled()) + fmt.Sprint(values.Mean(), values.Percentile(0.9))
	}
	if a, b := run(1), run(5); a != b {
		t.Errorf("one core: %s\nfive: %s", a, b)
	}
}

// TestRoundedPercentile: where not every value is kept, a percentile on which all
// replicates agree is still not told to be exact.
func TestRoundedPercentile(t *testing.T) {
	r := NewReplicates(2)
	line := make([]float64, Kept)
	for i := range line {
		line[i] = 100 + float64(i)/Kept
	}
	for i := range 2 {
		r.Of(i).Add(line)
	}
	e := r.Percentile(0.5)
	if out := r.Pooled().Rounding() * e.Value; !(out > 0) || e.Low > e.Value-out || e.High < e.Value+out || e.Error < out {
		t.Errorf("%+v, rounded by %v", e, out)
	}
	if e.Low > 100.5 || e.High < 100.5 {
		t.Errorf("%+v does not hold 100.5", e)
	}
}
