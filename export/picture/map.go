package picture

import (
	"errors"
	"fmt"
	"image/color"
	"math"

	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"
)

// Map shows who wins over two inputs. Points are in rows of X, the row of the
// first Y first: the point (x, y) is y*X.Len() + x.
type Map struct {
	Title, Note string // the finding or the question; what else is to be known
	X, Y        Axis
	Items       []string // their places are what Winner names, and their colours
	Winner      []int    // for each point the item that wins, -1 where nothing passes

	// Lead is how far an item is ahead of another at a point, below zero where it
	// is behind and NaN where that cannot be told. With it areas meet at the
	// break-even between points, without it half-way. May be nil.
	Lead func(item, other, point int) float64

	// Best is the figure of the best at each point, NaN where there is none; it is
	// drawn as contour lines where both axes are numbers. May be nil.
	Best      []float64
	BestTitle string // what Best is, with its unit

	Base *Point // where the inputs are as given; not drawn if it lies outside
}

// Point is a named place in a picture: on an axis of names, their index from 0.
type Point struct {
	Name string
	X, Y float64
}

const (
	pictureWidth = vg.Length(640)
	mapHeight    = vg.Length(440)
)

func (m Map) prepare() (sketch, error) {
	if err := m.check(); err != nil {
		return sketch{}, err
	}
	if m.contoured() && m.BestTitle != "" {
		m.Note = join(m.Note, "Thin lines: "+m.BestTitle+".")
	}
	return sketch{title: m.Title, note: m.Note, width: pictureWidth, height: mapHeight, draw: m.draw}, nil
}

// join puts sentences behind each other.
func join(a, b string) string {
	if a == "" {
		return b
	}
	return a + " " + b
}

func (m Map) check() error {
	points := m.X.Len() * m.Y.Len()
	if err := errors.Join(m.X.check(), m.Y.check()); err != nil {
		return err
	}
	if len(m.Winner) != points {
		return fmt.Errorf("a map of %d by %d points has %d winners, not %d", m.X.Len(), m.Y.Len(), len(m.Winner), points)
	}
	if m.Best != nil && len(m.Best) != points {
		return fmt.Errorf("a map of %d by %d points has %d figures of the best, not %d", m.X.Len(), m.Y.Len(), len(m.Best), points)
	}
	for i, w := range m.Winner {
		if w < -1 || w >= len(m.Items) {
			return fmt.Errorf("point %d of the map is won by item %d of %d", i+1, w+1, len(m.Items))
		}
	}
	return nil
}

func (m Map) contoured() bool {
	return m.Best != nil && len(m.X.Values) > 1 && len(m.Y.Values) > 1
}

// looksOf are the looks of the items: each has its own in every picture, but
// where there are more items than looks, those that win share them out.
func (m Map) looksOf() []look {
	list := make([]look, len(m.Items))
	if len(m.Items) <= looks {
		for i := range list {
			list[i] = lookOf(i)
		}
		return list
	}
	wins := make([]bool, len(m.Items))
	for _, w := range m.Winner {
		if w >= 0 {
			wins[w] = true
		}
	}
	n := 0
	for i := range list {
		if wins[i] {
			list[i] = lookOf(n)
			n++
		}
	}
	return list
}

func (m Map) draw(c draw.Canvas) {
	g := newGrid(&m)
	l := m.lay(g, c)
	for range 2 { // a narrower map may need a wider legend
		if len(l.unnamed) > 0 {
			l = m.lay(g, draw.Crop(c, 0, -m.legendWidth(l.unnamed), 0, 0))
		}
	}
	l.axes()
	styles := m.looksOf()
	l.DrawImage(l.Rectangle, l.owners.image(styles))
	l.borders()
	outlineBox(l.Canvas, l.Rectangle)
	for _, k := range l.contours {
		l.contour(k)
	}
	for _, n := range l.names {
		l.name(n, styles)
	}
	l.base()
	l.legend(styles, c.Max.X)
}

// layout is a map that is laid out.
type layout struct {
	area
	m        *Map
	g        *grid
	owners   owners
	contours []contour
	names    []placed
	unnamed  []int // items without a text in their areas, -1 for none
	baseBox  vg.Rectangle
}

// lay finds room for the axes and the texts.
func (m *Map) lay(g *grid, c draw.Canvas) *layout {
	l := &layout{area: newArea(c, g.xScale, g.yScale), m: m, g: g}
	l.owners = l.own()
	room := newRoom(l.Rectangle, l.owners)
	if b := m.Base; b != nil && l.holds(*b) {
		l.baseBox = l.placeBase(room)
	}
	l.names, l.unnamed = l.placeNames(room)
	if m.contoured() {
		l.contours = l.findContours(room)
	}
	return l
}

func (l *layout) holds(p Point) bool {
	x, y := l.g.xScale, l.g.yScale
	return p.X >= x.min && p.X <= x.max && p.Y >= y.min && p.Y <= y.max
}

// cross is half the size of the mark of the base.
const cross = vg.Length(5)

// placeBase finds room for the name of the base beside its cross, and takes it
// and the cross's.
func (l *layout) placeBase(room *room) vg.Rectangle {
	at := vg.Point{X: l.x(l.m.Base.X), Y: l.y(l.m.Base.Y)}
	around := vg.Rectangle{Min: at, Max: at}
	room.take(grow(around, cross+2))
	name := labelPen.shorten(l.m.Base.Name, 150)
	if name == "" {
		return vg.Rectangle{}
	}
	size := vg.Point{X: labelPen.width(name) + 6, Y: labelPen.size + 4}
	box := beside(at, size, cross+3, l.Rectangle, nil)
	room.take(box)
	return box
}

// grow is a rectangle with a margin.
func grow(r vg.Rectangle, by vg.Length) vg.Rectangle {
	r.Min, r.Max = r.Min.Add(vg.Point{X: -by, Y: -by}), r.Max.Add(vg.Point{X: by, Y: by})
	return r
}

// beside is a box of a size beside a point and within bounds: of the eight
// places around it the one that costs least, the earlier one where they cost
// alike. Out of bounds costs most.
func beside(at, size vg.Point, gap vg.Length, within vg.Rectangle, cost func(vg.Rectangle) float64) vg.Rectangle {
	var best vg.Rectangle
	least := math.Inf(1)
	for _, d := range [][2]vg.Length{{1, 1}, {-1, 1}, {1, -1}, {-1, -1}, {0, 1}, {0, -1}, {1, 0}, {-1, 0}} {
		step := gap
		if d[0] != 0 && d[1] != 0 {
			step *= 0.7
		}
		centre := vg.Point{X: at.X + d[0]*(step+size.X/2), Y: at.Y + d[1]*(step+size.Y/2)}
		box := vg.Rectangle{Min: centre.Sub(size.Scale(0.5)), Max: centre.Add(size.Scale(0.5))}
		value := 1000 * float64(max(0, within.Min.X-box.Min.X)+max(0, box.Max.X-within.Max.X)+max(0, within.Min.Y-box.Min.Y)+max(0, box.Max.Y-within.Max.Y))
		if cost != nil {
			value += cost(box)
		}
		if value < least {
			best, least = box, value
		}
	}
	return best
}

// base draws the cross and the name of the base.
func (l *layout) base() {
	if l.m.Base == nil || !l.holds(*l.m.Base) {
		return
	}
	x, y := l.x(l.m.Base.X), l.y(l.m.Base.Y)
	for _, s := range []draw.LineStyle{{Color: white, Width: 4.5}, {Color: black, Width: 2}} {
		l.StrokeLine2(s, x-cross, y-cross, x+cross, y+cross)
		l.StrokeLine2(s, x-cross, y+cross, x+cross, y-cross)
	}
	if l.baseBox.Size().X > 0 {
		boxed(l.Canvas, labelPen, l.baseBox, white, labelPen.shorten(l.m.Base.Name, 150))
	}
}

// boxed writes a text in the middle of a box that is filled first.
func boxed(c draw.Canvas, p pen, box vg.Rectangle, fill color.Color, s string) {
	c.SetColor(fill)
	c.Fill(box.Path())
	middle := box.Min.Add(box.Max).Scale(0.5)
	p.write(c, middle.X, middle.Y, 0.5, s)
}
