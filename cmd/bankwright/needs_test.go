package main

import (
	"bytes"
	"strings"
	"testing"
)

// Everything in this file is arithmetic of the trade worked by hand, common
// practice: what loads draw at once, and who pays for the energy.

// oneBank is a bank of 100 Ah with an inverter of 80 %, to which a test adds
// loads, sources and what else it needs.
const oneBank = `title = "One bank"
currency = "USD"

[battery.slab]
capacity              = "100 Ah"
nominal_voltage       = "12.8 V"
price                 = "300 USD"
max_discharge_current = "100 A"
round_trip_efficiency = "100 %"
cycle_life            = { depth = ["80 %", "100 %"], cycles = [6000, 4000] }

[inverter.box]
continuous_power = "200 W"
surge_power      = "600 W"
efficiency       = "80 %"
idle_power       = "10 W"
min_voltage      = "10 V"
max_voltage      = "16 V"
`

const oneLamp = `
[load.lamp]
power  = "20 W"
supply = "dc"
`

// TestDrawAtOnce: a load that must not run together with the others counts
// alone, whichever side it is on, and only the largest single start counts.
func TestDrawAtOnce(t *testing.T) {
	t.Parallel()
	const together = "[load.pump]\npower = \"80 W\"\nsurge_power = \"240 W\"\n[load.fan]\npower = \"50 W\"\nsurge_power = \"90 W\"\nsupply = \"dc\"\n"
	const lone = "coincident = false\n"
	for _, c := range []struct {
		name, loads string
		draw, surge float64
	}{
		// 80/0.8 + 10 + 50; the pump's start adds 160/0.8, the fan's 40.
		{"both may run together", together, 160, 360},
		// The heater on a.c.: 160/0.8 + 10, more than the two together; its start is none.
		{"a lone load on a.c. is the largest", together + "[load.heater]\npower = \"160 W\"\n" + lone, 210, 360},
		// 300 W straight from the bank; the inverter idles meanwhile.
		{"a lone load on d.c. is the largest", together + "[load.heater]\npower = \"300 W\"\nsupply = \"dc\"\nsurge_power = \"500 W\"\n" + lone, 310, 510},
		{"a small lone load changes nothing", together + "[load.lamp]\npower = \"20 W\"\nsupply = \"dc\"\n" + lone, 160, 360},
		// The inverter passes 600 W and no more: 600/0.8 + 10.
		{"a start above what the inverter passes", "[load.saw]\npower = \"100 W\"\nsurge_power = \"900 W\"\n", 135, 760},
	} {
		t.Run(c.name, func(t *testing.T) {
			file := written(t, "loads.toml", oneBank+c.loads+"[alternative.one]\nbattery = \"slab\"\ninverter = \"box\"\n")
			agree(t, "draw", explained(t, file, "alternative.one.load_draw", "W"), c.draw, 1e-12)
			agree(t, "surge", explained(t, file, "alternative.one.surge_draw", "W"), c.surge, 1e-12)
		})
	}
}

// TestSurgeAtTheInverter: common practice, one motor starts while the rest runs: a kettle
// of 100 W beside a pump of 80 W that starts with 240 W takes 340 W.
func TestSurgeAtTheInverter(t *testing.T) {
	t.Parallel()
	file := written(t, "start.toml", oneBank+"[load.kettle]\npower = \"100 W\"\n[load.pump]\npower = \"80 W\"\nsurge_power = \"240 W\"\n[alternative.one]\nbattery = \"slab\"\ninverter = \"box\"\n")
	agree(t, "surge", explained(t, file, "site.ac_surge", "W"), 340, 1e-12)
}

// TestEnergyPaid: sources without a share divide what the given shares leave,
// so that energy from a single charger is paid for without a word.
func TestEnergyPaid(t *testing.T) {
	t.Parallel()
	const mains = "[source.mains]\nenergy_price = \"0.30 USD/kWh\"\nefficiency = \"75 %\"\n" // 0.40 USD/kWh at the bank
	const sun = "[source.sun]\n"
	for _, c := range []struct {
		name, sources, used string
		price               float64
	}{
		{"one charger", mains, `["mains"]`, 0.40},
		{"one charger that gives a part", mains + "share = \"25 %\"\n", `["mains"]`, 0.10},
		{"half from the mains, half free", mains + sun, `["mains", "sun"]`, 0.20},
		{"the rest is free", mains + "share = \"25 %\"\n" + sun, `["mains", "sun"]`, 0.10},
		{"the rest is bought", mains + sun + "share = \"90 %\"\n", `["mains", "sun"]`, 0.04},
		{"the mains is not used", mains + sun, `["sun"]`, 0},
		{"nothing fills it", mains, `[]`, 0},
	} {
		t.Run(c.name, func(t *testing.T) {
			file := written(t, "sources.toml", oneBank+oneLamp+c.sources+"[alternative.one]\nbattery = \"slab\"\nsources = "+c.used+"\n")
			agree(t, "price", explained(t, file, "alternative.one.energy_price", "USD/kWh"), c.price, 1e-12)
		})
	}
}

// TestLabelledEnergy: a load may be given by its yearly energy alone. 219 kWh
// in a year of 8,760 h are 25 W; at a duty of 50 % it then runs at 50 W.
func TestLabelledEnergy(t *testing.T) {
	t.Parallel()
	file := written(t, "label.toml", oneBank+`
[load.fridge]
yearly_energy = "219 kWh/year"
duty          = "50 %"
supply        = "dc"
[alternative.one]
battery = "slab"
`)
	agree(t, "mean power", explained(t, file, "load.fridge.average_power", "W"), 25, 1e-12)
	agree(t, "running power", explained(t, file, "load.fridge.unit_power", "W"), 50, 1e-12)
	agree(t, "draw", explained(t, file, "alternative.one.load_draw", "W"), 50, 1e-12)
}

// TestAlikeFigures: two figures that a sentence compares are shown with so many
// decimals that they differ. 1,024 Wh at 20 W last 2.13 days.
func TestAlikeFigures(t *testing.T) {
	t.Parallel()
	text := oneBank + oneLamp + "[alternative.one]\nbattery = \"slab\"\n[site]\nautonomy = \"2.25 day\"\n"
	const want = "lasts 2.13 days, but 2.25 days without charging is asked for"
	if out := bankwright(t, "check", written(t, "findings.toml", text)); !strings.Contains(strings.Join(strings.Fields(out), " "), want) {
		t.Errorf("not told: %s\n%s", want, out)
	}
}

// TestOneFault: what a scenario lacks altogether is told once, whatever follows
// from it.
func TestOneFault(t *testing.T) {
	t.Parallel()
	const one = "[alternative.one]\nbattery = \"slab\"\n"
	for _, c := range []struct{ name, text, want string }{
		{"no loads", oneBank + one, "a scenario needs at least 1 load"},
		{"loads without power", oneBank + strings.ReplaceAll(oneLamp, "20 W", "0 W") + one, "The loads ask for no energy at all: give one of them a power, a number and hours"},
		{"a load without figures", oneBank + "[load.lamp]\n" + one, "load `lamp` needs `power` or `yearly_energy`"},
		{"colder than cold", oneBank + oneLamp + one + "[site]\ncoldest_cell_temperature = \"-300 °C\"\n", "`coldest_cell_temperature` is -300 °C, less than the least allowed, -90 °C"},
		{"no depth", strings.Replace(oneBank, `"80 %", "100 %"]`, `"0 %", "100 %"]`, 1) + oneLamp + one, "`depth` is 0 %, less than the least allowed, 0.1 %"},
		{"no cycles", strings.Replace(oneBank, "[6000, 4000]", "[6000, 0]", 1) + oneLamp + one, "`cycles` is 0, less than the least allowed, 1"},
		{"half a string", oneBank + oneLamp + one + "parallel = 1.5\n", "`parallel` must be a whole number, not 1.5"},
	} {
		t.Run(c.name, func(t *testing.T) {
			var out, errs bytes.Buffer
			status := run([]string{"compare", written(t, "fault.toml", c.text)}, &out, &errs)
			if n := strings.Count(errs.String(), ": error: "); status != exitFailed || n != 1 || !strings.Contains(errs.String(), ": error: "+c.want) {
				t.Errorf("exit %d, %d errors, want only: %s\n%s", status, n, c.want, errs.String())
			}
		})
	}
}

// TestExchangedPoints: more cycles at the greater depth are most likely two
// values that have changed places.
func TestExchangedPoints(t *testing.T) {
	t.Parallel()
	var out, errs bytes.Buffer
	text := strings.Replace(oneBank, "[6000, 4000]", "[4000, 6000]", 1) + oneLamp
	if status := run([]string{"check", written(t, "points.toml", text)}, &out, &errs); status != exitDone {
		t.Errorf("exit %d", status)
	}
	if !strings.Contains(errs.String(), "warning: `cycles` rises with `depth`: 4000 at 80 %, but 6000 at 100 %") {
		t.Errorf("%s", errs.String())
	}
}
