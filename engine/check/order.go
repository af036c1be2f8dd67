package check

import (
	"slices"
	"strings"

	"bankwright/engine/decl"
	"bankwright/engine/diag"
	"bankwright/engine/graph"
)

// edge is a dependency of one node on another.
type edge struct {
	to            int
	prev          bool
	formula       *decl.Formula // that names it; nil where none does
	start, length int           // where it does
}

func (e edge) at() diag.Pos {
	if e.formula == nil {
		return diag.Pos{}
	}
	return e.formula.Pos(e.start, e.length)
}

// ordering is the graph of what must be evaluated before what. Quantities are
// ordered, not cells: a rule is one node for all items, and an input is a node
// only where the scenario gives an item a formula.
type ordering struct {
	c     *checker
	nodes []Node
	rule  map[*Quantity]int
	own   map[*Quantity]map[int]int // by item
	edges [][]edge
}

// order finds the order of evaluation and reports cycles.
func (c *checker) order() {
	o := &ordering{c: c, rule: map[*Quantity]int{}, own: map[*Quantity]map[int]int{}}
	o.collect()
	for i := range o.nodes {
		o.link(i)
	}
	plain := func(i int) []int { return o.targets(i, true) }
	for _, comp := range graph.Components(len(o.nodes), plain) {
		if g, ok := o.group(comp); ok {
			c.prog.Order = append(c.prog.Order, g)
		}
	}
}

func (o *ordering) collect() {
	for _, q := range o.c.prog.Quantities {
		if q.Value != nil {
			o.rule[q] = len(o.nodes)
			o.nodes = append(o.nodes, Node{q, -1})
			continue
		}
		for i, e := range q.Own {
			if e == nil {
				continue
			}
			if o.own[q] == nil {
				o.own[q] = map[int]int{}
			}
			o.own[q][i] = len(o.nodes)
			o.nodes = append(o.nodes, Node{q, i})
		}
	}
	o.edges = make([][]edge, len(o.nodes))
}

// link adds the edges from a node to what its formula needs.
func (o *ordering) link(i int) {
	n := o.nodes[i]
	f, e := n.Quantity.Formula, n.Quantity.Value
	if n.Item >= 0 {
		f, e = n.Quantity.OwnFormula(n.Item), n.Quantity.Own[n.Item]
	}
	o.needs(i, f, e)
	o.needs(i, n.Quantity.Quantity.Start, n.Quantity.Start)
	for _, a := range n.Quantity.Axes {
		o.needs(i, a.Active, n.Quantity.Kind.Active[a])
	}
}

func (o *ordering) needs(i int, f *decl.Formula, e *Expr) {
	e.Walk(func(e *Expr) {
		if e.Ref != nil {
			o.need(i, f, e.At.Start, e.At.Len, e.Ref)
		}
		if e.Op != Fold {
			return
		}
		if e.Fold.Set != nil {
			o.need(i, f, e.At.Start, e.At.Len, e.Fold.Set)
		}
		for _, a := range e.Fold.Over {
			if act := e.Args[0].Ref.Target.Kind.Active[a]; act != nil {
				o.need(i, f, e.At.Start, e.At.Len, act.Ref)
			}
		}
	})
}

func (o *ordering) need(i int, f *decl.Formula, start, length int, r *Ref) {
	if j, ok := o.rule[r.Target]; ok {
		o.edges[i] = append(o.edges[i], edge{j, r.Prev, f, start, length})
		return
	}
	items := o.own[r.Target]
	only := -1 // the item that is meant, where it is known
	if len(r.Hops) == 0 && r.Origin == Fixed {
		only = r.Item
	}
	if len(r.Hops) == 0 && r.Origin == Self {
		only = o.nodes[i].Item
	}
	for item := range r.Target.Kind.Items {
		if j, ok := items[item]; ok && (only < 0 || only == item) {
			o.edges[i] = append(o.edges[i], edge{j, r.Prev, f, start, length})
		}
	}
}

// targets are the nodes that i needs, with or without those of the step before.
func (o *ordering) targets(i int, withPrev bool) []int {
	var out []int
	for _, e := range o.edges[i] {
		if withPrev || !e.prev {
			out = append(out, e.to)
		}
	}
	return out
}

// group makes a Group of nodes that reach each other.
func (o *ordering) group(comp []int) (Group, bool) {
	if len(comp) == 1 && !o.reaches(comp[0], comp[0], true) {
		return Group{Nodes: []Node{o.nodes[comp[0]]}}, true
	}
	inside := map[int]bool{}
	for _, i := range comp {
		inside[i] = true
	}
	now := func(i int) []int {
		var out []int
		if inside[i] {
			for _, j := range o.targets(i, false) {
				if inside[j] {
					out = append(out, j)
				}
			}
		}
		return out
	}
	circles := false
	for range mostRounds {
		g := Group{Stepwise: true}
		round := false
		for _, part := range within(comp, now) {
			if !inside[part[0]] {
				continue
			}
			if len(part) == 1 && !o.reaches(part[0], part[0], false) {
				g.Nodes = append(g.Nodes, o.nodes[part[0]])
				continue
			}
			round = true
			path := graph.Cycle(part, now)
			o.cycle(path)
			for _, i := range path {
				delete(inside, i)
			}
		}
		if circles = circles || round; !round {
			return g, !circles && o.alike(g)
		}
	}
	return Group{}, false
}

// within are the components among some nodes, in order, that are sorted and have edges
// to each other only.
func within(nodes []int, edges func(i int) []int) [][]int {
	place := make(map[int]int, len(nodes))
	for p, i := range nodes {
		place[i] = p
	}
	parts := graph.Components(len(nodes), func(p int) []int {
		to := edges(nodes[p])
		for k, j := range to {
			to[k] = place[j]
		}
		return to
	})
	for _, part := range parts {
		for k, p := range part {
			part[k] = nodes[p]
		}
	}
	return parts
}

// mostRounds is how often what is left of a group is searched for one more
// circle: each is told that has no quantity in common with one told before.
const mostRounds = 10

func (o *ordering) reaches(i, j int, withPrev bool) bool {
	for _, t := range o.targets(i, withPrev) {
		if t == j {
			return true
		}
	}
	return false
}

// alike checks that what runs step by step together runs over the same steps.
func (o *ordering) alike(g Group) bool {
	if slices.ContainsFunc(g.Nodes, o.faulty) {
		return false
	}
	first := g.Nodes[0].Quantity
	for _, n := range g.Nodes[1:] {
		same := len(n.Quantity.Axes) == len(first.Axes)
		for i := 0; same && i < len(first.Axes); i++ {
			same = n.Quantity.Axes[i] == first.Axes[i]
		}
		if !same {
			o.c.list.Errorf(n.Quantity.At, "cycle", "Let them all run over the same axes.", "%s and %s need each other step by step, but run over different axes", first.Name, n.Quantity.Name)
			return false
		}
	}
	return true
}

// faulty reports whether faults of a node's formulas are told already.
func (o *ordering) faulty(n Node) bool {
	e := n.Quantity.Value
	if n.Item >= 0 {
		e = n.Quantity.Own[n.Item]
	}
	return o.c.faulty[e] || o.c.faulty[n.Quantity.Start]
}

// cycle reports a true cycle hop by hop. Where every formula of it has a fault
// that is told already, a wrong name may be all that is wrong: it is not told.
func (o *ordering) cycle(path []int) {
	if !slices.ContainsFunc(path, func(i int) bool { return !o.faulty(o.nodes[i]) }) {
		return
	}
	var hops []string
	d := diag.Diagnostic{Code: "cycle"}
	for i, from := range path {
		to := path[(i+1)%len(path)]
		hops = append(hops, o.title(from)+" needs "+o.title(to))
		for _, e := range o.edges[from] {
			if e.to == to && !e.prev {
				d.Related = append(d.Related, diag.Related{At: e.at(), Text: hops[i]})
				break
			}
		}
	}
	if len(d.Related) > 0 {
		d.At = d.Related[0].At
		d.Related = d.Related[1:]
	}
	d.Summary = "this goes round in a circle: " + strings.Join(hops, ", ")
	d.Mend = "One of them must be given, or take the value of the step before with prev."
	o.c.list.Add(d)
}

// title names a node as people write the cell.
func (o *ordering) title(i int) string {
	n := o.nodes[i]
	if n.Item >= 0 && n.Quantity.Kind.Many {
		return n.Quantity.Kind.Name + "." + n.Quantity.Kind.Items[n.Item].Name + "." + n.Quantity.Name
	}
	return n.Quantity.Kind.Name + "." + n.Quantity.Name
}
