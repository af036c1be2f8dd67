package text

import (
	"bytes"
	"context"
	"strings"
	"testing"
	"testing/fstest"

	"bankwright/engine"
	"bankwright/engine/sweep"
)

// shelves are compared by a price for each kilogram that they carry.
const shelves = `
title = "Shelves"
currency = "EUR"
standard_rules = false
[rules.kind.shelf]
many = "shelves"
compare = { by = "price_per_mass", best = "lowest", show = ["price", "wood"] }
[rules.shelf.price]
unit = "money"
[rules.shelf.carries]
unit = "kg"
doc = "Mass that it carries."
source = "invented"
[rules.shelf.wood]
choices = ["elm", "fir"]
default = "fir"
[rules.shelf.depth]
unit = "mm"
optional = true
[rules.shelf.price_per_mass]
unit = "money/kg"
label = "price per kilogram"
formula = "price / carries"
doc = "Price of each kilogram that it carries."
[rules.constant.least]
value = "20 kg"
[rules.check.strong]
of = "shelf"
severity = "stop"
require = "carries >= least"
otherwise = "It carries {carries} only, which is too little for the books that will stand on it in the end."
doc = "It carries the books."
[rules.check.deep]
of = "shelf"
severity = "caution"
require = "depth * 2 > depth"
otherwise = "It has no depth."
doc = "Books fit."
[rules.caution.wall]
text = "Fix every shelf to the wall."
[shelf.tall]
price = "120 EUR"
carries = "60 kg"
wood = "elm"
[shelf.low]
label = "棚"
price = "30 EUR"
carries = "KG kg"
[shelf.wide]
price = "90.5 EUR"
carries = "40 kg"
depth = "300 mm"
`

func shelvesOf(t *testing.T, carries string) *engine.Model {
	t.Helper()
	text := strings.Replace(shelves, "KG", carries, 1)
	m, list, _ := engine.Load(engine.Sources{Files: fstest.MapFS{"shelves.toml": {Data: []byte(text)}}, Scenario: "shelves.toml"})
	if m == nil {
		t.Fatal(list)
	}
	return m
}

func TestCompare(t *testing.T) {
	var b bytes.Buffer
	Compare(&b, shelvesOf(t, "10"), Style{Width: 60})
	want := `Shelves                                         money in EUR

                            tall    wide    棚
price               EUR      120      91    30
wood                         elm     fir   fir
price per kilogram  EUR/kg  2.00    2.26  3.00
                            best  + 13 %  stop

tall is best: it has the lowest price per kilogram,
2 EUR/kg; wide lies 13 % above.

stop     棚: It carries 10 kg only, which is too little for
         the books that will stand on it in the end.

Fix every shelf to the wall.
`
	if got := b.String(); got != want {
		t.Errorf("got\n%s\nwant\n%s", got, want)
	}
}

// TestWidths: nothing is wider than the terminal, whatever its width.
func TestWidths(t *testing.T) {
	m := shelvesOf(t, "10")
	c, err := m.ParseCell("shelf.low.price_per_mass")
	if err != nil {
		t.Fatal(err)
	}
	for _, n := range []int{40, 60, 80, 120} {
		for name, write := range map[string]func(b *bytes.Buffer, st Style){
			"compare": func(b *bytes.Buffer, st Style) { Compare(b, m, st) },
			"explain": func(b *bytes.Buffer, st Style) { Explain(b, m, m.Explain(c, 9), st) },
			"check": func(b *bytes.Buffer, st Style) {
				st.All = true
				Check(b, m, 0, st)
			},
		} {
			var b bytes.Buffer
			write(&b, Style{Width: n})
			for _, l := range strings.Split(b.String(), "\n") {
				if width(l) > n {
					t.Errorf("%s in %d columns: a line of %d: %s", name, n, width(l), l)
				}
			}
		}
	}
}

func TestVerdict(t *testing.T) {
	for _, c := range []struct{ carries, want string }{
		{"10", "tall is best: it has the lowest price per kilogram, 2 EUR/kg; wide lies 13 % above."},
		{"30", "棚 is best: it has the lowest price per kilogram, 1 EUR/kg; tall lies 100 % above."},
	} {
		m := shelvesOf(t, c.carries)
		if got := Verdict(m, m.Compare()); got != c.want {
			t.Errorf("%s kg: %q, want %q", c.carries, got, c.want)
		}
	}
	m := shelvesOf(t, "30")
	none := m.Compare()
	for i := range none.Ranked {
		none.Ranked[i].Eligible = false
	}
	if got := Verdict(m, none); !strings.HasPrefix(got, "None of the shelves can be recommended: each fails") {
		t.Errorf("all fail: %q", got)
	}
	for i := range none.Ranked {
		none.Ranked[i].Figure = nan()
	}
	if got := Verdict(m, none); got != "None of the shelves has a figure: price per kilogram cannot be calculated from these inputs." {
		t.Errorf("no figures: %q", got)
	}
	none.Ranked = nil
	if got := Verdict(m, none); got != "The scenario names no shelves to compare." {
		t.Errorf("nothing to compare: %q", got)
	}
}

func nan() float64 { zero := 0.0; return zero / zero }

func TestExplain(t *testing.T) {
	m := shelvesOf(t, "30")
	c, err := m.ParseCell("shelf.tall.price_per_mass")
	if err != nil {
		t.Fatal(err)
	}
	var b bytes.Buffer
	Explain(&b, m, m.Explain(c, 9), Style{Width: 80})
	for _, want := range []string{"shelf.tall.price_per_mass = 2", "Price of each kilogram that it carries.", "= price / carries", "shelf.tall.price", "shelf.tall.carries", "60 kg", "shelves.toml:"} {
		if !strings.Contains(b.String(), want) {
			t.Errorf("%q is not in\n%s", want, b.String())
		}
	}
}

func TestCheck(t *testing.T) {
	var b bytes.Buffer
	Check(&b, shelvesOf(t, "10"), 1, Style{Width: 80, All: true})
	for _, want := range []string{
		"shelf tall\n  pass            strong: It carries the books.\n  not applicable  deep: Books fit.\n",
		"shelf 棚\n  stop            strong: It carries 10 kg only,",
		"\n1 warning; 1 stop; 3 passed, 2 not applicable.\n",
		"- Fix every shelf to the wall.\n",
	} {
		if !strings.Contains(b.String(), want) {
			t.Errorf("%q is not in\n%s", want, b.String())
		}
	}
}

// TestAllFailTold: where all fail when an input is moved, the table says so in place of a
// figure, and a sentence says at what and why.
func TestAllFailTold(t *testing.T) {
	const text = `title = "Kilns"
currency = "EUR"
standard_rules = false
[rules.kind.kiln]
many    = "kilns"
compare = { by = "cost", best = "lowest" }
doc     = "A kiln."
[rules.kiln.price]
unit = "money"
doc  = "Price."
[rules.kiln.cost]
unit    = "money"
formula = "price + price"
doc     = "What it costs."
[rules.kiln.least]
unit    = "money"
default = "95 EUR"
doc     = "What a kiln costs that lasts."
[rules.check.cheap]
of        = "kiln"
severity  = "unfit"
require   = "price >= least"
otherwise = "At {price} it does not last."
[kiln.only]
price = "100 EUR"
`
	m, list, _ := engine.Load(engine.Sources{Files: fstest.MapFS{"kilns.toml": {Data: []byte(text)}}, Scenario: "kilns.toml"})
	if m == nil {
		t.Fatal(list)
	}
	e, err := sweep.OneAtATime(context.Background(), m.Program, m.Result, 0, sweep.Around(m.Program, m.Result, 0.1))
	if err != nil {
		t.Fatal(err)
	}
	var b strings.Builder
	Effects(&b, m, e, 0.1, Style{Width: 80})
	got := strings.Join(strings.Fields(b.String()), " ")
	for _, want := range []string{"kiln.only.price 90 110 EUR all fail 220", "At kiln.only.price = 90 EUR all fail: At 90 EUR it does not last."} {
		if !strings.Contains(got, want) {
			t.Errorf("it lacks %q: %s", want, got)
		}
	}
	if strings.Contains(got, "180") {
		t.Errorf("it tells what a kiln costs where all fail: %s", got)
	}
}
