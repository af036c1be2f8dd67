package eval

import (
	"context"
	"errors"
	"fmt"
	"math/bits"
	"runtime"
	"sync"
	"sync/atomic"

	"bankwright/engine/arith"
)

// Axis is one dimension of a sweep: inputs that change together, step by step.
type Axis struct {
	Inputs []Cell // quantities that are given, or given by a formula, which is then not used
	Steps  int
	// Fill enters the values of some steps, one column for each input, the first
	// value being that of step first. Values are in base units, texts places in
	// Program.Texts, references places among the items, NaN absent. It may be called
	// by several goroutines at once, and often for the same steps.
	Fill func(cols [][]float64, first int)
}

// Values is a Fill that has all values at hand: one slice for each input.
func Values(all ...[]float64) func(cols [][]float64, first int) {
	return func(cols [][]float64, first int) {
		for i, col := range cols {
			copy(col, all[i][first:])
		}
	}
}

// Sweep is a program made ready for the points of a grid. What no varied input
// reaches is taken from the base point, what depends on some axes is computed once
// for each combination of their steps. It is immutable once Run has returned for
// the first time, but for Anew; a point gives to the last bit what Machine.Run gives for it alone.
type Sweep struct {
	r      *Result
	axes   []Axis
	want   []Cell
	slots  [][]*slot
	levels []*level // the last has all axes
	points int
	mu     sync.Mutex
}

// mostPoints is as far as the points of a sweep are counted: below the largest int64
// by enough to round up to whole blocks.
const mostPoints = 1<<63 - 1<<56

// Sweep plans a sweep over axes, of which the last runs fastest and had best be the
// longest. Wanted are cells, whose values come in their order.
func (r *Result) Sweep(axes []Axis, want []Cell) (*Sweep, error) {
	if len(axes) > 60 {
		return nil, fmt.Errorf("a sweep has at most 60 axes, not %d", len(axes))
	}
	points := 1
	for _, a := range axes {
		high, low := bits.Mul64(uint64(points), uint64(a.Steps))
		if high != 0 || low > mostPoints {
			return nil, fmt.Errorf("a sweep over so many points cannot be counted")
		}
		points = int(low)
	}
	p := newPlanner(r, axes)
	for {
		p.plan(want)
		if levels, ok := p.schedule(); ok {
			return &Sweep{r: r, axes: axes, want: want, slots: p.slots, levels: levels, points: points}, nil
		}
	}
}

// Points is the number of points of the grid. Point 0 is the first step of every
// axis; the last axis runs fastest.
func (s *Sweep) Points() int { return s.points }

// StepsAt enters the step of each axis at a point.
func (s *Sweep) StepsAt(point int, steps []int) {
	for i := len(s.axes) - 1; i >= 0; i-- {
		steps[i] = point % s.axes[i].Steps
		point /= s.axes[i].Steps
	}
}

// Cells is how many cells must be computed anew for each point where every axis
// moves: a measure of the work.
func (s *Sweep) Cells() int {
	n := 0
	for _, u := range s.levels[len(s.levels)-1].units {
		for _, m := range u.members {
			n += m.slot.rows
		}
	}
	return n
}

// Reached is how many cells follow from each input of an axis, itself among them.
func (s *Sweep) Reached(axis int) []int {
	out := make([]int, len(s.axes[axis].Inputs))
	from := map[*unit][]uint64{} // which of the inputs a unit follows from
	for _, lv := range s.levels {
		for _, u := range lv.units { // each behind what it needs
			set, rows := make([]uint64, (len(out)+63)/64), 0
			for _, m := range u.members {
				rows += m.slot.rows
				for _, v := range m.slot.vary {
					if v.axis == axis {
						set[v.input/64] |= 1 << (v.input % 64)
					}
				}
			}
			for _, n := range u.needs {
				for i, w := range from[n.slot.unit] {
					set[i] |= w
				}
			}
			from[u] = set
			for i, w := range set {
				for ; w != 0; w &= w - 1 {
					out[64*i+bits.TrailingZeros64(w)] += rows
				}
			}
		}
	}
	return out
}

// Run evaluates the points from up to (and without) to, on all cores, and hands
// them to emit run after run, in order. What is handed over is used again
// afterwards. It ends early, with the error, when emit returns one or ctx is done.
func (s *Sweep) Run(ctx context.Context, from, to int, emit func(*Points) error) error {
	if err := s.prepare(ctx); err != nil {
		return err
	}
	lv := s.levels[len(s.levels)-1]
	return s.level(ctx, lv, from, to, emit)
}

// prepare computes what depends on some axes only, once.
func (s *Sweep) prepare(ctx context.Context) error {
	s.mu.Lock()
	defer s.mu.Unlock()
	for _, lv := range s.levels[:len(s.levels)-1] {
		if lv.ready {
			continue
		}
		for _, u := range lv.units {
			for _, m := range u.members {
				if m.slot.kept && m.slot.store == nil {
					m.slot.store = make([]float64, m.slot.keeps*lv.points, arith.Padded(m.slot.keeps*lv.points+arith.Together))
				}
			}
		}
		if err := s.level(ctx, lv, 0, lv.points, nil); err != nil {
			return err
		}
		lv.ready = true
	}
	return nil
}

// Anew says that the values of an axis are others from now on. What does not depend on
// them is not computed again. No run may be under way.
func (s *Sweep) Anew(axis int) {
	for _, lv := range s.levels {
		lv.ready = lv.ready && lv.mask&(1<<axis) == 0
	}
}

// level runs blocks of a level on all cores.
func (s *Sweep) level(ctx context.Context, lv *level, from, to int, emit func(*Points) error) error {
	ctx, cancel := context.WithCancelCause(ctx)
	defer cancel(nil)
	workers := max(1, min(lv.workers(len(s.want)), (to-from+lv.size-1)/max(lv.size, 1), runtime.GOMAXPROCS(0)))
	line := &line{next: from, to: to, lv: lv, inner: s.inner(lv), free: make(chan *Points, 2*workers), done: make(chan *Points, 2*workers)}
	for range 2 * workers {
		line.free <- s.room(lv, emit != nil)
	}
	var work sync.WaitGroup
	for range workers {
		work.Add(1)
		go func() {
			defer work.Done()
			defer func() {
				if fault := recover(); fault != nil {
					line.fault.Store(&fault)
					cancel(errors.New("the work was broken off"))
				}
			}()
			b, ok := lv.blocks.Get().(*block)
			if !ok {
				b = newBlock(s, lv)
			}
			b.open()
			for p := line.take(ctx); p != nil; p = line.take(ctx) {
				if !b.compute(ctx, p, emit != nil) {
					return
				}
				line.done <- p
			}
			b.close()
			lv.blocks.Put(b)
		}()
	}
	go func() { work.Wait(); close(line.done) }()
	err := line.deliver(cancel, emit)
	for range len(line.free) {
		(<-line.free).close()
	}
	if fault := line.fault.Load(); fault != nil {
		panic(*fault) // where the caller can catch it
	}
	if err == nil {
		err = context.Cause(ctx)
	}
	return err
}

// inner is how many steps the fastest axis of a level has.
func (s *Sweep) inner(lv *level) int {
	if n := len(lv.axes); n > 0 {
		return s.axes[lv.axes[n-1]].Steps
	}
	return 1
}

// line hands runs of points to workers and brings them back in order.
type line struct {
	mu         sync.Mutex
	next, to   int
	number     int
	lv         *level
	inner      int
	free, done chan *Points
	fault      atomic.Pointer[any] // what a worker panicked with
}

// take is the next run to compute, nil when there is none left. The room for what
// comes out is taken first, so that the first run that is waited for always has one.
func (l *line) take(ctx context.Context) *Points {
	var p *Points
	select {
	case p = <-l.free:
	case <-ctx.Done():
		return nil
	}
	l.mu.Lock()
	defer l.mu.Unlock()
	if l.next >= l.to || ctx.Err() != nil {
		return nil
	}
	p.First, p.number = l.next, l.number
	p.N = min(l.lv.size, l.inner-l.next%l.inner, l.to-l.next)
	l.next += p.N
	l.number++
	return p
}

// deliver hands over what is done, in order.
func (l *line) deliver(cancel context.CancelCauseFunc, emit func(*Points) error) error {
	waiting := map[int]*Points{}
	var failed error
	due := 0
	for p := range l.done {
		waiting[p.number] = p
		for q := waiting[due]; q != nil; q = waiting[due] {
			delete(waiting, due)
			due++
			if emit != nil && failed == nil {
				if failed = emit(q); failed != nil {
					cancel(failed)
				}
			}
			l.free <- q
		}
	}
	return failed
}

// Points is a run of consecutive points of a sweep and what was wanted of them.
type Points struct {
	First, N int

	number int
	cols   []value
	data   []float64
	room   *[]float64 // where data lies
}

// At is a wanted value, by its place, at the i-th point of the run.
func (p *Points) At(want, i int) float64 { return p.cols[want].at(i) }

// Column is a wanted value at all points of the run: a column, or nil and the one
// value that all points have.
func (p *Points) Column(want int) (col []float64, all float64) {
	return p.cols[want].col, p.cols[want].num
}

// results is the memory of runs of points that nobody works with, of all sweeps.
var results = sync.Pool{New: func() any { return &[]float64{} }}

func (s *Sweep) room(lv *level, emits bool) *Points {
	p := &Points{}
	if emits {
		p.cols = make([]value, len(s.want))
		p.room, p.data = memory(&results, len(s.want)*lv.size)
	}
	return p
}

// close gives the memory of a run of points back.
func (p *Points) close() {
	if p.room != nil {
		results.Put(p.room)
		p.room, p.data = nil, nil
	}
}
