package sweep_test

import (
	"context"
	"errors"
	"math"
	"testing"

	"bankwright/engine/sweep"
)

// table evaluates the first sweep of the kilns with one more table.
func table(t *testing.T, text string) *sweep.Table {
	t.Helper()
	m := kiln(t, text)
	s := m.Sweeps[0]
	g, err := sweep.NewGrid(m.Program, m.Result, s.Axes, s.Show)
	if err != nil {
		t.Fatal(err)
	}
	out, err := g.Collect(context.Background())
	if err != nil {
		t.Fatal(err)
	}
	return out
}

// TestTable: what is kept of a grid, by hand: small costs 100 + 30 years, large 250 +
// 20 years; long is too long.
func TestTable(t *testing.T) {
	g := table(t, `[sweep.years]
show = ["kiln.cost", "kiln.price", "shop.room"]
vary = [{ input = "shop.years", values = ["5 year", "20 year"] }, { input = "shop.room", values = ["0.5 m", "1 m", "2 m"] }]`)
	small, large, long := 0, 1, 2
	if g.Points() != 6 || g.Wins[small] != 3 || g.Wins[large] != 1 || g.Wins[long] != 0 || g.Wins[3] != 2 {
		t.Errorf("%d points, wins %v", g.Points(), g.Wins)
	}
	for _, c := range []struct {
		years, room int
		best        int
		large       float64
		passes      bool
	}{{0, 0, sweep.None, 350, false}, {0, 1, small, 350, false}, {0, 2, small, 350, true}, {1, 1, small, 650, false}, {1, 2, large, 650, true}} {
		p := g.Point(c.years, c.room)
		if int(g.Best[p]) != c.best || g.Figure(large, p) != c.large || g.Passed(large, p) != c.passes || g.Passed(long, p) {
			t.Errorf("%+v: best %d, large %v, passes %t", c, g.Best[p], g.Figure(large, p), g.Passed(large, p))
		}
	}
	// Prices of three and the room stand beside the figures, which decide.
	if len(g.Beside) != 4 || g.Low[0] != 100 || g.High[0] != 100 || g.Low[3] != 0.5 || g.High[3] != 2 || g.Value(3, g.Point(1, 1)) != 1 {
		t.Errorf("beside: %d, %v to %v", len(g.Beside), g.Low, g.High)
	}
}

// TestChanges: where another is best between the points of a grid, by hand.
func TestChanges(t *testing.T) {
	for _, c := range []struct {
		name, vary string
		want       []sweep.Change
	}{
		{"years", `{ input = "shop.years", values = ["5 year", "10 year", "40 year"] }`, []sweep.Change{{At: 15 * 8760, Before: 0, After: 1}}},
		{"factors", `{ inputs = ["kiln.small.price"], by = ["50 %", "300 %"] }`, []sweep.Change{{At: 1.5, Before: 0, After: 1}}},
		{"a check", `{ input = "shop.room", from = "0.5 m", to = "4 m", points = 2 }`, []sweep.Change{{At: 1, Before: sweep.None, After: 0}, {At: 3, Before: 0, After: 2}}},
		{"none", `{ input = "kiln.small.price", values = ["1 EUR", "2 EUR"] }`, nil},
	} {
		g := table(t, "[sweep.one]\nvary = ["+c.vary+"]")
		got, err := g.Changes(context.Background(), 0, []int{0})
		if err != nil || len(got) != len(c.want) {
			t.Errorf("%s: %+v, %v", c.name, got, err)
			continue
		}
		for i, x := range got {
			if math.Abs(x.At-c.want[i].At) > 1e-9*c.want[i].At || x.Before != c.want[i].Before || x.After != c.want[i].After {
				t.Errorf("%s: %+v, want %+v", c.name, x, c.want[i])
			}
		}
	}
	// Along one of two axes, at a step of the other: with large for 350 EUR at 25 years.
	g := table(t, `[sweep.two]
vary = [{ input = "kiln.large.price", values = ["250 EUR", "350 EUR"] }, { input = "shop.years", values = ["1 year", "2 year", "30 year"] }]`)
	got, err := g.Changes(context.Background(), 1, []int{1, 0})
	if err != nil || len(got) != 1 || math.Abs(got[0].At/8760-25) > 1e-8 {
		t.Errorf("%+v, %v", got, err)
	}
}

// TestAroundLeavesOut: whole numbers and constants are not moved by a share.
func TestAroundLeavesOut(t *testing.T) {
	m := kiln(t, `[rules.kiln.doors]
whole   = true
default = "2"
doc     = "How many."
[rules.constant.tax]
value = "10 %"
doc   = "A constant."
`)
	for _, r := range sweep.Around(m.Program, m.Result, 0.1) {
		if q := r.Cell.Quantity; q.Name == "doors" || q.Name == "tax" {
			t.Errorf("%s is moved", q.Name)
		}
	}
}

// TestProgress: studies tell of all of their points, and stop when asked to.
func TestProgress(t *testing.T) {
	m := kiln(t, `[sweep.years]
vary = [{ input = "shop.years", from = "1 year", to = "40 year", points = 5000 }]
[doubt.prices]
samples = 5000
inputs  = [{ input = "kiln.small.price", uniform = ["90 EUR", "110 EUR"] }, { input = "kiln.large.price", uniform = ["200 EUR", "300 EUR"] }]
[break_even.years]
between = ["small", "large"]
input   = "shop.years"
from    = "1 year"
to      = "40 year"
over    = { input = "kiln.large.price", from = "200 EUR", to = "300 EUR", points = 5 }`)
	grid, err := sweep.NewGrid(m.Program, m.Result, m.Sweeps[0].Axes, m.Sweeps[0].Show)
	if err != nil {
		t.Fatal(err)
	}
	b := m.BreakEvens[0]
	for name, study := range map[string]func(context.Context) error{
		"grid": func(ctx context.Context) error { _, err := grid.Collect(ctx); return err },
		"doubt": func(ctx context.Context) error {
			_, err := sweep.Doubt(ctx, m.Program, m.Result, m.Doubts[0], 0)
			return err
		},
		"effects": func(ctx context.Context) error {
			_, err := sweep.OneAtATime(ctx, m.Program, m.Result, 0, sweep.Around(m.Program, m.Result, 0.1))
			return err
		},
		"ties": func(ctx context.Context) error {
			_, err := sweep.Ties(ctx, m.Program, m.Result, b.Between[0], b.Between[1], b.Input, b.From, b.To, b.Over)
			return err
		},
	} {
		last, all := 0, 0
		err := study(sweep.WithProgress(context.Background(), func(done, total int) {
			if done < last || done > total || all != 0 && total != all {
				t.Errorf("%s: %d of %d after %d of %d", name, done, total, last, all)
			}
			last, all = done, total
		}))
		if err != nil || last != all || all == 0 {
			t.Errorf("%s ended at %d of %d: %v", name, last, all, err)
		}
		ctx, cancel := context.WithCancel(context.Background())
		last = 0
		err = study(sweep.WithProgress(ctx, func(done, _ int) { last = done; cancel() }))
		if !errors.Is(err, context.Canceled) {
			t.Errorf("%s, cancelled at %d of %d: %v", name, last, all, err)
		}
	}
}
