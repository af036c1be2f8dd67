package engine_test

import (
	"fmt"
	"strings"
	"testing"
	"testing/fstest"

	"bankwright/engine"
)

// TestManyUnusual: of many items whose computed value is unusual three are told, and how
// many more there are.
func TestManyUnusual(t *testing.T) {
	rule := "[rules.shelf.by_load]\nunit = \"money/kg\"\nformula = \"price / load\"\nusual = [\"1 money/kg\", \"9 money/kg\"]\ndoc = \"x\"\n"
	for items, last := range map[int]string{0: "", 1: "is usual", 3: "is usual", 4: "is usual; so it is for 1 more shelf", 6: "is usual; so it is for 3 more shelves"} {
		text := fmt.Sprintf(shelves, "") + rule + shelf("usual", 5, 1, "")
		for i := range items {
			text += shelf(fmt.Sprintf("dear_%d", i), 20, 1, "")
		}
		_, list, _ := engine.Load(engine.Sources{Files: fstest.MapFS{"s.toml": {Data: []byte(text)}}, Scenario: "s.toml"})
		if len(list) != min(items, 3) || items > 0 && !strings.HasSuffix(list[len(list)-1].Summary, last) {
			t.Errorf("of %d items is told %v", items, list)
		}
	}
}

// TestPartsCancel: parts of which some are below zero add up but for the rounding of the
// largest of them; what is more than that is missing.
func TestPartsCancel(t *testing.T) {
	for _, c := range []struct {
		bought, sold, paint float64 // EUR
		fault               bool
	}{
		{1e9 + 0.1, -1e9, 0, false},
		{1e9 + 0.1, -1e9, 5, true},
		{3, -3, 0, false},
		{0, 0, 0, false},
		{0, 0, 0.1, true},
	} {
		text := strings.Replace(fmt.Sprintf(shelves, ""), `by = "price"`, `by = "cost", parts = { sum = "cost", of = ["price", "sold"] }`, 1) + `
[rules.shelf.sold]
unit = "money"
[rules.shelf.paint]
unit = "money"
[rules.shelf.cost]
unit    = "money"
formula = "sold * 0.3 + paint + price + sold * 0.7"
doc     = "x"
` + shelf("a", c.bought, 1, fmt.Sprintf("sold = \"%v EUR\"\npaint = \"%v EUR\"", c.sold, c.paint))
		_, list, _ := engine.Load(engine.Sources{Files: fstest.MapFS{"s.toml": {Data: []byte(text)}}, Scenario: "s.toml"})
		if fault := len(list) == 1 && strings.HasPrefix(list[0].Summary, "the parts of cost come to"); fault != c.fault || len(list) > 1 {
			t.Errorf("%+v: told %v", c, list)
		}
	}
}
