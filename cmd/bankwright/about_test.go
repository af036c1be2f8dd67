package main

import (
	"runtime/debug"
	"strings"
	"testing"

	"bankwright/engine"
	"bankwright/export"
)

// TestVersion: the digest of the rules is the one that workbooks of the default
// scenario name, whose own rules stand in the scenario.
func TestVersion(t *testing.T) {
	m, list, _ := engine.Load(sources(""))
	if m == nil {
		t.Fatal(list)
	}
	if want := "\nrules  " + export.OriginFor(m.Model).Rules + "\n"; !strings.Contains(bankwright(t, "--version"), want) {
		t.Errorf("%s does not hold %s", bankwright(t, "--version"), want)
	}
}

// TestCommit: what is said of a commit.
func TestCommit(t *testing.T) {
	const hash = "0123456789abcdef0123456789abcdef01234567"
	for _, c := range []struct {
		settings []debug.BuildSetting
		want     string
	}{
		{nil, "not known: it was not built from a checkout"},
		{[]debug.BuildSetting{{Key: "vcs.revision", Value: hash}, {Key: "vcs.time", Value: "2026-03-14T10:00:00Z"}, {Key: "vcs.modified", Value: "false"}}, "0123456789ab of 2026-03-14"},
		{[]debug.BuildSetting{{Key: "vcs.revision", Value: hash}, {Key: "vcs.time", Value: "2026-03-14T10:00:00Z"}, {Key: "vcs.modified", Value: "true"}}, "0123456789ab of 2026-03-14, with changes that are not in it"},
	} {
		if got := commitOf(c.settings); got != c.want {
			t.Errorf("%q, want %q", got, c.want)
		}
	}
}
