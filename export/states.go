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
)

// The words beside inputs that are to be mended.
const (
	missingWord = "missing"      // a cell is blank that must not be
	wrongWord   = "not possible" // a value is
)

// drawLimits begins the sheet Limits.
func (pl *plan) drawLimits() {
	s := pl.head(pl.limits)
	s.Print.Small = true
	for i, h := range []string{"input", "unit", "at least", "at most", "missing", "first to lack it", "no such value", "too low", "too high", "not whole", "look there"} {
		look := Head
		if i < 2 {
			look = HeadText
		}
		s.text(limitsHead, i+1, h, look)
	}
	s.Widths = []float64{labelWidth, unitWidth, 11, 11, 10, 10, 10, 10, 10, 10, 14}
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
	s.Marks = append(s.Marks, Mark{Range: area, Word: missingWord, Style: Stopped}, Mark{Range: area, Word: wrongWord, Style: Stopped}, Mark{Range: area, Word: incomplete, Style: Unfit}, Mark{Range: area, Word: twice, Style: Unfit})
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
	if blank.count == nil && odd == nil && blank.other == nil {
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
		put(whoCol, join("IF("+cellName(row, blankCol)+`=0,"",`, firstOf(blank), ")"), Computed)
	}
	put(oddCol, odd, Computed)
	if odd != nil && l.q.Type == decl.Number {
		pl.drawBounds(l, r)
	}
	state := lit(`""`)
	switch odds := cellName(row, oddCol) + ":" + cellName(row, brokenCol); {
	case blank.other != nil:
		state = blank.other
	case odd != nil:
		state = join("IF(SUM(" + odds + `)>0,"` + wrongWord + `","")`)
	}
	if blank.count != nil {
		state = join("IF("+cellName(row, blankCol)+`>0,"`+missingWord+`",`, state, ")")
	}
	s.Set(row, stateCol, Cell{Formula: state.at(at), Style: ComputedText})
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

// firstOf is the place of the first item whose cell is blank: of those that are
// not, the place is put behind all. Items stand side by side from one column on.
func firstOf(b blankState) text {
	columns := cellName(1, itemCol) + ":" + cellName(1, itemCol+b.cells.to.items()-1)
	return join("SUMPRODUCT(MIN((1-", b.blank, ")*COLUMNS("+columns+")+COLUMN("+columns+")))-COLUMN("+cellName(1, itemCol)+")+1")
}

// oddState counts the values of a row that are none of the choices or, where a
// number is wanted, no number; nil where anything is possible.
func (pl *plan) oddState(l *line, r int) text {
	cells := &ref{to: l, item: all, row: r}
	filled := join("SUMPRODUCT(1*(", cells, `<>""))`)
	switch l.q.Type {
	case decl.Recording, decl.Points:
		return nil // nobody types a recording; of points the incomplete ones are told
	case decl.Boolean, decl.Set:
		return join("SUMPRODUCT((", cells, `<>"")*(`, cells, "<>TRUE)*(", cells, "<>FALSE))")
	case decl.Text:
		if len(l.q.Choices) == 0 {
			return nil
		}
		return join(filled, "-SUMPRODUCT(COUNTIF(", cells, ","+pl.lists.choices(l.q)+"))")
	case decl.Reference:
		found := pl.pulls[hopKey(l.kind, []*check.Quantity{l.q}, "#")]
		if found == nil {
			return nil
		}
		return join("SUMPRODUCT(1*ISERROR(", &ref{to: found, item: all}, "))")
	}
	return join(filled, "-COUNT(", cells, ")")
}

// drawBounds draws what a number is held to, and how many are beyond it.
func (pl *plan) drawBounds(l *line, r int) {
	s, row, at := pl.limits.sheet, l.row+r, spot{page: pl.limits}
	cells := &ref{to: l, item: all, row: r}
	put := func(bound, count int, b *decl.Bound, u unit.Unit, beyond, sign string) {
		if b == nil {
			return
		}
		name := cellName(row, bound)
		s.Set(row, bound, Cell{Value: round15(u.FromBase(b.Value)), Style: Plain, Format: boundFormat})
		t := join("COUNTIF(", cells, `,"`+beyond+`"&`+name+sign+"tolerance*ABS("+name+"))")
		s.Set(row, count, Cell{Formula: t.at(at), Style: Computed, Format: countFormat})
	}
	put(leastCol, lowCol, l.q.Min, l.q.Unit, "<", "-")
	put(mostCol, highCol, l.q.Max, l.q.Unit, ">", "+")
	if l.q.Whole {
		t := join("IFERROR(SUMPRODUCT(1*(ABS(", cells, "-ROUND(", cells, ",0))>tolerance*ABS(", cells, "))),0)")
		s.Set(row, brokenCol, Cell{Formula: t.at(at), Style: Computed, Format: countFormat})
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
	for i, h := range []string{"kind", "", "missing", "first row", "not possible", "points that do not count", "the first missing", "the first missing of the kind", "the first not possible"} {
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
	named := quoteText(" (" + titleOf(m.kind) + ")")
	if l := pl.missing[m.kind]; l != nil {
		put(lackCol, "SUM("+(&ref{to: l, item: all}).rangeText()+")", Computed, "0")
		put(lackAtCol, "IF("+at(lackCol)+`=0,"",MATCH("`+missingWord+`",`+column(stateCol)+",0))", Computed, "0")
		words := "INDEX(" + column(labelCol) + "," + at(lackAtCol) + ")&"
		if m.kind.Many {
			names := (&ref{to: pl.names[m.kind], item: all, row: btoi(labelled(m.kind))}).rangeText()
			words += `" of "&INDEX(` + names + ",INDEX(" + column(whoCol) + "," + at(lackAtCol) + "))"
		} else {
			words += named
		}
		put(lackOwnCol, "IF("+at(lackCol)+`=0,"",`+words+")", Note, "")
		pl.inputs.sheet.Set(pl.missing[m.kind].row, m.firstCol, Cell{Formula: limitsName + "!" + at(lackOwnCol), Style: Note})
	} else {
		put(lackCol, "0", Computed, "0")
		put(lackOwnCol, `""`, Note, "")
	}
	put(lackWordsCol, "IF("+at(lackCol)+">0,"+at(lackOwnCol)+","+next(lackWordsCol)+`&"")`, Note, "")
	put(wrongCol, "COUNTIF("+column(stateCol)+`,"`+wrongWord+`")`, Computed, "0")
	put(wrongWordsCol, "IF("+at(wrongCol)+">0,INDEX("+column(labelCol)+`,MATCH("`+wrongWord+`",`+column(stateCol)+",0))&"+named+","+next(wrongWordsCol)+`&"")`, Note, "")
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
