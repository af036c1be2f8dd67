package decl

import (
	"strings"
	"testing"
	"testing/fstest"
)

// TestUnreadInverse: where a file cannot be read it is told that it cannot, and not that
// what may stand in it is missing; a set of what is there is one all the same.
func TestUnreadInverse(t *testing.T) {
	const head = "title = \"Sets\"\nstandard_rules = false\nrule_files = [\"more.toml\"]\n" +
		"[rules.kind.shelf]\nmany = \"shelves\"\n[rules.kind.crate]\nmany = \"crates\"\n[rules.crate.shelf]\nrefers = \"shelf\"\n[rules.shelf.all]\ninverse = "
	for _, c := range []struct {
		inverse string
		there   bool
		want    []string
	}{
		{`"box.shelf"`, false, []string{"more.toml"}},
		{`"box.shelf"`, true, []string{"`box.shelf` does not name a quantity of a kind"}},
		{`"crate.shelf"`, false, []string{"more.toml"}},
		{`"crate.shelf"`, true, nil},
	} {
		files := fstest.MapFS{"s.toml": {Data: []byte(head + c.inverse + "\n")}}
		if c.there {
			files["more.toml"] = &fstest.MapFile{Data: []byte("[constant.two]\nvalue = 2\ndoc = \"x\"\n")}
		}
		m, list := Load(Sources{Files: files, Scenario: "s.toml"})
		ok := len(list) == len(c.want)
		for i, want := range c.want {
			ok = ok && strings.Contains(list[i].Summary, want)
		}
		if !ok {
			t.Errorf("%s: told %v, want %q", c.inverse, list, c.want)
		}
		for _, k := range m.Kinds {
			if k.Name == "shelf" && strings.Contains(c.inverse, "crate") && (len(k.Quantities) != 1 || k.Quantities[0].Type != Set) {
				t.Errorf("%s is no set", c.inverse)
			}
		}
	}
}
