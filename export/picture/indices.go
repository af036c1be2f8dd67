package picture

import (
	"cmp"
	"errors"
	"math"
	"slices"

	"bankwright/engine/unit"

	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"
)

// Indices shows which inputs make a result uncertain: for each the share of the
// variance that it makes alone and with all others (Sobol' indices of first
// order and total), the largest on top.
type Indices struct {
	Title, Note string
	Axis        string  // what the shares are of
	Inputs      []Index // in any order
}

// Index is the share of an input.
type Index struct {
	Input        string
	First, Total Estimate
}

// Estimate is a figure, NaN where there is none, and how far it may lie off,
// NaN where that is not known.
type Estimate struct{ Value, Low, High float64 }

const indexHeight = vg.Length(30)

func (x Indices) prepare() (sketch, error) {
	if len(x.Inputs) == 0 {
		return sketch{}, errors.New("there are no inputs whose shares could be drawn")
	}
	x.Inputs = slices.Clone(x.Inputs)
	largest := func(i Index) float64 {
		s := scale{min: 0, max: -1}
		s.include(i.First.Value, i.Total.Value)
		return s.max
	}
	slices.SortStableFunc(x.Inputs, func(a, b Index) int { return cmp.Compare(largest(b), largest(a)) })
	height := indexHeight*vg.Length(len(x.Inputs)) + axisHeight + keyHeight + 2*margin
	return sketch{title: x.Title, note: x.Note, width: pictureWidth, height: height, draw: x.draw}, nil
}

func (x Indices) draw(c draw.Canvas) {
	var names []string
	var tags []tag
	s := scale{title: x.Axis, min: 0, max: 0}
	for _, i := range x.Inputs {
		names = append(names, i.Input)
		for _, e := range []Estimate{i.First, i.Total} {
			s.include(e.Value, e.Low, e.High)
			tags = append(tags, tag{at: e.end(), width: 40})
		}
	}
	if s.max <= s.min {
		s.max = 1
	}
	left := nameWidth(names)
	r := newRows(c, len(names), left, keyHeight, s.fit(c.Max.X-c.Min.X-left-30, tags))
	r.axes()
	key(c, r.Min.X, c.Max.Y-keyHeight/2, meaning{fills[4], "with all others (total)"}, meaning{fills[1], "alone (first order)"})
	for row, i := range x.Inputs {
		r.name(row, i.Input)
		for _, b := range []struct {
			Estimate
			y    vg.Length
			fill int
		}{{i.Total, 5.5, 4}, {i.First, -5.5, 1}} {
			r.estimate(b.Estimate, r.middle(row)+b.y, b.fill)
		}
	}
	r.upright(0, draw.LineStyle{Color: black, Width: 1})
}

// end is the rightmost of what is drawn of an estimate.
func (e Estimate) end() float64 {
	s := scale{min: 0, max: 0}
	s.include(e.Value, e.High)
	return s.max
}

// estimate draws a bar with its whiskers and its figure.
func (r rows) estimate(e Estimate, y vg.Length, fill int) {
	if !isNumber(e.Value) {
		smallPen.write(r.Canvas, r.x(0)+4, y, 0, unit.Format(math.NaN(), 0))
		return
	}
	r.bar(0, e.Value, y, 9, fills[fill])
	if isNumber(e.Low) && isNumber(e.High) {
		a, b := r.x(e.Low), r.x(e.High)
		for _, style := range []draw.LineStyle{{Color: white, Width: 3}, {Color: black, Width: 1}} {
			r.StrokeLine2(style, a, y, b, y)
		}
		for _, at := range []vg.Length{a, b} {
			r.StrokeLine2(draw.LineStyle{Color: black, Width: 1}, at, y-2.5, at, y+2.5)
		}
	}
	smallPen.in(black).write(r.Canvas, r.x(e.end())+5, y, 0, unit.Format(e.Value, 2))
}
