package engine_test

import (
	"fmt"
	"io/fs"
	"math"
	"strings"
	"testing"
	"testing/fstest"

	"bankwright/engine"
	"bankwright/engine/diag"
	"bankwright/engine/eval"
)

// stoves declares stoves of which the heat was recorded; the second names other
// columns.
const stoves = `title = "Stoves"
standard_rules = false
[rules.kind.stove]
many = "stoves"
doc  = "A stove that was tried out."
[rules.kind.shop]
doc = "The shop."
[rules.constant.long]
value = "1 h"
doc   = "A while."
[rules.stove.log]
recording = { time = "h", heat = "W", warmth = { unit = "°C", optional = true }, meter = { unit = "Wh", optional = true, counter = true } }
optional  = true
doc       = "What was recorded."
[rules.stove.typed_energy]
unit     = "Wh"
optional = true
doc      = "Energy without a recording."
[rules.stove.level]
unit    = "W"
default = "10 W"
doc     = "Heat that is looked for."
[rules.stove.price]
default = 2
doc     = "A price."
[rules.stove.energy]
unit    = "Wh"
formula = "typed_energy ?? integral(log.heat)"
doc     = "Energy."
[rules.stove.kept]
unit    = "W"
formula = "held(log.heat, long)"
doc     = "Heat that was kept up."
[rules.stove.reached]
unit    = "h"
formula = "first_time(log.heat, level)"
doc     = "When it was hot."
[rules.stove.rise]
unit    = "K"
formula = "highest(log.warmth) - first_value(log.warmth)"
doc     = "By how much it became warmer."
[rules.stove.metered]
unit    = "Wh"
formula = "growth(log.meter)"
doc     = "Energy by the meter."
[rules.stove.half]
unit    = "h"
formula = "first_time(log.heat, kept / 4)"
doc     = "When it had half of it: a level that is computed."
[rules.stove.twice]
unit    = "Wh"
formula = "price > 1 ? price * integral(log.heat, log.heat) / level : 0 * level * long"
doc     = "With a price."
[rules.shop.total]
unit    = "Wh"
formula = "sum(stoves, .energy)"
doc     = "Of all."
[stove.old]
log = "logs/old.csv"
[stove.new]
log = { file = "logs/new.csv", time = "Zeit", heat = { column = "Leistung [kW]", unit = "kW", reversed = true }, delimiter = ";", decimal = ",", gap = "2 h", warmth = 3 }
[stove.none]
typed_energy = "5 Wh"
`

const (
	oldLog = "time [h],heat [W],meter\n0,0,1\n1,20,11\n2,20,31\n3,20,51\n3.5,x,55\n4,0,61\n"
	newLog = "made by nobody\n\nZeit;Leistung [kW];T\n2026-03-01 10:00:00;-0,02;15,5\n2026-03-01 11:00:00;-0,04;21,5\n2026-03-01 12:00:00;-0,02;18,5\n2026-03-01 18:00:00;-0,02;10\n"
)

// counting is a file system that counts how often recordings are opened.
type counting struct {
	fstest.MapFS
	opened map[string]int
}

func (c counting) Open(name string) (fs.File, error) {
	c.opened[name]++
	return c.MapFS.Open(name)
}

func stoveFiles(text string) counting {
	return counting{fstest.MapFS{"a/s.toml": {Data: []byte(text)}, "a/logs/old.csv": {Data: []byte(oldLog)}, "a/logs/new.csv": {Data: []byte(newLog)},
		"outside.csv": {Data: []byte(oldLog)}}, map[string]int{}}
}

// TestRecorded: values of recordings, worked by hand, in both ways of evaluation,
// and the warnings that they carry, with the line of the recording.
func TestRecorded(t *testing.T) {
	files := stoveFiles(stoves)
	m, list, read := engine.Load(engine.Sources{Files: files, Scenario: "a/s.toml"})
	if m == nil {
		t.Fatal(list)
	}
	for _, c := range []struct {
		cell string
		want float64
	}{
		{"stove.old.energy", 10 + 20 + 20 + 10}, // the cell that is no number is left out, and the line goes on
		{"stove.new.energy", 30 + 30},
		{"stove.none.energy", 5},
		{"shop.total", 125},
		{"stove.old.kept", 20},
		{"stove.new.kept", 20},
		{"stove.none.kept", math.NaN()},
		{"stove.old.reached", 0.5},
		{"stove.new.reached", math.NaN()}, // never below it, so it does not cross it
		{"stove.old.rise", math.NaN()},    // the file has no such column
		{"stove.new.rise", 6},
		{"stove.old.metered", 60},
		{"stove.old.half", 0.25},
		{"stove.none.twice", math.NaN()},
	} {
		cell, err := m.ParseCell(c.cell)
		if err != nil {
			t.Fatal(err)
		}
		got := m.Result.At(cell.Quantity, cell.Item, cell.Row)
		if !(math.Abs(got-c.want) < 1e-12) && !(got != got && c.want != c.want) {
			t.Errorf("%s = %v, want %v (%s)", c.cell, got, c.want, m.Explain(cell, 0).Reason)
		}
	}
	if bad, cells := m.Result.Verify(); len(bad) > 0 || cells < 20 {
		t.Errorf("%d of %d cells differ: %v", len(bad), cells, bad)
	}
	var out strings.Builder
	diag.Write(&out, list, func(name string) []byte {
		for _, f := range read {
			if f.Name == name {
				return f.Text
			}
		}
		return nil
	}, false, 0)
	for _, want := range []string{"a/logs/old.csv:6:5: warning: ", "    6 | 3.5,x,55\n", "|     ^\n", "a/logs/new.csv:7: warning: "} {
		if !strings.Contains(out.String(), want) {
			t.Errorf("%q is not told:\n%s", want, out.String())
		}
	}
	if brief := engine.Brief(list, read, "More."); len(brief) != 2 || brief[0].Mend != "More." {
		t.Errorf("in short: %v", brief)
	}
	for cell, want := range map[string]string{
		"stove.old.energy":  "integral(log.heat): lines 2 to 7 of logs/old.csv, 5 rows",
		"stove.new.energy":  "integral(log.heat): lines 4 to 7 of logs/new.csv, 4 rows, 6 h of it missing",
		"stove.old.reached": "first_time(log.heat, level): lines 2 to 3 of logs/old.csv, 5 rows, at 30 min after the first row",
		"stove.new.log":     "4 rows in lines 4 to 7, over 8 h, 6 h of it missing",
	} {
		c, _ := m.ParseCell(cell)
		if got := strings.Join(m.Explain(c, 1).Recorded, "\n"); !strings.Contains(got, want) {
			t.Errorf("%s: %q, want %q", cell, got, want)
		}
	}
	for cell, want := range map[string]string{
		"stove.none.kept":   "stove.none.log is not given",
		"stove.new.reached": "logs/new.csv has no first_time of heat, with stove.new.log = logs/new.csv, 4 rows, stove.new.level = 10 W",
		"stove.old.rise":    "logs/old.csv has no highest of warmth, with stove.old.log = logs/old.csv, 6 rows",
	} {
		c, _ := m.ParseCell(cell)
		if got := m.Explain(c, 1).Reason; got != want {
			t.Errorf("%s: %q, want %q", cell, got, want)
		}
	}
}

// TestReadOnce: a recording is read once for all that is known beforehand, once
// more for what is computed first, and not again where other inputs change.
func TestReadOnce(t *testing.T) {
	files := stoveFiles(stoves)
	m, list, _ := engine.Load(engine.Sources{Files: files, Scenario: "a/s.toml"})
	if m == nil {
		t.Fatal(list)
	}
	log := m.Kind("stove").Quantity("log")
	passes := func() int { return m.Result.RecordingOf(log, 0).Passes() }
	if got := passes(); got != 2 {
		t.Errorf("read %d times", got)
	}
	price, _ := m.ParseCell("stove.old.price")
	level, _ := m.ParseCell("stove.old.level")
	reached := eval.Cell{Quantity: m.Kind("stove").Quantity("reached")}
	sweep := func(input eval.Cell, scale float64) (out []float64) {
		values := make([]float64, 1000)
		for i := range values {
			values[i] = float64(i) * scale
		}
		s, err := m.Result.Sweep([]eval.Axis{{Inputs: []eval.Cell{input}, Steps: 1000, Fill: eval.Values(values)}}, []eval.Cell{reached})
		if err != nil {
			t.Fatal(err)
		}
		if err := s.Run(t.Context(), 0, 1000, func(p *eval.Points) error {
			for i := range p.N {
				out = append(out, p.At(0, i))
			}
			return nil
		}); err != nil {
			t.Fatal(err)
		}
		return out
	}
	sweep(price, 1)
	if got := passes(); got != 2 {
		t.Errorf("read %d times after a sweep", got)
	}
	swept := sweep(level, 0.01)
	if got := passes(); got > 2+4 { // once for each run of points, not for each point
		t.Errorf("read %d times after a sweep over levels", got)
	}
	for _, p := range []int{1, 500, 999} {
		if got, want := swept[p], float64(p)/2000; !(math.Abs(got-want) < 1e-12) {
			t.Errorf("at level %d: %v, want %v", p, got, want)
		}
	}
	if few, err := m.Only(nil); err != nil || few != m {
		t.Error("nothing is compared, and yet the model is another")
	}
}

// TestRecordingFaults: what a scenario may say wrongly of a recording, and what a
// recording may be: each is told at its place, and nothing is computed.
func TestRecordingFaults(t *testing.T) {
	for _, c := range []struct{ old, new, want string }{
		{`"logs/old.csv"`, `"../outside.csv"`, "`../outside.csv` leaves the scenario's folder"},
		{`"logs/old.csv"`, `"/etc/passwd"`, "`/etc/passwd` is not named from the scenario's folder"},
		{`"logs/old.csv"`, `"logs"`, "the file `a/logs` cannot be read: it is a folder"},
		{`"logs/old.csv"`, `"logs/odl.csv"`, "the file `a/logs/odl.csv` cannot be read: there is no such file"},
		{`"logs/old.csv"`, `3`, "`log` is a recording with time, heat, warmth, meter, not a number"},
		{`"logs/old.csv"`, `{ heat = "heat" }`, "`log` does not say in which file the recording is"},
		{`"logs/old.csv"`, `{ file = "logs/old.csv", haet = "heat" }`, "`haet` is not a key of a recording / Did you mean `heat`?"},
		{`"logs/old.csv"`, `{ file = "logs/old.csv", delimeter = ";" }`, "`delimeter` is not a key of a recording / Did you mean `delimiter`?"},
		{`"logs/old.csv"`, `{ file = "logs/old.csv", delimiter = "|" }`, "`delimiter` cannot be \"|\""},
		{`"logs/old.csv"`, `{ file = "logs/old.csv", decimal = "" }`, "`decimal` cannot be \"\""},
		{`"logs/old.csv"`, `{ file = "logs/old.csv", gap = "3 kg" }`, "`gap` is a time"},
		{`"logs/old.csv"`, `{ file = "logs/old.csv", gap = "0 s" }`, "`gap` must be above 0"},
		{`"logs/old.csv"`, `{ file = "logs/old.csv", gap_steps = 0.5 }`, "`gap_steps` must be at least 1, and"},
		{`"logs/old.csv"`, `{ file = "logs/old.csv", first_row = 3, last_row = 3 }`, "`last_row` lies before `first_row`, or is the same"},
		{`"logs/old.csv"`, `{ file = "logs/old.csv", time_unit = "kg" }`, "`time_unit` is a mass"},
		{`"logs/old.csv"`, `{ file = "logs/old.csv", heat = 0 }`, "`heat` is no header and no number of a column"},
		{`"logs/old.csv"`, `{ file = "logs/old.csv", heat = { column = 2, reversed = true } }`, "a column whose sign is reversed needs its unit"},
		{`"logs/old.csv"`, `{ file = "logs/old.csv", heat = { column = 2, unit = "V" } }`, "heat is a power (W), but its unit in the recording is said to be V"},
		{`"logs/old.csv"`, `{ file = "logs/old.csv", heat = "hot" }`, "the recording has no column \"hot\" for heat"},
		{`"logs/old.csv"`, `{ file = "logs/old.csv", warmth = "hot" }`, "the recording has no column \"hot\" for warmth"},
		{`"logs/old.csv"`, `"= 3"`, "`log` is a recording with time, heat, warmth, meter and cannot be given by a formula"},
		{`time = "h", heat`, `heat`, "the first column of a recording is the time, and `heat` is not"},
		{`time = "h", heat = "W",`, `time = "h", file = "W",`, "`file` has a meaning of its own"},
		{`integral(log.heat)`, `integral(log.haet)`, "log is a recording; name one of its columns / Its columns are time, heat, warmth, meter."},
		{`integral(log.heat)`, `integral(log.warmth)`, "integral: a temperature (°C) cannot be multiplied; take its mean over time"},
		{`integral(log.heat)`, `integral(price)`, "price is not a column of a recording"},
		{`integral(log.heat)`, `integral(price * 2)`, "integral takes a column of a recording here"},
		{`integral(log.heat)`, `integral()`, "integral takes (recording.values, or also recording.times), but 0 are given"},
		{`integral(log.heat)`, `integral(log.heat, stoves.new.log.heat)`, "the columns of integral must be of one recording"},
		{`integral(log.heat)`, `(log.heat * long)`, "a column of a recording is not one value / Take one value of it, such as its mean over time: time_mean(log.heat)."},
		{`held(log.heat, long)`, `held(log.heat, level)`, "held: it takes a time, not a power (W)"},
		{`held(log.heat, long)`, `interpolate(log.heat, log.meter, 3)`, "log.heat is a column of a recording, and interpolate looks into a table"},
		{`held(log.heat, long)`, `len(log.heat) * level`, "len counts the rows of a table column / For a recording write rows."},
	} {
		text := strings.Replace(stoves, c.old, c.new, 1)
		if text == stoves {
			t.Fatalf("%s is not in the scenario", c.old)
		}
		m, list, _ := engine.Load(engine.Sources{Files: stoveFiles(text), Scenario: "a/s.toml"})
		var told []string
		for _, d := range list {
			told = append(told, d.Summary+" / "+d.Mend)
			if d.Mend == "" {
				t.Errorf("%s: no mend: %s", c.new, d.Summary)
			}
		}
		all := strings.Join(told, "\n")
		if m != nil || !strings.Contains(all, c.want) {
			t.Errorf("%s: %s\nwant %s", c.new, all, c.want)
		}
	}
	for name, data := range map[string]string{
		"empty": "", "no rows": "time,heat\n", "UTF-16": "\xff\xfet\x00", "not even a table": "{\"a\": [1, 2]}", "all text": "time [h],heat\n1,a\n2,b\n3,c\n",
		"times without unit":           "time,heat\n1,2\n2,3\n3,4\n",
		"a quote that is never closed": "time [h],heat\n1,2\n2,\"3\n3,4\n", "ten megabytes in a line": "time [h],heat\n1,2\n" + strings.Repeat("7", 10<<20) + ",2\n",
		"two headers": "time [h],heat [W]\n0,1\n1,2\ntime [h],heat [kW]\n2,3\n",
	} {
		files := stoveFiles(stoves)
		files.MapFS["a/logs/old.csv"].Data = []byte(data)
		m, list, _ := engine.Load(engine.Sources{Files: files, Scenario: "a/s.toml"})
		found := false
		for _, d := range list {
			if d.Severity == diag.Error && strings.HasSuffix(d.At.File, "logs/old.csv") {
				found = len(d.Related) > 0 && d.Mend != ""
			}
			if d.Code == "not-a-number" {
				t.Errorf("%s: what follows is told: %s", name, d.Summary)
			}
		}
		if m != nil || !found {
			t.Errorf("%s: %v", name, list)
		}
	}
}

// TestManyFaults: a recording with thousands of faults does not flood the list.
func TestManyFaults(t *testing.T) {
	var b strings.Builder
	b.WriteString("time [h],heat\n")
	for i := range 20000 {
		if i%10 != 0 {
			fmt.Fprintf(&b, "%d,1\n", i)
		} else {
			fmt.Fprintf(&b, "%d,?\n", i)
		}
	}
	files := stoveFiles(stoves)
	files.MapFS["a/logs/old.csv"].Data = []byte(b.String())
	m, list, read := engine.Load(engine.Sources{Files: files, Scenario: "a/s.toml"})
	if m == nil || len(list) > 40 {
		t.Errorf("%d messages", len(list))
	}
	if brief := engine.Brief(list, read, "More."); len(brief) != 2 {
		t.Errorf("in short there are %d messages: %v", len(brief), brief)
	}
}
