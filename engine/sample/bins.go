package sample

import (
	"maps"
	"math"
	"slices"
)

// bins counts numbers by their leading binary digits: each binade in use (from a
// power of two to the next, of one sign) has 2^digits bins of equal width. All
// binades together have no more than 2^mostBits bins: as more of them come into
// use, digits are given up. What comes out depends on the numbers alone, not on
// their order or on how they were spread over several bins before.
type bins struct {
	digits  int
	binades map[uint16][]int // by sign and exponent, in the order of numbers
}

const (
	mostBits   = 20 // 8 MB of counts; 8 digits are left if every binade there is were in use
	mostDigits = 16
	mantissa   = 52
)

// sortable turns a number into one whose order as a whole number is the order of
// numbers; written undoes it.
func sortable(x float64) uint64 {
	b := math.Float64bits(x)
	if b>>63 == 1 {
		return ^b
	}
	return b | 1<<63
}

func written(key uint64) float64 {
	if key>>63 == 1 {
		return math.Float64frombits(key &^ (1 << 63))
	}
	return math.Float64frombits(^key)
}

// add counts a number n times. What is smaller than 2^-1022 counts as 0.
func (b *bins) add(x float64, n int) {
	if math.Abs(x) < 0x1p-1022 {
		x = 0
	}
	key := sortable(x)
	counts := b.binade(uint16(key >> mantissa))
	counts[key<<(64-mantissa)>>(64-b.digits)] += n
}

// binade is the counts of a binade, made if need be.
func (b *bins) binade(at uint16) []int {
	if counts, ok := b.binades[at]; ok {
		return counts
	}
	if b.binades == nil {
		b.binades, b.digits = map[uint16][]int{}, mostDigits
	}
	b.binades[at] = nil
	for len(b.binades)<<b.digits > 1<<mostBits {
		b.coarsen()
	}
	counts := make([]int, 1<<b.digits)
	b.binades[at] = counts
	return counts
}

// coarsen gives up one digit.
func (b *bins) coarsen() {
	b.digits--
	for at, fine := range b.binades {
		coarse := make([]int, len(fine)/2)
		for i := range coarse {
			coarse[i] = fine[2*i] + fine[2*i+1]
		}
		b.binades[at] = coarse
	}
}

// merge adds the counts of other bins, which have as many digits or more once their
// binades are in use here too.
func (b *bins) merge(other *bins) {
	for at := range other.binades {
		b.binade(at)
	}
	for at, counts := range other.binades {
		for i, n := range counts {
			b.binades[at][i>>(other.digits-b.digits)] += n
		}
	}
}

// each calls for the middle of every bin that has counts, ascending, until it is
// told no.
func (b *bins) each(do func(x float64, n int) bool) {
	for _, at := range slices.Sorted(maps.Keys(b.binades)) {
		for i, n := range b.binades[at] {
			if n > 0 && !do(b.middle(at, i), n) {
				return
			}
		}
	}
}

func (b *bins) middle(at uint16, i int) float64 {
	key := uint64(at)<<mantissa | uint64(i)<<(mantissa-b.digits)
	if written(key) == 0 {
		return 0
	}
	return written(key | 1<<(mantissa-b.digits-1))
}

// nth is the middle of the bin that holds a rank, counted from 0.
func (b *bins) nth(rank int) (x float64) {
	b.each(func(middle float64, n int) bool {
		x = middle
		rank -= n
		return rank >= 0
	})
	return x
}
