package main

import (
	"fmt"
	"strings"
	"testing"
	"testing/fstest"

	"bankwright/engine"
	"bankwright/rules"
	"bankwright/scenarios"
)

func exampleWith(t *testing.T, old ...string) *engine.Model {
	t.Helper()
	text, err := scenarios.Files.ReadFile(scenarios.Default)
	if err != nil {
		t.Fatal(err)
	}
	s := string(text)
	for i := 0; i < len(old); i += 2 {
		if !strings.Contains(s, old[i]) {
			t.Fatalf("the scenario has no %q", old[i])
		}
		s = strings.Replace(s, old[i], old[i+1], 1)
	}
	m, list, _ := engine.Load(engine.Sources{Files: fstest.MapFS{"x.toml": {Data: []byte(s)}}, Scenario: "x.toml", Standard: rules.Files})
	if m == nil {
		t.Fatal(list)
	}
	return m
}

// TestSince: what is other than before is told once, by name, with as many decimals as
// tell it apart; the rest is not.
func TestSince(t *testing.T) {
	const price = `price                 = "1050 USD"`
	const cycles = "cycle_life            = { depth = [\"50 %\", \"80 %\", \"100 %\"], cycles = [8000, 4500, 3300] }"
	old := exampleWith(t)
	find := func(list []engine.Moved, name string) string {
		for _, c := range list {
			if c.Name == name {
				return strings.TrimSpace(fmt.Sprint(c.Before, " -> ", c.Now, " ", c.Unit))
			}
		}
		return "as before"
	}
	for _, c := range []struct {
		edit []string
		want map[string]string
	}{
		{[]string{price, price}, nil},
		{[]string{price, `price                 = "1050.001 USD"`}, map[string]string{
			"battery.oak.price": "1,050.000 -> 1,050.001 USD", "battery.ash.price": "as before",
			"alternative.one_oak.lifetime_cost_per_energy": "0.321417 -> 0.321418 USD/kWh"}},
		{[]string{"series            = 1\nparallel          = 1\n", "series            = 1\nparallel          = 2\n"}, map[string]string{
			"alternative.one_oak.parallel": "1 -> 2", "alternative.one_oak.series": "as before", "check.single_string.one_oak": "caution -> pass"}},
		{[]string{`inverter          = "at_12v"`, `inverter          = "at_24v"`}, map[string]string{"alternative.one_oak.inverter": "at_12v -> at_24v"}},
		{[]string{cycles, strings.Replace(cycles, "3300", "3000", 1)}, map[string]string{"battery.oak.cycle_life": "a table -> another table", "battery.ash.cycle_life": "as before"}},
		{[]string{"[load.microwave]", "[load.oven]"}, map[string]string{"load.microwave": "there -> gone", "load.oven": "- -> new"}},
	} {
		list := exampleWith(t, c.edit...).Since(old)
		if c.want == nil && len(list) > 0 {
			t.Errorf("%q: %v", c.edit, list)
		}
		for name, want := range c.want {
			if got := find(list, name); got != want {
				t.Errorf("%q: %s is %s, want %s", c.edit[1], name, got, want)
			}
		}
	}
}
