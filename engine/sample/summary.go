package sample

import (
	"math"
	"slices"
)

// Kept is how many values a Summary keeps one by one.
const Kept = 1 << 20

// Summary is what is told of a sample of any size in bounded memory. Its zero
// value is empty. Values are added in the order of points, by one goroutine at a
// time; for several cores, give each replicate a Summary of its own and Merge
// them in order. NaN and infinities are missing values: they are counted and take
// part in nothing else. The figures of an empty Summary are NaN.
//
// Up to Kept values every figure is exact but for rounding. Beyond, percentiles
// and histograms are of values rounded to a number of binary digits that depends
// on the values alone, not on their order: Rounding says how far they may be out.
type Summary struct {
	count, missing int
	mean, squares  float64 // squares of the distances from the mean
	min, max       float64
	kept           []float64 // all values, where bins is nil
	sorted         bool
	bins           *bins
}

// Add adds values. Mean and deviation follow Welford (1962).
func (s *Summary) Add(values []float64) {
	for _, x := range values {
		if x-x != 0 { // NaN or infinite
			s.missing++
			continue
		}
		if s.count == 0 || x < s.min {
			s.min = x
		}
		if s.count == 0 || x > s.max {
			s.max = x
		}
		s.count++
		off := x - s.mean
		s.mean += off / float64(s.count)
		s.squares += off * (x - s.mean)
		if s.bins != nil {
			s.bins.add(x, 1)
			continue
		}
		if len(s.kept) == Kept {
			s.spill()
			s.bins.add(x, 1)
			continue
		}
		s.kept = append(s.kept, x)
	}
	s.sorted = false
}

// spill goes over from keeping values to counting them in bins.
func (s *Summary) spill() {
	s.bins = &bins{}
	for _, x := range s.kept {
		s.bins.add(x, 1)
	}
	s.kept = nil
}

// Merge adds all that next has taken, as if it came after what is here: means and
// deviations by Chan, Golub and LeVeque (1983). next stays as it is.
func (s *Summary) Merge(next *Summary) {
	s.missing += next.missing
	if next.count == 0 {
		return
	}
	if s.count == 0 {
		s.min, s.max = next.min, next.max
	}
	s.min, s.max = math.Min(s.min, next.min), math.Max(s.max, next.max)
	here, there := float64(s.count), float64(next.count)
	off := next.mean - s.mean
	s.mean += off * (there / (here + there))
	s.squares += next.squares + off*off*(here*there/(here+there))
	s.count += next.count
	s.sorted = false
	if s.bins == nil && next.bins == nil && s.count <= Kept {
		s.kept = append(s.kept, next.kept...)
		return
	}
	if s.bins == nil {
		s.spill()
	}
	for _, x := range next.kept {
		s.bins.add(x, 1)
	}
	if next.bins != nil {
		s.bins.merge(next.bins)
	}
}

// Count is how many values there are, missing ones not counted.
func (s *Summary) Count() int { return s.count }

// Missing is how many values were NaN or infinite.
func (s *Summary) Missing() int { return s.missing }

// Mean is the mean.
func (s *Summary) Mean() float64 { return s.unlessFewer(1, s.mean) }

// Deviation is the standard deviation over Count-1; NaN of fewer than two values.
func (s *Summary) Deviation() float64 {
	return s.unlessFewer(2, math.Sqrt(s.squares/float64(s.count-1)))
}

// Min is the least value.
func (s *Summary) Min() float64 { return s.unlessFewer(1, s.min) }

// Max is the greatest value.
func (s *Summary) Max() float64 { return s.unlessFewer(1, s.max) }

func (s *Summary) unlessFewer(values int, x float64) float64 {
	if s.count < values {
		return math.NaN()
	}
	return x
}

// Percentile is the value below which that share (0 to 1) of the values lies; for
// a share between two values, on the straight line from one to the other, as
// spreadsheets and NumPy do (definition 7 of Hyndman and Fan 1996).
func (s *Summary) Percentile(share float64) float64 {
	if s.count == 0 || !(share >= 0 && share <= 1) {
		return math.NaN()
	}
	rank := share * float64(s.count-1)
	lower := int(rank)
	a, b := s.nth(lower), s.nth(min(lower+1, s.count-1))
	return held(a+(rank-float64(lower))*(b-a), a, b)
}

// nth is the value of a rank, counted from 0.
func (s *Summary) nth(rank int) float64 {
	switch {
	case rank == 0:
		return s.min
	case rank == s.count-1:
		return s.max
	case s.bins != nil:
		return held(s.bins.nth(rank), s.min, s.max)
	}
	s.sort()
	return s.kept[rank]
}

// upTo is the share of values that are not above x.
func (s *Summary) upTo(x float64) float64 {
	n := 0
	if s.bins != nil {
		s.bins.each(func(middle float64, count int) bool {
			if held(middle, s.min, s.max) <= x {
				n += count
				return true
			}
			return false
		})
	} else {
		s.sort()
		n, _ = slices.BinarySearchFunc(s.kept, x, func(v, x float64) int {
			if v <= x {
				return -1
			}
			return 1
		})
	}
	return float64(n) / float64(s.count)
}

func (s *Summary) sort() {
	if !s.sorted {
		slices.Sort(s.kept)
		s.sorted = true
	}
}

// Rounding is how far a percentile may be out, as a share of its size, because
// not every value is kept: 0 where all are.
func (s *Summary) Rounding() float64 {
	if s.bins == nil {
		return 0
	}
	return math.Ldexp(1, -s.bins.digits-1)
}

// Histogram is how many values lie in each of some bars of equal width.
type Histogram struct {
	From, To     float64 // ends of the bars together
	Counts       []int   // in each bar: its lower end belongs to it, of the last the upper one too
	Below, Above int     // values outside
}

// Histogram counts the values in bars (1 or more) of equal width from the
// percentile 0.5 % to 99.5 %, so that a few values far out do not press the
// others together. Where both are the same there is one bar, without width.
func (s *Summary) Histogram(bars int) Histogram {
	return s.HistogramOver(s.Percentile(0.005), s.Percentile(0.995), bars)
}

// HistogramOver counts the values in bars (1 or more) of equal width between two
// ends. Where both are the same there is one bar, without width.
func (s *Summary) HistogramOver(from, to float64, bars int) Histogram {
	h := Histogram{From: from, To: to, Counts: make([]int, bars)}
	if s.count == 0 {
		return h
	}
	if h.From == h.To {
		h.Counts = h.Counts[:1]
	}
	count := func(x float64, n int) {
		switch {
		case x < h.From:
			h.Below += n
		case x > h.To:
			h.Above += n
		case h.From == h.To:
			h.Counts[0] += n
		default:
			at := float64(bars) * ((x - h.From) / (h.To - h.From))
			h.Counts[min(int(at), bars-1)] += n
		}
	}
	if s.bins != nil {
		s.bins.each(func(x float64, n int) bool {
			count(held(x, s.min, s.max), n)
			return true
		})
		return h
	}
	for _, x := range s.kept {
		count(x, 1)
	}
	return h
}
