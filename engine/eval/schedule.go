package eval

import (
	"math/bits"
	"runtime"
	"sort"

	"bankwright/engine/check"
)

// mostKept bounds what levels below the last keep of all their points, in values
// (32 MB). A level that would keep more is computed with the last one.
const mostKept = 4 << 20

// columnRoom is how much memory the columns of a block may take, in bytes: they are
// written and read again and again, but the more lanes they have, the less the work of
// reading instructions shows. All blocks of a sweep may take mostColumns together.
const (
	columnRoom  = 12 << 20
	mostColumns = 24 << 20
)

// fewestLanes and mostLanes bound the lanes of a block: too few, and the work of
// reading instructions shows; too many, and nothing is gained any more.
const (
	fewestLanes = 32
	mostLanes   = 512
)

// lanes is how many lanes a block of so many rows has.
func lanes(rows int) int {
	room := min(columnRoom, mostColumns/runtime.GOMAXPROCS(0))
	return min(max(room/8/max(rows, 1), fewestLanes), mostLanes)
}

// workers is how many blocks of a level run at once, of which so many columns come
// out: as many as there are cores, and fewer only where even blocks of the fewest
// lanes would take more than columns may take together.
func (lv *level) workers(out int) int {
	one := (lv.rows + lv.deep() + 2*out) * max(lv.size, 1) * 8
	return max(min(runtime.GOMAXPROCS(0), mostColumns/max(one, 1)), fewestWorkers)
}

// fewestWorkers run even where a model is so large that they take more memory.
const fewestWorkers = 4

// schedule puts the units of a plan in order, level after level, and gives every
// slot its place in a block's memory, which is used again after its last reader.
// It reports false where a level would keep too much: the plan is to be made anew.
func (p *planner) schedule() ([]*level, bool) {
	var levels []*level
	for _, lv := range p.levels {
		levels = append(levels, lv)
	}
	sort.Slice(levels, func(i, j int) bool {
		a, b := levels[i], levels[j]
		if na, nb := bits.OnesCount64(a.mask), bits.OnesCount64(b.mask); na != nb {
			return na < nb
		}
		return a.mask < b.mask
	})
	for i, lv := range levels {
		lv.number = i
	}
	for _, u := range p.units {
		for i := range u.members {
			p.trace(&u.members[i])
		}
		for _, n := range u.needs {
			n.slot.kept = n.slot.kept || n.slot.level != u.level
		}
		u.level.units = append(u.level.units, u)
	}
	for _, u := range p.units {
		for _, m := range u.members {
			if m.slot.kept {
				p.placeRows(m)
			}
		}
	}
	for _, lv := range levels {
		if lv.mask != p.all && !lv.fits() {
			p.promoted[lv.mask] = true
			return nil, false
		}
		lv.arrange(p.axes)
	}
	return levels, true
}

// fits tells whether what a level keeps stays within bounds.
func (lv *level) fits() bool {
	rows := 0
	for _, u := range lv.units {
		for _, m := range u.members {
			if m.slot.kept {
				rows += m.slot.keeps
			}
		}
	}
	return rows == 0 || lv.points <= mostKept/rows // a product might overflow
}

// placeRows gives the rows of a slot that is kept their places.
func (p *planner) placeRows(m member) {
	s := m.slot
	s.place, s.keeps = make([]int, s.rows), 0
	for row := range s.place {
		s.place[row] = -1
		if m.n == nil || p.used(s, row) {
			s.place[row] = s.keeps
			s.keeps++
		}
	}
}

// used reports whether a row may be in use at some point.
func (p *planner) used(s *slot, row int) bool {
	for i, step := range s.q.StepsOf(row) {
		a := s.q.Axes[i]
		e := s.q.Kind.Active[a]
		if e == nil {
			continue
		}
		q, item := e.Ref.Target, limitItem(e.Ref, s.item)
		if of := p.slots[q.Index]; of != nil && of[item] != nil {
			continue
		}
		if step >= inUse(p.w.cell(q, item, 0), a) {
			return false
		}
	}
	return true
}

// trace finds where the reads of a member lead.
func (p *planner) trace(m *member) {
	if m.n == nil {
		return
	}
	m.value = p.origins(m.n.value, m.slot.item)
	if m.n.start != nil {
		m.start = p.origins(m.n.start, m.slot.item)
	}
}

func (p *planner) origins(c *code, self int) []origin {
	out := make([]origin, len(c.instrs))
	for i := range c.instrs {
		if in := &c.instrs[i]; in.op == opRead {
			if item, ok := p.lead(in.expr.Ref, self); ok {
				out[i] = p.origin(in.expr.Ref.Target, item)
			}
		}
	}
	return out
}

func (p *planner) origin(q *check.Quantity, item int) origin {
	if of := p.slots[q.Index]; of != nil && of[item] != nil {
		return origin{slot: of[item]}
	}
	return origin{base: p.r.cols[q.Index], items: len(q.Kind.Items), item: item}
}

// lead is the item to which a reference leads at all points, false where that
// depends on the point, the step or the item of an aggregate, or where there is none.
func (p *planner) lead(ref *check.Ref, self int) (int, bool) {
	item := self
	switch ref.Origin {
	case check.One:
		item = 0
	case check.Fixed:
		item = ref.Item
	case check.Each, check.AxisItem:
		return 0, false
	}
	for _, hop := range ref.Hops {
		if of := p.slots[hop.Index]; of != nil && of[item] != nil {
			return 0, false
		}
		v := p.w.cell(hop, item, 0)
		if v != v {
			return 0, false
		}
		item = int(v)
	}
	return item, true
}
