package export

import (
	"strings"

	"bankwright/engine/check"
	"bankwright/engine/decl"
)

// Columns of the sentences on the sheet of checks.
const (
	unmetStateCol = 2
	unmetPlaceCol = 3
	unmetWordsCol = 4
)

// drawUnmet says for each item and check what is not met, and which place it
// has among all that is not met, the gravest first.
func (pl *plan) drawUnmet(pg *checkPage, k *check.Kind, list []*check.Check, first, row int) int {
	s := pg.sheet
	s.text(row, labelCol, "What is not met, in words", Section)
	row++
	rows := span{row, row + len(k.Items)*len(list) - 1}
	pg.unmet[k] = rows
	for i := range k.Items {
		name := cell(&ref{to: pl.names[k], item: i}).at(spot{page: pg.page})
		for n, c := range list {
			status := cellName(first+n, checkItemCol+i)
			words := pl.sentences[c].at(spot{page: pg.page, item: i})
			s.text(row, labelCol, checkLabel(c), Label)
			if k.Many {
				s.Set(row, labelCol, Cell{Formula: name + `&": "&` + quoteText(lowerFirst(checkLabel(c))), Style: Label})
			}
			s.Set(row, unmetStateCol, Cell{Formula: status, Style: Unit})
			s.Set(row, unmetPlaceCol, Cell{Formula: placeOfUnmet(c.Severity, rows, row), Style: Unit, Format: `0"  "`})
			s.Set(row, unmetWordsCol, Cell{Formula: "IF(" + status + `="` + c.Severity.String() + `",IFERROR(` + words + `,""),"")`, Style: Sentence})
			row++
		}
	}
	area := cellName(rows.from, unmetStateCol) + ":" + cellName(rows.to, unmetStateCol)
	s.Marks = append(s.Marks, Mark{area, decl.Stop.String(), Stopped}, Mark{area, decl.Unfit.String(), Unfit}, Mark{area, decl.Caution.String(), Cautioned})
	return row + 1
}

// placeOfUnmet is the place of a row, empty where the check is met: behind all
// that is graver, and behind the same above it.
func placeOfUnmet(sev decl.Severity, rows span, row int) string {
	col := "$" + columnName(unmetStateCol) + "$"
	count := func(to int, s decl.Severity) string {
		return "COUNTIF(" + col + number(float64(rows.from)) + ":" + col + number(float64(to)) + `,"` + s.String() + `")`
	}
	var parts []string
	for s := decl.Stop; s < sev; s++ {
		parts = append(parts, count(rows.to, s))
	}
	parts = append(parts, count(row, sev))
	return "IF(" + cellName(row, unmetStateCol) + `="` + sev.String() + `",` + strings.Join(parts, "+") + `,"")`
}

// mostUnmet is how many sentences the first sheet has room for.
const mostUnmet = 20

// unmet lists on the first sheet, in words, what is not met: as many lines as
// there are now, and some to spare for what changes.
func (a *answer) unmet(checks *checkPage) {
	rows, ok := checks.unmet[a.k]
	if !ok {
		return
	}
	a.s.text(a.row, labelCol, "Checks not met, the gravest first", Section)
	a.row++
	column := func(col int) string {
		c := "$" + columnName(col) + "$"
		return "Checks!" + c + number(float64(rows.from)) + ":" + c + number(float64(rows.to))
	}
	lines := min(a.unmetNow()+3, mostUnmet, rows.to-rows.from+1)
	from := a.row
	for n := 1; n <= lines; n++ {
		place := "MATCH(" + number(float64(n)) + "," + column(unmetPlaceCol) + ",0)"
		for i, col := range []int{labelCol, unmetStateCol, unmetWordsCol} {
			look := []Style{Label, Unit, Sentence}[i]
			a.s.Set(a.row, labelCol+i, Cell{Formula: "IFERROR(INDEX(" + column(col) + "," + place + `),"")`, Style: look})
		}
		a.row++
	}
	area := cellName(from, unitCol) + ":" + cellName(a.row-1, unitCol)
	a.s.Marks = append(a.s.Marks, Mark{area, decl.Stop.String(), Stopped}, Mark{area, decl.Unfit.String(), Unfit}, Mark{area, decl.Caution.String(), Cautioned})
	count := "COUNT(" + column(unmetPlaceCol) + ")"
	a.s.Set(a.row, labelCol, Cell{Style: Note, Formula: "IF(" + count + `=0,"None: every check is met or not applicable.",IF(` + count + ">" + number(float64(lines)) +
		`,"and "&(` + count + "-" + number(float64(lines)) + `)&" more, on the sheet Checks",""))`})
	a.row += 2
}

// unmetNow counts what is not met as the scenario stands.
func (a *answer) unmetNow() int {
	n := 0
	for _, c := range a.pl.checksOf(a.k) {
		for i := range a.k.Items {
			if a.pl.res.At(c.Result, i, 0) == 0 {
				n++
			}
		}
	}
	return n
}
