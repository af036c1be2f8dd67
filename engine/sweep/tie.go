package sweep

import (
	"context"
	"math"

	"bankwright/engine/check"
	"bankwright/engine/eval"
)

// Tie is where the deciding figures of two items are equal as one input moves.
type Tie struct {
	A, B      int // items
	Input     eval.Cell
	From, To  float64
	Looked    int // values that were looked at first
	Crossings []Crossing
	Ends      [2]float64 // the gap at From and To: by which share of B's figure A's is above it; NaN where one has none
	At        []float64  // the figure of both at each crossing
}

// values that are looked at first for a tie.
const tieSpaces = 2048

// tieExact is the relative width within which a tie is found.
const tieExact = 1e-10

// Ties finds where two items tie as the input of a break-even moves: once, or for
// each step of the axis that it runs over. Crossings after and before are -1 where
// A's figure is the lower, 1 where it is the higher, 0 where one of the two has
// none. Where the gap touches zero without changing sign, or jumps over it, the
// crossing says so.
func Ties(ctx context.Context, p *check.Program, base *eval.Result, a, b int, input eval.Cell, from, to float64, over *check.Axis) ([]Tie, error) {
	k := p.Compared()
	by := k.Quantity(k.Compare.By)
	inputs, steps := []eval.Cell{input}, 1
	var values [][]float64
	if over != nil {
		inputs = append(inputs, over.Inputs...)
		steps = over.Steps()
		var err error
		if values, err = absolute(over, base); err != nil {
			return nil, err
		}
	}
	pr, err := newProbe(base, inputs, []eval.Cell{{Quantity: by, Item: a}, {Quantity: by, Item: b}}, tieSpaces+1)
	if err != nil {
		return nil, err
	}
	s := &search{probe: pr, from: from, to: to, even: tieSpaces, between: 31, exact: tieExact, fixed: make([]float64, len(inputs)-1), gap: gap, outcome: func(p *eval.Points, i int) int { return sign(gap(p, i)) }}
	var out []Tie
	s.meter = newMeter(ctx, steps*(tieSpaces+1))
	for step := range steps {
		s.meter.add(max(0, step*(tieSpaces+1)-s.meter.done)) // more is looked at where it turns
		for i := range s.fixed {
			s.fixed[i] = values[i][step]
		}
		t := Tie{A: a, B: b, Input: input, From: from, To: to, Looked: tieSpaces + 1}
		if t.Crossings, err = s.run(ctx); err != nil {
			return nil, err
		}
		if err := s.complete(ctx, &t); err != nil {
			return nil, err
		}
		out = append(out, t)
	}
	return out, nil
}

// gap is by which share of the second figure the first is above it.
func gap(p *eval.Points, i int) float64 {
	x, y := p.At(0, i), p.At(1, i)
	return (x - y) / math.Max(math.Abs(x), math.Abs(y))
}

func sign(x float64) int {
	switch {
	case x < 0:
		return -1
	case x >= 0:
		return 1
	}
	return 0
}

// complete finds the gap at the ends and the figures at the crossings.
func (s *search) complete(ctx context.Context, t *Tie) error {
	xs := []float64{t.From, t.To}
	for _, c := range t.Crossings {
		xs = append(xs, c.At)
	}
	figures := make([]float64, 0, len(xs))
	gaps := make([]float64, 0, len(xs))
	s.begin = func(p *eval.Points) {
		for i := range p.N {
			figures, gaps = append(figures, p.At(1, i)), append(gaps, gap(p, i))
		}
	}
	defer func() { s.begin = nil }()
	if _, err := s.look(ctx, xs); err != nil {
		return err
	}
	t.Ends = [2]float64{gaps[0], gaps[1]}
	t.At = figures[2:]
	return nil
}
