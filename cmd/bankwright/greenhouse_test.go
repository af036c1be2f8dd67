package main

import (
	"archive/zip"
	"encoding/xml"
	"io"
	"math"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"bankwright/engine/unit"
)

// The second set of rules compares ways to heat a greenhouse and knows nothing
// of batteries. It goes through every command unchanged.
const greenhouse = "../../testdata/greenhouse/scenario.toml"

// winterHeat is the heat of a winter by hand: 18 m² of glass at 5.8 W/m²/K, the
// nights colder than the 4 °C that the plants bear by 0, 2, 7, 10, 9 and 3 K
// (23 °F are -5 °C), over months of 730 h.
const winterHeat = 18 * 5.8 * (0 + 2 + 7 + 10 + 9 + 3) * 730.0 / 1000 // kWh

// greenhouseAnswer is the document of compare --json for these rules.
type greenhouseAnswer struct {
	Scenario, Currency, Decides string
	Margins                     []margin
	Best                        *string
	Ways                        []greenhouseWay
}

type greenhouseWay struct {
	Name, Label string
	Place       *int
	Shortlist   bool
	Frontier    *bool
	Answers     []struct{ Name, Question, Answer string }
	Values      map[string]struct {
		Value any
		Unit  string
	}
	Checks []struct {
		Name, Severity, Text string
		Passed               *bool
	}
}

func TestGreenhouseCompare(t *testing.T) {
	var a greenhouseAnswer
	document(t, &a, "compare", greenhouse)
	if a.Best == nil || *a.Best != "stove" || a.Decides != "cost_of_all_winters" {
		t.Errorf("best %v by %s, want stove by cost_of_all_winters", a.Best, a.Decides)
	}
	// Present worth of 1 at the end of each of 8 years at 3 %.
	eightWinters := (1 - math.Pow(1.03, -8)) / 0.03
	// One fan gives at most 600 W, too little from December to February.
	oneFan := 0.730 * (2*18*5.8 + 3*600 + 3*18*5.8) // kWh
	want := map[string]float64{
		"one_fan":    40 + 0.30*oneFan*eightWinters,
		"two_fans":   80 + 0.30*winterHeat*eightWinters,
		"stove":      520 + 0.09*winterHeat*eightWinters,
		"two_stoves": 1040 + 0.09*winterHeat*eightWinters,
	}
	if len(a.Ways) != len(want) {
		t.Errorf("%d ways, want %d", len(a.Ways), len(want))
	}
	for _, w := range a.Ways {
		v := w.Values["cost_of_all_winters"]
		x, _ := v.Value.(float64)
		agree(t, w.Name, x, want[w.Name], 1e-12)
		if v.Unit != "EUR" {
			t.Errorf("%s is in %s", w.Name, v.Unit)
		}
	}
}

// TestGreenhouseFindings: each way fails the one check that it must fail, and
// says so in a sentence.
func TestGreenhouseFindings(t *testing.T) {
	var a greenhouseAnswer
	document(t, &a, "compare", greenhouse)
	unmet := map[string]string{"one_fan": "warm_enough", "two_stoves": "fumes"}
	found := 0
	for _, w := range a.Ways {
		for _, c := range w.Checks {
			failed := c.Passed != nil && !*c.Passed
			if failed {
				found++
			}
			if want := unmet[w.Name] == c.Name; failed != want || (c.Text != "") != want {
				t.Errorf("%s %s: failed %t, %q", w.Name, c.Name, failed, c.Text)
			}
			// Fans have no store, so that the check on it does not apply.
			fans := c.Name == "store_lasts" && strings.Contains(w.Name, "fan")
			if (c.Passed == nil) != fans {
				t.Errorf("%s %s: passed %v", w.Name, c.Name, c.Passed)
			}
		}
	}
	if found != len(unmet) {
		t.Errorf("%d checks are not met, want %d", found, len(unmet))
	}
}

func TestGreenhouseText(t *testing.T) {
	for _, c := range []struct {
		args []string
		want []string
	}{
		{[]string{"compare", greenhouse}, []string{
			"18 m² of glass, 8 winters at 3 %",
			"cost of all winters  EUR  2,013     5,055       2,533    3,610",
			"stove is best: it has the lowest cost of all winters, 2,013 EUR; two_fans lies",
			"stop     two_stoves: 2 heaters with fumes cannot share one flue.",
			"Keep a heater away from dry leaves.",
		}},
		{[]string{"check", greenhouse, "--verify", "--all"}, []string{
			"not applicable  store_lasts: The store lasts the winter.",
			"0 warnings; 1 stop, 1 unfit; 8 passed, 2 not applicable.",
		}},
		{[]string{"explain", greenhouse, "way.stove.left_in_store[4]", "--depth", "1"}, []string{
			"way.stove.left_in_store[4] = 1,052 kWh", // 2,500 less 19 K of 31
			"prev(left_in_store) - heat",
			"way.stove.heat[4]",
			"rules.toml:",
		}},
		{[]string{"explain", greenhouse, "house.outside[5]"}, []string{"house.outside[5] = -5 °C", "scenario.toml:9"}},
		{[]string{"rules", "way.heat", "--scenario", greenhouse}, []string{"over        month", "min(house.loss, output) * month_length"}},
		{[]string{"rules", "--scenario", greenhouse}, []string{"heater (many: heaters)", "check fumes"}},
	} {
		out := bankwright(t, c.args...)
		for _, w := range c.want {
			if !strings.Contains(out, w) {
				t.Errorf("bankwright %s does not print %q:\n%s", strings.Join(c.args, " "), w, out)
			}
		}
		noBattery(t, strings.Join(c.args, " "), out)
	}
}

// noBattery demands that an output says nothing of the standard rules.
func noBattery(t *testing.T, what, text string) {
	t.Helper()
	text = strings.ReplaceAll(text, "bankwright", "") // the program's own name
	if word, _ := tradeWord(text); word != "" {
		t.Errorf("%s says %q", what, word)
	}
}

func TestGreenhouseBook(t *testing.T) {
	path := filepath.Join(t.TempDir(), "orchids.xlsx")
	bankwright(t, "book", greenhouse, "-o", path)
	parts := unpacked(t, path)
	for name, text := range parts {
		noBattery(t, name, text)
	}
	var sheets []string
	for _, m := range regexp.MustCompile(`<sheet name="([^"]*)"`).FindAllStringSubmatch(parts["xl/workbook.xml"], -1) {
		sheets = append(sheets, m[1])
	}
	for _, want := range []string{"Answer", "Inputs", "Ways to heat", "Month by month", "Checks", "Sources and cautions"} {
		if !slices.Contains(sheets, want) {
			t.Errorf("there is no sheet %q, only %q", want, sheets)
		}
	}
	live, figures := 0, 0
	for name, text := range parts {
		if !strings.HasPrefix(name, "xl/worksheets/sheet") {
			continue
		}
		for _, c := range cellsOf(t, text) {
			if c.Type == "e" {
				t.Errorf("%s %s stores the error %s", name, c.At, c.Value)
			}
			if c.Formula == "" {
				continue
			}
			live++
			x, err := strconv.ParseFloat(c.Value, 64)
			if err == nil && math.Abs(x-winterHeat) <= 1e-9*winterHeat {
				figures++
			}
		}
	}
	if live < 200 {
		t.Errorf("only %d cells are formulas", live)
	}
	// Three ways give the full heat of a winter.
	if figures < 3 {
		t.Errorf("the heat of a winter, %v kWh, stands in %d formula cells, want 3 or more", winterHeat, figures)
	}
}

// sheetCell is a cell as a workbook stores it.
type sheetCell struct {
	At      string `xml:"r,attr"`
	Type    string `xml:"t,attr"`
	Formula string `xml:"f"`
	Value   string `xml:"v"`
}

// cellsOf reads the cells of a sheet.
func cellsOf(t testing.TB, text string) []sheetCell {
	t.Helper()
	var sheet struct {
		Rows []struct {
			Cells []sheetCell `xml:"c"`
		} `xml:"sheetData>row"`
	}
	if err := xml.Unmarshal([]byte(text), &sheet); err != nil {
		t.Fatal(err)
	}
	var all []sheetCell
	for _, r := range sheet.Rows {
		all = append(all, r.Cells...)
	}
	return all
}

// unpacked reads the parts of a workbook.
func unpacked(t testing.TB, path string) map[string]string {
	t.Helper()
	z, err := zip.OpenReader(path)
	if err != nil {
		t.Fatal(err)
	}
	defer z.Close()
	parts := map[string]string{}
	for _, f := range z.File {
		r, err := f.Open()
		if err != nil {
			t.Fatal(err)
		}
		text, err := io.ReadAll(r)
		r.Close()
		if err != nil {
			t.Fatal(err)
		}
		parts[f.Name] = string(text)
	}
	return parts
}

// TestGreenhouseAnswers: a question of the rules is answered for each way with
// its own figures, in the document and in the terminal for the best.
func TestGreenhouseAnswers(t *testing.T) {
	var a greenhouseAnswer
	document(t, &a, "compare", greenhouse)
	for _, w := range a.Ways {
		cost := unit.Format(w.Values["winter_cost"].Value.(float64), 0)
		if len(w.Answers) != 1 || w.Answers[0].Name != "winter" || w.Answers[0].Question != "What does a winter cost?" ||
			!strings.HasPrefix(w.Answers[0].Answer, cost+" EUR for ") {
			t.Errorf("%s: %v, want an answer that begins with %s EUR", w.Name, w.Answers, cost)
		}
	}
	if out := bankwright(t, "compare", greenhouse); !strings.Contains(out, "What does a winter cost? ") {
		t.Errorf("the terminal has no answer:\n%s", out)
	}
}
