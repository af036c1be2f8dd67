package main

import (
	"strings"
	"testing"

	"bankwright/engine"
)

// answerOf is what a model answers to a question for an alternative.
func answerOf(t *testing.T, m *engine.Model, question, item string) string {
	t.Helper()
	for _, q := range m.Questions {
		if q.Name == question {
			return m.Sentence(q.Sentence, q.Kind.Item(item))
		}
	}
	t.Fatalf("there is no question %s", question)
	return ""
}

// TestAnswers: the answers name what they leave out or rest on.
func TestAnswers(t *testing.T) {
	t.Parallel()
	frosty := edited(onTheLine, `site: coldest_cell_temperature = "-20 °C"`, "battery.cell: low_temperature_cutoff = true")
	frosty = strings.Replace(frosty, `cell_temperature = "5 °C"`, "", 1)
	for _, c := range []struct{ name, text, question, says string }{
		{"arrays above the touch voltage", onTheLine, "licence", "An array stands above that at record cold"},
		{"arrays within it", edited(onTheLine, `source.roof: cold_voltage = "59 V"`), "licence", "Its arrays stay within that too; there is no alternating current"},
		{"alternating current", plan, "licence", "the inverter gives alternating current far above it"},
		{"the warranty in years", plan, "warranty", "Of the 12.0 years that the money counts on, the warranty covers 12.0 years: all of them."},
		{"a shorter warranty", edited(plan, `battery.cell: warranty = "10 year"`), "warranty", "covers 10.0 years: it ends before."},
		{"no warranty", strings.Replace(plan, "warranty = \"12 year\"\n", "", 1), "warranty", "the warranty covers 0.0 years: none in years is given."},
		{"no mass", onTheLine, "carrying", "Carrying one battery (0 kg): nobody has told how heavy it is"},
		{"frost that no month tells", frosty, "dark", "Frost, in which nothing is charged, is not in that"},
		{"cold by month", onTheLine, "dark", "Cold is in that as far as it is given"},
		{"another inverter", edited(plan, "battery.cell: max_series = 2"), "growing", "25.6 V (allowed), takes 2 more, for 600 EUR with work. Another inverter, charge control and disconnect come on top."},
		{"24 V on a boat", edited(plan, "battery.cell: max_series = 4", `battery.cell: full_voltage = "14.6 V"`, "alternative.bank: series = 2", `site: setting = "boat"`), "growing", "51.2 V (above what may be in reach here)"},
		{"48 V is the last step", edited(plan, "battery.cell: max_series = 8", "alternative.bank: series = 4", "site: licensed_installer = true"), "growing", "102 V (above the last step)"},
	} {
		t.Run(c.name, func(t *testing.T) {
			if got := answerOf(t, solvedText(t, c.text), c.question, "bank"); !strings.Contains(got, c.says) {
				t.Errorf("%q does not say %q", got, c.says)
			}
		})
	}
}

// TestArrayEfficiency: common practice, some three quarters of an array's rating
// times peak sun hours reach the bank; that counts where nothing is said.
func TestArrayEfficiency(t *testing.T) {
	t.Parallel()
	unsaid := strings.Replace(onTheLine, "efficiency         = \"100 %\"\n", "", 1)
	m := solvedText(t, unsaid)
	agree(t, "array", held(t, m, "source.roof.bank_power", "W"), 0.75*320, 1e-12)
	agree(t, "charger", held(t, m, "source.road.bank_power", "W"), 320, 1e-12)
}
