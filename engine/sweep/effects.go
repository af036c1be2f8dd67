package sweep

import (
	"context"
	"fmt"
	"math"
	"sort"

	"bankwright/engine/check"
	"bankwright/engine/decl"
	"bankwright/engine/eval"
	"bankwright/engine/unit"
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
	Best              int     // who is best with nothing moved
}

// AllFail reports at which ends no item passes its checks, though one does with nothing
// moved.
func (e Effect) AllFail() (low, high bool) {
	return e.Best != None && e.BestLow == None, e.Best != None && e.BestHigh == None
}

// Figures are those of the winner at both ends; NaN where all fail, since a figure decides
// nothing there.
func (e Effect) Figures() (low, high float64) {
	low, high = e.FigureLow, e.FigureHigh
	failLow, failHigh := e.AllFail()
	if failLow {
		low = math.NaN()
	}
	if failHigh {
		high = math.NaN()
	}
	return low, high
}

// Swing is how far the figure moves between the ends of the range, those left out at
// which all fail.
func (e Effect) Swing() float64 {
	low, high := e.Figures()
	return spread(low, e.Figure, high)
}

// LeadSwing is how far the lead moves, given that at the base.
func (e Effect) LeadSwing(lead float64) float64 { return spread(e.LeadLow, lead, e.LeadHigh) }

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
	Best   int      // who is best: the winner, or None
	All    []Effect // the greatest effect on the figure first
}

// OneAtATime moves inputs one at a time from low to high. Winner is the item whose
// figure is followed.
func OneAtATime(ctx context.Context, p *check.Program, base *eval.Result, winner int, ranges []Range) (*Effects, error) {
	j := NewJudge(p, 0)
	out := &Effects{Winner: winner, All: make([]Effect, len(ranges))}
	for i, r := range ranges {
		out.All[i] = Effect{Range: r, Base: base.At(r.Cell.Quantity, r.Cell.Item, r.Cell.Row)}
	}
	if looks := len(ranges) * len(j.Kind.Items); looks > mostLooks {
		return nil, fmt.Errorf("to move %s inputs one at a time would take too long with %s %s to compare; leave some of these out, or vary single inputs with a sweep",
			unit.Format(float64(len(ranges)), 0), unit.Format(float64(len(j.Kind.Items)), 0), j.Kind.Plural)
	}
	m := newMeter(ctx, 1+2*len(ranges))
	for first := 0; first == 0 || first < len(ranges); first += mostPlanned {
		group := make([]int, min(mostPlanned, len(ranges)-first))
		for i := range group {
			group[i] = first + i
		}
		all, err := base.Sweep([]eval.Axis{out.axis(group)}, j.Want)
		if err != nil {
			return nil, err
		}
		for _, part := range alike(all.Reached(0)) {
			for i := range part {
				part[i] += first
			}
			if err := out.run(ctx, base, j, part, m); err != nil {
				return nil, err
			}
		}
	}
	for i := range out.All {
		out.All[i].Figure, out.All[i].Best = out.Figure, out.Best
	}
	sort.SliceStable(out.All, func(a, b int) bool { return out.All[a].Swing() > out.All[b].Swing() })
	return out, nil
}

// mostLooks bounds the inputs times the items that are looked at: a minute's work, which a
// catalogue of a thousand items would go beyond.
const mostLooks = 30_000_000

// mostPlanned is of how many inputs at a time is found what follows from them: of all
// that does so, one bit is kept for each.
const mostPlanned = 4096

// mostTogether is how many inputs are moved in one sweep: all that follows from any of them
// is computed at every point, so that with all in one the work would grow with the square
// of their number.
const mostTogether = 512

// alike divides inputs into those from which about as many cells follow: for the others
// they need not be computed. There is one part at least.
func alike(cells []int) [][]int {
	order := make([]int, len(cells))
	for i := range order {
		order[i] = i
	}
	sort.SliceStable(order, func(a, b int) bool { return cells[order[a]] < cells[order[b]] })
	out := [][]int{nil}
	for _, i := range order {
		last := len(out) - 1
		if part := out[last]; len(part) == mostTogether || len(part) > 0 && cells[i] > fewCells/10+3*cells[part[0]] {
			out, last = append(out, nil), last+1
		}
		out[last] = append(out[last], i)
	}
	return out
}

// run moves some of the inputs.
func (e *Effects) run(ctx context.Context, base *eval.Result, j *Judge, part []int, m *meter) error {
	s, err := base.Sweep([]eval.Axis{e.axis(part)}, j.Want)
	if err != nil {
		return err
	}
	var best []int
	return s.Run(ctx, 0, s.Points(), func(pts *eval.Points) error {
		if len(best) < pts.N {
			best = make([]int, pts.N)
		}
		j.Best(pts, best)
		m.add(pts.N)
		for i := range pts.N {
			figure, lead := pts.At(j.Figure(e.Winner), i), j.Lead(pts, e.Winner, i)
			at := pts.First + i
			if at == 0 {
				e.Figure, e.Lead, e.Best = figure, lead, best[i]
				continue
			}
			f := &e.All[part[(at-1)/2]]
			if at%2 == 1 {
				f.FigureLow, f.LeadLow, f.BestLow = figure, lead, best[i]
			} else {
				f.FigureHigh, f.LeadHigh, f.BestHigh = figure, lead, best[i]
			}
		}
		return nil
	})
}

// axis has some of the inputs at their values at point 0, and then the
// low and the high end of each, the others staying.
func (e *Effects) axis(part []int) eval.Axis {
	effects := make([]Effect, len(part))
	for k, i := range part {
		effects[k] = e.All[i]
	}
	cells := make([]eval.Cell, len(effects))
	for i, f := range effects {
		cells[i] = f.Cell
	}
	return eval.Axis{Inputs: cells, Steps: 1 + 2*len(cells), Fill: oneByOne(effects)}
}

func oneByOne(effects []Effect) func(cols [][]float64, first int) {
	return func(cols [][]float64, first int) {
		for i, col := range cols {
			for k := range col {
				switch first + k {
				case 1 + 2*i:
					col[k] = effects[i].Low
				case 2 + 2*i:
					col[k] = effects[i].High
				default:
					col[k] = effects[i].Base
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
