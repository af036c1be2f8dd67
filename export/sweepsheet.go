package export

import (
	"unicode/utf8"

	"bankwright/engine"
	"bankwright/engine/check"
	"bankwright/export/told"
)

// The sheet Sweeps shows what studies of the model found: who wins where, what matters,
// how sure it is, and where two are level. Nothing of it is live. Beside each study
// stands whether the inputs that it reaches are still those of then.

const sweepsName = "Sweeps"

// Columns of the sheet.
const (
	studyNameCol  = 1 // the steps of an axis, items, inputs
	studyFirstCol = 2
	studyValueCol = 3
)

const (
	studyStateRow = 3 // the one cell that says whether anything changed
	studyHeadRow  = 4 // of what is repeated on each page, the last
	studyRow      = 5 // the first study

	studyWidth   = 12 // of a column, in characters
	narrowWidth  = 9
	studyColumns = 9 // as wide as that, at least

	mostChosen = 6  // items side by side, and lines in a chart
	mostSteps  = 25 // of an axis down a table that stays on one page with its heading
)

// studies is the sheet in the making.
type studies struct {
	pl   *plan
	m    *engine.Model // in which the studies were run: with all items, also where the book has some
	w    told.Words
	kind *check.Kind // compared, or nil
	by   *check.Quantity
	s    *Sheet
	row  int // the next free one
	top  int // the first one of the page on paper
	page int // rows on a page
	head int // the row of heads that was drawn last

	columns int      // beside the first two
	narrow  bool     // these are narrow
	groups  []*reach // inputs that studies reach
	since   []sinceCell
	reached *Sheet // of these inputs
}

// drawSweeps draws the sheet of studies and that of the inputs which they reach; none
// where none was run. Where it is not known
// what they found, other sheets are as if it were.
func (pl *plan) drawSweeps() []*Sheet {
	f := pl.found
	switch {
	case f == nil:
		return nil
	case len(f.Sweeps)+len(f.Doubts)+len(f.BreakEvens) == 0 && f.Effects == nil:
		pl.blind = len(pl.model.Declared()) > 0
		return nil
	}
	x := newStudies(pl)
	for _, s := range f.Sweeps {
		x.sweep(s)
	}
	if f.Effects != nil {
		x.effects()
	}
	for _, d := range f.Doubts {
		x.doubt(d)
	}
	for _, b := range f.BreakEvens {
		x.breakEven(b)
	}
	if x.by != nil {
		x.since = append(x.since, sinceCell{0, movedAlone, x.reaching(movedAlone, x.judged(), nil)})
	}
	x.inputs()
	return []*Sheet{x.s, x.reached}
}

func newStudies(pl *plan) *studies {
	x := &studies{pl: pl, m: pl.model, columns: studyColumns, row: studyRow, top: studyRow}
	if pl.catalogue != nil {
		x.m = pl.catalogue.m
	}
	x.w = told.Words{M: x.m, Name: x.name}
	if x.kind = x.m.Compared(); x.kind != nil {
		x.by = x.kind.Quantity(x.kind.Compare.By)
	}
	for _, f := range pl.found.Sweeps {
		if n := len(f.Table.Axes); n > 1 && f.Table.Judge != nil {
			_, across := mapAxes(f.Table)
			x.columns = max(x.columns, len(told.Thinned(f.Table.Axes[across].Steps(), mostAcross-1)))
		}
	}
	x.narrow = x.columns > studyColumns
	x.s = pl.head(&page{name: sweepsName, title: sweepsName,
		lead: "What studies of the model found. Computed " + pl.whenWritten() + ", not live. Whether the inputs that they reach are still the same:"})
	x.s.FreezeRows, x.s.Print.RepeatRows = studyHeadRow, studyHeadRow
	x.s.Widths = []float64{labelWidth, ownerWidth}
	for range x.columns {
		x.s.Widths = append(x.s.Widths, x.columnWidth())
	}
	x.s.text(1, len(x.s.Widths), "not live", FrozenText) // and so every page is as wide
	total := 0.0
	for _, w := range x.s.Widths {
		total += w
	}
	x.page = rowsOnPage(total) - studyHeadRow - 3 // some rows take two lines
	return x
}

func (x *studies) columnWidth() float64 {
	if x.narrow {
		return narrowWidth
	}
	return studyWidth
}

// name is what an input is called here: as on the sheet Inputs, and whose it is.
func (x *studies) name(c check.Place) string {
	label := x.label(c)
	if c.Quantity.Kind.Many {
		return lowerFirst(label) + " of " + itemLabel(c.Quantity.Kind.Items[c.Item])
	}
	return lowerFirst(label)
}

// label is the label of an input, with its step in a series.
func (x *studies) label(c check.Place) string {
	q := c.Quantity
	if len(q.Axes) == 0 {
		return labelOf(q)
	}
	return labelOf(q) + ": " + stepLabel(q.Axes, stepsAt(q, c.Row))
}

// stepsAt are the steps of a series at a row of its values.
func stepsAt(q *check.Quantity, row int) (out []int) {
	q.EachStep(func(steps []int, at int) {
		if at == row {
			out = append([]int(nil), steps...)
		}
	})
	return out
}

// link leads to an input on the sheet Inputs; "" where it does not stand there.
func (x *studies) link(c check.Place) string {
	k := x.pl.prog.Kind(c.Quantity.Kind.Name)
	if k == nil {
		return ""
	}
	item, q := k.Item(c.Quantity.Kind.Items[c.Item].Name), k.Quantity(c.Quantity.Name)
	for _, l := range x.pl.inputs.lines {
		if l.q == q && q != nil && item >= 0 && l.row > 0 && l.has(item) {
			return quoteSheet(l.page.name) + "!" + cellName(l.row+x.lineRow(c), l.column(item))
		}
	}
	return ""
}

// lineRow is the row of an input's cell among those of its quantity.
func (x *studies) lineRow(c check.Place) (n int) {
	at := 0
	if len(c.Quantity.Axes) > 0 {
		c.Quantity.EachStep(func(_ []int, row int) {
			if row == c.Row {
				n = at
			}
			at++
		})
	}
	return n
}

// input puts the name of an input, which leads to it.
func (x *studies) input(c check.Place) {
	cell := Cell{Value: upperFirst(x.w.Name(c)), Style: Label}
	if to := x.link(c); to != "" {
		cell.Style, cell.Link = Link, to
	}
	x.s.Set(x.row, studyNameCol, cell)
}

// begin begins a study, of which so many rows stay together: its title, how a scenario
// calls it, and whether the inputs that it reaches have changed.
func (x *studies) begin(title, name string, rows int, cells []influenceCell, moved ...*check.Axis) {
	if x.row > studyRow {
		x.row += 2
	}
	x.room(rows + 3)
	x.s.text(x.row, studyNameCol, title, Heading)
	x.s.text(x.row+1, studyNameCol, name, Note)
	x.s.text(x.row+2, studyNameCol, "Inputs since then", Label)
	x.since = append(x.since, sinceCell{x.row + 2, name, x.reaching(name, cells, moved)})
	x.row += 3
}

// newPage begins a page on paper.
func (x *studies) newPage() {
	x.s.Breaks = append(x.s.Breaks, x.row)
	x.top = x.row
}

// room begins a page where so many rows do not fit on this one.
func (x *studies) room(rows int) {
	if x.row > x.top && x.row-x.top+rows > x.page {
		x.newPage()
	}
}

// say writes sentences over as many rows as they need; none of an empty one.
func (x *studies) say(texts ...string) {
	width := 0.0
	for _, w := range x.s.Widths {
		width += w
	}
	for _, t := range texts {
		if t == "" {
			continue
		}
		for _, l := range wrap(t, int(width)) {
			x.room(1)
			x.s.text(x.row, studyNameCol, l, Sentence)
			x.row++
		}
	}
}

// section writes a title within a study; so many rows below it stay on its page.
func (x *studies) section(title string, rows int) {
	x.room(rows + 2)
	x.s.text(x.row+1, studyNameCol, title, Section)
	x.row += 2
}

// lines is how many lines the names of items take in a column.
func (x *studies) lines(col int, items ...int) int {
	n := 1
	for _, item := range items {
		n = max(n, 1+(utf8.RuneCountInString(told.Item(x.kind, item))-1)/int(x.s.Widths[col-1]))
	}
	return n
}

// chosen are the items that stand side by side: the first ones of an order, and how many
// more there are, in words.
func (x *studies) chosen(order []int) ([]int, string) {
	if len(order) <= mostChosen {
		return order, ""
	}
	names := ""
	const most = 6
	for i, item := range order[mostChosen:] {
		switch {
		case i == most:
			return order[:mostChosen], "Not shown beside them: " + names + " and " + told.Count(len(order)-mostChosen-most) + " more."
		case i > 0:
			names += ", "
		}
		names += told.Item(x.kind, item)
	}
	return order[:mostChosen], "Not shown beside them: " + names + "."
}
