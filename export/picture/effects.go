package picture

import (
	"cmp"
	"errors"
	"image/color"
	"math"
	"slices"

	"bankwright/engine/unit"

	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"
)

// Effects shows how far each input alone, at its low and at its high end, moves
// a result away from that of the inputs as given, the largest move on top.
type Effects struct {
	Title, Note string
	Axis        string   // the result, with its unit
	Base        float64  // the result with all inputs as given
	BaseName    string   // what that is called
	Inputs      []Effect // in any order
}

// Effect is what an input does.
type Effect struct {
	Input     string // its name
	Low, High End
}

// End is an end of an input's range.
type End struct {
	Input  string  // the input's value there, with its unit
	Result float64 // NaN where there is none
	Winner string  // who wins there instead, if anybody
}

// reach is how far an input moves the result, -1 where it has none.
func (e Effect) reach(base float64) float64 {
	s := scale{min: base, max: base}
	s.include(e.Low.Result, e.High.Result)
	if isNumber(e.Low.Result) || isNumber(e.High.Result) {
		return s.max - s.min
	}
	return -1
}

func isNumber(v float64) bool { return !math.IsNaN(v) && !math.IsInf(v, 0) }

const effectHeight = vg.Length(28)

func (e Effects) prepare() (sketch, error) {
	if len(e.Inputs) == 0 {
		return sketch{}, errors.New("there are no inputs whose effects could be drawn")
	}
	if !isNumber(e.Base) {
		return sketch{}, errors.New("effects cannot be drawn: with the inputs as given there is no result")
	}
	e.Inputs = slices.Clone(e.Inputs)
	slices.SortStableFunc(e.Inputs, func(a, b Effect) int { return cmp.Compare(b.reach(e.Base), a.reach(e.Base)) })
	height := effectHeight*vg.Length(len(e.Inputs)) + axisHeight + keyHeight + 2*margin + 18
	return sketch{title: e.Title, note: e.Note, width: pictureWidth, height: height, draw: e.draw}, nil
}

// ending is an end of a bar as it is drawn.
type ending struct {
	End
	tag
	text string
	y    vg.Length // above the middle of the row
	fill int
}

// mostTag is the share of a picture that a text beside a bar may take.
const mostTag = 0.36

// endings are both ends of an input. Where they lie on the same side of the
// base, each has half of the row.
func (e Effects) endings(of Effect, width vg.Length) []ending {
	list := []ending{{End: of.Low, fill: 4}, {End: of.High, fill: 0}}
	low, high := of.Low.Result-e.Base, of.High.Result-e.Base
	if low*high > 0 {
		list[0].y, list[1].y = 6.5, -6.5
	}
	lowLeft := low < 0 || low == 0 && high >= 0 || math.IsNaN(low) && !(high < 0)
	highLeft := high < 0 || high == 0 && !lowLeft || math.IsNaN(high) && !lowLeft
	for i, left := range []bool{lowLeft, highLeft} {
		n := &list[i]
		n.text = n.Input
		if !isNumber(n.Result) {
			n.Result, n.text = e.Base, join(n.Input+":", "no value")
		}
		if n.Winner != "" {
			const before, after = ": ", " wins"
			room := mostTag*width - smallPen.width(n.Input+before+after) - 4
			n.text = n.Input + before + smallPen.shorten(n.Winner, max(room, 30)) + after
		}
		n.text = smallPen.shorten(n.text, mostTag*width)
		n.tag = tag{at: n.Result, width: smallPen.width(n.text) + 9, left: left}
	}
	return list
}

func (e Effects) draw(c draw.Canvas) {
	var names []string
	for _, i := range e.Inputs {
		names = append(names, i.Input)
	}
	width := c.Max.X - c.Min.X - nameWidth(names) - 30
	s := scale{title: e.Axis, min: e.Base, max: e.Base}
	var ends [][]ending
	var tags []tag
	for _, i := range e.Inputs {
		list := e.endings(i, width)
		ends = append(ends, list)
		for _, n := range list {
			s.include(n.Result)
			tags = append(tags, n.tag)
		}
	}
	r := newRows(c, len(names), nameWidth(names), keyHeight+14, s.widened().fit(width, tags))
	r.axes()
	key(c, r.Min.X, c.Max.Y-keyHeight/2, meaning{fills[4], "input at its low end"}, meaning{fills[0], "input at its high end"})
	for row, list := range ends {
		r.name(row, names[row])
		for _, n := range list {
			r.ending(n, e.Base, r.middle(row)+n.y)
		}
	}
	r.upright(e.Base, draw.LineStyle{Color: black, Width: 1})
	base := join(e.BaseName, unit.Format(e.Base, -1))
	at := max(r.Min.X, min(r.x(e.Base)-tickPen.width(base)/2, r.Max.X-tickPen.width(base)))
	tickPen.in(black).write(c, at, r.Max.Y+8, 0, base)
}

// ending draws the bar of an end, its text, and a dot where another wins.
func (r rows) ending(n ending, base float64, y vg.Length) {
	height := vg.Length(14)
	if n.y != 0 {
		height = 10
	}
	if n.Result != base {
		r.bar(base, n.Result, y, height, fills[n.fill])
	}
	x, side := r.x(n.Result), vg.Length(1)
	align := 0.0
	if n.left {
		side, align = -1, 1
	}
	const gap = vg.Length(6.5) // beside a dot, there or at the other end
	if n.Winner != "" {
		dot(r.Canvas, vg.Point{X: x, Y: y}, 3.5, black)
	}
	smallPen.in(black).write(r.Canvas, x+side*gap, y, align, n.text)
}

// dot draws a filled circle with a white edge.
func dot(c draw.Canvas, at vg.Point, radius vg.Length, fill color.Color) {
	disc(c, at, radius+1, white)
	disc(c, at, radius, fill)
}

// disc draws a filled circle.
func disc(c draw.Canvas, at vg.Point, radius vg.Length, fill color.Color) {
	var p vg.Path
	p.Move(vg.Point{X: at.X + radius, Y: at.Y})
	p.Arc(at, radius, 0, 2*math.Pi)
	p.Close()
	c.SetColor(fill)
	c.Fill(p)
}
