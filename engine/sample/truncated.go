package sample

import (
	"fmt"
	"math"
)

// leastShare is how much of a distribution must lie between the ends that cut it.
const leastShare = 1e-6

type truncated struct {
	of        Distribution
	low, high float64 // may be infinite
	from, to  float64 // the shares of the whole below them
}

// Truncated is a distribution without what lies outside low and high, either of
// which may be infinite. It is a true truncation: what is cut off is spread over
// the rest in proportion, and none of it is heaped up at the ends. The error says
// that the ends are the wrong way round or that (almost) nothing lies between.
func Truncated(of Distribution, low, high float64) (Distribution, error) {
	if !(low < high) {
		return nil, fmt.Errorf("a distribution is cut between two values of which the second is above the first, not between %v and %v", low, high)
	}
	d := truncated{of: of, low: low, high: high, from: of.CDF(low), to: of.CDF(high)}
	if share := d.to - d.from; share < leastShare {
		return nil, fmt.Errorf("only %.1g of the distribution lies between %v and %v; it takes %v at least", share, low, high, leastShare)
	}
	return made(d, "")
}

func (d truncated) Quantile(u float64) float64 {
	if !(u >= 0 && u <= 1) {
		return math.NaN()
	}
	return held(d.of.Quantile(math.Min(d.from+u*(d.to-d.from), d.to)), d.low, d.high)
}

func (d truncated) CDF(x float64) float64 {
	return held((d.of.CDF(x)-d.from)/(d.to-d.from), 0, 1)
}

// Mean of a truncated distribution without a mean, and cut on one side only, is
// NaN too.
func (d truncated) Mean() float64 {
	whole := d.of.Mean()
	below, all := 0.0, whole
	if !math.IsInf(d.low, 0) {
		below = d.of.moment(d.low)
	}
	if !math.IsInf(d.high, 0) {
		all = d.of.moment(d.high)
	}
	if math.IsNaN(whole) && (math.IsInf(d.low, 0) || math.IsInf(d.high, 0)) {
		return whole
	}
	return held((all-below)/(d.to-d.from), d.low, d.high)
}

func (d truncated) moment(x float64) float64 {
	x = held(x, d.low, d.high)
	below := 0.0
	if !math.IsInf(d.low, 0) {
		below = d.of.moment(d.low)
	}
	return (d.of.moment(x) - below) / (d.to - d.from)
}
