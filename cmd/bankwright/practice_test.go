package main

import (
	"math"
	"strconv"
	"strings"
	"testing"
)

// Everything in this file is known arithmetic of the trade: common practice,
// worked here by hand and asked of the program by a scenario and the command
// line.

// twoBatteries offers large (240 Ah) and small (100 Ah) and compares sixteen of
// each, one large with two small, and one large that has been tested.
const twoBatteries = `title = "Large and small"
currency = "USD"

[battery.large]
capacity              = "240 Ah"
nominal_voltage       = "12.8 V"
price                 = "680 USD"
max_discharge_current = "150 A"
max_series            = 4
max_parallel          = 4
cycle_life            = { depth = ["80 %", "100 %"], cycles = [6000, 4000] }

[battery.small]
capacity              = "100 Ah"
nominal_voltage       = "12.8 V"
price                 = "300 USD"
max_discharge_current = "100 A"
max_series            = 4
max_parallel          = 4
cycle_life            = { depth = ["80 %", "100 %"], cycles = [6000, 4000] }

[battery.tested_once]
capacity              = "240 Ah"
nominal_voltage       = "12.8 V"
measured_energy       = "3259 Wh"
price                 = "680 USD"
max_discharge_current = "150 A"
cycle_life            = { depth = ["100 %"], cycles = [4000] }

[battery.tested_better]
capacity              = "240 Ah"
nominal_voltage       = "12.8 V"
measured_energy       = "3.32 kWh"
price                 = "680 USD"
max_discharge_current = "150 A"
cycle_life            = { depth = ["100 %"], cycles = [4000] }

[load.heater]
power  = "500 W"
supply = "dc"

[site]
depth_of_discharge = "100 %"

[alternative.one_large]
battery = "large"
[alternative.two_small]
battery  = "small"
parallel = 2
[alternative.large_4s4p]
battery  = "large"
series   = 4
parallel = 4
[alternative.small_4s4p]
battery  = "small"
series   = 4
parallel = 4
`

// TestPractice asks for single cells.
func TestPractice(t *testing.T) {
	t.Parallel()
	file := written(t, "practice.toml", twoBatteries)
	for _, c := range []struct {
		name, cell, unit string
		want             float64
	}{
		{"common practice: 240 Ah at 12.8 V hold 3,072 Wh", "battery.large.rated_energy", "Wh", 3072},
		{"common practice: 100 Ah at 12.8 V hold 1,280 Wh", "battery.small.rated_energy", "Wh", 1280},
		{"common practice: 150 A at 12.8 V give 1,920 W", "battery.large.max_power", "W", 1920},
		{"common practice: 16 × 240 Ah in 4S4P stand at 51.2 V", "alternative.large_4s4p.bank_voltage", "V", 51.2},
		{"common practice: 16 × 240 Ah in 4S4P are 960 Ah", "alternative.large_4s4p.bank_capacity", "Ah", 960},
		{"common practice: two in parallel keep the voltage", "alternative.two_small.bank_voltage", "V", 12.8},
		{"common practice: two in parallel add their Ah", "alternative.two_small.bank_capacity", "Ah", 200},
		{"common practice: 16 × 240 Ah hold 49.152 kWh", "alternative.large_4s4p.bank_energy", "Wh", 49152},
		{"common practice: 16 × 100 Ah hold 20.48 kWh", "alternative.small_4s4p.bank_energy", "Wh", 20480},
		{"common practice: the largest bank that the maker allows", "battery.large.largest_bank_energy", "Wh", 49152},
		{"common practice: 680 for 3,072 Wh is 0.2214 a Wh", "battery.large.price_per_rated_energy", "USD/Wh", 680.0 / 3072},
		{"common practice: 300 for 1,280 Wh is 0.2344 a Wh", "battery.small.price_per_rated_energy", "USD/Wh", 300.0 / 1280},
		{"common practice: price per rated Wh, whatever a test gave", "battery.tested_once.price_per_rated_energy", "USD/Wh", 680.0 / 3072},
		{"common practice: price per measured Wh", "battery.tested_once.price_per_energy", "USD/Wh", 680.0 / 3259},
		{"common practice: measured 3,259 Wh on rated 3,072 Wh", "battery.tested_once.energy_ratio", "%", 100 * 3259.0 / 3072},
		{"common practice: measured 3,320 Wh on rated 3,072 Wh", "battery.tested_better.energy_ratio", "%", 100 * 3320.0 / 3072},
		{"common practice: a good test does not raise the plan", "battery.tested_better.energy", "Wh", 3072},
		{"common practice: 500 W from 3,072 Wh at full depth", "alternative.one_large.runtime", "h", 3072.0 / 500},
	} {
		t.Run(c.name, func(t *testing.T) {
			agree(t, c.cell, explained(t, file, c.cell, c.unit), c.want, 1e-12)
		})
	}
}

// TestPracticeDigits holds the same arithmetic to the digits that the trade
// quotes.
func TestPracticeDigits(t *testing.T) {
	t.Parallel()
	file := written(t, "practice.toml", twoBatteries)
	for _, c := range []struct {
		name, cell, unit string
		quoted, half     float64 // the quoted figure, half a unit of its last digit
	}{
		{"common practice: price per rated Wh, large", "battery.large.price_per_rated_energy", "USD/Wh", 0.2214, 0.00005},
		{"common practice: price per rated Wh, small", "battery.small.price_per_rated_energy", "USD/Wh", 0.2344, 0.00005},
		{"common practice: 3,259 of 3,072 Wh are 106.1 %", "battery.tested_once.energy_ratio", "%", 106.1, 0.05},
		{"common practice: 3,320 of 3,072 Wh are 108.1 %", "battery.tested_better.energy_ratio", "%", 108.1, 0.05},
		{"common practice: 500 W for 6.14 h", "alternative.one_large.runtime", "h", 6.14, 0.005},
	} {
		t.Run(c.name, func(t *testing.T) {
			if got := explained(t, file, c.cell, c.unit); math.Abs(got-c.quoted) > c.half {
				t.Errorf("%s = %v %s, want %v", c.cell, got, c.unit, c.quoted)
			}
		})
	}
}

// TestTwentyPercentMore: common practice, one of 240 Ah holds 20 % more than two
// of 100 Ah.
func TestTwentyPercentMore(t *testing.T) {
	t.Parallel()
	var a answer
	document(t, &a, "compare", written(t, "practice.toml", twoBatteries))
	one := a.figure(t, "one_large", "bank_energy", "Wh")
	two := a.figure(t, "two_small", "bank_energy", "Wh")
	agree(t, "one large over two small", one/two, 1.20, 1e-12)
}

// TestCyclesAt: common practice, the life that a maker promises at two depths
// lies on one straight line on log-log paper; the rules follow it at both points
// and between them, and hold the nearest value outside.
func TestCyclesAt(t *testing.T) {
	t.Parallel()
	const two = `cycle_life = { depth = ["80 %", "100 %"], cycles = [6000, 4000] }`
	const shallow = `cycle_life = { depth = ["40 %", "80 %"], cycles = [12000, 6000] }`
	const one = `cycle_life = { depth = ["80 %"], cycles = [6000] }`
	for _, c := range []struct {
		name, life, depth string
		want              float64
	}{
		{"common practice: at the first point", two, "80 %", 6000},
		{"common practice: at the last point", two, "100 %", 4000},
		// Half way on log paper lie the geometric means: depth √(0.8·1.0),
		// cycles √(6000·4000) = 4,899.
		{"common practice: half way between", two, "89.44271909999159 %", math.Sqrt(6000 * 4000)},
		// Depth 90 %: 6000·(0.9/0.8)^(ln(4000/6000)/ln(1/0.8)) = 4,844.2.
		{"common practice: at 90 %", two, "90 %", 6000 * math.Pow(0.9/0.8, math.Log(4000.0/6000)/math.Log(1/0.8))},
		{"common practice: held below the first point", two, "50 %", 6000},
		{"common practice: held above the last point", shallow, "100 %", 6000},
		// Half the depth for twice the cycles is equal throughput: a straight
		// line of slope -1, by which 60 % gives 12000·40/60 = 8,000.
		{"common practice: a line of equal throughput", shallow, "60 %", 8000},
		// One point only: every depth gives the same lifetime throughput.
		{"common practice: one point, 80 % of 6,000 at 60 %", one, "60 %", 8000},
	} {
		t.Run(c.name, func(t *testing.T) {
			file := written(t, "life.toml", `title = "Cycle life"
currency = "USD"
[battery.large]
capacity              = "240 Ah"
nominal_voltage       = "12.8 V"
price                 = "680 USD"
max_discharge_current = "150 A"
end_of_life           = "70 %"
`+c.life+`
[load.lamp]
power  = "500 W"
supply = "dc"
[site]
depth_of_discharge = "`+c.depth+`"
[alternative.one]
battery = "large"
`)
			agree(t, "planned cycles", explained(t, file, "battery.large.planned_cycles", "cycles"), c.want, 1e-12)
			// The lamp empties the bank every day, so that the years of the
			// comparison follow the same curve.
			days := 365 / explained(t, file, "alternative.one.cycle_wear[1]", "%") * 100
			agree(t, "cycles of the first year", days, c.want, 1e-12)
			// Capacity that falls evenly from all to 70 % is 85 % on the mean.
			depth, err := strconv.ParseFloat(strings.TrimSuffix(c.depth, " %"), 64)
			if err != nil {
				t.Fatal(err)
			}
			life := explained(t, file, "battery.large.lifetime_energy", "kWh")
			agree(t, "energy of a life", life, 12.8*0.240*depth/100*c.want*0.85, 1e-12)
		})
	}
}
