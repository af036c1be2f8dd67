package sweep

import (
	"context"
	"fmt"

	"bankwright/engine/arith"
	"bankwright/engine/check"
	"bankwright/engine/eval"
)

// Grid is every value of some axes with every value of the others, and what is to
// be known at each point: some cells, and who is best.
type Grid struct {
	Axes  []*check.Axis // the last runs fastest; the longest has been put last
	Show  []eval.Cell
	Judge *Judge // nil where the rules compare nothing

	program *check.Program
	base    *eval.Result
	values  [][][]float64 // by axis and input: by step, in base units
	sweep   *eval.Sweep
	best    []int
}

// Run is some consecutive points of a grid.
type Run struct {
	*eval.Points
	Best []int // by point: the best item, or None

	grid *Grid
}

// NewGrid plans a grid. The error says what is beyond the limits of its quantity,
// or that there are too many points.
func NewGrid(p *check.Program, base *eval.Result, axes []*check.Axis, show []check.Place) (*Grid, error) {
	g := &Grid{Axes: longestLast(axes), Show: show, Judge: NewJudge(p, len(show)), program: p, base: base}
	want := show
	if g.Judge != nil {
		want = append(append([]eval.Cell{}, show...), g.Judge.Want...)
	}
	var dims []eval.Axis
	for _, a := range g.Axes {
		values, err := absolute(a, base)
		if err != nil {
			return nil, err
		}
		g.values = append(g.values, values)
		dims = append(dims, eval.Axis{Inputs: a.Inputs, Steps: a.Steps(), Fill: eval.Values(values...)})
	}
	var err error
	g.sweep, err = base.Sweep(dims, want)
	return g, err
}

// longestLast puts the axis with the most steps last; the others stay in order.
func longestLast(axes []*check.Axis) []*check.Axis {
	longest := len(axes) - 1
	for i := len(axes) - 1; i >= 0; i-- {
		if axes[i].Steps() > axes[longest].Steps() {
			longest = i
		}
	}
	var out []*check.Axis
	for i, a := range axes {
		if i != longest {
			out = append(out, a)
		}
	}
	return append(out, axes[longest])
}

// absolute are the values of an axis's inputs; factors are taken of what the inputs
// are at the base point.
func absolute(a *check.Axis, base *eval.Result) ([][]float64, error) {
	out := make([][]float64, len(a.Inputs))
	for i, c := range a.Inputs {
		if out[i] = a.Values; !a.Relative {
			continue
		}
		v := base.At(c.Quantity, c.Item, c.Row)
		if v != v {
			return nil, fmt.Errorf("%s is not given, so that it cannot be scaled", nameOf(c))
		}
		out[i] = make([]float64, len(a.Values))
		for step, f := range a.Values {
			x := v * f
			if least, most := c.Quantity.Limits(); arith.Below(x, least) || arith.Below(most, x) {
				return nil, fmt.Errorf("%s of %s is beyond what is possible", a.Written(step), nameOf(c))
			}
			out[i][step] = x
		}
	}
	return out, nil
}

// Points is the number of points of the grid.
func (g *Grid) Points() int { return g.sweep.Points() }

// Part is the points of the k-th of n parts of the grid, from the first up to and
// without the second, k counting from 1. The parts follow each other without a gap.
func (g *Grid) Part(k, n int) (from, to int) {
	whole, rest := g.Points()/n, g.Points()%n
	at := func(k int) int { return k*whole + min(k, rest) }
	return at(k - 1), at(k)
}

// Run evaluates the points from up to and without to, and hands them to emit in
// order; see eval.Sweep.Run.
func (g *Grid) Run(ctx context.Context, from, to int, emit func(*Run) error) error {
	run := &Run{grid: g}
	m := newMeter(ctx, to-from)
	return g.sweep.Run(ctx, from, to, func(p *eval.Points) error {
		run.Points = p
		if g.Judge != nil {
			if cap(g.best) < p.N {
				g.best = make([]int, p.N)
			}
			run.Best = g.best[:p.N]
			g.Judge.Best(p, run.Best)
		}
		m.add(p.N)
		return emit(run)
	})
}

// Steps enters the step of each axis at the i-th point of the run.
func (r *Run) Steps(i int, steps []int) { r.grid.sweep.StepsAt(r.First+i, steps) }

// Input is the value of an input of an axis at a step, in base units.
func (g *Grid) Input(axis, input, step int) float64 { return g.values[axis][input][step] }
