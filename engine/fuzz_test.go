package engine_test

import (
	"fmt"
	"math"
	"math/rand"
	"slices"
	"strings"
	"testing"
	"testing/fstest"

	"bankwright/engine/check"
	"bankwright/engine/decl"
	"bankwright/engine/diag"
	"bankwright/engine/eval"
	"bankwright/engine/formula"
	"bankwright/engine/oracle"
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
	prog, list := resolved(formula, a, b)
	if prog == nil {
		t.Fatalf("%s: %v", formula, list)
	}
	compared(t, prog, formula, a, b)
}

// resolved is the model with a formula; nil where that has faults.
func resolved(formula string, a, b float64) (*check.Program, diag.List) {
	file := fmt.Sprintf(fuzzModel, formula, a, b)
	declared, list := decl.Load(decl.Sources{Files: fstest.MapFS{"x.toml": {Data: []byte(file)}}, Scenario: "x.toml"})
	if list.HasErrors() {
		return nil, list
	}
	return check.Resolve(declared)
}

func compared(t *testing.T, prog *check.Program, formula string, a, b float64) {
	t.Helper()
	base := eval.Run(prog)
	bad, _ := base.Verify()
	for _, x := range bad {
		t.Errorf("%s\nitem %d: columns %v, reference %v", formula, x.Cell.Item, x.Columns, x.Reference)
	}
	if !t.Failed() {
		sweeps(t, formula, base, a, b)
	}
}

// sweeps holds every cell at every point of a grid against a run of that point alone:
// numbers, a truth, a text and a reference are varied, some together, and one input is
// taken away.
func sweeps(t *testing.T, formula string, base *eval.Result, a, b float64) {
	t.Helper()
	k := base.Program.Kind("one")
	cell := func(name string, item int) eval.Cell { return eval.Cell{Quantity: k.Quantity(name), Item: item} }
	none := math.NaN()
	axes := []eval.Axis{
		{Inputs: []eval.Cell{cell("other", 0), cell("mood", 1)}, Steps: 3, Fill: eval.Values([]float64{0, 1, 2}, []float64{text(base, "calm"), text(base, "wild"), text(base, "calm")})},
		{Inputs: []eval.Cell{cell("yes", 0)}, Steps: 2, Fill: eval.Values([]float64{0, 1})},
		{Inputs: []eval.Cell{cell("a", 0), cell("b", 1), cell("maybe", 0), cell("c", 2)}, Steps: 7, Fill: eval.Values(
			[]float64{0, 1, -2, a, b, 1e200, 3}, []float64{b, 0, 4, 4, 1e-3, -1, a}, []float64{none, 2, 0, none, 5, 1, -1}, []float64{0, 0.1, 5, 1, -3, 2, 2})},
	}
	var want []eval.Cell
	for _, q := range base.Program.Quantities {
		for item := range q.Kind.Items {
			for row := range q.Rows() {
				want = append(want, eval.Cell{Quantity: q, Item: item, Row: row})
			}
		}
	}
	holdSweep(t, formula, base, axes, want)
	// one cell alone: memory is used again that others have left
	holdSweep(t, formula, base, axes, []eval.Cell{cell("result", 1)})
}

// holdSweep holds the wanted cells of a sweep against single runs.
func holdSweep(t *testing.T, formula string, base *eval.Result, axes []eval.Axis, want []eval.Cell) {
	t.Helper()
	s, err := base.Sweep(axes, want)
	if err != nil {
		t.Fatal(err)
	}
	machine, steps := eval.New(base.Program), make([]int, len(axes))
	err = s.Run(t.Context(), 0, s.Points(), func(p *eval.Points) error {
		for i := range p.N {
			s.StepsAt(p.First+i, steps)
			one := machine.Run(changesAt(axes, steps)...)
			for j, c := range want {
				x, y := p.At(j, i), one.At(c.Quantity, c.Item, c.Row)
				if math.Float64bits(x) != math.Float64bits(y) && !(x != x && y != y) {
					t.Fatalf("%s\nsteps %v: %s of %d is %v in a sweep, %v alone", formula, steps, c.Quantity.Name, c.Item, x, y)
				}
			}
			if bad, _ := one.Verify(); len(bad) > 0 && p.First+i == 20 {
				t.Fatalf("%s\nsteps %v: item %d: columns %v, reference %v", formula, steps, bad[0].Cell.Item, bad[0].Columns, bad[0].Reference)
			}
		}
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
}

// text is how a program counts a text.
func text(r *eval.Result, s string) float64 { return float64(slices.Index(r.Program.Texts, s)) }

func FuzzEvaluators(f *testing.F) {
	for seed := range int64(60) {
		f.Add(seed, 2.5, 4.0)
	}
	f.Add(int64(7), 0.0, -1.0)
	f.Fuzz(func(t *testing.T, seed int64, a, b float64) {
		defer oracle.Within(t, oracle.Fuzzed)()
		if a-a != 0 || b-b != 0 {
			return // a file cannot give NaN or Inf
		}
		w := &writer{r: rand.New(rand.NewSource(seed))}
		differs(t, strings.TrimSpace(w.number()), a, b)
	})
}

// FuzzFormulas: whatever is written as a formula is refused with what to do, or gives
// the same in both evaluators, at every point.
func FuzzFormulas(f *testing.F) {
	for seed := range int64(60) {
		w := &writer{r: rand.New(rand.NewSource(seed))}
		f.Add(w.number())
	}
	for _, fn := range formula.Functions {
		f.Add(fn.Name + "(" + strings.TrimSuffix(strings.Repeat("a, ", max(1, len(fn.Params))), ", ") + ")")
	}
	for _, text := range []string{"a ?? 1", "maybe ?? absent", "prev(run)", "first(run) - last(run)", "len(run)", "interpolate(run, run, a)", "yes ? a : absent", "other.other.other.a", "count(mine, .yes)", "-0.0 * a", "1 / c", "mood == \"wild\" ? a : b", "a = b", "sum(ones, sum(mine, .a))"} {
		f.Add(text)
	}
	f.Fuzz(func(t *testing.T, text string) {
		defer oracle.Within(t, oracle.Fuzzed)()
		if strings.ContainsAny(text, "'\r") || len(text) > 300 {
			return // these would be more than a formula in the file
		}
		prog, list := resolved(text, 2.5, 4)
		if prog == nil {
			for _, d := range list {
				if d.Summary == "" || d.Mend == "" {
					t.Errorf("%q: %+v", text, d)
				}
			}
			return
		}
		compared(t, prog, text, 2.5, 4)
	})
}
