package picture

import (
	"bytes"
	"cmp"
	"encoding/binary"
	"hash/crc32"
	"image"
	"io"
	"math"
	"sync"

	"git.sr.ht/~sbinet/gg"
	"github.com/klauspost/compress/zlib"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/vgimg"
)

// easel is the memory that pictures in shades of grey are drawn in, one after the
// other: to get it anew for each would take longer than to draw.
type easel struct {
	colours, line []byte
	packed        bytes.Buffer
	packer        *zlib.Writer
}

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

// writeGrey draws a picture in shades of grey, which takes a fraction of the room and
// time that colours take.
func writeGrey(w io.Writer, s sketch, head head) error {
	e := easels.Get().(*easel)
	defer easels.Put(e)
	c, drawn := e.canvas(s.width, s.height+head.height, cmp.Or(s.dpi, dpi))
	paint(c, s, head, false)
	return e.encode(w, drawn)
}

// encode writes what was drawn as PNG (W3C, third edition, 2023) in sixteen shades of
// grey, two dots to a byte. The standard library takes more than twice as long: it goes
// dot by dot and packs in its own way.
func (e *easel) encode(w io.Writer, in *image.RGBA) error {
	width, height := in.Rect.Dx(), in.Rect.Dy()
	e.packed.Reset()
	if e.packer == nil {
		var err error
		if e.packer, err = zlib.NewWriterLevel(&e.packed, zlib.BestSpeed); err != nil {
			return err
		}
	}
	e.packer.Reset(&e.packed)
	line := memory(&e.line, 1+(width+1)/2)
	line[0] = 0 // unfiltered
	for y := range height {
		shade(line[1:], in.Pix[y*in.Stride:][:4*width])
		if _, err := e.packer.Write(line); err != nil {
			return err
		}
	}
	if err := e.packer.Close(); err != nil {
		return err
	}
	const depth, grey = 4, 0
	header := binary.BigEndian.AppendUint32(binary.BigEndian.AppendUint32(nil, uint32(width)), uint32(height))
	out := []byte("\x89PNG\r\n\x1a\n")
	out = chunk(out, "IHDR", append(header, depth, grey, 0, 0, 0))
	out = chunk(out, "IDAT", e.packed.Bytes())
	_, err := w.Write(chunk(out, "IEND", nil))
	return err
}

// chunk adds a chunk: its length, kind, content and checksum.
func chunk(to []byte, kind string, content []byte) []byte {
	to = binary.BigEndian.AppendUint32(to, uint32(len(content)))
	from := len(to)
	to = append(append(to, kind...), content...)
	return binary.BigEndian.AppendUint32(to, crc32.ChecksumIEEE(to[from:]))
}

// shade enters the shades of a row of dots, eight at a time where all are white, as most
// are.
func shade(out []byte, dots []byte) {
	grey := func(dot []byte) byte { return byte((int(dot[0]) + int(dot[1]) + int(dot[2]) + 25) / 51) }
	for len(dots) >= 32 {
		if areWhite((*[32]byte)(dots)) {
			binary.NativeEndian.PutUint32(out, math.MaxUint32)
		} else {
			for i := range 4 {
				out[i] = grey(dots[8*i:])<<4 | grey(dots[8*i+4:])
			}
		}
		out, dots = out[4:], dots[32:]
	}
	for i := 0; len(dots) > 0; i++ {
		out[i] = grey(dots)<<4 | 15
		if dots = dots[4:]; len(dots) > 0 {
			out[i] = out[i]&0xF0 | grey(dots)
			dots = dots[4:]
		}
	}
}

// areWhite reports whether eight dots are white.
func areWhite(p *[32]byte) bool {
	word := binary.NativeEndian.Uint64
	return word(p[:])&word(p[8:])&word(p[16:])&word(p[24:]) == math.MaxUint64
}
