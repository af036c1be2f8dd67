package main

import (
	"fmt"
	"math"
	"strings"
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

// TestOperatingTemperature: BS 7671 Table 4E4B, d.c. column, gives the drop of
// both conductors at 90 °C in mV for each ampere and metre (as seen in a public
// reproduction); it is rounded to two digits.
func TestOperatingTemperature(t *testing.T) {
	t.Parallel()
	iec := wired(t, `site: wire_tables = "iec"`, `site: iec_strands = "stranded"`, `site: iec_termination = "90 °C"`)
	for i, want := range []float64{31, 19, 12, 7.9, 4.7, 2.9, 1.85, 1.35, 0.98, 0.67, 0.49, 0.39, 0.31, 0.25, 0.195, 0.155} {
		got := 2 * held(t, iec, fmt.Sprintf("site.conductor_resistance[%d]", i+1), "mohm/m")
		agree(t, fmt.Sprintf("row %d over BS 7671", i+1), got/want, 1, 0.025)
	}
	// Note 2 of NFPA 70 (NEC) Chapter 9 Table 8: R2 = R1·(1 + 0.00323·(T2 − 75)),
	// as seen in a public reproduction; terminals of 60 °C keep the conductor at 60 °C.
	cool := wired(t, `site: termination_column = "60"`)
	agree(t, "factor at 60 °C", held(t, cool, "site.resistance_factor", ""), 1-0.00323*15, 1e-12)
	agree(t, "factor at 75 °C", held(t, wired(t), "site.resistance_factor", ""), 1, 1e-12)
}

// TestAmbient: NFPA 70 (NEC) Table 310.15(B)(1), factors for 30 °C, as seen in a
// public reproduction, against the rules on land, and against the formula
// √((Tc − Ta)/(Tc − 30)), which the table follows within its two decimals; the
// iec family takes the formula itself.
func TestAmbient(t *testing.T) {
	t.Parallel()
	upper := []float64{10, 15, 20, 25, 30, 35, 40, 45, 50, 55, 60}
	published := map[string][]float64{
		"60": {1.29, 1.22, 1.15, 1.08, 1.00, 0.91, 0.82, 0.71, 0.58, 0.41},
		"75": {1.20, 1.15, 1.11, 1.05, 1.00, 0.94, 0.88, 0.82, 0.75, 0.67, 0.58},
		"90": {1.15, 1.12, 1.08, 1.04, 1.00, 0.96, 0.91, 0.87, 0.82, 0.76, 0.71},
	}
	for i, ambient := range upper {
		t.Run(fmt.Sprint(ambient), func(t *testing.T) {
			t.Parallel()
			at := fmt.Sprintf(`site: cable_ambient = "%v °C"`, ambient)
			below := fmt.Sprintf(`site: cable_ambient = "%v °C"`, ambient-4)
			for column, factors := range published {
				if i == len(factors) {
					continue // the insulation must not be used
				}
				insulated := `site: insulation_column = "` + column + `"`
				agree(t, column+", "+at, held(t, wired(t, insulated, at), "site.ambient_factor", ""), factors[i], 1e-12)
				if column == "75" { // a row holds up to its temperature, in every column alike
					agree(t, column+", "+below, held(t, wired(t, insulated, below), "site.ambient_factor", ""), factors[i], 1e-12)
				}
			}
			iec := wired(t, `site: wire_tables = "iec"`, at)
			agree(t, "formula, "+at, held(t, iec, "site.ambient_factor", ""), published["90"][i], 0.0051)
		})
	}
	hot := wired(t, `site: cable_ambient = "60 °C"`, `site: insulation_column = "60"`)
	agree(t, "60 °C insulation at 60 °C", held(t, hot, "site.conductor_ampacity[18]", "A"), 0, 0)
}

// TestBundling: NFPA 70 (NEC) Table 310.15(C)(1), as seen in a public
// reproduction; 33 CFR 183.425 and IEC 60364-5-52, from memory.
func TestBundling(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		family     string
		conductors int
		want       float64
	}{
		{"land", 3, 1}, {"land", 4, 0.8}, {"land", 6, 0.8}, {"land", 7, 0.7}, {"land", 9, 0.7}, {"land", 20, 0.5}, {"land", 21, 0.45}, {"land", 40, 0.4},
		{"boat", 2, 1}, {"boat", 3, 0.7}, {"boat", 6, 0.6}, {"boat", 7, 0.5}, {"boat", 25, 0.4},
		{"iec", 2, 1}, {"iec", 3, 0.8}, {"iec", 4, 0.8}, {"iec", 6, 0.7}, {"iec", 18, 0.5},
	} {
		m := wired(t, `site: wire_tables = "`+c.family+`"`, fmt.Sprintf("site: conductors_bundled = %d", c.conductors))
		agree(t, fmt.Sprintf("%s, %d", c.family, c.conductors), held(t, m, "site.bundling_factor", ""), c.want, 1e-12)
	}
}

// TestAmpacities: the columns as published (33 CFR 183.425 Table 5, NFPA 70
// Table 310.16, BS 7671 Table 4E1A, as seen in public reproductions), and what
// caps them.
func TestAmpacities(t *testing.T) {
	t.Parallel()
	const bySize = `site: termination_column = "by_size"`
	for _, c := range []struct {
		name string
		set  []string
		row  int
		want float64
	}{
		{"NEC 310.16: 4/0 AWG, 75 °C terminals", nil, 13, 230},
		// NFPA 70 (NEC) 110.14(C)(1), from memory: terminals of no known listing.
		{"NEC 110.14: 1 AWG, terminals by size", []string{bySize}, 9, 110},
		{"NEC 110.14: 1/0 AWG, terminals by size", []string{bySize}, 10, 150},
		{"NEC 310.16: 4/0 AWG, 60 °C terminals", []string{`site: termination_column = "60"`}, 13, 195},
		{"NEC 310.16: 4/0 AWG, 90 °C throughout", []string{`site: termination_column = "90"`}, 13, 260},
		{"NEC 310.16: 60 °C insulation at 90 °C terminals", []string{`site: insulation_column = "60"`, `site: termination_column = "90"`}, 13, 195},
		// 260 A × 0.82 = 213.2 A, below the 230 A of the terminals.
		{"NEC 310.15: 4/0 AWG of 90 °C at 50 °C", []string{`site: cable_ambient = "50 °C"`}, 13, 213.2},
		{"33 CFR 183.425: 4/0 AWG inside engine spaces at 50 °C", []string{`site: wire_tables = "boat"`, `site: cable_ambient = "50 °C"`}, 15, 378},
		{"33 CFR 183.425: 4/0 AWG outside", []string{`site: wire_tables = "boat"`, `site: engine_space = false`}, 15, 445},
		// The published 0.85 inside engine spaces is √((105 − 50)/(105 − 30)) = 0.856.
		{"33 CFR 183.425: 4/0 AWG outside, at 50 °C", []string{`site: wire_tables = "boat"`, `site: engine_space = false`, `site: cable_ambient = "50 °C"`}, 15, 445 * math.Sqrt(55.0/75)},
		{"BS 7671 4E1A: 95 mm², terminals of 90 °C", []string{`site: wire_tables = "iec"`, `site: iec_termination = "90 °C"`}, 11, 355},
		{"heat balance: 95 mm², terminals of 70 °C", []string{`site: wire_tables = "iec"`}, 11, 355 * math.Sqrt(40.0/60)},
	} {
		t.Run(c.name, func(t *testing.T) {
			m := wired(t, c.set...)
			agree(t, "ampacity", held(t, m, fmt.Sprintf("site.conductor_ampacity[%d]", c.row), "A"), c.want, 1e-9)
		})
	}
	// The engine-space column is 0.85 of the outside one, rounded (33 CFR).
	boat := wired(t, `site: wire_tables = "boat"`)
	for i := 1; i <= 15; i++ {
		inside := held(t, boat, fmt.Sprintf("site.boat_inside[%d]", i), "A")
		outside := held(t, boat, fmt.Sprintf("site.boat_outside[%d]", i), "A")
		if math.Abs(inside-0.85*outside) > 0.76 {
			t.Errorf("row %d: %v A inside, %v A outside", i, inside, outside)
		}
	}
}

// TestUnlistedTerminals: NFPA 70 (NEC) 110.14(C)(1), from memory: where nobody
// says what the terminals are listed for, a circuit of 100 A takes its conductor
// from the 60 °C column, 1 AWG of 110 A; 3 AWG carries 100 A at 75 °C only.
func TestUnlistedTerminals(t *testing.T) {
	t.Parallel()
	unsaid := strings.Replace(wires, "termination_column = \"75\"\n", "", 1)
	m := solvedText(t, unsaid)
	agree(t, "main fuse", held(t, m, "alternative.one.main_fuse", "A"), 100, 0)
	agree(t, "area", held(t, m, "alternative.one.main_area", "mm²"), 42.41, 1e-12)
	agree(t, "ampacity", held(t, m, "alternative.one.main_ampacity", "A"), 110, 1e-12)
	agree(t, "factor of resistance", held(t, m, "site.resistance_factor", ""), 1, 1e-12)
	// 1.25 × 120 A = 150 A, above 100 A: 1/0 AWG of the 75 °C column.
	m = solvedText(t, edited(unsaid, `load.heater: power = "1200 W"`))
	agree(t, "area above 100 A", held(t, m, "alternative.one.main_area", "mm²"), 53.48, 1e-12)
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
