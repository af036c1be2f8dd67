package main

import (
	"bytes"
	"strings"
	"testing"
	"unicode/utf8"

	"github.com/spf13/cobra"

	"bankwright/engine/oracle"
)

// TestHelp: every command's help fits 80 columns, holds no tabs, and has
// examples, which run. Beside them lies cabin.toml, as `bankwright new` makes it.
func TestHelp(t *testing.T) {
	oracle.OneCore(t)
	root := (&app{out: &output{}}).root()
	for _, c := range append(root.Commands(), root) {
		t.Run(c.Name(), func(t *testing.T) {
			args := append(strings.Fields(strings.TrimPrefix(c.CommandPath(), root.Name())), "--help")
			for _, line := range strings.Split(bankwright(t, args...), "\n") {
				if utf8.RuneCountInString(line) > 80 || strings.Contains(line, "\t") {
					t.Errorf("too long, or with a tab: %q", line)
				}
			}
			runExamples(t, c)
		})
	}
}

// runExamples runs the examples of a command in a folder of their own; what
// stands after two spaces says what an example does.
func runExamples(t *testing.T, c *cobra.Command) {
	t.Helper()
	t.Chdir(t.TempDir())
	if c.HasParent() {
		bankwright(t, "new", "cabin")
	}
	lines := strings.Split(c.Example, "\n")
	shown := false // whether one of them is of the command itself
	for _, line := range lines {
		command, _, _ := strings.Cut(strings.TrimSpace(line), "  ")
		words := strings.Fields(command)
		if len(words) == 0 || words[0] != "bankwright" {
			t.Errorf("%q is no example", line)
			continue
		}
		shown = shown || !c.HasParent() || len(words) > 1 && words[1] == c.Name()
		var out, errs bytes.Buffer
		if status := answered(words[1:], strings.NewReader(strings.Repeat("\n", 20)), &out, &errs); status != exitDone || out.Len() == 0 {
			t.Errorf("%s: exit status %d\n%s", command, status, errs.String())
		}
	}
	if !shown {
		t.Errorf("no example of %s", c.Name())
	}
}
