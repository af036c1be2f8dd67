// Package picture draws what sweeps found: who wins over two inputs, which
// inputs move a result, how results spread, and a result along one input; and
// circuits. It takes plain data, and decides how that looks, not what it says.
// Pictures are SVG or PNG, the same bytes for the same data, and need no typeface
// of the reader's machine.
package picture

import (
	"bytes"
	"cmp"
	"errors"
	"fmt"
	"html"
	"io"
	"path/filepath"
	"strings"

	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"
	"gonum.org/v1/plot/vg/vgimg"
	"gonum.org/v1/plot/vg/vgsvg"
)

// Format is how a picture is written.
type Format string

// The formats that a picture can be written in.
const (
	SVG Format = "svg"
	PNG Format = "png"
)

// FormatOf tells the format by the ending of a file's name. Its error names what
// is possible.
func FormatOf(name string) (Format, error) {
	ending := filepath.Ext(name)
	switch f := Format(strings.ToLower(strings.TrimPrefix(ending, "."))); f {
	case SVG, PNG:
		return f, nil
	}
	const possible = "a picture's file ends in .svg (drawing, stays sharp at any size) or .png (image)"
	if ending == "" || ending == "." {
		return "", fmt.Errorf("the name %q has no ending; %s", name, possible)
	}
	return "", fmt.Errorf("%q cannot be written; %s", ending, possible)
}

// Picture is one of Map, Effects, Distributions, Indices, Curves and Circuit.
type Picture interface {
	// prepare checks the data, and returns the size of the picture and what draws it.
	prepare() (sketch, error)
}

// sketch is a picture that is ready to be drawn.
type sketch struct {
	title, note   string
	width, height vg.Length // without title and note
	draw          func(draw.Canvas)
	dpi           int  // of a PNG; 0 is the usual
	grey          bool // it has no colours
}

const (
	margin = vg.Length(12) // around each picture, in points
	dpi    = 144           // of a PNG: two pixels a point
)

// Write draws a picture. Its errors are sentences that say what about the data
// cannot be drawn, or those of w.
func Write(w io.Writer, p Picture, f Format) error {
	s, err := p.prepare()
	if err != nil {
		return err
	}
	head := newHead(s)
	width, height := s.width, s.height+head.height
	switch f {
	case SVG:
		c := vgsvg.New(width, height)
		texts := paint(c, s, head, true)
		return writeSVG(w, c, s.title, texts)
	case PNG:
		if s.grey {
			return writeGrey(w, s, head)
		}
		c := vgimg.PngCanvas{Canvas: vgimg.NewWith(vgimg.UseWH(width, height), vgimg.UseDPI(cmp.Or(s.dpi, dpi)))}
		paint(c, s, head, false)
		_, err := c.WriteTo(w)
		return err
	}
	return errors.New("a picture is written as SVG or as PNG")
}

// paint draws a sketch and returns the texts in it, in the order drawn.
func paint(on vg.CanvasSizer, s sketch, head head, asText bool) []string {
	o := &outlined{CanvasSizer: on, asText: asText}
	if asText { // an image is white to begin with
		c := draw.New(on)
		c.SetColor(white)
		c.Fill(c.Rectangle.Path())
	}
	paintOn(o, s, head)
	return o.texts
}

func paintOn(on vg.CanvasSizer, s sketch, head head) {
	c := draw.New(on)
	inner := draw.Crop(c, margin, -margin, margin, -margin)
	head.draw(inner)
	s.draw(draw.Crop(inner, 0, 0, 0, -head.height))
}

// writeSVG writes a drawing with its texts as a description, since the letters
// in it are outlines: so that it can be searched and read aloud.
func writeSVG(w io.Writer, c *vgsvg.Canvas, title string, texts []string) error {
	var b bytes.Buffer
	if _, err := c.WriteTo(&b); err != nil {
		return err
	}
	out := b.String()
	start := strings.Index(out, "<svg")
	end := start + strings.IndexByte(out[start:], '>') + 1
	// The library calls its images JPEG, but they are PNG, and not every program
	// that reads drawings looks for itself.
	body := strings.ReplaceAll(out[end:], `xlink:href="data:image/jpg;`, `xlink:href="data:image/png;`)
	_, err := fmt.Fprintf(w, "<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n%s\n<title>%s</title>\n<desc>%s</desc>%s",
		out[start:end], html.EscapeString(clean(title)), html.EscapeString(strings.Join(texts, "\n")), body)
	return err
}
