package export

import (
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"
	"testing/fstest"

	"bankwright/engine"
	"bankwright/engine/check"
	"bankwright/engine/decl"
	"bankwright/engine/eval"
	"bankwright/engine/oracle"
)

// TestSentences: what the sheet of sentences says of every check that is not met,
// stored and live after inputs were changed, is letter by letter what the engine
// says.
func TestSentences(t *testing.T) {
	oracle.OneCore(t)
	for name, m := range eachModel(t) {
		t.Run(name, func(t *testing.T) {
			b, err := NewBook(m, nil)
			if err != nil {
				t.Fatal(err)
			}
			pl := plotBook(m, nil)
			told := sentences(t, pl, m, func(row int) string { s, _ := b.Find(unmetName).At(row, unmetWordsCol).Value.(string); return s })
			r := rand.New(rand.NewPCG(13, 17))
			rounds := 8
			if !small[name] {
				rounds = 2
			}
			for range rounds {
				list := changes(pl, m, r, 4)
				run := Trial{Book: pl.book, list: list}.changed()
				sheet := pl.book.Sheet(unmetName)
				told += sentences(t, pl, apply(m, list), func(row int) string { return run.Cell(sheet, row, unmetWordsCol).S })
				if t.Failed() {
					t.Fatalf("after changing %v", Trial{list: list}.Changes())
				}
			}
			t.Logf("%d sentences", told)
		})
	}
}

// pots are compared by sentences with figures in one unit and alone.
const pots = `
title = "Pots"
currency = "EUR"
standard_rules = false
[rules.kind.pot]
many = "pots"
compare = { by = "a", best = "lowest", summary = "{pot.a} beside {pot.b}, alone {pot.years}" }
[rules.pot.a]
unit = "kg"
[rules.pot.b]
unit = "kg"
[rules.pot.c]
unit = "kg"
decimals = 1
[rules.pot.years]
unit = "year"
[rules.pot.share]
unit = "%"
decimals = 1
[rules.pot.turns]
unit = "cycles"
[rules.check.level]
of = "pot"
severity = "caution"
require = "a == b and a == c and share > 1000"
otherwise = "{a} and {b} for {years}, {share} of {turns}."
[rules.check.three]
of = "pot"
severity = "caution"
require = "share > 1000"
otherwise = "{a}, {c} and {b}."
[pot.one]
a = "1 kg"
b = "2 kg"
c = "3 kg"
years = "1 year"
share = "5 %"
turns = "1 cycles"
`

// TestFigures: figures of every size read in the sheet as the engine writes
// them, and two that differ never read alike.
func TestFigures(t *testing.T) {
	text := strings.Replace(pots, "{pot.a} beside {pot.b}, alone {pot.years}", "{a} beside {b}, alone {years}", 1)
	m := load(t, fstest.MapFS{"pots.toml": {Data: []byte(text)}}, "pots.toml", nil)
	pl := plotBook(m, nil)
	k := m.Compared()
	values := []float64{0, 1, 2, 12, 0.108, 0.4, 0.98, 0.9999999, 57.5, 82.5, -2.2222, -0.004, 9.995, 9.996, 99.95, 166.7, 167, 166.54, 166.56,
		999.5, 1234.5, 1234.4, 1234.50001, 123456.789, 0.00005, 0.0001234, 1e-7, 2e6}
	names := []string{"a", "b", "c", "years", "share", "turns"}
	r := rand.New(rand.NewPCG(19, 23))
	told := 0
	for range 400 {
		var list []change
		for _, name := range names {
			q := k.Quantity(name)
			v := values[r.IntN(len(values))]
			if r.IntN(4) == 0 {
				v = round15(math.Exp(12*r.Float64()-4) * float64(1-2*r.IntN(2)))
			}
			l := pl.places[q]
			list = append(list, change{sheet: "Inputs", row: l.row, col: l.col, data: v, what: fmt.Sprint(name, " = ", v),
				engine: eval.Change{Quantity: q, Value: q.Unit.ToBase(v)}})
		}
		tr := Trial{Book: pl.book, list: list}
		run, now := tr.changed(), apply(m, list)
		sheet := pl.book.Sheet(unmetName)
		told += sentences(t, pl, now, func(row int) string { return run.Cell(sheet, row, unmetWordsCol).S })
		a, b := list[0].data.(float64), list[1].data.(float64)
		for _, c := range m.Checks {
			words := strings.SplitN(now.Sentence(c.Message, 0), " kg", 3)
			if c.Name == "level" && a != b && words[0] == strings.TrimPrefix(words[1], " and ") {
				t.Errorf("%v and %v both read %s", a, b, words[0])
			}
		}
		if t.Failed() {
			t.Fatalf("with %v", tr.Changes())
		}
	}
	if told < 400 {
		t.Errorf("only %d sentences compared", told)
	}
}

// sentences holds the sentences of their sheet against the engine.
func sentences(t *testing.T, pl *plan, m *engine.Model, got func(row int) string) (told int) {
	t.Helper()
	computed := onComputed(pl)
	row := 0
	for _, k := range m.Kinds {
		list := pl.checksOf(k)
		if len(list) == 0 || len(k.Items) == 0 {
			continue
		}
		said := map[*check.Check]map[int]string{}
		for _, o := range m.Outcomes(k) {
			if said[o.Check] == nil {
				said[o.Check] = map[int]string{}
			}
			said[o.Check][o.Item] = o.Text
		}
		for row++; pl.unmet.sheet.At(row, labelCol).Value != titleOf(pl.prog.Kind(k.Name)); row++ {
		}
		for sev := decl.Stop; sev <= decl.Caution; sev++ {
			for i, it := range k.Items {
				for _, c := range list {
					if c.Severity != sev {
						continue
					}
					row++
					want := said[c][i]
					if want != "" {
						told++
					}
					if s := got(row); s != want && (m.Result == pl.res || !follows(c, computed)) {
						t.Errorf("%s of %s, row %d: %q, want %q", c.Name, it.Name, row, s, want)
					}
				}
			}
		}
	}
	return told
}

// follows reports whether a check or its sentence reads one of some quantities.
func follows(c *check.Check, some map[*check.Quantity]bool) bool {
	return some[c.Result] || slices.ContainsFunc(c.Message, func(p check.Part) bool { return p.Read != nil && some[p.Read.Ref.Target] })
}
