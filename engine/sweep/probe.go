package sweep

import (
	"context"

	"bankwright/engine/eval"
)

// probe evaluates a model at points of its caller's choice, as often as is asked.
type probe struct {
	sweep  *eval.Sweep
	values [][]float64 // by input
	axis   int
}

// newProbe plans for up to so many points at a time, the inputs of other axes, which have
// one step, staying as they are.
func newProbe(r *eval.Result, inputs []eval.Cell, others []eval.Axis, want []eval.Cell, most int) (*probe, error) {
	p := &probe{axis: len(others)}
	for range inputs {
		p.values = append(p.values, make([]float64, most))
	}
	axis := eval.Axis{Inputs: inputs, Steps: most, Fill: func(cols [][]float64, first int) {
		for i, col := range cols {
			copy(col, p.values[i][first:])
		}
	}}
	var err error
	p.sweep, err = r.Sweep(append(others, axis), want)
	return p, err
}

// at evaluates the first n points that stand in values.
func (p *probe) at(ctx context.Context, n int, emit func(*eval.Points) error) error {
	p.sweep.Anew(p.axis)
	return p.sweep.Run(ctx, 0, n, emit)
}
