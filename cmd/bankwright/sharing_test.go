package main

import (
	"fmt"
	"strings"
	"testing"

	"bankwright/export"
)

// strings20 is a scenario of strings of 20 milliohm each that give 100 A in all;
// the lines that are given follow under its alternative "bank".
const strings20 = `title = "Strings"
currency = "EUR"

[battery.even]
capacity              = "100 Ah"
nominal_voltage       = "12.8 V"
cutoff_voltage        = "10 V"
internal_resistance   = "20 mohm"
price                 = "300 EUR"
max_discharge_current = "60 A"
surge_current         = "90 A"
max_charge_current    = "40 A"
max_series            = 2
max_parallel          = 16
length                = "0.3 m"
width                 = "0.2 m"
height                = "0.2 m"
cycle_life            = { depth = ["100 %"], cycles = [4000] }

[battery.unknown]
capacity              = "100 Ah"
nominal_voltage       = "12.8 V"
cutoff_voltage        = "10 V"
price                 = "300 EUR"
max_discharge_current = "60 A"
max_parallel          = 16
cycle_life            = { depth = ["100 %"], cycles = [4000] }

[load.heater]
power  = "1000 W"
supply = "dc"

[site]
space_length = "0.62 m"
space_width  = "0.42 m"
space_height = "0.21 m"

[price]
labour = "40 EUR/h"

[inverter.narrow]
continuous_power = "500 W"
idle_power       = "0 W"
min_voltage      = "10 V"
max_voltage      = "29.2 V"

[inverter.narrower]
continuous_power = "500 W"
idle_power       = "0 W"
min_voltage      = "10 V"
max_voltage      = "29.1 V"

[alternative.bank]
`

// bankOf writes the strings with an alternative "bank" of these lines.
func bankOf(t *testing.T, lines string) string {
	t.Helper()
	return written(t, "strings.toml", strings20+lines+"\n")
}

// sharingLimits trip each check of sharing, and just do not.
func sharingLimits() (list []limit) {
	const two = "battery = \"even\"\nparallel = 2\ntake_off = \"bus_bar\"\n"
	for _, c := range []struct {
		check, trips, words, passes string
	}{
		{
			"unlike_in_series",
			two + "series = 2\nunlike_in_series = true", "the weakest of 2",
			two + "series = 1\nunlike_in_series = true",
		},
		{
			"ladder_size",
			"battery = \"even\"\ntake_off = \"diagonal\"\nparallel = 17", "17 strings",
			"battery = \"even\"\ntake_off = \"diagonal\"\nparallel = 16",
		},
		{ // A pair of links may have twice the 20 milliohm of a string.
			"link_resistance",
			"battery = \"even\"\ntake_off = \"diagonal\"\nparallel = 2\nlink_resistance = \"20.1 mohm\"", "201.0 %",
			"battery = \"even\"\ntake_off = \"diagonal\"\nparallel = 2\nlink_resistance = \"20 mohm\"",
		},
		{ // Currents of two strings are as 11 to 9: one has 55 % where 50 % is even.
			"even_sharing",
			two + "string_resistance_ratio = [0.9, 1.102]", "55.0 A of 100 A",
			two + "string_resistance_ratio = [0.9, 1.1]",
		},
		{ // 0.004 V round a loop of 40 milliohm drive 0.1 A.
			"like_strings",
			two + "string_voltage_offset = [\"0 V\", \"0.004 V\"]", "up to 0.10 A circulates",
			two + "string_voltage_offset = [\"0 V\", \"0 V\"]",
		},
		{
			"unlike_strings_solved",
			"battery = \"even\"\nparallel = 2\nstring_resistance_ratio = [1, 2]", "1 of 2 strings",
			two + "string_resistance_ratio = [1, 2]",
		},
		{
			"unlike_strings_solved",
			"battery = \"unknown\"\nparallel = 2\ntake_off = \"bus_bar\"\nstring_resistance_ratio = [1, 2]", "internal_resistance",
			"battery = \"unknown\"\nparallel = 2\ntake_off = \"bus_bar\"",
		},
		{ // 2 V below the other a string gives nothing of 100 A; 0.05 A is a thousandth of the even 50 A.
			"charged_by_neighbours",
			two + "string_voltage_offset = [\"0 V\", \"-2.0024 V\"]", "String 2 is charged by its neighbours, with 0.06 A",
			two + "string_voltage_offset = [\"0 V\", \"-2.002 V\"]",
		},
		{
			"charged_at_rest",
			two + "string_voltage_offset = [\"-0.0024 V\"]", "string 1 is charged by its neighbours; up to 0.06 A",
			two + "string_voltage_offset = [\"-0.002 V\"]",
		},
	} {
		list = append(list,
			limit{c.check, "bank", "beyond it", false, c.words, strings20 + c.trips + "\n"},
			limit{c.check, "bank", "just met", true, "", strings20 + c.passes + "\n"})
	}
	return list
}

// TestSharingLimits: the ladder takes its part of the limits of a bank, beside
// the spread between like batteries of 90 %; without a take-off only the spread
// does. Of two strings with links of 2.5 milliohm, both leads at the first, the
// first gives (20 + 5) / (20 + 20 + 5) = 5/9, so that 9/10 of the sum of their
// limits are left. Of three the currents are as 29 to 20 to 16. Worked by hand.
func TestSharingLimits(t *testing.T) {
	t.Parallel()
	const two = "battery = \"even\"\nparallel = 2\n"
	solved := bankOf(t, two+"take_off = \"same_end\"\nlink_resistance = \"2.5 mohm\"")
	plain := bankOf(t, two)
	diagonal := bankOf(t, two+"take_off = \"diagonal\"\nlink_resistance = \"2.5 mohm\"")
	three := bankOf(t, "battery = \"even\"\nparallel = 3\ntake_off = \"same_end\"\nlink_resistance = \"2.5 mohm\"")
	alone := bankOf(t, "battery = \"even\"\ntake_off = \"same_end\"\nlink_resistance = \"2.5 mohm\"")
	for _, c := range []struct {
		file, cell, unit string
		want             float64
	}{
		{solved, "string_current[1]", "A", 500.0 / 9},
		{solved, "string_current[2]", "A", 400.0 / 9},
		{solved, "worst_share", "%", 500.0 / 9},
		{solved, "worst_excess", "%", 100.0 / 9},
		{solved, "ladder_evenness", "%", 90},
		{solved, "spread", "%", 81},
		{solved, "continuous_current", "A", 2 * 60 * 0.81},
		{solved, "surge_limit", "A", 2 * 90 * 0.81},
		{solved, "charge_limit", "A", 2 * 40 * 0.81},
		{solved, "sharing_voltage", "V", 12.8 - 0.02*500/9},
		{plain, "spread", "%", 90},
		{plain, "continuous_current", "A", 2 * 60 * 0.9},
		{three, "worst_share", "%", 100 * 29.0 / 65},
		{three, "spread", "%", 90 * 65.0 / 87},
		{three, "left_spread", "%", 90 * 65.0 / 87},
		{diagonal, "ladder_evenness", "%", 100},
		{diagonal, "spread", "%", 90},
		{alone, "spread", "%", 100},
		{alone, "string_current[1]", "A", 100},
		{alone, "worst_share", "%", 100},
	} {
		agree(t, c.cell, explained(t, c.file, "alternative.bank."+c.cell, c.unit), c.want, 1e-12)
	}
}

// TestStringParts: joints and leads stand in the string's resistance; leads
// count with bus bars only. 2 in series of 20 milliohm, an aged string of twice
// that, joints of 0.5 milliohm at four terminals, leads of 3 milliohm.
func TestStringParts(t *testing.T) {
	t.Parallel()
	const lines = "battery = \"even\"\nseries = 2\nparallel = 2\nconnection_resistance = \"0.5 mohm\"\n" +
		"string_resistance_ratio = [1, 2]\nstring_lead_resistance = [\"0 mohm\", \"3 mohm\"]\ntake_off = "
	for takeOff, want := range map[string]float64{"bus_bar": 85, "diagonal": 82} {
		file := bankOf(t, lines+`"`+takeOff+`"`)
		agree(t, takeOff, explained(t, file, "alternative.bank.string_resistance[1]", "mohm"), 42, 1e-12)
		agree(t, takeOff, explained(t, file, "alternative.bank.string_resistance[2]", "mohm"), want, 1e-12)
	}
}

// TestChargedString: Kirchhoff, two strings of 20 milliohm on bus bars, of which one
// stands 3 V below the other: 3 V drive 75 A round the loop of 40 milliohm beside the
// half that each has of 100 A, so that one gives 125 A and the other takes 25 A.
func TestChargedString(t *testing.T) {
	t.Parallel()
	file := bankOf(t, "battery = \"even\"\nparallel = 2\ntake_off = \"bus_bar\"\nstring_voltage_offset = [\"0 V\", \"-3 V\"]\n")
	agree(t, "given", explained(t, file, "alternative.bank.string_current[1]", "A"), 125, 1e-9)
	agree(t, "taken", explained(t, file, "alternative.bank.charged_current", "A"), 25, 1e-9)
	agree(t, "by the second", explained(t, file, "alternative.bank.first_charged_string", ""), 2, 0)
}

// TestEqualising: common practice, 0.5 V across 10 milliohm is 50 A: two
// strings of 5 milliohm make that loop. One joined to three others closes a
// loop of 5 + 5/3 milliohm; one alone closes none.
func TestEqualising(t *testing.T) {
	t.Parallel()
	text := strings.Replace(strings20, "[site]\n", "[site]\njoining_difference = \"0.5 V\"\n", 1)
	text = strings.Replace(text, `"20 mohm"`, `"5 mohm"`, 1)
	for parallel, want := range map[int]float64{1: 0, 2: 50, 4: 500 / (5 + 5.0/3)} {
		file := written(t, "joining.toml", text+fmt.Sprintf("battery = \"even\"\nparallel = %d\n", parallel))
		agree(t, "equalising current", explained(t, file, "alternative.bank.equalising_current", "A"), want, 1e-12)
	}
	file := bankOf(t, "battery = \"even\"\nparallel = 2\n")
	agree(t, "as joined, 0.05 V across 40 milliohm", explained(t, file, "alternative.bank.equalising_current", "A"), 1.25, 1e-12)
}

// TestDrawnTakeOff: the drawing has the negative line leave from the last string where
// the load stands across the bank, and from the first where it does not.
func TestDrawnTakeOff(t *testing.T) {
	t.Parallel()
	for takeOff, negative := range map[string]int{"diagonal": 3, "same_end": 1} {
		m := solvedText(t, strings20+"battery = \"even\"\nparallel = 3\ntake_off = \""+takeOff+"\"\n")
		if k := export.Circuit(m, m.Drawings[0], 0); k.Positive != 1 || k.Negative != negative {
			t.Errorf("%s: from strings %d and %d, want 1 and %d", takeOff, k.Positive, k.Negative, negative)
		}
	}
}
