package export

import (
	"fmt"
	"slices"
	"strings"

	"bankwright/engine"
	"bankwright/engine/check"
	"bankwright/engine/decl"
	"bankwright/engine/unit"
)

// A long comparison does not go through a workbook alternative by alternative:
// only the shortlist does. The others stand on a sheet of their own as values,
// computed at the scenario's inputs; beside them stands which inputs have been
// changed since.

// catalogue is the sheet of all items of a long comparison.
type catalogue struct {
	m    *engine.Model
	c    *engine.Comparison
	name string // of the sheet
	s    *Sheet
	now  int // the column of live figures
}

// shortlisted is the model with which a workbook calculates: m with the items
// that are shown in full, and the sheet of all; nil where all are shown so.
func shortlisted(m *engine.Model) (*engine.Model, *catalogue, error) {
	c := m.Compare()
	if c == nil || len(c.Rest()) == 0 {
		return m, nil, nil
	}
	var names []string
	for _, s := range c.Full() {
		names = append(names, c.Kind.Items[s.Item].Name)
	}
	few, err := m.Only(names)
	if err != nil || few == m {
		return m, nil, err
	}
	return few, &catalogue{m: m, c: c}, nil
}

// Rows and columns of the sheet.
const (
	sinceRow   = 3 // what was changed since
	allHead    = 5 // heads, and units below them
	allRow     = 7
	placeCol   = 2
	flagCol    = 2 // below the list: whether an input has changed
	changedCol = 3 // which it is
	thenCol    = 4 // its values then
)

// putCatalogue puts the sheet of all behind that of the checks.
func (pl *plan) putCatalogue() {
	at := pl.book.Sheet(pl.checks.name) + 1
	pl.book.Sheets = slices.Insert(pl.book.Sheets, at, pl.drawCatalogue())
}

// drawCatalogue draws the sheet of all items, best first, and the inputs then.
func (pl *plan) drawCatalogue() *Sheet {
	cat := pl.catalogue
	title := "All " + lowerFirst(titleOf(cat.c.Kind))
	when := "when this workbook was written"
	if d := pl.prog.Model.Date; d != "" {
		when = "on " + d
	}
	lead := "Values, computed " + when + " at the inputs of the scenario: they do not follow what is changed here. Only the column at the right is live."
	cat.s = pl.head(&page{name: cat.name, title: title, lead: lead})
	cat.s.FreezeRows, cat.s.FreezeCols, cat.s.Print.RepeatRows = allRow-1, 1, allRow-1
	cat.s.Widths = []float64{labelWidth, unitWidth}
	cat.s.text(sinceRow, labelCol, "Inputs since then", Label)
	row := pl.drawList()
	pl.drawThen(row + 2)
	return cat.s
}

// columns are the quantities of the list, each once, the deciding one last.
func (cat *catalogue) columns() []*check.Quantity {
	k := cat.c.Kind
	names := append(slices.Clone(k.Compare.Show), k.Compare.Table...)
	if f := k.Compare.Frontier; f != nil {
		names = append(names, f.Lowest, f.Highest)
	}
	var out []*check.Quantity
	for _, name := range names {
		if q := k.Quantity(name); q != cat.c.By && !slices.Contains(out, q) {
			out = append(out, q)
		}
	}
	return append(out, cat.c.By)
}

// drawList draws a row for each item and returns the last one.
func (pl *plan) drawList() int {
	cat := pl.catalogue
	s, c := cat.s, cat.c
	heads := func(col int, name, unit string, look Style) {
		s.text(allHead, col, name, look)
		s.text(allHead+1, col, unit, look)
		if col > placeCol {
			s.Widths = append(s.Widths, itemWidth)
		}
	}
	heads(labelCol, strings.ReplaceAll(c.Kind.Name, "_", " "), "", HeadText)
	heads(placeCol, "place", "", Head)
	columns := cat.columns()
	col := placeCol + 1
	for _, q := range columns {
		u := ""
		if q.Type == decl.Number {
			u = pl.unitName(q.Unit)
		}
		heads(col, lowerFirst(labelOf(q)), u, Head)
		pl.drawThenColumn(q, col)
		col++
	}
	finding, front := col, col+1
	heads(finding, "not met", "", Head)
	s.Widths[finding-1] = 26
	if c.Kind.Compare.Frontier != nil {
		heads(front, "frontier", "", Head)
		col++
	}
	cat.now = col + 1
	heads(cat.now, "now", pl.unitName(c.By.Unit), Head)
	for i, st := range c.Ranked {
		row := allRow + i
		s.text(row, labelCol, itemLabel(c.Kind.Items[st.Item]), Label)
		if st.Eligible {
			s.Set(row, placeCol, Cell{Value: float64(i + 1), Format: "0", Style: Computed})
		}
		if o := c.Gravest(st.Item); o != nil {
			s.text(row, finding, o.Check.Severity.String()+": "+strings.ReplaceAll(o.Check.Name, "_", " "), ComputedText)
		} else if !st.Eligible {
			s.text(row, finding, "no figure", ComputedText)
		}
		if st.Frontier {
			s.text(row, front, "yes", ComputedText)
		}
		pl.drawNow(row, c.Kind.Items[st.Item].Name)
	}
	return allRow + len(c.Ranked) - 1
}

// drawThenColumn fills a column of the list with the values of a quantity.
func (pl *plan) drawThenColumn(q *check.Quantity, col int) {
	cat := pl.catalogue
	var values []float64
	for _, st := range cat.c.Ranked {
		if v, ok := value(cat.m, q, st.Item, 0).(float64); ok {
			values = append(values, v)
		}
	}
	format := ""
	if q.Type == decl.Number {
		format = decimalFormat(q.Decimals)
		if q.Decimals < 0 {
			format = decimalFormat(unit.DecimalsFor(values))
		}
	}
	for i, st := range cat.c.Ranked {
		v := value(cat.m, q, st.Item, 0)
		switch x := v.(type) {
		case nil:
			v = "-"
		case float64:
			v = round15(x)
		case []string:
			v = strings.Join(x, ", ")
		}
		cat.s.Set(allRow+i, col, Cell{Value: v, Format: format, Style: Computed})
	}
}

// drawNow puts the live figure of an item that goes through the workbook.
func (pl *plan) drawNow(row int, name string) {
	k := pl.prog.Compared()
	item := k.Item(name)
	if item < 0 {
		return
	}
	l := pl.places[k.Quantity(k.Compare.By)]
	t := cell(&ref{to: l, item: own})
	t = pl.unless(k, join("IF(", t, `="",`, noValue, ",", t, ")"), noValue)
	at := spot{page: &page{name: pl.catalogue.name}, item: item}
	pl.catalogue.s.Set(row, pl.catalogue.now, Cell{Formula: t.at(at), Style: Computed, Format: l.format})
}

// drawThen keeps the inputs as they are now and compares the cells of the page
// of inputs with them.
func (pl *plan) drawThen(row int) {
	s := pl.catalogue.s
	s.text(row, labelCol, "The inputs then", Heading)
	row++
	for i, h := range []string{"input", "changed", "which", "values then"} {
		look := Head
		if i == 0 {
			look = HeadText
		}
		s.text(row, labelCol+i, h, look)
	}
	row++
	first := row
	for _, k := range pl.prog.Kinds {
		if pl.names[k].row == 0 {
			continue
		}
		for _, l := range append(pl.inputsOf(k), pl.extra[k]...) {
			for r := range l.rows {
				if l.row > 0 && l.data != nil && pl.drawInputThen(l, r, row) {
					row++
				}
			}
		}
	}
	area := func(col int) string {
		return "$" + cellNameFixed(first, col) + ":$" + cellNameFixed(max(row-1, first), col)
	}
	s.Set(sinceRow, placeCol, Cell{Style: ComputedText,
		Formula: `IFERROR("changed: "&INDEX(` + area(changedCol) + ",MATCH(1," + area(flagCol) + `,0)),"unchanged")`})
}

// cellNameFixed is A$1, the column to be fixed by what stands before it.
func cellNameFixed(row, col int) string { return columnName(col) + "$" + number(float64(row)) }

// drawInputThen keeps one row of an input; it is false where the row has no
// values. A value that a formula gives may differ in its last digits.
func (pl *plan) drawInputThen(l *line, r, row int) bool {
	s, from := pl.catalogue.s, pl.inputs.sheet
	at, n := l.row+r, l.items()
	computed := false
	for i := range n {
		c := from.At(at, l.col+i)
		computed = computed || c.Formula != ""
		if c.Formula != "" && c.Value == nil {
			s.Set(row, thenCol+i, Cell{Formula: "Inputs!" + cellName(at, l.col+i), Format: c.Format, Style: Computed})
		} else if c.Value != nil {
			s.Set(row, thenCol+i, Cell{Value: c.Value, Format: c.Format, Style: Computed})
		}
	}
	name, _ := from.At(at, labelCol).Value.(string)
	if name == "" {
		name = l.label
	}
	s.text(row, labelCol, titleOf(l.kind)+": "+lowerFirst(name), Label)
	live := "Inputs!" + cellName(at, l.col) + ":" + cellName(at, l.col+n-1)
	then := cellName(row, thenCol) + ":" + cellName(row, thenCol+n-1)
	differs := "(((" + live + "<>" + then + ")+((" + live + `="")<>(` + then + `="")))>0)`
	count := "SUMPRODUCT(1*" + differs + ")"
	if computed {
		count = "IFERROR(SUMPRODUCT(1*(ABS(" + live + "-" + then + ")>1000*tolerance*ABS(" + then + "))),SUMPRODUCT(1*(" + live + "<>" + then + ")))"
	}
	s.Set(row, flagCol, Cell{Formula: "IF(" + count + ">0,1,0)", Style: Computed, Format: "0"})
	which := quoteText(name)
	if l.kind.Many {
		if !computed {
			beyond := number(mostColumns + 1)
			column := beyond + "-SUMPRODUCT(MAX(" + differs + "*(" + beyond + "-COLUMN(" + live + "))))"
			names := "Inputs!$A$" + number(float64(pl.names[l.kind].row)) + ":$" + cellNameFixed(pl.names[l.kind].row, l.col+n-1)
			which += `&" of "&INDEX(` + names + "," + column + ")"
		}
	} else {
		which = quoteText(name + " (" + titleOf(l.kind) + ")")
	}
	s.Set(row, changedCol, Cell{Formula: "IF(" + cellName(row, flagCol) + `=0,"",` + which + ")", Style: ComputedText})
	return true
}

// beyond says on the first sheet where all the others are, and whether they
// still hold.
func (a *answer) beyond() {
	cat := a.pl.catalogue
	if cat == nil {
		return
	}
	n := len(cat.c.Ranked) - len(a.k.Items)
	a.lines(fmt.Sprintf("%s more stand on the sheet %s, as computed at the inputs of the scenario; there they do not follow changes.", unit.Format(float64(n), 0), cat.name), Sentence)
	sheet := quoteSheet(cat.name)
	a.s.Set(a.row, labelCol, Cell{Value: "Inputs since then", Style: Link, Link: sheet + "!A1"})
	a.s.Set(a.row, unitCol, Cell{Formula: sheet + "!$" + columnName(placeCol) + "$" + number(sinceRow), Style: ComputedText})
	a.row += 2
}
