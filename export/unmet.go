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

// unmetName is the sheet of the sentences.
const unmetName = "Checks in words"

const (
	unmetHead = 4 // of its heads
	unmetRow  = 5 // the first list
)

// unmetSheet begins it.
func (pl *plan) unmetSheet() *Sheet {
	pl.unmet = &page{name: unmetName, title: "Each check, in words", lead: "First what is not met, in the order of the first sheet; below that each check of each, with its place in that order and what it says where it is not met."}
	s := pl.head(pl.unmet)
	for i, h := range []string{"check", "result", "order", "in words"} {
		s.text(unmetHead, labelCol+i, h, HeadText)
	}
	s.Widths = []float64{50, 13, 8, 124}
	s.FreezeRows, s.Print.RepeatRows = unmetHead, unmetHead
	return s
}

// drawUnmet says for each check and item what is not met. Of each that is not met a
// number tells where it comes in the order: the gravest of the best item first, then that
// of each that is stopped or unfit, then others of the best, then by severity, by the
// place of the item, by row.
func (pl *plan) drawUnmet(pg *checkPage, k *check.Kind, list []*check.Check, first, row int) int {
	s := pg.words
	s.text(row, labelCol, titleOf(k), Heading)
	row++
	rows := span{row, row + len(k.Items)*len(list) - 1}
	pg.unmet[k], pg.firstOf[k], pg.drawn[k] = rows, first, list
	for sev := decl.Stop; sev <= decl.Caution; sev++ {
		for i := range k.Items {
			for n, c := range list {
				if c.Severity == sev {
					pl.drawWords(s, c, i, row, "Checks!"+cellName(first+n, checkItemCol+i))
					pg.unmetItem[row] = i
					row++
				}
			}
		}
	}
	s.fold(rows.from, rows.to)
	pl.markUnmet(s, rows.from, rows.to)
	return row + 1
}

// spareFirst is for how many checks more than are not met now there is room in the list
// of them.
const spareFirst = 6

// firstRows is how many rows the list has of what is not met of a kind.
func (pl *plan) firstRows(k *check.Kind) int {
	n := len(k.Items) * len(pl.checksOf(k))
	return min(n, pl.unmetNow(k)+spareFirst)
}

// drawFirstUnmet lists what is not met of a kind, in the order of all its checks, from a
// row on, and returns the row for what follows.
func (pl *plan) drawFirstUnmet(pg *checkPage, k *check.Kind, row int) int {
	s, rows := pg.words, pg.unmet[k]
	s.text(row, labelCol, "Not met: "+lowerFirst(titleOf(k)), Section)
	row++
	column := func(col int) string {
		c := "$" + columnName(col) + "$"
		return c + number(float64(rows.from)) + ":" + c + number(float64(rows.to))
	}
	from := row
	for range pl.firstRows(k) {
		place := "MATCH(SMALL(" + column(unmetPlaceCol) + ",ROWS(A$" + number(float64(from)) + ":A" + number(float64(row)) + "))," + column(unmetPlaceCol) + ",0)"
		for i, col := range []int{labelCol, unmetStateCol, unmetWordsCol} {
			s.Set(row, col, Cell{Formula: "IFERROR(INDEX(" + column(col) + "," + place + `),"")`, Style: []Style{Label, Unit, Words}[i]})
		}
		row++
	}
	s.fold(from, row-1)
	pl.markUnmet(s, from, row-1)
	more := "COUNT(" + column(unmetPlaceCol) + ")-ROWS(A" + number(float64(from)) + ":A" + number(float64(row-1)) + ")"
	s.Set(row, labelCol, Cell{Formula: "IF(" + more + `>0,"and "&` + more + `&" more, below","")`, Style: Note})
	return row + 2
}

// markUnmet colours what checks say of what is not met.
func (pl *plan) markUnmet(s *Sheet, from, to int) {
	area := cellName(from, unmetStateCol) + ":" + cellName(to, unmetStateCol)
	s.Marks = append(s.Marks, Mark{area, decl.Stop.String(), Stopped}, Mark{area, decl.Unfit.String(), Unfit}, Mark{area, decl.Caution.String(), Cautioned})
}

// drawWords draws the row of a check of an item, whose result stands in a cell.
func (pl *plan) drawWords(s *Sheet, c *check.Check, item, row int, status string) {
	k := c.Result.Kind
	s.text(row, labelCol, checkLabel(c), Label)
	if k.Many {
		name := cell(&ref{to: pl.names[k], item: item, row: btoi(labelled(k))}).at(spot{page: pl.unmet})
		s.Set(row, labelCol, Cell{Formula: name + `&": "&` + quoteText(lowerFirst(checkLabel(c))), Style: Label})
	}
	unmet := cellName(row, unmetStateCol) + `="` + c.Severity.String() + `"`
	words := pl.sentences[c].at(spot{page: pl.unmet, item: item})
	s.Set(row, unmetStateCol, Cell{Formula: status, Style: Unit})
	s.Set(row, unmetWordsCol, Cell{Formula: "IF(" + unmet + ",IFERROR(" + words + `,""),"")`, Style: Words})
}

// orderUnmet numbers what is not met. Items without a place come last; places
// stand in a row of the workings, 0 for kinds that have none.
func (pl *plan) orderUnmet(pg *checkPage, ranked *check.Kind, placeRow int) {
	for k, rows := range pg.unmet {
		placed := k == ranked && placeRow > 0
		if placed {
			pl.drawPlaces(pg, k, placeRow)
		}
		row := rows.from
		for sev := decl.Stop; sev <= decl.Caution; sev++ {
			for range pl.countOf(k, sev) * len(k.Items) {
				order := rowsOf(rows.from, row)
				if placed {
					order = pl.orderOf(pg, k, row, sev) + "*" + rowsOf(rows.from, rows.to) + "+" + order
				}
				pg.words.Set(row, unmetPlaceCol, Cell{Style: Unit, Format: `#,##0"  "`,
					Formula: "IF(" + cellName(row, unmetStateCol) + `="` + sev.String() + `",` + order + `,"")`})
				row++
			}
		}
	}
}

// orderOf is what the order of a sentence follows from before its row: 0 for the first one
// of the best, 1 for that of another one, and else what the sheet of checks says.
func (pl *plan) orderOf(pg *checkPage, k *check.Kind, row int, sev decl.Severity) string {
	at := func(r int) string {
		return "Checks!" + columnName(checkItemCol+pg.unmetItem[row]) + "$" + number(float64(r))
	}
	status := pg.words.At(row, unmetStateCol).Formula
	col, _, _ := strings.Cut(strings.TrimPrefix(at(0), "Checks!"), "$")
	return "IF(ROWS(Checks!" + col + "$" + number(float64(pg.firstOf[k])) + ":" + strings.TrimPrefix(status, "Checks!") + ")=" + at(pg.order[k]) + "," +
		at(pg.place[k]) + ">1," + at(pg.order[k]+1+int(sev-decl.Stop)) + ")"
}

// rowsOf is how many rows lie between two, ends included.
func rowsOf(from, to int) string {
	return "ROWS(C$" + number(float64(from)) + ":C" + number(float64(to)) + ")"
}

// drawPlaces draws the places of the items, those without one behind all others.
func (pl *plan) drawPlaces(pg *checkPage, k *check.Kind, placeRow int) {
	row, last := pg.place[k], itemCol+len(k.Items)-1
	pg.sheet.text(row, labelCol, "Place, or behind all", TotalText)
	pg.sheet.text(row, unitCol, numberWord, Unit)
	all := workingsName + "!$" + columnName(itemCol) + "$" + number(float64(placeRow)) + ":$" + columnName(last) + "$" + number(float64(placeRow))
	for i := range k.Items {
		at := workingsName + "!" + columnName(itemCol+i) + "$" + number(float64(placeRow))
		pg.sheet.Set(row, checkItemCol+i, Cell{Formula: "IF(ISNUMBER(" + at + ")," + at + ",COLUMNS(" + all + ")+1)", Style: Total, Format: "0"})
	}
	pl.drawWeights(pg, k)
}

// drawWeights draws, by severity, where what is not met of each comes that is not told
// first: behind that, of the best; then by severity, and by place.
func (pl *plan) drawWeights(pg *checkPage, k *check.Kind) {
	from := pg.order[k] + 1
	places := number(float64(pg.place[k]))
	for sev := decl.Stop; sev <= decl.Caution; sev++ {
		row := from + int(sev-decl.Stop)
		pg.sheet.text(row, labelCol, "Order of others: "+sev.String(), TotalText)
		pg.sheet.text(row, unitCol, numberWord, Unit)
		rank := "ROWS($A$" + number(float64(from)) + ":$A" + number(float64(row)) + ")"
		all := "$" + columnName(checkItemCol) + "$" + places + ":$" + columnName(checkItemCol+len(k.Items)-1) + "$" + places
		for i := range k.Items {
			place := columnName(checkItemCol+i) + "$" + places
			pg.sheet.Set(row, checkItemCol+i, Cell{Formula: "1+(" + place + ">1)*" + rank + "*(COLUMNS(" + all + ")+1)+" + place, Style: Total, Format: "0"})
		}
	}
}

// countOf counts the checks of a kind of a severity.
func (pl *plan) countOf(k *check.Kind, sev decl.Severity) int {
	n := 0
	for _, c := range pl.checksOf(k) {
		n += btoi(c.Severity == sev)
	}
	return n
}

// Of sentences about what is not met the first sheet has at least so many and at most
// so many, where there are as many checks.
const (
	leastUnmet = 4
	mostUnmet  = 24
)

// unmetWords is the heading above them.
const unmetWords = "Not met: the best first, then each stopped or unfit, then others"

// unmet lists in words what is not met: as many as there are now and some to spare for
// what changes, as far as there is room, which is in points.
func (a *answer) unmet(checks *checkPage, room float64) {
	rows, ok := checks.unmet[a.k]
	if !ok {
		return
	}
	a.s.text(a.row, labelCol, unmetWords, Section)
	head := a.row
	a.next(1)
	column := func(col int) string {
		c := "$" + columnName(col) + "$"
		return quoteSheet(unmetName) + "!" + c + number(float64(rows.from)) + ":" + c + number(float64(rows.to))
	}
	n, lines := a.unmetRows(room-lineHigh, rows.to-rows.from+1)
	from := a.row
	upTo := func(row int) string { return "ROWS(A$" + number(float64(from)) + ":A" + number(float64(row)) + ")" }
	for range n {
		place := "MATCH(SMALL(" + column(unmetPlaceCol) + "," + upTo(a.row) + ")," + column(unmetPlaceCol) + ",0)"
		for i, col := range []int{labelCol, unmetStateCol, unmetWordsCol} {
			c := Cell{Formula: "IFERROR(INDEX(" + column(col) + "," + place + `),"")`, Style: []Style{Label, Unit, Words}[i], Lines: int16(lines)}
			if i == 2 {
				c.Span = int16(len(a.s.Widths) - itemCol + 1)
			}
			a.s.Set(a.row, labelCol+i, c)
		}
		a.next(float64(lines))
	}
	area := cellName(from, unitCol) + ":" + cellName(a.row-1, unitCol)
	a.s.Marks = append(a.s.Marks, Mark{area, decl.Stop.String(), Stopped}, Mark{area, decl.Unfit.String(), Unfit}, Mark{area, decl.Caution.String(), Cautioned})
	count := "Checks!" + cellName(checks.sum[a.k], checkItemCol)
	told := a.page.name + "!A" + number(float64(from)) + ":A" + number(float64(a.row-1))
	a.work.s.Set(a.work.rows.beyond, itemCol, Cell{Formula: "MAX(0," + count + "-ROWS(" + told + "))", Style: Computed, Format: "0"})
	beyond := a.figureAt(a.work.rows.beyond)
	a.work.s.Set(a.work.rows.rest, itemCol, Cell{Formula: "IF(" + count + `=0,"None: each is met or not applicable.",IF(` + beyond + `>0,"and "&` + beyond + `&" more: sheet ` + unmetName + `","Each check: sheet Checks"))`, Style: Note})
	a.s.Set(head, a.column(0.6)+1, Cell{Style: Link, Link: quoteSheet(unmetName) + "!A1",
		Formula: "IF(" + a.unknown() + `,"Not known as long as inputs are to be mended.",` + workingsName + "!" + a.figureAt(a.work.rows.rest) + ")"})
}

// unknown is the condition that inputs are missing or not possible.
func (a *answer) unknown() string {
	r := a.work.rows
	return workingsName + "!" + a.figureAt(r.missing) + "+" + workingsName + "!" + a.figureAt(r.wrong) + ">0"
}

// spareUnmet is for how many sentences more than there are now there is room.
const spareUnmet = 2

// unmetRows is how many sentences have room, and how many lines each: any of them may come
// to stand in any row; most is how many there can be.
func (a *answer) unmetRows(room float64, most int) (rows, lines int) {
	lines = 1
	for _, c := range a.pl.checksOf(a.k) {
		for i := range a.k.Items {
			lines = max(lines, len(wrap(a.pl.model.Sentence(c.Message, i), a.wide(itemCol, len(a.s.Widths))*longWords/100)))
		}
	}
	lines = min(lines, 3)
	rows = min(a.pl.unmetNow(a.k)+spareUnmet, most, mostUnmet)
	return min(rows, max(leastUnmet, int(room/(float64(lines)*lineHigh)))), lines
}

// longWords is how much of a long text more than of a short one surely finds room, per
// cent: its letters are of many widths.
const longWords = 107

// unmetNow is how many checks are not met as the scenario stands.
func (pl *plan) unmetNow(k *check.Kind) (n int) {
	for i := range k.Items {
		for _, c := range pl.checksOf(k) {
			n += btoi(pl.res.At(c.Result, i, 0) == 0)
		}
	}
	return n
}
