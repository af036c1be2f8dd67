package main

import (
	"math"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"
)

// TestOutside runs the scenarios of testdata/outside, whose figures are published,
// and compares with the published results. They stand beside the figures as
//
//	# source: where they were published
//	# status: how far that was seen
//	#= CELL VALUE UNIT to TOLERANCE
//	#= ITEM.check.NAME passed
//
// A source and a status hold for the lines that follow, up to the next source.
func TestOutside(t *testing.T) {
	t.Parallel()
	files, err := filepath.Glob("../../testdata/outside/*.toml")
	if err != nil || len(files) < 4 {
		t.Fatalf("files: %v, %v", files, err)
	}
	for _, file := range files {
		t.Run(filepath.Base(file), func(t *testing.T) {
			text, err := os.ReadFile(file)
			if err != nil {
				t.Fatal(err)
			}
			source, status, seen := "", "", 0
			for _, line := range strings.Split(string(text), "\n") {
				if s, ok := strings.CutPrefix(line, "# source: "); ok {
					source, status = s, ""
				}
				if s, ok := strings.CutPrefix(line, "# status: "); ok {
					status = s
				}
				expected, ok := strings.CutPrefix(line, "#= ")
				if !ok {
					continue
				}
				if source == "" || status == "" {
					t.Fatalf("no source and status stand above %s", line)
				}
				seen++
				t.Run(strings.Fields(expected)[0], func(t *testing.T) {
					matchPublished(t, file, strings.Fields(expected))
					if t.Failed() {
						t.Logf("source: %s (%s)", source, status)
					}
				})
			}
			if seen == 0 {
				t.Error("nothing is expected of this file")
			}
		})
	}
}

// matchPublished compares one expected result: cell, value, unit (none where it
// is a plain number), "to", tolerance; or a check and how it went.
func matchPublished(t *testing.T, file string, words []string) {
	if len(words) == 2 {
		matchFinding(t, file, words[0], words[1])
		return
	}
	unit := ""
	if len(words) == 5 {
		unit = words[2]
		words = append(words[:2:2], words[3:]...)
	}
	if len(words) != 4 || words[2] != "to" {
		t.Fatalf("cannot read %v", words)
	}
	want, err := strconv.ParseFloat(words[1], 64)
	if err != nil {
		t.Fatal(err)
	}
	tolerance, err := strconv.ParseFloat(words[3], 64)
	if err != nil {
		t.Fatal(err)
	}
	if got := held(t, modelOf(t, file), words[0], unit); !(math.Abs(got-want) <= tolerance) {
		t.Errorf("%v %s, published %v within %v", got, unit, want, tolerance)
	}
}

// matchFinding compares how a check of an alternative went.
func matchFinding(t *testing.T, file, name, want string) {
	parts := strings.Split(name, ".") // alternative.NAME.check.CHECK
	if len(parts) != 4 || parts[0] != "alternative" || parts[2] != "check" || want != "passed" && want != "failed" {
		t.Fatalf("cannot read %s %s", name, want)
	}
	if f := findingOf(t, modelOf(t, file), parts[1], parts[3]); !f.Applicable || f.Passed != (want == "passed") {
		t.Errorf("applies: %v, passed: %v, want %s", f.Applicable, f.Passed, want)
	}
}
