package eval

import (
	"slices"

	"bankwright/engine/check"
	"bankwright/engine/decl"
)

// need collects what formulas need of what is varied.
type need struct {
	p    *planner
	mask uint64
	uses []use
	axes []*decl.Axis // of the reader
	each []int        // the items of the aggregate around
}

func (n *need) slot(q *check.Quantity, item int) *slot {
	s := n.p.visit(q, item)
	if s != nil {
		n.mask |= s.level.mask
		n.uses = append(n.uses, use{slot: s})
	}
	return s
}

func (n *need) node(c *node, item int) {
	e := c.q.Value
	if c.item >= 0 {
		e = c.q.Own[c.item]
	}
	n.axes = c.q.Axes
	n.expr(e, item)
	n.axes = nil
	if c.start != nil {
		n.expr(c.q.Start, item)
	}
	for _, a := range c.q.Axes {
		n.limit(c.q.Kind, a, item)
	}
}

// limit is the count of the steps of an axis that are in use.
func (n *need) limit(k *check.Kind, a *decl.Axis, item int) {
	if e := k.Active[a]; e != nil {
		n.slot(e.Ref.Target, limitItem(e.Ref, item))
	}
}

func (n *need) expr(e *check.Expr, self int) {
	items := []int(nil)
	if e.Ref != nil {
		items = n.reach(e.Ref, self)
		if !e.Ref.Target.Type.Tabular() {
			for _, it := range items {
				if n.slot(e.Ref.Target, it) != nil {
					at := e.Op == check.Read && slices.Equal(e.Ref.Target.Axes, n.axes)
					last := &n.uses[len(n.uses)-1]
					last.step, last.prev = at && !e.Ref.Prev, at && e.Ref.Prev
				}
			}
		}
	}
	switch e.Op {
	case check.If, check.And, check.Or, check.Else:
		n.choice(e, self)
		return
	case check.Fold:
	default:
		for _, a := range e.Args {
			n.expr(a, self)
		}
		return
	}
	if e.Fold.Items != nil {
		outer := n.each
		n.each = n.members(e.Fold, self)
		n.expr(e.Args[0], self)
		n.each = outer
		return
	}
	axes := n.axes
	n.axes = nil // a series is read as a whole
	n.expr(e.Args[0], self)
	n.axes = axes
	if len(e.Fold.Over) > 0 {
		k := e.Args[0].Ref.Target.Kind
		for _, it := range n.reach(e.Args[0].Ref, self) {
			for _, a := range e.Fold.Over {
				n.limit(k, a, it)
			}
		}
	}
}

// choice is what a choice needs: where the same arm is taken at all points and steps,
// that arm alone.
func (n *need) choice(e *check.Expr, self int) {
	before := len(n.uses)
	n.expr(e.Args[0], self)
	arms := e.Args[1:]
	if len(n.uses) == before && alone(e.Args[0]) {
		v := n.p.value(e.Args[0], self)
		switch {
		case e.Op == check.If && v != v, e.Op == check.Else && v == v, e.Op == check.And && jumps(opJumpFalse, v), e.Op == check.Or && jumps(opJumpTrue, v):
			return
		case e.Op == check.If && v != 0:
			arms = arms[:1]
		case e.Op == check.If:
			arms = arms[1:]
		}
	}
	for _, a := range arms {
		n.expr(a, self)
	}
}

// alone reports whether an expression has one value for an item: it reads no series,
// no step and no item of an aggregate.
func alone(e *check.Expr) bool {
	ok := true
	e.Walk(func(e *check.Expr) {
		switch {
		case e.Op == check.Fold || e.Op == check.Step:
			ok = false
		case e.Ref != nil:
			ok = ok && len(e.Ref.Target.Axes) == 0 && e.Ref.Origin != check.Each && e.Ref.Origin != check.AxisItem
		}
	})
	return ok
}

// value is what an expression that stands alone gives for an item at the base point.
func (p *planner) value(e *check.Expr, self int) float64 {
	c := p.codes[e]
	if c == nil {
		c = compile(e, nil)
		p.codes[e] = c
	}
	p.w.item = self
	return p.w.run(c, 0)
}

// members are the items that an aggregate may go over.
func (n *need) members(f *check.FoldSpec, self int) []int {
	every := everyItem(f.Items)
	if f.Set == nil {
		return every
	}
	in := map[int]bool{}
	for _, it := range n.reach(f.Set, self) {
		if n.slot(f.Set.Target, it) != nil {
			return every
		}
		for _, m := range every {
			if n.p.w.cell(f.Set.Target, it, m) == 1 {
				in[m] = true
			}
		}
	}
	out := every[:0]
	for _, m := range every {
		if in[m] {
			out = append(out, m)
		}
	}
	return out
}

// reach are the items that a reference may lead to.
func (n *need) reach(ref *check.Ref, self int) []int {
	var items []int
	switch ref.Origin {
	case check.Self:
		items = []int{self}
	case check.One:
		items = []int{0}
	case check.Fixed:
		items = []int{ref.Item}
	case check.Each:
		items = n.each
	case check.AxisItem:
		items = everyItem(ref.Kind)
	}
	for _, hop := range ref.Hops {
		in := map[int]bool{}
		var next []int
		add := func(it int) {
			if !in[it] {
				in[it] = true
				next = append(next, it)
			}
		}
		for _, it := range items {
			if n.slot(hop, it) != nil {
				for to := range hop.To.Items {
					add(to)
				}
			} else if v := n.p.w.cell(hop, it, 0); v == v {
				add(int(v))
			}
		}
		items = next
	}
	return items
}

func everyItem(k *check.Kind) []int {
	out := make([]int, len(k.Items))
	for i := range out {
		out[i] = i
	}
	return out
}
