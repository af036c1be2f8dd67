package recording

import (
	"fmt"
	"math"

	"bankwright/engine/unit"
)

// The values of a column at one time. Both lines of the result are that of the
// value, Rows those that have one.
type (
	// Min is the smallest value; the first of several.
	Min struct{ Of string }
	// Max is the largest value; the first of several.
	Max struct{ Of string }
	// First is the first value.
	First struct{ Of string }
	// Last is the last value.
	Last struct{ Of string }
)

// Growth is by how much a counter grew. A reset counts nothing, nor does what a
// counter grew across a gap unless AcrossGaps says so: a counter goes on counting
// where the recording does not.
type Growth struct {
	Of         string
	AcrossGaps bool
}

// extreme keeps the value that is better than the one kept.
type extreme struct {
	track
	better func(v, kept float64) bool
	value  float64
	at     int64
	line   int
}

func (r *Reader) extreme(of string, better func(v, kept float64) bool) (meter, error) {
	m := &extreme{better: better}
	var err error
	m.track, err = r.follow(of, "")
	return m, err
}

func (m Min) bind(r *Reader) (meter, error) {
	return r.extreme(m.Of, func(v, kept float64) bool { return v < kept })
}

func (m Max) bind(r *Reader) (meter, error) {
	return r.extreme(m.Of, func(v, kept float64) bool { return v > kept })
}

func (m First) bind(r *Reader) (meter, error) {
	return r.extreme(m.Of, func(float64, float64) bool { return false })
}

func (m Last) bind(r *Reader) (meter, error) {
	return r.extreme(m.Of, func(float64, float64) bool { return true })
}

func (m *extreme) add(row *Row) {
	if s, ok := m.next(row); ok && (m.rows == 1 || m.better(s.v, m.value)) {
		m.value, m.at, m.line = s.v, row.Time, row.Line
	}
}

func (m *extreme) result() Result {
	res := m.outcome(m.value, m.r.dim(m.a))
	if m.rows > 0 {
		res.At, res.First, res.Last = hours(m.at), m.line, m.line
	}
	return res
}

type growth struct {
	track
	Growth
	total sum
	lastV float64
}

func (g Growth) bind(r *Reader) (meter, error) {
	m := &growth{Growth: g}
	var err error
	if m.track, err = r.follow(g.Of, ""); err != nil {
		return nil, err
	}
	if r.dim(m.a).IsPoint() {
		return nil, fmt.Errorf("%s is a temperature, which is no counter", g.Of)
	}
	return m, nil
}

func (m *growth) add(row *Row) {
	s, ok := m.next(row)
	if ok && m.rows > 1 && (s.joined || m.AcrossGaps) && s.v > m.lastV {
		m.total.add(s.v - m.lastV)
	}
	if ok {
		m.lastV = s.v
	}
}

func (m *growth) result() Result {
	value := m.total.value()
	if m.rows < 2 {
		value = math.NaN()
	}
	return m.outcome(value, m.r.dim(m.a))
}

// Direction is the way in which a level is crossed.
type Direction int

// The directions.
const (
	Either  Direction = iota
	Rising            // from below to the level or above
	Falling           // from above to the level or below
)

// Crossing is the time, in hours since the first row, at which a column crosses a
// level for the first or the last time, on the straight line between two rows. The
// lines of the result are those of the two rows. A column that begins beyond the
// level does not cross it by that. A crossing in a gap has no time: Hidden counts
// it.
type Crossing struct {
	Of        string
	Level     float64 // in base units
	Direction Direction
	Last      bool // the last crossing in place of the first
}

type crossing struct {
	track
	Crossing
	found    bool
	at       float64
	from, to int
	lastV    float64
	lastLine int
	hidden   int
}

func (c Crossing) bind(r *Reader) (meter, error) {
	m := &crossing{Crossing: c}
	var err error
	m.track, err = r.follow(c.Of, "")
	return m, err
}

func (m *crossing) add(row *Row) {
	s, ok := m.next(row)
	if !ok {
		return
	}
	before, line := m.lastV, m.lastLine
	m.lastV, m.lastLine = s.v, row.Line
	rising, falling := before < m.Level && s.v >= m.Level, before > m.Level && s.v <= m.Level
	if m.rows == 1 || !(rising && m.Direction != Falling || falling && m.Direction != Rising) {
		return
	}
	if !s.joined {
		m.hidden++
		return
	}
	if m.found && !m.Crossing.Last {
		return
	}
	back := float64(s.dt) * ((s.v - m.Level) / (s.v - before))
	m.found, m.from, m.to = true, line, row.Line
	m.at = (float64(row.Time) - back) / nanosPerHour
}

func (m *crossing) result() Result {
	res := m.outcome(math.NaN(), unit.Hour)
	if res.Hidden = m.hidden; m.found {
		res.Value, res.At, res.First, res.Last = m.at, m.at, m.from, m.to
	}
	return res
}
