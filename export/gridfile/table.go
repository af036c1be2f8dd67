package gridfile

import (
	"math"

	"bankwright/engine/check"
	"bankwright/engine/decl"
	"bankwright/engine/eval"
	"bankwright/engine/sweep"
	"bankwright/engine/unit"
)

// table is the columns of a grid, filled for some consecutive points at a time.
type table struct {
	columns []*column
	grid    *sweep.Grid
	steps   []int // of each axis at the first of the points
}

// kind is what a column holds.
type kind uint8

const (
	number kind = iota
	truth
	word
)

// column is one column of a table.
type column struct {
	name   string
	unit   string // empty where it has none
	always bool   // it has a value at every point
	kind   kind

	values []float64 // by point: in the column's unit, a truth 0 or 1, a place in words, NaN where there is none
	same   bool      // all points have one value
	words  []string

	source source
	into   unit.Unit
}

// source is where the values of a column come from; all are at hand once a run is.
type source func(r *sweep.Run, out []float64) (same bool)

func newTable(p *check.Program, g *sweep.Grid) *table {
	t := &table{grid: g, steps: make([]int, len(g.Axes))}
	varied := map[eval.Cell]bool{}
	for axis, a := range g.Axes {
		for input, c := range a.Inputs {
			varied[c] = true
			t.add(p, c, t.input(axis, input)).always = t.always(axis, input)
		}
	}
	for want, c := range g.Show {
		if !varied[c] {
			t.add(p, c, shown(want))
		}
	}
	if g.Judge != nil {
		t.columns = append(t.columns, &column{name: "best", kind: word, words: g.Judge.Kind.ItemNames(), source: best})
	}
	return t
}

// add makes the column of a cell.
func (t *table) add(p *check.Program, cell eval.Cell, from source) *column {
	q := cell.Quantity
	c := &column{name: p.CellName(cell), source: from}
	switch q.Type {
	case decl.Number:
		c.unit, c.into = q.Unit.In(p.Model.Currency), q.Unit
	case decl.Text:
		c.kind, c.words = word, p.Texts
	case decl.Reference:
		c.kind, c.words = word, q.To.ItemNames()
	default:
		c.kind = truth
	}
	t.columns = append(t.columns, c)
	return c
}

// always reports whether an input has a value at each step. One that is beyond all
// numbers in the unit of its column has none there.
func (t *table) always(axis, input int) bool {
	q := t.grid.Axes[axis].Inputs[input].Quantity
	for step := range t.grid.Axes[axis].Steps() {
		if v := t.grid.Input(axis, input, step); q.Type == decl.Number && !finite(q.Unit.FromBase(v)) {
			return false
		}
	}
	return true
}

func finite(v float64) bool { return v-v == 0 }

// input is a varied input. Within a run only the last axis moves.
func (t *table) input(axis, input int) source {
	return func(_ *sweep.Run, out []float64) bool {
		step, last := t.steps[axis], axis == len(t.steps)-1
		for i := range out {
			out[i] = t.grid.Input(axis, input, step)
			if last {
				step++
			}
		}
		return !last
	}
}

// shown is a cell that the grid shows.
func shown(want int) source {
	return func(r *sweep.Run, out []float64) bool {
		col, all := r.Column(want)
		if col == nil {
			for i := range out {
				out[i] = all
			}
			return true
		}
		copy(out, col)
		return false
	}
}

// best is the best item of each point.
func best(r *sweep.Run, out []float64) bool {
	for i, b := range r.Best {
		if out[i] = float64(b); b == sweep.None {
			out[i] = math.NaN()
		}
	}
	return false
}

// fill enters the points of a run.
func (t *table) fill(r *sweep.Run) {
	r.Steps(0, t.steps)
	for _, c := range t.columns {
		if cap(c.values) < r.N {
			c.values = make([]float64, r.N)
		}
		c.values = c.values[:r.N]
		c.same = c.source(r, c.values)
		if c.kind != number {
			continue
		}
		for i, v := range c.values {
			if v = c.into.FromBase(v); !finite(v) { // beyond all numbers in this unit: no spreadsheet takes it
				v = math.NaN()
			}
			c.values[i] = v
		}
	}
}
