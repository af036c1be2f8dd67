package main

import (
	"bytes"
	"fmt"
	"math"
	"strings"
	"testing"

	"bankwright/engine"
	"bankwright/engine/oracle"
)

// wiringLimits trip every check of the wiring and just do not. By the scenario of
// wires, 80 A ask for 100 A, which 3 AWG of 26.67 mm² and 0.245 ohm/kft just
// carry; the battery is short-circuited through 2 mΩ at 14.6 V.
func wiringLimits() (list []limit) {
	const three = `alternative.one: run_area = "26.67 mm²"`
	perMetre := 0.245e-3 / 0.3048 // ohm
	// 3 % of 12.8 V at 80 A, there and back.
	longest := 0.03 * 12.8 / (2 * 80 * perMetre)
	// 10 V through 4 mΩ and the run give five times 100 A.
	farthest := (10.0/500 - 0.004) / (2 * perMetre)
	// (500 A)²·t = (k·26.67)², from 75 °C to the 160 °C or 250 °C that insulation stands.
	slowest := math.Pow(withstand(75, 160)*26.67/500, 2)
	slowestXLPE := math.Pow(withstand(75, 250)*26.67/500, 2)
	const ac, two = `load.heater: power = "1 W"`, `alternative.one: series = 2`
	set := func(check, name string, passed bool, says string, edits ...string) {
		list = append(list, limit{check, "one", name, passed, says, edited(wires, edits...)})
	}
	set("fuse_protects_cable", "fuse just as large as the cable allows", true, "", three, `alternative.one: fuse_rating = "100 A"`)
	set("fuse_protects_cable", "fuse larger than the cable allows", false, "100.1 A must lie between the 100 A that the current asks for and the 100.0 A", three, `alternative.one: fuse_rating = "100.1 A"`)
	set("fuse_protects_cable", "fuse smaller than the current asks for", false, "99.9 A must lie between the 100 A", three, `alternative.one: fuse_rating = "99.9 A"`)
	set("cable_in_table", "350 A on the last conductor", true, "", `load.heater: power = "2800 W"`)
	set("cable_in_table", "400 A on the last conductor", false, "carries 280 A over this run with its fuse of 400 A", `load.heater: power = "2801 W"`)
	set("given_area", "the thinnest of the tables", true, "", `alternative.one: run_area = "2.081 mm²"`)
	set("given_area", "thinner than the tables", false, "2.080 mm² is thinner than the thinnest conductor of the tables, 2.081 mm²", `alternative.one: run_area = "2.08 mm²"`)
	set("tables_of_place", "tables of boats on land", false, "with insulation of 105 °C", `site: wire_tables = "boat"`)
	set("tables_of_place", "tables of boats in a vehicle", true, "", `site: wire_tables = "boat"`, `site: setting = "vehicle"`)
	set("tables_of_place", "tables on land", true, "")
	set("voltage_drop", "just as long as the drop allows", true, "", three, "alternative.one: run_length = "+justSo(longest, "m"))
	set("voltage_drop", "a little longer", false, "3.0003 % of the bank's voltage, more than 3 %", three, "alternative.one: run_length = "+justSo(longest*1.0001, "m"))
	set("fuse_voltage", "32 V on a fuse for 32 V", true, "", `site: fuse_class = "bolted_32"`, `battery.block: full_voltage = "32 V"`)
	set("fuse_voltage", "more on a fuse for 32 V", false, "32.01 V; the main fuse breaks up to 32 V", `site: fuse_class = "bolted_32"`, `battery.block: full_voltage = "32.01 V"`)
	set("fuse_voltage", "string fuses for 32 V", false, "string fuses 32 V", `site: string_fuse_class = "bolted_32"`, `battery.block: full_voltage = "32.01 V"`, "alternative.one: parallel = 2")
	set("fuse_voltage", "string fuses that are not there", true, "", `site: string_fuse_class = "bolted_32"`, `battery.block: full_voltage = "32.01 V"`)
	set("fuse_voltage", "a given voltage counts", true, "", `site: fuse_class = "bolted_32"`, `site: fuse_voltage = "33 V"`, `battery.block: full_voltage = "32.01 V"`)
	set("fuse_interrupting", "20 kA on class T", true, "", `battery.block: short_circuit_resistance = "0.73 mohm"`)
	set("fuse_interrupting", "more on class T", false, "20,027 A, but the main fuse interrupts only 20,000 A", `battery.block: short_circuit_resistance = "0.729 mohm"`)
	set("fuse_interrupting", "a given rating counts", false, "7,300 A, but the main fuse interrupts only 7,299 A", `site: fuse_interrupting = "7299 A"`)
	set("fuse_interrupting", "a given rating is enough", true, "", `site: fuse_interrupting = "7300 A"`)
	set("string_fuse_interrupting", "two other strings drive 20 kA", true, "", `battery.block: short_circuit_resistance = "1.46 mohm"`, "alternative.one: parallel = 3")
	set("string_fuse_interrupting", "they drive more", false, "20,014 A into a fault in one string, but its fuse interrupts only 20,000 A", `battery.block: short_circuit_resistance = "1.459 mohm"`, "alternative.one: parallel = 3")
	set("string_fuse_interrupting", "a single string has no string fuse", true, "", `site: string_fuse_interrupting = "1 A"`)
	set("far_end_fault", "the far fault is just large enough", true, "", three, "alternative.one: run_length = "+justSo(farthest, "m"))
	set("far_end_fault", "the far fault is too small", false, "499.96 A; the fuse clears from 500 A", three, "alternative.one: run_length = "+justSo(farthest*1.0001, "m"))
	set("run_stands_fault", "the cable just stands the heat", true, "", three, "site: clearing_time = "+justSo(slowest, "s"))
	set("run_stands_fault", "the cable gets too hot", false, "lets 8,816,707 A²·s through, and the main run of 26.67 mm² stands 8,815,825 A²·s", three, "site: clearing_time = "+justSo(slowest*1.0001, "s"))
	set("run_stands_fault", "cross-linked insulation stands more", true, "", three, `site: cable_insulation = "xlpe"`, "site: clearing_time = "+justSo(slowestXLPE*0.9999, "s"))
	set("fuse_is_made", "300 A on a terminal", true, "", `site: fuse_class = "terminal"`, `alternative.one: fuse_rating = "300 A"`)
	set("fuse_is_made", "301 A on a terminal", false, "main fuse of 301 A must be of a sort made up to 300 A", `site: fuse_class = "terminal"`, `alternative.one: fuse_rating = "301 A"`)
	// Four strings of 4 mΩ, links of 1 mΩ in each line, both leads at one end: from the far
	// end on, 1, 1.5, 2.75 and 5.375 of 10.625 parts (Kirchhoff): 50.6 % of 100 A.
	const uneven, halved = "alternative.one: parallel = 4", "alternative.one: parallel = 2"
	const ends, links = `alternative.one: take_off = "same_end"`, `alternative.one: link_resistance = "1 mohm"`
	set("string_fuse_carries", "uneven strings, fuses for even ones", false, "asks for a fuse of 50.6 A, but each has 40", uneven, ends, links, `alternative.one: string_fuse_given = "40 A"`)
	set("string_fuse_carries", "uneven strings, fuses as chosen", true, "", uneven, ends, links)
	set("string_fuse_carries", "nobody says how the strings share", false, "asks for a fuse of 27.8 A, but each has 25", uneven, `alternative.one: string_fuse_given = "25 A"`)
	set("string_fuse_carries", "a fuse a little small", false, "50.588 A, but each has 50.580 A", uneven, ends, links, `alternative.one: string_fuse_given = "50.58 A"`)
	set("string_fuse_carries", "a larger fuse", true, "", uneven, ends, links, `alternative.one: string_fuse_given = "50.59 A"`)
	set("string_out_fuse", "80 A through 80 A", true, "", halved, `alternative.one: string_fuse_given = "80 A"`)
	set("string_out_fuse", "80 A through 79.9 A", false, "the fuses of the others, 79.9 A each, must carry 80 A together", halved, `alternative.one: string_fuse_given = "79.9 A"`)
	set("fuse_passes_surge", "200 A through 100 A", true, "", `alternative.one: fuse_rating = "100 A"`, `load.heater: surge_power = "2000 W"`)
	set("fuse_passes_surge", "more than 200 A through 100 A", false, "200.1 A, but the main fuse of 100 A passes only 200 A", `alternative.one: fuse_rating = "100 A"`, `load.heater: surge_power = "2001 W"`)
	const level = "site: spread_factor = \"100 %\""
	set("string_fuse_surge", "80 A through 40 A", true, "", level, halved, `alternative.one: string_fuse_given = "40 A"`, `load.heater: surge_power = "1600 W"`)
	set("string_fuse_surge", "more than 80 A through 40 A", false, "80.1 A, but its fuse of 40 A passes only 80 A", level, halved, `alternative.one: string_fuse_given = "40 A"`, `load.heater: surge_power = "1602 W"`)
	set("fuse_distance", "18 cm", true, "", `alternative.one: fuse_distance = "18 cm"`)
	set("fuse_distance", "7 in", true, "", `alternative.one: fuse_distance = "7 in"`)
	set("fuse_distance", "18.1 cm", false, "within 0.180 m", `alternative.one: fuse_distance = "18.1 cm"`)
	set("precharge", "1 kW at 24 V", false, "1,000 W at 24 V", ac, two, `inverter.box: continuous_power = "1 kW"`, `battery.block: nominal_voltage = "12 V"`)
	set("precharge", "less than 1 kW", true, "", ac, two, `inverter.box: continuous_power = "999 W"`)
	set("precharge", "less than 24 V", true, "", ac, two, `inverter.box: continuous_power = "1 kW"`, `battery.block: nominal_voltage = "11.9 V"`)
	set("precharge", "through a resistor", true, "", ac, two, `inverter.box: continuous_power = "1 kW"`, `alternative.one: precharge_resistance = "50 ohm"`)
	set("precharge", "by the inverter", true, "", ac, two, `inverter.box: continuous_power = "1 kW"`, `inverter.box: precharges = true`)
	set("precharge_current", "10 A", true, "", `alternative.one: precharge_resistance = "1.46 ohm"`)
	set("precharge_current", "10.1 A", false, "drives 10.1 A at first, more than 10 A", `alternative.one: precharge_resistance = "1.45 ohm"`)
	const bars = "alternative.one: parallel = 2"
	set("disconnect_current", "100 A", true, "", `alternative.one: disconnect_given = "100 A"`)
	set("disconnect_current", "99.9 A", false, "carries 99.9 A, but the main fuse lets 100 A through", `alternative.one: disconnect_given = "99.9 A"`)
	set("disconnect_voltage", "14.6 V", true, "", `alternative.one: disconnect_voltage = "14.6 V"`)
	set("disconnect_voltage", "14.5 V", false, "stands at 14.6 V, but the disconnect breaks only 14.5 V", `alternative.one: disconnect_voltage = "14.5 V"`)
	set("bus_bar_current", "100 A", true, "", bars, `alternative.one: bus_bar_given = "100 A"`)
	set("bus_bar_current", "99.9 A", false, "carries 99.9 A, but the main fuse lets 100 A through", bars, `alternative.one: bus_bar_given = "99.9 A"`)
	set("bus_bar_current", "a single string has none", true, "", `alternative.one: bus_bar_given = "99.9 A"`)
	return list
}

// withstand is the current density in A/mm² that copper stands for a second
// between two temperatures in °C: k of IEC 60364-5-54 Annex A, from memory.
func withstand(from, to float64) float64 {
	return 226 * math.Sqrt(math.Log((234.5+to)/(234.5+from)))
}

// TestUnknownFuseDistance: a distance that the scenario does not give is a
// caution, never a pass.
func TestUnknownFuseDistance(t *testing.T) {
	t.Parallel()
	m := solvedText(t, `currency = "EUR"
[battery.block]
capacity = "100 Ah"
nominal_voltage = "12.8 V"
price = "300 EUR"
max_discharge_current = "200 A"
cycle_life = { depth = ["80 %"], cycles = [4000] }
[load.heater]
power = "800 W"
supply = "dc"
[site]
wire_tables = "iec"
[alternative.one]
battery = "block"
`)
	if f := findingOf(t, m, "one", "fuse_distance"); f.Passed || !f.Applicable {
		t.Errorf("passed: %v, applies: %v", f.Passed, f.Applicable)
	}
	// Without a length or an internal resistance the fault at the far end is not
	// known, and the check says so.
	if findingOf(t, m, "one", "far_end_fault").Applicable {
		t.Error("a fault at the far end is judged though nothing tells how large it is")
	}
}

// TestDropDecides: a longer run takes a thicker conductor than its fuse asks
// for: the first whose drop at operating temperature is within the limit, by
// 2·r·L·I with r of NFPA 70 (NEC) Chapter 9 Table 8.
func TestDropDecides(t *testing.T) {
	t.Parallel()
	resistances := []float64{0.245, 0.194, 0.154, 0.122, 0.0967, 0.0766, 0.0608} // ohm/kft, 3 AWG to 4/0
	for _, length := range []float64{1, 3, 4, 5, 6, 8, 10} {
		row := 7
		for i, r := range resistances {
			if 2*r*1e-3/0.3048*length*80 <= 0.03*12.8 {
				row += i
				break
			}
		}
		m := wired(t, "alternative.one: run_length = "+justSo(length, "m"))
		agree(t, fmt.Sprintf("row at %v m", length), held(t, m, "alternative.one.taken_row", ""), float64(row), 0)
		r := resistances[row-7] * 1e-3 / 0.3048
		agree(t, "drop", held(t, m, "alternative.one.voltage_drop", "V"), 2*r*length*80, 1e-9)
		agree(t, "share", held(t, m, "alternative.one.voltage_drop_share", "%"), 100*2*r*length*80/12.8, 1e-9)
		agree(t, "loss", held(t, m, "alternative.one.full_wiring_loss", "W"), 2*r*length*80*80, 1e-9)
		// 800 W all day at 12.8 V are 62.5 A.
		agree(t, "yearly loss", held(t, m, "alternative.one.yearly_wiring_loss", "kWh"), 2*r*length*62.5*62.5*8.76, 1e-9)
		agree(t, "sag", held(t, m, "alternative.one.surge_sag", "V"), 80*(0.004+2*r*length), 1e-9)
	}
	given := wired(t, `alternative.one: wiring_resistance = "5 mohm"`)
	agree(t, "sag with a given resistance", held(t, given, "alternative.one.surge_sag", "V"), 80*0.009, 1e-9)
}

// TestWiringByHand works the two invented scenarios by hand, from the tables to
// the last lug.
func TestWiringByHand(t *testing.T) {
	t.Parallel()
	boat, land := modelOf(t, "../../testdata/wiring_boat.toml"), modelOf(t, "../../testdata/wiring_land.toml")
	boatCurrent := (1500/0.9 + 12) / 11.2                         // 149.9 A: 4 cells of 2.8 V
	gaugeOne := 0.0172414 * 1.02 / 42.41 * (1 + 0.00393*(105-20)) // ohm/m at 105 °C
	landCurrent := (3000/0.92 + 20) / 22.4                        // 146.5 A
	threeNought := 0.0766e-3 / 0.3048                             // ohm/m at 75 °C
	run := 4 + 12*32.41/40                                        // EUR/m at 42.41 mm²
	for _, c := range []struct {
		model      *engine.Model
		cell, unit string
		want       float64
	}{
		{boat, "two_strings.design_current", "A", boatCurrent},
		{boat, "two_strings.main_fuse", "A", 200},     // above 187.4 A
		{boat, "two_strings.main_area", "mm²", 42.41}, // 1 AWG: 208 A inside engine spaces
		{boat, "two_strings.main_ampacity", "A", 208}, // 33 CFR 183.425 Table 5
		{boat, "two_strings.string_fuse", "A", 200},   // one string carries all
		{boat, "two_strings.voltage_drop", "V", boatCurrent * 2.4 * gaugeOne},
		{boat, "two_strings.cables_resistance", "mohm", 1000 * gaugeOne * (2.4 + 1.2/2)},
		{boat, "two_strings.string_fault_current", "A", 14.6 / (0.3 / 150)},
		{boat, "two_strings.lugs", "", 20}, // ten pieces: a fuse and the disconnect cut a cable in two,
		{boat, "two_strings.fuse_holders", "", 3},
		{boat, "two_strings.bus_bar_count", "", 2},
		{boat, "two_strings.parts_price", "EUR", 4.8*run + 45 + 2*40 + 3*30 + 20*3 + 2*35 + 60},
		{boat, "two_strings.connection_hours", "h", 5},
		{boat, "two_strings.first_cost", "EUR", 2*520 + 4.8*run + 405 + (5+2)*40},
		{boat, "three_linked.string_fuse", "A", 110},     // 187.4 A / 2 / 0.9 = 104.1 A
		{boat, "three_linked.string_area", "mm²", 21.15}, // 4 AWG: 136 A
		{boat, "three_linked.link_rating", "A", 220},     // two string fuses feed a fault in the link
		{boat, "three_linked.link_area", "mm²", 53.48},   // 1/0 AWG: 242 A
		{boat, "three_linked.parallel_links", "", 4},
		{boat, "three_linked.bus_bar_count", "", 0},
		{boat, "three_linked.parts_price", "EUR", 2.4*run + 1.2*(16+18*3.48/60) + 45 + 3*40 + 4*30 + 22*3 + 60},
		{land, "at_24v.main_fuse", "A", 200},     // above 183.1 A
		{land, "at_24v.main_ampacity", "A", 200}, // 225 A × 0.91 = 204.8 A, terminals 200 A
		{land, "at_24v.main_area", "mm²", 85.03}, // 3/0 AWG
		{land, "at_24v.voltage_drop", "V", landCurrent * 8 * threeNought},
		{land, "at_24v.far_fault_current", "A", 22.4 / (0.006 + (8+1.5)*threeNought)},
		{land, "at_24v.let_through", "A²*s", 1000 * 1000 * 5},
		{land, "at_24v.cable_withstand", "A²*s", math.Pow(withstand(75, 160)*85.03, 2)},
		{land, "at_24v.precharge_wait", "s", 5 * 50 * 0.02},
		{land, "at_24v.precharge_energy", "W*s", 0.5 * 0.02 * 29.2 * 29.2},
		{land, "at_24v.series_links", "", 2},
		{land, "at_24v.string_cables", "", 4},
		{land, "at_24v.lugs", "", 24},
		{land, "at_24v.disconnect_rating", "A", 200},
		{land, "at_48v.main_fuse", "A", 100},
		{land, "at_48v.main_area", "mm²", 26.67}, // 3 AWG: 115 A × 0.91 = 104.7 A, terminals 100 A
		{land, "at_48v.string_fuses", "", 0},
		{land, "at_48v.series_links", "", 3},
	} {
		t.Run(c.cell, func(t *testing.T) {
			agree(t, c.cell, held(t, c.model, "alternative."+c.cell, c.unit), c.want, 1e-9)
		})
	}
	c, err := land.ParseCell("alternative.at_24v.main_size")
	if err != nil {
		t.Fatal(err)
	}
	if got := land.Text(c.Quantity, land.Result.At(c.Quantity, c.Item, c.Row)); got != "3/0 AWG" {
		t.Errorf("the main run is %s", got)
	}
}

// TestWiredScenarios runs both invented scenarios from the command line: every
// cell agrees with the reference, and what must stop stops.
func TestWiredScenarios(t *testing.T) {
	oracle.OneCore(t)
	t.Parallel()
	for file, stopped := range map[string]bool{
		"../../testdata/wiring_boat.toml": true, // 21.9 kA are too much for the fuse of three strings
		"../../testdata/wiring_land.toml": false,
	} {
		var out, errs bytes.Buffer
		if status := run([]string{"check", "--verify", file}, &out, &errs); status != exitDone {
			t.Fatalf("%s: exit %d: %s", file, status, errs.String())
		}
		if !strings.Contains(errs.String(), "all equal to the last bit") || strings.Contains(out.String(), "0 warnings; 1 stop, ") != stopped {
			t.Errorf("%s:\n%s%s", file, out.String(), errs.String())
		}
	}
}

// TestBeyondTheLargestFuse: where no rating of NFPA 70 (NEC) 240.6(A) is large enough,
// no fuse protects, and the check stops it.
func TestBeyondTheLargestFuse(t *testing.T) {
	t.Parallel()
	over := wired(t, `load.heater: power = "48100 W"`)
	if f := findingOf(t, over, "one", "fuse_protects_cable"); f.Passed || !f.Applicable {
		t.Errorf("passed: %v, applies: %v", f.Passed, f.Applicable)
	}
}

// TestFuseClasses: common practice, what makers state of fuses for direct current: links
// bolted down for 32 and 58 V, cubes on the battery terminal for 58 V, UL class T for
// 125 V and 20 kA (UL 248-15, from memory), knife-blade links for 250 V and 25 kA
// (IEC 60269-2, from memory).
func TestFuseClasses(t *testing.T) {
	t.Parallel()
	for class, want := range map[string][3]float64{
		"bolted_32": {32, 2000, 500}, "bolted_58": {58, 2000, 500}, "terminal": {58, 2000, 300},
		"class_t": {125, 20000, 1200}, "blade_contact": {250, 25000, 1250},
	} {
		m := wired(t, `site: fuse_class = "`+class+`"`)
		for i, of := range []string{"main_fuse_voltage V", "main_class_interrupting A", "largest_main_fuse A"} {
			quantity, unit, _ := strings.Cut(of, " ")
			agree(t, class+" "+quantity, held(t, m, "alternative.one."+quantity, unit), want[i], 1e-12)
		}
	}
}

// TestSurgeDecides: common practice, a fuse passes twice its rating for some
// seconds; a surge of 240 A asks for 120 A, though the current asks for 100 A.
func TestSurgeDecides(t *testing.T) {
	t.Parallel()
	m := wired(t, `load.heater: surge_power = "2400 W"`)
	agree(t, "surge", held(t, m, "alternative.one.surge_current", "A"), 240, 1e-12)
	agree(t, "fuse", held(t, m, "alternative.one.main_fuse", "A"), 125, 0)
	agree(t, "area", held(t, m, "alternative.one.main_area", "mm²"), 42.41, 1e-12) // 1 AWG: 130 A
}

// TestStringShares: common practice, a string carries its share while another is
// out, unevenly where two or more are left (90 %), and the link next to the
// take-off carries the current of all strings but one.
func TestStringShares(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		parallel           int
		share, link, fuse  float64
		fuses, cables      float64
		connectionsLinked  float64
		connectionsBusBars float64
	}{
		{1, 1, 0, 100, 0, 1, 8, 8},
		{2, 1, 1, 100, 2, 3, 16, 20},
		{3, 1 / 2.0 / 0.9, 1, 60, 3, 3, 22, 26},
		{4, 1 / 3.0 / 0.9, 1, 40, 4, 3, 28, 32},
	} {
		set := fmt.Sprintf("alternative.one: parallel = %d", c.parallel)
		linked, bars := wired(t, set, "alternative.one: take_off = \"diagonal\""), wired(t, set)
		what := fmt.Sprintf("%d strings: ", c.parallel)
		agree(t, what+"share", held(t, linked, "alternative.one.string_share", ""), 100*c.share, 1e-12)
		agree(t, what+"link", held(t, linked, "alternative.one.link_share", ""), 100*c.link, 1e-12)
		agree(t, what+"fuse", held(t, linked, "alternative.one.string_fuse", "A"), c.fuse, 0)
		agree(t, what+"fuses", held(t, linked, "alternative.one.string_fuses", ""), c.fuses, 0)
		agree(t, what+"sorts of cable", held(t, linked, "alternative.one.cable_count", ""), c.cables, 0)
		agree(t, what+"connections", held(t, linked, "alternative.one.wiring_connections", ""), c.connectionsLinked, 0)
		agree(t, what+"connections with bus bars", held(t, bars, "alternative.one.wiring_connections", ""), c.connectionsBusBars, 0)
	}
}
