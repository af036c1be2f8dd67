package recording_test

import (
	"bytes"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"bankwright/engine/diag"
	"bankwright/engine/recording"
	"bankwright/engine/unit"
)

// must is a unit that a test writes.
func must(symbol string) unit.Unit {
	if symbol == "" {
		return unit.One
	}
	u, err := unit.Parse(symbol)
	if err != nil {
		panic(err)
	}
	return u
}

// greenhouse is the layout that tests read: a greenhouse's temperature, its
// heater's power, and where there is one the heater's meter.
var greenhouse = recording.Layout{Time: "time", Columns: []recording.Column{
	{Name: "time"},
	{Name: "temperature", Unit: must("°C")},
	{Name: "power", Unit: must("W")},
	{Name: "meter", Unit: must("kWh"), Counter: true, Optional: true},
}}

// told writes the problems of a report as the files have them: line and sentence.
func told(list diag.List) []string {
	var out []string
	for _, d := range list {
		out = append(out, fmt.Sprintf("%d: %s: %s", d.At.Line, d.Severity, d.Summary))
	}
	return out
}

// outcome is what is computed from a file of the greenhouse.
func outcome(results []recording.Result, report *recording.Report) string {
	return fmt.Sprintf("%d rows from %d to %d in %d stretches, %.4g h without %.4g h, %.5g Wh",
		report.Rows, report.FirstLine, report.LastLine, report.Stretches, report.Span, report.Missing, results[0].Value)
}

// TestHostile reads every file of testdata. Lines that begin with #! say what is
// told, in order and complete; one that begins with #= says what is computed. They
// stand before the header as any other line that instruments write there.
func TestHostile(t *testing.T) {
	paths, err := filepath.Glob("testdata/*.csv")
	if err != nil || len(paths) < 15 {
		t.Fatalf("%d files in testdata: %v", len(paths), err)
	}
	for _, path := range paths {
		t.Run(filepath.Base(path), func(t *testing.T) {
			text, err := os.ReadFile(path)
			if err != nil {
				t.Fatal(err)
			}
			var want, got []string
			for line := range strings.Lines(string(text)) {
				if strings.HasPrefix(line, "#") {
					want = append(want, strings.TrimSpace(line))
				}
			}
			results, report := recording.Run(greenhouse, recording.Source{File: path, Reader: bytes.NewReader(text)},
				recording.Integral{Of: "power"})
			for _, s := range told(report.Problems) {
				got = append(got, "#! "+s)
			}
			if report.Usable() {
				got = append(got, "#= "+outcome(results, report))
			}
			if a, b := strings.Join(got, "\n"), strings.Join(want, "\n"); a != b {
				t.Errorf("got\n%s\nwant\n%s", a, b)
			}
			for _, d := range report.Problems {
				if diag.Codes[d.Code] == "" || strings.HasSuffix(d.Summary, ".") {
					t.Errorf("%+v has no code, or a full stop", d)
				}
			}
		})
	}
}
