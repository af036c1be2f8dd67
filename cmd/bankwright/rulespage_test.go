package main

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"bankwright/engine/decl"
	"bankwright/rules"
)

// TestRulesPage: rules/REFERENCE.md is what the standard rules say, with an entry for
// every quantity and check. To renew it:
//
//	go test ./cmd/bankwright -run TestRulesPage -update
func TestRulesPage(t *testing.T) {
	want := bankwright(t, "rules", "--reference")
	path := filepath.Join(root, "rules", "REFERENCE.md")
	if *update {
		if err := os.WriteFile(path, []byte(want), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	if have, err := os.ReadFile(path); err != nil || string(have) != want {
		t.Errorf("rules/REFERENCE.md is not what the rules say (%v); go test ./cmd/bankwright -run TestRulesPage -update renews it", err)
	}
	m, _ := decl.Load(decl.Sources{Standard: rules.Files})
	entries := 0
	for _, k := range m.Kinds {
		_, section, found := strings.Cut(want, "\n## "+k.Title+"\n")
		if !found {
			t.Errorf("%s has no heading", k.Title)
		}
		section, _, _ = strings.Cut(section, "\n## ")
		for _, q := range k.Quantities {
			entries++
			if !strings.Contains(section, "\n- **"+q.Name+"** ") {
				t.Errorf("%s.%s has no entry", k.Name, q.Name)
			}
		}
	}
	for _, c := range m.Checks {
		if strings.Count(want, "\n- **check."+c.Name+"** ") != 1 {
			t.Errorf("%s has not one entry", c.Name)
		}
	}
	if entries < 1000 {
		t.Errorf("only %d quantities", entries)
	}
}
