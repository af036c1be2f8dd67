package main

import (
	"bytes"
	"encoding/json"
	"strings"
	"testing"
)

// TestThresholds reads a scenario in which everything meets its limit exactly
// (testdata/thresholds.toml): three lives of ten years are worn out at the end
// of the thirtieth, though ten tenths added up fall short of one by a rounding
// error; the loads draw just what inverter and bank may give; the full bank
// stands at just the voltage that is safe to touch; two banks cost the same.
func TestThresholds(t *testing.T) {
	var out, errs bytes.Buffer
	if status := run([]string{"compare", "../../testdata/thresholds.toml", "--json"}, &out, &errs); status != exitDone {
		t.Fatalf("exit %d: %s", status, errs.String())
	}
	var doc struct {
		Best         string
		Alternatives []struct {
			Name   string
			Place  int
			Values map[string]struct{ Value any }
			Checks []struct {
				Name   string
				Passed *bool
			}
		}
	}
	if err := json.Unmarshal(out.Bytes(), &doc); err != nil {
		t.Fatal(err)
	}
	if doc.Best != "line" {
		t.Errorf("%s is best, but of equals the first named is", doc.Best)
	}
	for _, a := range doc.Alternatives {
		if got := a.Values["banks_used"].Value; got != 3.0 {
			t.Errorf("%s: %v banks in 30 years, want 3", a.Name, got)
		}
		for _, c := range a.Checks {
			if limit := strings.Contains("discharge_current inverter_power touch_voltage voltage_when_full voltage_at_cutoff lifting", c.Name); limit && (c.Passed == nil || !*c.Passed) {
				t.Errorf("%s does not pass %s, which it just meets", a.Name, c.Name)
			}
		}
	}
	out.Reset()
	run([]string{"compare", "../../testdata/thresholds.toml"}, &out, &errs)
	if !strings.Contains(out.String(), "level with twin") {
		t.Errorf("the tie is not told:\n%s", out.String())
	}
}
