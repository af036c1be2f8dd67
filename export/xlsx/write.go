// Package xlsx writes a workbook of package export to a file, and reads the cells of one
// that somebody sends back. It is the only package that knows the library for the file
// format.
package xlsx

import (
	"fmt"
	"io"
	"strconv"
	"strings"
	"unicode/utf8"

	"github.com/xuri/excelize/v2"

	"bankwright/export"
	"bankwright/export/whole"
)

// Write writes a book to path, replacing a file that is there. The old file
// stays whole until the new one is complete, whatever happens.
func Write(path string, b *export.Book) error {
	data, err := Bytes(b)
	if err == nil {
		err = whole.Write(path, func(w io.Writer) error {
			_, err := w.Write(data)
			return err
		})
	}
	if err != nil {
		return fmt.Errorf("the workbook %s cannot be written: %w", path, err)
	}
	return nil
}

// Bytes is the book as a file. The same book always gives the same bytes.
func Bytes(b *export.Book) ([]byte, error) {
	f := excelize.NewFile()
	defer f.Close()
	w := &writer{f: f, styles: map[styleKey]int{}}
	if err := w.book(b); err != nil {
		return nil, err
	}
	return seal(f)
}

// writer carries the file being written.
type writer struct {
	f      *excelize.File
	styles map[styleKey]int
	// asTyped are the conditional styles of numbers with more decimals than their
	// format has, once they are needed: those of typedFormats.
	asTyped []int
	out     []any // the row being written
}

func (w *writer) book(b *export.Book) error {
	if len(b.Sheets) == 0 {
		return fmt.Errorf("it has no sheet")
	}
	for i, s := range b.Sheets {
		if i == 0 {
			if err := w.f.SetSheetName(w.f.GetSheetName(0), s.Name); err != nil {
				return err
			}
		} else if _, err := w.f.NewSheet(s.Name); err != nil {
			return err
		}
	}
	if err := w.f.SetDefaultFont(font); err != nil {
		return err
	}
	for _, s := range b.Sheets {
		if err := w.sheet(s); err != nil {
			return fmt.Errorf("sheet %s: %w", s.Name, err)
		}
	}
	for _, n := range b.Names {
		if err := w.f.SetDefinedName(&excelize.DefinedName{Name: n.Name, RefersTo: n.RefersTo}); err != nil {
			return fmt.Errorf("name %s: %w", n.Name, err)
		}
	}
	if err := w.titles(b); err != nil {
		return err
	}
	return w.properties(b.Title)
}

// properties are the title and the maker of a file, without the time of day.
func (w *writer) properties(title string) error {
	return w.f.SetDocProps(&excelize.DocProperties{
		Title: clean(title), Creator: "bankwright",
		Created: "2000-01-01T00:00:00Z", Modified: "2000-01-01T00:00:00Z",
	})
}

// titles repeats the heads of each sheet on every printed page.
func (w *writer) titles(b *export.Book) error {
	for _, s := range b.Sheets {
		if s.Print.RepeatRows == 0 {
			continue
		}
		quoted := "'" + strings.ReplaceAll(s.Name, "'", "''") + "'"
		to := fmt.Sprintf("%s!$%d:$%d", quoted, max(1, s.Print.RepeatFrom), s.Print.RepeatRows)
		if s.Print.RepeatCols > 0 {
			col, err := excelize.ColumnNumberToName(s.Print.RepeatCols)
			if err != nil {
				return err
			}
			to = quoted + "!$A:$" + col + "," + to
		}
		err := w.f.SetDefinedName(&excelize.DefinedName{Name: "_xlnm.Print_Titles", RefersTo: to, Scope: s.Name})
		if err != nil {
			return err
		}
	}
	return nil
}

// sheet writes one sheet. The order of calls matters to the library: what
// stands before the cells in the file comes before the stream's first row, what
// stands behind them before the stream is flushed.
func (w *writer) sheet(s *export.Sheet) error {
	stream, err := w.open(s)
	if err != nil {
		return err
	}
	for r, row := range s.Rows() {
		if err := w.row(stream, s, r+1, row); err != nil {
			return fmt.Errorf("row %d: %w", r+1, err)
		}
	}
	if err := w.rules(s); err != nil {
		return err
	}
	if err := w.protect(s); err != nil {
		return err
	}
	if err := w.upon(s); err != nil {
		return err
	}
	for _, row := range s.Breaks {
		if err := w.f.InsertPageBreak(s.Name, "A"+strconv.Itoa(row)); err != nil {
			return err
		}
	}
	return stream.Flush()
}

// open writes what stands before the cells of a sheet.
func (w *writer) open(s *export.Sheet) (*excelize.StreamWriter, error) {
	if err := w.page(s); err != nil {
		return nil, err
	}
	// The library would say that the sheet is one cell large, and readers that go by
	// it would find nothing; without a size they look.
	if err := w.f.SetSheetDimension(s.Name, ""); err != nil {
		return nil, err
	}
	stream, err := w.f.NewStreamWriter(s.Name)
	if err != nil {
		return nil, err
	}
	// Right to left, since the library puts each call in front of the others;
	// neighbours of one width in one call, since each call copies all before.
	for last := len(s.Widths); last >= 1; {
		width, first := s.Widths[last-1], last
		for first > 1 && s.Widths[first-2] == width {
			first--
		}
		if width > 0 {
			if err := stream.SetColWidth(first, last, width); err != nil {
				return nil, err
			}
		}
		last = first - 1
	}
	if s.FreezeRows+s.FreezeCols > 0 {
		if err := stream.SetPanes(panes(s)); err != nil {
			return nil, err
		}
	}
	return stream, nil
}

// page sets up how a sheet is shown and printed.
func (w *writer) page(s *export.Sheet) error {
	fit, lines, below, wide, high := s.Print.Scale == 0, false, false, max(1, s.Print.Wide), 0 // as high as it takes
	if err := w.f.SetSheetProps(s.Name, &excelize.SheetPropsOptions{FitToPage: &fit, OutlineSummaryBelow: &below}); err != nil {
		return err
	}
	if err := w.f.SetSheetView(s.Name, 0, &excelize.ViewOptions{ShowGridLines: &lines}); err != nil {
		return err
	}
	orientation, a4 := "portrait", 9
	if s.Print.Landscape {
		orientation = "landscape"
	}
	layout := &excelize.PageLayoutOptions{Size: &a4, Orientation: &orientation, FitToWidth: &wide, FitToHeight: &high}
	if !fit {
		scale := uint(s.Print.Scale)
		layout = &excelize.PageLayoutOptions{Size: &a4, Orientation: &orientation, AdjustTo: &scale}
	}
	if err := w.f.SetPageLayout(s.Name, layout); err != nil {
		return err
	}
	side, top, bottom, foot := 0.39, 0.39, 0.6, 0.25 // inches; the last from the edge
	if err := w.f.SetPageMargins(s.Name, &excelize.PageLayoutMarginsOptions{Left: &side, Right: &side, Top: &top, Bottom: &bottom, Header: &foot, Footer: &foot}); err != nil {
		return err
	}
	said := "&L" + strings.ReplaceAll(cut(clean(s.Print.Footer), 120), "&", "&&") + "&C&A&RPage &P of &N"
	return w.f.SetHeaderFooter(s.Name, &excelize.HeaderFooterOptions{OddFooter: said})
}

func panes(s *export.Sheet) *excelize.Panes {
	p := &excelize.Panes{Freeze: true, XSplit: s.FreezeCols, YSplit: s.FreezeRows, ActivePane: "bottomRight"}
	p.TopLeftCell, _ = excelize.CoordinatesToCellName(s.FreezeCols+1, s.FreezeRows+1)
	switch {
	case s.FreezeCols == 0:
		p.ActivePane = "bottomLeft"
	case s.FreezeRows == 0:
		p.ActivePane = "topRight"
	}
	return p
}

// row writes the cells of a row, where there are any.
func (w *writer) row(stream *excelize.StreamWriter, s *export.Sheet, r int, row []export.Cell) error {
	w.out = w.out[:0]
	used := false
	for _, c := range row {
		v, err := w.cell(c)
		if err != nil {
			return err
		}
		used = used || v != nil
		w.out = append(w.out, v)
	}
	if !used {
		return nil
	}
	name, err := excelize.CoordinatesToCellName(1, r)
	if err != nil {
		return err
	}
	var opts []excelize.RowOpts
	h, deep := height(s, row), 0
	if r <= len(s.Depth) {
		deep = int(s.Depth[r-1])
	}
	if h > 0 || deep > 0 {
		opts = append(opts, excelize.RowOpts{Height: h, OutlineLevel: deep})
	}
	if err := stream.SetRow(name, w.out, opts...); err != nil {
		return err
	}
	return merge(stream, r, row)
}

// merge joins the columns that cells of a row take.
func merge(stream *excelize.StreamWriter, r int, row []export.Cell) error {
	for c, cell := range row {
		if cell.Span < 2 {
			continue
		}
		from, err := excelize.CoordinatesToCellName(c+1, r)
		if err != nil {
			return err
		}
		to, err := excelize.CoordinatesToCellName(c+cell.Span, r)
		if err != nil {
			return err
		}
		if err := stream.MergeCell(from, to); err != nil {
			return err
		}
	}
	return nil
}

// height is the height of a row whose remarks need several lines, in points; 0
// where one line will do. Readers of the format do not all fit it themselves.
func height(s *export.Sheet, row []export.Cell) float64 {
	const lineHeight = 13.5
	lines := 1
	for i, c := range row {
		lines = max(lines, c.Lines)
		text, ok := c.Value.(string)
		if !ok || !wraps(c.Style) || i >= len(s.Widths) || s.Widths[i] == 0 {
			continue
		}
		width := s.Widths[i]
		for j := i + 1; j < i+c.Span && j < len(s.Widths); j++ {
			width += s.Widths[j]
		}
		n := 0
		for _, l := range strings.Split(text, "\n") {
			n += 1 + (utf8.RuneCountInString(l)-1)/max(1, int(width*1.1))
		}
		lines = max(lines, n)
	}
	if lines == 1 {
		return 0
	}
	return min(float64(lines)*lineHeight, 400)
}

func wraps(s export.Style) bool {
	switch s {
	case export.Remark, export.Words, export.Head, export.Label, export.ComputedText, export.PulledText:
		return true
	}
	return false
}

// longest is the limit of the file format on a formula.
const longest = 8192

// cell is a cell as the library takes it, nil where there is nothing.
func (w *writer) cell(c export.Cell) (any, error) {
	if c == (export.Cell{}) {
		return nil, nil
	}
	if len(c.Formula) > longest {
		return nil, fmt.Errorf("a formula is %d characters long, more than the %d that a spreadsheet takes: give parts of it names of their own", len(c.Formula), longest)
	}
	v := c.Value
	if _, truth := v.(bool); truth && c.Format == "" {
		c.Format = export.TruthFormat
	}
	id, err := w.style(c.Style, c.Format)
	if err != nil {
		return nil, err
	}
	switch x := v.(type) {
	case string:
		v = clean(x)
	case float64:
		v, err = digits15(x)
	}
	return excelize.Cell{StyleID: id, Formula: c.Formula, Value: v}, err
}

// digits15 rounds to the 15 digits that the file keeps; the library would cut
// the rest off.
func digits15(x float64) (float64, error) {
	return strconv.ParseFloat(strconv.FormatFloat(x, 'g', 15, 64), 64)
}

// longestText is the limit of the file format on the text of a cell.
const longestText = 32767

// clean takes out what the file format cannot hold: control characters, and
// what is beyond the longest text, with a word that it was cut.
func clean(s string) string {
	s = strings.Map(func(r rune) rune {
		if r < ' ' && r != '\n' && r != '\t' || r == utf8.RuneError || r == 0xFFFE || r == 0xFFFF {
			return -1
		}
		return r
	}, s)
	const note = " (cut: the text is longer than a cell can hold)"
	if utf16Len(s) > longestText {
		s = cut(s, longestText-len(note)) + note
	}
	return s
}

// utf16Len is the length of s as spreadsheets count it.
func utf16Len(s string) int {
	n := 0
	for _, r := range s {
		n++
		if r > 0xFFFF {
			n++
		}
	}
	return n
}

// cut is at most n characters of s, counted as spreadsheets do.
func cut(s string, n int) string {
	for i, r := range s {
		n--
		if r > 0xFFFF {
			n--
		}
		if n < 0 {
			return s[:i]
		}
	}
	return s
}
