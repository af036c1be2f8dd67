package schema

import (
	"bytes"
	"encoding/json"
	"regexp"
	"slices"
	"testing"

	"bankwright/engine/decl"
	"bankwright/engine/unit"
	"bankwright/rules"
)

// TestKeys: the tables whose keys are fixed have the keys that package decl reads, all
// of them and no others.
func TestKeys(t *testing.T) {
	for _, what := range decl.Tables() {
		make := fixed[what]
		if make == nil {
			t.Errorf("%s is not described", what)
			continue
		}
		d := make()
		var have []string
		for _, k := range d.keys {
			have = append(have, k.name)
			if k.doc == "" {
				t.Errorf("%s: nothing is said of %s", what, k.name)
			}
		}
		want := decl.Keys(what)
		slices.Sort(have)
		slices.Sort(want)
		if !slices.Equal(have, want) {
			t.Errorf("%s has %v, want %v", what, have, want)
		}
		for _, name := range d.required {
			if !slices.Contains(want, name) {
				t.Errorf("%s requires %s", what, name)
			}
		}
	}
	if len(fixed) != len(decl.Tables()) {
		t.Errorf("%d tables are described, and there are %d", len(fixed), len(decl.Tables()))
	}
}

// TestWritten: the pattern of a value takes it in every unit that measures the same,
// and in no single unit that measures something else.
func TestWritten(t *testing.T) {
	names := append(unit.Names(), "USD", "EUR")
	for _, of := range names {
		u, err := unit.Parse(of)
		if err != nil {
			t.Fatal(of, err)
		}
		pattern := regexp.MustCompile(written(u, true))
		for _, name := range names {
			other, err := unit.Parse(name)
			if err != nil {
				t.Fatal(name, err)
			}
			_, fits := other.As(u.Dim)
			for _, text := range []string{"12 ", " -1.5e3", "+.5 ", "−3. "} {
				if got := pattern.MatchString(text + name); got != fits {
					t.Errorf("%s for a value in %s: %t, want %t", text+name, of, got, fits)
				}
			}
		}
	}
}

// TestWrittenForms: forms of numbers and units, each as the reader of values has it.
func TestWrittenForms(t *testing.T) {
	for _, c := range []struct {
		unit, text string
		ok         bool
	}{
		{"Ah", "= 2 * loads.lamp.power", true},
		{"Ah", "\n= 2", true},
		{"Ah", "200", false},
		{"Ah", "Ah", false},
		{"Ah", "1,000 Ah", false},
		{"Ah", "1.000,5 Ah", false},
		{"Ah", "200 Ah or so", false},
		{"Ah", "2 A·h", true},
		{"m²", "0.5 m2", true},
		{"m²", "0.5 m²", true},
		{"m²", "5 ft^2", true},
		{"m³", "5 L", true},
		{"m³", "5 m3", true},
		{"USD/kWh", "0.31 USD/kWh", true},
		{"USD/kWh", "0.31 USD / kWh", true},
		{"USD/kWh", "0.31 USD/kwh", false},
		{"USD/kWh", "0.31 USD", false},
		{"USD/kWh", "0.31 usd/kWh", false},
		{"1/h", "2 /h", true},
		{"1/h", "2 1/h", true},
		{"%", "80 %", true},
		{"%", "80%", true},
		{"%", "0.8", false},
		{"%", "24 h/day", true},
		{"cycles", "3000", true},
		{"cycles", "3000 cycles", true},
		{"cycles", "80 %", true},
		{"°C", "77 °F", true},
		{"°C", "300 K", true},
		{"K", "5 °C", false},
	} {
		u, err := unit.Parse(c.unit)
		if err != nil {
			t.Fatal(err)
		}
		if got := regexp.MustCompile(written(u, false)).MatchString(c.text); got != c.ok {
			t.Errorf("%q for a value in %s: %t, want %t", c.text, c.unit, got, c.ok)
		}
		if regexp.MustCompile(written(u, false)).MatchString("-" + c.text) {
			t.Errorf("%q is taken where nothing may be below zero", "-"+c.text)
		}
	}
}

// TestSigns: a value may be written with a minus sign unless a limit says that none is
// below zero, in whatever unit it is; the limit itself may be reached.
func TestSigns(t *testing.T) {
	for _, c := range []struct {
		unit  string
		least *decl.Bound
		minus bool
	}{
		{"Ah", nil, true},
		{"Ah", &decl.Bound{Value: -5}, true},
		{"Ah", &decl.Bound{Value: 0}, false},
		{"Ah", &decl.Bound{Value: 5}, false},
		{"%", &decl.Bound{Value: 0}, false},
		{"", &decl.Bound{Value: -1}, true},
		{"", &decl.Bound{Value: 0}, false},
	} {
		u := unit.One
		if c.unit != "" {
			var err error
			if u, err = unit.Parse(c.unit); err != nil {
				t.Fatal(err)
			}
		}
		b := &builder{known: map[string]bool{}}
		n := b.measure(u, c.least, nil, false)
		if n.Ref != "" {
			n = b.definitions[0].node.(*node)
		}
		if got := regexp.MustCompile(n.Pattern).MatchString("-3 " + c.unit); got != c.minus {
			t.Errorf("-3 %s, not below %v: %t, want %t", c.unit, c.least, got, c.minus)
		}
	}
}

// TestSteps: a list has a value for each step of its axis; for as many as are in use,
// where an item says how many these are; for each item of a kind.
func TestSteps(t *testing.T) {
	one := &node{Type: types{"number"}}
	month, shelf := &decl.Axis{Steps: 12}, &decl.Axis{Steps: 4, Active: &decl.Formula{}}
	for _, c := range []struct {
		name        string
		axes        []*decl.Axis
		least, most int // of the outer list
		inner       int // the least of the list within, 0 where there is none
	}{
		{"an axis", []*decl.Axis{month}, 12, 12, 0},
		{"an axis of which not all steps are in use", []*decl.Axis{shelf}, 1, 4, 0},
		{"a kind", []*decl.Axis{{Kind: &decl.Kind{}}}, 1, 0, 0},
		{"one in another", []*decl.Axis{shelf, month}, 1, 4, 12},
	} {
		n := (&builder{}).series(c.axes, one)
		list := n.Then
		if n.Else != one || list.Least != c.least || list.Most != c.most {
			t.Errorf("%s: from %d to %d, want %d to %d", c.name, list.Least, list.Most, c.least, c.most)
		}
		if within := list.Items.Then; c.inner == 0 && within != nil || c.inner > 0 && within.Least != c.inner {
			t.Errorf("%s: within it %+v", c.name, within)
		}
	}
	if (&builder{}).series(nil, one) != one {
		t.Error("without an axis there is a list")
	}
}

// TestReferences: the schema is JSON, every part that is referred to is there, and
// every pattern can be read.
func TestReferences(t *testing.T) {
	m, list := decl.Load(decl.Sources{Standard: rules.Files})
	if len(list) > 0 {
		t.Fatal("the standard rules alone:", list)
	}
	var b bytes.Buffer
	if err := Write(&b, m); err != nil {
		t.Fatal(err)
	}
	var doc map[string]any
	if err := json.Unmarshal(b.Bytes(), &doc); err != nil {
		t.Fatal(err)
	}
	refs := 0
	var walk func(v any)
	walk = func(v any) {
		switch v := v.(type) {
		case []any:
			for _, e := range v {
				walk(e)
			}
		case map[string]any:
			if to, ok := v["$ref"].(string); ok {
				refs++
				if len(v) > 1 || !there(doc, to) {
					t.Errorf("%v refers to nothing, or to something beside which other keys count for nothing", v)
				}
			}
			if p, ok := v["pattern"].(string); ok {
				regexp.MustCompile(p)
			}
			for _, e := range v {
				walk(e)
			}
		}
	}
	walk(doc)
	if refs < 100 {
		t.Errorf("only %d references", refs)
	}
}

// there reports whether a document has the part that a reference names.
func there(doc any, to string) bool {
	for _, step := range regexp.MustCompile(`[^#/]+`).FindAllString(to, -1) {
		table, ok := doc.(map[string]any)
		if !ok {
			return false
		}
		doc = table[step]
	}
	return doc != nil
}
