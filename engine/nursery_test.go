package engine_test

import (
	"fmt"
	"strings"
	"testing"
	"testing/fstest"

	"bankwright/engine"
)

// nursery is a scenario with every sort of quantity that may be another than before: a
// number, money, a text, a truth, a reference, series over steps and over items, a
// table, a recording, and what checks find.
const nursery = `
title = "Nursery"
currency = "EUR"
standard_rules = false
[rules.kind.pot]
many = "pots"
doc = "A pot."
[rules.kind.bench]
doc = "A bench."
many = "benches"
[rules.axis.season]
steps = 3
doc = "Seasons."
[rules.pot.price]
unit = "money"
doc = "Price."
[rules.bench.made_for]
refers = "pot"
doc = "Pot."
[rules.bench.number]
default = 10
doc = "Pots."
[rules.bench.heated]
type = "boolean"
default = false
doc = "Heated."
[rules.bench.wood]
choices = ["oak", "ash"]
optional = true
doc = "Wood."
[rules.bench.sold]
over = "season"
optional = true
doc = "Sold by season."
[rules.bench.growth]
columns = { week = "week", share = "%" }
rows = 4
optional = true
doc = "Growth."
[rules.bench.log]
recording = { time = "h", mass = "kg" }
optional = true
doc = "Mass by time."
[rules.bench.cost]
unit = "money"
formula = "number * made_for.price"
doc = "Cost."
[rules.bench.by_pot]
unit = "money"
over = "pot"
formula = "number * pot.price"
doc = "Cost with each pot."
[rules.constant.dear_from]
value = "100 money"
doc = "What is dear."
[rules.check.dear]
of = "bench"
severity = "caution"
require = "cost <= dear_from"
otherwise = "It costs {cost}."
[rules.check.wooden]
of = "bench"
severity = "stop"
require = "wood == \"oak\""
otherwise = "It is no oak."
[pot.clay]
price = "2 EUR"
[pot.fibre]
price = "1 EUR"
[bench.north]
made_for = "clay"
#north
[bench.south]
made_for = "fibre"
#south
`

// nurseryModel is the nursery with pieces of its text replaced, old by new.
func nurseryModel(t *testing.T, replaced ...string) *engine.Model {
	t.Helper()
	text := nursery
	for i := 0; i < len(replaced); i += 2 {
		if strings.Count(text, replaced[i]) != 1 {
			t.Fatalf("%q is there %d times", replaced[i], strings.Count(text, replaced[i]))
		}
		text = strings.Replace(text, replaced[i], replaced[i+1], 1)
	}
	files := fstest.MapFS{
		"s.toml": {Data: []byte(text)},
		"a.csv":  {Data: []byte("time [h],mass\n0,1\n1,3\n")},
		"b.csv":  {Data: []byte("time [h],mass\n0,1\n1,3\n2,4\n")},
	}
	m, list, _ := engine.Load(engine.Sources{Files: files, Scenario: "s.toml"})
	if m == nil {
		t.Fatal(list)
	}
	return m
}

// movedLine is what was found of one cell, in a line.
func movedLine(m engine.Moved) string {
	s := strings.TrimSpace(fmt.Sprintf("%s: %s, %s %s", m.Name, m.Before, m.Now, m.Unit))
	if m.Steps > 0 {
		s += fmt.Sprintf(" and %d more", m.Steps)
	}
	if m.Input {
		s += " (given)"
	}
	if m.Check {
		s += " (check)"
	}
	return s
}

// TestSinceEverySort: what is another than before is told, given or computed, with as many
// decimals as tell the two apart, and nothing else is.
func TestSinceEverySort(t *testing.T) {
	none := []string{}
	for _, c := range []struct {
		name          string
		before, after []string
		want          string
	}{
		{"nothing", none, none, ""},
		{"a price, what follows from it, and none of what does not", none, []string{`"1 EUR"`, `"1.5 EUR"`},
			"pot.fibre.price: 1.00, 1.50 EUR (given); bench.north.by_pot[fibre]: 10, 15 EUR; bench.south.cost: 10, 15 EUR; bench.south.by_pot[fibre]: 10, 15 EUR"},
		{"a price in its ninth digit", none, []string{`"1 EUR"`, `"1.00000001 EUR"`},
			"pot.fibre.price: 1.00000000, 1.00000001 EUR (given); bench.north.by_pot[fibre]: 10.0000000, 10.0000001 EUR; bench.south.cost: 10.0000000, 10.0000001 EUR; bench.south.by_pot[fibre]: 10.0000000, 10.0000001 EUR"},
		{"what is given differs by its last bit, what follows does not", none, []string{`"1 EUR"`, `"1.0000000000000002 EUR"`},
			"pot.fibre.price: 1.000000000000, 1.000000000000 EUR (given)"},
		{"a truth", none, []string{"#north", "heated = true"}, "bench.north.heated: no, yes (given)"},
		{"a text, and the check that asks for it", []string{"#north", `wood = "oak"`}, []string{"#north", `wood = "ash"`},
			"bench.north.wood: oak, ash (given); check.wooden.north: pass, stop (check)"},
		{"a text that was not there", none, []string{"#south", `wood = "oak"`},
			"bench.south.wood: -, oak (given); check.wooden.south: not applicable, pass (check)"},
		{"a reference", none, []string{`"fibre"` + "\n#south", `"clay"`},
			"bench.south.made_for: fibre, clay (given); bench.south.cost: 10, 20 EUR"},
		{"an item before the others, which go by their names", none, []string{"[pot.clay]", "[pot.ash]\nprice = \"2 EUR\"\n[pot.clay]"},
			"pot.ash: -, new (given); bench.north.by_pot[ash]: -, 20 EUR; bench.south.by_pot[ash]: -, 20 EUR"},
		{"a series, by its first step that is another", []string{"#north", "sold = [1, 2, 3]"}, []string{"#north", "sold = [1, 5, 4]"},
			"bench.north.sold[2]: 2, 5 and 1 more (given)"},
		{"a series without steps before", none, []string{"#north", "sold = [1, 2, 3]"}, "bench.north.sold[1]: -, 1 and 2 more (given)"},
		{"an axis with fewer steps", []string{"#north", "sold = [1, 2, 3]"}, []string{"steps = 3", "steps = 2", "#north", "sold = [1, 2]"}, ""},
		{"an axis with more steps", []string{"#north", "sold = [1, 2, 3]"}, []string{"steps = 3", "steps = 4", "#north", "sold = [1, 2, 3, 9]"},
			"bench.north.sold[4]: -, 9 (given)"},
		{"an axis of another name", []string{"#north", "sold = [1, 2, 3]"}, []string{"axis.season", "axis.term", `"season"`, `"term"`, "#north", "sold = [1, 2, 3]"},
			"bench.north.sold[1]: -, 1 and 2 more (given)"},
		{"no series any more", []string{"#north", "sold = [1, 2, 3]"}, []string{`over = "season"` + "\n", "", "#north", "sold = 2"},
			"bench.north.sold: -, 2 (given)"},
		{"a table that was not there", none, []string{"#north", `growth = { week = ["1 week", "2 week"], share = ["10 %", "20 %"] }`}, "bench.north.growth: -, a table (given)"},
		{"a table that is not there", []string{"#north", `growth = { week = ["1 week", "2 week"], share = ["10 %", "20 %"] }`}, none, "bench.north.growth: a table, - (given)"},
		{"another table", []string{"#north", `growth = { week = ["1 week", "2 week"], share = ["10 %", "20 %"] }`}, []string{"#north", `growth = { week = ["1 week", "2 week"], share = ["10 %", "25 %"] }`},
			"bench.north.growth: a table, another table (given)"},
		{"the same table, written in other units", []string{"#north", `growth = { week = ["1 week", "2 week"], share = ["10 %", "20 %"] }`}, []string{"#north", `growth = { week = ["7 day", "14 day"], share = ["10 %", "20 %"] }`}, ""},
		{"another recording", []string{"#north", `log = "a.csv"`}, []string{"#north", `log = "b.csv"`},
			"bench.north.log: a.csv, 2 rows, b.csv, 3 rows (given)"},
		{"a kind more", none, []string{"[pot.clay]", "[rules.kind.shed]\ndoc = \"Shed.\"\n[rules.shed.size]\ndefault = 2\ndoc = \"Size.\"\n[pot.clay]"}, "shed.shed: -, new (given)"},
		{"an item more", none, []string{"[bench.south]", "[bench.west]\nmade_for = \"clay\"\n[bench.south]"}, "bench.west: -, new (given)"},
		{"an item of another name", none, []string{"[bench.south]", "[bench.west]"}, "bench.west: -, new (given); bench.south: there, gone (given)"},
		{"a check that is not met any more", none, []string{"#north", "number = 60"},
			"bench.north.number: 10, 60 (given); bench.north.cost: 20, 120 EUR; bench.north.by_pot[clay]: 20, 120 EUR and 1 more; check.dear.north: pass, caution (check)"},
	} {
		var got []string
		for _, moved := range nurseryModel(t, c.after...).Since(nurseryModel(t, c.before...)) {
			got = append(got, movedLine(moved))
		}
		if s := strings.Join(got, "; "); s != c.want {
			t.Errorf("%s:\n got %s\nwant %s", c.name, s, c.want)
		}
	}
}
