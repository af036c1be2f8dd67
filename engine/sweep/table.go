package sweep

import (
	"context"
	"math"

	"bankwright/engine/decl"
	"bankwright/engine/eval"
)

// mostKept is how many values of all points of a grid are kept.
const mostKept = 8_000_000

// Table is a grid and what was found at all of its points, in their order.
type Table struct {
	*Grid
	Best []int32 // who is best, or None; nil where the rules compare nothing
	Wins []int   // by item: at how many points it is best; behind all items, where none is
	// Beside are the cells that are shown and are not the deciding figure of an item.
	Beside    []eval.Cell
	Low, High []float64 // of each of them over all points; NaN where it never has a value
	// Kept tells that figures, and whatever else is shown, are known at each point:
	// of a very large grid they are not.
	Kept bool

	at      []int       // where what is shown beside stands among what is wanted
	beside  [][]float64 // by cell, by point
	figures [][]float64 // by item, by point
	passed  [][]bool
}

// Collect evaluates all points of a grid and keeps what was found.
func (g *Grid) Collect(ctx context.Context) (*Table, error) {
	t := &Table{Grid: g}
	for i, c := range g.Show {
		if g.Judge == nil || c.Quantity != g.Judge.By {
			t.Beside, t.at = append(t.Beside, c), append(t.at, i)
			t.Low, t.High = append(t.Low, math.NaN()), append(t.High, math.NaN())
		}
	}
	items := 0
	if g.Judge != nil {
		items = len(g.Judge.items)
		t.Best, t.Wins = make([]int32, g.Points()), make([]int, items+1)
	}
	t.Kept = g.Points() <= mostKept/max(1, items+len(t.Beside))
	if t.Kept {
		t.beside = room[float64](len(t.Beside), g.Points())
		t.figures = room[float64](items, g.Points())
		t.passed = room[bool](items, g.Points())
	}
	err := g.Run(ctx, 0, g.Points(), func(r *Run) error {
		t.add(r)
		return nil
	})
	return t, err
}

func room[T any](columns, points int) [][]T {
	out := make([][]T, columns)
	for i := range out {
		out[i] = make([]T, points)
	}
	return out
}

// add takes in the points of a run.
func (t *Table) add(r *Run) {
	for k, at := range t.at {
		for i := range r.N {
			v := r.At(at, i)
			if v == v {
				t.Low[k], t.High[k] = least(t.Low[k], v), -least(-t.High[k], -v)
			}
			if t.Kept {
				t.beside[k][r.First+i] = v
			}
		}
	}
	for i, b := range r.Best {
		t.Best[r.First+i] = int32(b)
		if b == None {
			b = len(t.Wins) - 1
		}
		t.Wins[b]++
	}
	if !t.Kept || t.Judge == nil {
		return
	}
	for item := range t.figures {
		each, all := t.Judge.Eligible(r.Points, item)
		for i := range r.N {
			t.figures[item][r.First+i] = r.At(t.Judge.Figure(item), i)
			t.passed[item][r.First+i] = each == nil && all || each != nil && each[i]
		}
	}
}

// least is the lesser of two, of which the first may be none yet.
func least(a, b float64) float64 {
	if a != a || b < a {
		return b
	}
	return a
}

// Figure is the deciding figure of an item at a point, in base units.
func (t *Table) Figure(item, point int) float64 { return t.figures[item][point] }

// Passed reports whether an item may be best at a point: it passes all checks and
// has a figure.
func (t *Table) Passed(item, point int) bool { return t.passed[item][point] }

// Value is that of the k-th cell beside the figures at a point, in base units.
func (t *Table) Value(k, point int) float64 { return t.beside[k][point] }

// Point is the point at a step of each axis.
func (g *Grid) Point(steps ...int) int {
	point := 0
	for i, a := range g.Axes {
		point = point*a.Steps() + steps[i]
	}
	return point
}

// Change is a value between two steps of an axis at which another item is best.
type Change struct {
	At            float64 // value of the axis: in base units, or a factor
	Before, After int     // who is best below and from there on: an item, or None
}

// Changes finds the values at which another item is best between neighbouring
// steps of an axis, where the others stay at the steps given: those of them between
// whose ends the best differs. An axis of choices or whole numbers has none.
func (t *Table) Changes(ctx context.Context, axis int, steps []int) ([]Change, error) {
	a := t.Axes[axis]
	if q := a.Inputs[0].Quantity; q.Type != decl.Number || q.Whole || t.Judge == nil {
		return nil, nil
	}
	var s *search
	steps = append([]int{}, steps...)
	best := func(step int) int {
		steps[axis] = step
		return int(t.Best[t.Point(steps...)])
	}
	var out []Change
	for i := 1; i < a.Steps(); i++ {
		from, to := best(i-1), best(i)
		if from == to {
			continue
		}
		if s == nil {
			var err error
			if s, err = t.search(axis, steps); err != nil {
				return nil, err
			}
		}
		found, err := s.changes(ctx, spot{x: a.Values[i-1], gap: math.NaN(), outcome: from}, spot{x: a.Values[i], gap: math.NaN(), outcome: to})
		if err != nil {
			return nil, err
		}
		out = append(out, found...)
	}
	return out, nil
}

// changes are those between two values whose outcomes differ.
func (s *search) changes(ctx context.Context, from, to spot) (out []Change, err error) {
	const most = 8 // between two steps
	for len(out) < most && from.outcome != to.outcome {
		turns, err := s.turns(ctx, from, []spot{to})
		if err != nil {
			return nil, err
		}
		turn := turns[0]
		out = append(out, Change{At: turn.At, Before: from.outcome, After: turn.Best})
		from = spot{x: turn.At, gap: math.NaN(), outcome: turn.Best}
	}
	return out, nil
}

// search looks along one axis for who is best, the others staying at their steps.
func (t *Table) search(axis int, steps []int) (*search, error) {
	a := t.Axes[axis]
	s := &search{exact: tieExact, between: 31}
	for i := range a.Inputs {
		scale := 1.0
		if a.Relative {
			c := a.Inputs[i]
			scale = t.base.At(c.Quantity, c.Item, c.Row)
		}
		s.scale = append(s.scale, scale)
	}
	var others []eval.Axis // of one step: what depends on them alone is computed once
	for other, b := range t.Axes {
		if other == axis {
			continue
		}
		var values [][]float64
		for i := range b.Inputs {
			values = append(values, []float64{t.Input(other, i, steps[other])})
		}
		others = append(others, eval.Axis{Inputs: b.Inputs, Steps: 1, Fill: eval.Values(values...)})
	}
	judge := NewJudge(t.program, 0)
	best := make([]int, s.between)
	s.begin = func(p *eval.Points) { judge.Best(p, best) }
	s.outcome = func(_ *eval.Points, i int) int { return best[i] }
	var err error
	s.probe, err = newProbe(t.base, a.Inputs, others, judge.Want, s.between)
	return s, err
}
