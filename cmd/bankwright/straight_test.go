package main

import (
	"bytes"
	"os"
	"path/filepath"
	"testing"

	"bankwright/engine"
	"bankwright/engine/check"
)

// straightWanted are the quantities that the straight Go computes: what a ranking
// needs.
func straightWanted(m *engine.Model) []*check.Quantity {
	var out []*check.Quantity
	seen := map[*check.Quantity]bool{}
	for _, c := range judged(m) {
		if !seen[c.Quantity] {
			seen[c.Quantity] = true
			out = append(out, c.Quantity)
		}
	}
	return out
}

// TestStraight: the Go that is written out from the rules is that of the rules as they
// are. To renew it:
//
//	go test ./cmd/bankwright -run TestStraight -update
func TestStraight(t *testing.T) {
	m := modelOf(t, "")
	files, err := newOutline(m, straightWanted(m)).write()
	if err != nil {
		t.Fatal(err)
	}
	old, err := filepath.Glob("straight/*.go")
	if err != nil {
		t.Fatal(err)
	}
	for _, path := range old {
		name := filepath.Base(path)
		if files[name] == nil && name != "support.go" {
			if *update {
				err = os.Remove(path)
			} else {
				t.Errorf("%s is not written any more", path)
			}
		}
	}
	for name, text := range files {
		path := filepath.Join("straight", name)
		if *update {
			err = os.WriteFile(path, text, 0o600)
		} else if held, _ := os.ReadFile(path); !bytes.Equal(held, text) {
			t.Errorf("%s is not what the rules say now", path)
		}
		if err != nil {
			t.Fatal(err)
		}
	}
}
