package engine_test

import (
	"fmt"
	"strings"
	"testing"
)

// TestStepOfItem: a step over items is named as an item is elsewhere, by number, name or
// label; where none is meant, the first dozen of them are listed.
func TestStepOfItem(t *testing.T) {
	var crates strings.Builder
	for i := range 15 {
		fmt.Fprintf(&crates, "[crate.c%d]\nlabel = \"%d below\"\n", i+1, i)
	}
	m := loadText(t, `title = "Crates"
standard_rules = false
[rules.kind.crate]
many = "crates"
doc = "A crate."
[rules.kind.shelf]
many = "shelves"
doc = "A shelf."
[rules.shelf.holds]
refers = "crate"
set = true
doc = "What stands on it."
[shelf.low]
holds = ["c2"]
`+crates.String())
	for step, want := range map[string]string{
		"c2": "yes", "2": "yes", "1 below": "yes", "c1": "no", "0 below": "no", "3": "no",
		"oven": `holds has no step "oven". There are c1, c2, c3, c4, c5, c6, c7, c8, c9, c10, c11, c12 and 3 more.`,
		"0":    `holds has no step "0". There are c1, c2, c3, c4, c5, c6, c7, c8, c9, c10, c11, c12 and 3 more.`,
	} {
		c, err := m.ParseCell("shelf.low.holds[" + step + "]")
		got := fmt.Sprint(err)
		if err == nil {
			got = m.CellText(c)
		}
		if got != want {
			t.Errorf("[%s]: %s, want %s", step, got, want)
		}
	}
}
