package sweep

import (
	"context"
	"fmt"
	"math"

	"bankwright/engine/check"
	"bankwright/engine/decl"
	"bankwright/engine/eval"
	"bankwright/engine/sample"
	"bankwright/engine/unit"
)

// Replicates is in how many independent parts a doubt is sampled; how far they lie
// apart tells the sampling error.
const Replicates = 16

// Doubted is what becomes of a comparison when its inputs are uncertain.
type Doubted struct {
	Samples int // rounded up so that every replicate has as many
	Winner  int // the best item at the base point, or the first one where there is none
	Items   []ItemDoubt
	None    sample.Estimate // probability that no item may be best
	Lead    *sample.Replicates
	Shares  []Share // by input: how much of the variance is due to it; nil where that is not defined
	Unclear string  // why there are no shares
}

// mostSampled is how many figures a doubt keeps, of all items and of the lead (128 MB, and
// as much again where those of all replicates are put together).
const mostSampled = 16_000_000

// ItemDoubt is what becomes of one item.
type ItemDoubt struct {
	Figure *sample.Replicates // of the deciding figure, in base units
	Best   sample.Estimate    // probability of being the best that passes all checks
	Passes sample.Estimate    // probability of passing all checks
}

// Share is the part of an input in the variance of the winner's figure, and in that
// of its lead over the best of the others: first order, what would go if the input
// were known; total, what would stay if all others were.
type Share struct {
	First, Total         sample.Estimate
	LeadFirst, LeadTotal sample.Estimate
}

// draws makes the values of uncertain inputs.
type draws struct {
	inputs []eval.Cell
	dists  []sample.Distribution
	ties   *sample.Correlation // nil: none are correlated
	each   int                 // points of a replicate
	points []*sample.Sobol
	meter  *meter
}

func newDraws(d *check.Doubt, base *eval.Result) (*draws, error) {
	w := &draws{ties: d.Ties, each: (d.Samples + Replicates - 1) / Replicates}
	for _, u := range d.Inputs {
		dist, err := distribution(u, base)
		if err != nil {
			return nil, err
		}
		w.inputs, w.dists = append(w.inputs, u.Place), append(w.dists, dist)
	}
	for r := range Replicates {
		s, err := sample.NewSobol(len(w.inputs), sample.Seed(uint64(d.Seed), r))
		if err != nil {
			return nil, err
		}
		w.points = append(w.points, s)
	}
	return w, nil
}

func nameOf(c check.Place) string {
	return c.Quantity.Kind.Items[c.Item].Name + "." + c.Quantity.Name
}

// distribution is how an uncertain input is spread, cut off at its limits.
func distribution(u check.Uncertain, base *eval.Result) (d sample.Distribution, err error) {
	switch x := u.Params; u.Kind {
	case decl.Triangular:
		d, err = sample.Triangular(x[0], x[1], x[2])
	case decl.Uniform:
		d, err = sample.Uniform(x[0], x[1])
	case decl.Normal:
		d, err = sample.Normal(x[0], x[1])
	case decl.Lognormal:
		d, err = sample.LogNormal(x[0], x[1])
	case decl.Trials:
		var v [3]float64
		for i, c := range u.Cells {
			if v[i] = base.At(c.Quantity, c.Item, c.Row); v[i] != v[i] {
				return nil, fmt.Errorf("%s has no value, so that %s cannot be drawn from trials", nameOf(c), nameOf(u.Place))
			}
		}
		if !decl.IsWhole(v[2]) {
			return nil, fmt.Errorf("%s is %s, but trials are counted in whole numbers, so that %s cannot be drawn from them", nameOf(u.Cells[2]), decl.Figure(v[2]), nameOf(u.Place))
		}
		d, err = sample.MeanOf(v[0], v[1], int(math.Round(v[2])))
	}
	if err == nil && (!math.IsInf(u.Min, -1) || !math.IsInf(u.Max, 1)) {
		d, err = sample.Truncated(d, u.Min, u.Max)
	}
	if err != nil {
		err = fmt.Errorf("%s: %w", nameOf(u.Place), err)
	}
	return d, err
}

// fill enters the inputs of points first and following, replicate after replicate.
func (w *draws) fill(cols [][]float64, first int) {
	var room [64][]float64
	n := len(cols[0])
	for at := 0; at < n; {
		r, i := (first+at)/w.each, (first+at)%w.each
		part := min(n-at, w.each-i)
		sub := room[:0]
		for _, c := range cols {
			sub = append(sub, c[at:at+part])
		}
		w.points[r].Fill(sub, uint64(i))
		w.spread(sub)
		at += part
	}
}

// spread makes numbers between 0 and 1 into values of the inputs.
func (w *draws) spread(cols [][]float64) {
	if w.ties != nil {
		w.ties.Apply(cols)
	}
	for i, c := range cols {
		sample.Transform(w.dists[i], c)
	}
}

// Doubt samples the uncertain inputs of a doubt. Winner is the item whose lead is
// followed. The result depends on the seed alone, not on the cores.
func Doubt(ctx context.Context, p *check.Program, base *eval.Result, d *check.Doubt, winner int) (*Doubted, error) {
	w, err := newDraws(d, base)
	if err != nil {
		return nil, err
	}
	j := NewJudge(p, 0)
	if most := mostSampled / (len(j.items) + 1); d.Samples > most {
		return nil, fmt.Errorf("%s samples are more than can be kept of %s; take at most %s",
			unit.Format(float64(d.Samples), 0), unit.Counted(len(j.items), j.Kind.Name, j.Kind.Plural), unit.Format(float64(most), 0))
	}
	total := w.each * Replicates
	s, err := base.Sweep([]eval.Axis{{Inputs: w.inputs, Steps: total, Fill: w.fill}}, j.Want)
	if err != nil {
		return nil, err
	}
	w.meter = newMeter(ctx, total+w.designed())
	t := newTallies(j, winner)
	err = s.Run(ctx, 0, total, func(pts *eval.Points) error {
		w.meter.add(pts.N)
		for at := 0; at < pts.N; {
			r := (pts.First + at) / w.each
			n := min(pts.N-at, (r+1)*w.each-pts.First-at)
			t.add(pts, r, at, n)
			at += n
		}
		return nil
	})
	if err != nil {
		return nil, err
	}
	out := t.result()
	out.Samples = total
	if err := shares(ctx, p, base, w, uint64(d.Seed), winner, out); err != nil {
		return nil, err
	}
	return out, nil
}

// tallies count what happens to the items.
type tallies struct {
	judge  *Judge
	winner int
	figure []*sample.Replicates
	best   []*sample.Events
	passes []*sample.Events
	none   *sample.Events
	lead   *sample.Replicates
	wins   []int
	col    []float64
}

func newTallies(j *Judge, winner int) *tallies {
	t := &tallies{judge: j, winner: winner, none: sample.NewEvents(Replicates), lead: sample.NewReplicates(Replicates)}
	for range j.items {
		t.figure = append(t.figure, sample.NewReplicates(Replicates))
		t.best = append(t.best, sample.NewEvents(Replicates))
		t.passes = append(t.passes, sample.NewEvents(Replicates))
	}
	return t
}

// add takes in n points of a run from the at-th on, all of one replicate.
func (t *tallies) add(p *eval.Points, replicate, at, n int) {
	if cap(t.wins) < p.N {
		t.wins, t.col = make([]int, p.N), make([]float64, p.N)
	}
	wins, col := t.wins[:p.N], t.col[:n]
	t.judge.Best(p, wins)
	each := func(f func(i int) float64) []float64 {
		for i := range col {
			col[i] = f(at + i)
		}
		return col
	}
	for item := range t.judge.items {
		t.figure[item].Of(replicate).Add(each(func(i int) float64 { return p.At(t.judge.Figure(item), i) }))
		t.best[item].Add(replicate, each(func(i int) float64 { return truth(wins[i] == item) }))
		t.passes[item].Add(replicate, each(func(i int) float64 { return truth(t.judge.eligibleAt(p, item, i)) }))
	}
	t.none.Add(replicate, each(func(i int) float64 { return truth(wins[i] == None) }))
	t.lead.Of(replicate).Add(each(func(i int) float64 { return t.judge.Lead(p, t.winner, i) }))
}

func truth(b bool) float64 {
	if b {
		return 1
	}
	return 0
}

func (t *tallies) result() *Doubted {
	out := &Doubted{Winner: t.winner, None: t.none.Probability(), Lead: t.lead}
	for item := range t.judge.items {
		out.Items = append(out.Items, ItemDoubt{t.figure[item], t.best[item].Probability(), t.passes[item].Probability()})
	}
	return out
}
