package eval

import (
	"sync"

	"bankwright/engine/check"
)

// slot is what a sweep computes of one item's quantity, all its rows, because a
// varied input reaches it.
type slot struct {
	q     *check.Quantity
	item  int
	level *level
	rows  int
	vary  []variedRow // an input: the rows that are varied

	unit  *unit
	off   int       // first row in a block's memory
	one   bool      // its rows follow each other in the same place: each is read at its own step only
	last  int       // the last unit of its level that reads it
	kept  bool      // is read at a larger level, or wanted
	store []float64 // kept: its rows at all points of its level, row after row
	place []int     // kept: by row its place in store, -1 for a step that is not in use at any point
	keeps int       // rows in store
}

// variedRow is a row of an input that takes values from an axis.
type variedRow struct{ row, axis, input int }

// unit is what is computed at once: an item's quantity, or several that run step by
// step together.
type unit struct {
	members []member
	needs   []use
	level   *level
	back    bool // its members read steps before of each other

	place int    // in the order of its level
	batch *batch // with which it runs
}

// use is a slot that is read, and how.
type use struct {
	slot *slot
	step bool // only the row of the reader's own step is read,
	prev bool // or only that of the step before
}

// member is a quantity of an item and the code that computes it; n is nil for a
// varied input and for the inverse of a varied reference.
type member struct {
	n    *node
	slot *slot

	value, start *moves // the code, made ready
}

// level holds what depends on the same axes of a sweep, and is computed once for
// each combination of their steps.
type level struct {
	mask    uint64
	number  int   // its place among the levels
	axes    []int // in order, the last runs fastest
	points  int
	units   []*unit
	batches []*batch // the units, in order
	rows    int      // of a block's memory
	deep    int      // registers that its code needs
	// constants stand behind rows and registers among the values of a block.
	constants []float64
	size      int       // lanes of a block
	ready     bool      // it has been computed: a level without all axes
	blocks    sync.Pool // those that nobody works with, of all runs of the sweep
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
	out    int                   // how many cells are wanted
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
	p.out = len(want)
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
	p.room(q)
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

// room makes room for the slots of a quantity.
func (p *planner) room(q *check.Quantity) {
	if p.slots[q.Index] == nil {
		n := len(q.Kind.Items)
		p.slots[q.Index], p.state[q.Index] = make([]*slot, n), make([]uint8, n)
	}
}

// source is a varied input.
func (p *planner) source(q *check.Quantity, item int, rows []variedRow) {
	mask := uint64(0)
	for _, v := range rows {
		mask |= 1 << v.axis
	}
	p.add(mask, nil, []member{{slot: &slot{q: q, item: item, rows: q.Rows(), vary: rows}}})
}

// inverse is a set whose members are the items that refer to an item.
func (p *planner) inverse(q *check.Quantity, item int) {
	n := need{p: p}
	for i := range q.Inverse.Kind.Items {
		n.slot(q.Inverse, i)
	}
	p.add(n.mask, n.uses, []member{{slot: &slot{q: q, item: item, rows: q.Rows()}}})
}

// compute is a rule or an item's own formula, or the group in which it runs step
// by step; what of the group is varied stands still beside it.
func (p *planner) compute(at place, item int) {
	var members []member
	take := func(n *node, item int) {
		_, varied := p.varied[Cell{Quantity: n.q, Item: item}]
		if !varied && (n.item < 0 || n.item == item) {
			members = append(members, member{n: n, slot: &slot{q: n.q, item: item, rows: n.q.Rows()}})
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
	if u := p.add(n.mask, n.uses, members); u != nil {
		u.back = at.group.stepwise
	}
}

func (p *planner) mark(s *slot, state uint8, put *slot) {
	q := s.q
	p.room(q)
	p.slots[q.Index][s.item], p.state[q.Index][s.item] = put, state
}

// add makes a unit, unless nothing that is varied reaches it.
func (p *planner) add(mask uint64, needs []use, members []member) *unit {
	if mask == 0 || len(members) == 0 {
		return nil
	}
	lv := p.levelOf(mask)
	u := &unit{members: members, needs: needs, level: lv}
	for _, m := range members {
		m.slot.level, m.slot.unit = lv, u
		p.mark(m.slot, settled, m.slot)
	}
	p.units = append(p.units, u)
	return u
}
