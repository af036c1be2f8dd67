package sample

import (
	"math"

	"gonum.org/v1/gonum/mathext"
)

// Confidence is the share of studies in which the bounds of an Estimate hold what
// would be found with endless points.
const Confidence = 0.95

// Estimate is a figure found from sample points, and how far it may be out because
// they are not endless: its standard error, and its bounds at Confidence. Error
// and bounds are NaN where fewer than two replicates tell of them.
type Estimate struct {
	Value, Error, Low, High float64
}

// spread is an estimate from the values that single replicates give for it: they
// are independent and each as good as the other, so that Student's t with one
// degree of freedom less than there are replicates gives the bounds. L'Ecuyer,
// Nakayama, Owen and Tuffin (2023) find no other way to be more reliable for
// scrambled points.
func spread(value float64, single []float64) Estimate {
	var s Summary
	s.Add(single)
	r := float64(s.Count())
	e := Estimate{Value: value, Error: s.Deviation() / math.Sqrt(r), Low: math.NaN(), High: math.NaN()}
	if r >= 2 {
		half := e.Error * studentBound(r-1)
		e.Low, e.High = value-half, value+half
	}
	return e
}

// studentBound is how many standard errors the bounds at Confidence lie away.
func studentBound(freedom float64) float64 {
	return standard(freedom).solve(NormalQuantile((1 + Confidence) / 2))
}

// Replicates are the same study done several times with points that are scrambled
// anew (their seeds by Seed), each with its share of the points. Each may be
// filled on a core of its own; what is told depends on their numbering only.
type Replicates struct {
	of     []Summary
	pooled *Summary
}

// NewReplicates is so many empty replicates, 2 or more for errors to be told; 16
// serve well.
func NewReplicates(count int) *Replicates { return &Replicates{of: make([]Summary, count)} }

// Of is a replicate, counted from 0, to be filled.
func (r *Replicates) Of(i int) *Summary { return &r.of[i] }

// Pooled is the summary of all replicates together. After the first call to it, or
// to anything that estimates, no replicate may be added to.
func (r *Replicates) Pooled() *Summary {
	if r.pooled == nil {
		r.pooled = &Summary{}
		for i := range r.of {
			r.pooled.Merge(&r.of[i])
		}
	}
	return r.pooled
}

// Estimate is any figure of a summary: of all values together, with the error that
// the same figure of the single replicates tells of. Replicates for which it is NaN
// are left out.
func (r *Replicates) Estimate(figure func(*Summary) float64) Estimate {
	single := make([]float64, len(r.of))
	for i := range r.of {
		single[i] = figure(&r.of[i])
	}
	return spread(figure(r.Pooled()), single)
}

// Mean estimates the mean.
func (r *Replicates) Mean() Estimate { return r.Estimate((*Summary).Mean) }

// Percentile estimates the value below which a share (0 to 1) lies. The bounds are
// Woodruff's (1952): the share that lies below it in each replicate tells how far
// the share is out, and the percentiles that much to either side are the bounds.
// (The spread of the percentiles of single replicates is too small: to go in a
// straight line from one value to the next hides part of it.) They need not be
// equally far away; Error is half their distance in standard errors. Where not every
// value is kept, all three count how far that may be out (Rounding).
func (r *Replicates) Percentile(share float64) Estimate {
	p := r.Pooled()
	e := Estimate{Value: p.Percentile(share)}
	single := make([]float64, len(r.of))
	for i := range r.of {
		single[i] = r.of[i].upTo(e.Value)
	}
	at := spread(share, single)
	low, high := held(at.Low, 0, 1), held(at.High, 0, 1)
	e.Low, e.High = p.Percentile(low), p.Percentile(high)
	if low < high { // else every replicate has the same share
		e.Error = at.Error * ((e.High - e.Low) / (high - low))
	}
	out := p.Rounding() * math.Abs(e.Value)
	e.Low, e.High, e.Error = e.Low-out, e.High+out, e.Error+out
	return e
}

// Events counts in how many points of each replicate something happened. Each
// replicate may be filled on a core of its own.
type Events struct {
	of []event
}

type event struct{ hits, count int }

// NewEvents is so many replicates in which nothing was counted yet.
func NewEvents(replicates int) *Events { return &Events{of: make([]event, replicates)} }

// Add counts the points of a replicate, counted from 0: happened is 0 where it did
// not happen, NaN where that is not known, which is left out, and anything else where it did.
func (e *Events) Add(replicate int, happened []float64) {
	of := &e.of[replicate]
	for _, x := range happened {
		switch {
		case x != x:
			continue
		case x != 0:
			of.hits++
		}
		of.count++
	}
}

func (e *Events) total() event {
	var t event
	for _, of := range e.of {
		t.hits += of.hits
		t.count += of.count
	}
	return t
}

// Probability estimates the share of points in which it happened; NaN of none.
// Where it happened, or did not happen, less than once a replicate, their spread
// says little: the bounds are then those of Clopper and Pearson (1934) for points
// drawn at random, than which scrambled ones are hardly worse (Owen 1997 has limits).
// So a thing that never happened in a thousand points is bounded by 0.37 %.
func (e *Events) Probability() Estimate {
	t := e.total()
	hits, count := float64(t.hits), float64(t.count)
	single := make([]float64, len(e.of))
	for i, of := range e.of {
		single[i] = float64(of.hits) / float64(of.count)
	}
	p := spread(hits/count, single)
	if t.count > 0 && min(t.hits, t.count-t.hits) < len(e.of) {
		p.Low, p.High = 0, 1
		if t.hits > 0 {
			p.Low = mathext.InvRegIncBeta(hits, count-hits+1, (1-Confidence)/2)
		}
		if t.hits < t.count {
			p.High = mathext.InvRegIncBeta(hits+1, count-hits, (1+Confidence)/2)
		}
	}
	p.Low, p.High = math.Max(p.Low, 0), math.Min(p.High, 1)
	return p
}
