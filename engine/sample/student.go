package sample

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/mathext"
)

// MaxFreedom is the greatest number of degrees of freedom that Student takes.
const MaxFreedom = 1e6

// A Student's quantile is that of the normal distribution for the same share,
// bent. How far is nearly a straight line on the scale of Wallace (1959), with z
// the normal and t Student's quantile: √(ν·ln(1+t²/ν)) is about z. Their ratio is
// kept as polynomials over pieces of z, since to solve for each quantile anew
// takes a hundred times as long.
const (
	pieces     = 10
	pieceWidth = 1.0
	terms      = 14
)

type student struct {
	location, scale, freedom float64
	density                  float64 // of standard t at 0
	ratio                    [pieces][terms]float64
}

// Student is Student's t distribution with a location, a scale above 0 and
// degrees of freedom from 1 to MaxFreedom, whole or not. Quantiles are right to
// 1e-12 of the distance from the location for up to 1,000 degrees, and to 1e-9 at
// MaxFreedom.
func Student(location, scale, freedom float64) (Distribution, error) {
	switch {
	case math.IsNaN(freedom) || freedom < 1 || freedom > MaxFreedom:
		return nil, fmt.Errorf("the degrees of freedom of Student's distribution may be 1 to %.0f, not %v", MaxFreedom, freedom)
	case !(scale > 0):
		return nil, fmt.Errorf("the scale of Student's distribution must be above 0, but it is %v", scale)
	}
	d := standard(freedom)
	d.location, d.scale = location, scale
	for p := range d.ratio {
		d.fit(p)
	}
	return made(d, "", location, scale)
}

// standard is Student's distribution around 0 with the scale 1, without the
// polynomials of its quantile.
func standard(freedom float64) *student {
	above, _ := math.Lgamma((freedom + 1) / 2)
	below, _ := math.Lgamma(freedom / 2)
	return &student{scale: 1, freedom: freedom, density: math.Exp(above-below) / math.Sqrt(freedom*math.Pi)}
}

// MeanOf is the distribution of the mean of all items of a sort when count of them,
// 2 or more, were measured, taken for normal: their mean and standard deviation (over
// count-1) say where it lies, Student's distribution with count-1 degrees of freedom
// how far it may be off, with the scale deviation/√count. Source: JCGM 101:2008
// (GUM supplement 1), 6.4.9.
func MeanOf(mean, deviation float64, count int) (Distribution, error) {
	if count < 2 {
		return nil, fmt.Errorf("the spread of items is known from 2 of them or more, not from %d", count)
	}
	return Student(mean, deviation/math.Sqrt(float64(count)), float64(count-1))
}

// fit sets one piece of the ratio: its values at Chebyshev's nodes, made into
// coefficients by the discrete cosine transform.
func (d *student) fit(piece int) {
	var values [terms]float64
	for k := range values {
		node := math.Cos(math.Pi * (float64(k) + 0.5) / terms)
		z := (float64(piece) + (node+1)/2) * pieceWidth
		t := d.solve(z)
		values[k] = math.Sqrt(d.freedom*math.Log1p(t*t/d.freedom)) / z
	}
	for j := range terms {
		sum := 0.0
		for k, v := range values {
			sum += v * math.Cos(math.Pi*float64(j)*(float64(k)+0.5)/terms)
		}
		d.ratio[piece][j] = 2 * sum / terms
	}
	d.ratio[piece][0] /= 2
}

// solve is the standard t beyond which lies as much as beyond z > 0 of the normal
// distribution, by Newton's method from Wallace's approximation. Near the middle
// the share between 0 and t has the digits, farther out the one beyond it.
func (d *student) solve(z float64) float64 {
	w := z * (8*d.freedom + 3) / (8*d.freedom + 1)
	t := math.Sqrt(d.freedom * math.Expm1(w*w/d.freedom))
	for range 8 { // three or four suffice
		was := t
		slope := d.densityAt(t)
		if z < 1 {
			t -= (between(t, d.freedom) - math.Erf(z/math.Sqrt2)/2) / slope
		} else {
			tail := beyond(t, d.freedom)
			t *= math.Exp(math.Log(tail/NormalCDF(-z)) * tail / (slope * t))
		}
		if math.Abs(t-was) < 1e-15*t {
			break
		}
	}
	return t
}

// densityAt is the density of standard t.
func (d *student) densityAt(t float64) float64 {
	return d.density * math.Exp(-(d.freedom+1)/2*math.Log1p(t*t/d.freedom))
}

// between is the share of standard t from 0 to t ≥ 0, beyond that above it:
// t²/(ν+t²) has a beta distribution (Abramowitz and Stegun 26.7.1).
func between(t, freedom float64) float64 {
	return mathext.RegIncBeta(0.5, freedom/2, t*t/(freedom+t*t)) / 2
}

func beyond(t, freedom float64) float64 {
	return mathext.RegIncBeta(freedom/2, 0.5, freedom/(freedom+t*t)) / 2
}

func (d *student) Quantile(u float64) float64 {
	z := NormalQuantile(u)
	size := math.Abs(z)
	if math.IsNaN(z) || math.IsInf(z, 0) {
		return z
	}
	return d.location + d.scale*math.Copysign(d.quantile(size), z)
}

// quantile is solve by the polynomials, which Clenshaw's recurrence sums up.
func (d *student) quantile(z float64) float64 {
	if z >= pieces*pieceWidth {
		return d.solve(z)
	}
	piece := int(z / pieceWidth)
	c := &d.ratio[piece]
	x := 2*(z/pieceWidth-float64(piece)) - 1
	b1, b2 := 0.0, 0.0
	for j := terms - 1; j > 0; j-- {
		b1, b2 = 2*x*b1-b2+c[j], b1
	}
	w := z * (x*b1 - b2 + c[0])
	return math.Sqrt(d.freedom * math.Expm1(w*w/d.freedom))
}

func (d *student) CDF(x float64) float64 {
	t := (x - d.location) / d.scale
	size := math.Abs(t)
	switch {
	case math.IsNaN(t):
		return t
	case size < 1 && t < 0:
		return 0.5 - between(size, d.freedom)
	case size < 1:
		return 0.5 + between(size, d.freedom)
	case math.IsInf(size*size, 0):
		return held(t, 0, 1)
	case t < 0:
		return beyond(size, d.freedom)
	}
	return 1 - beyond(size, d.freedom)
}

func (d *student) Mean() float64 {
	if d.freedom == 1 {
		return math.NaN()
	}
	return d.location
}

// moment is found by differentiating: the derivative of (ν+t²)·f(t) is
// -(ν-1)·t·f(t); of one degree of freedom, up to a constant, which no difference
// of two moments has.
func (d *student) moment(x float64) float64 {
	t := (x - d.location) / d.scale
	if d.freedom == 1 {
		return d.location*d.CDF(x) + d.scale*math.Log1p(t*t)/(2*math.Pi)
	}
	return d.location*d.CDF(x) - d.scale*(d.freedom+t*t)/(d.freedom-1)*d.densityAt(t)
}
