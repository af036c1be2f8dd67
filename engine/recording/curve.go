package recording

import (
	"fmt"
	"math"

	"bankwright/engine/unit"
)

// Curve keeps at most so many rows that the curve of a column keeps its shape. Of
// each of equal lengths of time, many more than there are points, the rows with the
// smallest and the largest value are found, and of these those are left out without
// which the curve changes least (see thin). The first and the last row and those with
// the smallest and the largest value of all are kept. The result's value is the
// number of rows kept; where it is equal to Rows, nothing was left out, and what is
// computed from the kept rows is exact.
type Curve struct {
	Of     string
	Points int // at least 4
}

// mostPoints bounds the memory of a curve.
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

// bucket is the rows kept of a length of time.
type bucket struct {
	used     bool
	low, top sample
}

type curve struct {
	track
	buckets     []bucket
	width       int64 // nanoseconds
	points      int
	first, last sample
}

func (c Curve) bind(r *Reader) (meter, error) {
	if c.Points < 4 || c.Points > mostPoints {
		return nil, fmt.Errorf("a curve has 4 to %d points, not %d", mostPoints, c.Points)
	}
	m := &curve{buckets: make([]bucket, 2*c.Points), width: 1, points: c.Points}
	n := len(r.layout.Columns)
	values := make([]float64, 2*n*len(m.buckets))
	for i := range m.buckets {
		at := values[2*n*i : 2*n*(i+1)]
		m.buckets[i].low.Values, m.buckets[i].top.Values = at[:0:n], at[n:n:2*n]
	}
	var err error
	m.track, err = r.follow(c.Of, "")
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
	m.last.set(row, s.v, m.rows)
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
		from.used = false
	}
}

func (m *curve) result() Result {
	res := m.outcome(math.NaN(), unit.None)
	if m.rows == 0 {
		return res
	}
	for _, s := range thin(m.samples(), m.points) {
		res.Curve = append(res.Curve, s.Sample)
	}
	res.Value = float64(len(res.Curve))
	return res
}

// samples are the rows that are kept in all buckets, each once.
func (m *curve) samples() []*sample {
	var list []*sample
	keep := func(s *sample) {
		if n := len(list); n == 0 || s.seq > list[n-1].seq {
			list = append(list, s)
		}
	}
	keep(&m.first)
	for i := range m.buckets {
		switch b := &m.buckets[i]; {
		case !b.used:
		case b.low.seq < b.top.seq:
			keep(&b.low)
			keep(&b.top)
		default:
			keep(&b.top)
			keep(&b.low)
		}
	}
	keep(&m.last)
	return list
}
