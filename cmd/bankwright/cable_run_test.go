package main

import (
	"fmt"
	"math"
	"math/rand/v2"
	"strings"
	"testing"
)

// tables are a family of conductors, and how its resistance goes with temperature, as
// the standards print it.
type tables struct {
	family, setting        string
	reference, coefficient float64 // °C, a share for each kelvin
	hot                    float64 // °C, what insulation and terminals stand
}

var tablesOfCables = []tables{
	{"iec", `iec_termination = "80 °C"`, 20, 0.00393, 80},
	{"boat", "engine_space = false", 20, 0.00393, 105},
	{"land", `termination_column = "90"`, 75, 0.00323, 90},
}

// cabled is one bank whose cables are compared. Lengths are in metres, all else in base
// units.
type cabled struct {
	name, takeOff                    string
	series, parallel                 int
	internal, joint                  float64
	run, toBars, link                float64 // one way, each
	intermittent                     float64
	area                             float64 // mm² of the main run that is there, 0 where it is chosen
	runMetre, stringMetre, linkMetre float64 // ohm, at the reference temperature
}

// The cells and the load of every such bank.
const (
	cabledCutoff = 11.2
	cabledPower  = 600.0
)

// cabledBanks are banks of one to four batteries in series and in parallel with each
// take-off, drawn at random from a fixed seed.
func cabledBanks() (out []cabled) {
	random := rand.New(rand.NewPCG(3, 5))
	between := func(low, high float64) float64 { return low + (high-low)*random.Float64() }
	for _, takeOff := range []string{"bus_bar", "same_end", "diagonal"} {
		for series := 1; series <= 4; series++ {
			for parallel := 1; parallel <= 4; parallel++ {
				b := cabled{
					name: fmt.Sprintf("%s_%d_%d", takeOff, series, parallel), takeOff: takeOff, series: series, parallel: parallel,
					internal: between(0.002, 0.03), joint: between(0, 0.0005), run: between(0.5, 9),
					toBars: between(0.2, 2), link: between(0.1, 1), intermittent: between(0, 20),
				}
				if series%2 == 0 {
					b.area = between(10, 120)
				}
				out = append(out, b)
			}
		}
	}
	return out
}

// cabledScenario writes all banks as alternatives of one scenario. Each has a battery of
// its own.
func cabledScenario(of tables, all []cabled) string {
	var b strings.Builder
	fmt.Fprintf(&b, "title = \"Runs of cable\"\ncurrency = \"EUR\"\n[load.heater]\npower = \"%s W\"\nsupply = \"dc\"\nconverter_efficiency = \"100 %%\"\n[site]\nwire_tables = %q\n%s\n", exactly(cabledPower), of.family, of.setting)
	for _, c := range all {
		fmt.Fprintf(&b, "[battery.%s]\ncapacity = \"200 Ah\"\nnominal_voltage = \"12.8 V\"\ncutoff_voltage = \"%s V\"\ninternal_resistance = \"%s ohm\"\nprice = \"300 EUR\"\nmax_discharge_current = \"200 A\"\nmax_series = 4\nmax_parallel = 4\ncycle_life = { depth = [\"100 %%\"], cycles = [4000] }\n", c.name, exactly(cabledCutoff), exactly(c.internal))
		fmt.Fprintf(&b, "[alternative.%s]\nbattery = %q\nseries = %d\nparallel = %d\ntake_off = %q\nconnection_resistance = \"%s ohm\"\nrun_length = \"%s m\"\nstring_length = \"%s m\"\nlink_length = \"%s m\"\nintermittent_current = \"%s A\"\n",
			c.name, c.name, c.series, c.parallel, c.takeOff, exactly(c.joint), exactly(c.run), exactly(c.toBars), exactly(c.link), exactly(c.intermittent))
		if c.area > 0 {
			fmt.Fprintf(&b, "run_area = \"%s mm²\"\n", exactly(c.area))
		}
	}
	return b.String()
}

// netlist collects elements; those of copper are hot.
type netlist struct {
	strings.Builder
	of    tables
	count int
}

func (n *netlist) add(kind, from, to, value string) {
	n.count++
	fmt.Fprintf(n, "%s%d %s %s %s\n", kind, n.count, from, to, value)
}

// ohms joins two nodes; what has no resistance is a source without voltage.
func (n *netlist) ohms(from, to string, ohm float64, more ...string) {
	if ohm == 0 {
		n.add("v", from, to, "dc 0")
		return
	}
	n.add("r", from, to, fmt.Sprintf("%.17g %s", ohm, strings.Join(more, " ")))
}

func (n *netlist) copper(from, to string, ohm float64) {
	n.ohms(from, to, ohm, fmt.Sprintf("tc1=%.17g temp=%.17g", n.of.coefficient, n.of.hot))
}

// strand writes one string from its negative to its positive end: e.m.f., battery and
// both joints, links between batteries, and where there are bus bars a cable to each.
func (c *cabled) strand(n *netlist, prefix, negative, positive string, internal, joint float64) {
	at := func(k int) string { return fmt.Sprintf("%s_%d", prefix, k) }
	toBars := 0.0
	if c.takeOff == "bus_bar" && c.parallel > 1 {
		toBars = c.toBars * c.stringMetre
	}
	n.copper(negative, at(0), toBars)
	for k := range c.series {
		from := at(4 * k)
		n.add("v", at(4*k+1), from, fmt.Sprintf("dc %.17g", cabledCutoff))
		n.ohms(at(4*k+1), at(4*k+2), internal)
		n.ohms(at(4*k+2), at(4*k+3), 2*joint)
		if k < c.series-1 {
			n.copper(at(4*k+3), at(4*k+4), c.link*c.stringMetre)
		}
	}
	n.copper(at(4*c.series-1), positive, toBars)
}

// loaded writes the bank with all strings, joints without resistance, and a current at the far end of its main run. The bank's negative terminal is node 0.
func (c *cabled) loaded(n *netlist, prefix string, current float64) {
	for k := range c.parallel {
		c.strand(n, fmt.Sprintf("%s_s%d", prefix, k), "0", prefix+"_bank", c.internal, 0)
	}
	n.copper(prefix+"_bank", prefix+"_plus", c.run*c.runMetre)
	n.copper("0", prefix+"_minus", c.run*c.runMetre)
	n.add("i", prefix+"_plus", prefix+"_minus", fmt.Sprintf("dc %.17g", current))
}

// shorted writes the bank without the string that stands at the positive take-off (if it
// has others) and a short circuit at the far end of its main run, whose current the
// source v<prefix>_short carries.
func (c *cabled) shorted(n *netlist, prefix string) {
	positive := func(k int) string { return fmt.Sprintf("%s_p%d", prefix, k) }
	negative := func(k int) string { return fmt.Sprintf("%s_n%d", prefix, k) }
	between := 0.0
	if c.takeOff != "bus_bar" {
		between = c.linkMetre // whole, of a link between strings
	}
	for k := range c.parallel {
		if k > 0 {
			n.ohms(positive(k-1), positive(k), between)
			n.ohms(negative(k-1), negative(k), between)
		}
		if k > 0 || c.parallel == 1 {
			c.strand(n, fmt.Sprintf("%s_s%d", prefix, k), negative(k), positive(k), c.internal, c.joint)
		}
	}
	last := 0
	if c.takeOff == "diagonal" {
		last = c.parallel - 1
	}
	n.copper(positive(0), prefix+"_plus", c.run*c.runMetre)
	n.copper(negative(last), "0", c.run*c.runMetre)
	fmt.Fprintf(n, "v%s_short %s_plus 0 dc 0\n", prefix, prefix)
}

// TestCableRuns compares what cables lose and the current of a short circuit at the far
// end with the circuit simulator ngspice, which is given lengths, resistance at the
// temperature of the table and how it goes with temperature, every battery, joint and
// cable as an element of its own. Where links lead from string to string the rules take
// the least current that can be, and may not give more than the circuit does.
// Source: ngspice, an independent solver of the same circuit.
func TestCableRuns(t *testing.T) {
	t.Parallel()
	for _, of := range tablesOfCables {
		t.Run(of.family, func(t *testing.T) {
			t.Parallel()
			compareCables(t, of)
		})
	}
}

func compareCables(t *testing.T, of tables) {
	all := cabledBanks()
	m := solvedText(t, cabledScenario(of, all))
	figure := func(c cabled, name, unit string) float64 { return held(t, m, "alternative."+c.name+"."+name, unit) }
	n := &netlist{of: of}
	fmt.Fprintf(n, "runs of cable\n.options tnom=%g\n", of.reference)
	for i := range all {
		c := &all[i]
		metre := func(sort int) float64 {
			row := figure(*c, fmt.Sprintf("cable_row[%d]", sort), "")
			return held(t, m, fmt.Sprintf("site.reference_resistance[%d]", int(row)), "ohm/m")
		}
		c.runMetre = metre(1)
		if c.parallel > 1 || c.series > 1 {
			c.stringMetre = metre(2)
		}
		if c.parallel > 1 && c.takeOff != "bus_bar" {
			c.linkMetre = figure(*c, "counted_link_resistance", "ohm")
		}
		current := cabledPower / (cabledCutoff * float64(c.series))
		c.loaded(n, fmt.Sprintf("a%d", i), current+c.intermittent)
		c.loaded(n, fmt.Sprintf("b%d", i), current)
		c.shorted(n, fmt.Sprintf("c%d", i))
	}
	truth := operatingPoint(t, n.String())
	worst, compared, highest := 0.0, 0, 0.0
	match := func(c cabled, name, unit string, want float64) {
		got := figure(c, name, unit)
		if off := math.Abs(got/want - 1); !(off <= 1e-6) {
			t.Errorf("%s: %s is %.10g %s, ngspice gives %.10g", c.name, name, got, unit, want)
		} else {
			worst = max(worst, off)
		}
		compared++
	}
	for i, c := range all {
		at := func(name string) float64 {
			v, ok := truth[name]
			if !ok {
				t.Fatalf("ngspice prints no %s", name)
			}
			return v
		}
		emf := cabledCutoff * float64(c.series)
		current := cabledPower / emf
		match(c, "design_current", "A", current)
		a, b := fmt.Sprintf("a%d", i), fmt.Sprintf("b%d", i)
		drop := at(a+"_bank") - at(a+"_plus") + at(a+"_minus")
		match(c, "voltage_drop", "V", drop)
		match(c, "run_resistance", "ohm", drop/(current+c.intermittent))
		match(c, "voltage_drop_share", "%", 100*drop/(12.8*float64(c.series)))
		inside := current * c.internal * float64(c.series) / float64(c.parallel) // strings are alike
		lost := emf - inside - (at(b+"_plus") - at(b+"_minus"))
		match(c, "cables_resistance", "ohm", lost/current)
		match(c, "full_wiring_loss", "W", lost*current)
		short := at(fmt.Sprintf("vc%d_short#branch", i))
		if c.takeOff == "bus_bar" || c.parallel == 1 {
			match(c, "far_fault_current", "A", short)
		} else if got := figure(c, "far_fault_current", "A"); !(got <= short*(1+1e-6) && got > 0.5*short) {
			t.Errorf("%s: the fault at the far end is %v A, ngspice gives %v A", c.name, got, short)
		} else {
			highest = max(highest, short/got-1)
		}
	}
	t.Logf("%s: %d banks, %d values, worst difference %.1e; linked strings give up to %.1f %% more", of.family, len(all), compared, worst, 100*highest)
}
