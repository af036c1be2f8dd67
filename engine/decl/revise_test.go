package decl

import (
	"math"
	"strings"
	"testing"
	"testing/fstest"

	"bankwright/engine/diag"
)

// shedRules are what the scenarios of this test speak of.
const shedRules = `
[kind.shed]
many = "sheds"
doc  = "d"
[kind.plot]
doc = "d"
[shed.price]
unit = "money"
doc  = "d"
[shed.depth]
unit    = "m"
default = "1 m"
doc     = "d"
[shed.open]
type    = "boolean"
default = true
doc     = "d"
[shed.beside]
refers   = "shed"
optional = true
doc      = "d"
[shed.hours]
unit    = "h"
over    = "day"
default = "1 h"
doc     = "d"
[shed.curve]
columns  = { at = "m", load = "kg" }
optional = true
doc      = "d"
[plot.rate]
unit    = "%"
default = "5 %"
doc     = "d"
[axis.day]
steps = 3
`

// TestRevise: only what changes changes, wherever and however it is written.
func TestRevise(t *testing.T) {
	num := func(kind, item, q string, x ...float64) Revision {
		r := Revision{Kind: kind, Item: item, Quantity: q, Values: x}
		for range x {
			r.Changed = append(r.Changed, true)
		}
		return r
	}
	for _, c := range []struct {
		what, text, want string
		list             []Revision
	}{
		{"in its place", "[shed.a]\nprice = \"2 EUR\"  # dear\n", "[shed.a]\nprice = \"3.5 EUR\"  # dear\n", []Revision{num("shed", "a", "price", 3.5)}},
		{"a default, below the others", "[shed.a]\nprice     = \"2 EUR\" # dear\n\n# the end\n", "[shed.a]\nprice     = \"2 EUR\" # dear\ndepth     = \"2 m\"\n\n# the end\n", []Revision{num("shed", "a", "depth", 2)}},
		{"two of them", "[shed.a]\nprice = \"2 EUR\"\n[shed.b]\nprice = \"2 EUR\"", "[shed.a]\nprice = \"2 EUR\"\ndepth = \"2 m\"\nopen  = false\n[shed.b]\nprice = \"2 EUR\"", []Revision{num("shed", "a", "depth", 2), num("shed", "a", "open", 0)}},
		{"a table that is not there", "[shed.a]\nprice = \"2 EUR\"\n", "[shed.a]\nprice = \"2 EUR\"\n\n[plot]\nrate = \"7 %\"\n", []Revision{num("plot", "plot", "rate", 7)}},
		{"an inline table", "shed = { a = { price = \"2 EUR\" } }\n", "shed = { a = { price = \"2 EUR\", depth = \"2 m\" } }\n", []Revision{num("shed", "a", "depth", 2)}},
		{"out of an inline table", "shed = { a = { depth = \"2 m\", beside = \"a\", price = \"2 EUR\" } }\n", "shed = { a = { depth = \"2 m\", price = \"2 EUR\" } }\n", []Revision{{Kind: "shed", Item: "a", Quantity: "beside", Absent: true}}},
		{"the first of an inline table", "shed = { a = { beside = \"a\", price = \"2 EUR\" } }\n", "shed = { a = { price = \"2 EUR\" } }\n", []Revision{{Kind: "shed", Item: "a", Quantity: "beside", Absent: true}}},
		{"dotted keys", "shed.a.price = \"2 EUR\"\nplot.rate = \"6 %\"\n", "shed.a.price = \"2 EUR\"\nshed.a.depth = \"2 m\"\nplot.rate = \"8 %\"\n", []Revision{num("shed", "a", "depth", 2), num("plot", "plot", "rate", 8)}},
		{"one step of three", "[shed.a]\nprice = \"2 EUR\"\nhours = [\"60 min\", # one\n  \"2 h\", \"3 h\"]\n", "[shed.a]\nprice = \"2 EUR\"\nhours = [\"60 min\", # one\n  \"2.5 h\", \"3 h\"]\n",
			[]Revision{{Kind: "shed", Item: "a", Quantity: "hours", Values: []float64{1, 2.5, 3}, Changed: []bool{false, true, false}}}},
		{"one value for all steps becomes three", "[shed.a]\nprice = \"2 EUR\"\nhours = \"1 h\"\n", "[shed.a]\nprice = \"2 EUR\"\nhours = [\"1 h\", \"2 h\", \"1 h\"]\n",
			[]Revision{{Kind: "shed", Item: "a", Quantity: "hours", Values: []float64{1, 2, 1}, Changed: []bool{false, true, false}}}},
		{"blanked over several lines", "[shed.a]\nprice = \"2 EUR\"\ncurve = { at = [\"1 m\"],\n  load = [\"2 kg\"] }\n", "[shed.a]\nprice = \"2 EUR\"\n# curve = { at = [\"1 m\"],\n#   load = [\"2 kg\"] }\n", []Revision{{Kind: "shed", Item: "a", Quantity: "curve", Absent: true}}},
		{"a table below a heading", "[shed.a]\nprice = \"2 EUR\"\n[shed.a.curve]\nat = [\"1 m\"] # here\nload = [\"2 kg\"]\n", "[shed.a]\nprice = \"2 EUR\"\n[shed.a.curve]\nat = [\"1 m\", \"2 m\"] # here\nload = [\"2 kg\", \"4 kg\"]\n", []Revision{{Kind: "shed", Item: "a", Quantity: "curve", Points: [][]float64{{1, 2}, {2, 4}}}}},
		{"such a table blanked", "[shed.a]\nprice = \"2 EUR\"\n[shed.a.curve]\nat = [\"1 m\"]\nload = [\"2 kg\"]\n", "[shed.a]\nprice = \"2 EUR\"\n# [shed.a.curve]\n# at = [\"1 m\"]\n# load = [\"2 kg\"]\n", []Revision{{Kind: "shed", Item: "a", Quantity: "curve", Absent: true}}},
		{"lines as another system ends them", "[shed.a]\r\nprice = \"2 EUR\"\r\n", "[shed.a]\r\nprice = \"3 EUR\"\r\ndepth = \"2 m\"\r\n", []Revision{num("shed", "a", "price", 3), num("shed", "a", "depth", 2)}},
		{"a formula", "[shed.a]\nprice = \"= 2 * plot.rate\"\n", "[shed.a]\nprice = \"= 3 * plot.rate\"\n", []Revision{{Kind: "shed", Item: "a", Quantity: "price", Formula: "3 * plot.rate"}}},
		{"combinations, all of them", "[shed.a]\nprice = \"2 EUR\"\neach = { open = [true, false] }\n", "[shed.a]\nprice = \"3 EUR\"\neach = { open = [true, false] }\n", []Revision{num("shed", "a_1", "price", 3), num("shed", "a_2", "price", 3)}},
		{"one of two combinations", "# first\n[shed.a]\nprice = \"2 EUR\" # dear\neach  = { open = [true, false] }\n\n# last\n", "# first\n[shed.a_1]\nprice = \"2 EUR\" # dear\nopen  = true\n\n[shed.a_2]\nprice = \"3 EUR\" # dear\nopen  = false\n\n# last\n", []Revision{num("shed", "a_2", "price", 3)}},
	} {
		t.Run(c.what, func(t *testing.T) {
			m := shed(t, c.text)
			list := diag.List{}
			got := string(m.Revise(c.list, nil, &list))
			if want := head + c.want; got != want || len(list) > 0 {
				t.Fatalf("%v\n%s\nwant\n%s", list, got, want)
			}
			shed(t, strings.TrimPrefix(got, head))
		})
	}
}

const head = "currency = \"EUR\"\n"

func shed(t *testing.T, text string) *Model {
	t.Helper()
	m, list := Load(Sources{Files: fstest.MapFS{"x.toml": {Data: []byte(head + text)}}, Scenario: "x.toml", Standard: fstest.MapFS{"shed.toml": {Data: []byte(shedRules)}}})
	if list.HasErrors() {
		t.Fatalf("%v\n%s", list, text)
	}
	return m
}

// TestRefused: what cannot be put into the text is told, and there is no text then.
func TestRefused(t *testing.T) {
	m := shed(t, "[shed.a]\nprice = \"2 EUR\"\n[shed.a.each]\nopen = [true, false]\n")
	list := diag.List{}
	if m.Revise([]Revision{{Kind: "shed", Item: "a_2", Quantity: "price", Values: []float64{3}}}, nil, &list) != nil || !list.HasErrors() {
		t.Error("combinations below a heading of their own were written out")
	}
	list = nil
	if m.Revise([]Revision{{Kind: "shed", Item: "z", Quantity: "price", Values: []float64{3}}}, nil, &list) != nil || !list.HasErrors() {
		t.Error("an item that is not there was revised")
	}
}

// TestFigure: what is written is read as the same number.
func TestFigure(t *testing.T) {
	for x, want := range map[float64]string{0: "0", 1050: "1050", 0.1: "0.1", -2.5: "-2.5", 1e-9: "1e-09", 1e21: "1e+21", 123456789.123: "123456789.123", math.Copysign(0, -1): "0"} {
		if got := Figure(x); got != want {
			t.Errorf("%v: %s, want %s", x, got, want)
		}
	}
}

// TestQuoteTOML: every text comes back from its quotes.
func TestQuoteTOML(t *testing.T) {
	for _, s := range []string{"", "plain", `a "b" \c`, "two\nlines\tand a tab", "é😀", "\u2028"} {
		var list diag.List
		root := parse("x.toml", []byte("a = "+quoteTOML(s)), &list)
		if root == nil || root.get("a").text != s {
			t.Errorf("%q: %v", s, list)
		}
	}
}
