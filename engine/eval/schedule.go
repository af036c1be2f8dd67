package eval

import (
	"math/bits"
	"runtime"
	"sort"
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
	one := (lv.rows + lv.deep + 2*out) * max(lv.size, 1) * 8
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
		out := 0
		if lv.mask == p.all {
			out = p.out
		}
		lv.arrange(p.axes, out)
		p.ready(lv)
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
