package export

import (
	"regexp"
	"testing"

	"bankwright/engine/oracle"
)

// TestWorkingsNamed: the heads of workings are plain words: no name of the rules
// language stands in them, and no call.
func TestWorkingsNamed(t *testing.T) {
	oracle.OneCore(t)
	raw := regexp.MustCompile(`[a-z]_[a-z]|[a-z]\(|\*\*|\?\?`)
	for name, m := range eachModel(t) {
		seen := 0
		pl := plotBook(m, nil)
		for _, pg := range pl.pages() {
			for _, l := range pg.lines {
				if l.q == nil && pg != pl.writing {
					if seen++; raw.MatchString(l.label) {
						t.Errorf("%s: %q on the sheet %s", name, l.label, pg.name)
					}
				}
			}
		}
		if seen == 0 && name == "quarry" {
			t.Errorf("%s has no workings", name)
		}
	}
}
