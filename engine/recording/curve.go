package recording

import (
	"math"
	"slices"
)

// mostPoints bounds the memory of curves.
const mostPoints = 5000

// Sample is a row that a curve keeps.
type Sample struct {
	Line    int
	Time    float64   // hours since the first row
	Values  []float64 // as in Row
	Stretch int       // a curve is drawn in pieces, one for each stretch
}

// sample is a kept row that is overwritten.
type sample struct {
	Sample
	seq int
	v   float64
}

func (s *sample) set(row *Row, v float64, seq int) {
	s.Line, s.Time, s.Stretch, s.seq, s.v = row.Line, hours(row.Time), row.Stretch, seq, v
	s.Values = append(s.Values[:0], row.Values...)
}

func (s *sample) copy(from *sample) {
	values := append(s.Values[:0], from.Values...)
	*s = *from
	s.Values = values
}

// bucket is the rows kept of a length of time: the extremes, and the largest step.
type bucket struct {
	used             bool
	low, top         sample
	step             float64
	stepFrom, stepTo sample
}

// curve keeps at most so many rows that the curve of a column keeps its shape. Of
// each of equal lengths of time, many more than there are points, the rows with the
// smallest and the largest value and those before and after the largest step are
// found, and of these those are left out without which the curve changes least (see
// thin). The first and the last row and those with the smallest and the largest value
// of all are kept.
type curve struct {
	track
	buckets     []bucket
	width       int64 // nanoseconds
	first, last sample
}

// curve is that of a column, over so many lengths of time.
func (r *Reader) curve(of string, lengths int) (*curve, error) {
	m := &curve{buckets: make([]bucket, lengths), width: 1}
	n := len(r.layout.Columns)
	values := make([]float64, 4*n*len(m.buckets))
	for i := range m.buckets {
		b := &m.buckets[i]
		for j, s := range []*sample{&b.low, &b.top, &b.stepFrom, &b.stepTo} {
			at := (4*i + j) * n
			s.Values = values[at : at : at+n]
		}
	}
	var err error
	m.track, err = r.follow(of, "")
	return m, err
}

func (m *curve) add(row *Row) {
	s, ok := m.next(row)
	if !ok {
		return
	}
	if m.rows == 1 {
		m.first.set(row, s.v, 1)
	}
	for row.Time/m.width >= int64(len(m.buckets)) {
		m.halve()
	}
	b := &m.buckets[row.Time/m.width]
	if !b.used || s.v < b.low.v {
		b.low.set(row, s.v, m.rows)
	}
	if !b.used || s.v > b.top.v {
		b.top.set(row, s.v, m.rows)
	}
	b.used = true
	if step := math.Abs(s.v - m.last.v); m.rows > 1 && step > b.step && row.Stretch == m.last.Stretch {
		b.step = step
		b.stepFrom.copy(&m.last)
		b.stepTo.set(row, s.v, m.rows)
	}
	m.last.set(row, s.v, m.rows)
}

// halve makes buckets twice as long.
func (m *curve) halve() {
	m.width *= 2
	n := len(m.buckets)
	for i := range n {
		from := &m.buckets[i]
		to := &m.buckets[i/2]
		if i == 0 || !from.used {
			continue
		}
		if !to.used {
			*to, *from = *from, *to
			continue
		}
		if from.low.v < to.low.v {
			to.low, from.low = from.low, to.low
		}
		if from.top.v > to.top.v {
			to.top, from.top = from.top, to.top
		}
		if from.step > to.step {
			to.step, from.step = from.step, to.step
			to.stepFrom, from.stepFrom = from.stepFrom, to.stepFrom
			to.stepTo, from.stepTo = from.stepTo, to.stepTo
		}
		from.used, from.step = false, 0
	}
}

// kept are the rows that draw the curve, n at most.
func (m *curve) kept(n int) (list []Sample) {
	if m.rows == 0 {
		return nil
	}
	for _, s := range thin(m.samples(), n) {
		list = append(list, s.Sample)
	}
	return list
}

// samples are the rows that are kept in all buckets, each once.
func (m *curve) samples() []*sample {
	list := []*sample{&m.first}
	for i := range m.buckets {
		if b := &m.buckets[i]; b.used {
			list = append(list, &b.low, &b.top)
			if b.step > 0 {
				list = append(list, &b.stepFrom, &b.stepTo)
			}
		}
	}
	list = append(list, &m.last)
	slices.SortStableFunc(list, func(a, b *sample) int { return a.seq - b.seq })
	return slices.CompactFunc(list, func(a, b *sample) bool { return a.seq == b.seq })
}
