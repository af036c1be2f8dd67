package export

import (
	"fmt"
	"slices"
	"strings"

	"bankwright/engine"
	"bankwright/engine/recording"
	"bankwright/engine/unit"
)

// Columns of the list of what was found in a recording, and of its rows.
const (
	keptLiveCol  = 3
	keptValueCol = 4
	keptDiffCol  = 5
	keptNoteCol  = 7

	keptPartCol  = 1
	keptLineCol  = 2
	keptTimeCol  = 3
	keptFirstCol = 4 // of the recording's columns
)

const (
	notLiveWord = "not live"

	keptNameRow   = 2
	keptSameRow   = 6
	keptChartRow  = 7
	keptChartRows = 17 // of cells, for a chart and the space below it; rows are 17 to 20 pixels high
	keptWidth     = 482
	keptHeight    = 280 // pixels
	keptSecondCol = 4   // at which the right one of two charts begins
)

// drawKept draws the sheet of a recording: its charts, what was found, its rows.
func (pl *plan) drawKept(k *kept) {
	s := pl.head(k.page)
	s.text(keptNameRow, 1, k.rec.Name, Note)
	s.text(4, 1, upperFirst(engine.RowsRead(k.rec.Report()))+"."+k.silent(), Note)
	s.text(5, 1, k.said(), Sentence)
	s.Widths = []float64{labelWidth, unitWidth}
	for range max(7, 1+len(k.columns)) {
		s.Widths = append(s.Widths, itemWidth)
	}
	k.askRow = keptChartRow + (len(k.columns)+1)/2*keptChartRows + 2
	k.first = k.askRow + len(k.sought) + 4
	pl.drawAsked(k)
	pl.drawKeptRows(k)
	for i, c := range k.columns {
		s.Charts = append(s.Charts, pl.curve(k, i, c))
	}
}

// said says what the sheet holds, and what is live of it.
func (k *kept) said() string {
	if k.whole {
		return "All rows stand below. What can be worked out of them in cells is live."
	}
	return fmt.Sprintf("%s rows of %s stand below, chosen so that the curves keep their shape. What was found in the file was computed from all rows; it is not live.",
		unit.Format(float64(len(k.rows)), 0), unit.Format(float64(k.rec.Report().Rows), 0))
}

// silent says which columns have no value where others have: no gap of the recording
// tells of that.
func (k *kept) silent() string {
	said := ""
	for _, i := range k.columns {
		if c := k.rec.Layout.Columns[i]; !c.Counter { // of these no measure over time is taken
			if words := engine.Silent(k.rec.Report(), spaced(c.Name), k.rec.Result(recording.Mean{Of: c.Name}).Missing); words != "" {
				said += " " + upperFirst(words) + "."
			}
		}
	}
	return said
}

// same says whether what is live is still what was found in the file, since rows can be
// changed.
func (k *kept) same() {
	if !slices.ContainsFunc(k.sought, func(a *sought) bool { return a.live }) {
		return
	}
	differences := cellName(k.askRow, keptDiffCol) + ":" + cellName(k.askRow+len(k.sought)-1, keptDiffCol)
	k.page.sheet.Set(keptSameRow, 1, Cell{Style: Sentence,
		Formula: "IF(IFERROR(SUMPRODUCT(1*(" + differences + `<>0)),1)=0,"It is equal to what was found in the file.","It is not what was found in the file: see the differences.")`})
}

// drawAsked draws what was found in the recording, without what is live.
func (pl *plan) drawAsked(k *kept) {
	s, row := k.page.sheet, k.askRow
	s.text(row-2, labelCol, "What was found in it", Heading)
	for i, h := range []string{"", "unit", "from the rows", "found in the file", "difference", "", "what it is"} {
		look := Head
		if i < 2 || i >= keptDiffCol {
			look = HeadText
		}
		if h != "" {
			s.text(row-1, i+1, h, look)
		}
	}
	for _, a := range k.sought {
		a.row = row
		row++
		s.text(a.row, labelCol, callLabel(a.fn, a.names), Label)
		s.text(a.row, unitCol, pl.unitName(a.unit), Unit)
		s.text(a.row, keptLiveCol, notLiveWord, Note)
		c := Cell{Style: Frozen, Formula: `""`, Value: ""}
		if v := a.unit.FromBase(a.value); v == v {
			c = Cell{Value: round15(v), Style: Frozen, Format: decimalFormat(max(2, unit.DecimalsFor([]float64{v})))}
		}
		s.Set(a.row, keptValueCol, c)
		note := upperFirst(a.fn.Doc) + "."
		if len(a.forRow) > 0 {
			note = strings.Join(a.forRow, ", ") + ": " + lowerFirst(note)
		}
		s.text(a.row, keptNoteCol, note, Note)
	}
}

// drawTrusted draws a cell that is live, beside what was found in the file.
func (pl *plan) drawTrusted(k *kept, a *sought, got float64) {
	s := k.page.sheet
	format := s.At(a.row, keptValueCol).Format
	s.Set(a.row, keptLiveCol, Cell{Formula: s.At(a.row, keptLiveCol).Formula, Value: round15(got), Style: Computed, Format: format})
	live, then := cellName(a.row, keptLiveCol), cellName(a.row, keptValueCol)
	s.Set(a.row, keptDiffCol, Cell{Style: Computed, Format: format,
		Formula: "IF(ABS(" + live + "-" + then + ")<=tolerance*MAX(ABS(" + live + "),ABS(" + then + ")),0," + live + "-" + then + ")"})
}

// drawKeptRows draws the rows, an empty one where a stretch without gap ends.
func (pl *plan) drawKeptRows(k *kept) {
	s, layout := k.page.sheet, k.rec.Layout
	times := k.column(layout.Time)
	s.Print.RepeatFrom, s.Print.RepeatRows = k.first-1, k.first-1
	s.text(k.first-2, labelCol, "Rows", Heading)
	s.text(k.first-1, keptPartCol, "stretch without a gap", HeadText)
	s.text(k.first-1, keptLineCol, "line", Head)
	columns := append([]int{times}, k.columns...)
	formats := make([]string, len(columns))
	for i, c := range columns {
		s.text(k.first-1, keptTimeCol+i, pl.columnHead(layout.Columns[c]), Head)
		formats[i] = exactFormat(k.shown(c))
	}
	row := k.first
	for i, m := range k.rows {
		if i > 0 && m.Stretch != k.rows[i-1].Stretch {
			row++
		}
		s.Set(row, keptPartCol, Cell{Value: float64(m.Stretch + 1), Style: Label, Format: "0"})
		s.Set(row, keptLineCol, Cell{Value: float64(m.Line), Style: Unit, Format: "0"})
		for j, c := range columns {
			if v := m.Values[c]; v == v {
				s.Set(row, keptTimeCol+j, Cell{Value: round15(layout.Columns[c].Unit.FromBase(v)), Format: formats[j]})
			}
		}
		row++
	}
	k.last = row - 1
}

// columnHead names a column with its unit.
func (pl *plan) columnHead(c recording.Column) string {
	out := spaced(c.Name)
	if u := pl.unitName(c.Unit); u != "" {
		out += " (" + u + ")"
	}
	return out
}

// shown are the values of a column in its unit.
func (k *kept) shown(column int) (out []float64) {
	for _, m := range k.rows {
		if v := m.Values[column]; v == v {
			out = append(out, k.rec.Layout.Columns[column].Unit.FromBase(v))
		}
	}
	return out
}

// curve is the chart of a column against the time, the i-th on its sheet.
func (pl *plan) curve(k *kept, i, column int) Chart {
	layout := k.rec.Layout
	times, at := k.column(layout.Time), keptFirstCol+i
	values, span := k.shown(column), k.shown(times)
	c := Chart{
		Kind: ScatterChart, Row: keptChartRow + i/2*keptChartRows, Col: 1, Width: keptWidth, Height: keptHeight,
		Title: upperFirst(spaced(layout.Columns[column].Name)) + " of " + itemLabel(k.q.Kind.Items[k.item]) + " over time",
		X:     around(slices.Min(span), slices.Max(span)), Y: around(slices.Min(values), slices.Max(values)),
	}
	if i%2 == 1 {
		c.Col = keptSecondCol
	}
	c.X.Title, c.Y.Title = pl.columnHead(layout.Columns[times])+" since the first row", pl.columnHead(layout.Columns[column])
	c.X.Format, c.Y.Format = decimalFormat(decimalsOf(c.X.Step)), decimalFormat(decimalsOf(c.Y.Step))
	area := func(col int) Range { return Range{k.page.name, k.first, col, k.last, col} }
	c.Series = []Series{{Name: Range{k.page.name, k.first - 1, at, 0, 0}, X: area(keptTimeCol), Y: area(at)}}
	return c
}

// decimalsOf is how many decimals a round step has.
func decimalsOf(step float64) int {
	s := number(step)
	if i := strings.IndexByte(s, '.'); i >= 0 {
		return len(s) - i - 1
	}
	return 0
}

// cells are those of a column of the layout: all, all but the last, all but the first.
func (k *kept) cells(column, part int) string {
	col := keptTimeCol
	if i := slices.Index(k.columns, column); i >= 0 {
		col = keptFirstCol + i
	}
	return k.range3(col, part)
}

// parts are the cells that number the stretches.
func (k *kept) parts(part int) string { return k.range3(keptPartCol, part) }

func (k *kept) range3(col, part int) string {
	first, last := k.first, k.last
	switch part {
	case 1:
		last--
	case 2:
		first++
	}
	return cellName(first, col) + ":" + cellName(last, col)
}

// finishKept tells where the file that is named among the inputs is another.
func (pl *plan) finishKept(k *kept) {
	file := (&ref{to: pl.places[k.q], item: k.item}).rangeText()
	name := cellName(keptNameRow, 1)
	k.page.sheet.Set(3, 1, Cell{Style: Alert, Formula: "IF(EXACT(" + file + "&\"\"," + name + `),"",` +
		quoteText("The sheet Inputs names another recording; this is still ") + "&" + name + `&".")`})
}
