package export

import (
	"strings"
	"testing"
	"testing/fstest"

	"bankwright/engine/oracle"
	"bankwright/export/calc"
)

// crates are compared by a price that three of them reach by different ways,
// the last digit apart.
const crates = `
title = "Crates"
currency = "EUR"
standard_rules = false
[rules.kind.crate]
many = "crates"
compare = { by = "total", best = "BEST", show = ["sound"] }
[rules.crate.a]
[rules.crate.b]
[rules.crate.sound]
type = "boolean"
default = true
[rules.crate.total]
formula = "a + b"
[rules.check.sound]
of = "crate"
severity = "stop"
require = "sound"
otherwise = "It is broken."
[crate.first]
a = 0.1
b = 0.2
label = "The \"first\" crate"
[crate.second]
a = 0.3
b = 0
[crate.third]
a = 0.15
b = 0.15
[crate.dear]
a = 1
b = 1
[crate.cheap]
a = 0
b = 0.1
`

// TestPlaces: equal figures take places in the order of the scenario, as in the
// engine, and what may not win has none.
func TestPlaces(t *testing.T) {
	for _, c := range []struct{ best, broken, places, sentence string }{
		{"lowest", "", "2 3 4 5 1", `cheap has the lowest total: 0.10; The "first" crate lies 200.0 % above.`},
		{"lowest", "cheap=0", "2 3 4 5 1", `cheap has the lowest total: 0.00; The "first" crate comes next.`},
		{"lowest", "cheap", "1 2 3 4 -", `The "first" crate has the lowest total of those that may be built and serve: 0.30, level with second.`},
		{"highest", "", "2 3 4 1 5", `dear has the highest total: 2.00; The "first" crate lies 85.0 % below.`},
		{"lowest", "first second third cheap", "- - - 1 -", "dear has the lowest total of those that may be built and serve: 2.00."},
		{"lowest", "first second third cheap dear", "- - - - -", "No crate can be recommended: each is stopped or unfit, as the sheet Checks says."},
	} {
		text := strings.Replace(crates, "BEST", c.best, 1)
		for _, name := range strings.Fields(c.broken) {
			if name == "cheap=0" {
				text = strings.Replace(text, "a = 0\nb = 0.1", "a = 0\nb = 0", 1)
			}
			text = strings.Replace(text, "[crate."+name+"]\n", "[crate."+name+"]\nsound = false\n", 1)
		}
		m := load(t, fstest.MapFS{"crates.toml": {Data: []byte(text)}}, "crates.toml", nil)
		b, err := NewBook(m, nil)
		if err != nil {
			t.Fatal(err)
		}
		list, sentence := answerOf(b, calc.New(live{Book: b}))
		places := strings.Join(list, " ")
		if places != c.places || sentence != c.sentence {
			t.Errorf("%s, broken %q: places %s, %q", c.best, c.broken, places, sentence)
		}
		if best, ok := m.Compare().Best(); ok && strings.Fields(places)[best.Item] != "1" {
			t.Errorf("the engine's best is %s", m.Compared().Items[best.Item].Name)
		}
	}
}

// answerOf reads places, in the order of the scenario, from the workings and the
// recommendation from the first sheet, calculated.
func answerOf(b *Book, run *calc.Book) (places []string, sentence string) {
	for r, row := range b.Find("Answer").Rows() {
		for _, c := range row {
			if c.Style == Lead {
				sentence = run.Cell(0, r+1, labelCol).S
			}
		}
	}
	s, n := b.Find(workingsName), b.Sheet(workingsName)
	for r := range s.Rows() {
		if s.At(r+1, labelCol).Value != "Place" {
			continue
		}
		for c := itemCol; s.At(r+1, c).Formula != ""; c++ {
			v := run.Cell(n, r+1, c)
			if v.T == calc.Number {
				places = append(places, number(v.N))
			} else {
				places = append(places, "-")
			}
		}
	}
	return places, sentence
}

// TestAssumedLeads: each assumption on the first sheet leads to a cell that can be typed
// into, and what is that of the best to the row where there is one for each.
func TestAssumedLeads(t *testing.T) {
	oracle.OneCore(t)
	for _, name := range []string{"cabin", "quarry", "bench"} {
		b := plotBook(models(t)[name], nil).book
		s, prices, from := b.Find("Answer"), 0, 0
		for r := 1; r <= len(s.Rows()); r++ {
			c := s.At(r, labelCol)
			if c.Value == "What was assumed" {
				from = r
			}
			label, _ := c.Value.(string)
			if from == 0 || c.Link == "" || s.At(r, itemCol).Formula == "" {
				continue
			}
			prices += btoi(strings.HasSuffix(label, " (of the best)"))
			to, at, _ := strings.Cut(c.Link, "!")
			if strings.HasPrefix(at, "C") && b.Find(to).cellAt(t, "D"+at[1:]).isInput() {
				t.Errorf("%s: %q leads to %s, which is only one of its row", name, label, c.Link)
			}
			at = strings.Replace(at, "A", columnName(itemCol), 1)
			if typed := b.Find(to).cellAt(t, at); to != "Inputs" || !typed.isInput() {
				t.Errorf("%s: %q leads to %s, which holds %v", name, label, c.Link, typed)
			}
		}
		if prices == 0 {
			t.Errorf("%s: no price is assumed", name)
		}
	}
}

// cellAt is the cell with an address.
func (s *Sheet) cellAt(t *testing.T, at string) Cell {
	t.Helper()
	for r, row := range s.Rows() {
		for c := range row {
			if cellName(r+1, c+1) == at {
				return row[c]
			}
		}
	}
	t.Fatalf("there is no cell %s on %s", at, s.Name)
	return Cell{}
}
