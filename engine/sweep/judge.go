// Package sweep asks what becomes of a comparison when its inputs move: over grids,
// one input at a time, in doubt, and where exactly one item overtakes another.
package sweep

import (
	"math"

	"bankwright/engine/arith"
	"bankwright/engine/check"
	"bankwright/engine/decl"
	"bankwright/engine/eval"
)

// Judge ranks the items that are compared, at every point of a sweep, as a
// comparison does at one: those that pass every check which would rule them out, by
// the figure that decides.
type Judge struct {
	Kind *check.Kind
	By   *check.Quantity
	Want []eval.Cell // what a sweep must give, from place first on

	items  []judged
	passed [][]bool // by item: at each point of a run, where that differs
}

// judged is where the figure of an item and its checks stand among what is wanted.
type judged struct {
	figure int
	checks []int
}

// NewJudge is a judge whose cells come after so many others; nil where the rules
// compare nothing.
func NewJudge(p *check.Program, first int) *Judge {
	k := p.Compared()
	if k == nil {
		return nil
	}
	j := &Judge{Kind: k, By: k.Quantity(k.Compare.By)}
	add := func(q *check.Quantity, item int) int {
		j.Want = append(j.Want, eval.Cell{Quantity: q, Item: item})
		return first + len(j.Want) - 1
	}
	for item := range k.Items {
		it := judged{figure: add(j.By, item)}
		for _, c := range p.Checks {
			if c.Result.Kind == k && c.Severity != decl.Caution {
				it.checks = append(it.checks, add(c.Result, item))
			}
		}
		j.items = append(j.items, it)
	}
	j.passed = make([][]bool, len(j.items))
	return j
}

// Figure is the place of an item's deciding figure among what is wanted.
func (j *Judge) Figure(item int) int { return j.items[item].figure }

// Eligible tells at each point of a run whether an item may be best: a slice for
// the run, or nil and what holds at all of its points. The slice is used again.
func (j *Judge) Eligible(p *eval.Points, item int) (each []bool, all bool) {
	it := &j.items[item]
	for _, c := range it.checks {
		col, v := p.Column(c)
		if col == nil && v == 0 {
			return nil, false
		}
		if col != nil {
			each = j.every(item, each, p.N)
			for i, v := range col {
				each[i] = each[i] && v != 0 // a check that does not apply has no value
			}
		}
	}
	col, v := p.Column(it.figure)
	if col == nil && v != v {
		return nil, false
	}
	if col != nil {
		each = j.every(item, each, p.N)
		for i, v := range col {
			each[i] = each[i] && v == v
		}
	}
	return each, true
}

// every makes a slice that holds for every point, unless there is one.
func (j *Judge) every(item int, each []bool, n int) []bool {
	if each != nil {
		return each
	}
	if cap(j.passed[item]) < n {
		j.passed[item] = make([]bool, n)
	}
	each = j.passed[item][:n]
	for i := range each {
		each[i] = true
	}
	return each
}

// None is the place of the best where no item may be best.
const None = -1

// Best enters the best item at each point of a run, None where there is none.
// Figures that are equal within the tolerance share a place, and the first item in
// the scenario's order is best.
func (j *Judge) Best(p *eval.Points, best []int) {
	best = best[:p.N]
	for i := range best {
		best[i] = None
	}
	for item := range j.items {
		each, all := j.Eligible(p, item)
		if each == nil && !all {
			continue
		}
		figure := j.items[item].figure
		for i, b := range best {
			if each != nil && !each[i] {
				continue
			}
			if b == None || j.before(p.At(figure, i), p.At(j.items[b].figure, i)) {
				best[i] = item
			}
		}
	}
}

// before reports whether one figure is better than another.
func (j *Judge) before(a, b float64) bool {
	if j.Kind.Compare.Lowest {
		return arith.Below(a, b)
	}
	return arith.Below(b, a)
}

// Lead is by how much of the best figure an item is ahead of the best of the others
// at a point of a run, in the figure's unit: below zero where it is behind, NaN
// where it or all others may not be best.
func (j *Judge) Lead(p *eval.Points, item, i int) float64 {
	lead, found := 0.0, false
	own := p.At(j.items[item].figure, i)
	for other := range j.items {
		if other == item || !j.eligibleAt(p, other, i) {
			continue
		}
		d := p.At(j.items[other].figure, i) - own
		if !j.Kind.Compare.Lowest {
			d = -d
		}
		if !found || d < lead {
			lead, found = d, true
		}
	}
	if !found || !j.eligibleAt(p, item, i) {
		return math.NaN()
	}
	return lead
}

func (j *Judge) eligibleAt(p *eval.Points, item, i int) bool {
	it := &j.items[item]
	if v := p.At(it.figure, i); v != v {
		return false
	}
	for _, c := range it.checks {
		if p.At(c, i) == 0 {
			return false
		}
	}
	return true
}
