package export

import (
	"bytes"
	"image/png"

	"bankwright/engine/check"
	"bankwright/engine/decl"
	"bankwright/engine/eval"
	"bankwright/export/picture"
)

// A picture cannot follow what is changed in a workbook. Each drawing of the rules has
// a sheet with one picture for each item, and above it what forbids it now; below them stands what they show, live and as
// it was drawn, in the way of the sheet Computed, and above them whether any of it has
// changed since.

// pictured is a sheet of pictures.
type pictured struct {
	name string
	d    *check.Drawing
}

// Measures of the sheet, in pixels.
const (
	shownWidth  = 940  // of a picture: as wide as a page, on which its letters are 7 points high
	rowHeight   = 20   // said of each row beside pictures, since programs differ
	uprightHigh = 1250 // of an upright page that is so wide, without what is repeated on it
)

// nameDrawings gives each drawing that has something to draw a sheet.
func (pl *plan) nameDrawings() {
	for _, d := range pl.prog.Drawings {
		if len(d.Kind.Items) > 0 {
			pl.pictures = append(pl.pictures, pictured{pl.sheetName(d.Title), d})
		}
	}
}

// drawPictures draws the sheets of all drawings.
func (pl *plan) drawPictures(checks *checkPage) []*Sheet {
	var out []*Sheet
	for _, p := range pl.pictures {
		out = append(out, pl.drawPicture(p, checks))
	}
	return out
}

func (pl *plan) drawPicture(p pictured, checks *checkPage) *Sheet {
	s := pl.head(&page{name: p.name, title: p.d.Title, lead: "Drawn " + pl.whenWritten() + " from the values that are listed below: pictures do not follow what is changed here."})
	s.Widths = []float64{labelWidth, 26, 15, 15, 15, 16} // together as wide as a picture
	s.FreezeRows, s.Print.RepeatRows = sinceRow, sinceRow
	s.Print.Landscape = false
	s.text(sinceRow, labelCol, "Values since then", Label)
	row := sinceRow + 2
	top := row // of the page
	for i := range p.d.Kind.Items {
		k := Circuit(pl.model, p.d, i)
		var b bytes.Buffer
		if err := picture.Write(&b, k, picture.PNG); err != nil {
			pl.fail("the sheet %s cannot be drawn: %s: %w", p.name, itemLabel(p.d.Kind.Items[i]), err)
			return s
		}
		size, err := png.DecodeConfig(bytes.NewReader(b.Bytes()))
		if err != nil {
			pl.fail("the sheet %s cannot be drawn: %w", p.name, err)
			return s
		}
		rows := size.Height*shownWidth/size.Width/rowHeight + 3
		if i > 0 && (row-top+rows)*rowHeight > uprightHigh {
			s.Breaks = append(s.Breaks, row)
			top = row
		}
		if from := checks.forbids[p.d.Kind]; from > 0 {
			at := func(row int) string { return "Checks!" + columnName(checkItemCol+i) + "$" + number(float64(row)) }
			s.Set(row, labelCol, Cell{Formula: "IF(" + at(from) + `<>"",` + at(from) + "," + at(from+1) + ")", Style: Alert, Span: int16(len(s.Widths))})
		}
		s.Pictures = append(s.Pictures, Picture{Row: row + 1, Col: labelCol, Width: shownWidth, Text: k.Title + ". " + k.Note, PNG: b.Bytes()})
		row += rows
	}
	for range row - 1 {
		s.Heights = append(s.Heights, rowHeight*72/96)
	}
	s.Breaks = append(s.Breaks, row)
	pl.sinceDrawn(s, p, row)
	return s
}

// sinceDrawn lists what the pictures of a sheet show, live and as it was drawn.
func (pl *plan) sinceDrawn(s *Sheet, p pictured, row int) {
	var stands []stand
	seen := map[eval.Cell]bool{}
	for i := range p.d.Kind.Items {
		for _, c := range pl.shownBy(p.d, i) {
			if l := pl.places[c.Quantity]; !seen[c] && l != nil && l.row > 0 {
				seen[c] = true
				stands = append(stands, pl.cellStand(l, c))
			}
		}
	}
	first := row + 2
	drawSinceThen(s, first, stands, thenOwnerCol)
	s.text(row, thenInputCol, "What they show", Section)
	s.text(row+1, thenInputCol, "value", HeadText)
}

// shownBy are the cells that the drawing of an item reads.
func (pl *plan) shownBy(d *check.Drawing, item int) []eval.Cell {
	var out []eval.Cell
	read := func(axis *decl.Axis, item, step int) func(*check.Expr) {
		return func(e *check.Expr) {
			if e.Op != check.Read || e.Ref.Origin == check.Each {
				return
			}
			c, found := pl.res.Target(e, item)
			if q := c.Quantity; len(q.Axes) == 1 && q.Axes[0] == axis {
				c.Row = q.Row(step)
			} else if len(q.Axes) > 0 {
				found = false // an aggregate, whose parts are not shown
			}
			if found {
				out = append(out, c)
			}
		}
	}
	lines := func(list [][]check.Part, f func(*check.Expr)) {
		for _, l := range list {
			for _, p := range l {
				p.Read.Walk(f)
			}
		}
	}
	own := read(nil, item, 0)
	for _, e := range []*check.Expr{d.Columns, d.Rows, d.Positive, d.Negative} {
		e.Walk(own)
	}
	lines(d.Note, own)
	lines(d.Foot, own)
	for _, p := range d.Parts {
		out = append(out, membersOf(p, item)...)
		steps := 1
		if p.Place == decl.Below {
			steps = min(drawn{m: pl.model, item: item}.count(d.Columns), p.Axis.Steps)
		}
		for _, i := range toldBy(pl.res, p, item) {
			for step := range steps {
				f := read(p.Axis, i, step)
				p.When.Walk(f)
				lines(p.Label, f)
			}
		}
	}
	return out
}

// membersOf are the cells that tell which items a part of a drawing stands for.
func membersOf(p *check.DrawnPart, item int) (out []eval.Cell) {
	switch {
	case p.Is == nil:
	case p.Is.Type == decl.Reference:
		out = append(out, eval.Cell{Quantity: p.Is, Item: item})
	default:
		for i := range p.Kind.Items {
			out = append(out, eval.Cell{Quantity: p.Is, Item: item, Row: i})
		}
	}
	return out
}

// cellStand is a cell that a drawing shows.
func (pl *plan) cellStand(l *line, c eval.Cell) stand {
	q := c.Quantity
	st := stand{label: l.label, owner: titleOf(l.kind), unit: l.unitOr(), then: pl.content(q, c.Item, c.Row), format: l.format, look: Pulled, worked: true}
	if l.kind.Many {
		st.owner = itemLabel(l.kind.Items[c.Item])
	}
	at := 0
	switch {
	case q.Type == decl.Set:
		at, st.label = c.Row, l.rowLabel(c.Row)
	case len(q.Axes) > 0:
		steps := q.StepsOf(c.Row)
		at = l.page.rowOf(steps)
		st.label += ", " + number(float64(steps[0]+1))
	}
	st.at = Range{Sheet: l.page.name, Row: l.row + at, Col: l.column(c.Item)}
	return st.single()
}
