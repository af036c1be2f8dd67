package engine_test

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"
	"testing/fstest"

	"bankwright/engine"
	"bankwright/engine/check"
	"bankwright/engine/decl"
	"bankwright/engine/sample"
)

// studied is a scenario with a price to vary, a limit, a choice, a truth, a
// reference, a series and trials.
const studied = `
title = "Studies"
currency = "EUR"
standard_rules = false
[rules.kind.plank]
many = "planks"
doc = "A plank."
[rules.kind.shelf]
many = "shelves"
compare = { by = "price", best = "lowest", show = ["boards"] }
doc = "A shelf."
[rules.kind.shop]
doc = "The shop."
[rules.axis.season]
steps = 4
doc = "Seasons."
[rules.plank.cost]
unit = "money"
min = "0 money"
doc = "Cost."
[rules.plank.trial]
unit = "money"
formula = "cost * 2"
doc = "Mean of trials."
[rules.plank.spread]
unit = "money"
formula = "cost * 0.1"
doc = "Deviation of trials."
[rules.shelf.plank]
refers = "plank"
doc = "What it is made of."
[rules.shelf.boards]
default = 3
whole = true
doc = "Boards."
[rules.shelf.finish]
choices = ["raw", "oiled", "waxed"]
default = "raw"
doc = "Finish."
[rules.shelf.fixed]
type = "boolean"
default = true
doc = "Fixed to the wall."
[rules.shelf.price]
unit = "money"
formula = "plank.cost * boards * (finish == \"raw\" ? 1 : 2) * shop.sold_mean * (fixed ? 1 : 0.9) * (1 + shop.share)"
doc = "Price."
[rules.shop.share]
unit = "%%"
default = "10 %%"
max = "60 %%"
doc = "Share."
[rules.shop.warm]
unit = "°C"
default = "20 °C"
doc = "Temperature."
[rules.shop.trials]
default = 4
doc = "Trials."
[rules.shop.sold]
over = "season"
default = [1, 2, 3, 4]
doc = "Sold."
[rules.shop.sold_mean]
formula = "mean(sold)"
doc = "Mean."
[plank.oak]
cost = "20 EUR"
[plank.ash]
cost = "= 0.5 * planks.oak.cost"
[shelf.one]
plank = "oak"
[shelf.two]
plank = "ash"
[shelf.three]
plank = "ash"
boards = 2
%s
`

func study(t *testing.T, text string) *engine.Model {
	t.Helper()
	return loadText(t, fmt.Sprintf(studied, text))
}

// TestAxes: values are in base units, both ends are met to the last bit, and
// steps are named in the unit of the input.
func TestAxes(t *testing.T) {
	for _, c := range []struct {
		vary    string
		input   string
		scaled  bool
		values  []float64
		written string
	}{
		{`input = "plank.oak.cost", from = "5 EUR", to = "9 EUR", points = 5`, "plank.oak.cost", false, []float64{5, 6, 7, 8, 9}, "5 EUR, 6 EUR, 7 EUR, 8 EUR, 9 EUR"},
		{`input = "oak.cost", from = "5 EUR", to = "9 EUR", step = "2 EUR"`, "plank.oak.cost", false, []float64{5, 7, 9}, "5 EUR, 7 EUR, 9 EUR"},
		{`input = "plank.ash.cost", from = "0 EUR", to = "1 EUR", step = "0.3 EUR"`, "plank.ash.cost", false, []float64{0, 0.3, 0.6, math.Nextafter(0.9, 0)}, "0.000 EUR, 0.300 EUR, 0.600 EUR, 0.900 EUR"},
		{`input = "shop.share", from = "10 %", to = "60 %", points = 6`, "shop.share", false, []float64{0.1, 0.2, 0.3, 0.4, 0.5, 0.6}, "10 %, 20 %, 30 %, 40 %, 50 %, 60 %"},
		{`input = "shop.share", from = "5 %", to = "35 %", points = 4`, "shop.share", false, []float64{0.05, 0.15, 0.25, 0.35}, "5 %, 15 %, 25 %, 35 %"},
		{`input = "shop.share", from = "10 %", to = "60 %", step = "10 %"`, "shop.share", false, []float64{0.1, 0.2, 0.3, 0.4, 0.5, 0.6}, "10 %, 20 %, 30 %, 40 %, 50 %, 60 %"},
		{`input = "shop.warm", from = "50 °F", to = "25 °C", step = "5 K"`, "shop.warm", false, []float64{10, 15, 20, 25}, "10 °C, 15 °C, 20 °C, 25 °C"},
		{`input = "shop.sold[3]", values = [7, 2]`, "shop.sold[3]", false, []float64{7, 2}, "7, 2"},
		{`input = "shelf.one.boards", from = 1, to = 3, points = 3`, "shelf.one.boards", false, []float64{1, 2, 3}, "1, 2, 3"},
		{`input = "shelf.one.plank", values = ["ash", "oak"]`, "shelf.one.plank", false, []float64{1, 0}, "ash, oak"},
		{`input = "shelf.one.fixed", values = [true, false]`, "shelf.one.fixed", false, []float64{1, 0}, "yes, no"},
		{`inputs = ["plank.oak.cost", "plank.ash.cost"], by = ["80 %", "100 %", "150 %"]`, "plank.oak.cost", true, []float64{0.8, 1, 1.5}, "80 %, 100 %, 150 %"},
		{`inputs = ["plank.oak.cost", "plank.ash.cost"], from = "50 %", to = "150 %", points = 3`, "plank.oak.cost", true, []float64{0.5, 1, 1.5}, "50 %, 100 %, 150 %"},
		{`input = "plank.oak.cost", by = ["80 %", "120 %"]`, "plank.oak.cost", true, []float64{0.8, 1.2}, "80 %, 120 %"},
	} {
		m := study(t, "[sweep.x]\nvary = [{ "+c.vary+" }]")
		a := m.Sweeps[0].Axes[0]
		if got := m.CellName(a.Inputs[0]); got != c.input || a.Relative != c.scaled {
			t.Errorf("%s: varies %s, scaled %v", c.vary, got, a.Relative)
		}
		if got := strings.Join(stepNames(a), ", "); got != c.written {
			t.Errorf("%s: written %s, want %s", c.vary, got, c.written)
		}
		if last := len(c.values) - 1; !near(a.Values, c.values) || a.Values[0] != c.values[0] || a.Values[last] != c.values[last] {
			t.Errorf("%s: %v, want %v", c.vary, a.Values, c.values)
		}
		if a.Steps() != len(c.values) || strings.HasPrefix(c.vary, "inputs") != (len(a.Inputs) == 2) {
			t.Errorf("%s: %d steps of %d inputs", c.vary, a.Steps(), len(a.Inputs))
		}
	}
}

func near(a, b []float64) bool {
	return slices.EqualFunc(a, b, func(x, y float64) bool { return math.Abs(x-y) <= 1e-15*math.Abs(y) })
}

// TestFinish: a text takes its index among the texts of the program.
func TestFinish(t *testing.T) {
	m := study(t, `[sweep.x]
vary = [{ input = "shelf.one.finish", values = ["waxed", "raw"] }]`)
	a := m.Sweeps[0].Axes[0]
	for i, want := range []string{"waxed", "raw"} {
		if got := m.Texts[int(a.Values[i])]; got != want || a.Written(i) != want {
			t.Errorf("step %d is %s, written %s", i, got, a.Written(i))
		}
	}
}

func TestShow(t *testing.T) {
	for _, c := range []struct{ show, want string }{
		{``, "shelf.one.price shelf.two.price shelf.three.price"},
		{`show = "boards"`, "shelf.one.boards shelf.two.boards shelf.three.boards"},
		{`show = ["shelf.fixed", "plank.oak.cost", "shop.sold[2]", "two.price"]`, "shelf.one.fixed shelf.two.fixed shelf.three.fixed plank.oak.cost shop.sold[2] shelf.two.price"},
	} {
		m := study(t, "[sweep.x]\n"+c.show+"\n"+`vary = [{ input = "shop.share", values = ["1 %"] }]`)
		var names []string
		for _, cell := range m.Sweeps[0].Show {
			names = append(names, m.CellName(cell))
		}
		if got := strings.Join(names, " "); got != c.want {
			t.Errorf("%s shows %s, want %s", c.show, got, c.want)
		}
	}
}

// TestDoubt: parameters are in base units, limits are those of the quantity,
// and the matrix is symmetric with ones on its diagonal.
func TestDoubt(t *testing.T) {
	m := study(t, `[doubt.market]
inputs = [
  { input = "plank.oak.cost", triangular = ["10 EUR", "20 EUR", "20 EUR"] },
  { input = "shop.share", uniform = ["5 %", "20 %"] },
  { input = "shop.warm", normal = ["68 °F", "2 K"] },
  { input = "shop.sold[1]", lognormal = [2, "25 %"] },
  { input = "plank.ash.cost", trials = { mean = "plank.ash.trial", deviation = "plank.oak.spread", count = "shop.trials" } },
]
correlated = [{ inputs = ["shop.share", "plank.oak.cost"], by = 0.7 }]
[doubt.alone]
seed = 5
samples = 100
inputs = [{ input = "plank.oak.cost", normal = ["10 EUR", "2 EUR"] }]`)
	d := m.Doubts[0]
	if d.Samples != 8192 || d.Seed != 1 || m.Doubts[1].Samples != 100 || m.Doubts[1].Seed != 5 || m.Doubts[1].Ties != nil {
		t.Errorf("%+v %+v", d.Doubt, m.Doubts[1])
	}
	inf := math.Inf(1)
	for i, c := range []struct {
		kind     decl.DistKind
		params   []float64
		min, max float64
	}{
		{decl.Triangular, []float64{10, 20, 20}, 0, inf},
		{decl.Uniform, []float64{0.05, 0.2}, -inf, 0.6},
		{decl.Normal, []float64{20, 2}, -inf, inf},
		{decl.Lognormal, []float64{2, 0.25}, -inf, inf},
		{decl.Trials, nil, 0, inf},
	} {
		u := d.Inputs[i]
		if u.Kind != c.kind || !near(u.Params, c.params) || u.Min != c.min || u.Max != c.max {
			t.Errorf("%d: %+v", i, u)
		}
	}
	var cells []string
	for _, c := range d.Inputs[4].Cells {
		cells = append(cells, m.CellName(c))
	}
	if got := strings.Join(cells, " "); got != "plank.ash.trial plank.oak.spread shop.trials" {
		t.Errorf("trials read %s", got)
	}
	u := [][]float64{{0.9}, {0.5}, {0.5}, {0.5}, {0.5}}
	d.Ties.Apply(u) // the second is drawn up by the first, the others stay
	if want := sample.NormalCDF(0.7 * sample.NormalQuantile(0.9)); math.Abs(u[1][0]-want) > 1e-12 || u[0][0] != 0.9 || u[2][0] != 0.5 {
		t.Errorf("correlated: %v, the second should be %v", u, want)
	}
}

func TestBreakEven(t *testing.T) {
	m := study(t, `[break_even.a]
input = "plank.oak.cost"
from = "1 EUR"
to = "30 EUR"
[break_even.b]
between = ["three", "one"]
input = "plank.oak.cost"
from = "1 EUR"
to = "30 EUR"
over = { input = "shop.share", values = ["1 %", "2 %"] }`)
	a, b := m.BreakEvens[0], m.BreakEvens[1]
	if a.Between != nil || a.Over != nil || m.CellName(a.Input) != "plank.oak.cost" || a.From != 1 || a.To != 30 {
		t.Errorf("%+v", a)
	}
	if !slices.Equal(b.Between, []int{2, 0}) || b.Over.Steps() != 2 {
		t.Errorf("%+v", b)
	}
}

// TestOnlyKeepsStudies: with a few items, those that studies name stay, and the
// studies mean the same.
func TestOnlyKeepsStudies(t *testing.T) {
	m := study(t, `[sweep.x]
show = ["shelf.price", "shelf.two.boards"]
vary = [{ input = "plank.oak.cost", values = ["1 EUR"] }]
[break_even.y]
between = ["four_1", "two"]
input = "plank.oak.cost"
from = "1 EUR"
to = "30 EUR"
[shelf.four]
plank = "oak"
each = { boards = [4, 5] }
keep = "boards < 5"`)
	few, err := m.Only([]string{"three"})
	if err != nil {
		t.Fatal(err)
	}
	if got := strings.Join(few.Compared().ItemNames(), " "); got != "two three four_1" {
		t.Errorf("left are %s", got)
	}
	if got := few.BreakEvens[0].Between; !slices.Equal(got, []int{2, 0}) {
		t.Errorf("between %v", got)
	}
	if got := len(few.Sweeps[0].Show); got != 4 {
		t.Errorf("%d cells are shown", got)
	}
}

// TestManyStudies: more values than a file may ask for are refused, which is told once.
func TestManyStudies(t *testing.T) {
	var b strings.Builder
	for i := range 90 {
		fmt.Fprintf(&b, "[sweep.x%d]\nvary = [{ input = \"shop.share\", from = \"1 %%\", to = \"2 %%\", points = 1000000 }]\n", i)
	}
	m, list, _ := engine.Load(engine.Sources{Files: fstest.MapFS{"s.toml": {Data: []byte(fmt.Sprintf(studied, b.String()))}}, Scenario: "s.toml"})
	if m != nil || len(list) != 1 || list[0].Code != "limit" {
		t.Errorf("%v", list)
	}
}

// stepNames are the steps of an axis as they are written.
func stepNames(a *check.Axis) (out []string) {
	for step := range a.Steps() {
		out = append(out, a.Written(step))
	}
	return out
}
