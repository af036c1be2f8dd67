package xlsx

import (
	"archive/zip"
	"bytes"
	"encoding/xml"
	"errors"
	"fmt"
	"io"
	"os"
	"path"
	"regexp"
	"strconv"
	"strings"

	"github.com/xuri/excelize/v2"

	"bankwright/export"
)

// A workbook that is sent back may come from anywhere. It is read here cell by
// cell, as a stream that stops at limits, and not by the library that writes: that
// makes room for all cells up to the last one, of which a small file may claim
// millions, and does not tell what kind of cell it reads while it streams.

// Limits on a workbook that is read.
const (
	mostFile    = 64 << 20 // bytes, packed
	mostPart    = 16 << 20 // bytes, unpacked, of what stands beside the sheets
	mostSheets  = 1000
	spareBytes  = 8 << 20 // of a sheet, beside those for the cells that are expected
	cellBytes   = 1 << 10 // for each of these
	spareCells  = 50_000
	mostNesting = 64
)

// File is a workbook that is read.
type File struct {
	file    *os.File
	parts   map[string]*zip.File
	sheets  []sheetPart
	strings []string
	formats []format // by the number of a cell's style
}

type sheetPart struct{ name, part string }

// Open begins to read a workbook. The error is a sentence that goes on from its
// name: "is not a workbook".
func Open(name string) (f *File, err error) {
	info, err := os.Stat(name)
	switch {
	case errors.Is(err, os.ErrNotExist):
		return nil, errors.New("is not there")
	case err != nil:
		return nil, errors.New("cannot be read")
	case !info.Mode().IsRegular():
		return nil, errors.New("is no file")
	case info.Size() > mostFile:
		return nil, fmt.Errorf("is larger than %d MB, which no workbook of ours is", mostFile>>20)
	}
	file, err := os.Open(name)
	if err != nil {
		return nil, errors.New("may not be opened")
	}
	f = &File{file: file, parts: map[string]*zip.File{}}
	if err := f.begin(file, info.Size()); err != nil {
		file.Close()
		return nil, err
	}
	return f, nil
}

// Close ends reading.
func (f *File) Close() error {
	if f.file == nil {
		return nil
	}
	return f.file.Close()
}

// begin reads all but the sheets.
func (f *File) begin(r io.ReaderAt, size int64) error {
	z, err := zip.NewReader(r, size)
	if err != nil {
		return notZip(r)
	}
	if len(z.File) > mostParts {
		return fmt.Errorf("has more than %d parts, which no workbook of ours has", mostParts)
	}
	for _, p := range z.File {
		name := strings.TrimPrefix(p.Name, "/")
		if f.parts[name] != nil {
			return fmt.Errorf("is broken: it has the part %q twice", name)
		}
		f.parts[name] = p
	}
	if f.parts["[Content_Types].xml"] == nil {
		if f.parts["mimetype"] != nil {
			return errors.New("is an OpenDocument file; save it as .xlsx (Excel 2007 or later)")
		}
		return errors.New("is not a workbook in the form .xlsx")
	}
	return f.book()
}

// notZip says what a file is that cannot be unpacked.
func notZip(r io.ReaderAt) error {
	head := make([]byte, 8)
	n, _ := r.ReadAt(head, 0)
	switch {
	case n == 0:
		return errors.New("is empty")
	case bytes.HasPrefix(head, []byte{0xD0, 0xCF, 0x11, 0xE0}): // MS-CFB: the container of .xls and of what is encrypted
		return errors.New("is protected by a password, or of the old form .xls; save it as .xlsx without a password")
	case bytes.HasPrefix(head, []byte("PK")):
		return errors.New("is broken: its end is missing; ask for it again")
	}
	return errors.New("is not a workbook in the form .xlsx")
}

// book finds the sheets, the texts that they share and the formats of cells.
func (f *File) book() error {
	main := "xl/workbook.xml"
	err := f.relations("", func(kind, _, target string) {
		if strings.HasSuffix(kind, "/officeDocument") {
			main = target
		}
	})
	if err != nil {
		return err
	}
	targets := map[string]string{}
	texts, styles := "", ""
	err = f.relations(main, func(kind, id, target string) {
		switch targets[id] = target; path.Base(kind) {
		case "sharedStrings":
			texts = target
		case "styles":
			styles = target
		}
	})
	if err != nil {
		return err
	}
	if err := f.list(main, targets); err != nil {
		return err
	}
	if texts != "" {
		if err := f.shared(texts); err != nil {
			return err
		}
	}
	if styles != "" {
		return f.styled(styles)
	}
	return nil
}

// relations reads which parts belong to a part.
func (f *File) relations(of string, each func(kind, id, target string)) error {
	name := path.Join(path.Dir(of), "_rels", path.Base(of)+".rels")
	if of == "" {
		name = "_rels/.rels"
	}
	if f.parts[name] == nil {
		return nil
	}
	return f.scan(name, mostPart, func(d *scanner) error {
		if d.start == nil || d.start.Name.Local != "Relationship" || attribute(d.start, "TargetMode") == "External" {
			return nil
		}
		target := attribute(d.start, "Target")
		if rooted, ok := strings.CutPrefix(target, "/"); ok {
			target = rooted
		} else {
			target = path.Join(path.Dir(of), target)
		}
		each(attribute(d.start, "Type"), attribute(d.start, "Id"), target)
		return nil
	})
}

// list reads the names of the sheets and where they are.
func (f *File) list(main string, targets map[string]string) error {
	seen := map[string]bool{}
	err := f.scan(main, mostPart, func(d *scanner) error {
		if d.start == nil || d.start.Name.Local != "sheet" {
			return nil
		}
		name := attribute(d.start, "name")
		id := ""
		for _, a := range d.start.Attr {
			if a.Name.Local == "id" && a.Name.Space != "" {
				id = a.Value
			}
		}
		if f.parts[targets[id]] == nil || seen[name] {
			return fmt.Errorf("is broken: the sheet %q cannot be found in it", name)
		}
		seen[name] = true
		if f.sheets = append(f.sheets, sheetPart{name, targets[id]}); len(f.sheets) > mostSheets {
			return fmt.Errorf("has more than %d sheets, which no workbook of ours has", mostSheets)
		}
		return nil
	})
	if err == nil && len(f.sheets) == 0 {
		return errors.New("is not a workbook: it has no sheets")
	}
	return err
}

// shared reads the texts that cells share.
func (f *File) shared(part string) error {
	var text strings.Builder
	return f.scan(part, mostPart, func(d *scanner) error {
		switch {
		case d.start != nil && d.start.Name.Local == "si":
			text.Reset()
		case d.text != nil && d.inside("t") && !d.inside("rPh"):
			text.Write(d.text)
		case d.end == "si":
			f.strings = append(f.strings, unescaped(text.String()))
		}
		return nil
	})
}

// Sheets are the names of the sheets, in order.
func (f *File) Sheets() []string {
	out := make([]string, len(f.sheets))
	for i, s := range f.sheets {
		out[i] = s.name
	}
	return out
}

// Read reads the cells of a sheet, of which so many are expected; a sheet with many
// more is refused. The error is a sentence that goes on from the workbook's name.
func (f *File) Read(sheet string, expected int) (*export.ReturnedSheet, error) {
	for _, s := range f.sheets {
		if s.name == sheet {
			r := cellReader{f: f, out: &export.ReturnedSheet{Name: sheet}, left: 2*expected + spareCells}
			err := f.scan(s.part, spareBytes+cellBytes*int64(expected), r.token)
			if err == errDone {
				err = nil
			}
			return r.out, err
		}
	}
	return nil, fmt.Errorf("has no sheet %q", sheet)
}

// errDone ends the reading of a part before its end.
var errDone = errors.New("done")

// cellReader makes cells of the elements of a sheet.
type cellReader struct {
	f        *File
	out      *export.ReturnedSheet
	left     int // how many more cells are read
	row, col int
	kind     string
	style    int
	cell     export.ReturnedCell
	value    strings.Builder
	formula  strings.Builder // its beginning
	open     bool            // within a cell
}

func (r *cellReader) token(d *scanner) error {
	switch {
	case d.start != nil:
		return r.begin(d.start)
	case d.text != nil:
		if r.open && (d.inside("v") || d.inside("t") && !d.inside("rPh")) {
			r.value.Write(d.text)
		}
		if r.open && d.inside("f") && r.formula.Len() < truthBytes {
			r.formula.Write(d.text)
		}
	case d.end == "c" && r.open:
		return r.finish()
	case d.end == "sheetData":
		return errDone
	}
	return nil
}

func (r *cellReader) begin(e *xml.StartElement) error {
	switch e.Name.Local {
	case "row":
		r.row++
		r.col = 0
		if n := attribute(e, "r"); n != "" {
			row, err := strconv.Atoi(n)
			if err != nil || row < 1 || row > export.MostRows {
				return fmt.Errorf("is broken: the sheet %q has a row %q", r.out.Name, cut(n, 20))
			}
			r.row = row
		}
	case "c":
		if r.left--; r.left < 0 {
			return fmt.Errorf("has far more cells on the sheet %q than were written", r.out.Name)
		}
		r.col++
		if at := attribute(e, "r"); at != "" {
			col, row, err := excelize.CellNameToCoordinates(at)
			if err != nil {
				return fmt.Errorf("is broken: the sheet %q has a cell %q", r.out.Name, cut(at, 20))
			}
			r.row, r.col = row, col
		}
		if r.row < 1 || r.row > export.MostRows || r.col > export.MostColumns {
			return fmt.Errorf("is broken: the sheet %q has a cell outside of it", r.out.Name)
		}
		r.open, r.cell, r.kind = true, export.ReturnedCell{}, attribute(e, "t")
		r.style, _ = strconv.Atoi(attribute(e, "s"))
		r.value.Reset()
		r.formula.Reset()
	case "f":
		r.cell.Formula = r.open
	}
	return nil
}

// broken says what is wrong with the cell.
func (r *cellReader) broken(what string) error {
	name, _ := excelize.CoordinatesToCellName(r.col, r.row) // it lies within a sheet, as was looked at
	return fmt.Errorf("is broken: %s on the sheet %q %s", name, r.out.Name, what)
}

// decimal is how the file format writes a finite number (XML Schema part 2, double).
// The language that reads it here takes other forms as well, such as 0x1p4 and NaN.
var decimal = regexp.MustCompile(`^[+-]?(\d+\.?\d*|\.\d+)([eE][+-]?\d+)?$`)

// truth is a formula that is a truth: LibreOffice stores those that are typed as
// FALSE() with the value 0.
var truth = regexp.MustCompile(`(?i)^=?(true|false)\(\)$`)

// truthBytes is more than such a formula is long.
const truthBytes = 16

// finish puts a cell that has been read.
func (r *cellReader) finish() error {
	r.open = false
	text := r.value.String()
	switch r.kind {
	case "s":
		n, err := strconv.Atoi(text)
		if err != nil || n < 0 || n >= len(r.f.strings) {
			if text == "" {
				break
			}
			return r.broken("has a text that is not there")
		}
		r.cell.Value = r.f.strings[n]
	case "inlineStr", "str":
		r.cell.Value = unescaped(text)
	case "b":
		r.cell.Value = text == "1" || text == "true"
	case "e":
		r.cell.Value = export.ErrorValue(cut(text, 20))
	case "d":
		r.cell.Value, r.cell.Date = text, true
	default:
		if text == "" {
			break
		}
		text = strings.TrimSpace(text)
		x, err := strconv.ParseFloat(text, 64)
		if err != nil || !decimal.MatchString(text) {
			return r.broken("is no number")
		}
		r.cell.Value = x
		if r.style >= 0 && r.style < len(r.f.formats) {
			r.cell.Percent, r.cell.Date = r.f.formats[r.style].percent, r.f.formats[r.style].date
		}
	}
	if m := truth.FindStringSubmatch(r.formula.String()); m != nil {
		r.cell.Value, r.cell.Truth = strings.EqualFold(m[1], "true"), true
	}
	if t, ok := r.cell.Value.(string); ok && t == "" {
		r.cell.Value = nil
	}
	if r.cell.Value != nil || r.cell.Formula {
		r.out.Set(r.row, r.col, r.cell)
	}
	return nil
}
