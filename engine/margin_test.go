package engine_test

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"bankwright/engine/sweep"
)

// TestMargins: how far an input that the rules watch may move before another shelf is
// best, by hand: a shelf costs its boards at the price of its plank, and its brackets.
func TestMargins(t *testing.T) {
	text := func(watch, shelves string) string {
		return `title = "Margins"
currency = "EUR"
standard_rules = false
[rules.kind.plank]
many = "planks"
doc = "A plank."
[rules.kind.shelf]
many = "shelves"
compare = { by = "price", best = "lowest", watch = [` + watch + `], show = ["boards"] }
doc = "A shelf."
[rules.plank.cost]
unit = "money"
min = "8 money"
doc = "Cost."
[rules.shelf.plank]
refers = "plank"
doc = "What it is made of."
[rules.shelf.boards]
default = 4
doc = "Boards."
[rules.shelf.brackets]
unit = "money"
default = "0 money"
doc = "Brackets."
[rules.shelf.price]
unit = "money"
formula = "boards * plank.cost + brackets"
doc = "Price."
[plank.oak]
cost = "20 EUR"
[plank.ash]
cost = "25 EUR"
` + shelves
	}
	one, two := "[shelf.one]\nplank = \"oak\"\n", "[shelf.two]\nplank = \"ash\"\nboards = 2\nbrackets = \"50 EUR\"\n"
	for _, c := range []struct{ name, watch, shelves, want string }{
		{"80 against 100 EUR: level where a plank of oak is at 25 EUR, and never below", `"plank.cost"`, one + two, "plank.oak.cost 20 from 8 to 200: two from 25"},
		{"what is nought cannot be moved by a share", `"plank.cost", "brackets"`, one + two, "plank.oak.cost 20 from 8 to 200: two from 25"},
		{"nobody to lose to", `"plank.cost"`, one, ""},
		{"nothing is watched", ``, one + two, ""},
	} {
		m := loadText(t, text(c.watch, c.shelves))
		var got []string
		for _, x := range m.Margins(m.Compare()) {
			s := fmt.Sprintf("%s %v from %v to %v:", m.CellName(x.Cell), x.Base, x.From, x.To)
			for _, turn := range []sweep.Turn{x.Below, x.Above} {
				if turn.Found {
					s += fmt.Sprintf(" %s from %v", m.Compared().Items[turn.Best].Name, math.Round(turn.At*1e3)/1e3)
				}
			}
			got = append(got, s)
		}
		if s := strings.Join(got, ", "); s != c.want {
			t.Errorf("%s:\n got %s\nwant %s", c.name, s, c.want)
		}
	}
}
