package eval

import (
	"slices"

	"bankwright/engine/decl"
)

// batch is several units that run over the same steps, all of them at each, so that
// what one makes at a step is read by the next while it is at hand.
type batch struct {
	units []*unit
	axes  []*decl.Axis
	item  int
}

// join puts the units of a level in an order in which those of one item that run
// over the same steps come together, as far as what they need allows.
func (lv *level) join() {
	waits := make([]int, len(lv.units)) // how many units that it needs are not placed yet
	feeds := make([][]*unit, len(lv.units))
	for i, u := range lv.units {
		u.place = i
	}
	for _, u := range lv.units {
		for _, from := range u.sources(lv) {
			waits[u.place]++
			feeds[from.place] = append(feeds[from.place], u)
		}
	}
	var ready []*unit // by place
	for _, u := range lv.units {
		if waits[u.place] == 0 {
			ready = append(ready, u)
		}
	}
	var g *batch
	for len(ready) > 0 {
		at := nextUnit(ready, g)
		u := ready[at]
		ready = slices.Delete(ready, at, at+1)
		if g == nil || !g.takes(u) {
			g = &batch{axes: u.axes(), item: u.members[0].slot.item}
			lv.batches = append(lv.batches, g)
		}
		g.units = append(g.units, u)
		u.batch = g
		for _, f := range feeds[u.place] {
			if waits[f.place]--; waits[f.place] == 0 {
				i, _ := slices.BinarySearchFunc(ready, f, func(a, b *unit) int { return a.place - b.place })
				ready = slices.Insert(ready, i, f)
			}
		}
	}
}

// sources are the units of a level that a unit needs, each once.
func (u *unit) sources(lv *level) (out []*unit) {
	for _, n := range u.needs {
		if from := n.slot.unit; n.slot.level == lv && from != u && !slices.Contains(out, from) {
			out = append(out, from)
		}
	}
	return out
}

// nextUnit chooses among what is ready: what the batch takes; else what has no steps,
// since more may then be ready for the batch after it; else the first.
func nextUnit(ready []*unit, g *batch) int {
	if g != nil && len(g.axes) > 0 {
		for i, u := range ready {
			if g.takes(u) {
				return i
			}
		}
	}
	for i, u := range ready {
		if len(u.axes()) == 0 {
			return i
		}
	}
	return 0
}

func (u *unit) axes() []*decl.Axis {
	if m := u.members[0]; m.n == nil { // it is given, or the inverse of what is
		return nil
	}
	return u.members[0].slot.q.Axes
}

// takes reports whether a unit may run with a batch: over the same steps, reading of
// it nothing but the row of its own step, or that of the step before.
func (g *batch) takes(u *unit) bool {
	if u.members[0].n == nil || g.units[0].members[0].n == nil {
		return false
	}
	if len(g.axes) == 0 || g.item != u.members[0].slot.item || !slices.Equal(g.axes, u.axes()) {
		return false
	}
	for _, n := range u.needs {
		if n.slot.unit != nil && n.slot.unit.batch == g && !n.step && !n.prev {
			return false
		}
	}
	return true
}
