package main

import (
	"math"
	"testing"
)

// bounds is a figure with its bounds, as sweep --json has it.
type bounds struct{ Value, Low, High *float64 }

// crossing is where two items have the same figure, as sweep --json has it.
type crossing struct {
	At           float64
	How          string
	Below, Above *string
	Figure       *float64
}

// axisDoc is an axis as sweep --json has it.
type axisDoc struct {
	Inputs  []string
	Unit    *string
	Factors bool
	Values  []any
}

// studies is the document of sweep --json.
type studies struct {
	Scenario, Currency, Decides, Unit string

	Best   *string
	Sweeps []struct {
		Name, Title string
		Axes        []axisDoc
		Points      int
		Wins        []struct {
			Name   string
			Points int
		}
		Best    []*string
		Figures []struct {
			Name   string
			Values []*float64
			Passes []bool
		}
		Cells []struct {
			Cell        string
			Unit        *string
			Least, Most any
			Values      []any
		}
	}
	Doubts []struct {
		Name, Title   string
		Samples, Seed int
		Inputs        []struct {
			Cell, Unit, Distribution string
			Parameters               []float64
		}
		Correlated []struct {
			Inputs []string
			By     float64
		}
		Items []struct {
			Name                             string
			Best, Passes, Mean, P5, P50, P95 bounds
		}
		None   bounds
		Winner string
		Shares []struct {
			Input        string
			Figure, Lead struct{ First, Total bounds }
		}
		NoShares string `json:"no_shares"`
	}
	BreakEvens []struct {
		Name, Title     string
		Between         []string
		Input, Unit     string
		Given, From, To float64
		LookedAt        int `json:"looked_at"`
		Over            *axisDoc
		Rows            []struct {
			Crossings []crossing
			More      bool
			GapFrom   *float64 `json:"gap_from"`
			GapTo     *float64 `json:"gap_to"`
		}
	} `json:"break_evens"`
	Matters *struct {
		By           float64
		Winner       string
		Figure, Lead *float64
		Inputs       []struct {
			Cell             string
			Unit             *string
			Low, Given, High float64
			FigureLow        *float64 `json:"figure_low"`
			FigureHigh       *float64 `json:"figure_high"`
			LeadLow          *float64 `json:"lead_low"`
			LeadHigh         *float64 `json:"lead_high"`
			BestLow          *string  `json:"best_low"`
			BestHigh         *string  `json:"best_high"`
		}
	}
}

// TestSweepDocument: one document with all that sweep shows, of every scenario, and
// what it says agrees with itself and with compare.
func TestSweepDocument(t *testing.T) {
	var d studies
	document(t, &d, "sweep", "--samples", "1000")
	var a answer
	document(t, &a, "compare")
	if len(d.Sweeps) != 1 || len(d.Doubts) != 1 || len(d.BreakEvens) != 2 || d.Matters == nil {
		t.Fatalf("%d sweeps, %d doubts, %d break-evens", len(d.Sweeps), len(d.Doubts), len(d.BreakEvens))
	}
	if d.Best == nil || *d.Best != *a.Best || d.Decides != a.Decides || d.Matters.Winner != *a.Best {
		t.Errorf("best %v by %s, but compare says %s by %s", d.Best, d.Decides, *a.Best, a.Decides)
	}
	figure := a.figure(t, *a.Best, a.Decides, d.Unit)
	agree(t, "the figure of the best", *d.Matters.Figure, figure, 1e-12)

	d.sweepAgrees(t, &a)
	d.breakEvensAgree(t)
	d.doubtAgrees(t)
	for _, x := range d.Matters.Inputs {
		if !(x.Low <= x.Given && x.Given <= x.High) {
			t.Errorf("%s goes from %v by %v to %v", x.Cell, x.Low, x.Given, x.High)
		}
	}
}

// sweepAgrees holds the grid against itself, and against compare where it is as given.
func (d *studies) sweepAgrees(t *testing.T, a *answer) {
	t.Helper()
	s := d.Sweeps[0]
	points := 1
	for _, x := range s.Axes {
		points *= len(x.Values)
	}
	if points != s.Points || len(s.Best) != points || len(s.Figures) != len(a.Alternatives) {
		t.Fatalf("%d points, %d of them said, of %d items", s.Points, len(s.Best), len(s.Figures))
	}
	wins := map[string]int{}
	for _, b := range s.Best {
		wins[*b]++
	}
	for i, w := range s.Wins {
		if wins[w.Name] != w.Points || s.Figures[i].Name != w.Name || len(s.Figures[i].Values) != points || len(s.Figures[i].Passes) != points {
			t.Errorf("%s: %d wins, but is best at %d points", w.Name, w.Points, wins[w.Name])
		}
	}
	// The last axis runs fastest: at 80 % and 1,050 USD, as given, all is as compare has it.
	at := 0
	for _, x := range s.Axes {
		given := map[string]float64{"site.depth_of_discharge": 80, "battery.oak.price": 1050}[x.Inputs[0]]
		for i, v := range x.Values {
			if math.Abs(v.(float64)-given) < 1e-9 {
				at = at*len(x.Values) + i
			}
		}
	}
	for _, f := range s.Figures {
		agree(t, f.Name+" as given", *f.Values[at], a.figure(t, f.Name, a.Decides, d.Unit), 1e-12)
	}
}

// breakEvensAgree solves the scenario anew at a break-even.
func (d *studies) breakEvensAgree(t *testing.T) {
	t.Helper()
	even := d.BreakEvens[0]
	if c := even.Rows[0].Crossings; len(c) != 1 || c[0].How != "level" || *c[0].Below != "one_oak" || *c[0].Above != "three_ash" {
		t.Fatalf("crossings %+v", c)
	}
	// With oak at that price, compare has both level.
	m := solvedText(t, edited(defaultScenario(t), "battery.oak: price = "+justSo(even.Rows[0].Crossings[0].At, "USD")))
	agree(t, "three_ash", held(t, m, "alternative.three_ash.lifetime_cost_per_energy", d.Unit), held(t, m, "alternative.one_oak.lifetime_cost_per_energy", d.Unit), 1e-9)
	if over := d.BreakEvens[1]; over.Over == nil || len(over.Rows) != len(over.Over.Values) {
		t.Errorf("a break-even over a second input has %d rows", len(over.Rows))
	}
}

// doubtAgrees holds the chances and figures of a doubt against each other.
func (d *studies) doubtAgrees(t *testing.T) {
	t.Helper()
	doubt := d.Doubts[0]
	total := *doubt.None.Value
	for _, it := range doubt.Items {
		total += *it.Best.Value
		if !(*it.P5.Value < *it.P50.Value && *it.P50.Value < *it.P95.Value) || !(*it.Best.Low <= *it.Best.Value && *it.Best.Value <= *it.Best.High) {
			t.Errorf("%s: figures or bounds out of order: %+v", it.Name, it)
		}
	}
	agree(t, "chances together", total, 1, 1e-12)
	if doubt.Shares != nil || doubt.NoShares == "" {
		t.Error("correlated inputs have no shares, and it is said why")
	}
}
