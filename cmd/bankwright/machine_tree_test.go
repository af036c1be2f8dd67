package main

import (
	"fmt"
	"math"
	"slices"

	"github.com/expr-lang/expr/ast"

	"bankwright/engine"
	"bankwright/engine/arith"
	"bankwright/engine/check"
	"bankwright/engine/decl"
	"bankwright/engine/formula"
)

// machineWriter makes expr's tree of a formula, its names being places in env.
type machineWriter struct {
	m     *engine.Model
	item  int
	axes  []*decl.Axis
	steps []int
	env   map[string]any
	each  []*check.Expr // what the body of an aggregate reads of its item
	bare  bool
}

func (w *machineWriter) name(v any) ast.Node {
	name := fmt.Sprintf("v%d", len(w.env))
	w.env[name] = v
	return &ast.IdentifierNode{Value: name}
}

var machineOps = map[check.Op]string{
	check.Add: "+", check.Sub: "-", check.Mul: "*", check.Div: "/", check.Pow: "**", check.Eq: "==", check.Ne: "!=",
	check.Lt: "<", check.Le: "<=", check.Gt: ">", check.Ge: ">=", check.And: "and", check.Or: "or", check.Else: "??",
}

func (w *machineWriter) node(e *check.Expr) ast.Node {
	switch e.Op {
	case check.Literal:
		switch e.Type {
		case decl.Boolean:
			return &ast.BoolNode{Value: e.Num != 0}
		case decl.Text:
			return &ast.StringNode{Value: w.m.Texts[int(e.Num)]}
		}
		return &ast.FloatNode{Value: e.Num}
	case check.Nothing:
		return &ast.FloatNode{Value: math.NaN()}
	case check.Step:
		return w.name(float64(w.steps[slices.Index(w.axes, e.Axis)] + 1))
	case check.Column:
		return w.name(w.column(e))
	case check.Read:
		if e.Ref.Origin == check.Each {
			w.each = append(w.each, e)
			return &ast.MemberNode{Node: &ast.PointerNode{}, Property: &ast.StringNode{Value: fmt.Sprintf("f%d", len(w.each)-1)}}
		}
		return w.name(w.read(e, -1, nil))
	case check.Neg, check.Not:
		return &ast.UnaryNode{Operator: map[check.Op]string{check.Neg: "-", check.Not: "not"}[e.Op], Node: w.node(e.Args[0])}
	case check.If:
		return &ast.ConditionalNode{Cond: w.node(e.Args[0]), Exp1: w.node(e.Args[1]), Exp2: w.node(e.Args[2])}
	case check.Call:
		return w.call(e)
	case check.Fold:
		return w.fold(e)
	case check.Else:
		var left any // a nil is what ?? asks for
		if v := w.read(e.Args[0], -1, nil); !missing(v) {
			left = v
		}
		return &ast.BinaryNode{Operator: "??", Left: w.name(left), Right: w.node(e.Args[1])}
	}
	return w.binary(e)
}

// binary is an operation of the machine, or one that does what the rules mean.
func (w *machineWriter) binary(e *check.Expr) ast.Node {
	left, right := w.node(e.Args[0]), w.node(e.Args[1])
	call := func(name string, args ...ast.Node) ast.Node {
		return &ast.CallNode{Callee: &ast.IdentifierNode{Value: name}, Arguments: args}
	}
	numbers := e.Args[0].Type == decl.Number && !w.bare
	switch {
	case numbers && (e.Op == check.Gt || e.Op == check.Ge):
		return call(map[check.Op]string{check.Gt: "below", check.Ge: "at_most"}[e.Op], right, left)
	case numbers && (e.Op == check.Lt || e.Op == check.Le):
		return call(map[check.Op]string{check.Lt: "below", check.Le: "at_most"}[e.Op], left, right)
	case numbers && e.Op == check.Eq:
		return call("same", left, right)
	case numbers && e.Op == check.Ne:
		return &ast.UnaryNode{Operator: "not", Node: call("same", left, right)}
	}
	out := &ast.BinaryNode{Operator: machineOps[e.Op], Left: left, Right: right}
	if numbers {
		return call("finite", out)
	}
	return out
}

// meant are the operations that the machine has not as the rules mean them.
var meant = map[string]func(...any) (any, error){
	"below":   comparing(arith.Below),
	"at_most": comparing(arith.AtMost),
	"same":    comparing(func(a, b float64) bool { return a == b || arith.Near(a, b) }),
	"finite": func(args ...any) (any, error) {
		if v, ok := args[0].(float64); ok && math.IsInf(v, 0) {
			return math.NaN(), nil
		}
		return args[0], nil
	},
}

// comparing is a comparison of numbers, counts of the machine being integers.
func comparing(f func(a, b float64) bool) func(...any) (any, error) {
	number := func(v any) float64 {
		if n, ok := v.(int); ok {
			return float64(n)
		}
		return v.(float64)
	}
	return func(args ...any) (any, error) { return f(number(args[0]), number(args[1])), nil }
}

func missing(v any) bool {
	x, ok := v.(float64)
	return ok && x != x
}

func (w *machineWriter) call(e *check.Expr) ast.Node {
	var args []ast.Node
	for _, a := range e.Args {
		args = append(args, w.node(a))
	}
	switch e.Fn.Name {
	case "min", "max", "abs", "round", "ceil", "floor":
		return &ast.BuiltinNode{Name: e.Fn.Name, Arguments: args}
	}
	return &ast.CallNode{Callee: &ast.IdentifierNode{Value: "fn_" + e.Fn.Name}, Arguments: args}
}

var machineFolds = map[check.FoldKind]string{
	check.Sum: "sum", check.Count: "count", check.Any: "any", check.All: "all", check.Min: "min", check.Max: "max",
	check.Mean: "mean", check.First: "first", check.Last: "last", check.Length: "len",
}

func (w *machineWriter) fold(e *check.Expr) ast.Node {
	name := machineFolds[e.Fold.Kind]
	if e.Fold.Kind == check.Length {
		return &ast.BuiltinNode{Name: name, Arguments: []ast.Node{w.name(w.column(e.Args[0]))}}
	}
	if e.Fold.Items == nil {
		return &ast.BuiltinNode{Name: name, Arguments: []ast.Node{w.name(w.series(e))}}
	}
	outer := w.each
	w.each = nil
	body := &ast.PredicateNode{Node: w.node(e.Args[0])}
	list := []any{}
	for each := range e.Fold.Items.Items {
		if set := e.Fold.Set; set != nil && w.m.Result.At(set.Target, w.reach(set, -1), each) != 1 {
			continue
		}
		item := map[string]any{}
		for i, r := range w.each {
			item[fmt.Sprintf("f%d", i)] = w.read(r, each, nil)
		}
		list = append(list, item)
	}
	w.each = outer
	over := []ast.Node{w.name(list), body}
	switch e.Fold.Kind {
	case check.Sum, check.Count, check.Any, check.All:
		return &ast.BuiltinNode{Name: name, Arguments: over}
	}
	return &ast.BuiltinNode{Name: name, Arguments: []ast.Node{&ast.BuiltinNode{Name: "map", Arguments: over}}}
}

// series is the list of values that an aggregate over steps takes in.
func (w *machineWriter) series(e *check.Expr) any {
	var numbers []float64
	var others []any
	target := e.Args[0].Ref.Target
	item := w.reach(e.Args[0].Ref, -1)
	target.EachStep(func(steps []int, _ int) {
		for i, a := range target.Axes {
			if slices.Contains(e.Fold.Over, a) {
				if steps[i] >= w.m.Result.Active(target.Kind, a, item) {
					return
				}
			} else if at := slices.Index(w.axes, a); at >= 0 && steps[i] != w.steps[at] {
				return
			}
		}
		switch v := w.read(e.Args[0], -1, steps).(type) {
		case float64:
			numbers = append(numbers, v)
		default:
			others = append(others, v)
		}
	})
	if others != nil {
		return others
	}
	return numbers
}

// reach is the item to which a reference leads, -1 where there is none.
func (w *machineWriter) reach(r *check.Ref, each int) int {
	item := map[check.Origin]int{check.Self: w.item, check.Fixed: r.Item, check.Each: each}[r.Origin]
	if r.Origin == check.AxisItem {
		item = w.steps[slices.Index(w.axes, r.Axis)]
	}
	for _, h := range r.Hops {
		v := w.m.Result.At(h, item, 0)
		if v != v {
			return -1
		}
		item = int(v)
	}
	return item
}

// read is what a reference leads to, at given steps or the current ones.
func (w *machineWriter) read(e *check.Expr, each int, steps []int) any {
	q, item := e.Ref.Target, w.reach(e.Ref, each)
	v := math.NaN()
	if item >= 0 && cells(q) > 0 {
		if steps == nil {
			for _, a := range q.Axes {
				steps = append(steps, max(0, w.stepOf(a)))
			}
		}
		row := q.Row(steps...)
		if e.Ref.Prev {
			row--
		}
		v = w.m.Result.At(q, item, row)
	}
	switch {
	case v != v && e.Type == decl.Boolean:
		return false
	case v != v && e.Type == decl.Text:
		return ""
	case e.Type == decl.Boolean:
		return v == 1
	case e.Type == decl.Text:
		return w.m.Texts[int(v)]
	}
	return v
}

func (w *machineWriter) stepOf(a *decl.Axis) int {
	if i := slices.Index(w.axes, a); i >= 0 {
		return w.steps[i]
	}
	return -1
}

// column is a table's column, or one of an item's own table.
func (w *machineWriter) column(e *check.Expr) []float64 {
	if e.Table == nil {
		if item := w.reach(e.Ref, -1); item >= 0 {
			if points := w.m.Result.PointsOf(e.Ref.Target, item); points != nil {
				return points[e.Col]
			}
		}
		return nil
	}
	var out []float64
	for _, r := range e.Table.Rows {
		v := r.Numbers[e.Col]
		if e.Table.Columns[e.Col].Text {
			v = float64(slices.Index(w.m.Texts, r.Texts[e.Col]))
		}
		out = append(out, v)
	}
	return out
}

// applied makes a registry function callable by the machine.
func (w *machineWriter) applied(f *formula.Function) func(...any) (any, error) {
	n := f.Columns()
	return func(args ...any) (any, error) {
		var lists [4][]float64
		var numbers [4]float64
		for i := range n {
			lists[i], _ = args[i].([]float64)
			if lists[i] == nil {
				return nil, fmt.Errorf("a value is missing")
			}
		}
		for i, a := range args[n:] {
			switch a := a.(type) {
			case float64:
				numbers[i] = a
			case int:
				numbers[i] = float64(a)
			case string:
				numbers[i] = float64(slices.Index(w.m.Texts, a))
			}
		}
		return f.Apply(lists[:n], numbers[:len(args)-n]), nil
	}
}
