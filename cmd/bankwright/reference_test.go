package main

import (
	"path/filepath"
	"slices"
	"testing"

	"bankwright/engine"
)

// TestOutside runs the scenarios of testdata/outside, whose figures are published,
// and compares with the published results. They stand beside the figures as
//
//	# source: where they were published
//	# status: how far that was seen
//	# with: TABLE: LINE
//	#= CELL VALUE UNIT to TOLERANCE
//	#= KIND.ITEM.check.NAME passed
//
// A source and a status hold for the lines that follow, up to the next source; so
// does each line that is put in place of the scenario's, up to `# as given`.
func TestOutside(t *testing.T) {
	t.Parallel()
	for _, file := range outsideFiles(t) {
		t.Run(filepath.Base(file), func(t *testing.T) {
			values, err := publishedIn(file)
			if err != nil {
				t.Fatal(err)
			}
			var m *engine.Model
			for i, p := range values {
				if i == 0 || !slices.Equal(p.with, values[i-1].with) {
					m = ownModel(t, file, p.with)
				}
				at, err := spotOf(m, p)
				if err != nil {
					t.Fatalf("line %d: %v", p.line, err)
				}
				if v := at.in(m.Result); !p.meets(v) {
					t.Errorf("line %d: %s is %.10g %s, published %v within %v\nsource: %s (%s)", p.line, p.cell, v, p.unit, p.value, p.tolerance, p.source, p.status)
				}
			}
		})
	}
}
