package main

import (
	"fmt"
	"strings"
	"testing"
	"testing/fstest"

	"bankwright/engine"
	"bankwright/rules"
)

// TestFlipped: a log whose current has the wrong sign gives less energy than none,
// which is a fault, and not a battery to plan with. So is one that gives no energy at
// all: the other trials would have no mean.
func TestFlipped(t *testing.T) {
	t.Parallel()
	for _, edit := range []string{`trial.a: log = "logs/flipped.csv"`, `load_trial.a: log = "logs/flipped.csv"`} {
		text := edited(logged, edit)
		m, list, _ := engine.Load(engine.Sources{Files: withLogs("s.toml", text), Scenario: "s.toml", Standard: rules.Files})
		if m != nil || !strings.Contains(fmt.Sprint(list), "its current has the wrong sign") {
			t.Errorf("%s: %v", edit, list)
		}
	}
	text := edited(logged, `trial.a: log = "logs/apart.csv"`)
	files := withLogs("s.toml", text)
	files["logs/apart.csv"] = &fstest.MapFile{Data: []byte("Time (s),Voltage,Current\n0,13.4,\n1,,20\n2,13.1,\n3,,20\n4,13,\n")}
	m, list, _ := engine.Load(engine.Sources{Files: files, Scenario: "s.toml", Standard: rules.Files})
	if m != nil || !strings.Contains(fmt.Sprint(list), "no two rows have both voltage and current") {
		t.Errorf("voltage and current in different rows: %v", list)
	}
	turned := `{ file = "logs/flipped.csv", current = { column = "Current", unit = "A", reversed = true } }`
	agree(t, "turned", held(t, solvedText(t, edited(logged, "trial.a: log = "+turned)), "trial.a.charge", "Ah"), 20*(18000-55)/3600., 1e-9)
}

// TestDisconnected: where the BMS disconnects, current and voltage fall at once, and
// that step tells no resistance.
func TestDisconnected(t *testing.T) {
	t.Parallel()
	m := solvedText(t, edited(logged, `trial.a: log = "logs/tripped.csv"`, `load_trial.a: log = "logs/stopped.csv"`))
	for _, cell := range []string{"trial.a.resistance", "load_trial.a.resistance"} {
		c, err := m.ParseCell(cell)
		if err != nil {
			t.Fatal(err)
		}
		if got := m.CellText(c); got != "-" {
			t.Errorf("%s is %s", cell, got)
		}
	}
}

// TestWarmingAndGaps: a battery that only cools has not warmed up; and a charge of which
// a tenth was not recorded is not whole, though its clock went on.
func TestWarmingAndGaps(t *testing.T) {
	t.Parallel()
	text := edited(strings.Replace(logged, `typed_energy = "1368.42105263157895 Wh"`, `log = "logs/full.csv"`, 1), `load_trial.a: log = "logs/cooling.csv"`)
	for gap, whole := range map[int]float64{0: 1, 1800: 0} {
		files := withLogs("s.toml", text)
		files["logs/cooling.csv"] = &fstest.MapFile{Data: benchLog{current: stepped(0, 169, 60), seconds: 960, full: 13.7, warm: 30, rise: -8, meter: 1}.csv()}
		files["logs/full.csv"] = &fstest.MapFile{Data: benchLog{current: steady(20), seconds: 18000, full: 13, fall: -1, gapFrom: 5000, gapTo: 5000 + gap, meter: 1}.csv()}
		m, list, _ := engine.Load(engine.Sources{Files: files, Scenario: "s.toml", Standard: rules.Files})
		if m == nil {
			t.Fatal(list)
		}
		agree(t, "warmer by", held(t, m, "load_trial.a.temperature_rise", "K"), 0, 1e-9)
		agree(t, "recorded all the while", held(t, m, "charge_trial.a.whole", ""), whole, 0)
	}
}
