package engine_test

import (
	"fmt"
	"strings"
	"testing"
	"testing/fstest"

	"bankwright/engine"
)

// shelves are rules that compare shelves by price, with a frontier of price
// against load.
const shelves = `
title = "Shelves"
currency = "EUR"
standard_rules = false
%s
[rules.kind.shelf]
many    = "shelves"
compare = { by = "price", best = "lowest", show = ["load"], shortlist = 2, frontier = { lowest = "price", highest = "load" } }
[rules.shelf.price]
unit     = "money"
optional = true
[rules.shelf.load]
unit     = "kg"
optional = true
[rules.shelf.sound]
type    = "boolean"
default = true
[rules.shelf.tall]
default = 1
[rules.check.broken]
of        = "shelf"
severity  = "stop"
require   = "sound"
otherwise = "It is broken."
[rules.check.low]
of        = "shelf"
severity  = "unfit"
require   = "tall >= 1"
otherwise = "It is low."
[rules.check.high]
of        = "shelf"
severity  = "stop"
require   = "tall <= 2"
otherwise = "It is high."
`

// shelf writes a shelf: its name, price, load and anything else.
func shelf(name string, price, load float64, more string) string {
	return fmt.Sprintf("[shelf.%s]\nprice = \"%v EUR\"\nload = \"%v kg\"\n%s\n", name, price, load, more)
}

func loadText(t *testing.T, text string) *engine.Model {
	t.Helper()
	m, list, _ := engine.Load(engine.Sources{Files: fstest.MapFS{"s.toml": {Data: []byte(text)}}, Scenario: "s.toml"})
	if m == nil {
		t.Fatal(list)
	}
	return m
}

func names(c *engine.Comparison, list []engine.Standing) string {
	var out []string
	for _, s := range list {
		out = append(out, c.Kind.Items[s.Item].Name)
	}
	return strings.Join(out, " ")
}

// TestShortlist: of up to twice the shortlist's number all are shown in full;
// of more, the best that no check stops, then those that would not serve, and
// whatever the scenario names.
func TestShortlist(t *testing.T) {
	broken, low := "sound = false", "tall = 0"
	for _, c := range []struct{ name, head, items, full, rest string }{
		{"four are no more than twice two", "",
			shelf("a", 4, 1, "") + shelf("b", 3, 1, "") + shelf("c", 2, 1, "") + shelf("d", 1, 1, broken), "c b a d", ""},
		{"of five, two", "",
			shelf("a", 5, 1, "") + shelf("b", 4, 1, "") + shelf("c", 3, 1, "") + shelf("d", 2, 1, "") + shelf("e", 1, 1, broken), "d c", "b a e"},
		{"a stopped one is not among them, an unfit one is when there is room", "",
			shelf("a", 5, 1, "") + shelf("b", 4, 1, low) + shelf("c", 3, 1, broken) + shelf("d", 2, 1, broken) + shelf("e", 1, 1, low), "a e", "d c b"},
		{"equals in the order of the scenario", "",
			shelf("a", 2, 1, "") + shelf("b", 1, 1, "") + shelf("c", 1, 1, "") + shelf("d", 1, 1, "") + shelf("e", 1, 1, ""), "b c", "d e a"},
		{"named ones come on top", `shortlist = ["e", "a"]`,
			shelf("a", 1, 1, "") + shelf("b", 2, 1, "") + shelf("c", 3, 1, "") + shelf("d", 4, 1, "") + shelf("e", 5, 1, broken), "a b e", "c d"},
		{"where all are stopped, the first stand for them", "",
			shelf("a", 5, 1, broken) + shelf("b", 4, 1, broken) + shelf("c", 3, 1, broken) + shelf("d", 2, 1, broken) + shelf("e", 1, 1, broken), "e d", "c b a"},
	} {
		got := loadText(t, fmt.Sprintf(shelves, c.head)+c.items).Compare()
		if full, rest := names(got, got.Full()), names(got, got.Rest()); full != c.full || rest != c.rest {
			t.Errorf("%s: %q in full and %q, want %q and %q", c.name, full, rest, c.full, c.rest)
		}
	}
}

// TestFrontier: the frontiers are read off by hand. Of price (low) and load
// (high) an item is on it unless another is at least as good in both and better
// in one.
func TestFrontier(t *testing.T) {
	for _, c := range []struct{ name, items, want string }{
		{"one beats another", shelf("a", 1, 5, "") + shelf("b", 2, 4, ""), "a"},
		{"both have their point, the cheapest first", shelf("a", 2, 5, "") + shelf("b", 1, 4, ""), "b a"},
		{"equals are on it together", shelf("a", 1, 5, "") + shelf("b", 1, 5, "") + shelf("c", 2, 5, ""), "a b"},
		{"equal in one and worse in the other", shelf("a", 1, 5, "") + shelf("b", 1, 4, "") + shelf("c", 2, 5, "") + shelf("d", 3, 6, ""), "a d"},
		{"within the tolerance is equal", shelf("a", 0.30000000000000004, 5, "") + shelf("b", 0.3, 5, ""), "b a"},
		{"a later one beats within the tolerance", shelf("a", 0.3, 5, "") + shelf("b", 0.30000000000000004, 6, ""), "b"},
		{"a stopped one neither stands on it nor beats", shelf("a", 1, 9, "sound = false") + shelf("b", 2, 5, "") + shelf("c", 3, 5, ""), "b"},
		{"an unfit one does", shelf("a", 1, 9, "tall = 0") + shelf("b", 2, 5, ""), "a"},
		{"without a figure there is no place", shelf("a", 1, 5, "") + "[shelf.b]\nprice = \"0.5 EUR\"\n", "a"},
		{"a staircase", shelf("a", 1, 1, "") + shelf("b", 2, 3, "") + shelf("c", 3, 2, "") + shelf("d", 4, 4, "") + shelf("e", 5, 4, "") + shelf("f", 6, 9, ""), "a b d f"},
	} {
		got := loadText(t, fmt.Sprintf(shelves, "")+c.items).Compare()
		if front := names(got, got.Frontier()); front != c.want {
			t.Errorf("%s: %q, want %q", c.name, front, c.want)
		}
	}
}

// TestStops: each item counts for the first check that stops it.
func TestStops(t *testing.T) {
	c := loadText(t, fmt.Sprintf(shelves, "")+shelf("a", 1, 1, "sound = false\ntall = 3")+shelf("b", 1, 1, "tall = 3")+shelf("c", 1, 1, "tall = 4")+shelf("d", 1, 1, "tall = 0")).Compare()
	checks, counts := c.Stops(c.Ranked)
	if len(checks) != 2 || checks[0].Name != "high" && checks[0].Name != "broken" || counts[0]+counts[1] != 3 {
		t.Fatalf("%d checks, %v", len(checks), counts)
	}
	for i, want := range map[string]int{"broken": 1, "high": 2} {
		for n, check := range checks {
			if check.Name == i && counts[n] != want {
				t.Errorf("%s stops %d, want %d", i, counts[n], want)
			}
		}
	}
	if o := c.Gravest(3); o == nil || o.Check.Name != "low" {
		t.Errorf("d is %+v", o)
	}
	if o := c.Gravest(0); o == nil || o.Check.Name != "broken" {
		t.Errorf("a is %+v", o)
	}
}

// TestShortlistFaults: what the rules say of a long comparison is checked, and
// that a condition does not leave out what is to be shown.
func TestShortlistFaults(t *testing.T) {
	text := fmt.Sprintf(shelves, `shortlist = ["made_3"]`) + shelf("a", 1, 1, "") + `
[shelf.made]
each = { tall = [1, 2, 3] }
keep = "tall < 3"
`
	for _, c := range []struct{ old, new, want string }{
		{"", "", "`made_3` is to be shown in full, but `keep` leaves it out"},
		{`lowest = "price"`, `lowest = "prize"`, "shelf has no quantity prize for the frontier"},
		{`highest = "load"`, `highest = "sound"`, "sound cannot make a frontier: it is not a single number"},
		{`shortlist = 2,`, `table = ["laod"],`, "shelf has no quantity laod for the table"},
	} {
		m, list, _ := engine.Load(engine.Sources{Files: fstest.MapFS{"s.toml": {Data: []byte(strings.Replace(text, c.old, c.new, 1))}}, Scenario: "s.toml"})
		if m != nil || len(list) != 1 || list[0].Summary != c.want || list[0].Mend == "" {
			t.Errorf("%s: %v", c.want, list)
		}
	}
}

// TestOnly: with a few items the figures of these stay as they are, to the last
// bit; what others refer to stays as well; and where a rule goes over all of
// them, all stay.
func TestOnly(t *testing.T) {
	items := shelf("a", 4, 1, "") + shelf("b", 3, 1, "") + shelf("c", 2, 1, "") + `
[shelf.d]
price = "= 2 * shelves.c.price"
`
	m := loadText(t, fmt.Sprintf(shelves, "")+items)
	few, err := m.Only([]string{"d", "a"})
	if err != nil {
		t.Fatal(err)
	}
	if got := strings.Join(few.Compared().ItemNames(), " "); got != "a c d" {
		t.Errorf("left are %s", got)
	}
	for i, name := range few.Compared().ItemNames() {
		if got, want := few.Result.At(few.Compared().Quantity("price"), i, 0), m.Result.At(m.Compared().Quantity("price"), m.Compared().Item(name), 0); got != want {
			t.Errorf("%s costs %v, want %v", name, got, want)
		}
	}
	if got := len(m.Compared().Items); got != 4 {
		t.Errorf("the model itself has %d items", got)
	}
	over := strings.Replace(fmt.Sprintf(shelves, ""), "[rules.shelf.load]", "[rules.shelf.share]\nformula = \"price / sum(shelves, .price)\"\ndoc = \"x\"\n[rules.shelf.load]", 1)
	m = loadText(t, over+items)
	if same, err := m.Only([]string{"a"}); err != nil || same != m {
		t.Errorf("a rule goes over all, but only some are left (%v)", err)
	}
}

// TestOnlyKeepsDropped: combinations of another kind that their condition left out stay
// out, and what items of that kind refer to stays.
func TestOnlyKeepsDropped(t *testing.T) {
	m := loadText(t, fmt.Sprintf(shelves, "")+`[rules.constant.two]
value = "2 kg"
[rules.kind.book]
many = "books"
[rules.book.weight]
unit = "kg"
[rules.book.on]
refers = "shelf"
[book.made]
on = "c"
each = { weight = ["1 kg", "2 kg", "3 kg"] }
keep = "weight != two"
`+shelf("a", 4, 1, "")+shelf("b", 3, 1, "")+shelf("c", 2, 1, ""))
	few, err := m.Only([]string{"a"})
	if err != nil {
		t.Fatal(err)
	}
	if got := strings.Join(few.Compared().ItemNames(), " ") + ", " + strings.Join(few.Kind("book").ItemNames(), " "); got != "a c, made_1 made_3" {
		t.Errorf("left are %s", got)
	}
}

// TestOnlyOfChangedFiles: a scenario that has changed meanwhile is not taken
// for the one that was compared.
func TestOnlyOfChangedFiles(t *testing.T) {
	text := fmt.Sprintf(shelves, "") + shelf("a", 4, 1, "") + shelf("b", 3, 1, "")
	files := fstest.MapFS{"s.toml": {Data: []byte(text)}}
	m, list, _ := engine.Load(engine.Sources{Files: files, Scenario: "s.toml"})
	if m == nil {
		t.Fatal(list)
	}
	files["s.toml"].Data = []byte(strings.Replace(text, "[shelf.a]", "[shelf.z]", 1))
	if _, err := m.Only([]string{"a"}); err == nil || !strings.Contains(err.Error(), "was changed while it was read") {
		t.Errorf("the error is %v", err)
	}
}
