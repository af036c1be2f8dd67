package recording

import (
	"fmt"
	"math"

	"bankwright/engine/unit"
)

// Part says which values an integral counts.
type Part int

// The parts of a column.
const (
	Whole    Part = iota
	Positive      // where it is above 0
	Negative      // where it is below 0
)

// Integral is the integral over time of a column, or of the product of two, in base
// units times hours.
//
// It is the trapezoidal rule over the values, for a product over the products of
// the values in a row. Over n steps of at most h in a time T, its error is at most
// T·h²/12 times the largest second derivative of what is integrated (Davis and
// Rabinowitz, Methods of Numerical Integration, 1984, section 2.1). The product of
// two columns that are each straight between rows would differ by Σ dt·Δa·Δb/6;
// the rule is kept because where both jump at once, at an unknown moment between
// two rows, it is right on average and the other is not, and because spreadsheets
// compute the same.
type Integral struct {
	Of         string
	Times      string // a second column; may be empty
	Part       Part   // the line between two values is cut where it meets 0
	AcrossGaps bool   // count gaps as if the line between their ends had been recorded; pauses of unknown length never count
}

// Mean is the mean weighted by time: the integral by the time it covers.
type Mean Integral

// Duration is the time that a column, or both of two, cover without their gaps, in
// hours. What it lacks of the whole recording is the result's Missing.
type Duration struct {
	Of   string
	With string // a second column; may be empty
}

type integral struct {
	track
	Integral
	area, time sum // in nanoseconds
	dim        unit.Dim
	mean       bool
}

func (i Integral) bind(r *Reader) (meter, error) {
	m := &integral{Integral: i}
	var err error
	if m.track, err = r.follow(i.Of, i.Times); err != nil {
		return nil, err
	}
	if m.dim, err = m.product(); err != nil {
		return nil, err
	}
	d, ok := unit.Mul(m.dim, unit.Hour)
	if !ok {
		return nil, fmt.Errorf("%s is a temperature, which has no integral over time", i.Of)
	}
	m.dim = d
	return m, nil
}

func (i Mean) bind(r *Reader) (meter, error) {
	m := &integral{Integral: Integral(i), mean: true}
	var err error
	if m.track, err = r.follow(i.Of, i.Times); err != nil {
		return nil, err
	}
	m.dim, err = m.product()
	return m, err
}

// product is the dimension of what is followed.
func (k *track) product() (unit.Dim, error) {
	d := k.r.dim(k.a)
	if k.b < 0 {
		return d, nil
	}
	d, ok := unit.Mul(d, k.r.dim(k.b))
	if !ok {
		return d, fmt.Errorf("%s and %s have no product that means anything",
			k.r.layout.Columns[k.a].Name, k.r.layout.Columns[k.b].Name)
	}
	return d, nil
}

func (m *integral) add(row *Row) {
	s, ok := m.next(row)
	if !ok || s.dt == 0 || !s.joined && !m.AcrossGaps {
		return
	}
	dt := float64(s.dt)
	m.time.add(dt)
	switch m.Part {
	case Whole:
		m.area.add((s.before + s.v) * dt / 2)
	case Positive:
		m.area.add(above(s.before, s.v) * dt)
	case Negative:
		m.area.add(-above(-s.before, -s.v) * dt)
	}
}

// above is the mean of what lies above 0 of the line from a to b.
func above(a, b float64) float64 {
	switch {
	case a >= 0 && b >= 0:
		return (a + b) / 2
	case a <= 0 && b <= 0:
		return 0
	}
	top, bottom := max(a, b), min(a, b)
	return top / 2 * (top / (top - bottom))
}

func (m *integral) result() Result {
	value := m.area.value() / nanosPerHour
	if m.mean {
		value = m.area.value() / m.time.value() // 0/0 is NaN: a single row has no mean over time
	} else if m.rows < 2 {
		value = math.NaN()
	}
	return m.outcome(value, m.dim)
}

type duration struct {
	track
	time int64
}

func (d Duration) bind(r *Reader) (meter, error) {
	m := &duration{}
	var err error
	m.track, err = r.follow(d.Of, d.With)
	return m, err
}

func (m *duration) add(row *Row) {
	if s, ok := m.next(row); ok && s.joined {
		m.time += s.dt
	}
}

func (m *duration) result() Result { return m.outcome(hours(m.time), unit.Hour) }
