package main

import (
	"os/exec"
	"strings"
	"testing"

	"bankwright/engine/oracle"
)

// TestManual: the manual page has every command with its flags, and the program mandoc
// finds nothing in it to warn of, but that a build for tests knows no date.
func TestManual(t *testing.T) {
	page := bankwright(t, "man")
	for _, c := range (&app{out: &output{}}).root().Commands() {
		if c.IsAvailableCommand() && !strings.Contains(page, "\n.SS \""+escaped(c.Use)+"\"\n") {
			t.Errorf("%s has no section", c.Name())
		}
	}
	for _, r := range page {
		if r > '~' || r < ' ' && r != '\n' {
			t.Fatalf("%q is not plain ASCII", r)
		}
	}
	mandoc := oracle.Program(t, "mandoc")
	lint := exec.Command(mandoc, "-T", "lint", "-W", "warning")
	lint.Stdin = strings.NewReader(page)
	out, _ := lint.CombinedOutput()
	for _, line := range strings.Split(strings.TrimSpace(string(out)), "\n") {
		if line != "" && !strings.HasSuffix(line, `missing date, using "": TH`) {
			t.Error(line)
		}
	}
	show := exec.Command(mandoc, "-T", "utf8")
	show.Stdin = strings.NewReader(page)
	shown, err := show.Output()
	if err != nil {
		t.Fatal(err)
	}
	for _, want := range []string{"'…/step 25 USD'", "bankwright compare cabin.toml --all", "~/.bashrc"} {
		if !strings.Contains(string(shown), want) {
			t.Errorf("the page does not show %s", want)
		}
	}
}

// TestEscaped: every character stands for itself, and no line is taken for a macro.
func TestEscaped(t *testing.T) {
	for text, want := range map[string]string{
		`a\b`:          `a\eb`,
		".toml is it":  `\&.toml is it`,
		"'quoted' …":   `\&\(aqquoted\(aq \[u2026]`,
		"--all ~ ^ `x": `\-\-all \(ti \(ha \(gax`,
	} {
		if got := escapedLine(text); got != want {
			t.Errorf("%q: %q, want %q", text, got, want)
		}
	}
}
