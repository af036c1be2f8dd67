package export

import (
	"slices"

	"bankwright/engine/check"
)

// shortName is the sheet on which long series stand in short.
const shortName = "In short"

// shortHead is the row of its heads.
const shortHead = 4

// long keeps a page of series for the sheet In short where it would take several pages
// side by side, which nobody reads on paper: printed is its beginning only, in letters
// that can be read, whole runs of the last axis and whole blocks.
func (pl *plan) long(pg *page) {
	s := pg.sheet
	if s.printed() <= smallLandscape*(1+slack) {
		return
	}
	pl.longSeries = append(pl.longSeries, pg)
	s.text(seriesRow-bandRows, labelCol, "On paper: its beginning", Note)
	s.Set(seriesRow-bandRows+1, labelCol, Cell{Value: "Least and greatest", Style: Link, Link: quoteSheet(shortName) + "!A1"})
	s.Print.Small = false
	for _, l := range pg.lines {
		end := l.column(l.items()-1) + l.across - 1
		s.Print.ToCol = max(s.Print.ToCol, end)
		if beyond := s.printed() > readLandscape; beyond && l != pg.lines[0] {
			s.Print.ToCol = pg.lines[0].col - 1
			for _, before := range pg.lines[:slices.Index(pg.lines, l)] {
				s.Print.ToCol = max(s.Print.ToCol, before.column(before.items()-1)+before.across-1)
			}
			break
		}
	}
	run := pg.axes[len(pg.axes)-1].Steps + btoi(pg.starts)
	s.Print.ToRow = seriesRow - 1 + run*max(1, (rowsOnPage(s.printed())-bandRows)/run)
	s.titleAbove()
}

// drawShort draws the sheet of the least and the greatest of long series; nil where there
// are none.
func (pl *plan) drawShort() *Sheet {
	if len(pl.longSeries) == 0 {
		return nil
	}
	pg := &page{name: shortName, title: "Long series in short", lead: "The least and the greatest of each series that is too long for paper, its start included. Its name leads to it."}
	s := pl.head(pg)
	s.FreezeRows, s.FreezeCols, s.Print.RepeatRows = shortHead, unitCol, shortHead
	s.text(shortHead, labelCol, "series", HeadText)
	s.text(shortHead, unitCol, "unit", HeadText)
	d := draft{pl: pl, page: pg, s: s, row: shortHead + 1}
	most := 1
	for _, long := range pl.longSeries {
		d.row++
		s.text(d.row, labelCol, long.title, Heading)
		d.row++
		var of *check.Kind
		for _, l := range long.lines {
			if l.across > 1 || l.look == ComputedText {
				continue // parts of workings, and words, have none
			}
			most = max(most, l.items())
			if l.kind != of {
				of = l.kind
				d.shortHeads(of)
			}
			d.shortOf(l)
		}
	}
	s.Widths = widths(most)[:unitCol+most]
	return s
}

// shortHeads names the items of a kind above their figures.
func (d *draft) shortHeads(k *check.Kind) {
	d.s.text(d.row, labelCol, titleOf(k), HeadText)
	for i, it := range k.Items {
		c := Cell{Formula: cell(&ref{to: d.pl.names[k], item: own}).at(spot{page: d.page, item: i}), Value: it.Name, Style: Head}
		if !k.Many {
			c = Cell{Value: "value", Style: Head}
		}
		d.s.Set(d.row, itemCol+i, c)
	}
	d.row++
}

// shortOf are the two rows of a series.
func (d *draft) shortOf(l *line) {
	last := 0
	l.page.eachRow(func(steps []int) { last = l.page.rowOf(steps) })
	for _, f := range []struct{ word, name string }{{"least", "MIN"}, {"greatest", "MAX"}} {
		d.s.Set(d.row, labelCol, Cell{Value: l.label + ": " + f.word, Style: Link, Link: quoteSheet(l.page.name) + "!" + cellName(l.row-bandRows, l.col)})
		d.s.text(d.row, unitCol, unitWord(l), Unit)
		for i := range l.items() {
			cells := quoteSheet(l.page.name) + "!" + cellName(l.row, l.column(i)) + ":" + cellName(l.row+last, l.column(i))
			d.s.Set(d.row, itemCol+i, Cell{Formula: "IF(COUNT(" + cells + `)=0,"",` + f.name + "(" + cells + "))", Style: Computed, Format: l.format})
		}
		d.row++
	}
}
