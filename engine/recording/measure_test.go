package recording_test

import (
	"bytes"
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"bankwright/engine/recording"
)

// point is a row that a test writes: seconds, temperature and power.
type point struct{ t, temperature, power float64 }

// written is a recording of points with all digits.
func written(points []point) string {
	var b strings.Builder
	b.WriteString("time (s),temperature,power\n")
	for _, p := range points {
		fmt.Fprintf(&b, "%v,%v,%v\n", p.t, p.temperature, p.power)
	}
	return b.String()
}

// measured are the results from a text that has to be usable.
func measured(t *testing.T, text string, measures ...recording.Measure) []recording.Result {
	t.Helper()
	results, report := recording.Run(greenhouse, recording.Source{Reader: strings.NewReader(text)}, measures...)
	if !report.Usable() {
		t.Fatal(told(report.Problems))
	}
	return results
}

func near(t *testing.T, what string, got, want, tolerance float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tolerance) {
		t.Errorf("%s is %v, want %v within %v", what, got, want, tolerance)
	}
}

// A sine from 0 to half its period encloses twice its height by its period over 2π.
// The error stays within the bound that Integral states, and comes near it.
func TestIntegralOfCurve(t *testing.T) {
	const height, half = 1000., 3600. // W, s
	for _, n := range []int{10, 100, 1000} {
		var points []point
		for i := range n + 1 {
			at := half * float64(i) / float64(n)
			points = append(points, point{at, 20, height * math.Sin(math.Pi*at/half)})
		}
		got := measured(t, written(points), recording.Integral{Of: "power"})[0].Value
		want := 2 * height / math.Pi // Wh
		h := 1 / float64(n)
		bound := h * h / 12 * height * math.Pi * math.Pi
		if e := want - got; e < bound/2 || e > bound {
			t.Errorf("%d steps: the error is %v, the bound %v", n, e, bound)
		}
	}
}

// The product of two straight lines is a parabola; the trapezoidal rule errs by just
// what Integral states.
func TestIntegralOfProduct(t *testing.T) {
	const n, end = 8, 7200.
	var points []point
	for i := range n + 1 {
		at := float64(i) / n
		points = append(points, point{end * at, 10 + 5*at, 100 + 40*at})
	}
	text := strings.Replace(written(points), "temperature", "share", 1)
	layout := greenhouse
	layout.Columns = append([]recording.Column(nil), layout.Columns...)
	layout.Columns[1] = recording.Column{Name: "share", Unit: must("")}
	results, report := recording.Run(layout, recording.Source{Reader: strings.NewReader(text)}, recording.Integral{Of: "power", Times: "share"})
	if !report.Usable() {
		t.Fatal(told(report.Problems))
	}
	exact := 2 * (10*100 + (10*40+5*100)/2. + 5*40/3.)
	excess := 2. / n * n * (5. / n) * (40. / n) / 6
	near(t, "the integral", results[0].Value, exact+excess, 1e-10)
}

// reference computes by plain loops what measures compute in one pass.
type reference struct{ integral, positive, mean, held, first, last, jump float64 }

func loops(points []point, hold float64, level float64, within int) reference {
	r := reference{held: math.NaN(), first: math.NaN(), last: math.NaN()}
	dx, dy := 0., 0.
	for i, p := range points {
		for j := range i {
			q := points[j]
			if p.t-q.t >= hold {
				low := math.Inf(1)
				for _, m := range points[j : i+1] {
					low = min(low, m.power)
				}
				if !(low <= r.held) {
					r.held = low
				}
			}
			if i-j <= within && math.Abs(p.power-q.power) > math.Abs(dx) {
				dx, dy = p.power-q.power, p.temperature-q.temperature
			}
		}
		if i == 0 {
			continue
		}
		q := points[i-1]
		dt := (p.t - q.t) / 3600
		r.integral += dt * (p.power + q.power) / 2
		const parts = 2000 // of a step, midpoints
		for k := range parts {
			at := (float64(k) + .5) / parts
			r.positive += dt / parts * max(0, q.power+at*(p.power-q.power))
		}
		if q.power < level && p.power >= level {
			at := (q.t + (p.t-q.t)*(level-q.power)/(p.power-q.power) - points[0].t) / 3600
			if r.last = at; math.IsNaN(r.first) {
				r.first = at
			}
		}
	}
	r.mean = r.integral / ((points[len(points)-1].t - points[0].t) / 3600)
	r.jump = dy / dx
	return r
}

// walk is a random recording with steps of whole and half seconds.
func walk(r *rand.Rand, n int) []point {
	points := []point{{100, 20, 50}}
	for range n - 1 {
		p := points[len(points)-1]
		points = append(points, point{p.t + float64(1+r.IntN(3))/2, p.temperature + math.Round(r.NormFloat64()*100)/100,
			math.Round(100*(p.power*.9+r.NormFloat64()*60)) / 100})
	}
	return points
}

func TestAgainstLoops(t *testing.T) {
	r := rand.New(rand.NewPCG(3, 4))
	for trial := range 60 {
		points := walk(r, 3+r.IntN(80))
		hold, level, within := float64(r.IntN(20))/2, 30., 1+r.IntN(5)
		want := loops(points, hold, level, within)
		got := measured(t, written(points), recording.Integral{Of: "power"}, recording.Integral{Of: "power", Part: recording.Positive},
			recording.Mean{Of: "power"}, recording.Held{Of: "power", For: hold / 3600},
			recording.Crossing{Of: "power", Level: level, Direction: recording.Rising},
			recording.Crossing{Of: "power", Level: level, Direction: recording.Rising, Last: true},
			recording.Jump{Of: "power", Response: "temperature", Within: within},
			recording.Integral{Of: "power", Part: recording.Negative})
		if hold == 0 {
			want.held = measured(t, written(points), recording.Max{Of: "power"})[0].Value
		}
		for i, w := range []float64{want.integral, want.positive, want.mean, want.held, want.first, want.last, want.jump} {
			tolerance := 1e-9
			if i == 1 {
				tolerance = 1e-4
			}
			if g := got[i].Value; math.IsNaN(g) != math.IsNaN(w) || math.Abs(g-w) > tolerance*(1+math.Abs(w)) {
				t.Errorf("trial %d: measure %d is %v, by loops %v", trial, i, g, w)
			}
		}
		near(t, "what the parts make", got[1].Value+got[7].Value, want.integral, 1e-9)
	}
}

// Where values and rows come from.
func TestRows(t *testing.T) {
	text := "time (s),temperature,power,meter\n" +
		"0,20,0,1.0\n10,21,0,1.1\n20,19,500,1.2\n30,18,500,1.3\n" + // lines 2 to 5
		"1000,18,0,1.9\n1010,18,100,0.1\n1020,18,400,0.2\n1030,18,400,0.3\n" // lines 6 to 9, after a gap
	m := measured(t, text, recording.Min{Of: "temperature"}, recording.Max{Of: "temperature"},
		recording.First{Of: "power"}, recording.Last{Of: "power"}, recording.Growth{Of: "meter"},
		recording.Growth{Of: "meter", AcrossGaps: true}, recording.Crossing{Of: "power", Level: 250},
		recording.Crossing{Of: "power", Level: 250, Direction: recording.Falling}, recording.Crossing{Of: "power", Level: 250, Last: true},
		recording.Held{Of: "power", For: 10. / 3600}, recording.Held{Of: "power", For: 60. / 3600},
		recording.Jump{Of: "power", Response: "temperature"}, recording.Integral{Of: "power", AcrossGaps: true},
		recording.Duration{Of: "power"}, recording.Max{Of: "time"})
	h := 1. / 3600
	for i, c := range []struct {
		value, at   float64
		first, last int
	}{
		{18, 30 * h, 5, 5}, {21, 10 * h, 3, 3}, {0, 0, 2, 2}, {400, 1030 * h, 9, 9},
		{500, math.NaN(), 2, 9}, {1100, math.NaN(), 2, 9}, // 0.3 and 0.2 kWh, with 0.6 kWh in the gap
		{15 * h, 15 * h, 3, 4}, {math.NaN(), math.NaN(), 2, 9}, {1015 * h, 1015 * h, 7, 8},
		{500, 20 * h, 4, 5}, {math.NaN(), math.NaN(), 2, 9},
		{-2. / 500, 20 * h, 3, 4}, {(2500 + 5000 + 970*250 + 500 + 2500 + 4000) * h, math.NaN(), 2, 9},
		{60 * h, math.NaN(), 2, 9}, {1030 * h, 1030 * h, 9, 9},
	} {
		same := func(a, b float64) bool { return math.IsNaN(a) && math.IsNaN(b) || math.Abs(a-b) < 1e-9 }
		if g := m[i]; !same(g.Value, c.value) || !same(g.At, c.at) || g.First != c.first || g.Last != c.last {
			t.Errorf("measure %d: %+v, want %+v", i, g, c)
		}
	}
	if m[7].Hidden != 1 || m[6].Hidden != 1 {
		t.Errorf("%d and %d crossings in the gap, want 1", m[7].Hidden, m[6].Hidden)
	}
	near(t, "the missing time", m[12].Missing, 970*h, 1e-12)
	if got := m[11].Changes; got != [2]float64{500, -2} {
		t.Errorf("the changes are %v", got)
	}
}

// A column that comes to a level and goes back crosses it on the way there, not on the
// way back; and of the last value counts when it came, not how large it is.
func TestTurns(t *testing.T) {
	for _, c := range []struct {
		powers                []float64 // W, each hour
		rising, falling, ends float64   // when, h; the last value, W
	}{
		{[]float64{0, 250, 0}, 1, math.NaN(), 0},
		{[]float64{500, 250, 500}, math.NaN(), 1, 500},
		{[]float64{0, 250, 500}, 1, math.NaN(), 500},
		{[]float64{500, 300, 200}, math.NaN(), 1.5, 200},
		{[]float64{250, 500, 0}, math.NaN(), 1.5, 0},
		{[]float64{0, 500, 0}, 0.5, 1.5, 0},
	} {
		var points []point
		for i, p := range c.powers {
			points = append(points, point{float64(3600 * i), 20, p})
		}
		got := measured(t, written(points), recording.Crossing{Of: "power", Level: 250, Direction: recording.Rising},
			recording.Crossing{Of: "power", Level: 250, Direction: recording.Falling}, recording.Last{Of: "power"})
		for i, want := range []float64{c.rising, c.falling, c.ends} {
			if g := got[i].Value; g != want && !(math.IsNaN(g) && math.IsNaN(want)) {
				t.Errorf("%v: measure %d is %v, want %v", c.powers, i, g, want)
			}
		}
		if last := got[2]; last.At != float64(len(points)-1) {
			t.Errorf("%v: the last value is that of %v h", c.powers, last.At)
		}
	}
}

// A change across a gap is no jump, however many rows a jump may take.
func TestJumpBesideGap(t *testing.T) {
	text := "time (s),temperature,power\n0,20,0\n10,21,10\n20,21,10\n1000,30,500\n1010,31,505\n1020,31,505\n"
	for _, within := range []int{0, 1, 2, 5} {
		m := measured(t, text, recording.Jump{Of: "power", Response: "temperature", Within: within})[0]
		if m.Changes != [2]float64{10, 1} || m.First != 2 || m.Last != 3 {
			t.Errorf("within %d rows: %+v", within, m)
		}
	}
}

// A column with fewer values than rows counts by its own steps.
func TestSparse(t *testing.T) {
	var text strings.Builder
	text.WriteString("time (s),temperature,power\n")
	for i := range 601 {
		fmt.Fprintf(&text, "%d,", i)
		if i%60 == 0 {
			fmt.Fprintf(&text, "%d", 20+i/60)
		}
		text.WriteString(",100\n")
	}
	m := measured(t, text.String(), recording.Mean{Of: "temperature"}, recording.Integral{Of: "power"})
	near(t, "the mean", m[0].Value, 25, 1e-12)
	if m[0].Rows != 11 || m[0].Missing != 0 || m[0].Last != 602 {
		t.Errorf("%+v", m[0])
	}
}

// Measures that mean nothing are refused in a sentence.
func TestMeaningless(t *testing.T) {
	for want, m := range map[string]recording.Measure{
		"temperature is a temperature, which has no integral over time":              recording.Integral{Of: "temperature"},
		"power and temperature have no product that means anything":                  recording.Mean{Of: "power", Times: "temperature"},
		`the recording has no column "heat"; it has time, temperature, power, meter`: recording.Max{Of: "heat"},
		"curves of 2 columns have 16 to 5000 points, not 15":                         recording.Curves{Points: 15},
		"a jump is sought within 1 to 100 rows, not 101":                             recording.Jump{Of: "power", Response: "power", Within: 101},
		"temperature is a temperature, which is no counter":                          recording.Growth{Of: "temperature"},
	} {
		results, report := recording.Run(greenhouse, recording.Source{Reader: strings.NewReader("time (s),temperature,power\n0,20,1\n1,20,1\n")}, recording.Duration{Of: "power"}, m)
		if report.Usable() || report.Problems[0].Summary != want || !math.IsNaN(results[0].Value) {
			t.Errorf("told %q, want %q", told(report.Problems), want)
		}
	}
}

// TestWhole: what a column covers and what it lacks are the time of the recording, for
// every file of testdata that can be read.
func TestWhole(t *testing.T) {
	paths, _ := filepath.Glob("testdata/*.csv")
	read := 0
	for _, path := range paths {
		text, err := os.ReadFile(path)
		if err != nil {
			t.Fatal(err)
		}
		m, report := recording.Run(greenhouse, recording.Source{Reader: bytes.NewReader(text)},
			recording.Duration{Of: "power"}, recording.Duration{Of: "temperature", With: "power"})
		if !report.Usable() {
			continue
		}
		read++
		for _, r := range m {
			near(t, path, r.Value+r.Missing, report.Span, 1e-12)
		}
	}
	if read < 10 {
		t.Errorf("%d files are read", read)
	}
}

// TestSilentHead: a column without a value in all the rows that are read ahead has the
// limit of its own steps behind these, and its later silence counts as missing.
func TestSilentHead(t *testing.T) {
	var text strings.Builder
	text.WriteString("time (s),temperature,power\n")
	for i := range 9001 {
		power := "100"
		if i < 1500 || i > 5000 && i < 7000 {
			power = "OL"
		}
		fmt.Fprintf(&text, "%d,20,%s\n", i, power)
	}
	m := measured(t, text.String(), recording.Duration{Of: "power"})
	near(t, "the time", m[0].Value, 5500./3600, 1e-12)
	near(t, "what is missing", m[0].Missing, 3500./3600, 1e-12)
}
