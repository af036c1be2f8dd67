package decl

import (
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"bankwright/engine/diag"
)

// note is what a bad file says must be told at a line.
type note struct {
	file     string
	line     int
	severity string
	pattern  string
	met      bool
}

var noteForm = regexp.MustCompile(`#! (error|warning): `)

func notes(f *File) []*note {
	var out []*note
	for i, line := range strings.Split(string(f.Text), "\n") {
		marks := noteForm.FindAllStringSubmatchIndex(line, -1)
		for j, m := range marks {
			end := len(line)
			if j+1 < len(marks) {
				end = marks[j+1][0]
			}
			out = append(out, &note{file: f.Name, line: i + 1, severity: line[m[2]:m[3]], pattern: strings.TrimSpace(line[m[1]:end])})
		}
	}
	return out
}

// typeNames must not reach a user.
var typeNames = regexp.MustCompile(`map\[|interface|\bstring\b|float64|int64|%!|toml: |\bnil\b|decl\.|unit\.Unit`)

func TestBadFiles(t *testing.T) {
	names, err := filepath.Glob("testdata/bad/*.toml")
	if err != nil || len(names) == 0 {
		t.Fatal("no bad files", err)
	}
	for _, name := range names {
		name = filepath.Base(name)
		t.Run(name, func(t *testing.T) {
			m, diags := Load(Sources{Files: os.DirFS("testdata/bad"), Scenario: name, Standard: os.DirFS("testdata/rules"), Symbols: []string{"lamp", "valve"}})
			var want []*note
			for _, f := range m.Files {
				want = append(want, notes(f)...)
			}
			for _, d := range diags {
				checkNote(t, d, want)
			}
			for _, n := range want {
				if !n.met {
					t.Errorf("%s:%d: not told: %s", n.file, n.line, n.pattern)
				}
			}
		})
	}
}

func checkNote(t *testing.T, d diag.Diagnostic, notes []*note) {
	t.Helper()
	text := d.Summary + " | " + d.Mend
	if typeNames.MatchString(text) {
		t.Errorf("%s: not for people: %s", d.At, text)
	}
	if diag.Codes[d.Code] == "" {
		t.Errorf("%s: the code %q is not documented", d.At, d.Code)
	}
	if d.Mend == "" || d.At.File == "" {
		t.Errorf("%s: without mend or place: %s", d.At, text)
	}
	for _, n := range notes {
		if n.met || n.file != d.At.File || n.line != max(d.At.Line, 1) || n.severity != d.Severity.String() {
			continue
		}
		if regexp.MustCompile(n.pattern).MatchString(text) {
			n.met = true
			return
		}
	}
	t.Errorf("%s: unexpected %s: %s", d.At, d.Severity, text)
}
