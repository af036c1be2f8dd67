package export

import (
	"fmt"
	"testing"
	"testing/fstest"

	"bankwright/engine"
)

// TestInputNames: rows of inputs have names, and so have the cells of each item where a
// kind has few; what would have another's name gets a number.
func TestInputNames(t *testing.T) {
	for _, c := range []struct {
		items int
		want  map[string]string // what a name stands for, "" where there is none
	}{
		{mostNamed, map[string]string{
			"crate_mass": "Inputs!$C$7:$N$7", "crate_crate1_mass": "Inputs!$C$7", "crate_crate12_mass": "Inputs!$N$7",
			"crate_crate1_lid_mass": "Inputs!$D$7", "crate_lid_mass": "Inputs!$C$8:$N$8", // the mass of crate1_lid
			"crate_crate1_lid_mass_2": "Inputs!$C$8",
			"floor":                   "Inputs!$C$13",
		}},
		{mostNamed + 1, map[string]string{"crate_mass": "Inputs!$C$7:$O$7", "crate_crate1_mass": "", "crate_lid_mass": "Inputs!$C$8:$O$8"}},
	} {
		text := "title = \"Crates\"\nstandard_rules = false\n" +
			"[rules.kind.crate]\nmany = \"crates\"\ndoc = \"A crate.\"\n" +
			"[rules.constant.floor]\nvalue = \"3 kg\"\ndoc = \"Below all.\"\n" +
			"[rules.crate.mass]\nunit = \"kg\"\ndoc = \"Its mass.\"\n" +
			"[rules.crate.lid_mass]\nunit = \"kg\"\ndoc = \"That of its lid.\"\n" +
			"[rules.crate.heaviest]\nunit = \"kg\"\nformula = \"max(map(crates, .mass)) + floor\"\ndoc = \"The heaviest of all.\"\n"
		for i := range c.items {
			name := fmt.Sprint("crate", i+1)
			if i == 1 {
				name = "crate1_lid"
			}
			text += fmt.Sprintf("[crate.%s]\nmass = \"%d kg\"\nlid_mass = \"1 kg\"\n", name, i+10)
		}
		m, list, _ := engine.Load(engine.Sources{Files: fstest.MapFS{"crates.toml": {Data: []byte(text)}}, Scenario: "crates.toml"})
		if m == nil {
			t.Fatal(list)
		}
		b, err := NewBook(m, nil)
		if err != nil {
			t.Fatal(err)
		}
		at := map[string]string{}
		for _, n := range b.Names {
			at[n.Name] = n.RefersTo
		}
		for name, want := range c.want {
			if at[name] != want {
				t.Errorf("%d items: the name %s is %q, want %q", c.items, name, at[name], want)
			}
		}
		if f := formulaBeside(b.Find("Crates"), "Heaviest"); f != "MAX(crate_mass)+floor" {
			t.Errorf("the heaviest is %s", f)
		}
	}
}

// formulaBeside is the formula of the first item in the row with a label.
func formulaBeside(s *Sheet, label string) string {
	for r := range s.Rows() {
		if s.At(r+1, labelCol).Value == label {
			return s.At(r+1, itemCol).Formula
		}
	}
	return ""
}
