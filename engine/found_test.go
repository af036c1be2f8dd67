package engine_test

import (
	"context"
	"errors"
	"fmt"
	"math"
	"testing"

	"bankwright/engine"
	"bankwright/engine/check"
	"bankwright/engine/sweep"
)

// TestStudy runs every study that a scenario declares, and one input at a time. A shelf
// costs its boards times a plank, times 2.5 that are sold, times 1.1: what is expected
// is worked out by hand.
func TestStudy(t *testing.T) {
	m := study(t, `[sweep.oak]
vary = [{ input = "plank.oak.cost", values = ["4 EUR", "8 EUR"] }]
[doubt.share]
samples = 256
inputs = [{ input = "shop.share", uniform = ["0 %", "20 %"] }]
[break_even.ash]
between = ["one", "two"]
input = "plank.ash.cost"
from = "1 EUR"
to = "60 EUR"
[break_even.best]
input = "plank.ash.cost"
from = "1 EUR"
to = "60 EUR"`)
	all, err := m.Study(context.Background())
	if err != nil {
		t.Fatal(err)
	}
	if len(all.Sweeps) != 1 || len(all.Doubts) != 1 || len(all.BreakEvens) != 2 || all.Effects == nil || all.Share != 0.1 {
		t.Fatalf("%+v", all)
	}
	for i, oak := range []float64{4, 8} { // three: two boards of ash, which costs half of oak
		if got, want := all.Sweeps[0].Table.Figure(2, i), oak/2*2*2.5*1.1; all.Sweeps[0].Name != "oak" || math.Abs(got-want) > 1e-9 {
			t.Errorf("with oak at %v, three costs %v, want %v", oak, got, want)
		}
	}
	d := all.Doubts[0]
	if best := d.Found.Items[2]; d.Name != "share" || d.Found.Winner != 2 || d.Found.Samples != 256 || best.Best.Value != 1 || d.Found.Items[0].Best.Value != 0 || math.Abs(best.Figure.Mean().Value-55) > 0.1 {
		t.Errorf("of doubt: %+v", best)
	}
	tie := all.BreakEvens[0].Ties[0] // both have three boards: level where ash costs what oak does
	if tie.A != 0 || tie.B != 1 || len(tie.Crossings) != 1 || math.Abs(tie.Crossings[0].At-20) > 1e-6 {
		t.Errorf("level at %+v", tie)
	}
	tie = all.BreakEvens[1].Ties[0] // the best, three, has two boards of ash, and two, the next, has three
	if tie.A != 2 || tie.B != 1 || len(tie.Crossings) != 0 || math.Abs(tie.Ends[0]+1.0/3) > 1e-9 || math.Abs(tie.Ends[1]+1.0/3) > 1e-9 {
		t.Errorf("best and next: %+v", tie)
	}
	if e := all.Effects; e.Winner != 2 || math.Abs(e.Figure-55) > 1e-9 || math.Abs(e.Lead-27.5) > 1e-9 {
		t.Errorf("one at a time: %d at %v, ahead by %v", e.Winner, e.Figure, e.Lead)
	}
}

// TestStudyOfOne: with one item there is nobody to break even with, which the study says.
func TestStudyOfOne(t *testing.T) {
	m := loadText(t, fmt.Sprintf(shelves, "")+shelf("a", 4, 1, "")+"[break_even.x]\ninput = \"shelf.a.price\"\nfrom = \"1 EUR\"\nto = \"2 EUR\"\n")
	if _, err := m.Study(context.Background()); err == nil || err.Error() != "it takes two to break even, and there is only one" {
		t.Error(err)
	}
}

// TestStudyEnds: every study ends with the reason for which its context does.
func TestStudyEnds(t *testing.T) {
	m := study(t, `[sweep.oak]
vary = [{ input = "plank.oak.cost", from = "4 EUR", to = "8 EUR", points = 1000000 }]
[doubt.share]
inputs = [{ input = "shop.share", uniform = ["0 %", "20 %"] }]
[break_even.boards]
input = "plank.oak.cost"
from = "1 EUR"
to = "30 EUR"`)
	why := errors.New("enough")
	ctx, cancel := context.WithCancelCause(context.Background())
	cancel(why)
	for _, s := range m.Declared() {
		if _, err := s.Run(ctx, m); !errors.Is(err, why) {
			t.Errorf("%s %s: %v", s.Sort, s.Name, err)
		}
	}
	if _, err := m.Study(ctx); !errors.Is(err, why) {
		t.Errorf("all: %v", err)
	}
}

// TestDeclared: what matters is not looked for where a comparison is shown in part.
func TestDeclared(t *testing.T) {
	text := fmt.Sprintf(shelves, "")
	for _, name := range []string{"a", "b", "c", "d"} {
		text += shelf(name, 4, 1, "")
	}
	if got := len(loadText(t, text).Declared()); got != 1 {
		t.Errorf("%d studies of four shelves, want what matters", got)
	}
	if got := len(loadText(t, text+shelf("e", 5, 1, "")).Declared()); got != 0 {
		t.Errorf("%d studies of five shelves, of which two are shown in full", got)
	}
}

// TestShown: more points than a screen or a picture holds are refused before they are
// computed.
func TestShown(t *testing.T) {
	sweepOf := func(a, b int) *check.Sweep {
		m := study(t, fmt.Sprintf(`[sweep.x]
vary = [{ input = "plank.oak.cost", from = "4 EUR", to = "8 EUR", points = %d }, { input = "shop.share", from = "1 %%", to = "2 %%", points = %d }]`, a, b))
		return m.Sweeps[0]
	}
	if err := engine.Shown(sweepOf(2000, 5000)); err != nil {
		t.Error(err)
	}
	s := sweepOf(2000, 5001)
	want := "10,002,000 points are more than can be shown; write them to a file with -o, or take fewer values"
	if err := engine.Shown(s); err == nil || err.Error() != want {
		t.Error(err)
	}
	m := study(t, "")
	if _, err := engine.OfSweep(s).Run(context.Background(), m); err == nil || err.Error() != want {
		t.Error(err)
	}
}

// TestProgress: whoever wants to be told is told by one goroutine at a time, and of all
// points at the end.
func TestProgress(t *testing.T) {
	m := study(t, `[sweep.oak]
vary = [{ input = "plank.oak.cost", from = "4 EUR", to = "8 EUR", points = 100000 }]`)
	last, of := 0, 0 // without a lock: the race detector sees what two do at once
	ctx := sweep.WithProgress(context.Background(), func(done, total int) {
		if done < last {
			t.Errorf("%d after %d", done, last)
		}
		last, of = done, total
	})
	if _, err := engine.OfSweep(m.Sweeps[0]).Run(ctx, m); err != nil {
		t.Fatal(err)
	}
	if last != 100000 || of != last {
		t.Errorf("%d of %d", last, of)
	}
}
