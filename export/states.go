package export

import (
	"bankwright/engine/check"
	"bankwright/engine/decl"
	"bankwright/engine/unit"
)

// What is typed or pasted into the sheet Inputs is looked at on a sheet of its
// own, Limits, row by row: what the rules allow, how many cells are blank that
// must not be, how many hold what is not possible, and the word that the sheet
// Inputs shows for it. The first sheet names the first of them.

const limitsName = "Limits"

// Columns of the sheet Limits; its rows are those of the sheet Inputs.
const (
	leastCol = 3 + iota
	mostCol
	blankCol // how many cells are blank that must not be
	whoCol   // the column of the first of them
	oddCol   // how many cells hold no number, or none of the choices
	lowCol
	highCol
	brokenCol // how many are not whole that must be
	stateCol
	oddFirstCol // of many items the column of the first for each of the counts from oddCol on
	lowFirstCol
	highFirstCol
	brokenFirstCol
	wrongFirstCol // and the first of all these
)

// The words beside inputs that are to be mended.
const (
	missingWord = "missing"      // a cell is blank that must not be
	wrongWord   = "not possible" // a value is
)

// drawLimits begins the sheet Limits.
func (pl *plan) drawLimits() {
	s := pl.head(pl.limits)
	for i, h := range []string{"input", "unit", "at least", "at most", "missing", "first to lack it", "no such value", "too low", "too high", "not whole", "look there", "first: no such value", "first too low", "first too high", "first not whole", "first not possible", "usually from", "usually to", "below that", "above that", "unusual", "its row"} {
		look := Head
		if i < 2 {
			look = HeadText
		}
		s.text(limitsHead, i+1, h, look)
	}
	s.Widths = []float64{labelWidth, unitWidth, 11, 11, 10, 10, 10, 10, 10, 10, 14, 10, 10, 10, 10, 10, 11, 11, 10, 10, 10, 10}
	s.FreezeRows, s.FreezeCols, s.Print.RepeatRows = limitsHead, unitCol, limitsHead
}

const limitsHead = 4

// drawStates says beside each input of a block what is to be mended there.
func (pl *plan) drawStates(s *Sheet, k *check.Kind, col int) {
	m := mending{kind: k, first: pl.names[k].row}
	state := func(row int) {
		s.Set(row, col, Cell{Formula: limitsName + "!" + cellName(row, stateCol), Style: Label})
		if m.to = row; m.from == 0 {
			m.from = row
		}
	}
	for _, l := range pl.inputsOf(k) {
		for r := range l.rows {
			if l.q != nil && pl.drawLimit(l, r) {
				state(l.row + r)
			}
		}
	}
	for _, l := range pl.extra[k] {
		if l.figureOf != nil {
			pl.drawFigureLimit(l)
			state(l.row)
		}
	}
	if m.from == 0 {
		return
	}
	pl.limits.sheet.text(m.first, labelCol, titleOf(k), Section)
	s.text(pl.names[k].row, col, "  look here", HeadText)
	area := cellName(m.from, col) + ":" + cellName(m.to, col)
	s.Marks = append(s.Marks, Mark{Range: area, Word: missingWord, Style: Stopped}, Mark{Range: area, Word: wrongWord, Style: Stopped}, Mark{Range: area, Word: incomplete, Style: Unfit}, Mark{Range: area, Word: twice, Style: Unfit}, Mark{Range: area, Word: unusualWord, Style: Cautioned})
	if l := pl.missing[k]; l != nil {
		l.rowsOf(pl)
		m.firstCol = col + 1
	}
	pl.mend = append(pl.mend, m)
}

// drawLimit draws the row of a row of an input, and reports whether there is
// anything to be said of it.
func (pl *plan) drawLimit(l *line, r int) bool {
	row := l.row + r
	blank, odd := pl.blankState(l, r), pl.oddState(l, r)
	if blank.count == nil && odd.count == nil && blank.other == nil {
		return false
	}
	s, at := pl.limits.sheet, spot{page: pl.limits}
	put := func(col int, t text, look Style) {
		if t != nil {
			s.Set(row, col, Cell{Formula: t.at(at), Style: look, Format: countFormat})
		}
	}
	s.text(row, labelCol, l.rowLabel(r), Label)
	s.text(row, unitCol, unitWord(l), Unit)
	put(blankCol, blank.count, Computed)
	if blank.count != nil {
		put(whoCol, join("IF("+cellName(row, blankCol)+`=0,"",`, firstOf(blank.cells, blank.given), ")"), Computed)
	}
	put(oddCol, odd.count, Computed)
	put(oddFirstCol, odd.first, Computed)
	if odd.count != nil && l.q.Type == decl.Number {
		pl.drawBounds(l, r)
	}
	state := lit(`""`)
	if hasUsual(l.q) {
		pl.drawUsual(row, l.q, &ref{to: l, item: all, row: r})
		state = lit("IF(" + cellName(row, unusualCol) + `>0,"` + unusualWord + `","")`)
	}
	switch odds := cellName(row, oddCol) + ":" + cellName(row, brokenCol); {
	case blank.other != nil:
		state = blank.other
	case odd.count != nil:
		state = join("IF(SUM("+odds+`)>0,"`+wrongWord+`",`, state, ")")
	}
	if blank.count != nil {
		state = join("IF("+cellName(row, blankCol)+`>0,"`+missingWord+`",`, state, ")")
	}
	s.Set(row, stateCol, Cell{Formula: state.at(at), Style: ComputedText})
	if odd.first != nil {
		firsts := cellName(row, oddFirstCol) + ":" + cellName(row, brokenFirstCol)
		s.Set(row, wrongFirstCol, Cell{Formula: "IF(" + cellName(row, stateCol) + `="` + wrongWord + `",MIN(` + firsts + `),"")`, Style: Computed, Format: countFormat})
	}
	return true
}

// drawFigureLimit draws the row of a figure in the formula of an item's input, which must
// be a number.
func (pl *plan) drawFigureLimit(l *line) {
	s, row, at := pl.limits.sheet, l.row, spot{page: pl.limits}
	s.text(row, labelCol, l.rowLabel(0), Label)
	s.text(row, unitCol, unitWord(l), Unit)
	figure := &ref{to: l, item: l.only}
	odd := cellName(row, oddCol)
	s.Set(row, oddCol, Cell{Formula: join("1-ISNUMBER(", figure, ")").at(at), Style: Computed, Format: countFormat})
	s.Set(row, stateCol, Cell{Formula: "IF(" + odd + `>0,"` + wrongWord + `","")`, Style: ComputedText})
	s.Set(row, wrongFirstCol, Cell{Formula: join("IF("+odd+">0,COLUMN(", figure, `),"")`).at(at), Style: Computed, Format: countFormat})
}

// countFormat shows how many there are, and nothing for none.
const countFormat = "0;-0;"

// blankState tells of a row of an input how many cells are blank that must not
// be; of an item's own table what else is to be said of its points.
type blankState struct {
	count text // nil: cells may be blank
	given text // for each item whether it is not
	cells *ref
	other text
}

func (pl *plan) blankState(l *line, r int) blankState {
	cells := &ref{to: l, item: all, row: r}
	b := blankState{cells: cells}
	if l.q.Type == decl.Points {
		if r >= l.q.MaxRows {
			return blankState{}
		}
		p := pl.pointsOf(l.q)
		row := &ref{to: p.state, item: all, row: r}
		b.other = join("IF(COUNTIF(", row, `,"`+incomplete+`")>0,"`+incomplete+`",IF(COUNTIF(`, row, `,"`+twice+`")>0,"`+twice+`",""))`)
		if r > 0 {
			return b
		}
		b.cells = &ref{to: p.sorted[0], item: all}
	}
	switch {
	case instead(l.q) != nil:
		neither := join("((", b.cells, `="")*(`, &ref{to: pl.insteadLine(l.q), item: all, row: b.cells.row}, `=""))`)
		b.count, b.given = join("SUMPRODUCT(1*", isTrue(neither), ")"), isNot(neither)
	case required(l.q):
		b.count, b.given = join("COUNTBLANK(", b.cells, ")"), isNot(join("(", b.cells, `="")`))
	}
	return b
}

// firstOf is the column of the first item of which something does not hold: those of
// which it does are put behind all.
func firstOf(cells *ref, well text) text {
	columns := cellName(1, itemCol) + ":" + cellName(1, itemCol+cells.to.items()-1)
	return join("SUMPRODUCT(MIN(", well, "*COLUMNS("+columns+")+COLUMN("+columns+")))")
}

// oddState counts the values of a row that are none of the choices or, where a
// number is wanted, no number, and finds the first of many items that has one.
type oddState struct {
	count text // nil: anything is possible
	first text // nil: there are not many items
}

func (pl *plan) oddState(l *line, r int) oddState {
	cells := &ref{to: l, item: all, row: r}
	possible := pl.possible(l, cells)
	if possible == nil {
		return oddState{}
	}
	odd := join("(", possible, "=0)")
	o := oddState{count: join("SUMPRODUCT(1*", isTrue(odd), ")")}
	if l.kind.Many {
		o.first = firstOf(cells, isNot(odd))
	}
	return o
}

// possible is for each of the cells of an input more than 0 where it is blank or holds a
// value of its type; nil where anything is possible.
func (pl *plan) possible(l *line, cells *ref) (is text) {
	switch l.q.Type {
	case decl.Recording, decl.Points:
		return nil // nobody types a recording; of points the incomplete ones are told
	case decl.Boolean, decl.Set:
		is = join("(", cells, "=TRUE)+(", cells, "=FALSE)")
	case decl.Text:
		if len(l.q.Choices) == 0 {
			return nil
		}
		is = join("COUNTIF("+pl.lists.choices(l.q)+",", cells, ")")
	case decl.Reference:
		if pl.pulls[hopKey(l.kind, []*check.Quantity{l.q}, "#")] == nil {
			return nil // nothing follows from it
		}
		is = join("COUNTIF(", &ref{to: pl.names[l.q.To], item: all}, ",", cells, ")")
	default:
		is = join("ISNUMBER(", cells, ")")
	}
	return join("(", cells, `="")+`, is)
}

// isTrue is for each cell whether something holds of it, isNot whether it does not. Of an
// error value nothing holds: an input that a scenario gives by a formula has one where
// what it follows from is no number, and that is the one to be mended.
func isTrue(t text) text { return join("ISNUMBER(1/", t, ")") }
func isNot(t text) text  { return join("ISERROR(1/", t, ")") }

// drawBounds draws what a number is held to, and how many are beyond it.
func (pl *plan) drawBounds(l *line, r int) {
	s, row, at := pl.limits.sheet, l.row+r, spot{page: pl.limits}
	cells := &ref{to: l, item: all, row: r}
	first := func(count int, well text) {
		if l.kind.Many {
			s.Set(row, oddFirstCol+count-oddCol, Cell{Formula: firstOf(cells, well).at(at), Style: Computed, Format: countFormat})
		}
	}
	put := func(bound, count int, b *decl.Bound, u unit.Unit, beyond, sign string) {
		if b == nil {
			return
		}
		name := cellName(row, bound)
		s.Set(row, bound, Cell{Value: round15(u.FromBase(b.Value)), Style: Plain, Format: boundFormat})
		held := name + sign + "tolerance*ABS(" + name + ")"
		t := join("COUNTIF(", cells, `,"`+beyond+`"&`+held+")")
		s.Set(row, count, Cell{Formula: t.at(at), Style: Computed, Format: countFormat})
		first(count, isNot(join("(ISNUMBER(", cells, ")*(", cells, beyond+held+"))")))
	}
	put(leastCol, lowCol, l.q.Min, l.q.Unit, "<", "-")
	put(mostCol, highCol, l.q.Max, l.q.Unit, ">", "+")
	if l.q.Whole {
		t := join("IFERROR(SUMPRODUCT(1*(ABS(", cells, "-ROUND(", cells, ",0))>tolerance*ABS(", cells, "))),0)")
		s.Set(row, brokenCol, Cell{Formula: t.at(at), Style: Computed, Format: countFormat})
		first(brokenCol, isNot(join("(", cells, "<>ROUND(", cells, ",0))")))
	}
}

// boundFormat shows a bound with the decimals that it has.
const boundFormat = "#,##0.####"

// mending is what is to be mended in a block of the sheet Inputs.
type mending struct {
	kind     *check.Kind
	first    int // row of the names
	from, to int // rows of inputs
	firstCol int // of the sheet Inputs, where the first that is missing is named
}

// Columns of the list of what is to be mended, by kind.
const (
	lackCol      = 3 + iota // how many are missing
	lackAtCol               // the row of the first
	wrongCol                // how many are not possible
	wrongAtCol              // the row of the first
	pointsCol               // how many points of tables do not count
	lackWordsCol            // the first that is missing, here or in what follows
	lackOwnCol              // the first that is missing here
	wrongWordsCol
	lackCellCol  // the cell of the first that is missing, here or in what follows
	wrongCellCol // and of the first that is not possible
)

// drawMend lists by kind what is to be mended, below the limits.
func (pl *plan) drawMend() {
	s := pl.limits.sheet
	row := max(pl.toleranceRow, limitsHead) + 4
	s.text(row-2, labelCol, "What is to be mended", Heading)
	for i, h := range []string{"kind", "", "missing", "first row", "not possible", "first row", "points that do not count", "the first missing", "the first missing of the kind", "the first not possible", "cell of the first missing", "cell of the first not possible"} {
		if h != "" {
			s.text(row-1, i+1, h, Head)
		}
	}
	pl.mendFrom = row
	for i, m := range pl.mend {
		pl.drawMending(m, row+i)
	}
	pl.mendTo = max(row, pl.drawMendPoints(row+len(pl.mend)))
}

func (pl *plan) drawMending(m mending, row int) {
	s := pl.limits.sheet
	s.text(row, labelCol, titleOf(m.kind), Label)
	s.text(row, unitCol, numberWord, Unit)
	column := func(col int) string {
		c := "$" + columnName(col) + "$"
		return c + number(float64(m.from)) + ":" + c + number(float64(m.to))
	}
	put := func(col int, form string, look Style, format string) {
		s.Set(row, col, Cell{Formula: form, Style: look, Format: format})
	}
	at := func(col int) string { return cellName(row, col) }
	next := func(col int) string { return cellName(row+1, col) }
	// named is the input of a row and whose it is, the place of whom stands in a column.
	named := func(rowCol, whoCol int) string {
		words := "INDEX(" + column(labelCol) + "," + at(rowCol) + ")&"
		if !m.kind.Many {
			return words + quoteText(" ("+titleOf(m.kind)+")")
		}
		row := "$" + number(float64(pl.names[m.kind].row+btoi(labelled(m.kind))))
		names := pl.inputs.name + "!$A" + row + ":$" + columnName(itemCol+len(m.kind.Items)-1) + row
		return words + `" of "&INDEX(` + names + ",INDEX(" + column(whoCol) + "," + at(rowCol) + "))"
	}
	// address is the cell of that input on the sheet Inputs.
	address := func(rowCol, whoCol int) string {
		across := "COLUMN($" + columnName(itemCol) + "$1)"
		if m.kind.Many {
			across = "INDEX(" + column(whoCol) + "," + at(rowCol) + ")"
		}
		return "SUBSTITUTE(ADDRESS(ROW($A$" + number(float64(m.from)) + ")+" + at(rowCol) + "-1," + across + `),"$","")`
	}
	rowOf := func(count int, word string) string {
		return "IF(" + at(count) + `=0,"",MATCH("` + word + `",` + column(stateCol) + ",0))"
	}
	if l := pl.missing[m.kind]; l != nil {
		put(lackCol, "SUM("+(&ref{to: l, item: all}).rangeText()+")", Computed, "0")
		put(lackAtCol, rowOf(lackCol, missingWord), Computed, "0")
		put(lackOwnCol, "IF("+at(lackCol)+`=0,"",`+named(lackAtCol, whoCol)+")", Note, "")
		pl.inputs.sheet.Set(pl.missing[m.kind].row, m.firstCol, Cell{Formula: limitsName + "!" + at(lackOwnCol), Style: Note})
	} else {
		put(lackCol, "0", Computed, "0")
		put(lackOwnCol, `""`, Note, "")
	}
	put(lackWordsCol, "IF("+at(lackCol)+">0,"+at(lackOwnCol)+","+next(lackWordsCol)+`&"")`, Note, "")
	put(lackCellCol, "IF("+at(lackCol)+">0,"+address(lackAtCol, whoCol)+","+next(lackCellCol)+`&"")`, Note, "")
	put(wrongCol, "COUNTIF("+column(stateCol)+`,"`+wrongWord+`")`, Computed, "0")
	put(wrongAtCol, rowOf(wrongCol, wrongWord), Computed, "0")
	put(wrongWordsCol, "IF("+at(wrongCol)+">0,"+named(wrongAtCol, wrongFirstCol)+","+next(wrongWordsCol)+`&"")`, Note, "")
	put(wrongCellCol, "IF("+at(wrongCol)+">0,"+address(wrongAtCol, wrongFirstCol)+","+next(wrongCellCol)+`&"")`, Note, "")
}

// drawMendPoints counts what does not count of the items' own tables, and
// returns the last row.
func (pl *plan) drawMendPoints(row int) int {
	s := pl.limits.sheet
	for _, k := range pl.prog.Kinds {
		for _, q := range k.Quantities {
			p := pl.sorted[q]
			if p == nil || len(k.Items) == 0 { // a kind without items has no sheet
				continue
			}
			row++
			states := (&ref{to: p.state, item: all, last: q.MaxRows - 1}).rangeText()
			s.text(row, labelCol, titleOf(k)+": "+lowerFirst(labelOf(q)), Label)
			s.text(row, unitCol, numberWord, Unit)
			s.Set(row, pointsCol, Cell{Formula: "COUNTIF(" + states + `,"` + incomplete + `")+COUNTIF(` + states + `,"` + twice + `")`, Style: Computed, Format: "0"})
		}
	}
	return row
}
