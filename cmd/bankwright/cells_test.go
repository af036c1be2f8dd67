package main

import (
	"bytes"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// TestRoundLabel: a battery labelled 12 V has four cells like one labelled
// 12.8 V, so that its voltage when full, on which stops rest, is not put too
// low: 4 × 3.65 V = 14.6 V (common practice for LiFePO4).
func TestRoundLabel(t *testing.T) {
	path := filepath.Join(t.TempDir(), "label.toml")
	text := `currency = "EUR"
[battery.a]
capacity = "100 Ah"
nominal_voltage = "12 V"
price = "300 EUR"
max_discharge_current = "100 A"
cycle_life = { depth = ["80 %"], cycles = [4000] }
[load.lamp]
power = "20 W"
`
	if err := os.WriteFile(path, []byte(text), 0o644); err != nil {
		t.Fatal(err)
	}
	var out, errs bytes.Buffer
	if status := run([]string{"explain", path, "battery.a.charged_voltage"}, &out, &errs); status != exitDone {
		t.Fatalf("exit %d: %s", status, errs.String())
	}
	if !strings.HasPrefix(out.String(), "battery.a.charged_voltage = 14.6 V") {
		t.Errorf("%s", out.String())
	}
}
