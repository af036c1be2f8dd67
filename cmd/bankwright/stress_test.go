package main

import (
	"fmt"
	"math"
	"testing"
)

// TestSunlessDays lives the days without sun of testdata/typical_day.toml one
// after another, hour by hour, with its own plain arithmetic: the two passes of
// the rules and their chain of days must give the same charges and gaps.
func TestSunlessDays(t *testing.T) {
	t.Parallel()
	s := solve(t, "../../testdata/typical_day.toml")
	short, charged := 0, 0
	for _, alt := range []string{"sun_only", "small", "ample", "slow", "helped"} {
		a := func(q string, steps ...int) float64 { return s.at("alternative", alt, q, steps...) }
		capacity := a("usable_energy") * 0.8
		for month := 1; month <= 12; month++ {
			charge := capacity
			for day := 1; day <= 3; day++ {
				gap := 0.0
				for hour := 1; hour <= 24; hour++ {
					left := a("timed_offer", hour) + a("reserve_offer", hour) - a("essential_hour_need", hour)
					if left > 0 {
						charge = math.Min(capacity, charge+0.94*math.Min(left, a("charge_power_limit", month)))
						charged++
						continue
					}
					gap += math.Max(0, -(charge + left))
					charge = math.Max(0, charge+left)
				}
				agree(t, fmt.Sprintf("%s, month %d, charge after day %d", alt, month, day), a("stress_charge", month, day), charge, 1e-9)
				if got := a("stress_gap", month, day); math.Abs(got-gap) > 1e-8 {
					t.Errorf("%s, month %d, day %d: %v Wh lacking, lived %v", alt, month, day, got, gap)
				}
				short += one(gap > 1)
			}
		}
	}
	if short == 0 || short == 5*12*3 || charged == 0 {
		t.Errorf("the scenario has no days of every sort: %d of 180 run short, %d hours charge", short, charged)
	}
}

// sunless is a small bank with a generator that may run from nine to one, and
// cells that are too cold to be charged in winter.
const sunless = `title = "Days without sun"
currency = "USD"
[battery.b]
capacity               = "40 Ah"
nominal_voltage        = "51.2 V"
price                  = "600 USD"
max_discharge_current  = "100 A"
max_charge_current     = "40 A"
low_temperature_cutoff = true
idle_power             = "2 W"
cycle_life             = { depth = ["80 %", "100 %"], cycles = [5000, 3500] }
[load.l]
power = "200 W"
[inverter.i]
continuous_power = "1000 W"
efficiency       = "90 %"
idle_power       = "10 W"
min_voltage      = "42 V"
max_voltage      = "62 V"
[source.roof]
power      = "3000 W"
efficiency = "80 %"
sun_hours  = "4 h/day"
[source.generator]
runs            = "needed"
power           = "2600 W"
efficiency      = "92 %"
hours_available = "4 h/day"
start_hour      = "9 h"
[site]
autonomy         = "0.2 day"
cell_temperature = ["-5 °C", "-5 °C", "5 °C", "5 °C", "5 °C", "5 °C", "5 °C", "5 °C", "5 °C", "5 °C", "5 °C", "-5 °C"]
[alternative.a]
battery  = "b"
inverter = "i"
sources  = ["roof", "generator"]
`

// TestDarkNights: a generator that could give more than a day's need does not
// help at night what the bank cannot hold, and not at all what the cold does not
// let into it. Worked by hand.
func TestDarkNights(t *testing.T) {
	t.Parallel()
	m := solvedText(t, sunless)
	need := 200/0.9 + 10 + 2 + 40*51.2*0.03/730 // loads, idling, BMS and self-discharge of 3 % in 730 h
	full := 40 * 51.2 * 0.8 * 0.8               // the aged bank
	before, after := 9*need, 11*need            // the generator's hours
	for cell, want := range map[string]float64{
		"stress_gap[1,1]": before + after - full,            // nothing is charged below 0 °C
		"stress_gap[1,3]": before + after,                   // the loads live on the generator alone
		"stress_gap[6,1]": (before - full) + (after - full), // empty by nine, full at one, empty by midnight
		"stress_gap[6,2]": before + (after - full),
	} {
		agree(t, cell, held(t, m, "alternative.a."+cell, "Wh"), want, 1e-9)
	}
	f := findingOf(t, m, "a", "sunless_days")
	if f.Passed || !f.Applicable {
		t.Error("nights without light pass the check of days without sun")
	}
}

// TestReserveRuns: a bank that is too small for the night has the generator run
// in the evening, though the day's sun would be enough; and cells that are cool
// and take little have it run longer. Neither lacks anything then.
func TestReserveRuns(t *testing.T) {
	t.Parallel()
	m := solvedText(t, edited(sunless, `battery.b: capacity = "150 Ah"`, `load.l: power = "450 W"`, `source.roof: power = "8000 W"`,
		`source.generator: start_hour = "16 h"`, `source.generator: hours_available = "6 h/day"`,
		`site: cell_temperature = ["3 °C", "3 °C", "20 °C", "20 °C", "20 °C", "20 °C", "20 °C", "20 °C", "20 °C", "20 °C", "20 °C", "3 °C"]`))
	share := stepsOf(t, m, "alternative.a.reserve_share", "%")
	if !(share[6] > 0 && share[6] < share[0] && share[0] < 100) {
		t.Errorf("the generator runs %v of its hours in January, %v in July", share[0], share[6])
	}
	for _, cell := range []string{"[1,1]", "[2,1]", "[1,7]", "[2,7]"} {
		if lacks := held(t, m, "alternative.a.day_unmet"+cell, "Wh"); lacks > 1e-6 {
			t.Errorf("%s: %v Wh are lacking, while the generator stands still", cell, lacks)
		}
	}
}

// TestReserveMakesUp: a generator that gives the bank 400 W and may run from nine to one
// makes up what a lamp of 200 W draws from six to eleven at night. All of it goes
// through the bank, of which 90 % comes back: it takes 1,000 / 0.9 of 1,600 Wh, and so
// 69.4 % of the four hours.
func TestReserveMakesUp(t *testing.T) {
	t.Parallel()
	m := solvedText(t, `title = "Night lamp"
currency = "EUR"
[battery.b]
capacity              = "200 Ah"
nominal_voltage       = "12.8 V"
price                 = "500 EUR"
max_discharge_current = "100 A"
max_charge_current    = "100 A"
round_trip_efficiency = "90 %"
idle_power            = "0 W"
cycle_life            = { depth = ["80 %"], cycles = [4000] }
[load.lamp]
power                = "200 W"
supply               = "dc"
converter_efficiency = "100 %"
first_hour           = "18 h"
hours_per_day        = "5 h/day"
[source.generator]
runs            = "needed"
power           = "500 W"
efficiency      = "80 %"
start_hour      = "9 h"
hours_available = "4 h/day"
[alternative.a]
battery = "b"
sources = ["generator"]
`)
	agree(t, "share of the hours", held(t, m, "alternative.a.reserve_share[4]", "%"), 100*1000/0.9/1600, 1e-9)
}

// TestStandingLoss: twenty BMS of 6 W each draw 120 W all day, in the need, the
// hours, the essential need and the runtimes.
func TestStandingLoss(t *testing.T) {
	t.Parallel()
	without := solvedText(t, edited(sunless, `battery.b: idle_power = "0 W"`, "alternative.a: parallel = 20"))
	with := solvedText(t, edited(sunless, `battery.b: idle_power = "6 W"`, "alternative.a: parallel = 20"))
	for cell, unit := range map[string]string{"need_power": "W", "hour_need[3]": "W", "essential_power": "W", "essential_hour_need[3]": "W"} {
		grown := held(t, with, "alternative.a."+cell, unit) - held(t, without, "alternative.a."+cell, unit)
		agree(t, cell, grown, 120, 1e-9)
	}
	usable := 20 * 40 * 51.2 * 0.8
	rest := 120 + 20*40*51.2*0.03/730
	agree(t, "runtime", held(t, with, "alternative.a.runtime", "h"), usable/(200/0.9+10+120), 1e-9)
	agree(t, "essential runtime", held(t, with, "alternative.a.essential_runtime", "h"), usable/(200/0.9+10+rest), 1e-9)
	agree(t, "one load alone", held(t, with, "alternative.a.lone_runtime[l]", "h"), usable/(200/0.9+10+rest), 1e-9)
}
