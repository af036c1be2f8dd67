package main

import (
	"fmt"
	"slices"

	"bankwright/engine"
	"bankwright/engine/check"
	"bankwright/engine/decl"
)

// outline is what of a model is written out as Go and in which order: the quantities
// that wanted ones need, in passes. A pass is a loop over the items of a kind and the
// steps of some axes, through the body of which all that can be computed there goes.
type outline struct {
	m      *engine.Model
	need   map[*check.Quantity]bool
	wanted map[*check.Quantity]bool
	varies map[*check.Quantity]bool // a number that is given reaches it
	may    map[*check.Quantity]bool // may be without a value where it is in use
	stored map[*check.Quantity]bool // has a field; others are variables of their pass
	passes []*pass
	home   map[*check.Quantity]*pass
	pruned bool // what stands behind ?? is left out where it is never needed
}

type pass struct {
	kind    *check.Kind
	axes    []*decl.Axis
	members []*formulaOf
	varies  bool
	place   int
}

// formulaOf is a quantity of a pass and how it comes about.
type formulaOf struct {
	q     *check.Quantity
	value *check.Expr
	items []int // where it is an input that the scenario gives as a formula, for these
}

func newOutline(m *engine.Model, want []*check.Quantity) *outline {
	o := &outline{m: m, need: map[*check.Quantity]bool{}, wanted: map[*check.Quantity]bool{}, varies: map[*check.Quantity]bool{},
		may: map[*check.Quantity]bool{}, stored: map[*check.Quantity]bool{}, home: map[*check.Quantity]*pass{}}
	for _, q := range want {
		o.wanted[q] = true
		o.needs(q)
	}
	for _, q := range m.Quantities {
		if o.need[q] && q.Value == nil {
			o.given(q)
		}
	}
	for _, g := range m.Order {
		o.settle(g)
	}
	o.need, o.pruned = map[*check.Quantity]bool{}, true
	for _, q := range want {
		o.needs(q)
	}
	for _, g := range m.Order {
		o.put(g)
	}
	for i, p := range o.passes {
		p.place = i
	}
	o.store()
	return o
}

// cells is how many values a quantity has.
func cells(q *check.Quantity) int { return q.Rows() * len(q.Kind.Items) }

// walk calls f for an expression and every one below it that is needed.
func (o *outline) walk(e *check.Expr, f func(*check.Expr)) {
	if e == nil {
		return
	}
	f(e)
	args := e.Args
	if o.pruned && e.Op == check.Else && !o.absent(e.Args[0]) {
		args = args[:1]
	}
	for _, a := range args {
		o.walk(a, f)
	}
}

// reads calls f for what the formulas of a quantity read.
func (o *outline) reads(q *check.Quantity, f func(r *check.Ref)) {
	for _, e := range append(slices.Clone(q.Own), q.Value, q.Start) {
		o.readsOf(e, f)
	}
	for _, a := range q.Axes {
		if e := q.Kind.Active[a]; e != nil {
			f(e.Ref)
		}
	}
}

// readsOf calls f for all references in an expression.
func (o *outline) readsOf(e *check.Expr, f func(r *check.Ref)) {
	o.walk(e, func(e *check.Expr) {
		if e.Ref != nil {
			f(e.Ref)
		}
		if e.Fold == nil {
			return
		}
		if e.Fold.Set != nil {
			f(e.Fold.Set)
		}
		for _, a := range e.Fold.Over {
			if active := e.Args[0].Ref.Target.Kind.Active[a]; active != nil {
				f(active.Ref)
			}
		}
	})
}

func (o *outline) needs(q *check.Quantity) {
	if o.need[q] || len(q.Kind.Items) == 0 {
		return
	}
	o.need[q] = true
	o.reads(q, func(r *check.Ref) {
		o.needs(r.Target)
		for _, h := range r.Hops {
			o.needs(h)
		}
	})
}

// given is an input: it varies if it is a number that has a value, and may be absent
// if it is so in the scenario.
func (o *outline) given(q *check.Quantity) {
	o.stored[q] = true
	if q.Type.Tabular() {
		return
	}
	for item := range q.Kind.Items {
		for row := range q.Rows() {
			v := o.m.Result.At(q, item, row)
			o.may[q] = o.may[q] || v != v && q.Own[item] == nil
			o.varies[q] = o.varies[q] || v == v && q.Type == decl.Number && q.Inverse == nil
		}
	}
	if o.may[q] && (q.Type == decl.Reference || q.Type == decl.Set) {
		panic(q.Name + ": references that are not given cannot be written out")
	}
}

// settle finds out of the quantities of a group whether they vary and may be absent.
func (o *outline) settle(g check.Group) {
	for again := true; again; {
		again = false
		for _, n := range g.Nodes {
			q := n.Quantity
			if !o.need[q] {
				continue
			}
			o.reads(q, func(r *check.Ref) {
				v := o.varies[r.Target]
				for _, h := range r.Hops {
					v = v || o.varies[h]
				}
				if v && !o.varies[q] {
					o.varies[q], again = true, true
				}
			})
			may := false
			for _, e := range append(slices.Clone(q.Own), q.Value, q.Start) {
				may = may || e != nil && o.absent(e)
			}
			if may && !o.may[q] {
				o.may[q], again = true, true
			}
		}
	}
}

// put places the formulas of a group in the first pass in which all that they read
// is there.
func (o *outline) put(g check.Group) {
	var members []*formulaOf
	for _, n := range g.Nodes {
		q := n.Quantity
		if !o.need[q] || cells(q) == 0 {
			continue
		}
		if n.Item < 0 {
			members = append(members, &formulaOf{q: q, value: q.Value})
		} else if f := o.own(q, n.Item); f != nil {
			members = append(members, f)
		}
	}
	if len(members) == 0 {
		return
	}
	first := members[0].q
	from := 0
	for _, f := range members {
		from = max(from, o.earliest(f, members))
	}
	for _, p := range o.passes[min(from, len(o.passes)):] {
		if p.kind == first.Kind && slices.Equal(p.axes, first.Axes) && p.varies == o.varies[first] && o.fits(p) {
			o.join(p, members)
			return
		}
	}
	p := &pass{kind: first.Kind, axes: first.Axes, varies: o.varies[first], place: len(o.passes)}
	o.passes = append(o.passes, p)
	o.join(p, members)
}

// fits reports whether a pass is not yet too long to be read.
func (o *outline) fits(p *pass) bool { return len(p.axes) > 0 || len(p.members) < 16 }

// own is the formula that the scenario gives for items of an input, once the last of
// them comes; all must have the same text.
func (o *outline) own(q *check.Quantity, item int) *formulaOf {
	f := &formulaOf{q: q, value: q.Own[item]}
	for i, e := range q.Own {
		if e == nil {
			continue
		}
		if i > item {
			return nil
		}
		if q.OwnFormula(i).Text != q.OwnFormula(item).Text {
			panic(q.Name + ": formulas that differ from item to item cannot be written out")
		}
		f.items = append(f.items, i)
	}
	if len(f.items) == len(q.Kind.Items) {
		f.items = nil
	}
	return f
}

func (o *outline) join(p *pass, members []*formulaOf) {
	for _, f := range members {
		p.members = append(p.members, f)
		o.home[f.q] = p
	}
}

// earliest is the place of the first pass in which a formula may stand.
func (o *outline) earliest(f *formulaOf, together []*formulaOf) int {
	at := 0
	after := func(q *check.Quantity, here bool) {
		inside := slices.ContainsFunc(together, func(g *formulaOf) bool { return g.q == q })
		if p := o.home[q]; p != nil && !inside {
			place := p.place
			if !here {
				place++
			}
			at = max(at, place)
		}
		if inside && !here {
			panic(f.q.Name + ": what needs other items step by step cannot be written out")
		}
	}
	seen := func(e *check.Expr, beside bool) {
		collapsed := map[*check.Expr]bool{}
		o.walk(e, func(e *check.Expr) {
			if e.Op == check.Fold && e.Fold.Items == nil {
				collapsed[e.Args[0]] = true
			}
			if e.Op == check.Read {
				after(e.Ref.Target, beside && !collapsed[e] && o.beside(e.Ref, f.q))
			}
		})
		o.readsOf(e, func(r *check.Ref) {
			if !beside || !o.beside(r, f.q) {
				after(r.Target, false)
			}
			for _, h := range r.Hops {
				after(h, false)
			}
		})
	}
	seen(f.value, true)
	seen(f.q.Start, false)
	for _, a := range f.q.Axes {
		if e := f.q.Kind.Active[a]; e != nil {
			after(e.Ref.Target, false)
		}
	}
	return at
}

// beside reports whether a reference leads to a value of the same item and step, or
// of the step before.
func (o *outline) beside(r *check.Ref, q *check.Quantity) bool {
	self := r.Origin == check.Self || r.Origin == check.One && r.Kind == q.Kind
	return self && len(r.Hops) == 0 && slices.Equal(r.Target.Axes, q.Axes)
}

// store finds out which quantities are read outside their pass.
func (o *outline) store() {
	for q := range o.need {
		if o.wanted[q] || q.Value == nil {
			o.stored[q] = true
		}
		o.reads(q, func(r *check.Ref) {
			if o.home[q] != o.home[r.Target] || !o.beside(r, q) {
				o.stored[r.Target] = true
			}
			for _, h := range r.Hops {
				o.stored[h] = true
			}
		})
		for _, e := range append(slices.Clone(q.Own), q.Value, q.Start) {
			o.walk(e, func(e *check.Expr) {
				if e.Op == check.Fold && e.Fold.Items == nil && e.Args[0].Ref != nil {
					o.stored[e.Args[0].Ref.Target] = true
				}
			})
		}
		if q.Start != nil && o.home[q] == nil {
			panic(fmt.Sprint(q.Name, " has a start and no formula"))
		}
	}
}
