package engine_test

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"bankwright/engine"
	"bankwright/engine/decl"
)

// TestWord: what a check found of each item, in one word, by hand.
func TestWord(t *testing.T) {
	m := loadText(t, fmt.Sprintf(shelves, "")+shelf("a", 1, 1, "")+shelf("b", 1, 1, "sound = false\ntall = 0"))
	var got []string
	for _, o := range m.Outcomes(m.Compared()) {
		got = append(got, fmt.Sprintf("%s %s %q", o.Check.Name, o.Word(), o.Text))
	}
	if s, want := strings.Join(got, ", "), `broken pass "", broken stop "It is broken.", low pass "", low unfit "It is low.", high pass "", high pass ""`; s != want {
		t.Errorf("\n got %s\nwant %s", s, want)
	}
}

// TestPlaces: how far each is behind the best, which are level with it, and whether one
// that may not be best has a better figure; all by hand.
func TestPlaces(t *testing.T) {
	type place struct {
		lag   float64
		level bool
	}
	lowest := fmt.Sprintf(shelves, "")
	highest := strings.Replace(lowest, `best = "lowest"`, `best = "highest"`, 1)
	for _, c := range []struct {
		name, text, best string
		beaten           bool
		places           map[string]place
	}{
		{"the cheapest is best", lowest + shelf("a", 4, 1, "") + shelf("b", 5, 1, ""), "a", false, map[string]place{"a": {0, true}, "b": {0.25, false}}},
		{"the dearest is best", highest + shelf("a", 4, 1, "") + shelf("b", 5, 1, ""), "b", false, map[string]place{"a": {-0.2, false}, "b": {0, true}}},
		{"level within the tolerance", lowest + shelf("a", 0.3, 1, "") + shelf("b", 0.30000000000000004, 1, ""), "a", false, map[string]place{"b": {0, true}}},
		{"a cheaper one is broken", lowest + shelf("a", 4, 1, "") + shelf("b", 2, 1, "sound = false"), "a", true, map[string]place{"b": {-0.5, false}}},
		{"a dearer one is broken", lowest + shelf("a", 4, 1, "") + shelf("b", 5, 1, "sound = false"), "a", false, map[string]place{"b": {0.25, false}}},
		{"an equal one is broken", lowest + shelf("a", 4, 1, "") + shelf("b", 4, 1, "sound = false"), "a", false, map[string]place{"b": {0, true}}},
		{"one without a figure beats nobody", lowest + shelf("a", 4, 1, "") + "[shelf.b]\nload = \"1 kg\"\n", "a", false, map[string]place{"b": {math.NaN(), false}}},
		{"below zero", lowest + shelf("a", -4, 1, "") + shelf("b", -3, 1, ""), "a", false, map[string]place{"b": {0.25, false}}},
		{"nobody may be best", lowest + shelf("a", 4, 1, "sound = false") + shelf("b", 5, 1, "tall = 0"), "", false, map[string]place{"a": {math.NaN(), false}, "b": {math.NaN(), false}}},
	} {
		m := loadText(t, c.text)
		got := m.Compare()
		name := ""
		if best, ok := got.Best(); ok {
			name = got.Kind.Items[best.Item].Name
		}
		if name != c.best || got.Beaten() != c.beaten {
			t.Errorf("%s: the best is %q, beaten %v", c.name, name, got.Beaten())
		}
		for _, s := range got.Ranked {
			want, asked := c.places[got.Kind.Items[s.Item].Name]
			lag := got.Lag(s)
			if same := math.Abs(lag-want.lag) < 1e-12 || lag != lag && want.lag != want.lag; asked && (!same || got.Level(s) != want.level) {
				t.Errorf("%s: %s is behind by %v, level %v, want %+v", c.name, got.Kind.Items[s.Item].Name, lag, got.Level(s), want)
			}
		}
	}
}

// TestItemAlias: a label goes before a name.
func TestItemAlias(t *testing.T) {
	if got := engine.ItemAlias(&decl.Item{Name: "oak"}) + ", " + engine.ItemAlias(&decl.Item{Name: "oak", Label: "Old oak"}); got != "oak, Old oak" {
		t.Error(got)
	}
}

// TestUnjudgedTold: checks that forbid and cannot be made for want of an input are told
// under the input, once, and only of what is shown in full.
func TestUnjudgedTold(t *testing.T) {
	text := strings.ReplaceAll(fmt.Sprintf(shelves, ""), "default = 1\n[rules.check.broken]", "optional = true\n[rules.check.broken]")
	text += "[rules.check.heavy]\nof = \"shelf\"\nseverity = \"stop\"\nrequire = \"load >= tall * kilogram\"\notherwise = \"It is heavy.\"\n[rules.constant.kilogram]\nvalue = \"1 kg\"\ndoc = \"A kilogram.\"\n"
	for _, c := range []struct{ items, want string }{
		{shelf("a", 1, 1, "tall = 1") + shelf("b", 2, 1, "tall = 2"), ""},
		{shelf("a", 1, 1, "tall = 1") + shelf("b", 2, 1, ""), "shelf.tall: high heavy"},
		{shelf("a", 1, 1, "") + shelf("b", 2, 1, ""), "shelf.tall: high heavy"},
		{"[shelf.a]\nprice = \"1 EUR\"\ntall = 1\n" + shelf("b", 2, 1, ""), "shelf.load: heavy; shelf.tall: high heavy"},
		{shelf("a", 1, 1, "tall = 1") + shelf("b", 2, 1, "tall = 1") + shelf("c", 3, 1, "tall = 1") + shelf("d", 4, 1, "tall = 1") + shelf("e", 5, 1, ""), ""}, // e is one of the rest
	} {
		m := loadText(t, text+c.items)
		var got []string
		for _, u := range m.Unjudged(m.Compare()) {
			got = append(got, u.Missing+": "+strings.Join(u.Checks, " "))
		}
		if s := strings.Join(got, "; "); s != c.want {
			t.Errorf("%s\n got %s\nwant %s", c.items, s, c.want)
		}
	}
}
