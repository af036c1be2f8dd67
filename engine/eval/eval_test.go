package eval_test

import (
	"math"
	"strings"
	"testing"
	"testing/fstest"

	"bankwright/engine/check"
	"bankwright/engine/decl"
	"bankwright/engine/eval"
)

const jam = `title = "Jam"
standard_rules = false
[rules.kind.jar]
many = "jars"
doc  = "A jar."
[rules.axis.batch]
steps  = 3
active = "batches"
doc    = "Batches."
[rules.jar.fruit]
unit = "kg"
doc  = "Fruit."
[rules.jar.sugar]
unit     = "kg"
optional = true
doc      = "Sugar."
[rules.jar.batches]
default = 2
doc     = "Batches in use."
[rules.jar.RESULT
doc = "What is tried."
[jar.plum]
fruit = "4 kg"
sugar = "1 kg"
[jar.pear]
fruit = "2 kg"
`

// compiled is a program with one rule, which stands for RESULT in jam.
func compiled(t *testing.T, rule string) (*eval.Machine, *check.Program) {
	t.Helper()
	text := strings.Replace(jam, "RESULT", rule, 1)
	m, list := decl.Load(decl.Sources{Files: fstest.MapFS{"jam.toml": {Data: []byte(text)}}, Scenario: "jam.toml"})
	p, more := check.Resolve(m)
	for _, d := range append(list, more...) {
		t.Fatal(d.Error())
	}
	return eval.New(p), p
}

// two is a constant behind a rule.
const two = "\ndoc = \"About all.\"\n[rules.constant.two]\nvalue = \"2 kg\""

// TestPoints runs one compiled program on several points at once: fruit of the
// plum jar is 4, 0 and -1 kg, sugar of the pear jar not given, 3 and 0 kg.
func TestPoints(t *testing.T) {
	none := math.NaN()
	for _, c := range []struct {
		name, rule string
		plum, pear [3]float64 // by point
	}{
		{"arithmetic", "x]\nunit = \"kg\"\nformula = \"fruit * 3 - fruit / 2\"", [3]float64{10, 0, -2.5}, [3]float64{5, 5, 5}},
		{"absent stays absent", "x]\nunit = \"kg\"\nformula = \"fruit + sugar\"", [3]float64{5, 1, 0}, [3]float64{none, 5, 2}},
		{"absent filled in", "x]\nunit = \"kg\"\nformula = \"sugar ?? fruit\"", [3]float64{1, 1, 1}, [3]float64{2, 3, 0}},
		{"division by zero", "x]\nformula = \"sugar / fruit\"", [3]float64{0.25, none, -1}, [3]float64{none, 1.5, 0}},
		{"an arm that is not taken", "x]\nformula = \"fruit > 0 ? 8 / (fruit / fruit) : 2\"", [3]float64{8, 2, 2}, [3]float64{8, 8, 8}},
		{"too large, thrown away", "x]\nformula = \"min(exp(300 * (sugar ?? fruit) / fruit), 5)\"", [3]float64{5, none, math.Exp(-300)}, [3]float64{5, 5, 1}},
		{"all jars", "x]\nunit = \"kg\"\nformula = \"sum(jars, .fruit - fruit)\"", [3]float64{-2, 2, 3}, [3]float64{2, -2, -3}},
		// Kleene, Introduction to Metamathematics (1952), section 64: one that is false makes
		// all of them false, one that is true makes any of them true, whatever is unknown.
		{"all, of false and unknown", "x]\ntype = \"boolean\"\nformula = \"all(jars, .sugar > two)\"" + two, [3]float64{0, 0, 0}, [3]float64{0, 0, 0}},
		{"any, of true and unknown", "x]\ntype = \"boolean\"\nformula = \"any(jars, .sugar < two)\"" + two, [3]float64{1, 1, 1}, [3]float64{1, 1, 1}},
		{"all, of true and unknown", "x]\ntype = \"boolean\"\nformula = \"all(jars, .sugar < two)\"" + two, [3]float64{none, 0, 1}, [3]float64{none, 0, 1}},
		{"the mean of all", "x]\nunit = \"kg\"\nformula = \"mean(map(jars, .fruit))\"", [3]float64{3, 1, 0.5}, [3]float64{3, 1, 0.5}},
		// Of one jar alone what is unknown on the left stays unknown: it is not asked whether
		// the right side would settle it.
		{"or, unknown on the left", "x]\ntype = \"boolean\"\nformula = \"sugar > two or fruit > two\"" + two, [3]float64{1, 0, 0}, [3]float64{none, 1, 0}},
		{"and, unknown on the left", "x]\ntype = \"boolean\"\nformula = \"sugar > two and fruit > two\"" + two, [3]float64{0, 0, 0}, [3]float64{none, 0, 0}},
		{"the steps in use", "x]\nover = \"batch\"\nformula = \"batch ** 2\"\n[rules.jar.y]\nformula = \"sum(x)\"", [3]float64{5, 14, 0}, [3]float64{5, 5, 5}},
		{"step by step", "x]\nover = \"batch\"\nstart = \"1\"\nformula = \"prev(x) * 3\"\n[rules.jar.y]\nformula = \"batches > 0 ? last(x) : 0\"", [3]float64{9, 27, 0}, [3]float64{9, 9, 9}},
	} {
		t.Run(c.name, func(t *testing.T) {
			m, p := compiled(t, c.rule)
			k := p.Kind("jar")
			q := k.Quantity("y")
			if q == nil {
				q = k.Quantity("x")
			}
			fruit, sugar, batches := eval.Cell{Quantity: k.Quantity("fruit")}, eval.Cell{Quantity: k.Quantity("sugar"), Item: 1}, eval.Cell{Quantity: k.Quantity("batches")}
			values := [][]float64{{4, 0, -1}, {none, 3, 0}, {2, 3, 0}}
			r := m.Run()
			sweep, err := r.Sweep([]eval.Axis{{Inputs: []eval.Cell{fruit, sugar, batches}, Steps: 3, Fill: eval.Values(values...)}}, []eval.Cell{{Quantity: q}, {Quantity: q, Item: 1}})
			if err != nil {
				t.Fatal(err)
			}
			check := func(point, item int, got float64) {
				want := []float64{c.plum[point], c.pear[point]}[item]
				if got != want && !(got != got && want != want) {
					t.Errorf("point %d, %s: %v, want %v", point, k.Items[item].Name, got, want)
				}
			}
			for point := range 3 {
				one := m.Run(eval.Change{Quantity: fruit.Quantity, Value: values[0][point]}, eval.Change{Quantity: sugar.Quantity, Item: 1, Value: values[1][point]}, eval.Change{Quantity: batches.Quantity, Value: values[2][point]})
				check(point, 0, one.At(q, 0, 0))
				check(point, 1, one.At(q, 1, 0))
			}
			err = sweep.Run(t.Context(), 0, 3, func(p *eval.Points) error {
				for i := range p.N {
					check(p.First+i, 0, p.At(0, i))
					check(p.First+i, 1, p.At(1, i))
				}
				return nil
			})
			if err != nil {
				t.Error(err)
			}
		})
	}
}

// TestWhy: a missing value is traced to its cause.
func TestWhy(t *testing.T) {
	for _, c := range []struct {
		name, formula string
		reason        eval.Reason
		tooLarge      bool
	}{
		{"not given", "fruit + sugar", eval.Absent, false},
		{"division by zero", "fruit / (fruit - fruit)", eval.Failed, false},
		{"too large a sum", "sum(jars, .fruit * 1e308 * 0.9) + sugar", eval.Failed, true},
		{"too large a product", "fruit * 1e200 * 1e200", eval.Failed, true},
		{"too large a quotient", "1e300 * fruit / 1e-300", eval.Failed, true},
		{"too large a power", "10 ** (400 * fruit / fruit)", eval.Failed, true},
		{"zero to a power below zero", "0 ** (0 - fruit / fruit)", eval.Failed, false},
		{"too large a function", "min(exp(1000 * fruit / fruit), 1)", eval.Failed, true},
		{"no logarithm", "ln(0 - fruit / fruit)", eval.Failed, false},
		{"not given, nor is what stands for it", "sugar ?? sugar", eval.Absent, false},
		{"not given, and what stands for it fails", "sugar ?? (fruit * 1e200 * 1e200)", eval.Failed, true},
		{"an arm that is taken", "batches > 1 ? fruit * 1e200 * 1e200 : sugar", eval.Failed, true},
		{"an arm that is not taken", "batches < 1 ? fruit * 1e200 * 1e200 : sugar", eval.Absent, false},
		{"there", "fruit", eval.Present, false},
	} {
		t.Run(c.name, func(t *testing.T) {
			unit := "unit = \"kg\"\n"
			if strings.Contains(c.formula, "fruit / fruit") || strings.Contains(c.formula, "- fruit)") {
				unit = ""
			}
			m, p := compiled(t, "x]\n"+unit+"formula = \""+c.formula+"\"")
			q := p.Kind("jar").Quantity("x")
			why := m.Run().Why(eval.Cell{Quantity: q, Item: 1})
			if why.Reason != c.reason || why.TooLarge != c.tooLarge {
				t.Errorf("reason %d, too large %v; want %d, %v", why.Reason, why.TooLarge, c.reason, c.tooLarge)
			}
		})
	}
}

// TestVariedStep: where a series that runs step by step with another one is varied, the
// other follows what is given, whichever of the two is asked for.
func TestVariedStep(t *testing.T) {
	m, p := compiled(t, "x]\nover = \"batch\"\nstart = \"1\"\nformula = \"prev(y) + 1\"\n[rules.jar.y]\nover = \"batch\"\nstart = \"1\"\nformula = \"prev(x) * 2\"")
	k := p.Kind("jar")
	x, y := k.Quantity("x"), k.Quantity("y")
	r := m.Run()
	given := eval.Cell{Quantity: x, Row: 1}
	for _, want := range [][]eval.Cell{{{Quantity: y, Row: 2}}, {{Quantity: x, Row: 1}, {Quantity: y, Row: 2}}} {
		s, err := r.Sweep([]eval.Axis{{Inputs: []eval.Cell{given}, Steps: 2, Fill: eval.Values([]float64{10, 20})}}, want)
		if err != nil {
			t.Fatal(err)
		}
		err = s.Run(t.Context(), 0, 2, func(p *eval.Points) error {
			for i := range p.N {
				if got := p.At(len(want)-1, i); got != float64(20*(p.First+i+1)) {
					t.Errorf("point %d: %v", p.First+i, got)
				}
			}
			return nil
		})
		if err != nil {
			t.Fatal(err)
		}
	}
}

// TestFaultOfWorker: a fault of what a sweep is given comes to whoever runs it, who may
// catch it.
func TestFaultOfWorker(t *testing.T) {
	m, p := compiled(t, "x]\nunit = \"kg\"\nformula = \"fruit * 2\"")
	k := p.Kind("jar")
	s, err := m.Run().Sweep([]eval.Axis{{Inputs: []eval.Cell{{Quantity: k.Quantity("fruit")}}, Steps: 5000, Fill: func([][]float64, int) { panic("no fruit") }}}, []eval.Cell{{Quantity: k.Quantity("x")}})
	if err != nil {
		t.Fatal(err)
	}
	defer func() {
		if got := recover(); got != "no fruit" {
			t.Errorf("%v", got)
		}
	}()
	err = s.Run(t.Context(), 0, 5000, func(*eval.Points) error { return nil })
	t.Errorf("it went on: %v", err)
}

// TestArmNotTaken: what stands in an arm that is taken at no point is not there at all
// where it would be computed with fewer axes, and does no harm.
func TestArmNotTaken(t *testing.T) {
	for _, arms := range []string{"batches > 1 ? sugar : q1", "batches < 1 ? q1 : sugar", "batches > 1 ? fruit : q1 + fruit"} {
		m, p := compiled(t, `q1]
unit = "kg"
formula = "fruit * 2"
[rules.jar.q2]
unit = "kg"
formula = "q1 + fruit"
[rules.jar.r]
unit = "kg"
formula = "`+arms+`"`)
		k := p.Kind("jar")
		cell := func(name string) eval.Cell { return eval.Cell{Quantity: k.Quantity(name)} }
		fruit, sugar := []float64{1, 2, 3}, []float64{10, 20, 30, 40}
		want := []eval.Cell{cell("q2"), cell("r")}
		s, err := m.Run().Sweep([]eval.Axis{
			{Inputs: []eval.Cell{cell("fruit")}, Steps: 3, Fill: eval.Values(fruit)},
			{Inputs: []eval.Cell{cell("sugar")}, Steps: 4, Fill: eval.Values(sugar)},
		}, want)
		if err != nil {
			t.Fatal(err)
		}
		points := 0
		err = s.Run(t.Context(), 0, s.Points(), func(p *eval.Points) error {
			for i := range p.N {
				points++
				one := m.Run(eval.Change{Quantity: k.Quantity("fruit"), Value: fruit[(p.First+i)/4]}, eval.Change{Quantity: k.Quantity("sugar"), Value: sugar[(p.First+i)%4]})
				for j, c := range want {
					if a, b := p.At(j, i), one.At(c.Quantity, c.Item, c.Row); a != b && (a == a || b == b) {
						t.Errorf("%s: %s at point %d is %v, alone %v", arms, c.Quantity.Name, p.First+i, a, b)
					}
				}
			}
			return nil
		})
		if err != nil || points != 12 {
			t.Errorf("%s: %d points, %v", arms, points, err)
		}
	}
}

// TestPartOfSweep: any part of a sweep gives of each of its points what that point gives
// alone, also where it begins or ends in the middle of a row of the last axis.
func TestPartOfSweep(t *testing.T) {
	m, p := compiled(t, "x]\nunit = \"kg\"\nformula = \"2 * fruit + sugar\"")
	k := p.Kind("jar")
	fruit, sugar := []float64{100, 200, 300}, []float64{1, 2, 3, 4}
	s, err := m.Run().Sweep([]eval.Axis{
		{Inputs: []eval.Cell{{Quantity: k.Quantity("fruit")}}, Steps: 3, Fill: eval.Values(fruit)},
		{Inputs: []eval.Cell{{Quantity: k.Quantity("sugar")}}, Steps: 4, Fill: eval.Values(sugar)},
	}, []eval.Cell{{Quantity: k.Quantity("x")}})
	if err != nil {
		t.Fatal(err)
	}
	for from := range s.Points() {
		for to := from; to <= s.Points(); to++ {
			next := from
			err := s.Run(t.Context(), from, to, func(p *eval.Points) error {
				for i := range p.N {
					if got, want := p.At(0, i), 2*fruit[next/4]+sugar[next%4]; p.First+i != next || got != want {
						t.Errorf("from %d to %d: point %d is %v, want point %d, %v", from, to, p.First+i, got, next, want)
					}
					next++
				}
				return nil
			})
			if err != nil || next != to {
				t.Errorf("from %d to %d: it ends at %d, %v", from, to, next, err)
			}
		}
	}
}
