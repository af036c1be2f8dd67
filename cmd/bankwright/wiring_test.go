package main

import (
	"fmt"
	"math"
	"testing"

	"bankwright/engine"
)

// wires is a scenario with one alternative, which takes 1.25 × 80 A = 100 A.
const wires = `title = "Wires"
currency = "EUR"

[battery.block]
capacity = "100 Ah"
nominal_voltage = "12.8 V"
full_voltage = "14.6 V"
cutoff_voltage = "10 V"
price = "300 EUR"
max_discharge_current = "200 A"
internal_resistance = "4 mohm"
short_circuit_resistance = "2 mohm"
max_series = 4
max_parallel = 4
cycle_life = { depth = ["80 %"], cycles = [4000] }

[load.heater]
power = "800 W"
supply = "dc"

[inverter.box]
continuous_power = "0 W"
efficiency = "100 %"
idle_power = "0 W"
min_voltage = "5 V"
max_voltage = "80 V"

[site]
wire_tables = "land"
termination_column = "75"
fuse_class = "class_t"
string_fuse_class = "class_t"
licensed_installer = true

[price]
labour = "30 EUR/h"

[alternative.one]
battery = "block"
inverter = "box"
run_length = "1 m"
fuse_distance = "0.1 m"
`

// wired reads that scenario with edits.
func wired(t testing.TB, edits ...string) *engine.Model {
	t.Helper()
	return solvedText(t, edited(wires, edits...))
}

// TestGaugeGeometry: ASTM B258 (from memory) makes the diameter of gauge n
// 0.127 mm × 92^((36-n)/39). The areas of the tables follow it within the
// rounding of their sources (a thousandth), and a circular mil is the area of a
// circle of 0.0254 mm.
func TestGaugeGeometry(t *testing.T) {
	t.Parallel()
	land, boat := wired(t), wired(t, `site: wire_tables = "boat"`)
	gauges := []float64{18, 16, 14, 12, 10, 8, 6, 4, 3, 2, 1, 0, -1, -2, -3}
	for i, n := range gauges {
		d := 0.127 * math.Pow(92, (36-n)/39)
		area := math.Pi / 4 * d * d
		agree(t, fmt.Sprintf("area of gauge %v", n), held(t, boat, fmt.Sprintf("site.conductor_area[%d]", i+1), "mm²"), area, 1e-3)
		if i >= 2 {
			agree(t, fmt.Sprintf("area of gauge %v on land", n), held(t, land, fmt.Sprintf("site.conductor_area[%d]", i-1), "mm²"), area, 1e-3)
		}
	}
	mil := math.Pi / 4 * 0.0254 * 0.0254
	for i, cmil := range []float64{4110, 6530, 10380, 16510, 26240, 41740, 52620, 66360, 83690, 105600, 133100, 167800, 211600, 250000, 300000, 350000, 400000, 500000} {
		// NFPA 70 (NEC) Chapter 9 Table 8, as seen in a public reproduction.
		agree(t, fmt.Sprintf("%v cmil", cmil), held(t, land, fmt.Sprintf("site.conductor_area[%d]", i+1), "mm²"), cmil*mil, 1e-3)
	}
}

// TestResistances: the published resistances of the tables on land follow from
// copper of 10.371 ohm·cmil/ft at 20 °C (IEC 60028, from memory), 2 % for the
// lay of the strands and 0.00393 a kelvin up to 75 °C, within 1.2 %; those by
// square millimetres lie above those of plain copper of that area, since they
// are the highest allowed (IEC 60228).
func TestResistances(t *testing.T) {
	t.Parallel()
	land := wired(t)
	for i := 1; i <= 18; i++ {
		area := held(t, land, fmt.Sprintf("site.conductor_area[%d]", i), "mm²")
		want := 17.2414 / area * 1.02 * (1 + 0.00393*55)
		agree(t, fmt.Sprintf("row %d", i), held(t, land, fmt.Sprintf("site.reference_resistance[%d]", i), "mohm/m")/want, 1, 0.012)
	}
	for _, strands := range []string{"stranded", "flexible"} {
		iec := wired(t, `site: wire_tables = "iec"`, `site: iec_strands = "`+strands+`"`)
		for i := 1; i <= 16; i++ {
			area := held(t, iec, fmt.Sprintf("site.conductor_area[%d]", i), "mm²")
			ratio := held(t, iec, fmt.Sprintf("site.reference_resistance[%d]", i), "mohm/m") * area / 17.2414
			if ratio < 1.03 || ratio > 1.20 {
				t.Errorf("%s, %v mm²: %v of plain copper", strands, area, ratio)
			}
		}
	}
}

// TestHeatBalance: what tables do not print follows from them by heat balance, as in
// NFPA 70 (NEC) Equation 310.15(B); the inside column of 33 CFR 183.425 Table 5 is
// 0.85 of the outside one, rounded; a row of ambients holds up to its temperature, and
// at its own temperature insulation carries nothing.
func TestHeatBalance(t *testing.T) {
	t.Parallel()
	outside := wired(t, `site: wire_tables = "boat"`, `site: engine_space = false`, `site: cable_ambient = "50 °C"`)
	agree(t, "4/0 AWG outside, at 50 °C", held(t, outside, "site.conductor_ampacity[15]", "A"), 445*math.Sqrt(55.0/75), 1e-9)
	iec := wired(t, `site: wire_tables = "iec"`)
	agree(t, "95 mm², terminals of 70 °C", held(t, iec, "site.conductor_ampacity[11]", "A"), 355*math.Sqrt(40.0/60), 1e-9)
	boat := wired(t, `site: wire_tables = "boat"`)
	for i := 1; i <= 15; i++ {
		inside := held(t, boat, fmt.Sprintf("site.boat_inside[%d]", i), "A")
		outside := held(t, boat, fmt.Sprintf("site.boat_outside[%d]", i), "A")
		if math.Abs(inside-0.85*outside) > 0.76 {
			t.Errorf("row %d: %v A inside, %v A outside", i, inside, outside)
		}
	}
	between := wired(t, `site: cable_ambient = "41 °C"`, `site: insulation_column = "75"`)
	agree(t, "factor at 41 °C", held(t, between, "site.ambient_factor", ""), 0.82, 1e-12)
	hot := wired(t, `site: cable_ambient = "60 °C"`, `site: insulation_column = "60"`)
	agree(t, "60 °C insulation at 60 °C", held(t, hot, "site.conductor_ampacity[18]", "A"), 0, 0)
}

// TestNoTables: without a choice of tables nothing of the wiring is computed.
func TestNoTables(t *testing.T) {
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
[alternative.one]
battery = "block"
run_length = "1 m"
`)
	for _, name := range []string{"main_fuse", "main_area", "voltage_drop", "cables_resistance", "let_through", "lugs", "parts_price", "connection_hours", "disconnect_rating"} {
		if v := held(t, m, "alternative.one."+name, ""); v == v {
			t.Errorf("%s = %v, though no tables are chosen", name, v)
		}
	}
	agree(t, "wiring cost", held(t, m, "alternative.one.wiring_cost", "EUR"), 0, 0)
	agree(t, "hours", held(t, m, "alternative.one.wiring_hours", "h"), 3, 1e-12)
}
