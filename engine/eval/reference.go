package eval

import (
	"fmt"
	"math"

	"github.com/expr-lang/expr/ast"
	"github.com/expr-lang/expr/compiler"
	"github.com/expr-lang/expr/file"
	"github.com/expr-lang/expr/parser"
	"github.com/expr-lang/expr/vm"

	"bankwright/engine/check"
	"bankwright/engine/decl"
)

// Mismatch is a cell on which the column evaluator and expr's virtual machine
// do not agree to the last bit.
type Mismatch struct {
	Cell      Cell
	Columns   float64 // ours
	Reference any     // expr's result, or its error
}

// Verify runs every formula of every cell on expr's virtual machine and returns
// the cells where it differs from the columns, and how many cells were run. The
// machine gets the formula's own source, its names replaced by the values that
// they reach; comparisons and registry functions are ours there too, since
// their snapping is not expr's. Where a cell has no value the machine must fail
// as well, or one of the values it is given must be missing.
func (r *Result) Verify() (bad []Mismatch, cells int) {
	machine := vm.VM{}
	for _, g := range r.Program.Order {
		for _, n := range g.Nodes {
			q := n.Quantity
			for item := range q.Kind.Items {
				if n.Item >= 0 && n.Item != item {
					continue
				}
				for row := range q.Rows() {
					c := Cell{Quantity: q, Item: item, Row: row}
					if !r.spot(c).inUse() {
						continue
					}
					cells++
					if m, ok := r.verify(&machine, c); !ok {
						bad = append(bad, m)
					}
				}
			}
		}
	}
	return bad, cells
}

func (r *Result) verify(machine *vm.VM, c Cell) (Mismatch, bool) {
	ours := r.At(c.Quantity, c.Item, c.Row)
	ref, err := r.reference(c)
	if err != nil {
		return Mismatch{c, ours, err}, false
	}
	env, missing := ref.environment(r.spot(c))
	out, err := machine.Run(ref.program, env)
	if err != nil {
		out = err
	}
	theirs, ok := r.number(out)
	if ours != ours {
		return Mismatch{c, ours, out}, missing || !ok || math.IsNaN(theirs) || math.IsInf(theirs, 0)
	}
	same := math.Float64bits(ours) == math.Float64bits(theirs)
	if ours == 0 && theirs == 0 {
		same = true // expr counts in integers, whose zero has no sign
	}
	return Mismatch{c, ours, out}, ok && same
}

// number is a result of the machine as a column holds it.
func (r *Result) number(v any) (float64, bool) {
	switch v := v.(type) {
	case float64:
		return v, true
	case int:
		return float64(v), true
	case bool:
		return truth(v), true
	case string:
		i, ok := r.machine.texts[v]
		return float64(i), ok
	}
	return 0, false
}

// reference is a formula compiled for expr's machine.
type reference struct {
	program  *vm.Program
	bindings []binding
}

// binding is a name in the machine's environment and what stands behind it.
type binding struct {
	name string
	e    *check.Expr   // Read, Step, Column, or a Fold, whose values are a list
	each []*check.Expr // Fold over items: what the body reads of the item
}

type sourceKey struct {
	f *decl.Formula
	e *check.Expr
}

// reference compiles the formula of a cell, once for each formula.
func (r *Result) reference(c Cell) (*reference, error) {
	e := formulaOf(c)
	f := c.Quantity.SourceOf(e)
	key := sourceKey{f, e}
	if ref, ok := r.references[key]; ok {
		return ref, nil
	}
	tree, err := parser.Parse(f.Text)
	if err != nil {
		return nil, err
	}
	ref := &reference{}
	w := rewriter{ref: ref, prog: r.Program}
	root := w.rewrite(tree.Node, e)
	ref.program, err = compiler.Compile(&parser.Tree{Node: root, Source: file.NewSource(f.Text)}, nil)
	if err != nil {
		return nil, err
	}
	if r.references == nil {
		r.references = map[sourceKey]*reference{}
	}
	r.references[key] = ref
	return ref, nil
}

// rewriter walks expr's tree and ours side by side and replaces names.
type rewriter struct {
	ref  *reference
	prog *check.Program
	each *binding // the aggregate whose body is being rewritten
}

func (w *rewriter) binding(e *check.Expr) *ast.IdentifierNode {
	name := fmt.Sprintf("v%d", len(w.ref.bindings))
	w.ref.bindings = append(w.ref.bindings, binding{name: name, e: e})
	return &ast.IdentifierNode{Value: name}
}

func call(name string, args ...ast.Node) ast.Node {
	return &ast.CallNode{Callee: &ast.IdentifierNode{Value: name}, Arguments: args}
}

func (w *rewriter) rewrite(n ast.Node, e *check.Expr) ast.Node {
	switch e.Op {
	case check.Read:
		if e.Ref.Origin == check.Each {
			field := fmt.Sprintf("f%d", len(w.each.each))
			w.each.each = append(w.each.each, e)
			return &ast.MemberNode{Node: &ast.PointerNode{}, Property: &ast.StringNode{Value: field}}
		}
		return w.binding(e)
	case check.Nothing:
		return &ast.FloatNode{Value: math.NaN()}
	case check.Step, check.Column:
		return w.binding(e)
	case check.Fold:
		if e.Fold.Kind == check.Steps {
			return w.binding(e)
		}
		return w.fold(n, e)
	}
	switch n := n.(type) {
	case *ast.IntegerNode: // columns hold floats only
		return &ast.FloatNode{Value: float64(n.Value)}
	case *ast.UnaryNode:
		if n.Operator == "+" {
			return w.rewrite(n.Node, e)
		}
		return &ast.UnaryNode{Operator: n.Operator, Node: w.rewrite(n.Node, e.Args[0])}
	case *ast.ConditionalNode:
		return &ast.ConditionalNode{Cond: w.rewrite(n.Cond, e.Args[0]), Exp1: w.rewrite(n.Exp1, e.Args[1]), Exp2: w.rewrite(n.Exp2, e.Args[2])}
	case *ast.BinaryNode:
		return w.binary(n, e)
	case *ast.BuiltinNode:
		return w.call(n.Name, n.Arguments, e)
	case *ast.CallNode:
		return w.call(e.Fn.Name, n.Arguments, e)
	}
	return n
}

var comparisonNames = map[check.Op]string{
	check.Eq: "equal_", check.Ne: "unequal_", check.Lt: "below_", check.Le: "at_most_", check.Gt: "above_", check.Ge: "not_below_",
}

func (w *rewriter) binary(n *ast.BinaryNode, e *check.Expr) ast.Node {
	left, right := w.rewrite(n.Left, e.Args[0]), w.rewrite(n.Right, e.Args[1])
	if name, ok := comparisonNames[e.Op]; ok && e.Args[0].Type == decl.Number {
		return call(name, left, right)
	}
	switch e.Op {
	case check.Div:
		right = call("divisor_", right)
	case check.Pow: // a missing value stays missing, also as the base of x ** 0
		left, right = call("sound_", left), call("sound_", right)
	}
	out := &ast.BinaryNode{Operator: n.Operator, Left: left, Right: right}
	if e.Type == decl.Number {
		return call("finite_", out)
	}
	return out
}

func (w *rewriter) call(name string, argv []ast.Node, e *check.Expr) ast.Node {
	var args []ast.Node
	for i, a := range argv {
		args = append(args, w.rewrite(a, e.Args[i]))
	}
	if name == "min" || name == "max" || name == "abs" || name == "round" {
		for i := range args { // expr's min(NaN, 2) differs from min(2, NaN)
			args[i] = call("sound_", args[i])
		}
		return &ast.BuiltinNode{Name: name, Arguments: args}
	}
	out := call("fn_"+name, args...)
	if e.Type == decl.Text {
		out = call("text_", out)
	}
	return out
}

// fold rewrites an aggregate to expr's builtin over a list of values or items.
func (w *rewriter) fold(n ast.Node, e *check.Expr) ast.Node {
	list := w.binding(e)
	name, args := called(n)
	if e.Fold.Items == nil {
		return finiteSum(e, aggregate(name, list))
	}
	inner, direct := n.(*ast.BuiltinNode)
	if m, ok := args[0].(*ast.BuiltinNode); ok && len(args) == 1 {
		inner, direct = m, false
	}
	s := len(w.ref.bindings) - 1
	w.each = &binding{}
	body := w.rewrite(inner.Arguments[1].(*ast.PredicateNode).Node, e.Args[0])
	w.ref.bindings[s].each, w.each = w.each.each, nil
	over := &ast.BuiltinNode{Name: inner.Name, Arguments: []ast.Node{list, &ast.PredicateNode{Node: body}}}
	if direct {
		return finiteSum(e, over)
	}
	return finiteSum(e, aggregate(name, over))
}

// called is the name and the arguments of a call, of a builtin of expr or not.
func called(n ast.Node) (string, []ast.Node) {
	if c, ok := n.(*ast.CallNode); ok {
		return c.Callee.(*ast.IdentifierNode).Value, c.Arguments
	}
	b := n.(*ast.BuiltinNode)
	return b.Name, b.Arguments
}

// aggregate is a builtin of expr over a list, or the one that expr lacks.
func aggregate(name string, list ast.Node) ast.Node {
	if name == "deviation" {
		return call("deviation_", list)
	}
	return &ast.BuiltinNode{Name: name, Arguments: []ast.Node{list}}
}

// finiteSum lets the machine fail where a sum is too large to be a number.
func finiteSum(e *check.Expr, n ast.Node) ast.Node {
	if e.Fold.Kind == check.Sum || e.Fold.Kind == check.Mean || e.Fold.Kind == check.Deviation {
		return call("finite_", n)
	}
	return n
}
