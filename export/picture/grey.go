package picture

import (
	"bytes"
	"cmp"
	"encoding/binary"
	"hash/crc32"
	"io"
	"math"
	"sync"

	"github.com/klauspost/compress/zlib"
)

// easel is the memory that pictures in shades of grey are drawn in, one after the
// other: to get it anew for each would take longer than to draw.
type easel struct {
	ink, line []byte
	packed    bytes.Buffer
	packer    *zlib.Writer
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

// writeGrey draws a picture in shades of grey, which takes a fraction of the room and
// time that colours take.
func writeGrey(w io.Writer, s sketch, head head) error {
	e := easels.Get().(*easel)
	defer easels.Put(e)
	p := newPaper(s.width, s.height+head.height, cmp.Or(s.dpi, dpi), &e.ink)
	paintOn(p, s, head)
	return e.encode(w, p)
}

// encode writes what was drawn as PNG (W3C, third edition, 2023) in sixteen shades of
// grey, two dots to a byte. The standard library takes more than twice as long: it goes
// dot by dot and packs in its own way.
func (e *easel) encode(w io.Writer, p *paper) error {
	e.packed.Reset()
	if e.packer == nil {
		var err error
		if e.packer, err = zlib.NewWriterLevel(&e.packed, zlib.BestSpeed); err != nil {
			return err
		}
	}
	e.packer.Reset(&e.packed)
	line := memory(&e.line, 1+(p.columns+1)/2)
	line[0] = 0 // unfiltered
	for y := range p.rows {
		shade(line[1:], p.ink[y*p.columns:][:p.columns])
		if _, err := e.packer.Write(line); err != nil {
			return err
		}
	}
	if err := e.packer.Close(); err != nil {
		return err
	}
	const depth, grey = 4, 0
	header := binary.BigEndian.AppendUint32(binary.BigEndian.AppendUint32(nil, uint32(p.columns)), uint32(p.rows))
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
	grey := func(dot byte) byte { return byte(15 - (int(dot)+8)/17) }
	for len(dots) >= 8 {
		if binary.NativeEndian.Uint64(dots) == 0 {
			binary.NativeEndian.PutUint32(out, math.MaxUint32)
		} else {
			for i := range 4 {
				out[i] = grey(dots[2*i])<<4 | grey(dots[2*i+1])
			}
		}
		out, dots = out[4:], dots[8:]
	}
	for i, dot := range dots {
		if i%2 == 0 {
			out[i/2] = grey(dot)<<4 | 15
		} else {
			out[i/2] = out[i/2]&0xF0 | grey(dot)
		}
	}
}
