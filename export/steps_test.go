package export

import (
	"io/fs"
	"testing"

	"bankwright/rules"
	"bankwright/scenarios"
)

// TestNamedSteps: rules that are too long for one cell are split in the rules, where each
// step has a name, a unit and a sentence that says what it is. The workbook splits none of
// them; only what a scenario writes in place of a value may be longer.
func TestNamedSteps(t *testing.T) {
	files, err := fs.Glob(scenarios.Files, "*.toml")
	if err != nil || len(files) < 5 {
		t.Fatal(files, err)
	}
	for _, file := range files {
		pl := plotBook(load(t, scenarios.Files, file, rules.Files), nil)
		for _, pg := range pl.pages() {
			for _, l := range pg.lines {
				if l.isPart {
					t.Errorf("%s: %s!%d is no step of the rules: %s: %s", file, pg.name, l.row, l.label, l.step(0, 0).at(spot{page: pg, steps: make([]int, len(pg.axes))}))
				}
			}
		}
	}
}
