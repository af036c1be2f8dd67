package export

import (
	"math"
	"math/rand/v2"

	"bankwright/engine/check"
	"bankwright/engine/decl"
	"bankwright/engine/eval"
)

// tableChanges draws one change each, where there is something to change, of a step of
// a series, of a point of an item's own table and of a number in a table of the rules.
func tableChanges(pl *plan, r *rand.Rand) (out []change) {
	for _, draw := range []func(*plan, *rand.Rand) (change, bool){seriesChange, pointChange, ruleTableChange} {
		for range 20 {
			if c, ok := draw(pl, r); ok {
				out = append(out, c)
				break
			}
		}
	}
	return out
}

// drawLine draws a line of the sheet of inputs.
func drawLine(pl *plan, r *rand.Rand, want func(q *check.Quantity) bool) *line {
	var lines []*line
	for _, l := range pl.inputs.lines {
		if l.q != nil && l.row > 0 && want(l.q) {
			lines = append(lines, l)
		}
	}
	if len(lines) == 0 {
		return nil
	}
	return lines[r.IntN(len(lines))]
}

// seriesChange is another value of one step of a series that is given.
func seriesChange(pl *plan, r *rand.Rand) (change, bool) {
	l := drawLine(pl, r, func(q *check.Quantity) bool { return len(q.Axes) > 0 && !q.IsRule() && q.Type == decl.Number })
	if l == nil {
		return change{}, false
	}
	q, item, at := l.q, r.IntN(len(l.q.Kind.Items)), r.IntN(l.rows)
	if q.Own[item] != nil {
		return change{}, false // calculated
	}
	row, n := 0, 0
	eachStep(q.Axes, func(steps []int) {
		if n == at {
			row = q.Row(steps...)
		}
		n++
	})
	data, base, ok := other(pl.model, q, item, row, r)
	return change{
		sheet: pl.inputs.name, row: l.row + at, col: l.column(item), data: data, sort: "step of a series",
		engine: eval.Change{Quantity: q, Item: item, Row: row, Value: base}, what: q.Kind.Items[item].Name + "." + q.Name + " at step " + l.labels[at],
	}, ok
}

// pointChange is another value of a point of an item's own table, between those beside
// it, so that the order stays.
func pointChange(pl *plan, r *rand.Rand) (change, bool) {
	l := drawLine(pl, r, func(q *check.Quantity) bool { return q.Type == decl.Points })
	if l == nil {
		return change{}, false
	}
	q, item := l.q, r.IntN(len(l.q.Kind.Items))
	cols := pl.res.PointsOf(q, item)
	if cols == nil {
		return change{}, false
	}
	col := r.IntN(len(cols))
	at := r.IntN(len(cols[col]))
	u := q.Columns[col].Unit
	data := round15(u.FromBase(between(cols[col], at, r)))
	name := q.Kind.Items[item].Name + "." + q.Name
	return change{
		sheet: pl.inputs.name, row: l.row + col*q.MaxRows + at, col: l.column(item), data: data, sort: "point", what: name,
		set: func() func() {
			given := q.Kind.Items[item].Given
			old := given[q.Name]
			points := make([][]float64, len(cols))
			for i := range points {
				points[i] = append([]float64(nil), cols[i]...)
			}
			points[col][at] = u.ToBase(data)
			given[q.Name] = &decl.Given{Points: points}
			return func() { given[q.Name] = old }
		},
	}, true
}

// between is a value near the one of a column, on the same side of its neighbours.
func between(column []float64, at int, r *rand.Rand) float64 {
	v, room := column[at], 0.1*math.Abs(column[at])
	for _, next := range []int{at - 1, at + 1} {
		if next >= 0 && next < len(column) {
			room = min(room, 0.4*math.Abs(column[next]-v))
		}
	}
	return v + room*(2*r.Float64()-1)
}

// ruleTableChange is another number in a table of the rules, in the same order. The
// first column stays: rules ask for one of its values, and have no result where it is
// gone; there a sheet may show an error value where the engine, which leaves out what
// does not matter, has one.
func ruleTableChange(pl *plan, r *rand.Rand) (change, bool) {
	tables := pl.prog.Model.Tables
	if len(tables) == 0 {
		return change{}, false
	}
	t := tables[r.IntN(len(tables))]
	col := r.IntN(len(t.Columns))
	if col == 0 || t.Columns[col].Text || len(t.Rows) == 0 {
		return change{}, false
	}
	column := make([]float64, len(t.Rows))
	for i := range column {
		column[i] = t.Rows[i].Numbers[col]
	}
	at, u := r.IntN(len(t.Rows)), t.Columns[col].Unit
	data := round15(u.FromBase(between(column, at, r)))
	l := pl.published[columnKey{t, col}]
	return change{
		sheet: pl.tables.name, row: l.row + at, col: l.col, data: data, sort: "row of a table", what: t.Name + "." + t.Columns[col].Name,
		set: func() func() {
			numbers := t.Rows[at].Numbers
			old := numbers[col]
			numbers[col] = u.ToBase(data)
			return func() { numbers[col] = old }
		},
	}, true
}
