package picture

import (
	"image/color"
	"math"

	"github.com/golang/freetype/raster"
	"golang.org/x/image/font/sfnt"
	"golang.org/x/image/math/fixed"
	plotfont "gonum.org/v1/plot/font"
	"gonum.org/v1/plot/vg"
)

// paper is a canvas for drawings in black, grey and white. With a byte for each dot it
// takes a quarter of the memory of the plot library's canvas, and so of the time to clear
// and to read it.
type paper struct {
	vg.Canvas // nobody: circuits turn nothing and show no images

	width, height vg.Length
	dpi           float64
	columns, rows int
	ink           []byte             // how dark the dots are, row by row: 0 is white
	low, high     *raster.Rasterizer // of things of few rows, and of others
	shade         uint32             // how dark the pen is
	line          vg.Length
	dashes        []vg.Length
}

// lowRows is how many rows of dots things that are low have, as letters and most symbols
// do: work that goes over all rows is then small.
const lowRows = 256

// newPaper is white paper, in memory that may have been that of another.
func newPaper(width, height vg.Length, dpi int, room *[]byte) *paper {
	dots := func(l vg.Length) int { return int(l/vg.Inch*vg.Length(dpi) + 0.5) }
	p := &paper{width: width, height: height, dpi: float64(dpi), columns: dots(width), rows: dots(height)}
	p.ink = memory(room, p.columns*p.rows)
	clear(p.ink)
	p.low, p.high = raster.NewRasterizer(p.columns, lowRows), raster.NewRasterizer(p.columns, p.rows)
	p.low.UseNonZeroWinding, p.high.UseNonZeroWinding = true, true
	return p
}

// Size is the width and the height of the paper.
func (p *paper) Size() (width, height vg.Length) { return p.width, p.height }

// SetLineWidth says how wide lines are.
func (p *paper) SetLineWidth(w vg.Length) { p.line = w }

// SetLineDash says how long dashes and the gaps behind them are; they begin with a line.
func (p *paper) SetLineDash(dashes []vg.Length, _ vg.Length) { p.dashes = dashes }

// SetColor says what is drawn with.
func (p *paper) SetColor(c color.Color) {
	r, g, b, _ := c.RGBA()
	p.shade = 255 - (r>>8+g>>8+b>>8)/3
}

// dots is a length in dots.
func (p *paper) dots(l vg.Length) float64 { return l.Dots(p.dpi) }

// spot is a point in dots, from the upper left corner.
func (p *paper) spot(at vg.Point) (x, y float64) {
	return p.dots(at.X), float64(p.rows) - p.dots(at.Y)
}

// fix is a point as the rasterizer takes it, in 64ths of a dot.
func fix(x, y float64) fixed.Point26_6 {
	return fixed.Point26_6{X: fixed.Int26_6(math.Round(x * 64)), Y: fixed.Int26_6(math.Round(y * 64))}
}

// Fill fills the inside of a path of lines and arcs.
func (p *paper) Fill(path vg.Path) {
	chains := p.chains(path)
	p.within(chains, 0, func(to raster.Adder) {
		for _, c := range chains {
			to.Start(c[0])
			for _, at := range c[1:] {
				to.Add1(at)
			}
			to.Add1(c[0])
		}
	})
}

// Stroke draws along a path of lines and arcs.
func (p *paper) Stroke(path vg.Path) {
	if p.line <= 0 {
		return
	}
	chains := p.chains(path)
	if len(p.dashes) > 0 {
		chains = p.dashed(chains)
	}
	var way raster.Path
	for _, c := range chains {
		way.Start(c[0])
		last := c[0]
		for _, at := range c[1:] {
			if d := at.Sub(last); max(d.X, -d.X)+max(d.Y, -d.Y) > shortest {
				way.Add1(at)
				last = at
			}
		}
	}
	width := fixed.Int26_6(p.dots(p.line) * 64)
	p.within(chains, width, func(to raster.Adder) { raster.Stroke(to, way, width, raster.ButtCapper, raster.RoundJoiner) })
}

// shortest is how long a part of a line is at least, in 64ths of a dot: joints of shorter
// ones would stand out.
const shortest = 4

// chains are the points of a path, a chain for each part of it.
func (p *paper) chains(path vg.Path) [][]fixed.Point26_6 {
	var chains [][]fixed.Point26_6
	add := func(x, y float64) {
		c := &chains[len(chains)-1]
		*c = append(*c, fix(x, y))
	}
	for _, part := range path {
		x, y := p.spot(part.Pos)
		switch part.Type {
		case vg.MoveComp:
			chains = append(chains, nil)
			add(x, y)
		case vg.LineComp:
			add(x, y)
		case vg.ArcComp:
			if len(chains) == 0 {
				chains = append(chains, nil)
			}
			radius := p.dots(part.Radius)
			steps := 8 + int(radius) // of less than a dot's eighth from the arc
			for i := range steps + 1 {
				sin, cos := math.Sincos(part.Start + part.Angle*float64(i)/float64(steps))
				add(x+radius*cos, y-radius*sin)
			}
		case vg.CloseComp:
			c := &chains[len(chains)-1]
			*c = append(*c, (*c)[0])
		default:
			panic("a drawing in grey has no curves but those of letters")
		}
	}
	return chains
}

// dashed are the dashes along chains.
func (p *paper) dashed(chains [][]fixed.Point26_6) [][]fixed.Point26_6 {
	var out [][]fixed.Point26_6
	for _, c := range chains {
		n, left := 0, p.dots(p.dashes[0])*64
		dash := c[:1:1]
		for i := 1; i < len(c); i++ {
			from, d := c[i-1], c[i].Sub(c[i-1])
			length := math.Hypot(float64(d.X), float64(d.Y))
			done := 0.0
			for done+left < length {
				done += left
				at := from.Add(fix(float64(d.X)/64*done/length, float64(d.Y)/64*done/length))
				if n%2 == 0 {
					out = append(out, append(dash, at))
				}
				n++
				dash, left = []fixed.Point26_6{at}, p.dots(p.dashes[n%len(p.dashes)])*64
			}
			dash, left = append(dash, c[i]), left-(length-done)
		}
		if n%2 == 0 {
			out = append(out, dash)
		}
	}
	return out
}

// within paints what add adds around chains, as far from them as lines are wide.
func (p *paper) within(chains [][]fixed.Point26_6, width fixed.Int26_6, add func(raster.Adder)) {
	low, high := fixed.Int26_6(math.MaxInt32), fixed.Int26_6(math.MinInt32)
	for _, c := range chains {
		for _, at := range c {
			low, high = min(low, at.Y), max(high, at.Y)
		}
	}
	p.paint(low-width, high+width, add)
}

// paint paints what add adds, which lies between two heights.
func (p *paper) paint(low, high fixed.Int26_6, add func(raster.Adder)) {
	top, r := max(0, low.Floor()), p.low
	if high.Ceil()-top >= lowRows {
		r = p.high
	}
	r.Clear()
	r.Dy = top
	add(raised{r, fixed.I(top)})
	r.Rasterize(p)
}

// raised adds to a rasterizer whose first row lies below that of the paper.
type raised struct {
	to *raster.Rasterizer
	by fixed.Int26_6
}

func (r raised) up(p fixed.Point26_6) fixed.Point26_6 { return fixed.Point26_6{X: p.X, Y: p.Y - r.by} }

func (r raised) Start(a fixed.Point26_6)      { r.to.Start(r.up(a)) }
func (r raised) Add1(b fixed.Point26_6)       { r.to.Add1(r.up(b)) }
func (r raised) Add2(b, c fixed.Point26_6)    { r.to.Add2(r.up(b), r.up(c)) }
func (r raised) Add3(b, c, d fixed.Point26_6) { r.to.Add3(r.up(b), r.up(c), r.up(d)) }

// Paint takes dots of a row from the rasterizer, each with the share that is covered.
func (p *paper) Paint(spans []raster.Span, _ bool) {
	for _, s := range spans {
		if s.Y >= p.rows {
			return
		}
		row := p.ink[s.Y*p.columns:]
		for i, was := range row[s.X0:s.X1] {
			row[s.X0+i] = byte((uint32(was)*(0xFFFF-s.Alpha) + p.shade*s.Alpha + 0x7FFF) / 0xFFFF)
		}
	}
}

// FillString writes a text with the outlines of its letters.
func (p *paper) FillString(f plotfont.Face, at vg.Point, text string) {
	eachLetter(f, at, text, func(outline sfnt.Segments, point func(fixed.Point26_6) vg.Point) {
		place := func(q fixed.Point26_6) fixed.Point26_6 { return fix(p.spot(point(q))) }
		box := outline.Bounds()
		p.paint(place(box.Min).Y, place(box.Max).Y, func(to raster.Adder) {
			for _, s := range outline { // which end where they begin
				a := [3]fixed.Point26_6{place(s.Args[0]), place(s.Args[1]), place(s.Args[2])}
				switch s.Op {
				case sfnt.SegmentOpMoveTo:
					to.Start(a[0])
				case sfnt.SegmentOpLineTo:
					to.Add1(a[0])
				case sfnt.SegmentOpQuadTo:
					to.Add2(a[0], a[1])
				case sfnt.SegmentOpCubeTo:
					to.Add3(a[0], a[1], a[2])
				}
			}
		})
	})
}
