package main

import (
	"strings"
	"testing"
	"unicode/utf8"

	"bankwright/engine/eval"
	"bankwright/engine/oracle"
	"bankwright/export/text"
)

// TestExplainFits: however deep a line stands and however narrow the terminal,
// it fits; of many steps the first two and the last are told.
func TestExplainFits(t *testing.T) {
	t.Setenv("NO_COLOR", "1")
	for _, columns := range []uint16{40, 60, 80, 120} {
		out := onTerminal(t, columns, "explain", "alternative.one_oak.day_unmet", "--depth", "9")
		for _, line := range strings.Split(out, "\n") {
			if n := utf8.RuneCountInString(strings.TrimRight(line, "\r")); n > int(columns) {
				t.Errorf("on %d columns a line has %d characters: %s", columns, n, line)
			}
		}
		if strings.Count(out, "… 21 more") < 2 || strings.Count(out, ".hour_unmet[1,1,") != 3 || !strings.Contains(out, ".hour_unmet[1,1,24]") {
			t.Errorf("on %d columns many steps are not told by the first and last", columns)
		}
	}
}

// TestExplainAllFit: no cell has a line that is too long, but for a name that alone is.
func TestExplainAllFit(t *testing.T) {
	oracle.OneCore(t)
	m := modelOf(t, "")
	k := m.Compared()
	for _, columns := range []int{40, 60, 80} {
		for _, q := range k.Quantities {
			var b strings.Builder
			text.Explain(&b, m, m.Explain(eval.Cell{Quantity: q}, 2), text.Style{Width: columns})
			for _, line := range strings.Split(b.String(), "\n") {
				if utf8.RuneCountInString(line) > columns && strings.Contains(strings.TrimSpace(line), " ") {
					t.Errorf("on %d columns %s has a line of %d characters: %s", columns, q.Name, utf8.RuneCountInString(line), line)
				}
			}
		}
	}
}

// TestExplainColour: colour begins and ends on each line, behind the spaces in
// front.
func TestExplainColour(t *testing.T) {
	t.Setenv("NO_COLOR", "")
	t.Setenv("TERM", "xterm")
	dimmed := 0
	for _, args := range [][]string{{"explain", "alternative.one_oak.day_unmet"}, {"rules", "--cautions"}} {
		for _, line := range strings.Split(onTerminal(t, 60, args...), "\n") {
			if strings.Count(line, "\x1b[0m") != strings.Count(line, "\x1b[")-strings.Count(line, "\x1b[0m") {
				t.Errorf("colour does not end on its line: %q", line)
			}
			if strings.Contains(line, "\x1b[2m ") {
				t.Errorf("spaces are coloured: %q", line)
			}
			dimmed += strings.Count(line, "\x1b[2m")
		}
	}
	if dimmed < 20 {
		t.Errorf("only %d dim lines", dimmed)
	}
}

// TestRulesNarrow: on a narrow terminal formulas are wrapped, not cut.
func TestRulesNarrow(t *testing.T) {
	t.Setenv("NO_COLOR", "1")
	out := onTerminal(t, 60, "rules", "alternative")
	if strings.Contains(out, "...") {
		t.Error("a formula is cut")
	}
	if joined := strings.Join(strings.Fields(out), " "); !strings.Contains(joined, "= max(0, -(prev(charge) + charge_flow * hour_length))") {
		t.Errorf("a long formula is not shown whole:\n%s", out)
	}
	if strings.HasSuffix(strings.ReplaceAll(out, "\r", ""), "\n\n") {
		t.Error("the list ends with an empty line")
	}
}
