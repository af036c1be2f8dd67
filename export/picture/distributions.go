package picture

import (
	"errors"
	"fmt"
	"math"

	"bankwright/engine/unit"

	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"
)

// Distributions shows how a result of several items spreads: a row each with the
// outline of its histogram, all on one axis, its median and where nine in ten
// results lie, and beside it how likely something is. Each outline is as high as
// its row, whatever the others are.
type Distributions struct {
	Title, Note string
	Axis        string // the result, with its unit
	ChanceTitle string // what Chance is the chance of; nothing where there is none
	Items       []Distribution
}

// Distribution is what is told of the results of an item, of any number of them.
type Distribution struct {
	Item              string
	Look              int     // of which item it has the look, from 0
	Low, Median, High float64 // below which 5, 50 and 95 % of the results lie; NaN of none
	From, To          float64 // where the first bar begins and the last one ends
	Bars              []int   // how many results lie in each of some bars of equal width
	Missing           int     // results that there are not
	Chance            float64 // from 0 to 1, NaN where it is not known
}

const (
	spreadHeight = vg.Length(52)
	chanceWidth  = vg.Length(120)
)

func (d Distributions) prepare() (sketch, error) {
	if len(d.Items) == 0 {
		return sketch{}, errors.New("there are no items whose results could be drawn")
	}
	s := scale{title: d.Axis, min: math.Inf(1), max: math.Inf(-1)}
	for _, item := range d.Items {
		s.include(item.From, item.Low, item.Median, item.High, item.To)
	}
	height := spreadHeight*vg.Length(len(d.Items)) + axisHeight + keyHeight + 2*margin + 20
	paint := func(c draw.Canvas) { d.draw(c, s.widened()) }
	return sketch{title: d.Title, note: d.Note, width: pictureWidth, height: height, draw: paint}, nil
}

func (d Distributions) draw(c draw.Canvas, s scale) {
	list, decimals := d.Items, d.decimals()
	names := vg.Length(0)
	for _, item := range list {
		names = max(names, labelPen.width(item.Item), smallPen.width(item.range90(decimals)))
	}
	column := vg.Length(0)
	if d.ChanceTitle != "" {
		column = chanceWidth
	}
	left := draw.Crop(c, 0, -column, 0, 0)
	r := newRows(left, len(list), min(names, mostNames), keyHeight, s)
	r.axes()
	step := (r.Max.Y - r.Min.Y) / vg.Length(len(list))
	for row, item := range list {
		base := r.Max.Y - step*vg.Length(row+1) + 17
		r.spread(item, lookOf(item.Look), base, step-23)
		labelPen.write(c, r.right, base+step/2-8, 1, labelPen.shorten(item.Item, mostNames))
		smallPen.write(c, r.right, base+step/2-21, 1, smallPen.shorten(item.range90(decimals), mostNames))
		if isNumber(item.Median) {
			r.median(item, base, decimals)
		}
		if column > 0 {
			labelPen.write(c, r.Max.X+14, base+step/2-12, 0, chance(item.Chance))
		}
	}
	if column > 0 {
		lines := tickPen.wrap(d.ChanceTitle, column-10, 3)
		for i, l := range lines {
			tickPen.write(c, r.Max.X+14, r.Max.Y+11*vg.Length(len(lines)-1-i)+6, 0, l)
		}
	}
}

// decimals are those that the figures of all rows share.
func (d Distributions) decimals() int {
	var values []float64
	for _, item := range d.Items {
		values = append(values, item.Low, item.Median, item.High)
	}
	return unit.DecimalsFor(values)
}

// range90 says where nine in ten results lie, and how many there are not.
func (d Distribution) range90(decimals int) string {
	if !isNumber(d.Median) {
		return unit.Format(math.NaN(), 0)
	}
	text := fmt.Sprintf("9 in 10 from %s to %s", unit.Format(d.Low, decimals), unit.Format(d.High, decimals))
	if d.Missing > 0 {
		text += fmt.Sprintf(", %s without", unit.Format(float64(d.Missing), 0))
	}
	return text
}

// spread draws the outline of a histogram on its base line; a single value is a line
// upright.
func (r rows) spread(d Distribution, as look, base, height vg.Length) {
	r.StrokeLine2(draw.LineStyle{Color: pale, Width: 0.5}, r.Min.X, base, r.Max.X, base)
	most := 0
	for _, n := range d.Bars {
		most = max(most, n)
	}
	if most == 0 {
		return
	}
	x := r.x(d.From)
	width := (r.x(d.To) - x) / vg.Length(len(d.Bars))
	line := []vg.Point{{X: x, Y: base}}
	for _, n := range d.Bars {
		y := base + height*vg.Length(n)/vg.Length(most)
		line = append(line, vg.Point{X: x, Y: y}, vg.Point{X: x + width, Y: y})
		x += width
	}
	line = append(line, vg.Point{X: x, Y: base})
	r.FillPolygon(as.fill, line)
	r.StrokeLines(draw.LineStyle{Color: as.ink, Width: 1.2}, line)
}

// median marks the median and where nine in ten results lie.
func (r rows) median(d Distribution, base vg.Length, decimals int) {
	at := r.x(d.Median)
	r.StrokeLine2(draw.LineStyle{Color: black, Width: 2}, r.x(d.Low), base, r.x(d.High), base)
	dot(r.Canvas, vg.Point{X: at, Y: base}, 3, black)
	text := unit.Format(d.Median, decimals)
	half := smallPen.width(text) / 2
	smallPen.in(black).write(r.Canvas, max(r.Min.X+half, min(at, r.Max.X-half)), base-9, 0.5, text)
}

// chance says a probability in words.
func chance(p float64) string {
	switch {
	case math.IsNaN(p):
		return unit.Format(p, 0)
	case p <= 0:
		return "in no case"
	case p < 0.01:
		return "in fewer than 1 of 100"
	case p >= 1:
		return "in every case"
	case p > 0.99:
		return "in more than 99 of 100"
	}
	return fmt.Sprintf("in %s of 100 cases", unit.Format(100*p, 0))
}
