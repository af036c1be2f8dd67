package scenarios

import (
	"flag"
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"regexp"
	"strconv"
	"strings"
	"testing"
	"time"
)

var update = flag.Bool("update", false, "write the logs anew")

// bench is an invented battery of four cells on an invented bench: charge left,
// resistance, and noise of the instrument from a fixed seed.
type bench struct {
	noise      *rand.Rand
	capacity   float64 // Ah
	left       float64 // share of it
	resistance float64 // ohm
	warm, room float64 // °C
	energy     float64 // Wh, by the instrument's own counter
}

// openCircuit is the voltage of the rested battery: a plateau with a slight slope,
// a rise near full and a knee near empty. The figures are made up to look like
// LiFePO4.
func (b *bench) openCircuit() float64 {
	s := b.left
	return 4 * (3.26 + 0.07*s + 0.10*math.Exp(-(1-s)/0.012) - 0.45*math.Exp(-s/0.02))
}

// step lets a current flow for some seconds, above 0 out of the battery, and
// returns what the instrument shows.
func (b *bench) step(current, seconds float64) (voltage, shown, warm float64) {
	b.left -= current * seconds / 3600 / b.capacity
	v := b.openCircuit() - current*b.resistance
	b.energy += math.Abs(v*current) * seconds / 3600
	b.warm += (current*current*b.resistance - 0.9*(b.warm-b.room)) * seconds / 9000
	shown = current
	if current != 0 {
		shown += 0.03 * b.noise.NormFloat64()
	}
	return v + 0.003*b.noise.NormFloat64(), shown, b.warm + 0.05*b.noise.NormFloat64()
}

func newBench(seed uint64, left float64) *bench {
	return &bench{noise: rand.New(rand.NewPCG(seed, 1)), capacity: 103.5, left: left, resistance: 0.006, warm: 21.4, room: 21.4}
}

// capacityLog empties the battery at 20 A, every 10 s a row; after two hours the
// load goes to 50 A for ten minutes, and later the instrument is without power for
// a minute. It ends where the voltage comes to 10.8 V.
func capacityLog() string {
	b, out := newBench(3, 1), strings.Builder{}
	out.WriteString("Bench recorder, channel 2\nInterval 10 s\n\nTime,Voltage (V),Current (A),Temp (°C),Energy (Wh)\n")
	at := time.Date(2026, 3, 2, 9, 14, 30, 0, time.UTC)
	for i := 0; ; i++ {
		current := 20.0
		switch {
		case i < 6:
			current = 0
		case i >= 720 && i < 780:
			current = 50
		}
		v, c, warm := b.step(current, 10)
		if i < 1200 || i > 1205 {
			fmt.Fprintf(&out, "%s,%.3f,%.2f,%.1f,%.1f\n", at.Format("2006-01-02 15:04:05"), v, c, warm, b.energy)
		}
		if v < 10.8 {
			return out.String()
		}
		at = at.Add(10 * time.Second)
	}
}

// chargeLog fills the empty battery at 25 A and holds 14.2 V at the end, with the
// decimal comma and another sign.
func chargeLog() string {
	b, out := newBench(5, 0.0052), strings.Builder{}
	out.WriteString("Zeit;Spannung [V];Strom [A]\n")
	current := 25.0
	for second := 0; current > 2.5; second += 10 {
		v, c, _ := b.step(-current, 10)
		if b.openCircuit()+current*b.resistance > 14.2 {
			current = math.Max(0, (14.2-b.openCircuit())/b.resistance)
		}
		row := fmt.Sprintf("%d:%02d:%02d;%.3f;%.2f\n", second/3600, second/60%60, second%60, v, c)
		out.WriteString(strings.ReplaceAll(row, ".", ","))
	}
	return out.String()
}

// loadLog holds 108 A for twelve minutes after a minute of rest.
func loadLog() string {
	b, out := newBench(7, 0.9), strings.Builder{}
	out.WriteString("t [s]\tU [mV]\tI [A]\tT [°C]\n")
	for i := range 84 {
		current := 108.0
		if i < 6 || i > 78 {
			current = 0
		}
		v, c, warm := b.step(current, 10)
		fmt.Fprintf(&out, "%d\t%.0f\t%.1f\t%.1f\n", 10*i, 1000*v, c, warm)
	}
	return out.String()
}

var figure = regexp.MustCompile(`-?\d+(?:[.,]\d+)?`)

// TestLogs: the logs in the folder are those that the formulas above make, but for
// a last digit that another machine may round otherwise. Run with -update to write
// them.
func TestLogs(t *testing.T) {
	for name, text := range map[string]string{"capacity.csv": capacityLog(), "charge.csv": chargeLog(), "load.csv": loadLog()} {
		path := "logs/" + name
		if *update {
			if err := os.WriteFile(path, []byte(text), 0o644); err != nil {
				t.Fatal(err)
			}
		}
		data, err := os.ReadFile(path)
		if err != nil {
			t.Fatal(err)
		}
		got, want := strings.Split(string(data), "\n"), strings.Split(text, "\n")
		if len(got) != len(want) {
			t.Errorf("%s has %d lines, want %d", path, len(got), len(want))
			continue
		}
		for i := range want {
			if a, b := figure.FindAllString(got[i], -1), figure.FindAllString(want[i], -1); got[i] != want[i] && !alike(a, b) {
				t.Fatalf("%s:%d is %q, want %q", path, i+1, got[i], want[i])
			}
		}
	}
}

// alike reports whether figures are the same to a unit of the last digit.
func alike(a, b []string) bool {
	if len(a) != len(b) {
		return false
	}
	for i := range a {
		x, err := strconv.ParseFloat(strings.ReplaceAll(a[i], ",", "."), 64)
		y, err2 := strconv.ParseFloat(strings.ReplaceAll(b[i], ",", "."), 64)
		places := 0
		if at := strings.IndexAny(b[i], ".,"); at >= 0 {
			places = len(b[i]) - at - 1
		}
		if err != nil || err2 != nil || math.Abs(x-y) > 1.01*math.Pow10(-places) {
			return false
		}
	}
	return true
}
