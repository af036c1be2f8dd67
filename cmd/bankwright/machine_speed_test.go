package main

import (
	"maps"
	"math"
	"reflect"
	"slices"
	"testing"

	"github.com/expr-lang/expr/builtin"
	"github.com/expr-lang/expr/checker"
	"github.com/expr-lang/expr/compiler"
	"github.com/expr-lang/expr/conf"
	exprfile "github.com/expr-lang/expr/file"
	"github.com/expr-lang/expr/optimizer"
	"github.com/expr-lang/expr/parser"
	"github.com/expr-lang/expr/vm"

	"bankwright/engine"
	"bankwright/engine/check"
	"bankwright/engine/eval"
	"bankwright/engine/formula"
)

// onMachine is a formula of an item ready to run on expr's virtual machine: compiled
// and optimised with the types of its environment, in which its names have their
// values. All is done to the machine's advantage: environments are made beforehand
// and hold what the formula names, nothing else; the values of one step stand for those
// of all its steps, so that they are in the cache; and cells that have no value, on
// which the machine would fail, are not run. Bare, it also compares without our
// tolerance and never looks whether a result is a number; else it does what the rules
// mean, as eval's reference does.
type onMachine struct {
	program *vm.Program
	env     map[string]any
	cells   int // that have a value

	names  []string // what a new point would fill into the environment: numbers
	values []float64
}

// machined are the formulas of some quantities on the machine, and how many of their
// cells have a value and could not be run.
func machined(m *engine.Model, need map[*check.Quantity]bool, bare bool) (all []onMachine, failed int) {
	machine := vm.VM{}
	for _, g := range m.Order {
		for _, n := range g.Nodes {
			q := n.Quantity
			if !need[q] {
				continue
			}
			for item := range q.Kind.Items {
				e := q.Value
				if n.Item >= 0 {
					e = q.Own[item]
				}
				if n.Item >= 0 && n.Item != item {
					continue
				}
				run, row := machinedCell(m, q, item, e, bare)
				if run.cells == 0 {
					continue
				}
				out, err := machine.Run(run.program, run.env)
				if err != nil || !alike(m, out, m.Result.At(q, item, row)) {
					failed += run.cells
					continue
				}
				all = append(all, run)
			}
		}
	}
	return all, failed
}

// alike reports whether the machine's result is a value, but for its last digits.
func alike(m *engine.Model, out any, want float64) bool {
	switch v := out.(type) {
	case float64:
		return v == want || math.Abs(v-want) <= 1e-9*math.Abs(want)
	case int:
		return float64(v) == want
	case bool:
		return v == (want == 1)
	case string:
		return v == m.Texts[int(want)]
	}
	return false
}

// machinedCell is the formula of an item at the middle of the steps that have a value.
func machinedCell(m *engine.Model, q *check.Quantity, item int, e *check.Expr, bare bool) (onMachine, int) {
	var rows []int
	q.EachStep(func(_ []int, row int) {
		if v := m.Result.At(q, item, row); v == v {
			rows = append(rows, row)
		}
	})
	if len(rows) == 0 {
		return onMachine{}, 0
	}
	row := rows[len(rows)/2]
	w := machineWriter{m: m, item: item, axes: q.Axes, steps: q.StepsOf(row), env: map[string]any{}, bare: bare}
	tree := &parser.Tree{Node: w.node(e), Source: exprfile.NewSource("")}
	config := conf.New(w.env)
	for _, f := range formula.Functions {
		config.Functions["fn_"+f.Name] = &builtin.Function{Name: "fn_" + f.Name, Func: w.applied(f)}
	}
	for name, f := range meant {
		config.Functions[name] = &builtin.Function{Name: name, Func: f, Types: []reflect.Type{reflect.TypeOf(f)}}
	}
	if _, err := checker.Check(tree, config); err != nil {
		panic(m.CellName(eval.Cell{Quantity: q, Item: item}) + ": " + err.Error())
	}
	if err := optimizer.Optimize(&tree.Node, config); err != nil {
		panic(err)
	}
	program, err := compiler.Compile(tree, config)
	if err != nil {
		panic(err)
	}
	run := onMachine{program: program, env: w.env, cells: len(rows)}
	for name, v := range w.env {
		if x, ok := v.(float64); ok {
			run.names, run.values = append(run.names, name), append(run.values, x)
		}
	}
	return run, row
}

// drilled runs formulas on the machine, every cell of them, on all cores, for so many
// points; fill enters the numbers that a formula reads, as a point with other values
// must.
func drilled(all []onMachine, points int, fill bool) *side {
	s := goes(points, func() func(int) {
		machine := vm.VM{}
		own := slices.Clone(all)
		for i := range own {
			own[i].env = maps.Clone(own[i].env)
		}
		return func(int) {
			for i := range own {
				f := &own[i]
				for range f.cells {
					for j := 0; fill && j < len(f.names); j++ {
						f.env[f.names[j]] = f.values[j]
					}
					if _, err := machine.Run(f.program, f.env); err != nil {
						panic(err)
					}
				}
			}
		}
	})
	s.name = "machine"
	return s
}

// needed is what some quantities need, as the outline has it.
func needed(m *engine.Model, of ...*check.Quantity) map[*check.Quantity]bool {
	return newOutline(m, of).need
}

// reached are the quantities that some inputs reach.
func reached(m *engine.Model, from ...*check.Quantity) map[*check.Quantity]bool {
	o := &outline{m: m}
	out := map[*check.Quantity]bool{}
	for _, q := range from {
		out[q] = true
	}
	for again := true; again; {
		again = false
		for _, q := range m.Quantities {
			o.reads(q, func(r *check.Ref) {
				if out[r.Target] && !out[q] {
					out[q], again = true, true
				}
			})
		}
	}
	return out
}

// TestMachined: the formulas run on the machine, and nearly all give what they should.
func TestMachined(t *testing.T) {
	m := modelOf(t, "")
	for _, bare := range []bool{true, false} {
		all, failed := machined(m, needed(m, straightWanted(m)...), bare)
		cells := 0
		for _, r := range all {
			cells += r.cells
		}
		t.Logf("%d cells run, %d do not", cells, failed)
		if cells < 70000 || failed > cells/1000 {
			t.Errorf("%d cells run on the machine, %d do not", cells, failed)
		}
	}
}
