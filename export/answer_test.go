package export

import (
	"strings"
	"testing"
	"testing/fstest"

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
