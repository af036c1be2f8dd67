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
