package main

import (
	"fmt"
	"math"
	"math/rand/v2"
	"os/exec"
	"strconv"
	"strings"
	"testing"

	"bankwright/engine"
	"bankwright/engine/oracle"
)

// rung is one string of a ladder and the links behind it, in volts and ohms.
type rung struct {
	offset                     float64 // e.m.f. above the usual one
	ratio                      float64 // resistance as a multiple of the usual one
	lead                       float64 // leads to the bus bars
	positiveLink, negativeLink float64 // as multiples of the usual link
}

// ladder is one bank whose sharing is compared.
type ladder struct {
	name    string
	takeOff string
	link    float64 // ohm, of the usual link
	rungs   []rung
}

// The battery and the load of every ladder: the bank gives 1,000 W at 10 V.
const (
	ladderVoltage    = 12.8
	ladderResistance = 0.02
	ladderCurrent    = 100.0
)

// ladders are 2 to 16 strings with each take-off: alike, with equal links; and
// unlike in e.m.f., resistance, leads and links, drawn at random from a fixed
// seed. The last ones have the highest links that a check lets pass.
func ladders() []ladder {
	random := rand.New(rand.NewPCG(2, 16))
	between := func(low, high float64) float64 { return low + (high-low)*random.Float64() }
	var out []ladder
	for _, takeOff := range []string{"same_end", "diagonal", "bus_bar"} {
		for n := 2; n <= 16; n++ {
			alike := ladder{fmt.Sprintf("alike_%s_%d", takeOff, n), takeOff, between(0.0002, 0.003), nil}
			unlike := ladder{fmt.Sprintf("unlike_%s_%d", takeOff, n), takeOff, between(0.0002, 0.003), nil}
			for range n {
				alike.rungs = append(alike.rungs, rung{ratio: 1, positiveLink: 1, negativeLink: 1})
				unlike.rungs = append(unlike.rungs, rung{
					offset: between(-1, 1), ratio: between(0.5, 3), lead: between(0, 0.004),
					positiveLink: between(0, 2), negativeLink: between(0, 2),
				})
			}
			out = append(out, alike, unlike)
		}
		steep := out[len(out)-2]
		steep.name, steep.link = "steep_"+takeOff, ladderResistance
		out = append(out, steep)
	}
	return out
}

// list writes one value of every rung as a TOML list.
func (l *ladder) list(value func(r rung) string) string {
	values := make([]string, len(l.rungs))
	for i, r := range l.rungs {
		values[i] = value(r)
	}
	return "[" + strings.Join(values, ", ") + "]"
}

// exactly writes a number with all its digits, never in powers of ten.
func exactly(v float64) string { return strconv.FormatFloat(v, 'f', -1, 64) }

// laddersScenario writes all ladders as alternatives of one scenario.
func laddersScenario(all []ladder) string {
	var b strings.Builder
	b.WriteString(`title = "Ladders"
currency = "EUR"
[battery.even]
capacity              = "100 Ah"
nominal_voltage       = "` + exactly(ladderVoltage) + ` V"
cutoff_voltage        = "10 V"
internal_resistance   = "` + exactly(ladderResistance) + ` ohm"
price                 = "300 EUR"
max_discharge_current = "100 A"
max_parallel          = 16
cycle_life            = { depth = ["100 %"], cycles = [4000] }
[load.heater]
power  = "1000 W"
supply = "dc"
`)
	for _, l := range all {
		fmt.Fprintf(&b, "[alternative.%s]\nbattery = \"even\"\nparallel = %d\ntake_off = %q\n", l.name, len(l.rungs), l.takeOff)
		fmt.Fprintf(&b, "link_resistance = \"%s ohm\"\n", exactly(l.link))
		fmt.Fprintf(&b, "link_ratio = %s\n", l.list(func(r rung) string { return exactly(r.positiveLink) }))
		fmt.Fprintf(&b, "negative_link_ratio = %s\n", l.list(func(r rung) string { return exactly(r.negativeLink) }))
		fmt.Fprintf(&b, "string_resistance_ratio = %s\n", l.list(func(r rung) string { return exactly(r.ratio) }))
		fmt.Fprintf(&b, "string_lead_resistance = %s\n", l.list(func(r rung) string { return `"` + exactly(r.lead) + ` ohm"` }))
		fmt.Fprintf(&b, "string_voltage_offset = %s\n", l.list(func(r rung) string { return `"` + exactly(r.offset) + ` V"` }))
	}
	return b.String()
}

// circuit writes a ladder as elements of a netlist, its nodes under a prefix of
// its own. The negative take-off is node 0; the source v<prefix>_<k> is string
// k, and node <prefix>_out the positive take-off.
func (l *ladder) circuit(b *strings.Builder, prefix string, current float64) {
	n := len(l.rungs)
	positive := func(k int) string {
		if k == 0 || l.takeOff == "bus_bar" {
			return prefix + "_out"
		}
		return fmt.Sprintf("%s_p%d", prefix, k)
	}
	negative := func(k int) string {
		if l.takeOff == "bus_bar" || l.takeOff == "same_end" && k == 0 || l.takeOff == "diagonal" && k == n-1 {
			return "0"
		}
		return fmt.Sprintf("%s_n%d", prefix, k)
	}
	for k, r := range l.rungs {
		resistance := ladderResistance * r.ratio
		if l.takeOff == "bus_bar" {
			resistance += r.lead
		}
		fmt.Fprintf(b, "v%s_%d %s_m%d %s dc %.17g\n", prefix, k, prefix, k, negative(k), ladderVoltage+r.offset)
		fmt.Fprintf(b, "rs%s_%d %s %s_m%d %.17g\n", prefix, k, positive(k), prefix, k, resistance)
		if k < n-1 && l.takeOff != "bus_bar" {
			fmt.Fprintf(b, "rp%s_%d %s %s %.17g\n", prefix, k, positive(k), positive(k+1), l.link*r.positiveLink)
			fmt.Fprintf(b, "rn%s_%d %s %s %.17g\n", prefix, k, negative(k), negative(k+1), l.link*r.negativeLink)
		}
	}
	fmt.Fprintf(b, "i%s %s_out 0 dc %.17g\n", prefix, prefix, current)
}

// simulated has ngspice find the operating point of all ladders in one run, at
// the load's current (prefix a and number) and at rest (prefix b).
func simulated(t *testing.T, all []ladder) map[string]float64 {
	t.Helper()
	var b strings.Builder
	b.WriteString("ladders of parallel strings\n")
	for i := range all {
		all[i].circuit(&b, "a"+strconv.Itoa(i), ladderCurrent)
		all[i].circuit(&b, "b"+strconv.Itoa(i), 0)
	}
	return operatingPoint(t, b.String())
}

// operatingPoint has ngspice find the operating point of a netlist, whose first line is
// its title, and returns what it prints: node voltages, and the currents of sources by
// NAME#branch.
func operatingPoint(t *testing.T, netlist string) map[string]float64 {
	t.Helper()
	program := oracle.Program(t, "ngspice")
	netlist += ".control\nset numdgt=15\nop\nprint all\nquit 0\n.endc\n.end\n"
	var errs strings.Builder
	cmd := exec.Command(program, "-b", written(t, "circuit.cir", netlist))
	cmd.Stderr = &errs
	out, err := cmd.Output()
	if err != nil {
		t.Fatalf("ngspice: %v\n%s", err, errs.String())
	}
	values := map[string]float64{}
	for line := range strings.Lines(string(out)) {
		name, number, ok := strings.Cut(strings.TrimSpace(line), " = ")
		if v, err := strconv.ParseFloat(number, 64); ok && err == nil {
			values[name] = v
		}
	}
	return values
}

// TestLadder compares the current of every string, under load and at rest, and
// the voltage at the take-off with the circuit simulator ngspice: 2 to 16
// strings, three take-offs, alike and unlike. They agree within 1e-6 of the
// current; currents below a thousandth of the bank's are held to 1e-9 of the
// bank's, and those of the steep ladders to 1e-8.
// Source: ngspice, an independent solver of the same circuit.
func TestLadder(t *testing.T) {
	t.Parallel()
	all := ladders()
	truth := simulated(t, all)
	m, list, _ := engine.Load(sources(written(t, "ladders.toml", laddersScenario(all))))
	if m == nil {
		t.Fatal(list)
	}
	kind := m.Kind("alternative")
	compared, worst := 0, 0.0
	for i, l := range all {
		floor := 1e-9 * ladderCurrent
		if strings.HasPrefix(l.name, "steep_") {
			floor = 1e-8 * ladderCurrent
		}
		match := func(quantity string, step int, name string, sign float64) {
			want, ok := truth[name]
			if !ok {
				t.Fatalf("ngspice prints no %s", name)
			}
			want *= sign
			q := kind.Quantity(quantity)
			row := 0
			if len(q.Axes) > 0 {
				row = q.Row(step)
			}
			got := m.Result.At(q, kind.Item(l.name), row)
			if off := math.Abs(got - want); !(off <= max(1e-6*math.Abs(want), floor)) {
				t.Errorf("%s: %s of string %d is %.12g, ngspice gives %.12g", l.name, quantity, step+1, got, want)
			} else {
				worst = max(worst, off/max(math.Abs(want), 1e-3*ladderCurrent))
			}
			compared++
		}
		for k := range l.rungs {
			match("string_current", k, fmt.Sprintf("va%d_%d#branch", i, k), -1)
			match("string_idle_current", k, fmt.Sprintf("vb%d_%d#branch", i, k), -1)
		}
		match("sharing_voltage", 0, fmt.Sprintf("a%d_out", i), 1)
	}
	if compared < 1500 {
		t.Errorf("only %d values were compared", compared)
	}
	t.Logf("%d ladders, %d values, worst difference %.1e", len(all), compared, worst)
}
