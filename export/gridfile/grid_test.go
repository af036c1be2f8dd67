package gridfile

import (
	"bytes"
	"testing"
	"testing/fstest"

	"bankwright/engine"
	"bankwright/engine/eval"
	"bankwright/engine/sweep"
)

// shelves is a scenario whose sweeps vary what can be varied: numbers in several
// units, a choice that looks like a formula, a reference, a truth, a step of a series,
// prices scaled together.
const shelves = `
title = "Shelves"
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
unit = "money/m"
min = "0 money/m"
doc = "Cost."
[rules.plank.length]
unit = "cm"
min = "10 cm"
default = "90 cm"
doc = "Length."
[rules.shelf.plank]
refers = "plank"
doc = "What it is made of."
[rules.shelf.boards]
default = 3
whole = true
doc = "Boards."
[rules.shelf.finish]
choices = ["raw", "+oiled", "-\"2\", waxed"]
default = "raw"
doc = "Finish."
[rules.shelf.fixed]
type = "boolean"
default = true
doc = "Fixed to the wall."
[rules.shelf.span]
unit = "cm"
formula = "plank.length / boards"
doc = "Span."
[rules.shelf.price]
unit = "money"
formula = "plank.cost * plank.length * boards * (finish == \"raw\" ? 1 : 1.7) * (fixed ? 1 : 0.9) * (1 + shop.share) * (1 + shop.sold_mean / 7)"
doc = "Price."
[rules.shelf.saved]
unit = "money"
formula = "price < shop.budget ? shop.budget - price : absent"
doc = "What is left of the budget."
[rules.shop.share]
unit = "%"
default = "10 %"
max = "60 %"
doc = "Share."
[rules.shop.warm]
unit = "°C"
default = "20 °C"
doc = "Temperature."
[rules.shop.budget]
unit = "money"
default = "60 money"
doc = "What may be spent."
[rules.shop.sold]
over = "season"
default = [1, 2, 3, 4]
doc = "Sold."
[rules.shop.sold_mean]
formula = "mean(sold)"
doc = "Mean."
[rules.check.within]
of = "shelf"
severity = "unfit"
require = "price <= shop.budget"
otherwise = "It costs too much"
doc = "Within the budget."
[plank.oak]
cost = "21.3 EUR/m"
[plank.ash]
cost = "17.9 EUR/m"
length = "1.1 m"
[shelf.one]
plank = "oak"
[shelf.two]
plank = "ash"
`

// grid is the grid of a sweep of the shelves, and the model that it is of.
func grid(t *testing.T, vary string) (*engine.Model, *sweep.Grid) {
	t.Helper()
	text := shelves + "[sweep.x]\n" + vary
	m, list, _ := engine.Load(engine.Sources{Files: fstest.MapFS{"s.toml": {Data: []byte(text)}}, Scenario: "s.toml"})
	if m == nil {
		t.Fatal(list)
	}
	g, err := sweep.NewGrid(m.Program, m.Result, m.Sweeps[0].Axes, m.Sweeps[0].Show)
	if err != nil {
		t.Fatal(err)
	}
	return m, g
}

// everything is a sweep with a column of every kind.
const everything = `
show = ["saved", "shelf.one.span", "check.within.two", "shelf.one.boards"]
vary = [
  { input = "shelf.one.finish", values = ["+oiled", "raw", "-\"2\", waxed"] },
  { input = "shelf.two.fixed", values = [true, false] },
  { input = "shelf.one.plank", values = ["ash", "oak"] },
  { inputs = ["plank.oak.cost", "plank.ash.cost"], by = ["70 %", "113 %"] },
  { input = "shop.sold[2]", values = [0.1, 1e-9, -3e24] },
  { input = "shop.warm", values = ["-3.3 °C", "80.1 °F"] },
  { input = "plank.oak.length", from = "11 cm", to = "1.7 m", points = 301 },
  { input = "shelf.one.boards", from = 1, to = 3, points = 3 },
]
`

var all = Part{1, 1}

// file is a part of a grid as a file.
func file(t *testing.T, f Format, m *engine.Model, g *sweep.Grid, part Part) []byte {
	t.Helper()
	var out bytes.Buffer
	if err := Write(t.Context(), &out, f, m.Program, g, part); err != nil {
		t.Fatal(err)
	}
	return out.Bytes()
}

// alone runs a point of a grid by itself.
func alone(machine *eval.Machine, g *sweep.Grid, point int) *eval.Result {
	steps := make([]int, len(g.Axes))
	for i := len(steps) - 1; i >= 0; i-- {
		n := g.Axes[i].Steps()
		steps[i], point = point%n, point/n
	}
	var changes []eval.Change
	for i, a := range g.Axes {
		for j, c := range a.Inputs {
			changes = append(changes, eval.Change{Quantity: c.Quantity, Item: c.Item, Row: c.Row, Value: g.Input(i, j, steps[i])})
		}
	}
	return machine.Run(changes...)
}

// long is a sweep of three million points.
const long = `
vary = [
  { input = "shelf.one.finish", values = ["raw", "+oiled"] },
  { input = "shop.share", from = "0 %", to = "50 %", points = 50 },
  { input = "plank.oak.cost", from = "1 EUR/m", to = "50 EUR/m", points = 150 },
  { input = "plank.oak.length", from = "11 cm", to = "1.7 m", points = 200 },
]
`
