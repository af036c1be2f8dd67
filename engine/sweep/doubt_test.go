package sweep_test

import (
	"context"
	"fmt"
	"math"
	"testing"
	"testing/fstest"

	"bankwright/engine"
	"bankwright/engine/sweep"
)

// TestDoubt: with normal prices the lead is normal as well: its mean, its spread, the
// probability that small is best and the shares of the variance follow from their
// sums (probability: Φ(mean / deviation)).
func TestDoubt(t *testing.T) {
	m := kiln(t, `[doubt.prices]
samples = 16384
inputs  = [
  { input = "kiln.small.price", normal = ["100 EUR", "10 EUR"] },
  { input = "kiln.large.price", normal = ["250 EUR", "20 EUR"] },
  { input = "shop.years", normal = ["10 year", "2 year"] },
]`)
	out, err := sweep.Doubt(context.Background(), m.Program, m.Result, m.Doubts[0], m.Kind("kiln").Item("small"))
	if err != nil {
		t.Fatal(err)
	}
	deviation := math.Sqrt(10*10 + 20*20 + 10*2*10*2)
	want := 0.5 * math.Erfc(-50/deviation/math.Sqrt2)
	small, large, long := out.Items[0], out.Items[1], out.Items[2]
	if math.Abs(small.Best.Value-want) > 0.002 || math.Abs(small.Best.Value-want) > 5*small.Best.Error+1e-4 {
		t.Errorf("small is best with %+v, not %.4f", small.Best, want)
	}
	if math.Abs(small.Best.Value+large.Best.Value-1) > 1e-12 || long.Best.Value != 0 || long.Passes.Value != 0 || small.Passes.Value != 1 || out.None.Value != 0 {
		t.Errorf("%+v", out.Items)
	}
	lead := out.Lead.Pooled()
	if math.Abs(lead.Mean()-50) > 0.05 || math.Abs(lead.Deviation()-deviation) > 0.1 {
		t.Errorf("the lead is %v ± %v, not 50 ± %v", lead.Mean(), lead.Deviation(), deviation)
	}
	if p := small.Figure.Percentile(0.95).Value; math.Abs(p-(400+1.6448536*math.Sqrt(100+3600))) > 0.5 {
		t.Errorf("95 %% of small lie below %v", p)
	}
	for i, share := range []float64{100, 400, 400} {
		s := out.Shares[i]
		if math.Abs(s.LeadFirst.Value-share/900) > 0.02 || math.Abs(s.LeadTotal.Value-share/900) > 0.02 {
			t.Errorf("input %d has %+v of the lead's variance, not %v", i, s, share/900)
		}
	}
	for i, share := range []float64{100, 0, 3600} {
		if s := out.Shares[i]; math.Abs(s.First.Value-share/3700) > 0.02 {
			t.Errorf("input %d has %v of the figure's variance, not %v", i, s.First.Value, share/3700)
		}
	}
}

// TestDoubtReplicates: each of the parts in which a doubt is sampled has as many points,
// also where they are so few or so many that blocks of a sweep end within a part.
func TestDoubtReplicates(t *testing.T) {
	for _, each := range []int{100, 700, 1000, 3000} {
		m := kiln(t, fmt.Sprintf(`[doubt.prices]
samples = %d
inputs  = [{ input = "kiln.small.price", normal = ["100 EUR", "10 EUR"] }]`, each*sweep.Replicates))
		out, err := sweep.Doubt(context.Background(), m.Program, m.Result, m.Doubts[0], m.Kind("kiln").Item("small"))
		if err != nil {
			t.Fatal(err)
		}
		for r := range sweep.Replicates {
			if f, lead := out.Items[0].Figure.Of(r).Count(), out.Lead.Of(r).Count(); f != each || lead != each {
				t.Errorf("part %d has %d figures and %d leads, want %d", r, f, lead, each)
			}
		}
	}
}

// ishigami is the function of Ishigami and Homma (1990) with a = 7 and b = 0.1, as a
// comparison of one.
const ishigami = `title = "Ishigami"
standard_rules = false
[rules.kind.wave]
many    = "waves"
compare = { by = "height", best = "highest" }
doc     = "A wave."
[rules.wave.x]
default = 1
doc     = "First."
[rules.wave.y]
default = 1
doc     = "Second."
[rules.wave.z]
default = 1
doc     = "Third."
[rules.wave.height]
formula = "sin(x) + 7 * sin(y) ** 2 + z ** 4 * sin(x) / 10"
doc     = "How high it is."
[wave.one]
[wave.two]
x = -1
[doubt.all]
samples = 32768
inputs  = [
  { input = "wave.one.x", uniform = [-3.141592653589793, 3.141592653589793] },
  { input = "wave.one.y", uniform = [-3.141592653589793, 3.141592653589793] },
  { input = "wave.one.z", uniform = [-3.141592653589793, 3.141592653589793] },
]
`

// TestShares: shares of the variance of a published function, through rules and
// engine. Analytic values: Saltelli and others, Global Sensitivity Analysis, the
// Primer (2008); they must lie within the stated bounds.
func TestShares(t *testing.T) {
	m, list, _ := engine.Load(engine.Sources{Files: fstest.MapFS{"i.toml": {Data: []byte(ishigami)}}, Scenario: "i.toml"})
	if m == nil {
		t.Fatal(list)
	}
	out, err := sweep.Doubt(context.Background(), m.Program, m.Result, m.Doubts[0], 0)
	if err != nil {
		t.Fatal(err)
	}
	a, b, pi := 7.0, 0.1, math.Pi
	v1 := 0.5 * math.Pow(1+b*math.Pow(pi, 4)/5, 2)
	v2 := a * a / 8
	v13 := b * b * math.Pow(pi, 8) * (1.0/18 - 1.0/50)
	v := v1 + v2 + v13
	for i, want := range [][2]float64{{v1 / v, (v1 + v13) / v}, {v2 / v, v2 / v}, {0, v13 / v}} {
		s := out.Shares[i]
		for j, e := range []struct{ value, low, high, want float64 }{{s.First.Value, s.First.Low, s.First.High, want[0]}, {s.Total.Value, s.Total.Low, s.Total.High, want[1]}} {
			if e.high-e.low > 0.05 || e.want < e.low-1e-12 || e.want > e.high+1e-12 {
				t.Errorf("input %d, share %d: %.4f (%.4f to %.4f), analytic %.4f", i, j, e.value, e.low, e.high, e.want)
			}
		}
	}
	if mean := out.Items[0].Figure.Mean(); math.Abs(mean.Value-a/2) > 1e-3 {
		t.Errorf("mean %v, analytic %v", mean.Value, a/2)
	}
}

// TestDoubtFromTrials: the mean that trials leave open is spread as Student's t with
// the deviation over the root of their number (GUM supplement 1, 6.4.9); 95 % of t with
// 3 degrees of freedom lie below 2.353363, as published tables say. What is cut off
// at 0 is less than 1e-5.
func TestDoubtFromTrials(t *testing.T) {
	m := kiln(t, `[rules.shop.tried]
unit    = "money"
default = "100 EUR"
doc     = "Mean of trials."
[rules.shop.spread]
unit    = "money"
default = "5 EUR"
doc     = "Their deviation."
[rules.shop.trials]
default = 4
doc     = "How many."
[doubt.price]
samples = 16384
inputs  = [{ input = "kiln.small.price", trials = { mean = "shop.tried", deviation = "shop.spread", count = "shop.trials" } }]`)
	out, err := sweep.Doubt(context.Background(), m.Program, m.Result, m.Doubts[0], 0)
	if err != nil {
		t.Fatal(err)
	}
	for share, want := range map[float64]float64{0.05: 400 - 2.353363*5/2, 0.5: 400, 0.95: 400 + 2.353363*5/2} {
		if p := out.Items[0].Figure.Percentile(share).Value; math.Abs(p-want) > 0.02 {
			t.Errorf("%v lie below %v, not %v", share, p, want)
		}
	}
}

// TestTrialsAreWhole: a count that is no whole number is told, not cut off.
func TestTrialsAreWhole(t *testing.T) {
	for count, want := range map[string]string{
		"3.9": "shop.trials is 3.9, but trials are counted in whole numbers, so that small.price cannot be drawn from them",
		"1":   "small.price: the spread of items is known from 2 of them or more, not from 1",
		"2":   "",
	} {
		m := kiln(t, `[rules.shop.tried]
unit    = "money"
default = "100 EUR"
doc     = "Mean of trials."
[rules.shop.spread]
unit    = "money"
default = "5 EUR"
doc     = "Their deviation."
[rules.shop.trials]
default = `+count+`
doc     = "How many."
[doubt.price]
samples = 16
inputs  = [{ input = "kiln.small.price", trials = { mean = "shop.tried", deviation = "shop.spread", count = "shop.trials" } }]`)
		got := ""
		if _, err := sweep.Doubt(context.Background(), m.Program, m.Result, m.Doubts[0], 0); err != nil {
			got = err.Error()
		}
		if got != want {
			t.Errorf("%s trials: %q, want %q", count, got, want)
		}
	}
}
