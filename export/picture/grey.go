package picture

import (
	"cmp"
	"encoding/binary"
	"image"
	"image/color"
	"image/png"
	"io"
	"math"
	"sync"

	"git.sr.ht/~sbinet/gg"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/vgimg"
)

// easel is the memory that pictures in shades of grey are drawn in, one after the
// other: to get it anew for each would take longer than to draw.
type easel struct{ colours, grey []byte }

// easels are those that nobody draws on.
var easels = sync.Pool{New: func() any { return &easel{} }}

// memory is n bytes of memory, with some to spare for the next picture where there is not
// enough yet.
func memory(of *[]byte, n int) []byte {
	if cap(*of) < n {
		*of = make([]byte, n+n/2)
	}
	return (*of)[:n]
}

// canvas is a canvas as the library makes them, white, in the memory of the easel.
func (e *easel) canvas(width, height vg.Length, dpi int) (sized, *image.RGBA) {
	dots := func(l vg.Length) int { return int(l/vg.Inch*vg.Length(dpi) + 0.5) }
	on := &image.RGBA{Stride: 4 * dots(width), Rect: image.Rect(0, 0, dots(width), dots(height))}
	on.Pix = memory(&e.colours, on.Stride*on.Rect.Dy())
	pen := gg.NewContextForRGBA(on)
	pen.SetLineCapButt()
	pen.InvertY()
	return sized{vgimg.NewWith(vgimg.UseImageWithContext(on, pen), vgimg.UseDPI(dpi)), width, height}, on
}

// sized is a canvas whose size is not rounded to whole dots.
type sized struct {
	*vgimg.Canvas
	width, height vg.Length
}

// Size is the width and the height of the canvas.
func (s sized) Size() (width, height vg.Length) { return s.width, s.height }

// shades has more than sixteen colours, so that a pixel has a byte of its own, which is
// the quickest to write.
var shades = func() (list color.Palette) {
	for i := range 18 {
		list = append(list, color.Gray{Y: uint8(i * 15)})
	}
	return list
}()

// writeGrey draws a picture in shades of grey, which takes a fraction of the room and
// time that colours take.
func writeGrey(w io.Writer, s sketch, head head) error {
	e := easels.Get().(*easel)
	defer easels.Put(e)
	c, drawn := e.canvas(s.width, s.height+head.height, cmp.Or(s.dpi, dpi))
	paint(c, s, head, false)
	encoder := png.Encoder{CompressionLevel: png.BestSpeed}
	return encoder.Encode(w, e.shade(drawn))
}

// shade makes shades of grey of what was drawn, eight dots at a time where all are
// white, as most are.
func (e *easel) shade(in *image.RGBA) *image.Paletted {
	n := len(in.Pix) / 4
	e.grey = memory(&e.grey, n)
	for at := 0; at < n; at += 8 {
		out, dots := e.grey[at:min(at+8, n)], in.Pix[4*at:min(4*(at+8), 4*n)]
		if len(out) == 8 && areWhite((*[32]byte)(dots)) {
			copy(out, white8[:])
			continue
		}
		for i := range out {
			out[i] = uint8((int(dots[4*i]) + int(dots[4*i+1]) + int(dots[4*i+2]) + 22) / 45)
		}
	}
	return &image.Paletted{Pix: e.grey, Stride: in.Rect.Dx(), Rect: in.Rect, Palette: shades}
}

// white8 is eight white dots.
var white8 = [8]uint8{17, 17, 17, 17, 17, 17, 17, 17}

// areWhite reports whether eight dots are white.
func areWhite(p *[32]byte) bool {
	word := binary.LittleEndian.Uint64
	return word(p[:])&word(p[8:])&word(p[16:])&word(p[24:]) == math.MaxUint64
}
