package export

import (
	"slices"
	"unicode/utf8"

	"bankwright/engine/check"
)

// shortName is the sheet on which long series stand in short.
const shortName = "In short"

// shortHead is the row of its heads.
const shortHead = 4

// onPaper says what is printed of a page of series: in letters that can be read, what is
// meant for paper.
func (pl *plan) onPaper(pg *page) {
	s := pg.sheet
	if pg.rows > mostBanded {
		pl.long(pg)
		return
	}
	last := 0
	if pg.told > 0 {
		last = slices.Index(pg.bands, pg.lines[pg.told-1].row)
	}
	s.Print.ToRow, s.Print.ToCol = pg.bands[last]+pg.rows-1, pg.sheets.lastCol
	for len(s.Widths) < s.Print.ToCol { // as wide as its letters are counted for
		s.Widths = append(s.Widths, pg.wide)
	}
	if s.printed() <= mostShrunk {
		pg.sheets.size(s)
	}
	for i := pg.sheets.onPage; i <= last; i += pg.sheets.onPage {
		s.Breaks = append(s.Breaks, pg.bands[i]-bandRows)
	}
	if last+1 < len(pg.bands) {
		said := "Not on paper, from row " + number(float64(pg.bands[last+1]-bandRows)) + " on: workings, and what is empty or 0."
		if with := pg.lead + " " + said; utf8.RuneCountInString(with) < int(pg.sheets.room()) {
			said = with
		}
		s.text(2, labelCol, said, Note)
	}
}

// mostLong is how many pages the rows of a long series may take.
const mostLong = 4

// long keeps a page of series for the sheet In short where it would take many pages,
// which nobody reads on paper: printed are whole runs of the last axis of its first
// blocks, those in which most is not zero.
func (pl *plan) long(pg *page) {
	s := pg.sheet
	said := pg.lines[:max(1, pg.told)]
	shown := 0
	for _, l := range said {
		before := s.Print.ToCol
		s.Print.ToCol = max(before, l.col+l.items()*l.across-1)
		if s.printed() > readLandscape && before > 0 {
			s.Print.ToCol = before
			break
		}
		shown++
	}
	s.Print.ToRow = seriesRow + pg.rows - 1
	pg.sheets.size(s)
	onPage := int((pg.sheets.high()*max(1, s.printed()/pg.sheets.room()) - titlesHigh - bandRows*headHigh) / stepHigh)
	if shown == len(said) && pg.rows <= mostLong*onPage {
		return
	}
	pl.longSeries = append(pl.longSeries, pg)
	run := pg.axes[len(pg.axes)-1].Steps + btoi(pg.starts)
	n := run * max(1, onPage/run)
	from := pl.fullest(pg, said[:shown], run, n)
	s.Print.From, s.Print.ToRow = seriesRow+from, min(seriesRow+pg.rows, seriesRow+from+n)-1
	rows := "rows " + number(float64(s.Print.From)) + " to " + number(float64(s.Print.ToRow))
	s.text(seriesRow-bandRows, labelCol, "Printed: "+rows, Note)
	s.Set(seriesRow-bandRows+1, labelCol, Cell{Value: "Least and greatest", Style: Link, Link: quoteSheet(shortName) + "!A1"})
	s.Print.Header = pg.title + ": " + rows + ", where most is not zero; of all rows see the sheet " + shortName
}

// fullest is where, among so many rows of a page of series from the beginning of a run
// on, the fewest values of some lines are none or zero.
func (pl *plan) fullest(pg *page, lines []*line, run, rows int) (from int) {
	full := make([]int, pg.rows)
	pg.eachRow(func(steps []int) {
		row := pg.rowOf(steps)
		if steps[len(steps)-1] < 0 {
			return
		}
		for _, l := range lines {
			for i := range l.items() {
				if l.q == nil {
					continue
				}
				if v := pl.res.At(l.q, i, l.q.Row(steps...)); v == v && v != 0 {
					full[row]++
				}
			}
		}
	})
	most := -1
	for at := 0; at < pg.rows; at += run {
		n := 0
		for _, v := range full[at:min(at+rows, pg.rows)] {
			n += v
		}
		if n > most {
			from, most = at, n
		}
	}
	return from
}

// onlyBegins prints only the first page of a sheet of workings that nobody reads on paper,
// and says so below its title.
func (s *Sheet) onlyBegins(lead string) {
	for wide := 0.0; s.Print.ToCol < len(s.Widths) && wide+s.Widths[s.Print.ToCol] <= readLandscape; s.Print.ToCol++ {
		wide += s.Widths[s.Print.ToCol]
	}
	s.Print.ToRow = s.fits(rowsOnPage(s.printed()))
	s.text(2, labelCol, lead+" On paper: its beginning.", Note)
}

// fits is the last of the first rows that are as high as so many lines together.
func (s *Sheet) fits(lines int) (row int) {
	for ; row < len(s.rows) && lines > 0; row++ {
		high := 1
		for c := range s.rows[row] {
			if text, ok := s.rows[row][c].Value.(string); ok && c < s.Print.ToCol && s.rows[row][c].Style == Label {
				high = max(high, 1+utf8.RuneCountInString(text)/int(s.Widths[c]))
			}
		}
		lines -= high
	}
	return row
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
		from := d.row
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
		s.fold(from, d.row-1)
	}
	s.Widths = widths(most)[:unitCol+most]
	for row := range s.rows { // links are not wrapped
		if c := s.At(row+1, labelCol); c.Style == Link {
			name, _ := c.Value.(string)
			s.Widths[0] = max(s.Widths[0], float64(utf8.RuneCountInString(name)+2))
		}
	}
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
