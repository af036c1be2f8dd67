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
	whoCol   // the first of them
	oddCol   // how many cells hold no number, or none of the choices
	lowCol
	highCol
	brokenCol // how many are not whole that must be
	stateCol
	oddFirstCol // of many items the first for each of the counts from oddCol on
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
	for _, l := range pl.inputsOf(k) {
		for r := range l.rows {
			if l.q == nil || !pl.drawLimit(l, r) {
				continue
			}
			row := l.row + r
			s.Set(row, col, Cell{Formula: limitsName + "!" + cellName(row, stateCol), Style: Label})
			if m.to = row; m.from == 0 {
				m.from = row
			}
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
		put(whoCol, join("IF("+cellName(row, blankCol)+`=0,"",`, firstOf(blank.cells, blank.blank), ")"), Computed)
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

// countFormat shows how many there are, and nothing for none.
const countFormat = "0;-0;"

// blankState tells of a row of an input how many cells are blank that must not
// be; of an item's own table what else is to be said of its points.
type blankState struct {
	count text // nil: cells may be blank
	blank text // for each item whether it is
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
		b.blank = pl.bothBlank(b.cells, l.q)
		b.count = join("SUMPRODUCT(", b.blank, ")")
	case required(l.q):
		b.blank = join("(", b.cells, `="")`)
		b.count = join("COUNTBLANK(", b.cells, ")")
	}
	return b
}

// firstOf is the place of the first item of which something holds: of those of
// which it does not, the place is put behind all. Items stand side by side from one
// column on.
func firstOf(cells *ref, holds text) text {
	columns := cellName(1, itemCol) + ":" + cellName(1, itemCol+cells.to.items()-1)
	return join("SUMPRODUCT(MIN((1-", holds, ")*COLUMNS("+columns+")+COLUMN("+columns+")))-COLUMN("+cellName(1, itemCol)+")+1")
}

// oddState counts the values of a row that are none of the choices or, where a
// number is wanted, no number, and finds the first of many items that has one.
type oddState struct {
	count text // nil: anything is possible
	first text // nil: there are not many items
}

func (pl *plan) oddState(l *line, r int) oddState {
	cells := &ref{to: l, item: all, row: r}
	each, count := pl.odd(l, cells)
	o := oddState{count: count}
	if each != nil && l.kind.Many {
		o.first = firstOf(cells, each)
	}
	return o
}

// odd is for each of the cells of an input whether its value is odd, and how many are.
func (pl *plan) odd(l *line, cells *ref) (each, count text) {
	filled := join("(", cells, `<>"")`)
	sum := func(t text) text { return join("SUMPRODUCT(", t, ")") }
	switch l.q.Type {
	case decl.Recording, decl.Points:
		return nil, nil // nobody types a recording; of points the incomplete ones are told
	case decl.Boolean, decl.Set:
		each = join(filled, "*(", cells, "<>TRUE)*(", cells, "<>FALSE)")
		return each, sum(each)
	case decl.Text:
		if len(l.q.Choices) == 0 {
			return nil, nil
		}
		each = join(filled, "*(COUNTIF("+pl.lists.choices(l.q)+",", cells, ")=0)")
		return each, sum(each)
	case decl.Reference:
		if pl.pulls[hopKey(l.kind, []*check.Quantity{l.q}, "#")] == nil {
			return nil, nil // nothing follows from it
		}
		each = join(filled, "*(COUNTIF(", &ref{to: pl.names[l.q.To], item: all}, ",", cells, ")=0)")
		return each, sum(each)
	}
	each = join(filled, "*(1-ISNUMBER(", cells, "))")
	return each, sum(each)
}

// drawBounds draws what a number is held to, and how many are beyond it.
func (pl *plan) drawBounds(l *line, r int) {
	s, row, at := pl.limits.sheet, l.row+r, spot{page: pl.limits}
	cells := &ref{to: l, item: all, row: r}
	first := func(count int, holds text) {
		if l.kind.Many {
			s.Set(row, oddFirstCol+count-oddCol, Cell{Formula: firstOf(cells, holds).at(at), Style: Computed, Format: countFormat})
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
		first(count, join("ISNUMBER(", cells, ")*(", cells, beyond+held+")"))
	}
	put(leastCol, lowCol, l.q.Min, l.q.Unit, "<", "-")
	put(mostCol, highCol, l.q.Max, l.q.Unit, ">", "+")
	if l.q.Whole {
		t := join("IFERROR(SUMPRODUCT(1*(ABS(", cells, "-ROUND(", cells, ",0))>tolerance*ABS(", cells, "))),0)")
		s.Set(row, brokenCol, Cell{Formula: t.at(at), Style: Computed, Format: countFormat})
		// What is no number is an error here, and told of before.
		first(brokenCol, join("ISERROR(1/(", cells, "=ROUND(", cells, ",0)))"))
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
)

// drawMend lists by kind what is to be mended, below the limits.
func (pl *plan) drawMend() {
	s := pl.limits.sheet
	row := max(pl.toleranceRow, limitsHead) + 4
	s.text(row-2, labelCol, "What is to be mended", Heading)
	for i, h := range []string{"kind", "", "missing", "first row", "not possible", "first row", "points that do not count", "the first missing", "the first missing of the kind", "the first not possible"} {
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
		names := (&ref{to: pl.names[m.kind], item: all, row: btoi(labelled(m.kind))}).rangeText()
		return words + `" of "&INDEX(` + names + ",INDEX(" + column(whoCol) + "," + at(rowCol) + "))"
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
	put(wrongCol, "COUNTIF("+column(stateCol)+`,"`+wrongWord+`")`, Computed, "0")
	put(wrongAtCol, rowOf(wrongCol, wrongWord), Computed, "0")
	put(wrongWordsCol, "IF("+at(wrongCol)+">0,"+named(wrongAtCol, wrongFirstCol)+","+next(wrongWordsCol)+`&"")`, Note, "")
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
