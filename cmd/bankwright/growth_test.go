package main

import "testing"

// TestGrowth: what the next step up takes. The maker of "even" allows two in
// series and sixteen strings; four stand upright in the space, each with its
// work of half an hour at 40 an hour. Worked by hand.
func TestGrowth(t *testing.T) {
	t.Parallel()
	type cells map[string]any
	for _, c := range []struct {
		name, lines string
		want        cells
	}{
		{"common practice: 12 to 24 V takes two of a battery that stood alone",
			"battery = \"even\"\ninverter = \"narrow\"", cells{
				"next_voltage": 25.6, "next_voltage_total": 2.0, "next_voltage_count": 1.0, "next_voltage_energy": 2560.0,
				"next_voltage_price": 300.0, "next_voltage_hours": 1.0, "next_voltage_cost": 340.0,
				"next_voltage_step": "allowed", "next_voltage_fits": true, "next_voltage_inverter": "stays",
				"next_string_count": 1.0, "next_string_total": 2.0, "next_string_energy": 2560.0,
				"next_string_price": 300.0, "next_string_hours": 0.5, "next_string_cost": 320.0,
				"next_string": "allowed", "next_string_fits": true,
				"largest_count": 32.0, "largest_energy": 40960.0, "largest_count_here": 16.0, "largest_energy_here": 20480.0,
			}},
		{"common practice: 12 to 24 V takes four where two small ones stood in parallel",
			"battery = \"even\"\nparallel = 2\ninverter = \"narrower\"", cells{
				"next_voltage": 25.6, "next_voltage_total": 4.0, "next_voltage_count": 2.0, "next_voltage_cost": 680.0,
				"next_voltage_fits": true, "next_voltage_inverter": "new one",
			}},
		{"at the maker's limits, and a step beyond the space",
			"battery = \"even\"\nseries = 2\nparallel = 2", cells{
				"next_voltage": 51.2, "next_voltage_total": 8.0, "next_voltage_step": "not allowed by the maker", "next_voltage_fits": false,
				"next_voltage_inverter": nil, "next_string_count": 2.0, "next_string_total": 6.0, "next_string_fits": false,
				"next_string": "allowed", "next_string_cost": 640.0,
			}},
		{"IEC 60364-4-41: 51.2 V is within 60 V, but the bank of it stands at 62 V when full",
			"battery = \"tall\"\n" + tall, cells{"next_voltage": 51.2, "next_voltage_step": "above what may be in reach here"}},
		{"fifteen strings may become sixteen",
			"battery = \"even\"\nparallel = 15", cells{"next_string": "allowed", "next_string_total": 16.0}},
		{"sixteen strings are all that is allowed",
			"battery = \"even\"\nparallel = 16", cells{"next_string": "not allowed", "largest_count_here": 16.0}},
		{"without measures of the battery the space is not judged",
			"battery = \"unknown\"", cells{"next_string_fits": nil, "next_voltage_fits": nil, "next_voltage_step": "not allowed by the maker"}},
	} {
		t.Run(c.name, func(t *testing.T) {
			var a answer
			document(t, &a, "compare", bankOf(t, c.lines))
			values := a.Alternatives[0].Values
			for name, want := range c.want {
				got, ok := values[name]
				if x, number := got.Value.(float64); number && ok {
					if w, ok := want.(float64); ok {
						agree(t, name, x, w, 1e-12)
						continue
					}
				}
				if !ok || got.Value != want {
					t.Errorf("%s is %v, want %v", name, got.Value, want)
				}
			}
		})
	}
}

// tall is a battery that stands high above its nominal voltage when full.
const tall = `[battery.tall]
capacity              = "100 Ah"
nominal_voltage       = "25.6 V"
full_voltage          = "31 V"
price                 = "600 EUR"
max_discharge_current = "100 A"
max_series            = 2
cycle_life            = { depth = ["80 %"], cycles = [4000] }
`

// TestGrowthParts: what one more string and twice the voltage take of cables,
// lugs, fuses and bus bars, worked by hand for testdata/wiring_land.toml: string
// cables of 0.6 m, links of 0.3 m, lugs at 2, string fuses at 50 with a holder
// at 25, bus bars at 30.
func TestGrowthParts(t *testing.T) {
	const file = "../../testdata/wiring_land.toml"
	for _, c := range []struct {
		cell, unit string
		want       float64
	}{
		// Two strings of two: a third takes two cables, one link and one fuse.
		{"alternative.at_24v.next_string_length", "m", 2*0.6 + 0.3},
		{"alternative.at_24v.next_string_fittings", "USD", 50 + 25 + 2*(2+1+1)*2},
		{"alternative.at_24v.next_voltage_links", "", 4},
		// One string of four: a second takes fuses and cables for both, and bus bars.
		{"alternative.at_48v.next_string_length", "m", 4*0.6 + 3*0.3},
		{"alternative.at_48v.next_string_fittings", "USD", 2*(50+25) + 2*30 + 2*(4+3+2)*2},
		{"alternative.at_48v.next_voltage_length", "m", 4 * 0.3},
	} {
		agree(t, c.cell, explained(t, file, c.cell, c.unit), c.want, 1e-12)
	}
	metre := explained(t, file, "alternative.at_24v.cable_unit_price[1]", "USD/m")
	agree(t, "parts of a string", explained(t, file, "alternative.at_24v.next_string_parts_price", "USD"), 1.5*metre+91, 1e-12)
	cost := 2*700 + 1*30 + 1.5*metre + 91 // two batteries, half an hour for each
	agree(t, "a string in all", explained(t, file, "alternative.at_24v.next_string_cost", "USD"), cost, 1e-12)
	agree(t, "twice the voltage", explained(t, file, "alternative.at_24v.next_voltage_parts_price", "USD"), 4*0.3*metre+2*4*2, 1e-12)
}
