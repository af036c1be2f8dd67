// Package eval computes a checked program: one small program for each
// quantity, run over columns of lanes (points of a sweep × items), the base
// case being a sweep of one point. Beside it stands the reference, which runs
// the same formulas cell by cell on expr's virtual machine.
package eval

import (
	"math"

	"bankwright/engine/check"
	"bankwright/engine/decl"
	"bankwright/engine/reading"
)

// Result holds the value of every cell, in base units: booleans are 0 and 1,
// texts indices into Program.Texts, references item indices of the kind that is
// referred to. NaN is no value: absent, beyond the steps in use, or failed;
// Why tells which.
type Result struct {
	Program *check.Program

	machine    *Machine
	cols       [][]float64            // by quantity: rows × items
	points     [][][][]float64        // by quantity of type Points: item, column, row
	recordings [][]*reading.Recording // by quantity of type Recording: item
	parts      map[*check.Expr]*code  // parts of formulas, compiled to ask Why of them

	references map[sourceKey]*reference // formulas compiled by Verify
	traced     traced                   // by Why
	idle       []*worker                // that trace has no more use for
}

// At is the value of a cell.
func (r *Result) At(q *check.Quantity, item, row int) float64 {
	return r.cols[q.Index][row*len(q.Kind.Items)+item]
}

// PointsOf is an item's own table, column by column; nil where it is absent.
func (r *Result) PointsOf(q *check.Quantity, item int) [][]float64 {
	return r.points[q.Index][item]
}

// Active is how many steps of an axis are in use for an item of a kind.
func (r *Result) Active(k *check.Kind, a *decl.Axis, item int) int {
	return (&worker{r: r}).active(k, a, item)
}

// Change gives an input another value than its file. An input that has a formula
// loses it.
type Change struct {
	Quantity *check.Quantity
	Item     int
	Row      int
	Value    float64 // base units; NaN: absent
}

// newResult makes room for all values and fills in what is given.
func (m *Machine) newResult(changes []Change) *Result {
	p := m.prog
	n := len(p.Quantities)
	r := &Result{Program: p, machine: m, cols: make([][]float64, n), points: make([][][][]float64, n), recordings: make([][]*reading.Recording, n)}
	for _, q := range p.Quantities {
		if q.Type == decl.Points {
			r.points[q.Index] = pointsOf(q)
			continue
		}
		if q.Type == decl.Recording {
			r.recordings[q.Index] = recordingsOf(q)
			continue
		}
		col := make([]float64, q.Rows()*len(q.Kind.Items))
		for i := range col {
			col[i] = math.NaN()
		}
		r.cols[q.Index] = col
		if q.Value == nil {
			r.fill(q)
		}
	}
	for _, c := range changes {
		r.cols[c.Quantity.Index][c.Row*len(c.Quantity.Kind.Items)+c.Item] = c.Value
	}
	for _, q := range p.Quantities {
		if q.Inverse != nil {
			r.invert(q)
		}
	}
	return r
}

// invert makes the items that refer to an item the members of its set.
func (r *Result) invert(q *check.Quantity) {
	n := len(q.Kind.Items)
	q.EachStep(func(steps []int, row int) {
		to := r.At(q.Inverse, steps[0], 0)
		for i := range n {
			r.cols[q.Index][row*n+i] = truth(to == float64(i))
		}
	})
}

func pointsOf(q *check.Quantity) [][][]float64 {
	out := make([][][]float64, len(q.Kind.Items))
	for i, it := range q.Kind.Items {
		if g := q.GivenFor(it); g != nil {
			out[i] = g.Points
		}
	}
	return out
}

func recordingsOf(q *check.Quantity) []*reading.Recording {
	out := make([]*reading.Recording, len(q.Kind.Items))
	for i, it := range q.Kind.Items {
		if g := q.GivenFor(it); g != nil {
			out[i] = g.Recording
		}
	}
	return out
}

// fill enters the values that a file gives for an input.
func (r *Result) fill(q *check.Quantity) {
	for i, it := range q.Kind.Items {
		g := q.GivenFor(it)
		if g == nil || g.Formula != nil {
			if q.Type == decl.Set && g == nil && !q.Optional {
				r.set(q, i, func(int) float64 { return 0 })
			}
			continue
		}
		switch q.Type {
		case decl.Number, decl.Boolean:
			r.set(q, i, func(step int) float64 {
				if len(g.Values) == 1 {
					return g.Values[0]
				}
				return g.Values[step]
			})
		case decl.Text:
			r.set(q, i, func(int) float64 { return float64(r.machine.texts[g.Texts[0]]) })
		case decl.Reference:
			r.set(q, i, func(int) float64 { return float64(q.To.Item(g.Texts[0])) })
		case decl.Set:
			member := map[string]bool{}
			for _, name := range g.Texts {
				member[name] = true
			}
			r.set(q, i, func(step int) float64 { return truth(member[q.To.Items[step].Name]) })
		}
	}
}

// set enters the values of an item's steps at every point.
func (r *Result) set(q *check.Quantity, item int, value func(step int) float64) {
	n, step := len(q.Kind.Items), 0
	q.EachStep(func(_ []int, row int) {
		r.cols[q.Index][row*n+item] = value(step)
		step++
	})
}

func truth(b bool) float64 {
	if b {
		return 1
	}
	return 0
}
