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
[shed.log]
recording = { time = "h", load = "kg" }
optional  = true
doc       = "d"
[plot.rate]
unit    = "%"
default = "5 %"
doc     = "d"
[plot.width]
unit     = "m"
optional = true
doc      = "d"
[plot.area]
unit     = "m2"
optional = true
doc      = "d"
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
		{"two in a row out of an inline table", "shed = { a = { price = \"2 EUR\", beside = \"a\", depth = \"2 m\" } }\n", "shed = { a = { price = \"2 EUR\" } }\n", []Revision{{Kind: "shed", Item: "a", Quantity: "depth", Absent: true}, {Kind: "shed", Item: "a", Quantity: "beside", Absent: true}}},
		{"the first two of an inline table", "shed = { a = { beside = \"a\", depth = \"2 m\", price = \"2 EUR\" } }\n", "shed = { a = { price = \"2 EUR\" } }\n", []Revision{{Kind: "shed", Item: "a", Quantity: "beside", Absent: true}, {Kind: "shed", Item: "a", Quantity: "depth", Absent: true}}},
		{"first and last of an inline table, and one more", "shed = { a = { beside = \"a\", price = \"2 EUR\", depth = \"2 m\" } }\n", "shed = { a = { price = \"3 EUR\", open = false } }\n", []Revision{{Kind: "shed", Item: "a", Quantity: "beside", Absent: true}, {Kind: "shed", Item: "a", Quantity: "depth", Absent: true}, num("shed", "a", "price", 3), num("shed", "a", "open", 0)}},
		{"all of an inline table for another", "plot = { rate = \"2 %\", area = \"3 m2\" }\n[shed.a]\nprice = \"2 EUR\"\n", "plot = { width = \"4 m\" }\n[shed.a]\nprice = \"2 EUR\"\n", []Revision{{Kind: "plot", Item: "plot", Quantity: "area", Absent: true}, {Kind: "plot", Item: "plot", Quantity: "rate", Absent: true}, num("plot", "plot", "width", 4)}},
		{"two into an empty inline table", "plot = {}\n[shed.a]\nprice = \"2 EUR\"\n", "plot = { rate = \"2 %\", width = \"4 m\" }\n[shed.a]\nprice = \"2 EUR\"\n", []Revision{num("plot", "plot", "rate", 2), num("plot", "plot", "width", 4)}},
		{"dotted keys of an inline table", "shed = { a.price = \"2 EUR\", a.curve.at = [\"1 m\"], b.price = \"1 EUR\", a.curve.load = [\"1 kg\"] }\n", "shed = { a.price = \"2 EUR\", b.price = \"1 EUR\", a.depth = \"2 m\" }\n", []Revision{{Kind: "shed", Item: "a", Quantity: "curve", Absent: true}, num("shed", "a", "depth", 2)}},
		{"one below a heading, blanked and another", "[shed.a]\nprice = \"2 EUR\"\ncurve.at = [\"1 m\"]\ncurve.load = [\"2 kg\"]\n", "[shed.a]\nprice = \"2 EUR\"\n# curve.at = [\"1 m\"]\n# curve.load = [\"2 kg\"]\nopen       = false\n", []Revision{{Kind: "shed", Item: "a", Quantity: "curve", Absent: true}, num("shed", "a", "open", 0)}},
		{"combinations over several lines, one by one", "[shed.a]\nprice = \"2 EUR\"\neach = { open = [true, # as it is\n  false] }\nlabel = \"{open}\"\ndepth = \"2 m\"\n", "[shed.a_1]\nprice = \"2 EUR\"\ndepth = \"2 m\"\nlabel = \"true\"\nopen  = true\n\n[shed.a_2]\nprice = \"3 EUR\"\ndepth = \"2 m\"\nlabel = \"false\"\nopen  = false\n", []Revision{num("shed", "a_2", "price", 3)}},
		{"dotted keys", "shed.a.price = \"2 EUR\"\nplot.rate = \"6 %\"\n", "shed.a.price = \"2 EUR\"\nshed.a.depth = \"2 m\"\nplot.rate = \"8 %\"\n", []Revision{num("shed", "a", "depth", 2), num("plot", "plot", "rate", 8)}},
		{"one step of three", "[shed.a]\nprice = \"2 EUR\"\nhours = [\"60 min\", # one\n  \"2 h\", \"3 h\"]\n", "[shed.a]\nprice = \"2 EUR\"\nhours = [\"60 min\", # one\n  \"2.5 h\", \"3 h\"]\n",
			[]Revision{{Kind: "shed", Item: "a", Quantity: "hours", Values: []float64{1, 2.5, 3}, Changed: []bool{false, true, false}}}},
		{"one value for all steps becomes three", "[shed.a]\nprice = \"2 EUR\"\nhours = \"1 h\"\n", "[shed.a]\nprice = \"2 EUR\"\nhours = [\"1 h\", \"2 h\", \"1 h\"]\n",
			[]Revision{{Kind: "shed", Item: "a", Quantity: "hours", Values: []float64{1, 2, 1}, Changed: []bool{false, true, false}}}},
		{"blanked over several lines", "[shed.a]\nprice = \"2 EUR\"\ncurve = { at = [\"1 m\"],\n  load = [\"2 kg\"] }\n", "[shed.a]\nprice = \"2 EUR\"\n# curve = { at = [\"1 m\"],\n#   load = [\"2 kg\"] }\n", []Revision{{Kind: "shed", Item: "a", Quantity: "curve", Absent: true}}},
		{"a table below a heading", "[shed.a]\nprice = \"2 EUR\"\n[shed.a.curve]\nat = [\"1 m\"] # here\nload = [\"2 kg\"]\n", "[shed.a]\nprice = \"2 EUR\"\n[shed.a.curve]\nat = [\"1 m\", \"2 m\"] # here\nload = [\"2 kg\", \"4 kg\"]\n", []Revision{{Kind: "shed", Item: "a", Quantity: "curve", Points: [][]float64{{1, 2}, {2, 4}}}}},
		{"such a table blanked", "[shed.a]\nprice = \"2 EUR\"\n[shed.a.curve]\nat = [\"1 m\"]\nload = [\"2 kg\"]\n", "[shed.a]\nprice = \"2 EUR\"\n# [shed.a.curve]\n# at = [\"1 m\"]\n# load = [\"2 kg\"]\n", []Revision{{Kind: "shed", Item: "a", Quantity: "curve", Absent: true}}},
		{"a formula", "[shed.a]\nprice = \"= 2 * plot.rate\"\n", "[shed.a]\nprice = \"= 3 * plot.rate\"\n", []Revision{{Kind: "shed", Item: "a", Quantity: "price", Formula: "3 * plot.rate"}}},
		{"combinations, all of them", "[shed.a]\nprice = \"2 EUR\"\neach = { open = [true, false] }\n", "[shed.a]\nprice = \"3 EUR\"\neach = { open = [true, false] }\n", []Revision{num("shed", "a_1", "price", 3), num("shed", "a_2", "price", 3)}},
		{"one of two combinations", "# first\n[shed.a]\nprice = \"2 EUR\" # dear\neach  = { open = [true, false] }\n\n# last\n", "# first\n[shed.a_1]\nprice = \"2 EUR\" # dear\nopen  = true\n\n[shed.a_2]\nprice = \"3 EUR\" # dear\nopen  = false\n\n# last\n", []Revision{num("shed", "a_2", "price", 3)}},
	} {
		for system, end := range map[string]string{"": "\n", ", lines as Windows ends them": "\r\n"} {
			t.Run(c.what+system, func(t *testing.T) {
				m := shed(t, strings.ReplaceAll(c.text, "\n", end), end)
				list := diag.List{}
				got := string(m.Revise(c.list, nil, &list))
				if want := strings.ReplaceAll(head+c.want, "\n", end); got != want || len(list) > 0 {
					t.Fatalf("%v\n%q\nwant\n%q", list, got, want)
				}
				shed(t, strings.TrimPrefix(got, head[:len(head)-1]+end), end)
			})
		}
	}
}

const head = "currency = \"EUR\"\n"

// shed is the model of a scenario whose first line ends as given.
func shed(t *testing.T, text, end string) *Model {
	t.Helper()
	m, list := Load(Sources{Files: fstest.MapFS{"x.toml": {Data: []byte(head[:len(head)-1] + end + text)}}, Scenario: "x.toml", Standard: fstest.MapFS{"shed.toml": {Data: []byte(shedRules)}}})
	if list.HasErrors() {
		t.Fatalf("%v\n%s", list, text)
	}
	return m
}

// TestListsTakenIn: the text that takes its lists in ends all lines as the scenario
// does, and finds the recordings of a list, those of combinations among them.
func TestListsTakenIn(t *testing.T) {
	list := "\n[shed.b]\nprice = \"2 EUR\"\nlog = { file = \"b.csv\" }\neach = { open = [true, false] }\n[shed.c]\nprice = \"2 EUR\"\nlog = \"b.csv\"\n"
	for _, end := range []string{"\n", "\r\n"} {
		for _, inList := range []string{"\n", "\r\n"} {
			files := fstest.MapFS{
				"x.toml":          {Data: []byte(strings.ReplaceAll(head+"include = [\n  \"lists/list.toml\",\n]\n[shed.a]\nprice = \"2 EUR\"\n\n", "\n", end))},
				"lists/list.toml": {Data: []byte(strings.ReplaceAll(list, "\n", inList))},
				"lists/b.csv":     {Data: []byte("time,load\n0,1\n1,2\n")},
			}
			sources := Sources{Files: files, Scenario: "x.toml", Standard: fstest.MapFS{"shed.toml": {Data: []byte(shedRules)}}}
			m, faults := Load(sources)
			if faults.HasErrors() {
				t.Fatal(faults)
			}
			got := m.Revise([]Revision{{Kind: "shed", Item: "b_2", Quantity: "price", Values: []float64{3}}}, nil, &faults)
			want := head + "# include = [\n#   \"lists/list.toml\",\n# ]\n[shed.a]\nprice = \"2 EUR\"\n\n# --- from list.toml ---\n\n" +
				"[shed.b_1]\nprice = \"2 EUR\"\nlog = { file = \"lists/b.csv\" }\nopen = true\n\n" +
				"[shed.b_2]\nprice = \"3 EUR\"\nlog = { file = \"lists/b.csv\" }\nopen = false\n[shed.c]\nprice = \"2 EUR\"\nlog = \"lists/b.csv\"\n"
			if want = strings.ReplaceAll(want, "\n", end); string(got) != want || len(faults) > 0 {
				t.Fatalf("%v\n%q\nwant\n%q", faults, got, want)
			}
			files["x.toml"].Data = got
			if _, faults = Load(sources); faults.HasErrors() {
				t.Error(faults)
			}
		}
	}
}

// TestRefused: what cannot be put into the text is told, and there is no text then.
func TestRefused(t *testing.T) {
	m := shed(t, "[shed.a]\nprice = \"2 EUR\"\n[shed.a.each]\nopen = [true, false]\n", "\n")
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
	for _, s := range []string{"", "plain", `a "b" \c`, "two\nlines\tand a tab", "é😀", "\u2028", "a bell\a, a return\r, an escape\x1b1 and the last\x7f"} {
		var list diag.List
		root := parse("x.toml", []byte("a = "+quoteTOML(s)), &list)
		if root == nil || root.get("a").text != s {
			t.Errorf("%q: %v", s, list)
		}
	}
}
