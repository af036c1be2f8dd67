// Package export turns a solved model into what people read: a workbook whose
// numbers are alive, or JSON. Workbooks are made here as plain data, sheets of
// cells with formulas; package export/xlsx writes them to a file.
//
// Nothing here knows the trade: sheets, rows and columns follow from what the
// rules declare.
package export

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"bankwright/export/calc"
	"bankwright/export/picture"
)

// Book is a workbook as plain data.
type Book struct {
	Title  string
	Sheets []*Sheet
	Names  []Name
}

// Name is a defined name; RefersTo is an absolute cell or range.
type Name struct{ Name, RefersTo string }

// Sheet is one sheet. Rows and columns count from 1.
type Sheet struct {
	Name        string
	Widths      []float64 // of columns from A, in characters; 0: the usual width
	FreezeRows  int
	FreezeCols  int
	Print       Print
	Validations []Validation
	Marks       []Mark
	Typed       []Typed
	Charts      []Chart
	Pictures    []Picture
	Breaks      []int     // rows that begin a new page on paper
	Heights     []float64 // of rows from the first, in points; 0 or beyond them: as high as its texts need
	Depth       []uint8   // of each row, how many headings above it it belongs to: rows of an outline can be folded, in Excel once the protection is off (from memory)
	rows        [][]Cell
	wide        int // how many columns are expected; 0: not known
}

// How many rows and columns a sheet can have (Microsoft, "Excel specifications and
// limits").
const (
	MostRows    = 1 << 20
	MostColumns = 1 << 14
)

// Print is how a sheet goes on paper, which is A4: fitted to the width of the page, if
// nothing else is said.
type Print struct {
	Landscape  bool
	RepeatRows int // rows at the top of every page: the first so many
	RepeatFrom int // of these, the first that is repeated, on the pages below it; 0: all are
	RepeatCols int // columns at its left
	From       int // the first row that is printed; 0: all are
	ToRow      int // the last one, where not all are
	ToCol      int // and the last column
	Wide       int // how many pages side by side; 0 is one
	High       int // how many pages below each other; 0: as many as it takes
	Scale      int // per cent of its size, in place of fitting it to the width; 0: fitted
	Margin     int // at its sides, in millimetres; 0: the usual one
	Footer     string
	Header     string // above every page, where its title is not among what is printed
}

// Validation limits what may be typed into a range.
type Validation struct {
	Range    string // A1:B2
	List     string // a range whose values may be chosen; else a number is wanted
	Min      *float64
	Max      *float64
	Whole    bool   // only a whole number
	Required bool   // the cell must not be emptied
	Title    string // of the message shown otherwise
	Error    string
	Usual    string // what is shown when the cell is chosen
}

// Mark colours the cells of a range that hold exactly a word.
type Mark struct {
	Range string
	Word  string
	Style Style
}

// Typed is a range of numbers that people type, and so many decimals of them
// are shown at least: more where what is typed has more.
type Typed struct {
	Range    string
	Decimals int
}

// Picture is an image upon the cells of a sheet.
type Picture struct {
	Row, Col int    // the cell at its upper left corner, from 1
	Width    int    // as shown, in pixels, 96 an inch
	Text     string // what it shows, for who cannot see it
	PNG      []byte
}

// Style names a look; package xlsx knows what each looks like.
type Style uint8

// The styles.
const (
	Plain Style = iota
	Title
	Heading  // of a part of a sheet
	Section  // of a few rows
	Head     // of a column
	HeadText // of a column of text
	Label
	Unit
	Note
	Remark // a note that takes as many lines as it needs
	Words  // a sentence that does
	Input
	InputText
	Computed
	ComputedText
	Frozen // a value that is not live: computed when the workbook was written
	FrozenText
	FrozenWords // a sentence of that sort
	Published   // a value of a table of the rules
	Pulled      // a value brought from another sheet
	PulledText
	Total
	TotalText // the label of one
	Sentence
	Lead  // the sentence that matters most
	Alert // a sentence about what is to be mended
	Stopped
	Unfit
	Cautioned
	Passed
	Link
	Below   // the unit below the head of a column of numbers
	NoneWon // of a map of who wins: nobody does
	won     // and the styles behind it: see Won
)

// Won is the look of who wins on a map: a colour for each item, from the Hues-th on
// used again, so that a word must stand there.
func Won(item int) Style { return won + Style(item%Hues) }

// Hues is how many colours there are for who wins: those of package picture.
const Hues = picture.Hues

// Hue is the colour of a look of who wins, -1 of any other.
func (s Style) Hue() int {
	if s < won || s >= won+Hues {
		return -1
	}
	return int(s - won)
}

// Cell is the content of a cell. With a Formula (without =), Value is what it
// gives; a string is always text, whatever it begins with.
type Cell struct {
	Formula string
	Value   any    // float64, string, bool, or nil for an empty cell
	Format  string // number format, "" for General
	Link    string // a cell to go to, such as Inputs!C5
	Style   Style
	Span    int16 // how many columns it takes, where more than one
	Lines   int16 // for how many lines there is room at least, whatever comes to stand there; with 1, letters grow smaller where it takes more
	Typed   bool  // a number that is shown as it is typed, here or elsewhere
}

// Set puts a cell.
func (s *Sheet) Set(row, col int, c Cell) {
	for len(s.rows) < row {
		s.rows = append(s.rows, nil)
	}
	r := s.rows[row-1]
	if len(r) < col {
		if cap(r) < col {
			r = slices.Grow(r, max(col, s.wide)-len(r))
		}
		r = r[:col] // what is behind its end has never been written
	}
	r[col-1] = c
	s.rows[row-1] = r
}

// At is a cell; beyond what was set it is empty.
func (s *Sheet) At(row, col int) Cell {
	if row < 1 || row > len(s.rows) || col < 1 || col > len(s.rows[row-1]) {
		return Cell{}
	}
	return s.rows[row-1][col-1]
}

// Rows is all rows that were set; they are not to be changed.
func (s *Sheet) Rows() [][]Cell { return s.rows }

// fold makes rows one deeper in the outline: they belong to a heading above.
func (s *Sheet) fold(from, to int) {
	for len(s.Depth) < to {
		s.Depth = append(s.Depth, 0)
	}
	for r := from; r <= to; r++ {
		s.Depth[r-1]++
	}
}

// text puts a text in a style.
func (s *Sheet) text(row, col int, text string, style Style) {
	s.Set(row, col, Cell{Value: text, Style: style})
}

// Find is a sheet by name, nil if there is none.
func (b *Book) Find(name string) *Sheet {
	if i := b.Sheet(name); i >= 0 {
		return b.Sheets[i]
	}
	return nil
}

// Sheet, Cell and Name make a book a source of package calc.

// Sheet is the number of a sheet by name, -1 if there is none.
func (b *Book) Sheet(name string) int {
	for i, s := range b.Sheets {
		if s.Name == name {
			return i
		}
	}
	return -1
}

// Cell is the formula and the plain data of a cell.
func (b *Book) Cell(sheet, row, col int) (string, any) {
	if sheet < 0 || row < 1 || col < 1 {
		return "", nil
	}
	if rows := b.Sheets[sheet].rows; row <= len(rows) && col <= len(rows[row-1]) {
		c := &rows[row-1][col-1]
		return c.Formula, c.Value
	}
	return "", nil
}

// Name is what a defined name refers to.
func (b *Book) Name(name string) (string, bool) {
	for _, n := range b.Names {
		if strings.EqualFold(n.Name, name) {
			return n.RefersTo, true
		}
	}
	return "", false
}

// filling is a book whose formulas are calculated where their value is not known.
type filling struct{ *Book }

// Cell is the formula of a cell whose value is not known, or its value.
func (f filling) Cell(sheet, row, col int) (string, any) {
	formula, value := f.Book.Cell(sheet, row, col)
	if value != nil {
		return "", value
	}
	return formula, nil
}

// fill gives every formula that has no value yet the value it calculates; those of rules
// have that of the engine. The error names the first cell that gives an error value.
func (b *Book) fill() error {
	run := calc.New(filling{b})
	var fault error
	for n, s := range b.Sheets {
		for r, row := range s.rows {
			for c := range row {
				cell := &row[c]
				if cell.Formula == "" || cell.Value != nil {
					continue
				}
				v := run.Cell(n, r+1, c+1)
				cell.Value = v.Any()
				if v.T == calc.Error && fault == nil {
					fault = fmt.Errorf("%s!%s gives %s: %s", s.Name, cellName(r+1, c+1), v.S, cell.Formula)
				}
			}
		}
	}
	return fault
}

// cellName is A1 text.
func cellName(row, col int) string { return columnName(col) + strconv.Itoa(row) }

// columnName is the letters of a column, counted from 1.
func columnName(col int) string { return string(appendColumn(nil, col)) }

func appendColumn(b []byte, col int) []byte {
	var letters [4]byte
	i := len(letters)
	for ; col > 0; col = (col - 1) / 26 {
		i--
		letters[i] = byte('A' + (col-1)%26)
	}
	return append(b, letters[i:]...)
}

// quoteSheet is a sheet's name as formulas write it.
func quoteSheet(name string) string {
	plain := name != "" && !looksLikeCell(name)
	for i := 0; i < len(name) && plain; i++ {
		c := name[i]
		plain = c == '_' || c >= 'A' && c <= 'Z' || c >= 'a' && c <= 'z' || i > 0 && c >= '0' && c <= '9'
	}
	if plain {
		return name
	}
	return "'" + strings.ReplaceAll(name, "'", "''") + "'"
}

// looksLikeCell reports whether a name would be read as a cell, in letters and
// numbers or in rows and columns, or as a truth value.
func looksLikeCell(name string) bool {
	s := strings.ToUpper(name)
	if s == "TRUE" || s == "FALSE" || s == "R" || s == "C" || s == "RC" {
		return true
	}
	i := 0
	for i < len(s) && s[i] >= 'A' && s[i] <= 'Z' {
		i++
	}
	digits := i < len(s)
	for _, c := range s[i:] {
		digits = digits && c >= '0' && c <= '9'
	}
	if digits && i >= 1 && i <= 3 {
		return true
	}
	rc := strings.Trim(s, "0123456789")
	return rc == "R" || rc == "C" || strings.HasPrefix(s, "R") && strings.Trim(s[1:], "0123456789") == "C"
}

// quoteText is a text as formulas write it: at most 255 characters a piece.
func quoteText(s string) string {
	const most = 250
	r := []rune(s)
	if len(r) <= most {
		return `"` + strings.ReplaceAll(s, `"`, `""`) + `"`
	}
	return quoteText(string(r[:most])) + "&" + quoteText(string(r[most:]))
}
