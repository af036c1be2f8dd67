package engine_test

import (
	"fmt"
	"math/rand"
	"strings"
	"testing"
	"testing/fstest"

	"bankwright/engine/check"
	"bankwright/engine/decl"
	"bankwright/engine/eval"
)

// writer makes random formulas of the subset over a small model, so that the
// column evaluator can be compared with expr's machine on what no one thought of.
type writer struct {
	r     *rand.Rand
	depth int
}

// number writes an expression that gives a plain number.
func (w *writer) number() string {
	w.depth++
	defer func() { w.depth-- }()
	if w.depth > 5 || w.r.Intn(4) == 0 {
		return w.pick("a", "b", "c", "other.a", "ones.second.b", "(maybe ?? 2)", "0", "1", "2", "0.5", "3e3", "maybe")
	}
	switch w.r.Intn(11) {
	case 0, 1, 2, 3:
		return "(" + w.number() + w.pick(" + ", " - ", " * ", " / ") + w.number() + ")"
	case 4:
		return "(" + w.truth() + " ? " + w.number() + " : " + w.number() + ")"
	case 5:
		return "(-" + w.number() + ")"
	case 6:
		return w.pick("min", "max") + "(" + w.number() + ", " + w.number() + ")"
	case 7:
		return w.pick("abs", "ceil", "floor", "round", "sqrt", "exp", "ln", "normal_quantile") + "(" + w.number() + ")"
	case 8:
		if w.r.Intn(4) == 0 {
			return w.pick("t_quantile", "t_probability") + "(" + w.number() + ", " + w.number() + ")"
		}
		return "(" + w.number() + " ** " + w.pick("2", "0.5", "-1", "3") + ")"
	case 9:
		return w.pick("sum(ones, .a * b)", "count(ones, .a > b)", "max(map(ones, .b + a))", "sum(run)", "last(run)", "mean(map(ones, .a))", "deviation(map(ones, .a * b))", "deviation(run)", "sum(mine, .a * b)", "mean(map(other.mine, .b))", "deviation(map(mine, .a))")
	}
	return "clamp(" + w.number() + ", a, b)"
}

// truth writes an expression that is true or false.
func (w *writer) truth() string {
	w.depth++
	defer func() { w.depth-- }()
	if w.depth > 5 || w.r.Intn(3) == 0 {
		return "(" + w.number() + w.pick(" < ", " <= ", " > ", " >= ", " == ", " != ") + w.number() + ")"
	}
	switch w.r.Intn(4) {
	case 0:
		return "(" + w.truth() + w.pick(" and ", " or ", " && ", " || ") + w.truth() + ")"
	case 1:
		return "(not " + w.truth() + ")"
	case 2:
		return w.pick("yes", "any(ones, .yes)", "all(ones, .a > b)", `(mood == "calm")`, `(mood != "wild")`)
	}
	return "(0 < " + w.number() + " < 5)"
}

func (w *writer) pick(from ...string) string { return from[w.r.Intn(len(from))] }

const fuzzModel = `
title = "Random formulas"
standard_rules = false
[rules.kind.one]
many = "ones"
doc = "An item."
[rules.axis.turn]
steps = 4
doc = "Turns."
[rules.one.a]
default = 3
doc = "A number."
[rules.one.b]
default = 1.5
doc = "A number."
[rules.one.c]
default = 0
doc = "A number."
[rules.one.maybe]
optional = true
doc = "Perhaps a number."
[rules.one.yes]
type = "boolean"
default = true
doc = "A truth."
[rules.one.mood]
choices = ["calm", "wild"]
default = "calm"
doc = "A text."
[rules.one.other]
refers = "one"
default = "first"
doc = "Another."
[rules.one.mine]
inverse = "one.other"
doc = "Those whose other it is."
[rules.one.run]
over = "turn"
start = "a"
formula = "prev(run) * 0.75 + b / turn"
doc = "A series."
[rules.one.result]
formula = '''%s'''
doc = "What is tried."
[one.first]
[one.second]
a = %g
b = %g
c = 0.1
yes = false
mood = "wild"
other = "second"
[one.third]
maybe = 7
b = -2
`

// differs loads the model with a formula and compares both evaluators. Values
// without a result are compared as well, so the model is run below the faults
// that engine.Load would tell of.
func differs(t *testing.T, formula string, a, b float64) {
	t.Helper()
	text := fmt.Sprintf(fuzzModel, formula, a, b)
	declared, list := decl.Load(decl.Sources{Files: fstest.MapFS{"x.toml": {Data: []byte(text)}}, Scenario: "x.toml"})
	if list.HasErrors() {
		t.Fatalf("%s: %v", formula, list)
	}
	prog, list := check.Resolve(declared)
	if prog == nil {
		t.Fatalf("%s: %v", formula, list)
	}
	bad, _ := eval.Run(prog).Verify()
	for _, x := range bad {
		t.Errorf("%s\nitem %d: columns %v, reference %v", formula, x.Cell.Item, x.Columns, x.Reference)
	}
}

func FuzzEvaluators(f *testing.F) {
	for seed := range int64(60) {
		f.Add(seed, 2.5, 4.0)
	}
	f.Add(int64(7), 0.0, -1.0)
	f.Fuzz(func(t *testing.T, seed int64, a, b float64) {
		if a-a != 0 || b-b != 0 {
			return // a file cannot give NaN or Inf
		}
		w := &writer{r: rand.New(rand.NewSource(seed))}
		differs(t, strings.TrimSpace(w.number()), a, b)
	})
}
