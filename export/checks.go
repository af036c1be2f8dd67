package export

import (
	"slices"
	"strings"

	"bankwright/engine/check"
	"bankwright/engine/decl"
)

// The words of a check's result beside the severity of one that is not met.
const (
	passed        = "pass"
	notApplicable = "not applicable"
	unknown       = "unknown" // what it needs is missing

	notMetInAll = "Checks not met in all"
)

// checkPage is the sheet of checks, and where the results of the compared kind
// are counted.
type checkPage struct {
	*page
	totals  map[*check.Kind]map[decl.Severity]int // rows of the totals
	idle    map[*check.Kind]int                   // rows that count forbidding checks which do not apply
	sum     map[*check.Kind]int                   // rows that count all that are not met
	passed  map[*check.Kind]int                   // rows that count those that pass
	place   map[*check.Kind]int                   // rows of the places
	firstOf map[*check.Kind]int                   // rows of the first check
	drawn   map[*check.Kind][]*check.Check        // the checks, in their order
	order   map[*check.Kind]int                   // rows of the order of what is not met; 0: by row
	unmet   map[*check.Kind]span                  // rows of the sentences

	forbids map[*check.Kind]int // of what is drawn: the first of two rows that say what forbids it

	unmetItem map[int]int // whom the sentence of a row is about
	source    int         // the column of what checks rest on
	words     *Sheet      // of these sentences
}

const checkRow = 5 // of the first table

// Columns of the sheet of checks.
const (
	checkSeverityCol = 2
	checkItemCol     = 3
)

// drawChecks draws what passes and what does not: for each kind a table with a
// row a check and a column an item, and, on a sheet of their own, the sentences.
func (pl *plan) drawChecks() *checkPage {
	pg := &checkPage{page: pl.checks, totals: map[*check.Kind]map[decl.Severity]int{}, idle: map[*check.Kind]int{}, sum: map[*check.Kind]int{}, passed: map[*check.Kind]int{}, place: map[*check.Kind]int{}, order: map[*check.Kind]int{}, firstOf: map[*check.Kind]int{}, drawn: map[*check.Kind][]*check.Check{}, unmet: map[*check.Kind]span{}, unmetItem: map[int]int{}, forbids: map[*check.Kind]int{}}
	pg.lead = "stop: must not be built so. unfit: safe, but does not serve. caution: look here."
	if pl.someFollow(pl.prog.Checks) {
		pg.lead += " " + notJudged + ": computed at other inputs, see the sheet " + computedName + "."
	}
	s := pl.head(pg.page)
	s.FreezeRows, s.FreezeCols, s.Print.RepeatRows = checkRow-2, 1, checkRow-2
	pg.words = pl.unmetSheet()
	widest, row := 1, checkRow
	for _, k := range pl.prog.Kinds {
		if len(pl.checksOf(k)) > 0 {
			widest = max(widest, len(k.Items))
		}
	}
	pg.source = checkItemCol + widest + 1
	var kinds []*check.Kind
	first := map[*check.Kind]int{}
	for _, k := range pl.prog.Kinds {
		if len(pl.checksOf(k)) > 0 && len(k.Items) > 0 {
			kinds = append(kinds, k)
		}
	}
	// What is compared stands last: its names are above each further page on paper.
	last := pl.prog.Compared()
	for _, k := range slices.Concat(slices.DeleteFunc(slices.Clone(kinds), func(k *check.Kind) bool { return k == last }), kinds) {
		if first[k] == 0 {
			first[k] = row + 2
			s.Print.RepeatFrom, s.Print.RepeatRows = row+1, row+1
			row = pl.drawCheckTable(pg, k, pl.checksOf(k), row) + 1
		}
	}
	row = unmetRow
	for _, k := range kinds {
		row += pl.firstRows(k) + 3
	}
	for _, k := range kinds {
		row = pl.drawUnmet(pg, k, pl.checksOf(k), first[k], row)
	}
	row = unmetRow
	for _, k := range kinds {
		row = pl.drawFirstUnmet(pg, k, row)
	}
	s.Widths = widths(widest)
	return pg
}

func (pl *plan) checksOf(k *check.Kind) []*check.Check {
	var out []*check.Check
	for _, c := range pl.prog.Checks {
		if c.Result.Kind == k {
			out = append(out, c)
		}
	}
	return out
}

func checkLabel(c *check.Check) string { return upperFirst(strings.ReplaceAll(c.Name, "_", " ")) }

// drawCheckTable draws the checks of a kind from a row on and returns the row
// for what follows.
func (pl *plan) drawCheckTable(pg *checkPage, k *check.Kind, list []*check.Check, row int) int {
	s := pg.sheet
	s.text(row, labelCol, titleOf(k), Heading)
	pl.heads(s, pg.page, row+1, k)
	s.text(row+1, labelCol, "check", HeadText)
	s.text(row+1, checkSeverityCol, "if not met", HeadText)
	s.Set(row+1, checkItemCol+len(k.Items)+1, Cell{})
	s.text(row+1, pg.source, "source", HeadText)
	first := row + 2
	end := first + len(list)
	for n, c := range list {
		r := first + n
		s.text(r, labelCol, checkLabel(c), Label)
		s.text(r, checkSeverityCol, c.Severity.String(), Unit)
		note := c.Doc + " " + c.Source
		if len(pl.follows(c.Result)) > 0 {
			note = followNote + " " + note
		}
		s.text(r, pg.source, strings.TrimSpace(note), Remark)
		for i := range k.Items {
			result := &ref{to: pl.places[c.Result], item: own}
			t := join("IF(", result, `="","`+notApplicable+`",IF(`, result, `,"`+passed+`","`+c.Severity.String()+`"))`)
			if since := pl.since(c.Result); since != "" {
				state := "$" + cellName(r, pg.source+1)
				s.Set(r, pg.source+1, Cell{Formula: "IF(" + since + `,"` + notJudged + `","")`, Style: Note})
				t = join("IF("+state+`<>"",`+state+",", t, ")")
			}
			t = join("IFERROR(", t, `,"`+unknown+`")`)
			if pl.lacking[k] != nil {
				t = join("IF("+columnName(checkItemCol+i)+"$"+number(float64(end+lackRow))+`>0,"`+unknown+`",`, t, ")")
			}
			s.Set(r, checkItemCol+i, Cell{Formula: t.at(spot{page: pg.page, item: i}), Style: ComputedText})
		}
	}
	pl.markResults(s, first, end-1, len(k.Items))
	row = pl.drawTotals(pg, k, list, first, end)
	s.fold(first, row-1)
	return row
}

// markResults colours the results; the words stand in the cells.
func (pl *plan) markResults(s *Sheet, first, last, items int) {
	area := cellName(first, checkItemCol) + ":" + cellName(last, checkItemCol+items-1)
	s.Marks = append(s.Marks,
		Mark{area, decl.Stop.String(), Stopped}, Mark{area, decl.Unfit.String(), Unfit},
		Mark{area, decl.Caution.String(), Cautioned}, Mark{area, passed, Passed})
}

// drawTotals counts the results that are not met, by severity and in all.
func (pl *plan) drawTotals(pg *checkPage, k *check.Kind, list []*check.Check, first, end int) int {
	s := pg.sheet
	rows := map[decl.Severity]int{}
	row := end
	for _, sev := range []decl.Severity{decl.Stop, decl.Unfit, decl.Caution} {
		s.text(row, labelCol, "Number of "+sev.String(), TotalText)
		s.text(row, unitCol, numberWord, Unit)
		for i := range k.Items {
			col := columnName(checkItemCol + i)
			t := "COUNTIF(" + col + number(float64(first)) + ":" + col + number(float64(end-1)) + `,"` + sev.String() + `")`
			s.Set(row, checkItemCol+i, Cell{Formula: t, Style: Total, Format: "0"})
		}
		rows[sev] = row
		row++
	}
	pg.totals[k] = rows
	from, to := cellName(end, checkItemCol), cellName(row-1, checkItemCol+len(k.Items)-1)
	s.text(row, labelCol, notMetInAll, TotalText)
	s.text(row, unitCol, numberWord, Unit)
	pg.sum[k] = row
	s.Set(row, checkItemCol, Cell{Formula: "SUM(" + from + ":" + to + ")", Style: Total, Format: "0"})
	row++
	pg.passed[k] = row
	s.text(row, labelCol, "Number that pass", TotalText)
	s.text(row, unitCol, numberWord, Unit)
	for i := range k.Items {
		cells := cellName(first, checkItemCol+i) + ":" + cellName(end-1, checkItemCol+i)
		s.Set(row, checkItemCol+i, Cell{Formula: "COUNTIF(" + cells + `,"` + passed + `")`, Style: Total, Format: "0"})
	}
	return pl.drawIdle(pg, k, list, first, end, row+1)
}

// lackRow is, below a table of checks, the row of what its items lack.
const lackRow = 7

// drawLacking brings what is missing of each item.
func (pl *plan) drawLacking(s *Sheet, k *check.Kind, row int) {
	l := pl.lacking[k]
	if l == nil {
		return
	}
	s.text(row, labelCol, l.label, TotalText)
	s.text(row, unitCol, numberWord, Unit)
	for i := range k.Items {
		s.Set(row, checkItemCol+i, Cell{Formula: cell(&ref{to: l, item: own}).at(spot{page: pl.checks, item: i}), Style: Total, Format: "0"})
	}
}

// drawIdle counts the checks that would forbid an item and do not apply, since
// what they need is not given, or are not judged: what nobody has looked at has
// not passed.
func (pl *plan) drawIdle(pg *checkPage, k *check.Kind, list []*check.Check, first, end, row int) int {
	s := pg.sheet
	label, idle := " that lack inputs", func(cells string) string { return "(" + cells + `="` + notApplicable + `")` }
	if pl.someFollow(list, decl.Stop) {
		label = " that lack inputs or are not judged"
		idle = func(cells string) string {
			return "((" + cells + `="` + notApplicable + `")+(` + cells + `="` + notJudged + `"))`
		}
	}
	s.text(row, labelCol, "Checks for a "+decl.Stop.String()+label, TotalText)
	s.text(row, unitCol, numberWord, Unit)
	column := func(c int) string { return cellName(first, c) + ":" + cellName(end-1, c) }
	severities := "$" + cellName(first, checkSeverityCol) + ":$" + cellName(end-1, checkSeverityCol)
	for i := range k.Items {
		t := "SUMPRODUCT((" + severities + `="` + decl.Stop.String() + `")*` + idle(column(checkItemCol+i)) + ")"
		s.Set(row, checkItemCol+i, Cell{Formula: t, Style: Total, Format: "0"})
	}
	pg.idle[k], pg.place[k] = row, row+1
	pl.drawLacking(s, k, end+lackRow)
	row = end + lackRow + 1
	if slices.ContainsFunc(pl.prog.Drawings, func(d *check.Drawing) bool { return d.Kind == k }) {
		pl.drawForbidden(pg, k, first, end)
		row += 2
	}
	if k != pl.prog.Compared() {
		return row
	}
	pg.order[k] = row
	pl.drawFirst(pg, k, list, first, row)
	return row + 1 + int(decl.Caution-decl.Stop) + 1
}

// drawFirst says which check of each is to be told first: the gravest that is not met of
// what must not be built or does not serve, and of the best.
func (pl *plan) drawFirst(pg *checkPage, k *check.Kind, list []*check.Check, first, row int) {
	s := pg.sheet
	s.text(row, labelCol, "Which check comes first in words", TotalText)
	s.text(row, unitCol, numberWord, Unit)
	for i := range k.Items {
		col := columnName(checkItemCol + i)
		cells := col + number(float64(first)) + ":" + col + number(float64(first+len(list)-1))
		t := "IF(" + col + number(float64(pg.place[k])) + `=1,IFERROR(MATCH("` + decl.Caution.String() + `",` + cells + `,0),0),0)`
		for _, sev := range []decl.Severity{decl.Unfit, decl.Stop} {
			t = `IFERROR(MATCH("` + sev.String() + `",` + cells + ",0)," + t + ")"
		}
		s.Set(row, checkItemCol+i, Cell{Formula: t, Style: Total, Format: "0"})
	}
}

// drawForbidden says of each item that is drawn which checks forbid it: of those that are
// stops, then of those for which it is unfit, the first, and how many more.
func (pl *plan) drawForbidden(pg *checkPage, k *check.Kind, first, end int) {
	s, row := pg.sheet, end+lackRow+1
	pg.forbids[k] = row
	labels := "$" + cellName(first, labelCol) + ":$" + cellName(end-1, labelCol)
	for _, of := range []struct {
		sev         decl.Severity
		label, lead string
	}{{decl.Stop, "Why it must not be built", "Must not be built so: "}, {decl.Unfit, "Why it would not serve", "Would not serve: "}} {
		s.text(row, labelCol, of.label, TotalText)
		s.text(row, unitCol, "words", Unit)
		for i := range k.Items {
			col := columnName(checkItemCol + i)
			n, cells := col+number(float64(pg.totals[k][of.sev])), col+number(float64(first))+":"+col+number(float64(end-1))
			s.Set(row, checkItemCol+i, Cell{Style: ComputedText, Lines: 4, Formula: "IF(" + n + `=0,"",` + quoteText(of.lead) + "&INDEX(" + labels + `,MATCH("` + of.sev.String() + `",` + cells +
				",0))&IF(" + n + `>1,", and "&(` + n + `-1)&" more",""))`})
		}
		row++
	}
}
