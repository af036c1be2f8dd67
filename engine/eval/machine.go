package eval

import (
	"math"

	"bankwright/engine/check"
	"bankwright/engine/decl"
)

// Machine is a compiled program. It is immutable: any number of runs may use
// it at once.
type Machine struct {
	prog   *check.Program
	groups []group
	sites  []site // what is to be found in recordings and is known beforehand
}

type group struct {
	nodes    []node
	stepwise bool
}

// node computes one quantity for all items, or for one (item >= 0).
type node struct {
	q     *check.Quantity
	item  int
	value *code
	start *code // nil where there is none
}

// New compiles a program.
func New(p *check.Program) *Machine {
	m := &Machine{prog: p, sites: sites(p)}
	for _, g := range p.Order {
		out := group{stepwise: g.Stepwise}
		for _, n := range g.Nodes {
			c := node{q: n.Quantity, item: n.Item}
			if n.Item >= 0 {
				c.value = compile(n.Quantity.Own[n.Item])
			} else {
				c.value = compile(n.Quantity.Value)
			}
			if n.Quantity.Start != nil {
				c.start = compile(n.Quantity.Start)
			}
			out.nodes = append(out.nodes, c)
		}
		m.groups = append(m.groups, out)
	}
	return m
}

// Run evaluates every cell at each point. An input that a change names keeps
// the changed value even where the file gives it a formula.
func (m *Machine) Run(points int, changes ...Change) *Result {
	r := newResult(m.prog, points, changes)
	changed := map[*check.Quantity]map[int]bool{}
	for _, c := range changes {
		if changed[c.Quantity] == nil {
			changed[c.Quantity] = map[int]bool{}
		}
		changed[c.Quantity][c.Item] = true
	}
	m.readAhead(r)
	w := &worker{r: r}
	for _, g := range m.groups {
		nodes := g.nodes
		if len(changes) > 0 {
			nodes = unchanged(nodes, changed)
		}
		if g.stepwise {
			w.stepwise(nodes)
			continue
		}
		for i := range nodes {
			w.whole(&nodes[i])
		}
	}
	return r
}

func unchanged(nodes []node, changed map[*check.Quantity]map[int]bool) []node {
	var out []node
	for _, n := range nodes {
		if n.item < 0 || !changed[n.q][n.item] {
			out = append(out, n)
		}
	}
	return out
}

// Run compiles and evaluates a program at its base point.
func Run(p *check.Program) *Result { return New(p).Run(1) }

// worker runs code over blocks of lanes.
type worker struct {
	r   *Result
	buf [][]float64

	q      *check.Quantity // whose formula runs
	item   int             // the only item, -1: all
	axes   []*decl.Axis    // current axes, parallel to steps
	steps  []int           // the current step on each axis; -1 on the last for the start
	limits []limit         // of the current axes, in room
	room   [4]limit
	each   int  // the item of the aggregate around
	lo, hi int  // lanes of the block
	single bool // there is never more than one lane
}

// whole runs a quantity, step after step.
func (w *worker) whole(n *node) {
	n.q.EachStep(func(steps []int, row int) {
		if n.start != nil && steps[len(steps)-1] == 0 {
			w.startRow(n, steps, row-1)
		}
		w.row(n, n.value, n.q.Axes, steps, row)
	})
}

// stepwise runs quantities that need each other's step before: at each step
// all of them, in order.
func (w *worker) stepwise(nodes []node) {
	if len(nodes) == 0 {
		return
	}
	nodes[0].q.EachStep(func(steps []int, _ int) {
		for i := range nodes {
			n := &nodes[i]
			if n.start != nil && steps[len(steps)-1] == 0 {
				w.startRow(n, steps, n.q.Row(steps...)-1)
			}
		}
		for i := range nodes {
			n := &nodes[i]
			w.row(n, n.value, n.q.Axes, steps, n.q.Row(steps...))
		}
	})
}

func (w *worker) startRow(n *node, steps []int, row int) {
	outer := len(n.q.Axes) - 1
	w.row(n, n.start, n.q.Axes[:outer], steps[:outer], row)
}

// row runs code over all lanes of one row of n's quantity.
func (w *worker) row(n *node, c *code, axes []*decl.Axis, steps []int, row int) {
	items := len(n.q.Kind.Items)
	lanes := w.r.Points * items
	w.q, w.item, w.axes, w.steps = n.q, n.item, axes, steps
	if n.item >= 0 {
		lanes = w.r.Points
	}
	col := w.r.cols[n.q.Index][row*w.r.Points*items:]
	w.findLimits()
	for w.lo = 0; w.lo < lanes; w.lo += block {
		w.hi = min(w.lo+block, lanes)
		var out []float64
		if w.anyInUse() { // of the steps that are laid out, most items use but a few
			out = w.run(c, 0)
		}
		for i := range w.hi - w.lo {
			lane, v := w.lo+i, math.NaN()
			if out != nil && w.inUse(lane) {
				v = out[i]
			}
			if n.item >= 0 {
				lane = lane*items + n.item
			}
			col[lane] = v
		}
	}
}

// at is the point and the item of a lane of the block's quantity.
func (w *worker) at(lane int) (point, item int) {
	if w.item >= 0 {
		return lane, w.item
	}
	n := len(w.q.Kind.Items)
	return lane / n, lane % n
}

// limit is how many steps of one of the current axes are in use, where the axis
// says so.
type limit struct {
	count   *check.Expr
	current int // place among the current axes
}

// findLimits finds the limits of the current axes.
func (w *worker) findLimits() {
	w.limits = w.room[:0]
	for i, a := range w.axes {
		if e := w.q.Kind.Active[a]; e != nil {
			w.limits = append(w.limits, limit{e, i})
		}
	}
}

// anyInUse reports whether any lane of the block is in use.
func (w *worker) anyInUse() bool {
	for lane := w.lo; lane < w.hi; lane++ {
		if w.inUse(lane) {
			return true
		}
	}
	return w.lo == w.hi
}

// inUse reports whether the current step is within the active ones.
func (w *worker) inUse(lane int) bool {
	for _, l := range w.limits {
		p, item := w.at(lane)
		if w.steps[l.current] >= w.r.count(l.count, w.axes[l.current], p, item) {
			return false
		}
	}
	return true
}
