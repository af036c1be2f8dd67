package main

import (
	"math"
	"testing"
)

// paying is a bank of twenty years beside one that is cheaper and lasts six, and
// one that is dearer and needs no upkeep of the others' sort.
const paying = `title = "Payback"
currency = "USD"
[battery.long]
capacity              = "200 Ah"
nominal_voltage       = "12.8 V"
price                 = "1000 USD"
max_discharge_current = "150 A"
cycle_life            = { depth = ["80 %", "100 %"], cycles = [9000, 7500] }
calendar_life         = "20 year"
[battery.short]
capacity              = "200 Ah"
nominal_voltage       = "12.8 V"
price                 = "700 USD"
max_discharge_current = "150 A"
cycle_life            = { depth = ["80 %", "100 %"], cycles = [9000, 7500] }
calendar_life         = "6 year"
[battery.cheap]
capacity              = "200 Ah"
nominal_voltage       = "12.8 V"
price                 = "600 USD"
max_discharge_current = "150 A"
cycle_life            = { depth = ["80 %", "100 %"], cycles = [9000, 7500] }
calendar_life         = "20 year"
[load.l]
power = "50 W"
[inverter.i]
continuous_power = "200 W"
idle_power       = "3 W"
min_voltage      = "10.5 V"
max_voltage      = "16 V"
[site]
baseline     = "long"
study_period = "15 year"
[alternative.long]
battery  = "long"
inverter = "i"
[alternative.short]
battery  = "short"
inverter = "i"
[alternative.cheap]
battery  = "cheap"
inverter = "i"
`

// TestPaysBack: what is cheaper at first only and dearer in the end does not pay
// back; what the last year's residual value decides is decided there; the
// baseline is not paid back against itself.
func TestPaysBack(t *testing.T) {
	t.Parallel()
	m := solvedText(t, paying)
	for alternative, want := range map[string]struct {
		pays  string
		years float64
	}{
		"long":  {"it is the baseline or costs the same", 0},
		"short": {"only for a time", 15},
		"cheap": {"from the first year", 0},
	} {
		matchText(t, m, "alternative."+alternative+".pays_back", want.pays)
		agree(t, alternative, held(t, m, "alternative."+alternative+".years_behind", ""), want.years, 0)
		spent := held(t, m, "alternative."+alternative+".spent[15]", "USD")
		agree(t, alternative+" in all", spent, held(t, m, "alternative."+alternative+".lifetime_cost", "USD"), 1e-12)
	}
	// The short one leads by the 300 USD of its price until the sixth year, in which
	// it is bought again.
	for year, saved := range stepsOf(t, m, "alternative.short.saved", "money") {
		if year < 5 && math.Abs(saved-300) > 1e-9 || year >= 5 && year < 15 && saved >= 0 {
			t.Errorf("year %d: %v USD saved", year+1, saved)
		}
	}
	other := solvedText(t, edited(paying, `site: baseline = "short"`))
	matchText(t, other, "alternative.long.pays_back", "within the study")
	agree(t, "long", held(t, other, "alternative.long.years_behind", ""), 5, 0)
}
