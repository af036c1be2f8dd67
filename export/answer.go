package export

import (
	"fmt"
	"strings"
	"unicode/utf8"

	"bankwright/engine/decl"
	"bankwright/engine/unit"
)

// The first sheet is one page: what there is room for on it, in letters that can be
// read on paper, follows from its measures. What is longer stands on sheets behind it.

// Measures of the page. Its columns are as wide as an A4 page at the scale at which
// letters of 10 points are 6.7 points high on paper, and its rows as high.
const (
	frontScale   = 0.67
	frontMargin  = 10   // at the sides, mm
	frontLabel   = 31.0 // characters
	frontUnit    = 10.0
	frontFigures = 87.0 // of all columns of figures together
	leastColumns = 6
	lineHigh     = 12.75 // of a row with one line, in points
	pageHigh     = 1120.0
	narrow       = 1.25 // characters of text that surely find room in one of a column's width
)

// answer is the first sheet in the making.
type answer struct {
	draft
	work *workings
	high float64 // of the rows so far, in points

	charts span // rows of the charts
	tight  bool // whose names are long
}

// drawAnswer draws the sheet that the client reads first: the question, the
// recommendation, the figures side by side, charts, checks and cautions.
func (pl *plan) drawAnswer(checks *checkPage, work *workings) *Sheet {
	m := pl.prog.Model
	a := &answer{draft: draft{pl: pl, page: pl.answer, k: work.k, by: work.by, row: 1}, work: work}
	a.s = pl.head(a.page)
	a.s.Print = Print{RepeatRows: 1, High: 1, Margin: frontMargin, Footer: a.s.Print.Footer}
	a.columns()
	a.next(1.8)
	if m.Question != "" {
		a.sentence(Cell{Value: m.Question, Style: Sentence}, m.Question)
	}
	a.next(0.4)
	foot := a.foot(leastCautions)
	if a.by == nil {
		a.total(checks, "")
		a.next(1)
		a.draw(foot)
		return a.s
	}
	a.recommend()
	a.compare(checks)
	a.draughts()
	a.sure()
	below := float64(foot.lines()+btoi(a.tight)*tightLines) * lineHigh
	a.unmet(checks, pageHigh-a.high-below)
	a.next(0.4)
	if foot.more > 0 {
		spare := pageHigh - a.high - below
		foot = a.foot(len(foot.right) + max(0, int(spare/lineHigh)))
	}
	a.draw(foot)
	a.stretch()
	pl.orderUnmet(checks, a.k, work.rows.rank)
	return a.s
}

// columns sets the columns: as many as there are items to show, and as wide as the page.
func (a *answer) columns() {
	n := leastColumns
	if a.by != nil {
		n = max(n, a.work.beside())
	}
	a.s.Widths = []float64{frontLabel, frontUnit}
	for range n {
		a.s.Widths = append(a.s.Widths, frontFigures/float64(n))
	}
}

// next ends a row, which has room for so many lines.
func (a *answer) next(lines float64) { a.nextOf(lines, lines) }

// nextOf ends a row, which has room for so many lines and is reckoned as if it had others.
func (a *answer) nextOf(lines, reckoned float64) {
	for len(a.s.Heights) < a.row {
		a.s.Heights = append(a.s.Heights, 0)
	}
	a.s.Heights[a.row-1] = lines * lineHigh
	a.high += reckoned * lineHigh
	a.row++
}

// wide is how many characters have room in columns.
func (a *answer) wide(from, to int) int {
	sum := 0.0
	for _, w := range a.s.Widths[from-1 : to] {
		sum += w
	}
	return int(sum * narrow)
}

// sentence puts a text across the page, with room for what it says now.
func (a *answer) sentence(c Cell, now string) {
	lines := min(len(wrap(now, a.wide(labelCol, len(a.s.Widths)))), 4)
	c.Span = int16(len(a.s.Widths))
	a.s.Set(a.row, labelCol, c)
	a.next(float64(lines))
}

// recommend says who is best, and what is to be mended.
func (a *answer) recommend() {
	r, from := a.work.rows, workingsName+"!"
	a.s.Set(a.row, labelCol, Cell{Formula: from + a.figureAt(r.sentence), Style: Lead, Span: int16(len(a.s.Widths))})
	a.next(2.2)
	a.howSure()
	points, lines := from+a.figureAt(r.pointWords), 1
	if a.pl.stale != "" {
		stale := from + a.figureAt(r.stale)
		points = "IF(" + points + `<>"",` + points + "," + stale + ")"
		lines = len(wrap(a.pl.staleWords()+longest(a.pl.stands)+staleEnd, a.wide(labelCol, len(a.s.Widths))*9/10)) // bold letters
	}
	a.s.Set(a.row, labelCol, Cell{Formula: points, Style: Alert, Span: int16(len(a.s.Widths))})
	a.next(float64(lines))
	if a.pl.summary != nil {
		a.s.Set(a.row, labelCol, Cell{Formula: "IFERROR(" + a.pl.summary.at(spot{page: a.page}) + `,"")`, Style: Note})
		a.next(1.2)
	}
}

// compare brings the rows of the workings that are shown, best first.
func (a *answer) compare(checks *checkPage) {
	w, from := a.work, workingsName+"!"
	a.s.text(a.row, labelCol, titleOf(a.k), HeadText)
	a.s.text(a.row, unitCol, "unit", HeadText)
	for n := range w.beside() {
		name := from + columnName(itemCol+n) + number(float64(w.rows.short))
		if a.narrow() {
			name = "SUBSTITUTE(" + name + `,"_",` + quoteText(parted) + ")"
		}
		a.s.Set(a.row, itemCol+n, Cell{Formula: name, Style: Head})
	}
	a.next(a.headLines())
	first := a.row
	for _, row := range w.front {
		a.bring(row)
	}
	area := cellName(first, itemCol) + ":" + cellName(a.row-1, itemCol+w.beside()-1)
	a.s.Marks = append(a.s.Marks, Mark{area, bestWord, Passed}, Mark{area, decl.Stop.String(), Stopped}, Mark{area, decl.Unfit.String(), Unfit})
	a.total(checks, a.unknown())
	a.row--
	a.next(1)
	a.unusual()
	if more := len(a.k.Items) - w.beside(); more > 0 {
		a.lead(unit.Counted(more, "more stands beside these", "more stand side by side")+" on the sheet "+workingsName, workingsName+"!A1", "")
	}
	if cat := a.pl.catalogue; cat != nil {
		sheet := quoteSheet(cat.name)
		n := len(cat.c.Ranked) - len(a.k.Items)
		a.lead(unit.Counted(n, "more stands", "more stand")+" on the sheet "+cat.name+"; inputs since then:", sheet+"!A1",
			sheet+"!$"+columnName(placeCol)+"$"+number(sinceRow))
	}
}

// In columns that are narrow a name may go on in the next line behind each of these,
// which is no word's end by itself: a blank without width follows.
const parted = "_\u200b"

// narrow reports whether more stand side by side than have room for names in one line.
func (a *answer) narrow() bool { return a.work.beside() > 8 }

// headLines is how many lines the names above the figures take.
func (a *answer) headLines() float64 {
	longest, per := 0, a.wide(itemCol, itemCol)-2
	for _, it := range a.k.Items {
		name := cut(itemLabel(it), longestShort)
		if a.narrow() {
			name = strings.ReplaceAll(name, "_", "_ ")
		}
		longest = max(longest, (utf8.RuneCountInString(name)+per-1)/per, len(wrap(name, per)))
	}
	return float64(min(longest, 4))
}

// lead says in a row what stands elsewhere, and whether that still holds.
func (a *answer) lead(words, to, since string) {
	a.s.Set(a.row, labelCol, Cell{Value: words, Style: Link, Link: to})
	if since != "" {
		a.s.Set(a.row, itemCol+2, Cell{Formula: since, Style: Note})
	}
	a.next(1)
}

// bring draws a row of the workings for those that are shown, best first.
func (a *answer) bring(row int) {
	w, from := a.work, workingsName+"!"
	label, unit := w.s.At(row, labelCol), w.s.At(row, unitCol)
	lines := len(wrap(fmt.Sprint(label.Value), a.wide(labelCol, labelCol)))
	a.s.Set(a.row, labelCol, Cell{Value: label.Value, Style: label.Style, Link: label.Link, Lines: int16(lines)})
	a.s.Set(a.row, unitCol, unit)
	for n := range w.beside() {
		c := w.s.At(row, itemCol)
		form := w.picked(from+w.span(row), from, n)
		if row == w.rows.rank {
			form = "IF(" + form + `="",` + noValue + "," + form + ")"
		}
		a.s.Set(a.row, itemCol+n, Cell{Formula: form, Style: c.Style, Format: c.Format, Lines: 1})
	}
	a.next(float64(min(lines, 3)))
}

// leastChart is how many rows a chart takes at least.
const leastChart = 11

// draughts puts the charts beside each other: the stacked one has more room, since its
// parts are told beside it.
func (a *answer) draughts() {
	charts := a.work.charts
	if len(charts) == 0 {
		return
	}
	a.next(0.4)
	left, last, rows := labelCol, len(a.s.Widths), max(leastChart, 5+a.work.beside())
	for i, c := range charts {
		right := last
		if i+1 < len(charts) {
			right = a.column(0.66)
		}
		c.Row, c.Col, c.ToRow, c.ToCol = a.row, left, a.row+rows-1, right
		left = right + 1
		a.s.Charts = append(a.s.Charts, c)
	}
	a.charts = span{a.row, a.row + rows - 1}
	a.tight = charts[0].Tight
	for range rows {
		a.next(1)
	}
	a.next(0.4)
}

// tightLines is how many lines more are kept for charts whose names are long and take
// several themselves.
const tightLines = 5

// mostStretch is by how much charts become higher at most where there is room, as a
// share: bars of few items would grow out of proportion.
const mostStretch = 1.2

// stretch makes charts higher by what the page has to spare. Only heights of rows follow
// from it, so that a workbook reads back alike whatever its sentences say.
func (a *answer) stretch() {
	rows := a.s.Heights[max(0, a.charts.from-1):a.charts.to]
	spare := pageHigh
	for _, h := range a.s.Heights {
		spare -= h
	}
	if len(rows) == 0 || spare <= 0 {
		return
	}
	for i := range rows {
		rows[i] += min(spare/float64(len(rows)), mostStretch*lineHigh)
	}
}

// column is the last one within a share of the page's width.
func (a *answer) column(share float64) int {
	last := len(a.s.Widths)
	col := labelCol
	for col < last-1 && float64(a.wide(labelCol, col+1)) <= share*float64(a.wide(labelCol, last)) {
		col++
	}
	return col
}

// foot is the foot of the page: what stands at its left and at its right.
type foot struct {
	left   []func(row int) // assumptions and where to read on
	right  []string        // cautions
	more   int             // cautions for which there is no room
	origin [][4]string
}

// foot collects what stands at the foot of the page, so that it is known how much room
// it takes; its cautions have room for so many lines at least.
func (a *answer) foot(cautions int) *foot {
	f := &foot{}
	if a.by != nil {
		f.left = append(f.left, func(row int) { a.s.text(row, labelCol, "What was assumed", Section) })
		f.left = append(f.left, a.assumptions()...)
	}
	f.left = append(f.left, a.further()...)
	width := a.wide(itemCol+1, len(a.s.Widths)) * 9 / 10 // these lines are cut, not wrapped
	list := a.pl.prog.Model.Notices
	for i, n := range list {
		lines := wrap("- "+n.Text, width)
		if len(f.right)+len(lines) > max(len(f.left)-2, cautions) {
			f.more = len(list) - i
			break
		}
		f.right = append(f.right, lines...)
	}
	m := a.pl.prog.Model
	f.origin = [][4]string{{originFile, scenarioFile(m), "Date", m.Date}, {originDigest, scenarioDigest(m), "Currency", m.Currency}, {originRules, rulesVersion(m)}}
	return f
}

// leastCautions is how many lines of cautions have room at least.
const leastCautions = 8

func (f *foot) lines() int {
	right := 1 + len(f.right)
	if len(f.right) == 0 {
		right = 0
	}
	return max(len(f.left), right+btoi(f.more > 0)) + len(f.origin) + 1
}

// draw draws the foot of the page.
func (a *answer) draw(f *foot) {
	at := itemCol + 1
	top, end := a.row, a.row+f.lines()-len(f.origin)-1
	for a.row < end {
		a.next(1)
	}
	for i, put := range f.left {
		put(top + i)
	}
	if len(f.right) > 0 {
		a.s.text(top, at, "   Cautions", Section)
		for i, l := range f.right {
			a.s.text(top+1+i, at, "   "+l, Sentence)
		}
		if f.more > 0 {
			a.s.Set(top+1+len(f.right), at, Cell{Value: fmt.Sprintf("and %d more, on the sheet %s", f.more, sourcesName), Style: Link, Link: quoteSheet(sourcesName) + "!A1"})
		}
	}
	a.next(0.4)
	a.s.Set(a.row+len(f.origin)-1, at, Cell{Value: "Contents: what each sheet holds", Style: Link, Link: contentsName + "!A1"})
	for _, o := range f.origin {
		for i := 0; i < len(o); i += 2 {
			if o[i+1] == "" {
				continue
			}
			col, indent := labelCol, ""
			if i > 0 {
				col, indent = at, "   "
			}
			a.s.text(a.row, col, indent+o[i], Sentence)
			for col++; i > 0 && a.wide(at, col-1) < originWide; col++ {
			}
			a.s.text(a.row, col, o[i+1], Note)
		}
		a.next(1)
	}
}

// originWide is how many characters what is said at the right of where a workbook comes
// from has room for, with what stands before it.
const originWide = 14

// further are rows that lead to what has no room here.
func (a *answer) further() []func(row int) {
	var out []func(row int)
	link := func(words, to string) {
		out = append(out, func(row int) { a.s.Set(row, labelCol, Cell{Value: words, Style: Link, Link: to}) })
	}
	if a.pl.asked != nil {
		link("What people ask, and the answers", questionsName+"!A1")
	}
	for _, p := range a.pl.pictures {
		sheet := quoteSheet(p.name)
		out = append(out, func(row int) {
			a.s.Set(row, labelCol, Cell{Value: p.d.Title + ", drawn: " + unit.Format(float64(len(p.d.Kind.Items)), 0), Style: Link, Link: sheet + "!A1"})
			a.s.Set(row, unitCol, Cell{Formula: sheet + "!$" + columnName(thenOwnerCol) + "$" + number(sinceRow), Style: Note})
		})
	}
	if a.work.rows.about > 0 {
		link("About the scenario", workingsName+"!"+cellName(a.work.rows.about, labelCol))
	}
	return out
}
