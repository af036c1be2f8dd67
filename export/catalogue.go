package export

import (
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
	sinceRow = 3 // what was changed since
	allHead  = 5 // heads, and units below them
	allRow   = 7
	placeCol = 2
)

// ownerWidth is the width of the column that says below the list whose an input
// is.
const ownerWidth = 18

// putCatalogue puts the sheet of all behind that of the checks.
func (pl *plan) putCatalogue() {
	at := max(pl.book.Sheet(pl.checks.name), pl.book.Sheet(unmetName)) + 1
	pl.book.Sheets = slices.Insert(pl.book.Sheets, at, pl.drawCatalogue())
}

// drawCatalogue draws the sheet of all items, best first, and the inputs then.
func (pl *plan) drawCatalogue() *Sheet {
	cat := pl.catalogue
	title := "All " + lowerFirst(titleOf(cat.c.Kind))
	lead := "Values, computed " + pl.whenWritten() + ": they do not follow what is changed here. Only the column at the right is live."
	cat.s = pl.head(&page{name: cat.name, title: title, lead: lead})
	cat.s.FreezeRows, cat.s.FreezeCols, cat.s.Print.RepeatRows = allRow-1, 1, allRow-1
	cat.s.Widths = []float64{labelWidth, ownerWidth}
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

// drawThen lists the inputs that the values follow from, live and as they were,
// in the way of the sheet Computed, and says above which of them has changed.
func (pl *plan) drawThen(row int) {
	cat := pl.catalogue
	stands := pl.standing(influenceOn(cat.m.Result, cat.cells()...).among(pl.prog))
	first := row + 2
	for len(cat.s.Widths) < thenStateCol {
		cat.s.Widths = append(cat.s.Widths, itemWidth)
	}
	drawSinceThen(cat.s, first, stands, placeCol)
}

// cells are the values of the list and those of the checks.
func (cat *catalogue) cells() []influenceCell {
	list := cat.columns()
	for _, c := range cat.m.Checks {
		if c.Result.Kind == cat.c.Kind {
			list = append(list, c.Result)
		}
	}
	var out []influenceCell
	for _, q := range list {
		for i := range cat.c.Kind.Items {
			out = append(out, influenceCell{q, i})
		}
	}
	return out
}
