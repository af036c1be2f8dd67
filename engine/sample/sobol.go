package sample

import (
	_ "embed"
	"fmt"
	"math"
	"math/bits"
	"strings"
)

// MaxDimensions is how many dimensions a Sobol has at most: those whose direction
// numbers are kept in direction_numbers.txt.
const MaxDimensions = 1024

//go:embed direction_numbers.txt
var directionNumbers string

// Sobol is a Sobol' sequence under nested uniform scrambling (Owen 1995). Its
// first 2^m points lie one in each of 2^m equal parts of every axis, whatever m,
// and each single point is uniform over the cube, so that means over it are free
// of bias and their error falls faster than 1/√N (Owen 1997). All points come
// from their index, so any block of them can be made on its own. A Sobol is not
// changed by use; several goroutines may share one.
//
// Direction numbers: Joe and Kuo (2008). Points are in the order of Antonov and
// Saleev (1979), as Joe and Kuo publish them, beginning with the one at the origin.
type Sobol struct {
	axes []axis
}

// axis is one dimension: its direction numbers as binary fractions, their first
// digit in the lowest bit, and the keys of its scrambling.
type axis struct {
	direction [64]uint64
	keys      [3]uint64
}

// NewSobol is the sequence of so many dimensions that belongs to a seed. The
// error says that there are too many dimensions, or none.
func NewSobol(dims int, seed uint64) (*Sobol, error) {
	if dims < 1 || dims > MaxDimensions {
		return nil, fmt.Errorf("sample points have 1 to %d dimensions, not %d", MaxDimensions, dims)
	}
	s := &Sobol{axes: make([]axis, dims)}
	stream := mix(seed)
	for d, line := range tableLines(dims) {
		a := &s.axes[d]
		var err error
		if a.direction, err = directions(line); err != nil {
			return nil, fmt.Errorf("the table of direction numbers is broken: %w", err)
		}
		for i := range a.keys {
			stream += golden
			a.keys[i] = mix(stream)
		}
	}
	return s, nil
}

// Fill sets dst[d][i] to dimension d of point first+i, strictly between 0 and 1
// and a whole number and a half of 2^-52. It may fill fewer dimensions than there
// are: dst then has the first of them. It does not allocate.
func (s *Sobol) Fill(dst [][]float64, first uint64) {
	for d := range dst {
		s.Column(dst[d], d, first)
	}
}

// Column is Fill for one dimension, counted from 0.
func (s *Sobol) Column(dst []float64, dim int, first uint64) {
	a := &s.axes[dim]
	x := a.point(first)
	k0, k1, k2 := a.keys[0], a.keys[1]|1, a.keys[2]|1 // in registers: dst cannot overwrite them
	for i := range dst {
		dst[i] = fraction(scramble(x, k0, k1, k2))
		first++
		x ^= a.direction[bits.TrailingZeros64(first|1<<63)&63] // never of 0, which takes twice as long to guard
	}
}

// fraction is the number with these binary digits, the first in the lowest bit:
// the middle of the interval that the first 52 of them name.
func fraction(digits uint64) float64 {
	between1And2 := math.Float64frombits(0x3ff<<52 | bits.Reverse64(digits)>>12)
	return between1And2 - (1 - 0x1p-53) // without rounding
}

// point is the unscrambled point of an index, its first binary digit in the
// lowest bit. Going by Gray code, neighbours differ by one direction number.
func (a *axis) point(index uint64) uint64 {
	x := uint64(0)
	for gray := index ^ index>>1; gray != 0; gray &= gray - 1 {
		x ^= a.direction[bits.TrailingZeros64(gray)]
	}
	return x
}

// tableLines are the lines of the table of direction numbers for the dimensions,
// an empty one for the first, which has none.
func tableLines(dims int) []string {
	lines := make([]string, 1, dims)
	for line := range strings.Lines(directionNumbers) {
		if len(lines) == dims {
			break
		}
		if !strings.HasPrefix(line, "#") && strings.TrimSpace(line) != "" {
			lines = append(lines, line)
		}
	}
	return lines
}

// directions are the 64 direction numbers that a line of the table begins, by the
// recurrence of Bratley and Fox (1988), section 2.
func directions(line string) (v [64]uint64, err error) { // the first digit in the highest bit
	if line == "" {
		for j := range v {
			v[j] = 1 << (63 - j)
		}
	} else {
		var dim, degree int
		var inner uint64
		rest := strings.NewReader(line)
		if _, err := fmt.Fscan(rest, &dim, &degree, &inner); err != nil {
			return v, err
		}
		for j := range degree {
			if _, err := fmt.Fscan(rest, &v[j]); err != nil {
				return v, err
			}
			v[j] <<= 63 - j
		}
		for j := degree; j < 64; j++ {
			v[j] = v[j-degree] ^ v[j-degree]>>degree
			for k := 1; k < degree; k++ {
				if inner>>(degree-1-k)&1 == 1 {
					v[j] ^= v[j-k]
				}
			}
		}
	}
	for j := range v {
		v[j] = bits.Reverse64(v[j])
	}
	return v, nil
}

// scramble permutes the binary digits of x, whose first digit is the lowest bit:
// whether a digit is turned depends on the keys (k1 and k2 odd) and the digits
// before it, which is nested uniform scrambling as far as the hash is a good one.
// Each step carries from low bits to high ones only, and each can be undone. The
// construction is Laine and Karras's (2011), as Burley (2020) gives it to Sobol'
// points, with the steps of Vegdahl (2021) in place of theirs, which turn digits of
// neighbouring parts alike: the mean of x over 256 points would vary a quarter as
// much as it should. Here it is on 64 bits, with a second multiplication by a key;
// TestScrambleVariance holds it against the theory.
func scramble(x, k0, k1, k2 uint64) uint64 {
	x ^= x * 0xd1342543de82ef96
	x += k0
	x *= k1
	x ^= x * 0xaf251af3b0f025b6
	x *= k2
	x ^= x * 0xb564ef22ec7aece6
	return x
}

// golden is the odd number next to 2^64 divided by the golden ratio.
const golden = 0x9e3779b97f4a7c15

// mix is the output function of SplitMix64 (Steele, Lea and Flood 2014).
func mix(x uint64) uint64 {
	x = (x ^ x>>30) * 0xbf58476d1ce4e5b9
	x = (x ^ x>>27) * 0x94d049bb133111eb
	return x ^ x>>31
}

// Seed is the seed of a replicate, counted from 0: scrambles from different ones
// have nothing to do with each other.
func Seed(seed uint64, replicate int) uint64 {
	return mix(mix(seed+golden) ^ (uint64(replicate)+1)*0xd1342543de82ef95)
}
