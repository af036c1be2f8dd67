package sample

import (
	"errors"
	"fmt"
	"math"

	"gonum.org/v1/gonum/mathext"
)

// Distribution is how one number is spread. All are made by the constructors of
// this package, which refuse impossible parameters, and may be shared.
type Distribution interface {
	// Quantile is the value below which the share u of the distribution lies. It
	// never falls as u grows; at 0 and 1 it is an end of the range, which may be
	// infinite; it is NaN for any other u outside.
	Quantile(u float64) float64
	// CDF is the share of the distribution that lies at or below x.
	CDF(x float64) float64
	// Mean is the mean, NaN where there is none.
	Mean() float64

	// moment is the integral of x·dF(x) from the lower end up to a finite x.
	moment(x float64) float64
}

// Transform turns numbers between 0 and 1 into values of a distribution, in place.
func Transform(d Distribution, u []float64) {
	for i, v := range u {
		u[i] = d.Quantile(v)
	}
}

// made is a distribution, or the fault of its parameters. Whatever its form, its
// values must be finite for every u that a Sobol makes.
func made(d Distribution, fault string, numbers ...float64) (Distribution, error) {
	for _, x := range numbers {
		if math.IsNaN(x) || math.IsInf(x, 0) {
			return nil, errors.New("every number that describes a distribution must be finite")
		}
	}
	if fault != "" {
		return nil, errors.New(fault)
	}
	if far := d.Quantile(0x1p-53) - d.Quantile(1-0x1p-53); math.IsNaN(far) || math.IsInf(far, 0) {
		return nil, errors.New(tooWide)
	}
	return d, nil
}

const tooWide = "the distribution is so wide that its ends cannot be told as numbers"

type uniform struct{ low, high float64 }

// Uniform is the distribution between two values, low < high, where each is as
// likely as the other.
func Uniform(low, high float64) (Distribution, error) {
	fault := ""
	if low >= high {
		fault = fmt.Sprintf("a uniform distribution ends above where it begins, but %v is not above %v", high, low)
	} else if math.IsInf(high-low, 0) {
		fault = tooWide
	}
	return made(uniform{low, high}, fault, low, high)
}

func (d uniform) Quantile(u float64) float64 {
	if !(u >= 0 && u <= 1) {
		return math.NaN()
	}
	return held(d.low+u*(d.high-d.low), d.low, d.high)
}

func (d uniform) CDF(x float64) float64 {
	return held((x-d.low)/(d.high-d.low), 0, 1)
}

func (d uniform) Mean() float64 { return d.low/2 + d.high/2 }

func (d uniform) moment(x float64) float64 {
	x = held(x, d.low, d.high)
	return (x - d.low) / (d.high - d.low) * (x + d.low) / 2
}

// held is x, or the end of the range beyond which it lies.
func held(x, low, high float64) float64 {
	if x < low {
		return low
	}
	if x > high {
		return high
	}
	return x
}

type triangular struct{ low, mode, high float64 }

// Triangular is the distribution between two values whose density rises in a
// straight line from low to mode and falls in one to high; low ≤ mode ≤ high,
// low < high. Source: NIST/SEMATECH and Evans, Hastings and Peacock, Statistical
// Distributions (2000).
func Triangular(low, mode, high float64) (Distribution, error) {
	fault := ""
	if low >= high {
		fault = fmt.Sprintf("a triangular distribution ends above where it begins, but %v is not above %v", high, low)
	} else if mode < low || mode > high {
		fault = fmt.Sprintf("the likeliest value, %v, must be within the ends of the triangle, %v and %v", mode, low, high)
	} else if math.IsInf(high-low, 0) {
		fault = tooWide
	}
	return made(triangular{low, mode, high}, fault, low, mode, high)
}

func (d triangular) Quantile(u float64) float64 {
	if !(u >= 0 && u <= 1) {
		return math.NaN()
	}
	width := d.high - d.low
	if u*width < d.mode-d.low {
		return math.Min(d.low+math.Sqrt(u*width*(d.mode-d.low)), d.mode)
	}
	return math.Max(d.high-math.Sqrt((1-u)*width*(d.high-d.mode)), d.mode)
}

func (d triangular) CDF(x float64) float64 {
	width := d.high - d.low
	switch {
	case x <= d.low:
		return 0
	case x >= d.high:
		return 1
	case x <= d.mode:
		return (x - d.low) / width * ((x - d.low) / (d.mode - d.low))
	}
	return 1 - (d.high-x)/width*((d.high-x)/(d.high-d.mode))
}

func (d triangular) Mean() float64 { return d.low/3 + d.mode/3 + d.high/3 }

// moment is of the triangle below x, whose mean lies two thirds on, or the whole
// less the triangle above it.
func (d triangular) moment(x float64) float64 {
	if x = held(x, d.low, d.high); x <= d.mode {
		return d.CDF(x) * (d.low + 2*x) / 3
	}
	return d.Mean() - (1-d.CDF(x))*(d.high+2*x)/3
}

type normal struct{ mean, deviation float64 }

// Normal is the normal distribution with a mean and a standard deviation above 0.
func Normal(mean, deviation float64) (Distribution, error) {
	fault := ""
	if deviation <= 0 {
		fault = fmt.Sprintf("a standard deviation must be above 0, but it is %v", deviation)
	}
	return made(normal{mean, deviation}, fault, mean, deviation)
}

func (d normal) Quantile(u float64) float64 { return d.mean + d.deviation*NormalQuantile(u) }
func (d normal) CDF(x float64) float64      { return NormalCDF((x - d.mean) / d.deviation) }
func (d normal) Mean() float64              { return d.mean }

func (d normal) moment(x float64) float64 {
	z := (x - d.mean) / d.deviation
	return d.mean*NormalCDF(z) - d.deviation*math.Exp(-z*z/2)/math.Sqrt(2*math.Pi)
}

// NormalQuantile is the quantile of the standard normal distribution, right to
// about 1e-16 of it; infinite at 0 and 1 and NaN outside. Method: Wichura (1988),
// algorithm AS 241.
func NormalQuantile(u float64) float64 {
	if !(u >= 0 && u <= 1) {
		return math.NaN()
	}
	return mathext.NormalQuantile(u)
}

// NormalCDF is the share of the standard normal distribution at or below z, which
// has all its digits in the lower tail.
func NormalCDF(z float64) float64 { return math.Erfc(-z/math.Sqrt2) / 2 }

type logNormal struct{ middle, deviation float64 }

// LogNormal is the distribution of a number above 0 whose natural logarithm is
// normal: median is half way, deviation the standard deviation of the logarithm,
// both above 0. A small deviation is about the relative standard deviation.
func LogNormal(median, deviation float64) (Distribution, error) {
	fault := ""
	if median <= 0 {
		fault = fmt.Sprintf("the median of a lognormal distribution must be above 0, but it is %v", median)
	} else if deviation <= 0 {
		fault = fmt.Sprintf("the standard deviation of a logarithm must be above 0, but it is %v", deviation)
	}
	return made(logNormal{median, deviation}, fault, median, deviation)
}

func (d logNormal) Quantile(u float64) float64 {
	return d.middle * math.Exp(d.deviation*NormalQuantile(u))
}

func (d logNormal) CDF(x float64) float64 {
	if x <= 0 {
		return 0
	}
	return NormalCDF(math.Log(x/d.middle) / d.deviation)
}

func (d logNormal) Mean() float64 { return d.middle * math.Exp(d.deviation*d.deviation/2) }

func (d logNormal) moment(x float64) float64 {
	if x <= 0 {
		return 0
	}
	return d.Mean() * NormalCDF(math.Log(x/d.middle)/d.deviation-d.deviation)
}
