package export

import (
	"slices"
	"strings"

	"bankwright/engine/check"
	"bankwright/engine/decl"
)

// The first sheet shows what is found on the sheet Workings: all items side by side
// in the order of the scenario, who may win, the places, the words, and what the
// charts show.

const workingsName = "Workings"

// workings is that sheet in the making.
type workings struct {
	draft
	rows   compareRows
	front  []int   // rows that the first sheet brings, in its order
	charts []Chart // for the first sheet, without their places
}

// compareRows are the rows of the workings that others refer to.
type compareRows struct {
	head, figure, eligible, score, rank, best, second, lead int
	bestName, secondName, bestFigure                        int
	missing, first, points, wrong                           int // what is to be mended on the page of inputs
	sentence, pointWords, stale                             int
	beyond, rest                                            int // counts the checks that the first sheet has no room for, and words on them; written with it
	stops, unfits                                           int // counts of checks that forbid; 0: there are no checks
	short                                                   int // names of those that the first sheet shows, cut
	order, pick                                             int // where an item stands best first, and who stands there
	about, found                                            int
}

const workRow = 4 // of the names

// drawWorkings draws how the answer is found.
func (pl *plan) drawWorkings(checks *checkPage) *workings {
	m := pl.prog.Model
	w := &workings{draft: draft{pl: pl, k: pl.prog.Compared(), row: workRow}}
	w.page = &page{name: workingsName, title: "How the answer is found", lead: "Workings: what the sheet Answer shows, for all side by side in the order of the scenario, and how it is found."}
	w.s = pl.head(w.page)
	n := 1
	if w.k != nil {
		n = max(n, len(w.k.Items))
	}
	w.s.Widths = widths(n)[:itemCol-1+n]
	w.s.FreezeRows, w.s.FreezeCols, w.s.Print.RepeatRows = workRow, unitCol, workRow
	if w.k != nil && len(w.k.Items) > 0 {
		w.by = w.k.Quantity(w.k.Compare.By)
		w.compare(checks)
		w.ranking()
		w.ordered()
		w.charted()
	}
	w.about(m)
	return w
}

// compare draws the figures that are compared, and which checks are not met.
func (w *workings) compare(checks *checkPage) {
	w.rows.head = w.row
	w.pl.heads(w.s, w.page, w.row, w.k)
	w.s.Set(w.row, itemCol+len(w.k.Items)+1, Cell{})
	if labelled(w.k) {
		for i, it := range w.k.Items {
			w.s.text(w.row, itemCol+i, itemLabel(it), Head)
		}
	}
	w.row++
	for _, name := range w.k.Compare.Show {
		if name != w.k.Compare.By {
			w.front = append(w.front, w.figure(w.k.Quantity(name), Computed))
		}
	}
	w.rows.figure = w.figure(w.by, Total)
	w.rows.rank = w.row // written with the ranking
	w.row++
	counts := w.checkRows(checks)
	if len(w.front) > mostFigures {
		w.front = w.front[:mostFigures]
	}
	w.front = append(append(w.front, w.rows.figure, w.rows.rank), counts...)
}

// mostFigures is how many figures beside the deciding one the first sheet shows.
const mostFigures = 9

// noValue stands, as formulas write it, for a figure that cannot be calculated.
const noValue = `"-"`

// figure draws one row of the comparison.
func (w *workings) figure(q *check.Quantity, look Style) int {
	l := w.pl.places[q]
	row := w.row
	w.row++
	w.s.Set(row, labelCol, Cell{Value: l.label, Style: Link, Link: quoteSheet(l.page.name) + "!" + cellName(l.row, l.col)})
	w.unitOf(row, l)
	if q.Type != decl.Number && look == Computed {
		look = ComputedText
	}
	for i := range w.k.Items {
		c := cell(&ref{to: l, item: own})
		c = w.pl.unless(w.k, join("IF(", c, `="",`, noValue, ",", c, ")"), noValue)
		w.s.Set(row, itemCol+i, Cell{Formula: c.at(spot{page: w.page, item: i}), Style: look, Format: l.format})
	}
	return row
}

// checkRows counts the checks that are not met and tells who may win. It returns the
// rows of the counts.
func (w *workings) checkRows(checks *checkPage) (counts []int) {
	totals := checks.totals[w.k]
	fig := number(float64(w.rows.figure))
	if totals == nil {
		w.rows.eligible = w.across("May win", ComputedText, TruthFormat, func(_ int, col string) string { return "ISNUMBER(" + col + fig + ")" })
		return nil
	}
	for _, sev := range []decl.Severity{decl.Stop, decl.Unfit, decl.Caution} {
		counts = append(counts, w.count("Checks not met: "+sev.String(), totals[sev]))
	}
	w.rows.stops, w.rows.unfits = counts[0], counts[1]
	counts = append(counts, w.count("Checks passed", checks.passed[w.k]))
	counts = append(counts, w.count("Checks for a "+decl.Stop.String()+" that lack inputs", checks.idle[w.k]))
	w.rows.eligible = w.across("May win (no stop, not unfit)", ComputedText, TruthFormat, func(_ int, col string) string {
		return "AND(" + col + number(float64(counts[0])) + "=0," + col + number(float64(counts[1])) + "=0,ISNUMBER(" + col + fig + "))"
	})
	return counts
}

// count brings a row of counts of the sheet of checks; none where nothing is known.
func (w *workings) count(label string, from int) int {
	fig := number(float64(w.rows.figure))
	w.link(w.row, "Checks!"+cellName(from, labelCol))
	return w.across(label, Computed, "0", func(_ int, col string) string {
		count := "Checks!" + col + number(float64(from))
		return "IF(AND(" + count + "=0,NOT(ISNUMBER(" + col + fig + ")))," + noValue + "," + count + ")"
	})
}

// ordered says how each stands beside the best, and in which order the first sheet
// shows them: those with a place, then the others.
func (w *workings) ordered() {
	r := &w.rows
	best, all := w.figureAt(r.bestFigure), w.span(r.rank)
	at := func(col string, row int) string { return col + number(float64(row)) }
	apart := w.across("From the best", ComputedText, "", func(_ int, col string) string {
		x := at(col, r.figure)
		return "IFERROR(IF(" + x + "<" + best + `,"- ","+ ")&` + percent("ABS("+x+"-"+best+")/ABS("+best+")", "") + "," + noValue + ")"
	})
	beside := w.across("Beside the best", ComputedText, "", func(_ int, col string) string {
		none := noValue
		if r.stops > 0 {
			none = "IF(COUNTIF(" + at(col, r.stops) + `,">0")>0,"` + decl.Stop.String() + `",IF(COUNTIF(` + at(col, r.unfits) + `,">0")>0,"` + decl.Unfit.String() + `",` + noValue + "))"
		}
		return "IF(" + at(col, r.rank) + `="",` + none + ",IF(" + at(col, r.rank) + `=1,"` + bestWord + `",` + at(col, apart) + "))"
	})
	n := slices.Index(w.front, r.rank)
	w.front = slices.Insert(w.front, n, beside)
	r.order = w.across("Order: places, then the others", Computed, "0", func(_ int, col string) string {
		at := col + number(float64(r.rank))
		before := "$" + columnName(itemCol) + number(float64(r.rank)) + ":" + at
		return "IF(ISNUMBER(" + at + ")," + at + ",COUNT(" + all + ")+COLUMNS(" + before + ")-COUNT(" + before + "))"
	})
	r.pick = w.across("Who stands there", Computed, "0", func(_ int, col string) string {
		n := number(float64(r.order))
		return "MATCH(COLUMNS($" + columnName(itemCol) + n + ":" + col + n + ")," + w.span(r.order) + ",0)"
	})
	long := w.figureAt(w.row)
	w.label(w.row, "Characters of a name that is shown, at most")
	w.s.text(w.row, unitCol, numberWord, Unit)
	w.s.Set(w.row, itemCol, Cell{Value: float64(longestShort), Style: Plain, Format: "0"})
	w.row++
	r.short = w.row
	w.label(w.row, "Its name")
	w.s.text(w.row, unitCol, "words", Unit)
	for n := range w.beside() {
		name := w.picked(w.span(r.head), "", n)
		w.s.Set(w.row, itemCol+n, Cell{Style: ComputedText, Formula: "IF(LEN(" + name + ")>" + long + ",LEFT(" + name + "," + long + `)&"…",` + name + ")"})
	}
	w.row++
}

// longestShort is how many characters of a name have room in a head and beside a bar.
const longestShort = 32

// bestWord says who is best.
const bestWord = "best"

// mostAnswered is how many items the first sheet shows side by side: those that are best.
const mostAnswered = 12

// beside is how many it shows.
func (w *workings) beside() int { return min(len(w.k.Items), mostAnswered) }

// picked is the formula that takes, out of a row of all items side by side, the value
// of the one who stands at a place; sheet stands before cells of the workings.
func (w *workings) picked(cells, sheet string, place int) string {
	return "INDEX(" + cells + "," + sheet + columnName(itemCol+place) + "$" + number(float64(w.rows.pick)) + ")"
}

// aboutWidth is how many characters of the story stand in a line.
const aboutWidth = 110

// told reports whether anything stands on the sheet.
func (w *workings) told() bool { return w.row > workRow }

// about tells the story of the scenario.
func (w *workings) about(m *decl.Model) {
	if m.About == "" {
		return
	}
	w.row++
	w.rows.about = w.row
	w.s.text(w.row, labelCol, "About", Section)
	w.row++
	for _, p := range strings.Split(strings.TrimSpace(m.About), "\n\n") {
		for _, l := range wrap(p, aboutWidth) {
			w.s.text(w.row, labelCol, l, Sentence)
			w.row++
		}
	}
}
