package export

import (
	"slices"

	"bankwright/engine/check"
	"bankwright/engine/decl"
	"bankwright/export/told"
)

// Tables and charts of the sheet of studies.

// column is what stands above a column of a table.
type column struct {
	head, unit string
	left       bool
}

// table draws a table: its heads and n rows. Where it is whole its rows follow each
// other, as those of charts must; else heads stand on each page that it takes. A row is
// as high as so many lines.
func (x *studies) table(heads []column, n, high int, whole bool, row func(i int)) (first int) {
	if whole || n*high+3 <= x.page {
		x.room(n*high + 3)
	} else {
		x.room(4*high + 3)
	}
	x.heads(heads)
	first = x.row
	for i := range n {
		if !whole && x.row-x.top+high > x.page {
			x.newPage()
			x.heads(heads)
		}
		row(i)
		x.row++
		x.top -= high - 1
	}
	return first
}

// heads draws the heads of a table, units below them where there are some.
func (x *studies) heads(heads []column) {
	units := 0
	x.head = x.row
	for i, h := range heads {
		look := Head
		if h.left {
			look = HeadText
		}
		x.s.text(x.row, i+1, h.head, look)
		if h.unit != "" {
			x.s.text(x.row+1, i+1, h.unit, Below)
			units = 1
		}
	}
	x.row += 1 + units
}

// number puts a figure that is not live; a dash where there is none.
func (x *studies) number(col int, v float64, format string) {
	if v != v {
		x.word(col, "-")
		return
	}
	x.s.Set(x.row, col, Cell{Value: round15(v), Style: Frozen, Format: format})
}

// figure puts a value of a quantity in its unit.
func (x *studies) figure(col int, q *check.Quantity, v float64, format string) {
	if q.Type == decl.Number {
		x.number(col, q.Unit.FromBase(v), format)
		return
	}
	x.word(col, x.m.Text(q, v))
}

// word puts a text that is not live.
func (x *studies) word(col int, text string) { x.s.text(x.row, col, text, FrozenText) }

// item puts the name of an item of those that are compared, in its colour.
func (x *studies) item(col, item int) { x.won(col, item, told.Item(x.kind, item)) }

func (x *studies) won(col, item int, text string) {
	look := NoneWon
	if item >= 0 {
		look = Won(item)
	}
	x.s.text(x.row, col, text, look)
}

// scale puts the value of an axis at its i-th step of those shown.
type scale struct {
	axis   *check.Axis
	at     []int
	values []float64 // none where steps have names
	format string
	column column
}

// scale is an axis, to be shown at some steps.
func (x *studies) scale(a *check.Axis, at []int) scale {
	values, name, digits := x.w.Scale(a, at)
	return scale{a, at, values, decimalFormat(digits), column{upperFirst(x.w.Inputs(a)), name, values == nil}}
}

// step puts the value of an axis at its i-th step of those shown.
func (x *studies) step(col int, sc scale, i int, look Style) {
	c := Cell{Value: sc.axis.Written(sc.at[i]), Style: look}
	if sc.values != nil {
		c = Cell{Value: round15(sc.values[i]), Style: look, Format: sc.format}
	}
	x.s.Set(x.row, col, c)
}

// cells is a column of rows.
func (x *studies) cells(col, first, last int) Range { return Range{sweepsName, first, col, last, col} }

// oneCell is a range of one cell.
func oneCell(row, col int) Range { return Range{sweepsName, row, col, 0, 0} }

// chart puts a chart below what stands there, on the page where it fits.
func (x *studies) chart(c Chart) {
	c.Row, c.Col = x.space(c.Height), studyNameCol
	x.s.Charts = append(x.s.Charts, c)
}

// space keeps rows free for a chart of a height, and gives the first of them.
func (x *studies) space(height int) int {
	const rowHeight = 15 // pixels: what the library that writes charts counts a row for
	rows := height/rowHeight + 1
	x.room(rows + 1)
	at := x.row + 1
	x.row += rows + 1
	return at
}

// Sizes of charts, in pixels.
const (
	studyChartWidth  = 900
	studyChartHeight = 380
)

// over is an axis of a chart from the least to the largest of values.
func over(title string, values []float64) Axis {
	var known []float64
	for _, v := range values {
		if v == v {
			known = append(known, v)
		}
	}
	if len(known) == 0 {
		return Axis{Title: title}
	}
	a := around(slices.Min(known), slices.Max(known))
	a.Title, a.Format = title, decimalFormat(decimalsOf(a.Step))
	return a
}
