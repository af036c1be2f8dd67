package decl

import (
	"fmt"
	"strings"
	"testing"
	"testing/fstest"
)

// TestMostTold: of very many faults a thousand are told, and how many more there are,
// where there are more.
func TestMostTold(t *testing.T) {
	for faults, more := range map[int]string{1: "", maxTold: "", maxTold + 1: "left out: 1 more message", maxTold + 500: "left out: 500 more messages"} {
		var text strings.Builder
		text.WriteString("title = \"Many\"\nstandard_rules = false\n[rules.kind.crate]\nmany = \"crates\"\n[crate.a]\n")
		for i := range faults {
			fmt.Fprintf(&text, "no_such_%d = 1\n", i)
		}
		_, list := Load(Sources{Files: fstest.MapFS{"s.toml": {Data: []byte(text.String())}}, Scenario: "s.toml"})
		last, told := list[len(list)-1], faults
		if more != "" {
			told = maxTold + 1
		}
		if len(list) != told || (last.Code == "limit") != (more != "") || !strings.Contains(last.Summary, more) {
			t.Errorf("of %d faults %d are told, at last: %s", faults, len(list), last.Summary)
		}
	}
}

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
