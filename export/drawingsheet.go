package export

import (
	"bytes"
	"image/png"

	"bankwright/engine/check"
	"bankwright/engine/unit"
	"bankwright/export/picture"
)

// A picture cannot follow what is changed in a workbook. Each drawing of the rules has
// a sheet with one picture for each item; below them stand the inputs that they were
// drawn from, live and as they were, in the way of the sheet Computed, and above them
// whether any has been changed since.

// pictured is a sheet of pictures.
type pictured struct {
	name string
	d    *check.Drawing
}

// Measures of the sheet, in pixels.
const (
	shownWidth = 1050 // of a picture: a page in landscape
	rowHeight  = 20
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
func (pl *plan) drawPictures() []*Sheet {
	var out []*Sheet
	for _, p := range pl.pictures {
		out = append(out, pl.drawPicture(p))
	}
	return out
}

func (pl *plan) drawPicture(p pictured) *Sheet {
	when := "when this workbook was written"
	if d := pl.prog.Model.Date; d != "" {
		when = "on " + d
	}
	s := pl.head(&page{name: p.name, title: p.d.Title, lead: "Drawn " + when + " from the inputs that are listed below: pictures do not follow what is changed here."})
	s.Widths = []float64{labelWidth, ownerWidth, itemWidth, itemWidth, itemWidth, itemWidth}
	s.FreezeRows, s.Print.RepeatRows = sinceRow, sinceRow
	s.text(sinceRow, labelCol, "Inputs since then", Label)
	row := sinceRow + 2
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
		if i > 0 {
			s.Breaks = append(s.Breaks, row)
		}
		s.Pictures = append(s.Pictures, Picture{Row: row, Col: labelCol, Width: shownWidth, Text: k.Title + ". " + k.Note, PNG: b.Bytes()})
		row += size.Height*shownWidth/size.Width/rowHeight + 2
	}
	s.Breaks = append(s.Breaks, row)
	pl.sinceDrawn(s, p, row)
	return s
}

// sinceDrawn lists the inputs that the pictures of a sheet were drawn from.
func (pl *plan) sinceDrawn(s *Sheet, p pictured, row int) {
	in := newInfluence(pl.res)
	for i := range p.d.Kind.Items {
		in.drawing(p.d, i)
	}
	stands := pl.standing(in.complete())
	first := row + 2
	last := max(first, first+len(stands)-1)
	drawStands(s, first, stands, nil)
	s.Marks = append(s.Marks, Mark{cellName(first, thenStateCol) + ":" + cellName(last, thenStateCol), changed, Unfit})
	s.Set(sinceRow, thenOwnerCol, Cell{Style: ComputedText,
		Formula: `IFERROR("` + changed + `: "&` + firstChanged(thenStateCol, first, last) + `,"` + unchanged + `")`})
}

// drawing adds what the drawing of an item reads.
func (in *influence) drawing(d *check.Drawing, item int) {
	lines := func(list [][]check.Part, item int) {
		for _, l := range list {
			for _, p := range l {
				in.expr(p.Read, item, nil)
			}
		}
	}
	lines(d.Note, item)
	lines(d.Foot, item)
	for _, e := range []*check.Expr{d.Columns, d.Rows, d.Positive, d.Negative} {
		in.expr(e, item, nil)
	}
	for _, p := range d.Parts {
		if p.Is != nil {
			in.add(p.Is, item)
		}
		for _, i := range toldBy(in.res, p, item) {
			in.expr(p.When, i, nil)
			lines(p.Label, i)
		}
	}
}

// pictures says on the first sheet where the drawings are, and whether they still
// hold.
func (a *answer) pictures() {
	for _, p := range a.pl.pictures {
		sheet := quoteSheet(p.name)
		a.s.Set(a.row, labelCol, Cell{Value: p.d.Title + ", drawn: " + unit.Format(float64(len(p.d.Kind.Items)), 0), Style: Link, Link: sheet + "!A1"})
		a.s.Set(a.row, unitCol, Cell{Formula: sheet + "!$" + columnName(thenOwnerCol) + "$" + number(sinceRow), Style: ComputedText})
		a.row += 2
	}
}
