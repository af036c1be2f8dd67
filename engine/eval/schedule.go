package eval

import (
	"math/bits"
	"sort"
)

// mostKept bounds what levels below the last keep of all their points, in values
// (32 MB). A level that would keep more is computed with the last one.
const mostKept = 4 << 20

// cacheRoom is how much memory the columns of a block should take, in bytes: they
// are written and read again and again, and should stay in the cache of a core.
const cacheRoom = 1 << 22

// fewestLanes and mostLanes bound the lanes of a block: too few, and the work of
// reading instructions shows; too many, and nothing is gained any more.
const (
	fewestLanes = 32
	mostLanes   = 256
)

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
	for _, u := range p.units {
		for _, s := range u.needs {
			s.kept = s.kept || s.level != u.level
		}
		u.level.units = append(u.level.units, u)
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
				rows += m.slot.rows
			}
		}
	}
	return rows == 0 || lv.points <= mostKept/rows // a product might overflow
}

// arrange places the slots of a level.
func (lv *level) arrange(axes []Axis) {
	for i, u := range lv.units {
		for _, m := range u.members {
			m.slot.last = max(m.slot.last, i)
		}
		for _, s := range u.needs {
			if s.level == lv {
				s.last = max(s.last, i)
			}
		}
	}
	ends := make([][]*slot, len(lv.units)+1)
	var free spaces
	for i, u := range lv.units {
		for _, m := range u.members {
			s := m.slot
			s.off = free.take(s.rows)
			if s.kept { // it is copied out when all is done
				s.last = len(lv.units)
			}
			ends[s.last] = append(ends[s.last], s)
		}
		for _, s := range ends[i] {
			free.give(s.off, s.rows)
		}
	}
	lv.rows = free.top
	lv.size = min(max(cacheRoom/8/max(lv.rows, 1), fewestLanes), mostLanes)
	if n := len(lv.axes); n > 0 {
		lv.size = padded(min(lv.size, axes[lv.axes[n-1]].Steps))
	}
}

// spaces is what is free of a memory that grows.
type spaces struct {
	gaps []gap // in order, never touching
	top  int
}

type gap struct{ off, n int }

// take finds n rows: the smallest gap that holds them, or new ones.
func (f *spaces) take(n int) int {
	best := -1
	for i, g := range f.gaps {
		if g.n >= n && (best < 0 || g.n < f.gaps[best].n) {
			best = i
		}
	}
	if best < 0 {
		f.top += n
		return f.top - n
	}
	g := &f.gaps[best]
	off := g.off
	if g.off, g.n = g.off+n, g.n-n; g.n == 0 {
		f.gaps = append(f.gaps[:best], f.gaps[best+1:]...)
	}
	return off
}

// give frees rows again.
func (f *spaces) give(off, n int) {
	i := sort.Search(len(f.gaps), func(i int) bool { return f.gaps[i].off > off })
	f.gaps = append(f.gaps, gap{})
	copy(f.gaps[i+1:], f.gaps[i:])
	f.gaps[i] = gap{off, n}
	if i+1 < len(f.gaps) && off+n == f.gaps[i+1].off {
		f.gaps[i].n += f.gaps[i+1].n
		f.gaps = append(f.gaps[:i+1], f.gaps[i+2:]...)
	}
	if i > 0 && f.gaps[i-1].off+f.gaps[i-1].n == off {
		f.gaps[i-1].n += f.gaps[i].n
		f.gaps = append(f.gaps[:i], f.gaps[i+1:]...)
	}
}
