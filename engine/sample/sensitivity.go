package sample

import (
	"errors"
	"fmt"
)

// Design is the points at which a model is computed to tell which share of the
// variance of its answer comes from which input: two independent sets of points,
// A and B, and for each input the set A with that input's column from B (Saltelli
// and others 2010). A and B are the two halves of the dimensions of one Sobol.
type Design struct {
	sobol  *Sobol
	inputs int
}

// The sets of a Design; the one that belongs to input i is SetAB + i.
const (
	SetA  = 0
	SetB  = 1
	SetAB = 2
)

// NewDesign is the design for so many inputs, which takes twice as many
// dimensions. The shares are defined for independent inputs alone: with some that
// are correlated (ties may be nil) there is an error that says so.
func NewDesign(inputs int, ties *Correlation, seed uint64) (*Design, error) {
	if ties != nil && len(ties.tied) > 0 {
		return nil, errors.New("the shares that inputs have in the variance are defined for independent inputs only: of correlated ones, no part of it belongs to one alone")
	}
	if inputs < 1 || inputs > MaxDimensions/2 {
		return nil, fmt.Errorf("shares of the variance are found for 1 to %d inputs, not for %d", MaxDimensions/2, inputs)
	}
	s, err := NewSobol(2*inputs, seed)
	return &Design{s, inputs}, err
}

// Fill sets dst[i] to input i of points first and following of a set, between 0
// and 1. It does not allocate. A model is so computed Inputs+2 times for a point.
func (d *Design) Fill(dst [][]float64, set int, first uint64) {
	for i := range dst {
		dim := i
		if set == SetB || set == SetAB+i {
			dim += d.inputs
		}
		d.sobol.Column(dst[i], dim, first)
	}
}

// Indices gathers the answers of a model over the sets of several Designs, one for
// each replicate, and tells each input's share of the variance (Sobol' 1993): the
// first-order index, the share that would go if the input were known, and the
// total index, the share that would stay if all others were. An index is estimated
// from finite points and may come out a little below 0 or above 1.
type Indices struct {
	of []sums
}

// sums is of one replicate; the answers are less the first one that it was given,
// so that a variance small beside the mean keeps its digits.
type sums struct {
	shift         float64
	count         int
	a, b, squares float64   // sums of A and of B, of the squares of both
	change        []float64 // for each input, of AB-A
	product       []float64 // of B·(AB-A)
	distance      []float64 // of (AB-A)²
}

// NewIndices is for so many inputs and so many replicates, 2 or more for errors to
// be told.
func NewIndices(inputs, replicates int) *Indices {
	x := &Indices{of: make([]sums, replicates)}
	for r := range x.of {
		x.of[r] = sums{change: make([]float64, inputs), product: make([]float64, inputs), distance: make([]float64, inputs)}
	}
	return x
}

// Add takes the answers at a block of points of one replicate: over set A, set B
// and, for each input, SetAB. A point at which one of them is NaN or infinite
// is left out. Blocks come in the order of points; different replicates may
// be filled by different goroutines. It does not allocate.
func (x *Indices) Add(replicate int, a, b []float64, ab [][]float64) {
	s := &x.of[replicate]
points:
	for k := range a {
		if bad(a[k]) || bad(b[k]) {
			continue
		}
		for i := range ab {
			if bad(ab[i][k]) {
				continue points
			}
		}
		if s.count == 0 {
			s.shift = a[k]
		}
		s.count++
		fa, fb := a[k]-s.shift, b[k]-s.shift
		s.a += fa
		s.b += fb
		s.squares += fa*fa + fb*fb
		for i := range ab {
			change := ab[i][k] - a[k]
			s.change[i] += change
			s.product[i] += fb * change
			s.distance[i] += change * change
		}
	}
}

func bad(x float64) bool { return x-x != 0 }

// variance of all answers over A and B, times the number of points.
func (s *sums) variance() float64 {
	n := float64(s.count)
	return (s.squares - (s.a+s.b)*(s.a+s.b)/(2*n)) / 2
}

// First estimates the first-order index of an input, counted from 0: the estimator
// of Saltelli and others (2010), table 2 (b), with the answers less their mean.
func (x *Indices) First(input int) Estimate {
	return x.share(func(s *sums) float64 { return s.first(input) })
}

func (s *sums) first(input int) float64 {
	mean := (s.a + s.b) / (2 * float64(s.count))
	return s.product[input] - mean*s.change[input]
}

// Total estimates the total index of an input: the estimator of Jansen (1999).
func (x *Indices) Total(input int) Estimate {
	return x.share(func(s *sums) float64 { return s.distance[input] / 2 })
}

// share is a part of the variance, of all replicates together, with its error as
// that of a ratio of two means (Cochran, Sampling Techniques 1977, section 2.11).
// It is NaN where the answer does not vary.
func (x *Indices) share(part func(*sums) float64) Estimate {
	var parts, wholes []float64
	partSum, wholeSum := 0.0, 0.0
	for r := range x.of {
		s := &x.of[r]
		if s.count == 0 {
			continue
		}
		p, w := part(s), s.variance()
		parts, wholes = append(parts, p), append(wholes, w)
		partSum += p
		wholeSum += w
	}
	ratio := partSum / wholeSum
	mean := wholeSum / float64(len(wholes))
	for r := range parts {
		parts[r] = (parts[r] - ratio*wholes[r]) / mean
	}
	return spread(ratio, parts)
}
