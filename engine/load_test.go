package engine_test

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"bankwright/engine"
	"bankwright/engine/diag"
)

// TestBad reads every scenario of testdata/bad and compares the messages with
// those that its comments expect.
func TestBad(t *testing.T) {
	files, err := filepath.Glob("testdata/bad/*.toml")
	if err != nil || len(files) == 0 {
		t.Fatalf("no files: %v", err)
	}
	for _, file := range files {
		t.Run(filepath.Base(file), func(t *testing.T) {
			text, err := os.ReadFile(file)
			if err != nil {
				t.Fatal(err)
			}
			_, list, _ := engine.Load(engine.Sources{Files: os.DirFS("testdata/bad"), Scenario: filepath.Base(file)})
			matchExpected(t, string(text), list)
		})
	}
}

// holds reports whether a message holds the pieces of a text, between which …
// stands for anything.
func holds(message, want string) bool {
	for _, piece := range strings.Split(want, "…") {
		_, rest, ok := strings.Cut(message, strings.TrimSpace(piece))
		if !ok {
			return false
		}
		message = rest
	}
	return true
}

// matchExpected compares diagnostics with the comments of a file.
func matchExpected(t *testing.T, text string, list diag.List) {
	t.Helper()
	found := map[int][]string{}
	for _, d := range list {
		if d.Mend == "" {
			t.Errorf("line %d: without a mend: %s", d.At.Line, d.Summary)
		}
		found[d.At.Line] = append(found[d.At.Line], d.Summary+" / "+d.Mend)
	}
	for i, line := range strings.Split(text, "\n") {
		_, comment, ok := strings.Cut(line, "#! ")
		got := found[i+1]
		delete(found, i+1)
		if !ok {
			for _, g := range got {
				t.Errorf("line %d: unexpected: %s", i+1, g)
			}
			continue
		}
		wants := strings.Split(comment, " | ")
		if len(wants) != len(got) {
			t.Errorf("line %d: %d messages, want %d: %q", i+1, len(got), len(wants), got)
			continue
		}
		for j, want := range wants {
			if !holds(got[j], want) {
				t.Errorf("line %d:\n got %s\nwant %s", i+1, got[j], want)
			}
		}
	}
	for line, got := range found {
		t.Errorf("outside the file's lines (%d): %q", line, got)
	}
}
