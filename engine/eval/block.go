package eval

import (
	"context"
	"math"
	"sync"

	"bankwright/engine/arith"
	"bankwright/engine/check"
	"bankwright/engine/decl"
)

// value is what an operation works on: a column, one number for each lane, or,
// where col is nil, one number that all lanes have. Work on such is done once.
type value struct {
	num float64
	col []float64
}

// at is the number of a lane.
func (v value) at(lane int) float64 {
	if v.col != nil {
		return v.col[lane]
	}
	return v.num
}

// block computes a level for one run of points after another. All points of a run
// differ in the last axis of the level only, so that what depends on other axes is
// one number.
type block struct {
	s  *Sweep
	lv *level

	n     int           // lanes in use
	turn  int           // how many runs of points there have been
	vals  []value       // by row of the level's memory, by register, and constants
	cur   int           // the row of the quantity that is computed
	wide  int           // lanes that are worked through: those in use, padded
	data  []float64     // columns behind vals
	room  *[]float64    // where they lie
	steps []int         // of each axis of the sweep, at the first lane
	index []int         // by level: its point at the first lane, of smaller levels
	given [][][]float64 // by axis and input: values of the lanes, or of the one step

	rooms [][]float64 // a column for each register, as long as there are lanes in use
	spare []float64   // a column that is used at once
	one   []float64   // registers of one lane

	numbered [2][arith.Together]float64 // room for operands that are one number

	lists   [4][]float64 // arguments of the function that is called
	numbers [8]float64

	place  [4]int // steps of the row that is computed
	counts map[countKey]*bound
	bounds []bounds // of the members of the unit that is computed
	at     worker   // the cell whose formula runs; it also computes lane by lane
	now    lane
}

// lane is one point of a block, as a worker sees it.
type lane struct {
	b *block
	i int
}

func (l *lane) cell(q *check.Quantity, item, row int) float64 {
	return l.b.cell(q, item, row).at(l.i)
}

func newBlock(s *Sweep, lv *level) *block {
	b := &block{s: s, lv: lv, steps: make([]int, len(s.axes)), index: make([]int, len(s.levels)), given: make([][][]float64, len(s.axes))}
	b.vals = make([]value, lv.rows+lv.deep+len(lv.constants))
	for i, x := range lv.constants {
		b.vals[lv.rows+lv.deep+i].num = x
	}
	members := 1
	for _, g := range lv.batches {
		n := 0
		for _, u := range g.units {
			n += len(u.members)
		}
		members = max(members, n)
	}
	b.one, b.rooms = make([]float64, lv.deep), make([][]float64, lv.deep)
	for i := range b.rooms {
		b.rooms[i] = make([]float64, lv.size)
	}
	b.spare = make([]float64, lv.size)
	for _, a := range lv.axes {
		for range s.axes[a].Inputs {
			b.given[a] = append(b.given[a], make([]float64, lv.size))
		}
	}
	b.bounds = make([]bounds, members)
	b.counts = map[countKey]*bound{}
	b.now.b = b
	b.at = worker{r: s.r, lane: &b.now}
	return b
}

// columns is the memory of the columns of blocks that nobody works with, of all sweeps:
// to get it anew for each study would take longer than many studies.
var columns = sync.Pool{New: func() any { return &[]float64{} }}

// open gives a block the memory of its columns, in which anything may stand.
func (b *block) open() {
	b.room, b.data = memory(&columns, b.lv.rows*b.lv.size)
}

// memory is room for n numbers.
func memory(from *sync.Pool, n int) (room *[]float64, data []float64) {
	room = from.Get().(*[]float64)
	if cap(*room) < n {
		*room = make([]float64, n)
	}
	return room, (*room)[:n]
}

// close gives the memory back.
func (b *block) close() {
	columns.Put(b.room)
	b.room, b.data = nil, nil
}

// compute runs all units of the level for a run of points; false where ctx is done
// before that.
func (b *block) compute(ctx context.Context, p *Points, emits bool) bool {
	b.n, b.wide = p.N, arith.Padded(p.N)
	b.turn++
	for i := range b.rooms {
		b.rooms[i] = b.rooms[i][:b.n]
	}
	b.stand(p.First)
	for _, g := range b.lv.batches {
		if ctx.Err() != nil {
			return false
		}
		b.batch(g)
	}
	for _, u := range b.lv.units {
		for _, m := range u.members {
			if m.slot.store != nil {
				b.keep(m.slot, p.First)
			}
		}
	}
	if !emits {
		return true
	}
	for i, c := range b.s.want {
		v := b.cell(c.Quantity, c.Item, c.Row)
		p.cols[i] = v
		if v.col != nil {
			room := p.data[i*b.lv.size:][:b.n]
			copy(room, v.col)
			p.cols[i].col = room
		}
	}
	return true
}

// stand finds the steps of the axes at a point of the level and what is varied there.
func (b *block) stand(point int) {
	for i := len(b.lv.axes) - 1; i >= 0; i-- {
		a := b.lv.axes[i]
		steps := b.s.axes[a].Steps
		b.steps[a] = point % steps
		point /= steps
		n := 1
		if i == len(b.lv.axes)-1 {
			n = b.n
		}
		for j := range b.given[a] {
			b.given[a][j] = b.given[a][j][:n]
		}
		b.s.axes[a].Fill(b.given[a], b.steps[a])
	}
	for _, lv := range b.s.levels {
		if lv.mask&^b.lv.mask == 0 {
			b.index[lv.number] = b.indexAt(lv)
		}
	}
}

// indexAt is the point of a smaller level at which the first lane stands.
func (b *block) indexAt(lv *level) int {
	at := 0
	for _, a := range lv.axes {
		at = at*b.s.axes[a].Steps + b.steps[a]
	}
	return at
}

// keep copies a slot to where larger levels find it.
func (b *block) keep(s *slot, first int) {
	for row, place := range s.place {
		if place < 0 {
			continue
		}
		to := s.store[place*b.lv.points+first:][:b.n]
		if v := &b.vals[s.at(row)]; v.col != nil {
			copy(to, v.col)
		} else {
			arith.Fill(to, v.num)
		}
	}
}

// cell is the value of a cell at the lanes.
func (b *block) cell(q *check.Quantity, item, row int) value {
	if of := b.s.slots[q.Index]; of != nil {
		if s := of[item]; s != nil {
			return b.slot(s, row)
		}
	}
	return value{num: b.s.r.cols[q.Index][row*len(q.Kind.Items)+item]}
}

// at is where a row stands in a block's memory.
func (s *slot) at(row int) int {
	if s.one {
		return s.off
	}
	return s.off + row
}

func (b *block) slot(s *slot, row int) value {
	if s.level == b.lv {
		return b.vals[s.at(row)]
	}
	if s.store == nil { // it is read in an arm that is taken at no point
		return value{num: math.NaN()}
	}
	place := s.place[row]
	if place < 0 {
		return value{num: math.NaN()}
	}
	at := place*s.level.points + b.index[s.level.number]
	if a := s.level.axes; a[len(a)-1] == b.lv.axes[len(b.lv.axes)-1] {
		return value{col: s.store[at:][:b.n]}
	}
	return value{num: s.store[at]}
}

// put enters the value of a row of a slot.
func (b *block) put(s *slot, row int, v value) {
	head := &b.vals[s.at(row)]
	if v.col == nil {
		*head = v
		return
	}
	to := b.column(s, row)
	if &to[0] != &v.col[0] {
		copy(to, v.col)
	}
	*head = value{col: to}
}

// column is the room for the column of a slot's row.
func (b *block) column(s *slot, row int) []float64 {
	return b.data[s.at(row)*b.lv.size:][:b.n]
}

// batch computes the slots of its units, step by step.
func (b *block) batch(g *batch) {
	if m := g.units[0].members[0]; m.n == nil {
		b.source(m.slot)
		return
	}
	k := 0
	for _, u := range g.units {
		for i := range u.members {
			b.bound(&u.members[i], &b.bounds[k])
			k++
		}
	}
	last := len(g.axes) - 1
	var limit [4]int
	for i, a := range g.axes {
		limit[i] = a.Steps
	}
	steps := b.place[:len(g.axes)]
	for more := start(steps, limit[:]); more; more = next(steps, limit[:]) {
		k := 0
		for _, u := range g.units {
			for i := range u.members {
				if m := &u.members[i]; m.n.start != nil && steps[last] == 0 {
					b.row(m.slot, m.n.start.axes, m.start, &b.bounds[k+i], steps[:last], m.n.row.at(steps)-1)
				}
			}
			for i := range u.members {
				m := &u.members[i]
				b.row(m.slot, m.n.value.axes, m.value, &b.bounds[k+i], steps, m.n.row.at(steps))
			}
			k += len(u.members)
		}
	}
}

// source enters what is varied: an input, or a set whose members refer to its item.
func (b *block) source(s *slot) {
	q := s.q
	for row := range s.rows {
		if q.Inverse == nil {
			b.vals[s.at(row)] = value{num: b.s.r.At(q, s.item, row)}
			continue
		}
		v := b.cell(q.Inverse, q.StepsOf(row)[0], 0)
		if v.col == nil {
			b.vals[s.at(row)] = value{num: truth(v.num == float64(s.item))}
			continue
		}
		to := b.column(s, row)
		for i, x := range v.col {
			to[i] = truth(x == float64(s.item))
		}
		b.vals[s.at(row)] = value{col: to}
	}
	for _, v := range s.vary {
		given := b.given[v.axis][v.input]
		if v.axis == b.lv.axes[len(b.lv.axes)-1] {
			b.put(s, v.row, value{col: given})
		} else {
			b.put(s, v.row, value{num: given[0]})
		}
	}
}

// row runs code for one row of a slot.
func (b *block) row(s *slot, axes []*decl.Axis, code *moves, in *bounds, steps []int, row int) {
	w := &b.at
	w.q, w.item, w.axes, w.steps = s.q, s.item, axes, steps
	masked := false
	for i := range in.some[:in.n] {
		l, axis := in.some[i], in.axis[i]
		if axis >= len(steps) { // a start lies before the steps of its last axis
			continue
		}
		if steps[axis] >= l.some {
			b.put(s, row, value{num: math.NaN()})
			return
		}
		masked = masked || steps[axis] >= l.all
	}
	b.cur = row
	b.put(s, row, b.run(code, b.column(s, row)))
	if masked {
		b.mask(s, in, steps, row)
	}
}
