package sweep_test

import (
	"context"
	"math"
	"testing"
	"testing/fstest"

	"bankwright/engine"
	"bankwright/engine/sweep"
)

// bends: figures that are the same as that of plain over a stretch, everywhere, at one
// end or at a double root.
const bends = `title = "Bends"
standard_rules = false
[rules.kind.bend]
many    = "bends"
compare = { by = "cost", best = "lowest" }
doc     = "A bend."
[rules.kind.shop]
doc = "The shop."
[rules.shop.x]
doc = "What is moved."
[rules.bend.form]
doc = "Its form."
[rules.bend.flat]
formula = "min(shop.x - 2, 0) + max(shop.x - 3, 0)"
doc     = "The same from 2 to 3."
[rules.bend.basin]
formula = "abs(min(shop.x - 2, 0)) + max(shop.x - 3, 0)"
doc     = "The same from 2 to 3, above on both sides."
[rules.bend.curved]
formula = "(shop.x - 1.5) ** 2 * 4"
doc     = "The same at 1.5 only."
[rules.bend.wave]
formula = "sin(shop.x * 400)"
doc     = "The same at every pi/400."
[rules.bend.cost]
formula = "1 + (form == 1 ? flat : form == 2 ? basin : form == 3 ? curved : form == 4 ? wave : 0)"
doc     = "What it costs."
[shop]
x = 1
[bend.plain]
form = 0
[bend.flat]
form = 1
[bend.basin]
form = 2
[bend.curved]
form = 3
[bend.wave]
form = 4
[bend.twin]
form = 0
`

// TestLevel: where two figures are the same over a stretch neither is better in it; a
// double root is a touch, and the ends of the range count.
func TestLevel(t *testing.T) {
	const lower, level, higher = sweep.Lower, sweep.Level, sweep.Higher
	m, list, _ := engine.Load(engine.Sources{Files: fstest.MapFS{"b.toml": {Data: []byte(bends)}}, Scenario: "b.toml"})
	if m == nil {
		t.Fatal(list)
	}
	k := m.Compared()
	for _, c := range []struct {
		name     string
		from, to float64
		want     []sweep.Crossing
	}{
		{"flat", 0, 4, []sweep.Crossing{{At: 2, Before: lower, After: level}, {At: 3, Before: level, After: higher}}},
		{"basin", 0, 4, []sweep.Crossing{{At: 2, Before: higher, After: level}, {At: 3, Before: level, After: higher}}},
		{"flat", 2.5, 4, []sweep.Crossing{{At: 3, Before: level, After: higher}}},
		{"flat", 3, 4, []sweep.Crossing{{At: 3, Before: level, After: higher}}},
		{"flat", 0, 2, []sweep.Crossing{{At: 2, Before: lower, After: level}}},
		{"curved", 0, 4, []sweep.Crossing{{At: 1.5, Before: higher, After: higher, Touch: true}}},
		{"curved", 0.1, 4.2, []sweep.Crossing{{At: 1.5, Before: higher, After: higher, Touch: true}}},
		{"curved", 0.50048828125, 2.50048828125, []sweep.Crossing{{At: 1.5, Before: higher, After: higher, Touch: true}}}, // just between two values that are looked at
		{"twin", 0, 4, nil},
	} {
		ties, err := sweep.Ties(context.Background(), m.Program, m.Result, k.Item(c.name), k.Item("plain"), cell(t, m, "shop.x"), c.from, c.to, nil)
		if err != nil {
			t.Fatal(err)
		}
		got := ties[0].Crossings
		ok := len(got) == len(c.want) && !ties[0].Cut
		for i := 0; ok && i < len(got); i++ {
			g, w := got[i], c.want[i]
			ok = math.Abs(g.At-w.At) <= 1e-9*w.At && g.Before == w.Before && g.After == w.After && g.Touch == w.Touch && !g.Jump
		}
		if !ok {
			t.Errorf("%s from %v to %v: %+v, want %+v", c.name, c.from, c.to, got, c.want)
		}
	}
	ties, err := sweep.Ties(context.Background(), m.Program, m.Result, k.Item("wave"), k.Item("plain"), cell(t, m, "shop.x"), 0.001, 4, nil)
	if err != nil || !ties[0].Cut {
		t.Errorf("of 509 crossings %d are told as if they were all: %v", len(ties[0].Crossings), err)
	}
}
