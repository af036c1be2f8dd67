package eval

import (
	"bankwright/engine/check"
	"bankwright/engine/decl"
)

// slot is what a sweep computes of one item's quantity, all its rows, because a
// varied input reaches it.
type slot struct {
	q     *check.Quantity
	item  int
	level *level
	rows  int
	vary  []variedRow // an input: the rows that are varied

	off   int       // first row in a block's memory
	last  int       // the last unit of its level that reads it
	kept  bool      // is read at a larger level, or wanted
	store []float64 // kept: its rows at all points of its level, row after row
}

// variedRow is a row of an input that takes values from an axis.
type variedRow struct{ row, axis, input int }

// unit is what is computed at once: an item's quantity, or several that run step by
// step together.
type unit struct {
	members []member
	needs   []*slot
	level   *level
}

// member is a quantity of an item and the code that computes it; n is nil for a
// varied input and for the inverse of a varied reference.
type member struct {
	n    *node
	slot *slot
}

// level holds what depends on the same axes of a sweep, and is computed once for
// each combination of their steps.
type level struct {
	mask   uint64
	axes   []int // in order, the last runs fastest
	points int
	units  []*unit
	rows   int // of a block's memory
	size   int // lanes of a block
}

// planner finds out what a sweep must compute, from what is wanted back to the
// inputs that are varied. Where a reference leads does not change unless it is
// varied itself, so that every item is followed alone.
type planner struct {
	r        *Result
	w        worker // stands at the base point
	axes     []Axis
	all      uint64
	promoted map[uint64]bool // masks that are computed at the level of all axes
	levels   map[uint64]*level

	varied map[Cell][]variedRow // by quantity and item
	place  map[Cell]place       // by quantity and item, -1 where all have one formula
	slots  [][]*slot            // by quantity and item; nil: the same at all points
	state  [][]uint8
	units  []*unit
	codes  map[*check.Expr]*code // conditions
}

// place is where a quantity is computed.
type place struct {
	group *group
	node  *node
}

const (
	unknown uint8 = iota
	underway
	settled
)

func newPlanner(r *Result, axes []Axis) *planner {
	p := &planner{r: r, w: worker{r: r}, axes: axes, promoted: map[uint64]bool{}}
	p.varied, p.place, p.codes = map[Cell][]variedRow{}, map[Cell]place{}, map[*check.Expr]*code{}
	for i, a := range axes {
		p.all |= 1 << i
		for j, c := range a.Inputs {
			key := Cell{Quantity: c.Quantity, Item: c.Item}
			p.varied[key] = append(p.varied[key], variedRow{c.Row, i, j})
		}
	}
	for i := range r.machine.groups {
		g := &r.machine.groups[i]
		for j := range g.nodes {
			n := &g.nodes[j]
			p.place[Cell{Quantity: n.q, Item: n.item}] = place{g, n}
		}
	}
	return p
}

// plan makes the slots of everything that the wanted cells need.
func (p *planner) plan(want []Cell) {
	n := len(p.r.Program.Quantities)
	p.slots, p.state, p.units, p.levels = make([][]*slot, n), make([][]uint8, n), nil, map[uint64]*level{}
	p.levelOf(p.all)
	for _, c := range want {
		if s := p.visit(c.Quantity, c.Item); s != nil {
			s.kept = true
		}
	}
}

func (p *planner) levelOf(mask uint64) *level {
	if p.promoted[mask] {
		mask = p.all
	}
	lv := p.levels[mask]
	if lv == nil {
		lv = &level{mask: mask, points: 1}
		for i, a := range p.axes {
			if mask&(1<<i) != 0 {
				lv.axes = append(lv.axes, i)
				lv.points *= a.Steps
			}
		}
		p.levels[mask] = lv
	}
	return lv
}

// visit settles whether a varied input reaches an item's quantity.
func (p *planner) visit(q *check.Quantity, item int) *slot {
	if p.slots[q.Index] == nil {
		n := len(q.Kind.Items)
		p.slots[q.Index], p.state[q.Index] = make([]*slot, n), make([]uint8, n)
	}
	if p.state[q.Index][item] != unknown {
		return p.slots[q.Index][item]
	}
	p.state[q.Index][item] = settled
	if rows := p.varied[Cell{Quantity: q, Item: item}]; rows != nil {
		p.source(q, item, rows)
	} else if q.Inverse != nil {
		p.inverse(q, item)
	} else if at, ok := p.place[Cell{Quantity: q, Item: -1}]; ok {
		p.compute(at, item)
	} else if at, ok := p.place[Cell{Quantity: q, Item: item}]; ok {
		p.compute(at, item)
	}
	return p.slots[q.Index][item]
}

// source is a varied input.
func (p *planner) source(q *check.Quantity, item int, rows []variedRow) {
	mask := uint64(0)
	for _, v := range rows {
		mask |= 1 << v.axis
	}
	p.add(mask, nil, []member{{nil, &slot{q: q, item: item, rows: q.Rows(), vary: rows}}})
}

// inverse is a set whose members are the items that refer to an item.
func (p *planner) inverse(q *check.Quantity, item int) {
	n := need{p: p}
	for i := range q.Inverse.Kind.Items {
		n.slot(q.Inverse, i)
	}
	p.add(n.mask, n.slots, []member{{nil, &slot{q: q, item: item, rows: q.Rows()}}})
}

// compute is a rule or an item's own formula, or the group in which it runs step
// by step.
func (p *planner) compute(at place, item int) {
	var members []member
	take := func(n *node, item int) {
		if n.item < 0 || n.item == item {
			members = append(members, member{n, &slot{q: n.q, item: item, rows: n.q.Rows()}})
		}
	}
	nodes := at.group.nodes
	if !at.group.stepwise {
		nodes = []node{*at.node}
	}
	for i := range nodes {
		if at.group.apart {
			take(&nodes[i], item)
			continue
		}
		for it := range nodes[i].q.Kind.Items {
			take(&nodes[i], it)
		}
	}
	for _, m := range members {
		p.mark(m.slot, underway, nil)
	}
	n := need{p: p}
	for _, m := range members {
		n.node(m.n, m.slot.item)
	}
	for _, m := range members {
		p.mark(m.slot, settled, nil)
	}
	p.add(n.mask, n.slots, members)
}

func (p *planner) mark(s *slot, state uint8, put *slot) {
	q := s.q
	if p.slots[q.Index] == nil {
		n := len(q.Kind.Items)
		p.slots[q.Index], p.state[q.Index] = make([]*slot, n), make([]uint8, n)
	}
	p.slots[q.Index][s.item], p.state[q.Index][s.item] = put, state
}

// add makes a unit, unless nothing that is varied reaches it.
func (p *planner) add(mask uint64, needs []*slot, members []member) {
	if mask == 0 || len(members) == 0 {
		return
	}
	lv := p.levelOf(mask)
	for _, m := range members {
		m.slot.level = lv
		p.mark(m.slot, settled, m.slot)
	}
	p.units = append(p.units, &unit{members, needs, lv})
}

// need collects what formulas need of what is varied.
type need struct {
	p     *planner
	mask  uint64
	slots []*slot
	each  []int // the items of the aggregate around
}

func (n *need) slot(q *check.Quantity, item int) *slot {
	s := n.p.visit(q, item)
	if s != nil {
		n.mask |= s.level.mask
		n.slots = append(n.slots, s)
	}
	return s
}

func (n *need) node(c *node, item int) {
	e := c.q.Value
	if c.item >= 0 {
		e = c.q.Own[c.item]
	}
	n.expr(e, item)
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
				n.slot(e.Ref.Target, it)
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
	n.expr(e.Args[0], self)
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
	before := len(n.slots)
	n.expr(e.Args[0], self)
	arms := e.Args[1:]
	if len(n.slots) == before && alone(e.Args[0]) {
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
