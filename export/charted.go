package export

import (
	"math"
	"strings"
	"unicode/utf8"

	"bankwright/engine/check"
)

// longBeside is how many characters of a name have room beside a bar in one line, in the
// narrower of two charts.
const longBeside = 16

// mostSeries is how many parts a bar has at most; what is beyond is put together.
const mostSeries = 8

// charted draws what the charts of the first sheet show, best first, and makes them.
func (w *workings) charted() {
	parts, sum := w.pl.model.Parts()
	var beside []*check.Quantity
	for _, name := range w.k.Compare.Chart {
		beside = append(beside, w.k.Quantity(name))
	}
	if len(parts)+len(beside) == 0 {
		return
	}
	w.row++
	w.s.text(w.row, labelCol, "What the charts show, best first", Section)
	w.row++
	names := w.row
	w.s.text(names, labelCol, titleOf(w.k), HeadText)
	w.s.text(names, unitCol, "unit", HeadText)
	for n := range w.beside() {
		w.s.Set(names, itemCol+n, Cell{Formula: columnName(itemCol+n) + number(float64(w.rows.short)), Style: Head})
	}
	w.row++
	if len(parts) > 0 {
		w.drawParts(parts, sum, names)
	}
	if len(beside) > 0 {
		first := w.row
		for _, q := range beside {
			w.drawn(q, Computed)
		}
		w.charts = append(w.charts, w.chart(BarChart, namesOf(beside), beside[0], names, first, w.row-1))
	}
}

// drawn is a row of a quantity for those that are shown, best first.
func (w *workings) drawn(q *check.Quantity, look Style) {
	l := w.pl.places[q]
	sheet := quoteSheet(l.page.name) + "!"
	w.s.Set(w.row, labelCol, Cell{Value: l.label, Style: Link, Link: sheet + cellName(l.row, l.col)})
	w.unitOf(w.row, l)
	cells := sheet + "$" + columnName(l.col) + number(float64(l.row)) + ":$" + columnName(l.col+len(w.k.Items)-1) + number(float64(l.row))
	for n := range w.beside() {
		w.s.Set(w.row, itemCol+n, Cell{Formula: "IFERROR(" + w.picked(cells, "", n) + `,"")`, Style: look, Format: l.format})
	}
	w.row++
}

// drawParts draws the parts of a figure, those of which there are some anywhere one by
// one, the others together, and whether they add up.
func (w *workings) drawParts(parts []*check.Quantity, sum *check.Quantity, names int) {
	some, rest := w.weighty(parts)
	first := w.row
	for _, q := range some {
		w.drawn(q, Computed)
	}
	last := w.row - 1
	l := w.pl.places[sum]
	added := func(label string, from, to int, look Style) {
		w.s.text(w.row, labelCol, label, Label)
		w.unitOf(w.row, l)
		for n := range w.beside() {
			col := columnName(itemCol + n)
			w.s.Set(w.row, itemCol+n, Cell{Formula: "SUM(" + col + number(float64(from)) + ":" + col + number(float64(to)) + ")", Style: look, Format: l.format})
		}
		w.row++
	}
	if len(rest) > 0 {
		last = w.row
		added("All other parts", w.row+4, w.row+3+len(rest), Computed)
	}
	w.charts = append(w.charts, w.chart(StackedChart, l.label+" by part", sum, names, first, last))
	added("All parts together", first, last, Total)
	w.drawn(sum, Computed)
	w.s.text(w.row, labelCol, "Whether the parts add up to it", Label)
	w.s.text(w.row, unitCol, "words", Unit)
	for n := range w.beside() {
		col := columnName(itemCol + n)
		got, want, all := col+number(float64(w.row-2)), col+number(float64(w.row-1)), col+number(float64(first))+":"+col+number(float64(last))
		w.s.Set(w.row, itemCol+n, Cell{Style: ComputedText, Formula: "IF(ISNUMBER(" + want + "),IF(ABS(" + got + "-" + want + ")<=tolerance*(ABS(" + want + ")+MAX(" + all + ")-MIN(" + all + `)),"yes","no"),"")`})
	}
	w.row++
	for _, q := range rest {
		w.drawn(q, Computed)
	}
}

// weighty are the parts that some item has, the largest ones where they are many, and
// the others, both in the order of the rules.
func (w *workings) weighty(parts []*check.Quantity) (some, rest []*check.Quantity) {
	size := make([]float64, len(parts))
	for n, q := range parts {
		for i := range w.k.Items {
			if v := w.pl.res.At(q, i, 0); v == v {
				size[n] = math.Max(size[n], math.Abs(v))
			}
		}
	}
	larger := func(n int) (count int) {
		for m := range size {
			count += btoi(size[m] > size[n] || size[m] == size[n] && m < n)
		}
		return count
	}
	most := mostSeries
	if len(parts) > most {
		most--
	}
	for n, q := range parts {
		if size[n] > 0 && larger(n) < most {
			some = append(some, q)
		} else {
			rest = append(rest, q)
		}
	}
	return some, rest
}

// chart draws rows of the workings, a bar for each that is shown.
func (w *workings) chart(kind ChartKind, title string, of *check.Quantity, names, first, last int) Chart {
	end := itemCol + w.beside() - 1
	if u := w.pl.unitName(of.Unit); u != "" {
		title += ", " + u
	}
	c := Chart{Kind: kind, Title: title, Y: Axis{Format: "#,##0.###"}}
	for _, it := range w.k.Items {
		c.Tight = c.Tight || utf8.RuneCountInString(itemLabel(it)) > longBeside
	}
	for row := first; row <= last; row++ {
		c.Series = append(c.Series, Series{
			Name: Range{Sheet: workingsName, Row: row, Col: labelCol},
			X:    Range{Sheet: workingsName, Row: names, Col: itemCol, ToRow: names, ToColumn: end},
			Y:    Range{Sheet: workingsName, Row: row, Col: itemCol, ToRow: row, ToColumn: end},
		})
	}
	return c
}

// namesOf are labels of quantities in one line.
func namesOf(list []*check.Quantity) string {
	var out []string
	for i, q := range list {
		label := labelOf(q)
		if i > 0 {
			label = lowerFirst(label)
		}
		out = append(out, label)
	}
	return strings.Join(out, ", ")
}
