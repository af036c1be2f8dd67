package picture

import (
	"image/color"
	"slices"
	"strings"
	"unicode"

	"golang.org/x/image/font"
	"golang.org/x/image/font/sfnt"
	"golang.org/x/image/math/fixed"
	plotfont "gonum.org/v1/plot/font"
	"gonum.org/v1/plot/font/liberation"
	"gonum.org/v1/plot/text"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"
)

// The typeface comes with the plot library: a picture looks alike everywhere.
var typefaces = plotfont.NewCache(liberation.Collection())

// pen writes texts of one size, weight and colour.
type pen struct {
	size  vg.Length
	bold  bool
	color color.Color
}

// The pens of all pictures.
var (
	titlePen = pen{13, true, black}
	axisPen  = pen{10, false, black}
	labelPen = pen{9.5, false, black}
	tickPen  = pen{9, false, dark}
	smallPen = pen{8, false, dark}
)

func (p pen) in(c color.Color) pen { p.color = c; return p }

func (p pen) font() plotfont.Font {
	f := plotfont.Font{Typeface: "Liberation", Variant: "Sans", Size: p.size}
	if p.bold {
		f.Weight = font.WeightBold
	}
	return f
}

// style is the pen as the plot library wants it.
func (p pen) style() text.Style {
	return text.Style{Color: p.color, Font: p.font(), Handler: text.Plain{Fonts: typefaces}}
}

func (p pen) face() plotfont.Face { return typefaces.Lookup(p.font(), p.size) }

// width is how wide a text becomes.
func (p pen) width(s string) vg.Length {
	face := p.face()
	return face.Width(clean(s))
}

// write writes a text at a point: left of it for align 1, centred for 0.5, right
// of it for 0; y is the middle of its capital letters.
func (p pen) write(c draw.Canvas, x, y vg.Length, align float64, s string) {
	s = clean(s)
	if s == "" {
		return
	}
	face := p.face()
	c.SetColor(p.color)
	at := vg.Point{X: x - vg.Length(align)*face.Width(s), Y: y - 0.36*p.size}
	c.FillString(face, at, s)
}

// shorten cuts a text to a width, with an ellipsis where something is cut.
func (p pen) shorten(s string, most vg.Length) string {
	s = clean(s)
	if p.width(s) <= most {
		return s
	}
	letters := []rune(s)
	low, high := 0, len(letters) // so many letters fit, so many do not
	for high-low > 1 {
		if middle := (low + high) / 2; p.width(string(letters[:middle])+"…") <= most {
			low = middle
		} else {
			high = middle
		}
	}
	return strings.TrimRight(string(letters[:low]), " ") + "…"
}

// wrap breaks a text into at most so many lines of a width; what is left over is
// cut.
func (p pen) wrap(s string, width vg.Length, most int) []string {
	var lines []string
	line := ""
	words := strings.Fields(clean(s))
	for i, w := range words {
		switch {
		case line == "":
			line = w
		case p.width(line+" "+w) <= width:
			line += " " + w
		case len(lines) == most-1:
			return append(lines, p.shorten(line+" "+strings.Join(words[i:], " "), width))
		default:
			lines = append(lines, p.shorten(line, width))
			line = w
		}
	}
	if line != "" {
		lines = append(lines, p.shorten(line, width))
	}
	return lines
}

// clean is a text on one line without what does not print or may not stand in
// XML.
func clean(s string) string {
	s = strings.ToValidUTF8(s, "\ufffd")
	s = strings.Map(func(r rune) rune {
		switch {
		case unicode.IsSpace(r):
			return ' '
		case !unicode.IsPrint(r):
			return -1
		}
		return r
	}, s)
	return strings.TrimSpace(s)
}

// head is the title of a picture and the note below it, broken into lines.
type head struct {
	title, note []string
	height      vg.Length
}

const (
	titleLine = vg.Length(17)
	noteLine  = vg.Length(12)
)

func newHead(s sketch) head {
	width := s.width - 2*margin
	h := head{title: titlePen.wrap(s.title, width, 3), note: tickPen.wrap(s.note, width, 4)}
	h.height = titleLine*vg.Length(len(h.title)) + noteLine*vg.Length(len(h.note)) + 6
	return h
}

func (h head) draw(c draw.Canvas) {
	y := c.Max.Y
	for _, l := range h.title {
		titlePen.write(c, c.Min.X, y-titleLine/2, 0, l)
		y -= titleLine
	}
	for _, l := range h.note {
		tickPen.write(c, c.Min.X, y-noteLine/2, 0, l)
		y -= noteLine
	}
}

// outlined draws letters as outlines: then a picture looks alike on machines
// with other typefaces, and in programs that read no typefaces from a drawing.
type outlined struct {
	vg.CanvasSizer
	texts  []string
	asText bool // texts with letters that the typeface lacks stay texts
}

// FillString writes a text. For a letter that the typeface lacks, an image has
// an empty box; in a drawing such a text stays a text, since its reader may have
// a typeface for it.
func (o *outlined) FillString(f plotfont.Face, at vg.Point, s string) {
	o.texts = append(o.texts, s)
	letters, complete := outline(f, at, s)
	if o.asText && !complete {
		o.CanvasSizer.FillString(f, at, s)
		return
	}
	if o.asText {
		o.Fill(slices.Concat(letters...))
		return
	}
	// An image is filled from lists of the edges in a row of pixels, which are looked
	// through from their beginning: a few letters at a time take a fraction of the time.
	for few := range slices.Chunk(letters, 4) {
		o.Fill(slices.Concat(few...))
	}
}

// outline is a text as a path for each letter, and whether the typeface has all of
// them.
func outline(f plotfont.Face, at vg.Point, s string) (letters []vg.Path, complete bool) {
	complete = eachLetter(f, at, s, func(segments sfnt.Segments, point func(fixed.Point26_6) vg.Point) {
		letters = append(letters, appendGlyph(nil, segments, point))
	})
	return letters, complete
}

// eachLetter calls do with the outline of each letter of a text and with what places its
// points, and reports whether the typeface has all letters.
func eachLetter(f plotfont.Face, at vg.Point, s string, do func(outline sfnt.Segments, point func(fixed.Point26_6) vg.Point)) (complete bool) {
	complete = true
	var buf sfnt.Buffer
	em := fixed.Int26_6(f.Face.UnitsPerEm()) // so that lengths are in units of the typeface
	scale := f.Font.Size / vg.Length(em)
	var before sfnt.GlyphIndex
	x := at.X
	point := func(p fixed.Point26_6) vg.Point {
		return vg.Point{X: x + vg.Length(p.X)*scale, Y: at.Y - vg.Length(p.Y)*scale}
	}
	for i, r := range s {
		glyph, err := f.Face.GlyphIndex(&buf, r)
		if err != nil || glyph == 0 {
			complete, glyph = false, 0
		}
		if i > 0 {
			if kern, err := f.Face.Kern(&buf, before, glyph, em, font.HintingNone); err == nil {
				x += vg.Length(kern) * scale
			}
		}
		before = glyph
		segments, err := f.Face.LoadGlyph(&buf, glyph, em, nil)
		if err != nil {
			complete = false
			continue
		}
		do(segments, point)
		advance, err := f.Face.GlyphAdvance(&buf, glyph, em, font.HintingNone)
		if err != nil {
			complete = false
		}
		x += vg.Length(advance) * scale
	}
	return complete
}

// appendGlyph adds the outline of a letter to a path.
func appendGlyph(path vg.Path, segments sfnt.Segments, point func(fixed.Point26_6) vg.Point) vg.Path {
	for i, s := range segments {
		switch s.Op {
		case sfnt.SegmentOpMoveTo:
			if i > 0 {
				path.Close()
			}
			path.Move(point(s.Args[0]))
		case sfnt.SegmentOpLineTo:
			path.Line(point(s.Args[0]))
		case sfnt.SegmentOpQuadTo:
			path.QuadTo(point(s.Args[0]), point(s.Args[1]))
		case sfnt.SegmentOpCubeTo:
			path.CubeTo(point(s.Args[0]), point(s.Args[1]), point(s.Args[2]))
		}
	}
	if len(segments) > 0 {
		path.Close()
	}
	return path
}
