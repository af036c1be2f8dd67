package eval

import (
	"sort"

	"bankwright/engine/arith"
)

// arrange places the slots of a level in a block's memory, from which so many columns
// come out.
func (lv *level) arrange(axes []Axis, out int) {
	lv.join()
	lv.findLast()
	ends := make([][]*slot, len(lv.batches)+1)
	var free spaces
	for i, g := range lv.batches {
		for _, u := range g.units {
			for _, m := range u.members {
				s := m.slot
				if s.one {
					continue
				}
				s.off = free.take(s.rows)
				until := len(lv.batches) // it is copied out when all is done
				if !s.kept {
					until = s.last
				}
				ends[until] = append(ends[until], s)
			}
		}
		g.passing(&free)
		for _, s := range ends[i] {
			free.give(s.off, s.rows)
		}
	}
	lv.rows, lv.deep = free.top, lv.registers()
	lv.size = lanes(max(lv.rows, out))
	if n := len(lv.axes); n > 0 {
		lv.size = arith.Padded(min(lv.size, axes[lv.axes[n-1]].Steps))
	}
}

// registers is how many registers the code of a level needs at most.
func (lv *level) registers() int {
	deep := 1
	for _, u := range lv.units {
		for _, m := range u.members {
			if m.n != nil {
				deep = max(deep, m.n.value.deep)
				if m.n.start != nil {
					deep = max(deep, m.n.start.deep)
				}
			}
		}
	}
	return deep
}

// findLast finds for each slot the last batch that reads it, and whether it need
// hold no more than the row of the current step.
func (lv *level) findLast() {
	for i, g := range lv.batches {
		for _, u := range g.units {
			for _, m := range u.members {
				m.slot.last = max(m.slot.last, i)
				m.slot.one = !u.back && m.n != nil && len(m.slot.q.Axes) > 0 && !m.slot.kept
			}
		}
	}
	for i, g := range lv.batches {
		for _, u := range g.units {
			for _, n := range u.needs {
				if n.slot.level == lv {
					n.slot.last = max(n.slot.last, i)
					n.slot.one = n.slot.one && n.step && n.slot.unit.batch == g
				}
			}
		}
	}
}

// passing places the slots of a batch that hold one row only. They may share rows
// with each other, since each is written before it is read at every step, but with
// no other slot.
func (g *batch) passing(free *spaces) {
	last := map[*slot]int{}
	for i, u := range g.units {
		for _, m := range u.members {
			if m.slot.one {
				last[m.slot] = i
			}
		}
		for _, n := range u.needs {
			if _, here := last[n.slot]; here {
				last[n.slot] = i
			}
		}
	}
	ends := make([][]*slot, len(g.units))
	for s, i := range last {
		ends[i] = append(ends[i], s)
	}
	var own spaces
	for i, u := range g.units {
		for _, m := range u.members {
			if m.slot.one {
				m.slot.off = own.take(1)
			}
		}
		for _, s := range ends[i] {
			own.give(s.off, 1)
		}
	}
	if own.top == 0 {
		return
	}
	base := free.take(own.top)
	for s := range last {
		s.off += base
	}
	free.give(base, own.top)
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
