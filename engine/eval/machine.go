package eval

import (
	"math"

	"bankwright/engine/arith"
	"bankwright/engine/check"
	"bankwright/engine/decl"
)

// Machine is a compiled program. It is immutable: any number of runs may use
// it at once.
type Machine struct {
	prog   *check.Program
	groups []group
	sites  []site // what is to be found in recordings and is known beforehand
	tables map[tableKey][]float64
	texts  map[string]int
}

type group struct {
	nodes    []node
	stepwise bool
	apart    bool // no item's values go into those of another one
}

// node computes one quantity for all items, or for one (item >= 0).
type node struct {
	q     *check.Quantity
	item  int
	value *code
	start *code // nil where there is none
	row   rowAt // of a step
}

// New compiles a program.
func New(p *check.Program) *Machine {
	m := &Machine{prog: p, sites: sites(p), tables: map[tableKey][]float64{}, texts: map[string]int{}}
	for i, t := range p.Texts {
		m.texts[t] = i
	}
	for _, t := range p.Model.Tables {
		m.enter(t)
	}
	for _, g := range p.Order {
		out := group{stepwise: g.Stepwise}
		for _, n := range g.Nodes {
			c := node{q: n.Quantity, item: n.Item, row: rowOf(n.Quantity, n.Quantity.Axes)}
			if n.Item >= 0 {
				c.value = compile(n.Quantity.Own[n.Item], n.Quantity.Axes)
			} else {
				c.value = compile(n.Quantity.Value, n.Quantity.Axes)
			}
			if n.Quantity.Start != nil {
				c.start = compile(n.Quantity.Start, n.Quantity.Axes[:len(n.Quantity.Axes)-1])
			}
			out.nodes = append(out.nodes, c)
		}
		out.apart = !g.Stepwise || apart(g)
		m.groups = append(m.groups, out)
	}
	return m
}

// apart reports whether quantities that run step by step together read each other
// only of the same item.
func apart(g check.Group) bool {
	inside := map[*check.Quantity]bool{}
	for _, n := range g.Nodes {
		inside[n.Quantity] = true
	}
	ok := true
	see := func(e *check.Expr) {
		if e.Ref != nil && inside[e.Ref.Target] {
			ok = ok && e.Ref.Origin == check.Self && len(e.Ref.Hops) == 0
		}
	}
	for _, n := range g.Nodes {
		if n.Item >= 0 {
			return false
		}
		n.Quantity.Value.Walk(see)
		n.Quantity.Start.Walk(see)
	}
	return ok
}

// enter keeps the columns of a table of the rules; texts are interned.
func (m *Machine) enter(t *decl.Table) {
	for col := range t.Columns {
		c := make([]float64, len(t.Rows))
		for i, row := range t.Rows {
			c[i] = row.Numbers[col]
			if t.Columns[col].Text {
				c[i] = float64(m.texts[row.Texts[col]])
			}
		}
		m.tables[tableKey{t, col}] = c
	}
}

type tableKey struct {
	table *decl.Table
	col   int
}

// Run evaluates every cell. An input that a change names keeps the changed value
// even where the file gives it a formula.
func (m *Machine) Run(changes ...Change) *Result {
	r := m.newResult(changes)
	changed := map[Cell]bool{}
	for _, c := range changes {
		changed[Cell{Quantity: c.Quantity, Item: c.Item}] = true
	}
	m.readAhead(r)
	w := &worker{r: r}
	for i := range m.groups {
		w.group(&m.groups[i], changed)
	}
	return r
}

// Run compiles and evaluates a program.
func Run(p *check.Program) *Result { return New(p).Run() }

// group runs what is evaluated together: quantity after quantity, or all of them
// at each step in turn.
func (w *worker) group(g *group, changed map[Cell]bool) {
	if !g.stepwise {
		for i := range g.nodes {
			w.nodes(g.nodes[i:i+1], changed)
		}
		return
	}
	w.nodes(g.nodes, changed)
}

// nodes runs nodes over the same steps, all of them at each.
func (w *worker) nodes(nodes []node, changed map[Cell]bool) {
	w.counts, w.first = w.counts[:0], w.first[:0]
	for i := range nodes {
		w.first = append(w.first, w.count(&nodes[i]))
	}
	nodes[0].q.EachStep(func(steps []int, _ int) {
		for i := range nodes {
			if n := &nodes[i]; n.start != nil && steps[len(steps)-1] == 0 {
				w.row(n, n.start, steps[:len(steps)-1], n.row.at(steps)-1, w.first[i], changed)
			}
		}
		for i := range nodes {
			w.row(&nodes[i], nodes[i].value, steps, nodes[i].row.at(steps), w.first[i], changed)
		}
	})
}

// count finds how many steps of each axis the items of a node use. It returns where
// they begin among the counts, -1 where no axis says so.
func (w *worker) count(n *node) int {
	first := -1
	for i, a := range n.q.Axes {
		if n.q.Kind.Active[a] == nil {
			continue
		}
		if first < 0 {
			first = len(w.counts)
			for range len(n.q.Axes) * len(n.q.Kind.Items) {
				w.counts = append(w.counts, math.MaxInt)
			}
		}
		for item := range n.q.Kind.Items {
			w.counts[first+item*len(n.q.Axes)+i] = w.active(n.q.Kind, a, item)
		}
	}
	return first
}

// row runs code for every item that n computes; counts is where those of n begin.
func (w *worker) row(n *node, c *code, steps []int, row, counts int, changed map[Cell]bool) {
	items := len(n.q.Kind.Items)
	col := w.r.cols[n.q.Index][row*items : (row+1)*items]
	w.q, w.axes, w.steps = n.q, c.axes, steps
	from, to := 0, items
	if n.item >= 0 {
		from, to = n.item, n.item+1
		if changed[Cell{Quantity: n.q, Item: n.item}] {
			return
		}
	}
	for w.item = from; w.item < to; w.item++ {
		col[w.item] = math.NaN()
		if counts < 0 || w.within(w.counts[counts+w.item*len(n.q.Axes):]) {
			col[w.item] = w.run(c, 0)
		}
	}
}

// within reports whether the current steps are among so many on each axis.
func (w *worker) within(counts []int) bool {
	for i, s := range w.steps {
		if s >= counts[i] {
			return false
		}
	}
	return true
}

// limitItem is the item whose count of steps an item obeys.
func limitItem(ref *check.Ref, item int) int {
	switch ref.Origin {
	case check.Self:
		return item
	case check.Fixed:
		return ref.Item
	}
	return 0
}

// inUse is how many steps of an axis a count leaves in use.
func inUse(count float64, a *decl.Axis) int {
	if count != count || count < 0 {
		return 0
	}
	return int(math.Min(arith.Floor(count), float64(a.Steps)))
}
