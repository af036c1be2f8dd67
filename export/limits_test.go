package export

import (
	"strings"
	"testing"
	"testing/fstest"

	"bankwright/engine/oracle"
)

// TestLimits: what the rules demand of an input is what may be typed.
func TestLimits(t *testing.T) {
	rules := map[string]string{
		"required":   "unit = \"kg\"",
		"defaulted":  "default = 3",
		"optional":   "optional = true",
		"whole":      "whole = true\nmin = 1\nmax = 9\ndefault = 2",
		"choice":     "choices = [\"oak\", \"ash\"]\ndefault = \"oak\"",
		"truth":      "type = \"boolean\"\noptional = true",
		"least_mass": "unit = \"g\"\nmin = \"1 kg\"\ndefault = \"2 kg\"\nusual = [\"1 kg\", \"9 kg\"]",
	}
	text := strings.ReplaceAll(crates, "BEST", "lowest")
	for name, keys := range rules {
		text += "[rules.crate." + name + "]\n" + keys + "\n"
	}
	text = strings.ReplaceAll(text, "\na = ", "\nrequired = \"1 kg\"\na = ")
	m := load(t, fstest.MapFS{"crates.toml": {Data: []byte(text)}}, "crates.toml", nil)
	pl := plotBook(m, nil)
	for _, c := range []struct {
		name, wanted string
		must, whole  bool
	}{
		{"required", "A number, in the unit beside it.", true, false},
		{"defaulted", "A number.", true, false},
		{"optional", "A number.", false, false},
		{"whole", "A whole number, at least 1 and at most 9.", true, true},
		{"choice", "Choose one of: oak, ash.", true, false},
		{"truth", "Choose TRUE or FALSE.", false, false},
		{"least_mass", "A number, at least 1 kg, in the unit beside it.", true, false},
	} {
		l := pl.places[m.Compared().Quantity(c.name)]
		var found []Validation
		for _, v := range pl.inputs.sheet.Validations {
			if strings.HasPrefix(v.Range, cellName(l.row, l.col)+":") {
				found = append(found, v)
			}
		}
		if len(found) != 1 {
			t.Errorf("%s has %d limits", c.name, len(found))
			continue
		}
		usual := ""
		if c.name == "least_mass" {
			usual = "Usually from 1 kg to 9 kg."
		}
		if found[0].Usual != usual {
			t.Errorf("%s: %q, want %q", c.name, found[0].Usual, usual)
		}
		if v := found[0]; v.Error != c.wanted || v.Required != c.must || v.Whole != c.whole {
			t.Errorf("%s: %+v, want %+v", c.name, v, c)
		}
	}
}

// TestHeads: on paper, the heads of every sheet stand on each of its pages.
func TestHeads(t *testing.T) {
	oracle.OneCore(t)
	for name, m := range eachModel(t) {
		b, err := NewBook(m, nil)
		if err != nil {
			t.Fatal(name, err)
		}
		for _, s := range b.Sheets {
			if s.Print.RepeatRows == 0 || s.Print.RepeatRows > s.FreezeRows && s.FreezeRows > 0 && s.Print.RepeatFrom == 0 {
				t.Errorf("%s: the sheet %s repeats %d rows", name, s.Name, s.Print.RepeatRows)
			}
		}
	}
}

// TestFormats: large figures have their thousands apart, typed ones too.
func TestFormats(t *testing.T) {
	oracle.OneCore(t)
	for _, c := range []struct {
		values []float64
		want   string
	}{
		{[]float64{8000, 4500}, "#,##0"}, {[]float64{0.5, 1}, "#,##0.0"}, {[]float64{1.0 / 3}, "#,##0.0000"}, {nil, "#,##0"},
	} {
		if got := exactFormat(c.values); got != c.want {
			t.Errorf("%v: %s, want %s", c.values, got, c.want)
		}
	}
	pl := plotBook(models(t)["cabin"], nil)
	l := pl.places[pl.prog.Kind("battery").Quantity("cycle_life")]
	if f := l.page.sheet.At(l.row+8, l.col).Format; f != "#,##0" {
		t.Errorf("cycles have the format %q", f)
	}
}
