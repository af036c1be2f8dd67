package picture

import (
	"image/color"

	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"
)

// What pictures of rows share: names on the left, bars beside them.

const (
	keyHeight  = vg.Length(16) // of the line that says what colours mean
	axisHeight = vg.Length(46) // of an axis below, its title included
	mostNames  = vg.Length(170)
)

// rows are the places of rows, the first on top, between a key and an axis.
type rows struct {
	area
	count int
	right vg.Length // where the names on the left end
}

// newRows lays out so many rows below a head, with names of a width on the left.
func newRows(c draw.Canvas, count int, names, head vg.Length, x scale) rows {
	inner := draw.Crop(c, names+10, 0, 0, -head)
	return rows{newArea(inner, x, scale{min: 0, max: float64(count), hidden: true}), count, c.Min.X + names}
}

// nameWidth is how wide a column of names is.
func nameWidth(names []string) vg.Length {
	widest := vg.Length(0)
	for _, n := range names {
		widest = max(widest, labelPen.width(n))
	}
	return min(widest, mostNames)
}

// middle is the height of a row's middle.
func (r rows) middle(row int) vg.Length { return r.y(float64(r.count-row) - 0.5) }

// name writes the name of a row.
func (r rows) name(row int, s string) {
	labelPen.write(r.Canvas, r.right, r.middle(row), 1, labelPen.shorten(s, mostNames))
}

// bar draws a bar from a value to another.
func (r rows) bar(from, to float64, y, height vg.Length, fill color.Color) {
	a, b := r.x(from), r.x(to)
	box := vg.Rectangle{Min: vg.Point{X: min(a, b), Y: y - height/2}, Max: vg.Point{X: max(a, b), Y: y + height/2}}
	r.SetColor(fill)
	r.Fill(box.Path())
	outlineBox(r.Canvas, box)
}

// upright draws a line at a value through all rows.
func (r rows) upright(at float64, style draw.LineStyle) {
	r.StrokeLine2(style, r.x(at), r.Min.Y, r.x(at), r.Max.Y)
}

// meaning is what a colour means.
type meaning struct {
	fill color.Color
	text string
}

// key says what colours mean, on a line from x on.
func key(c draw.Canvas, x, y vg.Length, list ...meaning) {
	for _, m := range list {
		box := vg.Rectangle{Min: vg.Point{X: x, Y: y - 4}, Max: vg.Point{X: x + 14, Y: y + 4}}
		c.SetColor(m.fill)
		c.Fill(box.Path())
		outlineBox(c, box)
		tickPen.write(c, box.Max.X+5, y, 0, m.text)
		x = box.Max.X + 5 + tickPen.width(m.text) + 16
	}
}

// tag is a text beside a value, so wide with its gap.
type tag struct {
	at    float64
	width vg.Length
	left  bool
}

// fit widens a scale until the tags fit into a width. Tags on both sides
// together must be narrower than it.
func (s scale) fit(width vg.Length, tags []tag) scale {
	for range 40 {
		unit := (s.max - s.min) / float64(width)
		wider := s
		for _, t := range tags {
			if t.left {
				wider.include(t.at - unit*float64(t.width))
			} else {
				wider.include(t.at + unit*float64(t.width))
			}
		}
		if wider.min == s.min && wider.max == s.max {
			break
		}
		s = wider
	}
	return s
}
