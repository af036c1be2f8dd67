package sweep_test

import (
	"context"
	"fmt"
	"math"
	"strings"
	"testing"
	"testing/fstest"

	"bankwright/engine"
	"bankwright/engine/eval"
	"bankwright/engine/sweep"
)

// kilns: which of three costs least over the years. Only figures that can be worked
// out by hand.
const kilns = `title = "Kilns"
currency = "EUR"
standard_rules = false
[rules.kind.kiln]
many    = "kilns"
compare = { by = "cost", best = "lowest", watch = ["price", "shop.years"] }
doc     = "A kiln."
[rules.kind.shop]
doc = "The shop."
[rules.shop.years]
unit = "year"
min  = "0 year"
max  = "50 year"
doc  = "How long they are used."
[rules.shop.room]
unit    = "m"
default = "2 m"
doc     = "Room for one."
[rules.kiln.price]
unit = "money"
min  = "0 EUR"
doc  = "Price."
[rules.kiln.fuel]
unit = "money/year"
doc  = "Fuel."
[rules.kiln.length]
unit = "m"
doc  = "Length."
[rules.kiln.depth]
unit     = "m"
optional = true
doc      = "Depth, of the small one only: what it is of the others stops none of them."
[rules.kiln.cost]
unit    = "money"
formula = "price + fuel * shop.years"
doc     = "What it costs."
[rules.check.room]
of        = "kiln"
severity  = "stop"
require   = "length <= shop.room"
otherwise = "It is {length} long."
[rules.check.deep]
of        = "kiln"
severity  = "stop"
require   = "depth <= shop.room"
otherwise = "It is {depth} deep."
[shop]
years = "10 year"
[kiln.small]
price  = "100 EUR"
fuel   = "30 EUR/year"
length = "1 m"
depth  = "0.8 m"
[kiln.large]
price  = "250 EUR"
fuel   = "20 EUR/year"
length = "1.5 m"
[kiln.long]
price  = "50 EUR"
fuel   = "10 EUR/year"
length = "3 m"
`

func kiln(t *testing.T, more string) *engine.Model {
	t.Helper()
	m, list, _ := engine.Load(engine.Sources{Files: fstest.MapFS{"kilns.toml": {Data: []byte(kilns + more)}}, Scenario: "kilns.toml"})
	if m == nil {
		t.Fatal(list)
	}
	return m
}

func cell(t *testing.T, m *engine.Model, name string) eval.Cell {
	t.Helper()
	c, err := m.ParseCell(name)
	if err != nil {
		t.Fatal(err)
	}
	return c
}

// TestGridBest: who is best at every point of a grid is who a comparison finds best
// with these inputs, ties, items that may not be best and none at all among them.
func TestGridBest(t *testing.T) {
	m := kiln(t, `[sweep.all]
vary = [
  { input = "shop.years", from = "0 year", to = "30 year", points = 31 },
  { input = "shop.room", values = ["0.5 m", "1 m", "2 m", "3 m"] },
  { input = "kiln.large.price", from = "0 EUR", to = "400 EUR", points = 41 },
]`)
	s := m.Sweeps[0]
	g, err := sweep.NewGrid(m.Program, m.Result, s.Axes, s.Show)
	if err != nil {
		t.Fatal(err)
	}
	if g.Axes[2] != s.Axes[2] || g.Points() != 31*4*41 {
		t.Fatalf("%d points, the last axis is %v", g.Points(), g.Axes[2].Inputs)
	}
	machine := eval.New(m.Program)
	steps := make([]int, 3)
	seen := map[int]int{}
	for k := 1; k <= 3; k++ { // in three parts, as one
		from, to := g.Part(k, 3)
		err := g.Run(context.Background(), from, to, func(r *sweep.Run) error {
			for i := range r.N {
				r.Steps(i, steps)
				var changes []eval.Change
				for a, ax := range g.Axes {
					c := ax.Inputs[0]
					changes = append(changes, eval.Change{Quantity: c.Quantity, Item: c.Item, Value: g.Input(a, 0, steps[a])})
				}
				one := *m
				one.Result = machine.Run(changes...)
				want := sweep.None
				if best, ok := one.Compare().Best(); ok {
					want = best.Item
				}
				if r.Best[i] != want {
					t.Fatalf("point %d: %d is best, a comparison says %d", r.First+i, r.Best[i], want)
				}
				seen[want]++
			}
			return nil
		})
		if err != nil {
			t.Fatal(err)
		}
	}
	total := 0
	for _, n := range seen {
		total += n
	}
	if len(seen) != 4 || total != g.Points() {
		t.Errorf("winners %v of %d points", seen, g.Points())
	}
}

// TestTies: small and large tie where 100 + 30·years = 250 + 20·years, after 15
// years; over the price of large, where it is 200 + ... by hand.
func TestTies(t *testing.T) {
	m := kiln(t, `[break_even.years]
between = ["small", "large"]
input   = "shop.years"
from    = "0 year"
to      = "50 year"
[break_even.never]
between = ["small", "long"]
input   = "shop.years"
from    = "0 year"
to      = "50 year"
[break_even.price]
between = ["small", "large"]
input   = "kiln.large.price"
from    = "0 EUR"
to      = "1000 EUR"
over    = { input = "shop.years", values = ["10 year", "20 year", "50 year"] }
`)
	run := func(i int) []sweep.Tie {
		b := m.BreakEvens[i]
		ties, err := sweep.Ties(context.Background(), m.Program, m.Result, b.Between[0], b.Between[1], b.Input, b.From, b.To, b.Over)
		if err != nil {
			t.Fatal(err)
		}
		return ties
	}
	year := m.BreakEvens[0].Input.Quantity.Unit
	years := run(0)[0]
	if c := years.Crossings; len(c) != 1 || math.Abs(year.FromBase(c[0].At)-15) > 1e-9*15 || c[0].Before != -1 || c[0].After != 1 || c[0].Jump || c[0].Touch {
		t.Errorf("small and large tie at %+v, not at 15 years", c)
	}
	if math.Abs(years.At[0]-550) > 1e-6 {
		t.Errorf("both cost %v there, not 550", years.At[0])
	}
	if c := run(1)[0].Crossings; len(c) != 0 {
		t.Errorf("small and long tie at %+v, and never do", c)
	}
	for i, want := range []float64{200, 300, 600} {
		c := run(2)[i].Crossings
		if len(c) != 1 || math.Abs(c[0].At-want) > 1e-9*want || c[0].Before != 1 || c[0].After != -1 {
			t.Errorf("price %d: %+v, want %v", i, c, want)
		}
	}
}

// TestMargins: small stays best until it costs 150 EUR (250 + 200 - 300) or is used
// for 15 years; nobody asks for less.
func TestMargins(t *testing.T) {
	m := kiln(t, "")
	c := m.Compare()
	all := m.Margins(c)
	if len(all) != 2 {
		t.Fatalf("%+v", all)
	}
	price, years := all[0], all[1]
	large := c.Kind.Item("large")
	if price.Below.Found || !price.Above.Found || math.Abs(price.Above.At-150) > 0.05 || price.Above.Best != large {
		t.Errorf("price: %+v", price)
	}
	if u := years.Cell.Quantity.Unit; years.Below.Found || !years.Above.Found || math.Abs(u.FromBase(years.Above.At)-15) > 0.005 || years.Above.Best != large {
		t.Errorf("years: %+v", years)
	}
}

// TestOneAtATime: ten percent of each input, by hand.
func TestOneAtATime(t *testing.T) { oneAtATime(t, t.Context(), kiln(t, "")) }

// TestOneAtATimeOfMany: so many dear kilns beside the others that not all inputs are moved
// in one sweep change nothing, and moving theirs neither.
func TestOneAtATimeOfMany(t *testing.T) {
	var more strings.Builder
	for i := range 400 {
		fmt.Fprintf(&more, "[kiln.dear%d]\nprice = \"9000 EUR\"\nfuel = \"%d EUR/year\"\nlength = \"1 m\"\n", i, 90+i)
	}
	m := kiln(t, more.String())
	done, total := 0, 0
	e := oneAtATime(t, sweep.WithProgress(t.Context(), func(d, all int) { done, total = d, all }), m)
	if done != total {
		t.Errorf("it ended at %d of %d", done, total)
	}
	if len(e.All) < 1200 {
		t.Errorf("%d inputs are moved", len(e.All))
	}
	seen := map[eval.Cell]bool{}
	for _, x := range e.All {
		if seen[x.Cell] = true; strings.Contains(m.CellName(x.Cell), "dear") && (x.FigureLow != 400 || x.FigureHigh != 400 || x.LeadLow != 50 || x.LeadHigh != 50) {
			t.Fatalf("%s: %+v", m.CellName(x.Cell), x)
		}
	}
	if len(seen) != len(e.All) {
		t.Errorf("of %d inputs %d are others", len(e.All), len(seen))
	}
}

func oneAtATime(t *testing.T, ctx context.Context, m *engine.Model) *sweep.Effects {
	t.Helper()
	e, err := sweep.OneAtATime(ctx, m.Program, m.Result, m.Kind("kiln").Item("small"), sweep.Around(m.Program, m.Result, 0.1))
	if err != nil {
		t.Fatal(err)
	}
	if e.Figure != 400 || e.Lead != 50 {
		t.Errorf("small costs %v and leads by %v, not 400 and 50", e.Figure, e.Lead)
	}
	for _, want := range []struct {
		cell                    string
		low, high, lead1, lead2 float64
	}{
		{"shop.years", 370, 430, 60, 40},
		{"kiln.small.fuel", 370, 430, 80, 20},
		{"kiln.small.price", 390, 410, 60, 40},
		{"kiln.large.price", 400, 400, 25, 75},
		{"kiln.large.fuel", 400, 400, 30, 70},
	} {
		c := cell(t, m, want.cell)
		found := false
		for _, x := range e.All {
			if x.Cell != c {
				continue
			}
			found = true
			for _, v := range [][2]float64{{x.FigureLow, want.low}, {x.FigureHigh, want.high}, {x.LeadLow, want.lead1}, {x.LeadHigh, want.lead2}} {
				if math.Abs(v[0]-v[1]) > 1e-9 {
					t.Errorf("%s: %+v, want %+v", want.cell, x, want)
					break
				}
			}
		}
		if !found {
			t.Errorf("%s is not moved", want.cell)
		}
	}
	if first := m.CellName(e.All[0].Cell); first != "shop.years" && first != "kiln.small.fuel" {
		t.Errorf("%s comes first", first)
	}
	return e
}

// TestAllFail: an end at which all fail, though one passes with nothing moved, has no effect
// on the figure and does not win the ranking; where none passes at all, ends count.
func TestAllFail(t *testing.T) {
	const rule = `
[rules.check.long]
of        = "kiln"
severity  = "stop"
require   = "shop.years >= 9.5 * shop.one_year"
otherwise = "Too short."
[rules.shop.one_year]
unit    = "year"
default = "1 year"
doc     = "A year."
`
	for _, c := range []struct {
		more        string
		first       string
		swing, low  float64
		fails       bool
		figureAtLow bool
	}{
		{rule, "kiln.small.fuel", 60, 370, false, true},
		{rule, "shop.years", 30, 370, true, false},
		{"", "shop.years", 60, 370, false, true},
	} {
		m := kiln(t, c.more)
		e, err := sweep.OneAtATime(context.Background(), m.Program, m.Result, m.Kind("kiln").Item("small"), sweep.Around(m.Program, m.Result, 0.1))
		if err != nil {
			t.Fatal(err)
		}
		for _, x := range e.All {
			if m.CellName(x.Cell) != c.first {
				continue
			}
			fails, _ := x.AllFail()
			low, _ := x.Figures()
			if math.Abs(x.Swing()-c.swing) > 1e-9 || math.Abs(x.FigureLow-c.low) > 1e-9 || fails != c.fails || (low == low) != c.figureAtLow {
				t.Errorf("%s: %+v moves it by %g; all fail: %v", c.first, x, x.Swing(), fails)
			}
		}
		if c.more != "" && m.CellName(e.All[0].Cell) != "kiln.small.fuel" {
			t.Errorf("%s comes first", m.CellName(e.All[0].Cell))
		}
	}
}
