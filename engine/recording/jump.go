package recording

import (
	"fmt"
	"math"

	"bankwright/engine/unit"
)

// Jump is the ratio of the changes of two columns at a step: Response's change by
// Of's, where Of changes the most between two rows that are at most Within rows
// apart, without a gap. Among changes of one size that over the fewest rows
// counts, then the first. The lines of the result are those of the two rows, At is
// the time of the second, Changes are the changes of Of and of Response.
//
// A row counts that has both values. What else changes Response between the two
// rows, a slow drift above all, is part of the ratio: keep Within small.
type Jump struct {
	Of, Response string
	Within       int // rows; 0 means 1, at most 100
}

// mostWithin bounds the work for a row.
const mostWithin = 100

// level is a row that a jump may start from.
type level struct {
	x, y float64
	line int
}

type jump struct {
	track    // of the product, so that both values are there
	ring     []level
	filled   int
	next     int
	dim      unit.Dim
	dx, dy   float64
	at       int64
	from, to int
}

func (j Jump) bind(r *Reader) (meter, error) {
	if j.Within < 0 || j.Within > mostWithin {
		return nil, fmt.Errorf("a jump is sought within 1 to %d rows, not %d", mostWithin, j.Within)
	}
	m := &jump{ring: make([]level, max(1, j.Within))}
	var err error
	if m.track, err = r.follow(j.Of, j.Response); err != nil {
		return nil, err
	}
	x, okX := unit.Sub(r.dim(m.a), r.dim(m.a))
	y, okY := unit.Sub(r.dim(m.b), r.dim(m.b))
	d, ok := unit.Div(y, x)
	if !ok || !okX || !okY {
		return nil, fmt.Errorf("the changes of %s and %s have no ratio that means anything", j.Response, j.Of)
	}
	m.dim = d
	return m, nil
}

func (m *jump) add(row *Row) {
	s, ok := m.track.next(row)
	if !ok {
		return
	}
	if !s.joined {
		m.filled = 0
	}
	now := level{row.Values[m.a], row.Values[m.b], row.Line}
	n := len(m.ring)
	for back := 1; back <= m.filled; back++ {
		was := &m.ring[(m.next-back+n)%n]
		if dx := now.x - was.x; math.Abs(dx) > math.Abs(m.dx)*(1+1e-12) {
			m.dx, m.dy, m.at, m.from, m.to = dx, now.y-was.y, row.Time, was.line, now.line
		}
	}
	m.ring[m.next] = now
	m.next = (m.next + 1) % n
	m.filled = min(m.filled+1, n)
}

func (m *jump) result() Result {
	res := m.outcome(math.NaN(), m.dim)
	if m.dx != 0 {
		res.Value, res.At, res.First, res.Last = m.dy/m.dx, hours(m.at), m.from, m.to
		res.Changes = [2]float64{m.dx, m.dy}
	}
	return res
}
