package export

import (
	"strings"
	"unicode/utf8"

	"bankwright/engine/check"
	"bankwright/engine/decl"
)

// answer is the first sheet in the making.
type answer struct {
	pl   *plan
	page *page
	s    *Sheet
	k    *check.Kind // compared, or nil
	by   *check.Quantity
	row  int // the next free one

	links map[int]string // of labels, by row
	rows  compareRows
}

// drawAnswer draws the sheet that the client reads first: the question, the
// recommendation, the figures side by side, checks and cautions.
func (pl *plan) drawAnswer(checks *checkPage) *Sheet {
	m := pl.prog.Model
	a := &answer{pl: pl, page: pl.answer, k: pl.prog.Compared()}
	a.s = pl.head(a.page)
	a.s.Print.Landscape, a.s.Print.RepeatRows = false, 1
	n := 1
	if a.k != nil {
		n = len(a.k.Items)
	}
	a.s.Widths = widths(max(n, 4))[:itemCol-1+max(n, 4)]
	a.row = 2
	if m.Question != "" {
		a.lines(m.Question, Sentence)
	}
	a.row++
	if a.k != nil && n > 0 {
		a.by = a.k.Quantity(a.k.Compare.By)
		a.compare(checks)
		a.unmet(checks)
		a.questions()
		a.pictures()
	} else {
		a.computed()
		a.total(checks)
	}
	a.about(m)
	a.assumptions()
	a.cautions(m)
	a.made(m)
	if a.by != nil {
		a.ranking(checks)
	}
	pl.orderUnmet(checks, a.k, a.rows.rank)
	return a.s
}

// lines writes a text over as many rows as it needs to stay on the page.
func (a *answer) lines(text string, look Style) {
	width := 0.0
	for _, w := range a.s.Widths {
		width += w
	}
	for _, l := range wrap(text, int(width)) {
		a.s.text(a.row, labelCol, l, look)
		a.row++
	}
}

// wrap breaks a text into lines of at most n characters, between words.
func wrap(s string, n int) []string {
	var out []string
	line := ""
	for _, w := range strings.Fields(s) {
		if line != "" && utf8.RuneCountInString(line)+1+utf8.RuneCountInString(w) > n {
			out = append(out, line)
			line = ""
		}
		if line != "" {
			line += " "
		}
		line += w
	}
	return append(out, line)
}

// compareRows are the rows of the comparison that others refer to.
type compareRows struct {
	sentence, head, figure, eligible, score, rank, best, second, lead int
	more                                                              int    // says how many checks are not met beside those that are told
	told                                                              string // how many those are, as a formula
	bestName, secondName, bestFigure                                  int
	missing, first, points, wrong                                     int // what is to be mended on the page of inputs
}

// compare draws the recommendation and the table below it.
func (a *answer) compare(checks *checkPage) {
	a.rows.sentence = a.row // written last, with a warning below it
	a.row += 2
	a.computed()
	if a.pl.summary != nil {
		a.s.Set(a.row, labelCol, Cell{Formula: "IFERROR(" + a.pl.summary.at(spot{page: a.page}) + `,"")`, Style: Note})
		a.row++
	}
	a.row++
	a.rows.head = a.row
	a.pl.heads(a.s, a.page, a.row, a.k)
	a.s.Set(a.row, itemCol+len(a.k.Items)+1, Cell{})
	if labelled(a.k) {
		for i, it := range a.k.Items {
			a.s.text(a.row, itemCol+i, itemLabel(it), Head)
		}
	}
	a.row++
	for _, name := range a.k.Compare.Show {
		if name != a.k.Compare.By {
			a.figure(a.k.Quantity(name), Computed)
		}
	}
	a.rows.figure = a.figure(a.by, Total)
	a.checkRows(checks, &a.rows)
	a.total(checks)
	a.rows.rank = a.row // written with the ranking
	a.row += 2
	a.beyond()
}

// noValue stands, as formulas write it, for a figure that cannot be calculated.
const noValue = `"-"`

// figure draws one row of the comparison.
func (a *answer) figure(q *check.Quantity, look Style) int {
	l := a.pl.places[q]
	row := a.row
	a.row++
	a.s.Set(row, labelCol, Cell{Value: l.label, Style: Link, Link: quoteSheet(l.page.name) + "!" + cellName(l.row, l.col)})
	a.unitOf(row, l)
	if q.Type != decl.Number && look == Computed {
		look = ComputedText
	}
	for i := range a.k.Items {
		c := cell(&ref{to: l, item: own})
		c = a.pl.unless(a.k, join("IF(", c, `="",`, noValue, ",", c, ")"), noValue)
		a.s.Set(row, itemCol+i, Cell{Formula: c.at(spot{page: a.page, item: i}), Style: look, Format: l.format})
	}
	return row
}

// across fills a row of the comparison with a formula for each item.
func (a *answer) across(label string, look Style, format string, form func(i int, col string) string) int {
	row := a.row
	a.row++
	a.s.Set(row, labelCol, Cell{Value: label, Style: Label})
	if to := a.links[row]; to != "" {
		a.s.Set(row, labelCol, Cell{Value: label, Style: Link, Link: to})
	}
	a.s.text(row, unitCol, numberWord, Unit)
	if format == TruthFormat {
		a.s.text(row, unitCol, "yes or no", Unit)
	}
	for i := range a.k.Items {
		a.s.Set(row, itemCol+i, Cell{Formula: form(i, columnName(itemCol+i)), Style: look, Format: format})
	}
	return row
}

// link has the label of a row lead to where it is explained.
func (a *answer) link(row int, to string) {
	if a.links == nil {
		a.links = map[int]string{}
	}
	a.links[row] = to
}

// checkRows counts the checks that are not met and tells who may win.
func (a *answer) checkRows(checks *checkPage, rows *compareRows) {
	totals := checks.totals[a.k]
	fig := number(float64(rows.figure))
	if totals == nil {
		rows.eligible = a.across("May win", ComputedText, TruthFormat, func(_ int, col string) string { return "ISNUMBER(" + col + fig + ")" })
		return
	}
	for _, sev := range []decl.Severity{decl.Stop, decl.Unfit, decl.Caution} {
		a.link(a.row, "Checks!"+cellName(totals[sev], labelCol))
		a.across("Checks not met: "+sev.String(), Computed, "0", func(_ int, col string) string {
			count := "Checks!" + col + number(float64(totals[sev]))
			return "IF(AND(" + count + "=0,NOT(ISNUMBER(" + col + fig + ")))," + noValue + "," + count + ")"
		})
	}
	first := a.row - 3
	a.link(a.row, "Checks!"+cellName(checks.idle[a.k], labelCol))
	a.across("Checks that do not apply: "+decl.Stop.String(), Computed, "0", func(_ int, col string) string {
		return "Checks!" + col + number(float64(checks.idle[a.k]))
	})
	rows.eligible = a.across("May win (no stop, not unfit)", ComputedText, TruthFormat, func(_ int, col string) string {
		return "AND(" + col + number(float64(first)) + "=0," + col + number(float64(first+1)) + "=0,ISNUMBER(" + col + fig + "))"
	})
}

// total adds up the checks of all kinds that are not met.
func (a *answer) total(checks *checkPage) {
	var sums []string
	for _, k := range a.pl.prog.Kinds {
		if row, ok := checks.sum[k]; ok {
			sums = append(sums, "Checks!"+cellName(row, checkItemCol))
		}
	}
	if len(sums) > 0 {
		a.link(a.row, "Checks!A1")
		a.single(notMetInAll, strings.Join(sums, "+"), "0")
	}
}

// about tells the story of the scenario.
func (a *answer) about(m *decl.Model) {
	if m.About == "" {
		return
	}
	a.s.text(a.row, labelCol, "About", Section)
	a.row++
	for _, p := range strings.Split(strings.TrimSpace(m.About), "\n\n") {
		a.lines(p, Sentence)
	}
	a.row++
}

// cautions are the sentences that every output carries.
func (a *answer) cautions(m *decl.Model) {
	if len(m.Notices) == 0 {
		return
	}
	a.s.text(a.row, labelCol, "Cautions", Section)
	a.row++
	for _, n := range m.Notices {
		a.lines(n.Text, Sentence)
	}
	a.row++
}

// made says where the workbook comes from.
func (a *answer) made(m *decl.Model) {
	for _, p := range [][2]string{{"Date", m.Date}, {"Currency", m.Currency}, {originFile, scenarioFile(m)}, {originDigest, scenarioDigest(m)}, {originRules, rulesVersion(m)}} {
		if p[1] != "" {
			a.s.text(a.row, labelCol, p[0], Label)
			a.s.text(a.row, unitCol, p[1], Note)
			a.row++
		}
	}
}
