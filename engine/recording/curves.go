package recording

import (
	"fmt"
	"slices"

	"bankwright/engine/unit"
)

// Curves keeps at most so many rows that the curves of all columns keep their shape:
// all rows where there are no more, else those at both ends of gaps, as long as these
// are a quarter at most, and for each column an equal share of the others, chosen so that
// its curve changes least, those with its smallest and its largest value among them. A column
// is drawn over the rows that were kept for the others as well. The result's value is
// the number of rows kept; where it is equal to Rows, nothing was left out.
type Curves struct {
	Points int // at least 8 for each column that the file has
}

// lengthsInAll bounds the memory of curves: into so many lengths of time the columns
// are divided together, each into twice as many as there are points at most.
const lengthsInAll = 8000

type curves struct {
	points            int
	rows, first, last int
	whole             []sample // all rows, as long as there are no more than points
	ends              []Sample // the rows at both ends of gaps
	before            sample
	columns           []*curve // one for each column of the file
}

func (c Curves) bind(r *Reader) (meter, error) {
	n := len(r.cols)
	if c.Points < 8*n || c.Points > mostPoints {
		return nil, fmt.Errorf("curves of %d columns have %d to %d points, not %d", n, 8*n, mostPoints, c.Points)
	}
	m := &curves{points: c.Points}
	for _, col := range r.cols {
		one, err := r.curve(col.name, min(2*c.Points, lengthsInAll/n))
		if err != nil {
			return nil, err
		}
		m.columns = append(m.columns, one)
	}
	return m, nil
}

func (m *curves) add(row *Row) {
	if m.rows++; m.rows == 1 {
		m.first = row.Line
	}
	m.last = row.Line
	if m.rows > 1 && row.Stretch != m.before.Stretch && len(m.ends)+2 <= m.points/4 {
		for _, s := range []*sample{&m.before, {Sample: Sample{row.Line, hours(row.Time), row.Values, row.Stretch}}} {
			end := s.Sample
			end.Values = slices.Clone(s.Values)
			m.ends = append(m.ends, end)
		}
	}
	m.before.set(row, 0, m.rows)
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

// united are the rows that are kept, each once, in their order.
func (m *curves) united() []Sample {
	list := slices.Clone(m.ends)
	for _, c := range m.columns {
		list = append(list, c.kept((m.points-len(m.ends))/len(m.columns))...)
	}
	slices.SortStableFunc(list, func(a, b Sample) int { return a.Line - b.Line })
	return slices.CompactFunc(list, func(a, b Sample) bool { return a.Line == b.Line })
}
