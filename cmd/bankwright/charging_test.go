package main

import (
	"fmt"
	"math"
	"strings"
	"testing"
)

// onTheLine is a bank in which all that charging must meet is just met: 25 A from
// the roof and 25 A from the alternator are what the BMS takes and half of the
// capacity in an hour, 320 W for 2.4 h are the 768 Wh of a day.
const onTheLine = `title = "Charging on the line"
currency = "EUR"

[battery.cell]
capacity              = "100 Ah"
nominal_voltage       = "12.8 V"
full_voltage          = "14.6 V"
price                 = "300 EUR"
max_discharge_current = "100 A"
max_charge_current    = "50 A"
round_trip_efficiency = "100 %"
cycle_life            = { depth = ["80 %"], cycles = [4000] }

[load.lamp]
power  = "32 W"
supply = "dc"

[source.roof]
power              = "320 W"
efficiency         = "100 %"
sun_hours          = "2.4 h/day"
absorption_voltage = "14.6 V"
cold_voltage       = "150 V"
controller_voltage = "150 V"

[source.road]
runs               = "timed"
hours_available    = "0 h/day"
power              = "320 W"
alternator_voltage = "12.8 V"
alternator_rating  = "50 A"

[source.spare]
runs  = "needed"
power = "9 kW"

[site]
cell_temperature = "5 °C"

[alternative.bank]
battery = "cell"
sources = ["roof", "road"]
`

// chargingLimits trip each check of charging, and just do not.
func chargingLimits() (list []limit) {
	set := func(check, name string, passed bool, says string, edits ...string) {
		list = append(list, limit{check, "bank", name, passed, says, edited(onTheLine, edits...)})
	}
	for _, check := range []string{"charging_current", "absorption_voltage", "array_voltage", "refill", "charge_rate", "cool_charge_rate", "alternator"} {
		set(check, "just met", true, "")
	}
	set("charging_current", "50.1 A", false, "50.1 A, but the bank may take only 50 A", `source.roof: power = "321 W"`)
	set("absorption_voltage", "14.7 V", false, "14.7 V, but it is full at 14.6 V", `source.roof: absorption_voltage = "14.7 V"`)
	set("charger_voltage", "12.8 V", true, "", `source.roof: absorption_voltage = "12.8 V"`)
	set("charger_voltage", "12.7 V", false, "end below the 12.8 V of the bank: 1.", `source.roof: absorption_voltage = "12.7 V"`)
	set("charger_voltage", "one for 12 V on 24 V", false, "below the 25.6 V", "battery.cell: max_series = 2", "alternative.bank: series = 2")
	set("charger_voltage", "one that is not used", true, "", `source.spare: absorption_voltage = "5 V"`)
	set("array_voltage", "150.2 V on 150 V", false, "100.1 %", `source.roof: cold_voltage = "150.2 V"`)
	for _, given := range []string{"cold_voltage", "controller_voltage"} {
		half := strings.Replace(onTheLine, given+" ", "# "+given, 1)
		list = append(list, limit{"array_known", "bank", "without " + given, false, "Of 1 of its sources only one of two voltages is given", half})
	}
	set("array_known", "both given", true, "")
	set("array_touch_voltage", "60 V", true, "", `source.roof: cold_voltage = "60 V"`)
	set("array_touch_voltage", "60.1 V", false, "an array stands at 60.1 V, above the 60 V", `source.roof: cold_voltage = "60.1 V"`)
	set("array_touch_voltage", "in licensed hands", true, "", "site: licensed_installer = true")
	const frost, cutoff = `site: coldest_cell_temperature = "-0.1 °C"`, "battery.cell: low_temperature_cutoff = true"
	unsaid := strings.Replace(onTheLine, `cell_temperature = "5 °C"`, "", 1)
	list = append(list,
		limit{"frost_in_the_day", "bank", "months not said", false, "as cold as -0.100 °C, below the 0 °C from which they are charged, but nobody has said in which months", edited(unsaid, frost, cutoff)},
		limit{"frost_in_the_day", "bank", "at the limit", true, "", edited(unsaid, `site: coldest_cell_temperature = "0 °C"`, cutoff)})
	set("frost_in_the_day", "months said", true, "", frost, cutoff)
	set("cold_months", "at the limit", true, "", `site: cell_temperature = "0 °C"`)
	set("cold_months", "a little colder", false, "In 12 of 12 months the cells are colder than 0 °C", `site: cell_temperature = "-0.1 °C"`)
	set("no_charge_in_the_cold", "at the limit", true, "", `site: cell_temperature = "0 °C"`)
	set("no_charge_in_the_cold", "one month colder", false, "In 1 of 12 months the cells are colder than 0 °C", `site: cell_temperature = ["-0.1 °C", "0 °C", "5 °C", "8 °C", "8 °C", "8 °C", "8 °C", "8 °C", "8 °C", "8 °C", "8 °C", "8 °C"]`)
	set("refill", "a little less sun in two months", false, "In 2 of 12 months a typical day does not fill the bank: at its worst it rises to 30.8 %", `source.roof: sun_hours = ["2.39 h/day", "2.4 h/day", "3 h/day", "3 h/day", "3 h/day", "3 h/day", "3 h/day", "3 h/day", "3 h/day", "3 h/day", "3 h/day", "2 h/day"]`)
	set("charge_rate", "above 0.49 C", false, "50 A, more than the 49 A", `site: charge_rate = "0.49 1/h"`)
	set("cool_charge_rate", "4.9 °C", false, "below 5 °C and should take no more than 10 A, but the sources charge with 50 A", `site: cell_temperature = "4.9 °C"`)
	const cool = `site: coldest_cell_temperature = "4.9 °C"`
	set("cold_spell_charge", "5 °C", true, "", `site: coldest_cell_temperature = "5 °C"`)
	set("cold_spell_charge", "4.9 °C in no month, but at times", false, "as cold as 4.90 °C; below 5 °C they should take no more than 10 A, but the sources charge with 50 A", cool)
	set("cold_spell_charge", "charged slowly", true, "", cool, `site: cool_charge_rate = "0.5 1/h"`)
	set("cold_spell_charge", "told month by month", true, "", cool, `site: cell_temperature = "4.9 °C"`)
	set("hot_charging", "45 °C", true, "", `site: cell_temperature = "45 °C"`)
	set("hot_charging", "45.1 °C", false, "at 45.1 °C in the hottest month, but may be charged only up to 45 °C", `site: cell_temperature = "45.1 °C"`)
	const pair, spread = "alternative.bank: parallel = 2", "battery.cell: max_parallel = 2"
	set("string_out_charging", "50 A into the one that is left", true, "", pair, spread)
	set("string_out_charging", "50.1 A", false, "charge with 50.1 A, but the strings left may take only 50 A", pair, spread, `source.roof: power = "321 W"`)
	set("string_out_charging", "a single string", true, "", `source.roof: power = "321 W"`)
	set("alternator", "25 A of 49.9 A", false, "50.1 %", `source.road: alternator_rating = "49.9 A"`)
	// 1,367 W/m² over the equator at the equinox (day 81, declination 0), with the
	// factor for the distance 1.0057: 10.503 kWh/m² a day, of which 80 % are 8.40.
	const equator, equinox = `site: latitude = "0 deg"`, `site: mean_day = 81`
	set("clear_sky", "8.40 kWh/m² a day", true, "", equator, equinox, `site: horizontal_irradiation = "8.40 kWh/m²/day"`)
	set("clear_sky", "8.41 kWh/m² a day", false, "In 12 of 12 months", equator, equinox, `site: horizontal_irradiation = "8.41 kWh/m²/day"`)
	set("charger_stages", "switched off", true, "", "source.roof: equalises = false", "source.road: temperature_compensated = false")
	set("charger_stages", "one equalises", false, "1 of its chargers", "source.roof: equalises = true")
	set("charger_stages", "one equalises, one follows the cold", false, "2 of its chargers", "source.roof: equalises = true", "source.road: temperature_compensated = true")
	set("charger_stages", "one that is not used", true, "", "source.spare: equalises = true")
	return list
}

// TestCutoffAllowsCold: where the BMS refuses cold cells, cold months are no
// stop, only a caution.
func TestCutoffAllowsCold(t *testing.T) {
	t.Parallel()
	m := solvedText(t, edited(onTheLine, `site: cell_temperature = "-5 °C"`, `battery.cell: low_temperature_cutoff = true`))
	if f := findingOf(t, m, "bank", "cold_months"); !f.Passed {
		t.Errorf("stopped in spite of the cutoff: %s", f.Text)
	}
	if f := findingOf(t, m, "bank", "no_charge_in_the_cold"); f.Passed || !f.Applicable {
		t.Error("no caution that cold months bring no charge")
	}
}

// TestNothingGiven: a bank without sources passes or has nothing to judge, and
// one whose source has no power has no charging currents and no findings.
func TestNothingGiven(t *testing.T) {
	t.Parallel()
	text := strings.Replace(onTheLine, `sources = ["roof", "road"]`, "", 1)
	text += "[alternative.unknown]\nbattery = \"cell\"\nsources = [\"unknown\"]\n[source.unknown]\nlabel = \"not known yet\"\n"
	m := solvedText(t, text)
	for _, alternative := range []string{"bank", "unknown"} {
		for _, check := range []string{"charging_current", "charge_rate", "absorption_voltage", "array_voltage", "refill", "alternator"} {
			f := findingOf(t, m, alternative, check)
			if f.Applicable && !f.Passed {
				t.Errorf("%s, %s: %s", alternative, check, f.Text)
			}
			if f.Applicable && check != "refill" && check != "charging_current" && check != "charge_rate" {
				t.Errorf("%s: %s passes, though nothing of it is given", alternative, check)
			}
			if f.Applicable && alternative == "unknown" && (check == "charging_current" || check == "charge_rate") {
				t.Errorf("%s is judged of a source whose power nobody knows", check)
			}
		}
	}
}

// TestGoodSun: common practice, a day of decent sun on 800 W of panels refills
// some 3 kWh. Decent sun is five peak sun hours, and three quarters of the rating
// reach the bank.
func TestGoodSun(t *testing.T) {
	t.Parallel()
	m := solvedText(t, `title = "A day of sun"
currency = "EUR"
[battery.large]
capacity              = "240 Ah"
nominal_voltage       = "12.8 V"
price                 = "680 EUR"
max_discharge_current = "150 A"
cycle_life            = { depth = ["80 %"], cycles = [4000] }
[load.none]
power  = "0.001 W"
supply = "dc"
[source.roof]
power      = "800 W"
efficiency = "75 %"
sun_hours  = "5 h/day"
[alternative.one]
battery = "large"
sources = ["roof"]
`)
	for month, got := range stepsOf(t, m, "source.roof.day_energy", "Wh") {
		if !(math.Abs(got-3000) <= 150) {
			t.Errorf("month %d: %v Wh, some 3 kWh is common practice", month+1, got)
		}
	}
	for month, got := range stepsOf(t, m, "alternative.one.days_to_full", "day") {
		if !(got > 0.8 && got < 1.2) { // four fifths of 3,072 Wh, and the losses of the bank
			t.Errorf("month %d: %v days to fill 3 kWh", month+1, got)
		}
	}
}

// TestChargingByHand follows the rules of charging with a pencil, for the bank of
// testdata/charging.toml: 200 Ah at 12.8 V. The arithmetic
// is common practice: energy is power times hours, a charge at constant current
// takes capacity over current, and its last tenth takes twice as long.
func TestChargingByHand(t *testing.T) {
	t.Parallel()
	const file = "../../testdata/charging.toml"
	noon := explained(t, file, "site.sun_share[6,13]", "%") / 100 // of the day's sun from 12 to 13 o'clock
	for _, c := range []struct {
		cell, unit string
		want       float64
	}{
		// The roof could give 1,024 W / 12.8 V = 80 A, its controller gives 50 A.
		{"alternative.two.source_current[roof]", "A", 50},
		{"alternative.two.source_current[mains]", "A", 20},
		{"alternative.two.source_current[generator]", "A", 50},
		{"alternative.two.charge_current", "A", 120},
		// Two strings take 2 × 50 A × 90 %.
		{"alternative.two.charge_limit", "A", 90},
		{"alternative.two.full_charge_current", "A", 90},
		{"alternative.two.recharge_time", "h", 200.0 / 90 * (0.9 + 0.1/0.5)},
		{"alternative.two.source_recharge_time[generator]", "h", 200.0 / 50 * 1.1},
		// On average the roof gives 768 W, of which its controller takes 640 W.
		{"source.roof.day_energy[6]", "Wh", 768 * 5},
		{"alternative.two.source_power[roof]", "W", 640},
		{"alternative.two.source_power[mains]", "W", 256},
		// Limits: none below 0 °C, 0.1 C below 5 °C, from there 0.5 C or the BMS.
		{"alternative.two.month_limit[1]", "A", 0},
		{"alternative.two.month_limit[2]", "A", 20},
		{"alternative.two.month_limit[3]", "A", 90},
		{"alternative.two.month_limit[12]", "A", 20},
		// Of the roof's 768 W its controller lets 640 W through.
		{"alternative.two.sun_kept", "%", 100 * 640.0 / 768},
		{"alternative.two.timed_kept", "%", 100},
		{"alternative.two.sun_offer[6,13]", "W", 5 * 640 * noon},
		// Nothing is charged in January, and February's 256 W are the limit.
		{"alternative.two.day_filling[1]", "Wh", 0},
		{"alternative.two.charge_power_limit[2]", "W", 20 * 12.8},
		{"alternative.two.days_to_full[1]", "day", 0},
		// 0.5 L/h at 1.60 for 800 W; at the bank over 80 %.
		{"source.generator.paid_price", "EUR/kWh", 1},
		{"source.generator.price_at_bank", "EUR/kWh", 1.25},
		{"source.mains.year_energy", "kWh", 0.512 * 365},
	} {
		t.Run(c.cell, func(t *testing.T) {
			agree(t, c.cell, explained(t, file, c.cell, c.unit), c.want, 1e-12)
		})
	}
}

// TestRechargeTimes: common practice, with figures as they are quoted: 20 A fill
// 100 Ah in five hours and a tail, 60 A fill 240 Ah in four and a tail.
func TestRechargeTimes(t *testing.T) {
	t.Parallel()
	for _, c := range []struct{ capacity, current, hours float64 }{{100, 20, 5}, {240, 60, 4}, {300, 30, 10}} {
		text := strings.NewReplacer(`capacity              = "100 Ah"`, fmt.Sprintf(`capacity              = "%v Ah"`, c.capacity),
			`max_charge_current    = "50 A"`, "", `["roof", "road"]`, `["spare"]`).Replace(onTheLine)
		text = strings.Replace(text, `"9 kW"`, fmt.Sprintf("\"9 kW\"\ncontroller_current = \"%v A\"", c.current), 1)
		got := explained(t, written(t, "scenario.toml", text), "alternative.bank.recharge_time", "h")
		if !(got > c.hours && got <= 1.15*c.hours) {
			t.Errorf("%v A fill %v Ah in %v h, want %v h and a tail", c.current, c.capacity, got, c.hours)
		}
	}
}
