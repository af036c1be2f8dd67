package export

// Returned is a workbook as somebody sends it back, whichever program saved it.
type Returned interface {
	// Sheets are the names of its sheets, in order.
	Sheets() []string
	// Read reads the cells of a sheet that may have somewhat more of them than
	// expected. The error is a sentence.
	Read(sheet string, expected int) (*ReturnedSheet, error)
}

// ReturnedCell is what stands in a cell of a workbook that was sent back.
type ReturnedCell struct {
	Value   any  // float64, string, bool, ErrorValue, or nil for an empty cell; of a formula what was stored beside it
	Formula bool // it is calculated
	Percent bool // the number is shown as a percentage
	Date    bool // the number is shown as a date or a time
	Truth   bool // the formula is TRUE() or FALSE(), which Value is: some programs store truths so
}

// ErrorValue is what a formula without a result gives, such as #DIV/0!.
type ErrorValue string

// ReturnedSheet is the cells of a sheet that was sent back. Rows and columns count
// from 1.
type ReturnedSheet struct {
	Name       string
	Rows, Cols int // the last ones that hold anything
	cells      map[[2]int]ReturnedCell
}

// Set puts a cell.
func (s *ReturnedSheet) Set(row, col int, c ReturnedCell) {
	if s.cells == nil {
		s.cells = map[[2]int]ReturnedCell{}
	}
	s.cells[[2]int{row, col}] = c
	s.Rows, s.Cols = max(s.Rows, row), max(s.Cols, col)
}

// At is a cell; where nothing was set it is empty.
func (s *ReturnedSheet) At(row, col int) ReturnedCell { return s.cells[[2]int{row, col}] }

// text is the text of a cell, "" where it holds none.
func (s *ReturnedSheet) text(row, col int) string {
	t, _ := s.At(row, col).Value.(string)
	return t
}

// filled are the rows that hold something.
func (s *ReturnedSheet) filled() map[int]bool {
	out := map[int]bool{}
	for at, c := range s.cells {
		if !c.empty() {
			out[at[0]] = true
		}
	}
	return out
}

// headed reports whether a column holds something in the first so many rows.
func (s *ReturnedSheet) headed(rows, col int) bool {
	for row := 1; row <= rows; row++ {
		if !s.At(row, col).empty() {
			return true
		}
	}
	return false
}

func (c ReturnedCell) empty() bool { return !c.Formula && (c.Value == nil || c.Value == "") }
