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
				"next_voltage": 51.2, "next_voltage_total": 8.0, "next_voltage_step": "not allowed", "next_voltage_fits": false,
				"next_voltage_inverter": nil, "next_string_count": 2.0, "next_string_total": 6.0, "next_string_fits": false,
				"next_string": "allowed", "next_string_cost": 640.0,
			}},
		{"fifteen strings may become sixteen",
			"battery = \"even\"\nparallel = 15", cells{"next_string": "allowed", "next_string_total": 16.0}},
		{"sixteen strings are all that is allowed",
			"battery = \"even\"\nparallel = 16", cells{"next_string": "not allowed", "largest_count_here": 16.0}},
		{"without measures of the battery the space is not judged",
			"battery = \"unknown\"", cells{"next_string_fits": nil, "next_voltage_fits": nil, "next_voltage_step": "not allowed"}},
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
