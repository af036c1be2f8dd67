package sweep

import (
	"context"
	"math"
	"slices"

	"bankwright/engine/check"
	"bankwright/engine/eval"
)

// Margin is how far one input may move, all others staying, before another item is
// best.
type Margin struct {
	Cell     eval.Cell
	Base     float64
	From, To float64 // how far it was moved
	Below    Turn    // the nearest value below the base at which another is best
	Above    Turn
	Looked   int  // values that were looked at on each side
	Heavy    bool // nothing was looked at: the model is too large for an answer at once
}

// Turn is a value of an input at which the winner changes; Best is who wins then,
// None where nobody does.
type Turn struct {
	Found bool
	At    float64
	Best  int
}

// looked is how many values are looked at on each side of the base for a margin.
const looked = 16

// mostWork bounds the cells that are computed for the first look: about a tenth of
// a second's work.
const mostWork = 10_000_000

// marginExact is the relative width within which the end of a margin is found where
// few cells follow from the input, up to fewCells, and where many do: it is shown
// with three digits, or in whole units.
const (
	marginExact      = 1e-5
	marginExactHeavy = 5e-4
	fewCells         = 10_000
)

// Margins finds for each input how far it may move down and up before another item
// is best than the winner. Values are looked at more closely near the base; a turn
// and a turn back between two of them go unseen.
func Margins(ctx context.Context, p *check.Program, base *eval.Result, winner int, ranges []Range) ([]Margin, error) {
	var out []Margin
	if cells(p) > mostWork { // to find out what follows from an input is much work as well
		for _, r := range ranges {
			out = append(out, Margin{Cell: r.Cell, Heavy: true})
		}
		return out, nil
	}
	for _, r := range ranges {
		m, err := margin(ctx, p, base, winner, r)
		if err != nil {
			return nil, err
		}
		out = append(out, m)
	}
	return out, nil
}

// cells is how many cells a model has.
func cells(p *check.Program) int {
	n := 0
	for _, q := range p.Quantities {
		n += q.Rows() * len(q.Kind.Items)
	}
	return n
}

func margin(ctx context.Context, p *check.Program, base *eval.Result, winner int, r Range) (Margin, error) {
	m := Margin{Cell: r.Cell, Base: base.At(r.Cell.Quantity, r.Cell.Item, r.Cell.Row), From: r.Low, To: r.High, Looked: looked}
	j := NewJudge(p, 0)
	pr, err := newProbe(base, []eval.Cell{r.Cell}, nil, j.Want, 2*looked)
	if err != nil {
		return m, err
	}
	if pr.sweep.Cells()*2*looked > mostWork {
		m.Heavy = true
		return m, nil
	}
	exact := marginExact
	if pr.sweep.Cells() > fewCells {
		exact = marginExactHeavy
	}
	best := make([]int, 2*looked)
	s := &search{probe: pr, exact: exact, between: 8, from: r.Low, to: r.High,
		begin:   func(pts *eval.Points) { j.Best(pts, best) },
		outcome: func(_ *eval.Points, i int) int { return best[i] }}
	var xs []float64
	for i := looked; i > 0; i-- {
		xs = append(xs, m.Base+(r.Low-m.Base)*apart(i))
	}
	for i := 1; i <= looked; i++ {
		xs = append(xs, m.Base+(r.High-m.Base)*apart(i))
	}
	spots, err := s.look(ctx, xs, nil)
	if err != nil {
		return m, err
	}
	here := spot{x: m.Base, gap: math.NaN(), outcome: winner}
	found, err := s.turns(ctx, here, backwards(spots[:looked]), spots[looked:])
	if err == nil {
		m.Below, m.Above = found[0], found[1]
	}
	return m, err
}

// apart is how far from the base the i-th value lies, as a share of the way: closer
// together near the base.
func apart(i int) float64 {
	x := float64(i) / looked
	return x * x
}

func backwards(line []spot) []spot {
	out := make([]spot, len(line))
	for i, s := range line {
		out[len(line)-1-i] = s
	}
	return out
}

// turns finds the first value along each line of spots at which the outcome is another
// than at the spot in front of them.
func (s *search) turns(ctx context.Context, from spot, lines ...[]spot) ([]Turn, error) {
	out, before := make([]Turn, len(lines)), make([]spot, len(lines))
	for k := range lines {
		before[k] = from
	}
	for round := 0; ; round++ {
		var open []int
		var xs []float64
		for k, line := range lines {
			at := slices.IndexFunc(line, func(sp spot) bool { return sp.outcome != from.outcome })
			if lines[k] = nil; at < 0 {
				continue
			}
			a, b := before[k], line[at]
			if at > 0 {
				a = line[at-1]
			}
			if math.Abs(b.x-a.x) <= s.exact*math.Max(math.Abs(a.x), math.Abs(b.x)) || round == 40 {
				out[k] = Turn{true, b.x, b.outcome}
				continue
			}
			for i := 1; i <= s.between; i++ {
				xs = append(xs, a.x+(b.x-a.x)*float64(i)/float64(s.between+1))
			}
			open, before[k], lines[k] = append(open, k), a, []spot{b}
		}
		if len(open) == 0 {
			return out, nil
		}
		inner, err := s.look(ctx, xs, nil)
		if err != nil {
			return nil, err
		}
		for i, k := range open {
			lines[k] = slices.Concat(inner[i*s.between:(i+1)*s.between], lines[k])
		}
	}
}
