package engine_test

import (
	"fmt"
	"strings"
	"testing"
	"testing/fstest"

	"bankwright/engine"
	"bankwright/engine/check"
)

// parseAxis is the only axis of a sweep that a user wants.
func parseAxis(m *engine.Model, text string) (*check.Axis, error) {
	s, err := check.ParseSweep(m.Program, []string{text}, nil)
	if s == nil {
		return nil, err
	}
	return s.Axes[0], err
}

// TestParseSweep: several axes, and what is shown behind the figures that decide.
func TestParseSweep(t *testing.T) {
	m := study(t, "")
	s, err := check.ParseSweep(m.Program, []string{"plank.oak.cost=5 EUR,6 EUR", "shop.share=50 %,60 %"}, []string{"shop.sold[2]"})
	if err != nil || len(s.Axes) != 2 || len(s.Show) != 1+len(m.Compared().Items) || m.CellName(s.Show[len(s.Show)-1]) != "shop.sold[2]" {
		t.Fatalf("%+v, %v", s, err)
	}
	if s, err = check.ParseSweep(m.Program, []string{"shop.share=50 %,60 %"}, nil); err != nil || len(s.Show) != len(m.Compared().Items) {
		t.Errorf("%+v, %v", s, err)
	}
	for _, c := range []struct {
		axes, show []string
		want       string
	}{
		{[]string{"shop.share=50 %", "shop.share=60 %"}, nil, "shop.share is varied twice. Vary it once."},
		{[]string{"shop.share=50 %"}, []string{"shop.sold"}, "shop.sold is a series."},
		{[]string{"shop.share=50 %"}, []string{"shop.sold[1]", "shop.sold[1]"}, "shop.sold[1] is shown already. Leave it out."},
		{[]string{"shop.share=50 %"}, []string{"shop.shaer"}, "Did you mean share?"},
		{[]string{"shop.share=1 %..2 %/600000", "plank.oak.cost=1 EUR..2 EUR/600000"}, nil, "there are 360,000,000,000 combinations, more than 100,000,000,000. Take fewer values of each."},
	} {
		if s, err := check.ParseSweep(m.Program, c.axes, c.show); err == nil || s != nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%v %v: %v\nwant %s", c.axes, c.show, err, c.want)
		}
	}
}

func TestParseAxes(t *testing.T) {
	m := study(t, "")
	for _, c := range []struct{ text, input, written string }{
		{"plank.oak.cost=5 EUR..9 EUR/3", "plank.oak.cost", "5 EUR, 7 EUR, 9 EUR"},
		{" oak.cost = 5 EUR .. 9 EUR / step 2 EUR ", "plank.oak.cost", "5 EUR, 7 EUR, 9 EUR"},
		{"shop.share=50 %,60 %", "shop.share", "50 %, 60 %"},
		{"shop.sold[2]=1..2/3", "shop.sold[2]", "1.00, 1.50, 2.00"},
		{"shelf.one.fixed=true,false", "shelf.one.fixed", "yes, no"},
		{"shelf.one.plank=ash,oak", "shelf.one.plank", "ash, oak"},
		{"shelf.one.finish=raw,waxed", "shelf.one.finish", "raw, waxed"},
		{"plank.oak.cost,plank.ash.cost=by 80 %,120 %", "plank.oak.cost", "80 %, 120 %"},
		{"plank.oak.cost,shop.sold[2]=by 80 %..120 %/3", "plank.oak.cost", "80 %, 100 %, 120 %"},
	} {
		a, err := parseAxis(m, c.text)
		if err != nil {
			t.Errorf("%s: %v", c.text, err)
			continue
		}
		if got := strings.Join(stepNames(a), ", "); got != c.written || m.CellName(a.Inputs[0]) != c.input {
			t.Errorf("%s: %s of %s", c.text, got, m.CellName(a.Inputs[0]))
		}
	}
	for _, c := range []struct{ text, want string }{
		{"", `"" does not say what is varied and how. Write an input, an equals sign and its values, such as "kind.item.quantity=1 kg..5 kg/9" or "kind.item.quantity=1 kg,2 kg".`},
		{"plank.oak.cost", `"plank.oak.cost" does not say what is varied`},
		{"plank.oak.cost=", `does not say what is varied`},
		{"=3", `does not say what is varied`},
		{"plank.oka.cost=3 EUR", "there is no plank named oka. Did you mean oak?"},
		{"plank.oak.trial=3 EUR", "plank.oak.trial is computed and cannot be varied. Vary what it follows from, such as plank.cost."},
		{"plank.oak.cost=3 EUR..5 EUR", "it is not said at how many values from 3 EUR to 5 EUR. Write how many, such as 3 EUR..5 EUR/11, or a step behind it: /step …."},
		{"plank.oak.cost=3 EUR..5 EUR/1", "1 is no number of values to take. Write a whole number from 2 to 1000000."},
		{"plank.oak.cost=3 EUR..5 EUR/99999999999999999999", "is no number of values to take"},
		{"plank.oak.cost=5 EUR..3 EUR/9", "3 EUR does not lie above 5 EUR. Let the two change places."},
		{"plank.oak.cost=3", `cost needs a unit. Write "3 EUR".`},
		{"plank.oak.cost=3 kg", "cost is "},
		{"plank.oak.cost,plank.ash.cost=1 EUR,2 EUR", `several inputs can only be scaled together. Write "=by 80 %,100 %,120 %".`},
		{"plank.oak.cost,plank.oak.cost=by 80 %", "plank.oak.cost is varied twice. Vary it once."},
		{"shop.sold=1,2", "shop.sold is a series. Name one of its steps, such as shop.sold[1]."},
		{"shelf.one.plank=pine", "there is no plank pine. Use one of oak, ash."},
		{"plank.oak.cost=..", "it is not said"},
		{"plank.oak.cost=../3", "nothing is written"},
	} {
		a, err := parseAxis(m, c.text)
		if err == nil || a != nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%s: %v\nwant %s", c.text, err, c.want)
		}
	}
}

func FuzzParseSweep(f *testing.F) {
	for _, seed := range []string{"plank.oak.cost=5 EUR..9 EUR/3", "shop.share=50 %,60 %", "plank.oak.cost,shop.sold[2]=by 80 %..120 %/step 5 %", "a=b", "shelf.one.plank=ash,oak", "shop.sold[,]=1..2/3"} {
		f.Add(seed)
	}
	m, list, _ := engine.Load(engine.Sources{Files: fstest.MapFS{"s.toml": {Data: []byte(fmt.Sprintf(studied, ""))}}, Scenario: "s.toml"})
	if m == nil {
		f.Fatal(list)
	}
	f.Fuzz(func(t *testing.T, text string) {
		a, err := parseAxis(m, text)
		if (a == nil) == (err == nil) {
			t.Fatalf("%q: %v, %v", text, a, err)
		}
		if a != nil && (len(a.Inputs) == 0 || a.Steps() == 0 || len(a.Values) != a.Steps()) {
			t.Fatalf("%q: %+v", text, a)
		}
	})
}
