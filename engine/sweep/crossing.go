package sweep

import (
	"context"
	"math"
	"sort"

	"bankwright/engine/eval"
)

// Crossing is a value of an input at which an outcome changes.
type Crossing struct {
	At            float64 // base units
	Before, After int     // the outcomes on either side
	Jump          bool    // the gap jumps over zero there and is nowhere near it
	Touch         bool    // the gap comes down to zero and goes back
}

// search looks for the values of one input at which an outcome changes: first at
// evenly spaced values, then ever closer between those that differ, all at once.
type search struct {
	probe    *probe
	scale    []float64   // by what the first inputs of the probe are this one; none: it is the first itself
	fixed    [][]float64 // by other input of the probe: its value on each line
	from, to float64
	even     int                  // spaces between the values that are looked at first
	between  int                  // values that are looked at inside a stretch in which something changes
	begin    func(p *eval.Points) // called for each run of points, before their outcomes are asked for; or nil
	outcome  func(p *eval.Points, i int) int
	gap      func(p *eval.Points, i int) float64 // NaN where there is none; nil: outcomes alone count
	exact    float64                             // relative width at which a crossing is found
}

// spot is what was found at one value of the input.
type spot struct {
	x, gap  float64
	outcome int
}

// mostStretches bounds how many changes of a line are followed.
const mostStretches = 256

// stretch is where an outcome changes, or where a gap is least without changing, on one
// of several lines that are searched together.
type stretch struct {
	a, b spot
	dip  bool
	line int
}

// crossings are those of a line.
type crossings struct {
	found []Crossing
	cut   bool // more changes were seen than are followed
}

// evenly are the values that are looked at first.
func (s *search) evenly() []float64 {
	xs := make([]float64, s.even+1)
	for i := range xs {
		xs[i] = part(s.from, s.to, i, s.even)
	}
	xs[s.even] = s.to
	return xs
}

// part is the i-th of n equal parts of the way from one value to another.
func part(from, to float64, i, n int) float64 {
	x := from + (to-from)*float64(i)/float64(n)
	if math.IsInf(x, 0) { // the product alone is beyond all numbers
		x = from + (to-from)*(float64(i)/float64(n))
	}
	return x
}

// run finds the crossings of each line in order, given in which stretches of them
// something was seen to change. All lines are looked at together, since a look at few
// values takes nearly as long as one at many.
func (s *search) run(ctx context.Context, open []stretch, lines int) ([]crossings, error) {
	out := make([]crossings, lines)
	for len(open) > 0 {
		open = few(open, out)
		var xs []float64
		var on []int
		for _, o := range open {
			for i := 1; i <= s.between; i++ {
				xs, on = append(xs, part(o.a.x, o.b.x, i, s.between+1)), append(on, o.line)
			}
		}
		inner, err := s.look(ctx, xs, on)
		if err != nil {
			return nil, err
		}
		var next []stretch
		for i, o := range open {
			line := append(append([]spot{o.a}, inner[i*s.between:(i+1)*s.between]...), o.b)
			for _, n := range s.closer(line, o.dip) {
				n.line = o.line
				if c, done := s.settle(n); !done {
					next = append(next, n)
				} else if c != nil {
					out[o.line].found = append(out[o.line].found, *c)
				}
			}
		}
		open = next
	}
	for i := range out {
		found := out[i].found
		sort.Slice(found, func(a, b int) bool { return found[a].At < found[b].At })
		out[i].found = distinct(found, s.exact)
	}
	return out, nil
}

// few leaves out what is beyond the changes that are followed of each line.
func few(open []stretch, of []crossings) []stretch {
	seen, out := make([]int, len(of)), open[:0]
	for _, o := range open {
		if seen[o.line]++; seen[o.line] > mostStretches {
			of[o.line].cut = true
			continue
		}
		out = append(out, o)
	}
	return out
}

// look finds what is at some values, each on a line; without lines there is one.
func (s *search) look(ctx context.Context, xs []float64, lines []int) ([]spot, error) {
	out := make([]spot, 0, len(xs))
	most := len(s.probe.values[0])
	for len(out) < len(xs) {
		from := len(out)
		part := xs[from:min(len(xs), from+most)]
		s.enter(part)
		for j, values := range s.fixed {
			for i := range part {
				s.probe.values[len(s.probe.values)-len(s.fixed)+j][i] = values[lines[from+i]]
			}
		}
		err := s.probe.at(ctx, len(part), func(p *eval.Points) error {
			if s.begin != nil {
				s.begin(p)
			}
			for i := range p.N {
				out = append(out, s.spot(part[p.First+i], p, i))
			}
			return nil
		})
		if err != nil {
			return nil, err
		}
	}
	return out, nil
}

// spot is what is at the i-th of a run of points.
func (s *search) spot(x float64, p *eval.Points, i int) spot {
	at := spot{x: x, gap: math.NaN(), outcome: s.outcome(p, i)}
	if s.gap != nil {
		at.gap = s.gap(p, i)
	}
	return at
}

// enter hands values of the input to the probe.
func (s *search) enter(xs []float64) {
	copy(s.probe.values[0], xs)
	for j, f := range s.scale {
		for i, x := range xs {
			s.probe.values[j][i] = x * f
		}
	}
}

// stretches are where neighbours differ, and where a gap dips between two that do
// not.
func (s *search) stretches(line []spot) (out []stretch) {
	for i := 1; i < len(line); i++ {
		if line[i-1].outcome != line[i].outcome {
			out = append(out, stretch{a: line[i-1], b: line[i]})
		}
		if i+1 < len(line) && dips(line[i-1], line[i], line[i+1]) {
			out = append(out, stretch{a: line[i-1], b: line[i+1], dip: true})
		}
	}
	return out
}

// dips reports whether a gap is less in the middle than on both sides.
func dips(a, m, b spot) bool {
	if a.outcome != m.outcome || m.outcome != b.outcome {
		return false
	}
	l, c, r := math.Abs(a.gap), math.Abs(m.gap), math.Abs(b.gap)
	return c <= l && c <= r && (c < l || c < r) // NaN compares false
}

// closer are the stretches inside one that has been looked at; of a dip without a
// change, only where it is deepest.
func (s *search) closer(line []spot, dip bool) []stretch {
	all := s.stretches(line)
	if !dip {
		out := all[:0]
		for _, o := range all {
			if !o.dip {
				out = append(out, o)
			}
		}
		return out
	}
	best := -1
	for i, o := range all {
		if !o.dip {
			return all
		}
		if best < 0 || math.Abs(o.a.gap)+math.Abs(o.b.gap) < math.Abs(all[best].a.gap)+math.Abs(all[best].b.gap) {
			best = i
		}
	}
	if best < 0 {
		return nil
	}
	return all[best : best+1]
}

// settle ends a search whose stretch is narrow enough; a dip that does not come
// down to zero ends without a crossing.
func (s *search) settle(n stretch) (*Crossing, bool) {
	width := n.b.x - n.a.x
	if width > s.exact*s.size(n.a.x, n.b.x) {
		return nil, false
	}
	c := &Crossing{At: n.a.x + width/2, Before: n.a.outcome, After: n.b.outcome}
	if s.gap == nil {
		return c, true
	}
	g, h := n.a.gap, n.b.gap
	switch {
	case n.dip:
		c.Touch = true
		if math.Min(math.Abs(g), math.Abs(h)) > touching {
			return nil, true
		}
	case g == 0:
		c.At = n.a.x
	case h == 0:
		c.At = n.b.x
	case g == g && h == h && (g < 0) != (h < 0):
		c.At = n.a.x + width*(g/(g-h))
		c.Jump = math.Min(math.Abs(g), math.Abs(h)) > touching
	}
	return c, true
}

// size is that by which the distance of two values of the input is measured.
func (s *search) size(a, b float64) float64 {
	return math.Max(math.Max(math.Abs(a), math.Abs(b)), (s.to-s.from)*1e-3)
}

// touching is how near zero a gap must be, in its own unit as a share of what is
// compared, to count as a tie: over so narrow a stretch nothing that is steady moves
// that far.
const touching = 1e-7

// distinct leaves out crossings that were found from two sides.
func distinct(all []Crossing, exact float64) []Crossing {
	var out []Crossing
	for _, c := range all {
		if n := len(out); n > 0 && math.Abs(c.At-out[n-1].At) <= 2*exact*math.Abs(c.At) && (c.Touch || out[n-1].Touch || c.Before == out[n-1].Before && c.After == out[n-1].After) {
			if out[n-1].Touch {
				out[n-1] = c
			}
			continue
		}
		out = append(out, c)
	}
	return out
}
