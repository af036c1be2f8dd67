package recording

import (
	"fmt"
	"slices"

	"bankwright/engine/unit"
)

// Curves keeps at most so many rows that the curves of all columns keep their
// shape: all rows where there are no more, else each column an equal share of them
// as Curve does, so that those with its smallest and its largest value are among
// them. A column is drawn over the rows that were kept for the others as well. The
// result's value is the number of rows kept; where it is equal to Rows, nothing was
// left out.
type Curves struct {
	Points int // at least 4 for each column that the file has
}

type curves struct {
	points            int
	rows, first, last int
	whole             []sample // all rows, as long as there are no more than points
	columns           []*curve // one for each column of the file
}

func (c Curves) bind(r *Reader) (meter, error) {
	n := len(r.cols)
	if c.Points < 4*n || c.Points > mostPoints {
		return nil, fmt.Errorf("curves of %d columns have %d to %d points, not %d", n, 4*n, mostPoints, c.Points)
	}
	m := &curves{points: c.Points}
	for _, col := range r.cols {
		one, err := Curve{Of: col.name, Points: c.Points / n}.bind(r)
		if err != nil {
			return nil, err
		}
		m.columns = append(m.columns, one.(*curve))
	}
	return m, nil
}

func (m *curves) add(row *Row) {
	if m.rows++; m.rows == 1 {
		m.first = row.Line
	}
	m.last = row.Line
	if m.rows <= m.points {
		var s sample
		s.set(row, 0, m.rows)
		m.whole = append(m.whole, s)
	} else {
		m.whole = nil
	}
	for _, c := range m.columns {
		c.add(row)
	}
}

func (m *curves) result() Result {
	res := none(unit.None)
	if m.rows == 0 {
		return res
	}
	res.Rows, res.First, res.Last = m.rows, m.first, m.last
	for _, s := range m.whole {
		res.Curve = append(res.Curve, s.Sample)
	}
	if m.whole == nil {
		res.Curve = m.united()
	}
	res.Value = float64(len(res.Curve))
	return res
}

// united are the rows that are kept for some column, each once, in their order.
func (m *curves) united() []Sample {
	var list []Sample
	for _, c := range m.columns {
		list = append(list, c.result().Curve...)
	}
	slices.SortStableFunc(list, func(a, b Sample) int { return a.Line - b.Line })
	return slices.CompactFunc(list, func(a, b Sample) bool { return a.Line == b.Line })
}
