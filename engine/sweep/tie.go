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
	Cut       bool       // there are more crossings than those
	Ends      [2]float64 // the gap at From and To: by which share of B's figure A's is above it; NaN where one has none
	At        []float64  // the figure of both at each crossing
}

// Outcomes on either side of a crossing of a tie.
const (
	Lower    = -1 // A's figure is the lower
	Level    = 0  // both are the same, over a stretch or at an end of the range
	Higher   = 1
	NoFigure = 2 // one of the two has none
)

// values that are looked at first for a tie.
const tieSpaces = 2048

// tieExact is the relative width within which a tie is found.
const tieExact = 1e-10

// Ties finds where two items tie as the input of a break-even moves: once, or for
// each step of the axis that it runs over. Where the gap touches zero without changing
// sign, or jumps over it, the crossing says so. Where both figures are the same over a
// stretch, it has a crossing at each of its ends that lies inside the range.
func Ties(ctx context.Context, p *check.Program, base *eval.Result, a, b int, input eval.Cell, from, to float64, over *check.Axis) ([]Tie, error) {
	k := p.Compared()
	by := k.Quantity(k.Compare.By)
	inputs := []eval.Cell{input}
	var values [][]float64
	if over != nil {
		inputs = append(inputs, over.Inputs...)
		var err error
		if values, err = absolute(over, base); err != nil {
			return nil, err
		}
	}
	figures := []eval.Cell{{Quantity: by, Item: a}, {Quantity: by, Item: b}}
	pr, err := newProbe(base, inputs, nil, figures, tieSpaces+1)
	if err != nil {
		return nil, err
	}
	s := &search{probe: pr, from: from, to: to, even: tieSpaces, between: 31, exact: tieExact, fixed: values, gap: gap, outcome: func(p *eval.Points, i int) int { return sign(gap(p, i)) }}
	open, lines, err := s.first(ctx, base, input, over, figures)
	if err != nil {
		return nil, err
	}
	all, err := s.run(ctx, open, lines)
	if err != nil {
		return nil, err
	}
	var out []Tie
	for _, c := range all {
		out = append(out, Tie{A: a, B: b, Input: input, From: from, To: to, Looked: tieSpaces + 1, Crossings: s.joined(c.found), Cut: c.cut})
	}
	return out, s.complete(ctx, out)
}

// first looks at the first values of the input at each step of another axis, if there is
// one: as a grid, so that what depends on the input alone is computed once. It finds in
// which stretches something changes, and how many lines there are, one for each step.
func (s *search) first(ctx context.Context, base *eval.Result, input eval.Cell, over *check.Axis, want []eval.Cell) (open []stretch, lines int, err error) {
	xs := s.evenly()
	axes := []eval.Axis{{Inputs: []eval.Cell{input}, Steps: len(xs), Fill: eval.Values(xs)}}
	if over != nil {
		axes = []eval.Axis{{Inputs: over.Inputs, Steps: over.Steps(), Fill: eval.Values(s.fixed...)}, axes[0]}
	}
	grid, err := base.Sweep(axes, want)
	if err != nil {
		return nil, 0, err
	}
	m := newMeter(ctx, grid.Points())
	var spots []spot
	err = grid.Run(ctx, 0, grid.Points(), func(p *eval.Points) error {
		m.add(p.N)
		for i := range p.N {
			if spots = append(spots, s.spot(xs[len(spots)], p, i)); len(spots) < len(xs) {
				continue
			}
			for _, n := range s.stretches(spots) {
				n.line = lines
				open = append(open, n)
			}
			spots, lines = spots[:0], lines+1
		}
		return nil
	})
	return open, lines, err
}

// gap is by which share of the second figure the first is above it.
func gap(p *eval.Points, i int) float64 {
	x, y := p.At(0, i), p.At(1, i)
	if x == y {
		return 0 // also where both are 0
	}
	return (x - y) / math.Max(math.Abs(x), math.Abs(y))
}

func sign(x float64) int {
	switch {
	case x < 0:
		return Lower
	case x > 0:
		return Higher
	case x == 0:
		return Level
	}
	return NoFigure
}

// point is how short a stretch, relative to the input, in which two figures are the same
// counts as one point: near a tie, rounding makes them so.
const point = 1e-7

// joined makes one crossing of the two ends of a stretch that is no longer than a point,
// leaves out touches that are seen for rounding beside another crossing, and puts one
// that ends the range at its end.
func (s *search) joined(all []Crossing) []Crossing {
	near := func(a, b float64) bool { return math.Abs(b-a) <= point*s.size(a, b) }
	var out []Crossing
	rounded := false // whether the last of out is a touch that is no more than near zero
	for _, c := range all {
		last := len(out) - 1
		switch {
		case last < 0 || !near(out[last].At, c.At):
			out, rounded = append(out, c), c.Touch
		case c.Touch: // beside what is known better
		case rounded:
			out[last], rounded = c, false
		case out[last].After == Level && c.Before == Level:
			a := &out[last]
			a.At, a.After, a.Touch = a.At+(c.At-a.At)/2, c.After, a.Before == c.After
		default:
			out = append(out, c)
		}
	}
	for i := range out {
		switch c := &out[i]; {
		case c.Before == Level && near(s.from, c.At):
			c.At = s.from
		case c.After == Level && near(c.At, s.to):
			c.At = s.to
		}
	}
	return out
}

// complete finds the gap at the ends and the figures at the crossings of each tie, which
// stand in the order of their lines.
func (s *search) complete(ctx context.Context, ties []Tie) error {
	var xs []float64
	var on []int
	for line, t := range ties {
		xs, on = append(xs, t.From, t.To), append(on, line, line)
		for _, c := range t.Crossings {
			xs, on = append(xs, c.At), append(on, line)
		}
	}
	var figures, gaps []float64
	s.begin = func(p *eval.Points) {
		for i := range p.N {
			figures, gaps = append(figures, p.At(1, i)), append(gaps, gap(p, i))
		}
	}
	defer func() { s.begin = nil }()
	if _, err := s.look(ctx, xs, on); err != nil {
		return err
	}
	at := 0
	for i := range ties {
		t := &ties[i]
		t.Ends = [2]float64{gaps[at], gaps[at+1]}
		at += 2
		t.At = figures[at : at+len(t.Crossings)]
		at += len(t.Crossings)
	}
	return nil
}
