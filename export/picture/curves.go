package picture

import (
	"cmp"
	"errors"
	"fmt"
	"math"
	"slices"

	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"
)

// Curves shows a result along one input, a line for each item with its name at
// its end.
type Curves struct {
	Title, Note string
	X           Axis
	Axis        string  // the result, with its unit
	Lines       []Curve // their places are their colours
	Marks       []Point // break-even points
	Base        *Point  // where the input is as given; its Y is not looked at
}

// Curve is the results of an item along the input, NaN where there is none.
type Curve struct {
	Item    string
	Results []float64
}

func (k Curves) prepare() (sketch, error) {
	if err := k.X.check(); err != nil {
		return sketch{}, err
	}
	if len(k.Lines) == 0 {
		return sketch{}, errors.New("there are no items whose results could be drawn")
	}
	for _, l := range k.Lines {
		if len(l.Results) != k.X.Len() {
			return sketch{}, fmt.Errorf("%q has %d results along %d points", l.Item, len(l.Results), k.X.Len())
		}
	}
	height := max(340, 12*vg.Length(len(k.Lines))+80)
	return sketch{title: k.Title, note: k.Note, width: pictureWidth, height: height, draw: k.draw}, nil
}

// curve is a line as it is drawn: its pieces, between which there is no result.
type curve struct {
	look
	name   string
	pieces [][]vg.Point
}

// end is the last point of a line.
func (c curve) end() vg.Point {
	last := c.pieces[len(c.pieces)-1]
	return last[len(last)-1]
}

func (k Curves) draw(c draw.Canvas) {
	y := scale{title: k.Axis, min: math.Inf(1), max: math.Inf(-1)}
	var names []string
	for _, l := range k.Lines {
		y.include(l.Results...)
		names = append(names, l.Item)
	}
	for _, m := range k.Marks {
		y.include(m.Y)
	}
	x := scaleOf(k.X)
	a := newArea(draw.Crop(c, 0, -nameWidth(names)-24, 0, 0), x, y.widened().padded(0.05, 0.08))
	a.axes()
	if b := k.Base; b != nil && b.X >= x.min && b.X <= x.max {
		a.baseLine(*b)
	}
	var lines []curve
	for i, l := range k.Lines {
		if line := k.curve(a, i, l); len(line.pieces) > 0 {
			lines = append(lines, line)
		}
	}
	for _, l := range lines {
		a.StrokeLines(draw.LineStyle{Color: l.ink, Width: 2, Dashes: l.dash}, l.pieces...)
		for _, p := range l.pieces {
			if len(p) == 1 || k.X.named() {
				for _, at := range p {
					dot(a.Canvas, at, 3, l.ink)
				}
			}
		}
	}
	a.ends(lines)
	a.marks(k.Marks, lines)
}

// curve is a line in the picture, from left to right.
func (k Curves) curve(a area, at int, l Curve) curve {
	c := curve{look: lookOf(at), name: l.Item}
	var piece []vg.Point
	close := func() {
		if len(piece) > 0 {
			c.pieces = append(c.pieces, simplified(piece))
		}
		piece = nil
	}
	for _, n := range k.order() {
		if v := l.Results[n.point]; isNumber(v) {
			piece = append(piece, vg.Point{X: a.x(n.at), Y: a.y(v)})
		} else {
			close()
		}
	}
	close()
	return c
}

// order is the points of the input from left to right.
func (k Curves) order() []node {
	var list []node
	for i := range k.X.Len() {
		at := float64(i)
		if !k.X.named() {
			at = k.X.Values[i]
		}
		list = append(list, node{at, i})
	}
	slices.SortStableFunc(list, func(a, b node) int { return cmp.Compare(a.at, b.at) })
	return list
}

// baseLine marks where the input is as given.
func (a area) baseLine(b Point) {
	x := a.x(b.X)
	a.StrokeLine2(draw.LineStyle{Color: grey, Width: 0.8, Dashes: []vg.Length{3, 2}}, x, a.Min.Y, x, a.Max.Y)
	half := smallPen.width(b.Name) / 2
	smallPen.write(a.Canvas, max(a.Min.X+half, min(x, a.Max.X-half)), a.Max.Y+4, 0.5, b.Name)
}

// ends writes the names of lines at their ends, apart from each other.
func (a area) ends(lines []curve) {
	order := slices.Clone(lines)
	slices.SortStableFunc(order, func(p, q curve) int { return cmp.Compare(p.end().Y, q.end().Y) })
	ys := make([]vg.Length, len(order))
	for i, l := range order {
		ys[i] = l.end().Y
	}
	apart(ys, 12, a.Min.Y, a.Max.Y)
	for i, l := range order {
		end, x := l.end(), a.Max.X+16
		thin := draw.LineStyle{Color: l.ink, Width: 0.6}
		a.StrokeLines(thin, []vg.Point{{X: end.X + 2, Y: end.Y}, {X: max(a.Max.X+3, end.X+2), Y: end.Y}, {X: x - 3, Y: ys[i]}})
		labelPen.write(a.Canvas, x, ys[i], 0, labelPen.shorten(l.name, mostNames))
	}
}

// apart moves rising heights apart, each as little as can be told from its
// neighbours, and keeps them within bounds.
func apart(ys []vg.Length, gap, low, high vg.Length) {
	if n := vg.Length(len(ys)); n > 1 {
		gap = min(gap, (high-low)/(n-1))
	}
	for range 200 {
		moved := false
		for i := 1; i < len(ys); i++ {
			if lack := gap - (ys[i] - ys[i-1]); lack > 0.01 {
				ys[i-1], ys[i] = ys[i-1]-lack/2, ys[i]+lack/2
				moved = true
			}
		}
		if !moved {
			break
		}
	}
	for i := range ys {
		ys[i] = max(ys[i], low+gap*vg.Length(i))
	}
	for i := range ys {
		k := len(ys) - 1 - i
		ys[k] = min(ys[k], high-gap*vg.Length(i))
	}
}

// marks draws break-even points with their names, each where it hides least of
// the lines and of other names.
func (a area) marks(marks []Point, lines []curve) {
	var taken []vg.Rectangle
	for _, m := range marks {
		at := vg.Point{X: a.x(m.X), Y: a.y(m.Y)}
		taken = append(taken, grow(vg.Rectangle{Min: at, Max: at}, 5))
	}
	for _, m := range marks {
		if !isNumber(m.X) || !isNumber(m.Y) {
			continue
		}
		at := vg.Point{X: a.x(m.X), Y: a.y(m.Y)}
		if !a.Contains(at) {
			continue
		}
		dot(a.Canvas, at, 4, black)
		name := tickPen.shorten(m.Name, 160)
		size := vg.Point{X: tickPen.width(name) + 4, Y: tickPen.size + 3}
		box := beside(at, size, 8, a.Rectangle, func(box vg.Rectangle) float64 { return hidden(box, lines, taken) })
		taken = append(taken, box)
		boxed(a.Canvas, tickPen.in(black), box, white, name)
	}
}

// overlap reports whether two boxes have room in common.
func overlap(a, b vg.Rectangle) bool {
	return a.Min.X < b.Max.X && b.Min.X < a.Max.X && a.Min.Y < b.Max.Y && b.Min.Y < a.Max.Y
}

// hidden is how much a box hides: lines by their length, other boxes more.
func hidden(box vg.Rectangle, lines []curve, taken []vg.Rectangle) float64 {
	cost := 0.0
	for _, t := range taken {
		if overlap(box, t) {
			cost += 200
		}
	}
	for _, l := range lines {
		for _, piece := range l.pieces {
			for i := 1; i < len(piece); i++ {
				cost += within(box, piece[i-1], piece[i])
			}
		}
	}
	return cost
}

// within is how much of a piece of a line lies in a box, in points.
func within(box vg.Rectangle, a, b vg.Point) float64 {
	from, to := 0.0, 1.0
	for _, d := range [][3]vg.Length{{a.X, b.X - a.X, 0}, {a.Y, b.Y - a.Y, 1}} {
		low, high := box.Min.X, box.Max.X
		if d[2] == 1 {
			low, high = box.Min.Y, box.Max.Y
		}
		if d[1] == 0 {
			if d[0] < low || d[0] > high {
				return 0
			}
			continue
		}
		p, q := float64((low-d[0])/d[1]), float64((high-d[0])/d[1])
		from, to = math.Max(from, math.Min(p, q)), math.Min(to, math.Max(p, q))
	}
	return math.Max(0, to-from) * distance(a, b, b)
}
