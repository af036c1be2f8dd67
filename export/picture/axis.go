package picture

import (
	"fmt"
	"math"

	"bankwright/engine/unit"

	"gonum.org/v1/plot"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"
)

// Axis is an input that is varied: numbers, or names where it has no order.
type Axis struct {
	Title  string    // what varies, with its unit
	Values []float64 // in the unit of the title, none if there are Names
	Names  []string
}

// Len is how many points the axis has.
func (a Axis) Len() int { return max(len(a.Values), len(a.Names)) }

func (a Axis) named() bool { return len(a.Names) > 0 }

// check says what about the axis cannot be drawn.
func (a Axis) check() error {
	switch {
	case a.Len() == 0:
		return fmt.Errorf("the axis %q has no points", a.Title)
	case a.named() && len(a.Values) > 0:
		return fmt.Errorf("the axis %q has both numbers and names", a.Title)
	}
	for i, v := range a.Values {
		if math.IsNaN(v) || math.IsInf(v, 0) {
			return fmt.Errorf("point %d of the axis %q is no number", i+1, a.Title)
		}
	}
	return nil
}

// scale is what an axis of a picture shows.
type scale struct {
	title    string
	min, max float64
	names    []string  // at 0, 1, 2 …, in the place of numbers
	only     []float64 // the only values to be marked
	hidden   bool
}

// scaleOf is the scale that shows all points of an axis, an only point in the
// middle.
func scaleOf(a Axis) scale {
	if a.named() {
		return scale{title: a.Title, min: -0.5, max: float64(len(a.Names)) - 0.5, names: a.Names}
	}
	s := scale{title: a.Title, min: math.Inf(1), max: math.Inf(-1)}
	s.include(a.Values...)
	if s.min == s.max {
		s.only = []float64{s.min}
	}
	return s.widened()
}

// include makes a scale show values; those that are none do not count.
func (s *scale) include(values ...float64) {
	for _, v := range values {
		if !math.IsNaN(v) && !math.IsInf(v, 0) {
			s.min, s.max = math.Min(s.min, v), math.Max(s.max, v)
		}
	}
}

// widened gives a scale without extent some, and one of nothing that of 0 to 1.
func (s scale) widened() scale {
	if s.min > s.max {
		s.min, s.max = 0, 1
	}
	if size := math.Max(math.Abs(s.min), math.Abs(s.max)); s.max-s.min <= 1e-9*size || size == 0 {
		d := 0.1 * size
		if size == 0 {
			d = 1
		}
		s.min, s.max = s.min-d, s.max+d
	}
	return s
}

// padded is a scale with room at both ends, as a share of its extent.
func (s scale) padded(low, high float64) scale {
	d := s.max - s.min
	s.min, s.max = s.min-low*d, s.max+high*d
	return s
}

// steps are round values within a scale, at most so many, and the decimals that
// tell them apart.
func (s scale) steps(most int) (values []float64, decimals int) {
	raw := (s.max - s.min) / float64(most)
	power := math.Pow(10, math.Floor(math.Log10(raw)))
	step := 10 * power
	for _, f := range []float64{1, 2, 5} {
		if f*power >= raw*(1-1e-9) {
			step = f * power
			break
		}
	}
	decimals = max(0, -int(math.Floor(math.Log10(step)+1e-9)))
	first, last := math.Ceil(s.min/step-1e-9), math.Floor(s.max/step+1e-9)
	for i := first; i <= last && len(values) <= most+1; i++ {
		values = append(values, i*step+0) // no minus zero
	}
	return values, decimals
}

// format writes values of an axis, few enough decimals given; very small steps
// have an exponent.
func format(v float64, decimals int) string {
	if decimals > 6 {
		decimals = -1
	}
	return unit.Format(v, decimals)
}

// marks are the ticks of a scale on an axis of a length, across if it lies.
func (s scale) marks(length vg.Length, across bool) []plot.Tick {
	var marks []plot.Tick
	if s.names != nil {
		every := max(1, int(math.Ceil(float64(len(s.names))*11/float64(length))))
		for i := 0; i < len(s.names); i += every {
			marks = append(marks, plot.Tick{Value: float64(i), Label: tickPen.shorten(s.names[i], 120)})
		}
		return marks
	}
	if s.only != nil {
		for _, v := range s.only {
			marks = append(marks, plot.Tick{Value: v, Label: unit.Format(v, -1)})
		}
		return marks
	}
	for most := max(2, min(8, int(length/45))); ; most-- {
		values, decimals := s.steps(most)
		marks = marks[:0]
		widest := vg.Length(0)
		for _, v := range values {
			label := format(v, decimals)
			widest = max(widest, tickPen.width(label))
			marks = append(marks, plot.Tick{Value: v, Label: label})
		}
		if !across || most <= 2 || vg.Length(len(values))*(widest+10) <= length {
			return marks
		}
	}
}

// area is where the data of a picture are drawn.
type area struct {
	draw.Canvas
	x, y func(float64) vg.Length
	axes func() // draws them
}

// newArea lays out two axes on a canvas. The title of the upright one stands
// above it, where it can be read without turning the head.
func newArea(c draw.Canvas, x, y scale) area {
	inner := draw.Crop(c, 0, 0, 0, -4)
	if y.title != "" {
		inner = draw.Crop(c, 0, 0, 0, -24)
	}
	p := plot.New()
	p.BackgroundColor = nil
	set(&p.X, x, inner.Max.X-inner.Min.X, true)
	set(&p.Y, y, inner.Max.Y-inner.Min.Y, false)
	p.Y.Label.Text = ""
	a := area{Canvas: p.DataCanvas(inner)}
	a.x, a.y = p.Transforms(&a.Canvas)
	a.axes = func() {
		axisPen.write(c, c.Min.X, c.Max.Y-6, 0, axisPen.shorten(y.title, c.Max.X-c.Min.X))
		p.Draw(inner)
	}
	return a
}

// set makes an axis of the library show a scale.
func set(a *plot.Axis, s scale, length vg.Length, across bool) {
	a.Min, a.Max, a.Padding = s.min, s.max, 0
	a.Label.TextStyle = alike(axisPen, a.Label.TextStyle.XAlign, a.Label.TextStyle.YAlign)
	a.Label.Text = axisPen.shorten(s.title, length)
	a.Label.Padding = 4
	a.Tick.Label = alike(tickPen, a.Tick.Label.XAlign, a.Tick.Label.YAlign)
	a.Tick.Length = 4
	a.LineStyle.Color, a.Tick.LineStyle.Color = dark, dark
	if s.hidden {
		a.LineStyle.Width, a.Tick.Length = 0, 0
		a.Tick.Marker = plot.ConstantTicks(nil)
		return
	}
	marks := s.marks(length, across)
	if across && s.names != nil && crowded(marks, length/vg.Length(s.max-s.min)) {
		a.Tick.Label.Rotation = 0.6
		a.Tick.Label.XAlign, a.Tick.Label.YAlign = draw.XRight, draw.YTop
	}
	a.Tick.Marker = plot.ConstantTicks(marks)
}

// crowded reports whether names beside each other need more than the room of a
// step.
func crowded(marks []plot.Tick, room vg.Length) bool {
	for _, m := range marks {
		if tickPen.width(m.Label) > room-6 {
			return true
		}
	}
	return false
}

func alike(p pen, x draw.XAlignment, y draw.YAlignment) draw.TextStyle {
	s := p.style()
	s.XAlign, s.YAlign = x, y
	return s
}
