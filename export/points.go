package export

import (
	"strings"

	"bankwright/engine/check"
)

// pointsLine is the place of an item's own table, column below column.
func (pl *plan) pointsLine(q *check.Quantity, l line) *line {
	n := q.MaxRows
	l.rows = n * len(q.Columns)
	l.unit = ""
	for _, col := range q.Columns {
		for r := range n {
			name := labelOf(q) + ": " + strings.ReplaceAll(col.Name, "_", " ") + " " + number(float64(r+1))
			if u := pl.unitName(col.Unit); u != "" {
				name += " (" + u + ")"
			}
			l.labels = append(l.labels, name)
		}
	}
	l.look = Input
	formats := make([]string, len(q.Columns))
	for i, col := range q.Columns {
		formats[i] = pl.pointsFormat(q, i, col.Unit.FromBase)
	}
	l.data = func(item, row int) Cell {
		c := Cell{Style: Input, Format: formats[row/n], Typed: true}
		if cols := pl.res.PointsOf(q, item); cols != nil && row%n < len(cols[row/n]) {
			c.Value = round15(q.Columns[row/n].Unit.FromBase(cols[row/n][row%n]))
		}
		return c
	}
	in := pl.newLine(pl.inputs, l)
	pl.inputs.lines = append(pl.inputs.lines, in)
	return in
}

// The states of a point, as helper rows say them; an empty one has none.
const (
	counts     = "counts"
	incomplete = "incomplete"
	twice      = "twice"
)

// points are the helper rows of an item's own table, beside its kind's rules:
// they leave out what does not count and put the rest in rising order, as the
// engine does when it reads a scenario. All are in base units.
type points struct {
	q      *check.Quantity
	base   *line         // the first column of those that are complete, as typed
	state  *line         // of each point as it was typed
	before *line         // how often its first value stands above
	keys   *line         // the first column of those that count, as typed
	sorted map[int]*line // columns, in the order of the first
}

// pointsOf is the helper rows of an item's own table.
func (pl *plan) pointsOf(q *check.Quantity) *points {
	if p := pl.sorted[q]; p != nil {
		return p
	}
	p := &points{q: q, sorted: map[int]*line{}}
	pl.sorted[q] = p
	p.base = pl.helper(p, 0, columnLabel(q, 0)+" of complete points", "where all columns are given, "+baseNote)
	p.base.step = func(_, r int) text { return pl.complete(p, r) }
	p.before = pl.helper(p, -1, "how often it stands above", "points above it with the same first value")
	p.before.step = func(_, r int) text { return pl.above(p, r) }
	p.before.format = countFormat
	p.state = pl.helper(p, -1, "point", "whether each point counts: all its columns are given, and its first value stands there once")
	p.keys = pl.helper(p, 0, columnLabel(q, 0)+" as typed", "of the points that count, "+baseNote)
	p.sorted[0] = pl.helper(p, 0, columnLabel(q, 0)+" rising", "from the smallest up, "+baseNote)
	p.state.look = ComputedText
	p.state.step = func(_, r int) text { return pl.pointState(p, r) }
	p.keys.step = func(_, r int) text {
		return join("IF(", &ref{to: p.state, item: own, row: r}, `="`+counts+`",`, &ref{to: p.base, item: own, row: r}, `,"")`)
	}
	p.sorted[0].step = func(_, r int) text {
		keys, n := &ref{to: p.keys, item: own, last: q.MaxRows - 1}, join("ROWS(", &ref{to: p.keys, item: own, last: r}, ")")
		return join("IF(COUNT(", keys, ")<", n, `,"",SMALL(`, keys, ",", n, "))")
	}
	return p
}

const baseNote = "in the unit that formulas calculate in"

func columnLabel(q *check.Quantity, col int) string {
	return strings.ReplaceAll(q.Columns[col].Name, "_", " ")
}

// helper is a row for each point, of the values of a column or of none (-1).
func (pl *plan) helper(p *points, col int, label, note string) *line {
	pg := pl.rulePage(p.q.Kind)
	l := line{kind: p.q.Kind, only: own, rows: p.q.MaxRows, look: Computed, label: labelOf(p.q) + ", " + label, note: note}
	for r := range p.q.MaxRows {
		l.labels = append(l.labels, number(float64(r+1)))
	}
	if col >= 0 {
		l.unit = pl.unitName(baseUnit(p.q.Columns[col].Unit.Dim))
		l.format = pl.pointsFormat(p.q, col, func(v float64) float64 { return v })
	}
	out := pl.newLine(pg, l)
	if len(pg.points) == 0 {
		out.head = "Points in order"
	}
	pg.points = append(pg.points, out)
	return out
}

// typed is a value of a point as it was typed, in base units.
func (pl *plan) typed(q *check.Quantity, col, r int) text {
	in := &ref{to: pl.place(q), item: own, row: col*q.MaxRows + r}
	return toBase(term{text: cell(in), prec: precAtom}, q.Columns[col].Unit).plain().text
}

// cells are those of a point, as they are typed.
func (pl *plan) cells(p *points, r int) []text {
	out := make([]text, len(p.q.Columns))
	for c := range out {
		out[c] = cell(&ref{to: pl.place(p.q), item: own, row: c*p.q.MaxRows + r})
	}
	return out
}

// complete is the first value of a point, empty unless all are given.
func (pl *plan) complete(p *points, r int) text {
	given := pl.cells(p, r)
	for i, c := range given {
		given[i] = join("ISNUMBER(", c, ")")
	}
	return join("IF(AND(", list(given), "),", pl.typed(p.q, 0, r), `,"")`)
}

// above counts the points above one that have the same first value and count.
func (pl *plan) above(p *points, r int) text {
	if r == 0 {
		return lit("0")
	}
	x, keys := &ref{to: p.base, item: own, row: r}, &ref{to: p.keys, item: own, last: r - 1}
	margin := join("tolerance*ABS(", x, ")")
	return join("IF(", x, `="",0,COUNTIFS(`, keys, `,">="&`, x, "-", margin, ",", keys, `,"<="&`, x, "+", margin, "))")
}

// pointState is the formula of a point's state.
func (pl *plan) pointState(p *points, r int) text {
	return join("IF(COUNTA(", list(pl.cells(p, r)), `)=0,"",IF(`, &ref{to: p.base, item: own, row: r}, `="","`+incomplete+`",IF(`,
		&ref{to: p.before, item: own, row: r}, `>0,"`+twice+`","`+counts+`")))`)
}

// pointsColumn is a column of the items' own tables in base units, in the order
// of the first.
func (pl *plan) pointsColumn(q *check.Quantity, col int) *line {
	p := pl.pointsOf(q)
	if l := p.sorted[col]; l != nil {
		return l
	}
	u := q.Columns[col].Unit
	l := pl.helper(p, col, columnLabel(q, col)+" beside it", "of the same points, "+baseNote)
	l.step = func(_, r int) text {
		key := &ref{to: p.sorted[0], item: own, row: r}
		in := &ref{to: pl.place(q), item: own, row: col * q.MaxRows, last: (col+1)*q.MaxRows - 1}
		found := join("INDEX(", in, ",MATCH(", key, ",", &ref{to: p.keys, item: own, last: q.MaxRows - 1}, ",0))")
		return guarded(toBase(term{text: found, prec: precAtom}, u).plain().text, []text{join(key, `=""`)})
	}
	p.sorted[col] = l
	return l
}

// pointsFormat is the number format of a column as one shows it.
func (pl *plan) pointsFormat(q *check.Quantity, col int, show func(float64) float64) string {
	var values []float64
	for i := range q.Kind.Items {
		if cols := pl.res.PointsOf(q, i); cols != nil {
			for _, v := range cols[col] {
				values = append(values, show(v))
			}
		}
	}
	return exactFormat(values)
}
