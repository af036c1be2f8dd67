package eval

import (
	"math"

	"bankwright/engine/check"
	"bankwright/engine/decl"
)

// bounds say which steps of a member's axes are in use.
type bounds struct {
	n    int // limits
	some [4]*bound
	axis [4]int // place of each among the axes of the quantity
}

// bound is how many steps of an axis are in use: at all lanes, at some, at which.
type bound struct {
	all, some int
	lanes     []float64 // in use only where all and some differ
	turn      int       // the run of points for which it was found
}

// bound finds the bounds of a member.
func (b *block) bound(m *member, to *bounds) {
	to.n = 0
	q := m.slot.q
	for i, a := range q.Axes {
		if e := q.Kind.Active[a]; e != nil {
			to.some[to.n], to.axis[to.n] = b.inUse(e, a, m.slot.item), i
			to.n++
		}
	}
}

// inUse finds how many steps of an axis are in use for an item, once for a run of
// points.
func (b *block) inUse(e *check.Expr, a *decl.Axis, item int) *bound {
	q, item := e.Ref.Target, limitItem(e.Ref, item)
	key := countKey{q, a, item}
	u := b.counts[key]
	if u == nil {
		u = &bound{lanes: make([]float64, 0, b.lv.size)}
		b.counts[key] = u
	}
	if u.turn == b.turn {
		return u
	}
	u.turn = b.turn
	v := b.cell(q, item, 0)
	u.all, u.some = inUse(v.num, a), inUse(v.num, a)
	if v.col == nil {
		return u
	}
	u.all, u.some, u.lanes = a.Steps, 0, u.lanes[:0]
	for _, x := range v.col {
		n := inUse(x, a)
		u.all, u.some = min(u.all, n), max(u.some, n)
		u.lanes = append(u.lanes, float64(n))
	}
	return u
}

// countKey is what says how many steps of an axis are in use.
type countKey struct {
	q    *check.Quantity
	a    *decl.Axis
	item int
}

// mask takes the values of lanes away whose items do not use the current step.
func (b *block) mask(s *slot, in *bounds, steps []int, row int) {
	head := &b.vals[s.at(row)]
	for i := range in.some[:in.n] {
		if l, axis := in.some[i], in.axis[i]; axis < len(steps) && steps[axis] >= l.all {
			*head = b.within(l.lanes, steps[axis], head, &value{num: math.NaN()}, b.column(s, row))
		}
	}
}
