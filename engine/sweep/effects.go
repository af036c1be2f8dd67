package sweep

import (
	"context"
	"math"
	"sort"

	"bankwright/engine/check"
	"bankwright/engine/decl"
	"bankwright/engine/eval"
)

// Range is an input and two values between which it may lie, in base units.
type Range struct {
	Cell      eval.Cell
	Low, High float64
}

// Within is the part of the range that its quantity allows.
func (r Range) Within() Range {
	least, most := r.Cell.Quantity.Limits()
	r.Low, r.High = math.Max(r.Low, least), math.Min(r.High, most)
	return r
}

// Effect is what an input does alone, the others staying as they are.
type Effect struct {
	Range
	Base              float64
	FigureLow, Figure float64 // the deciding figure of the winner at the low end and at the base
	FigureHigh        float64
	LeadLow, LeadHigh float64 // of the winner over the best of the others: see Judge.Lead
	BestLow, BestHigh int     // who is best there: an item, or None
}

// Swing is how far the figure moves between the ends of the range.
func (e Effect) Swing() float64 { return spread(e.FigureLow, e.Figure, e.FigureHigh) }

// LeadSwing is how far the lead moves, given that at the base.
func (e Effect) LeadSwing(lead float64) float64 { return spread(e.LeadLow, lead, e.LeadHigh) }

// Turns reports whether another item is best at one of the ends.
func (e Effect) Turns(winner int) bool { return e.BestLow != winner || e.BestHigh != winner }

func spread(values ...float64) float64 {
	low, high := math.Inf(1), math.Inf(-1)
	for _, v := range values {
		if v == v {
			low, high = math.Min(low, v), math.Max(high, v)
		}
	}
	if low > high {
		return 0
	}
	return high - low
}

// Effects are what each input does to the figure of the winner and to its lead.
type Effects struct {
	Winner int // an item
	Figure float64
	Lead   float64
	All    []Effect // the greatest effect on the figure first
}

// OneAtATime moves inputs one at a time from low to high. Winner is the item whose
// figure is followed.
func OneAtATime(ctx context.Context, p *check.Program, base *eval.Result, winner int, ranges []Range) (*Effects, error) {
	j := NewJudge(p, 0)
	cells := make([]eval.Cell, len(ranges))
	values := make([]float64, len(ranges))
	for i, r := range ranges {
		cells[i] = r.Cell
		values[i] = base.At(r.Cell.Quantity, r.Cell.Item, r.Cell.Row)
	}
	axis := eval.Axis{Inputs: cells, Steps: 1 + 2*len(ranges), Fill: oneByOne(ranges, values)}
	s, err := base.Sweep([]eval.Axis{axis}, j.Want)
	if err != nil {
		return nil, err
	}
	out := &Effects{Winner: winner, All: make([]Effect, len(ranges))}
	var best []int
	m := newMeter(ctx, s.Points())
	err = s.Run(ctx, 0, s.Points(), func(pts *eval.Points) error {
		if len(best) < pts.N {
			best = make([]int, pts.N)
		}
		j.Best(pts, best)
		m.add(pts.N)
		for i := range pts.N {
			figure, lead := pts.At(j.Figure(winner), i), j.Lead(pts, winner, i)
			at := pts.First + i
			if at == 0 {
				out.Figure, out.Lead = figure, lead
				continue
			}
			e := &out.All[(at-1)/2]
			if at%2 == 1 {
				e.FigureLow, e.LeadLow, e.BestLow = figure, lead, best[i]
			} else {
				e.FigureHigh, e.LeadHigh, e.BestHigh = figure, lead, best[i]
			}
		}
		return nil
	})
	if err != nil {
		return nil, err
	}
	for i := range out.All {
		out.All[i].Range, out.All[i].Base, out.All[i].Figure = ranges[i], values[i], out.Figure
	}
	sort.SliceStable(out.All, func(a, b int) bool { return out.All[a].Swing() > out.All[b].Swing() })
	return out, nil
}

// oneByOne has all inputs at their values at point 0, and then the low and the high end
// of each, the others staying.
func oneByOne(ranges []Range, values []float64) func(cols [][]float64, first int) {
	return func(cols [][]float64, first int) {
		for i, col := range cols {
			for k := range col {
				switch first + k {
				case 1 + 2*i:
					col[k] = ranges[i].Low
				case 2 + 2*i:
					col[k] = ranges[i].High
				default:
					col[k] = values[i]
				}
			}
		}
	}
}

// Around are ranges around what is given for every number of a model, a share of it
// below and above, within its limits. What a formula gives is left alone, and so is
// what is zero or not given, and what is the same for lack of room; and constants of
// the rules and whole numbers, which nobody doubts by a share.
func Around(p *check.Program, base *eval.Result, share float64) []Range {
	var out []Range
	for _, q := range p.Quantities {
		if !movable(q) {
			continue
		}
		for item := range q.Kind.Items {
			if q.Own[item] != nil || q.GivenFor(q.Kind.Items[item]) == nil {
				continue
			}
			for row := range q.Rows() {
				c := eval.Cell{Quantity: q, Item: item, Row: row}
				v := base.At(q, item, row)
				r := Range{c, v * (1 - share), v * (1 + share)}
				if v < 0 {
					r.Low, r.High = r.High, r.Low
				}
				if r = r.Within(); r.Low < r.High && r.Low <= v && v <= r.High {
					out = append(out, r)
				}
			}
		}
	}
	return out
}

// movable reports whether an input is a number that may be moved.
func movable(q *check.Quantity) bool {
	return q.Value == nil && q.Inverse == nil && q.Type == decl.Number && !q.Whole && !q.Kind.Constants()
}
