// Package xlsx writes a workbook of package export to a file, and reads the cells of one
// that somebody sends back. It is the only package that knows the library for the file
// format.
package xlsx

import (
	"cmp"
	"fmt"
	"io"
	"slices"
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
	w := newWriter(f)
	if err := w.write(b); err != nil {
		return nil, err
	}
	return w.seal()
}

// writer carries the file being written.
type writer struct {
	f      *excelize.File
	styles map[styleKey]int
	last   styleKey // the style that was asked for last
	lastID int
	// asTyped are the conditional styles of numbers with more decimals than their
	// format has, once they are needed: those of typedFormats.
	asTyped []int
	sheets  map[string]*kept // by name of the part
	book    map[string]*export.Sheet
	charts  int // how many there are so far
}

func newWriter(f *excelize.File) *writer {
	return &writer{f: f, styles: map[styleKey]int{}, sheets: map[string]*kept{}, book: map[string]*export.Sheet{}}
}

func (w *writer) write(b *export.Book) error {
	if len(b.Sheets) == 0 {
		return fmt.Errorf("it has no sheet")
	}
	for i, s := range b.Sheets {
		w.book[s.Name] = s
		if i == 0 {
			if err := w.f.SetSheetName(w.f.GetSheetName(0), s.Name); err != nil {
				return err
			}
		} else if _, err := w.f.NewSheet(s.Name); err != nil {
			return err
		}
	}
	if err := face(w.f); err != nil {
		return err
	}
	for i, s := range b.Sheets {
		part, err := w.part(i, s)
		if err == nil {
			err = w.sheet(part, s)
		}
		if err != nil {
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

// titles repeats the heads of each sheet on every printed page, and says what is printed
// of one that has to find room on so many pages: some programs add what looks too long
// for its cell.
func (w *writer) titles(b *export.Book) error {
	for _, s := range b.Sheets {
		quoted := "'" + strings.ReplaceAll(s.Name, "'", "''") + "'"
		if err := w.area(s, quoted); err != nil {
			return err
		}
		if s.Print.RepeatRows == 0 {
			continue
		}
		from := max(1, s.Print.RepeatFrom)
		if s.Print.Header != "" { // which has the title
			from = max(from, min(export.TitleRows+1, s.Print.RepeatRows))
		}
		to := fmt.Sprintf("%s!$%d:$%d", quoted, from, s.Print.RepeatRows)
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

// area says what is printed of a sheet of which not all is, or which has to find room.
func (w *writer) area(s *export.Sheet, quoted string) error {
	p := s.Print
	if p.High == 0 && p.From == 0 && p.ToRow == 0 {
		return nil
	}
	col, err := excelize.ColumnNumberToName(cmp.Or(p.ToCol, len(s.Widths)))
	if err != nil {
		return err
	}
	to := fmt.Sprintf("%s!$A$%d:$%s$%d", quoted, max(1, p.From), col, cmp.Or(p.ToRow, max(len(s.Rows()), len(s.Heights))))
	return w.f.SetDefinedName(&excelize.DefinedName{Name: "_xlnm.Print_Area", RefersTo: to, Scope: s.Name})
}

// sheet writes one sheet. The order of calls matters to the library: what
// stands before the cells in the file comes before the stream's first row, what
// stands behind them before the stream is flushed.
func (w *writer) sheet(part *kept, s *export.Sheet) error {
	stream, err := w.open(s)
	if err != nil {
		return err
	}
	cells := s.Rows()
	for r := range max(len(cells), len(s.Heights)) {
		var row []export.Cell
		if r < len(cells) {
			row = cells[r]
		}
		if err := w.row(&part.rows, stream, s, r+1, row); err != nil {
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
	if s.FreezeRows+s.FreezeCols > 0 {
		if err := stream.SetPanes(panes(s)); err != nil {
			return nil, err
		}
	}
	return stream, nil
}

// row writes the cells of a row, where there are any.
func (w *writer) row(to *rows, stream *excelize.StreamWriter, s *export.Sheet, r int, row []export.Cell) error {
	if r > export.MostRows || len(row) > export.MostColumns {
		return fmt.Errorf("a sheet has at most %d rows and %d columns", export.MostRows, export.MostColumns)
	}
	h, deep := height(s, row), 0
	if r <= len(s.Heights) && s.Heights[r-1] > 0 {
		h = s.Heights[r-1]
	} else if !slices.ContainsFunc(row, func(c export.Cell) bool { return c != export.Cell{} }) {
		return nil
	}
	if r <= len(s.Depth) {
		deep = int(s.Depth[r-1])
	}
	var room [8]byte
	number := strconv.AppendInt(room[:0], int64(r), 10)
	out := append(append(append(to.begin(), `<row r="`...), number...), '"')
	if h > 0 {
		out = append(strconv.AppendFloat(append(out, ` ht="`...), h, 'f', -1, 64), `" customHeight="1"`...)
	}
	if deep > 0 {
		out = append(strconv.AppendInt(append(out, ` outlineLevel="`...), int64(deep), 10), '"')
	}
	out = append(out, '>')
	for i := range row {
		if row[i] == (export.Cell{}) {
			continue
		}
		style, err := w.looks(&row[i])
		if err == nil {
			out, err = appendCell(out, &row[i], i, number, style)
		}
		if err != nil {
			return err
		}
	}
	if err := to.end(append(out, "</row>"...)); err != nil {
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
		to, err := excelize.CoordinatesToCellName(c+int(cell.Span), r)
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
		lines = max(lines, int(c.Lines))
		text, ok := c.Value.(string)
		if !ok || !wraps(c.Style) || i >= len(s.Widths) || s.Widths[i] == 0 {
			continue
		}
		width := s.Widths[i]
		for j := i + 1; j < i+int(c.Span) && j < len(s.Widths); j++ {
			width += s.Widths[j]
		}
		n := 0
		for l := range strings.SplitSeq(text, "\n") {
			said, room := utf8.RuneCountInString(l), int(width*1.1)
			if said > room { // words are not broken
				room -= 2
			}
			n += 1 + (said-1)/max(1, room)
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
	case export.Remark, export.Words, export.Head, export.Label, export.ComputedText, export.PulledText, export.FrozenText, export.NoneWon:
		return true
	}
	return s.Hue() >= 0
}

// longest is the limit of the file format on a formula.
const longest = 8192

// looks is the style of a cell.
func (w *writer) looks(c *export.Cell) (int, error) {
	if len(c.Formula) > longest {
		return 0, fmt.Errorf("a formula is %d characters long, more than the %d that a spreadsheet takes: give parts of it names of their own", len(c.Formula), longest)
	}
	format := c.Format
	if _, truth := c.Value.(bool); truth {
		format = cmp.Or(format, export.TruthFormat)
	}
	return w.style(styleKey{c.Style, format, c.Lines != 1 && (c.Span > 1 || c.Lines > 1), c.Lines == 1})
}

// isPlain reports whether there is nothing to clean in a text, as in nearly all.
func isPlain(s string) bool {
	for i := range len(s) {
		if s[i] < ' ' || s[i] >= utf8.RuneSelf {
			return false
		}
	}
	return len(s) <= longestText
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
