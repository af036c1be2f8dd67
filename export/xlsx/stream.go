package xlsx

import (
	"archive/zip"
	"io"
	"strings"

	"github.com/xuri/excelize/v2"

	"bankwright/export"
)

// Stream writes a file of one sheet that may be too long for memory: the rows that
// stand on it, and below them those that rows hands to put, one after the other. Of the
// rest of the sheet its widths, panes and titles are written; validations, marks, links,
// charts, pictures, breaks and protection are left out. The same rows always give the
// same bytes.
//
// It has no seal, which would need all of its parts in memory: Changed takes it for a
// file that is not ours.
func Stream(out io.Writer, title string, s *export.Sheet, rows func(put func([]export.Cell) error) error) error {
	f := excelize.NewFile()
	defer f.Close()
	w := newWriter(f)
	if err := f.SetSheetName(f.GetSheetName(0), s.Name); err != nil {
		return err
	}
	if err := face(f); err != nil {
		return err
	}
	part, err := w.part(0, s)
	if err != nil {
		return err
	}
	part.rows.spills = true
	defer part.rows.close()
	stream, err := w.open(s)
	if err != nil {
		return err
	}
	r := 0
	put := func(row []export.Cell) error {
		r++
		return w.row(&part.rows, stream, s, r, row)
	}
	for _, row := range s.Rows() {
		if err := put(row); err != nil {
			return err
		}
	}
	if err := rows(put); err != nil {
		return err
	}
	if err := stream.Flush(); err != nil {
		return err
	}
	if err := w.titles(&export.Book{Sheets: []*export.Sheet{s}}); err != nil {
		return err
	}
	if err := w.properties(title); err != nil {
		return err
	}
	return w.pass(out)
}

// pass saves the file without holding its sheets in memory.
func (w *writer) pass(out io.Writer) error {
	sortTypes(w.f)
	p := &passing{zip: zipTo(out), parts: newParts(w.sheets)}
	w.f.SetZipWriter(func(io.Writer) excelize.ZipWriter { return p })
	_, err := w.f.WriteToBuffer()
	return err
}

// passing writes sheets to the file as they come, and what else there is, which is
// small, in a fixed order behind them.
type passing struct {
	parts
	zip *zip.Writer
}

// Create begins a part.
func (p *passing) Create(name string) (io.Writer, error) {
	if !strings.HasPrefix(name, sheetParts) {
		return p.parts.Create(name)
	}
	to, err := create(p.zip, name)
	return withRows(to, p.sheets[name]), err
}

// Close writes what was kept back.
func (p *passing) Close() error {
	for _, name := range names(p.data) {
		if err := put(p.zip, name, p.content(name)); err != nil {
			return err
		}
	}
	return p.zip.Close()
}
