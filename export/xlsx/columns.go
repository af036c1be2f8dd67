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

// columns keeps the widths of the columns of a sheet, which is the i-th of the file,
// until it is saved. The library would copy all of them for each that is set, and go
// through them for each cell.
func (w *writer) columns(i int, s *export.Sheet) error {
	var b strings.Builder
	for from := 0; from < len(s.Widths); {
		width, to := s.Widths[from], from+1
		for to < len(s.Widths) && s.Widths[to] == width {
			to++
		}
		if width > excelize.MaxColumnWidth {
			return excelize.ErrColumnWidth
		}
		if width > 0 {
			fmt.Fprintf(&b, `<col min="%d" max="%d" width="%s" customWidth="1"/>`, from+1, to, strconv.FormatFloat(width, 'f', -1, 64))
		}
		from = to
	}
	if b.Len() > 0 {
		w.cols[fmt.Sprintf("%ssheet%d.xml", sheetParts, i+1)] = "<cols>" + b.String() + "</cols>"
	}
	return nil
}

// columned is a sheet to whose columns widths are given.
type columned struct {
	to   io.Writer
	cols string // still to be written
	head []byte // what was written before the cells
}

// withColumns is to, with the widths of columns in front of the cells.
func withColumns(to io.Writer, cols string) io.Writer {
	if cols == "" {
		return to
	}
	return &columned{to: to, cols: cols}
}

// Write takes the next bytes of the sheet.
func (c *columned) Write(p []byte) (int, error) {
	if c.cols == "" {
		return c.to.Write(p)
	}
	head := p
	if len(c.head) > 0 {
		head = append(c.head, p...)
	}
	at := bytes.Index(head, []byte("<sheetData>"))
	if at < 0 {
		c.head = slices.Clone(head)
		return len(p), nil
	}
	if bytes.HasSuffix(head[:at], []byte("</cols>")) { // of a sheet without rows the library knows them, for its pictures
		c.cols = ""
	}
	for _, b := range [][]byte{head[:at], []byte(c.cols), head[at:]} {
		if _, err := c.to.Write(b); err != nil {
			return 0, err
		}
	}
	c.cols, c.head = "", nil
	return len(p), nil
}
