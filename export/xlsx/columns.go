package xlsx

import (
	"bytes"
	"fmt"
	"io"
	"slices"
	"strconv"
	"strings"

	"github.com/xuri/excelize/v2"

	"bankwright/export"
)

// kept is what the library does not know of a sheet until it is saved.
type kept struct {
	cols string
	rows rows
}

// part begins the part of a sheet, the i-th of the file, with the widths of its columns.
// The library would copy all of them for each that is set, and go through them for each
// cell.
func (w *writer) part(i int, s *export.Sheet) (*kept, error) {
	var b strings.Builder
	for from := 0; from < len(s.Widths); {
		width, to := s.Widths[from], from+1
		for to < len(s.Widths) && s.Widths[to] == width {
			to++
		}
		if width > excelize.MaxColumnWidth {
			return nil, excelize.ErrColumnWidth
		}
		if width > 0 {
			fmt.Fprintf(&b, `<col min="%d" max="%d" width="%s" customWidth="1"/>`, from+1, to, strconv.FormatFloat(width, 'f', -1, 64))
		}
		from = to
	}
	p := &kept{}
	if b.Len() > 0 {
		p.cols = "<cols>" + b.String() + "</cols>"
	}
	w.sheets[fmt.Sprintf("%ssheet%d.xml", sheetParts, i+1)] = p
	return p, nil
}

// filled is a sheet as the library writes it, to which its columns' widths and its rows
// are added.
type filled struct {
	to   io.Writer
	part *kept  // still to be written
	head []byte // what was written before the rows
}

// withRows is to, where a sheet is filled in.
func withRows(to io.Writer, part *kept) io.Writer {
	if part == nil {
		return to
	}
	return &filled{to: to, part: part}
}

// Write takes the next bytes of the sheet.
func (f *filled) Write(p []byte) (int, error) {
	if f.part == nil {
		return f.to.Write(p)
	}
	head := p
	if len(f.head) > 0 {
		head = append(f.head, p...)
	}
	at := bytes.Index(head, []byte(begun))
	if at < 0 {
		f.head = slices.Clone(head)
		return len(p), nil
	}
	part := f.part
	f.part, f.head = nil, nil
	front, _, _ := bytes.Cut(head[:at], []byte("<cols>")) // of a sheet with pictures the library knows the widths
	for _, b := range [][]byte{front, []byte(part.cols), []byte(begun)} {
		if _, err := f.to.Write(b); err != nil {
			return 0, err
		}
	}
	if err := part.rows.write(f.to); err != nil {
		return 0, err
	}
	_, err := f.to.Write(head[at+len(begun):])
	return len(p), err
}

// begun stands in front of the rows of a sheet.
const begun = "<sheetData>"
