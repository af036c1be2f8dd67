package export

import "math"

// How much goes on a page of A4 with margins of 1 cm at the sides and 1.5 below, in
// characters of columns and in points of rows, when what is read is printed in 7 points:
// 70 % of its size (measured: LibreOffice 7.4 with Liberation Sans, which is as wide as
// Arial; Excel's columns are a little narrower, and its letters larger).
const (
	readPortrait  = 134
	readLandscape = 195
	highPortrait  = 1088
	highLandscape = 740

	readScale  = 0.7
	charWide   = 1.96 // of a column, in mm
	rowHigh    = 4.52 // of a row that is as high as its letters need, in mm
	mostShrunk = 305  // characters of columns that are rather printed small than in two parts
	slack      = 0.1  // of a page: rather smaller letters than one more
)

// rowsOnPage is how many rows a page that lies on its side has, for columns of so many
// characters in all: of 183 mm.
func rowsOnPage(total float64) int {
	scale := min(1, 277/(charWide*total))
	return int(183 * 0.97 / (rowHigh * scale))
}

// paper decides how a sheet goes on paper: upright where that is wide enough, and on
// several pages side by side where it has to be. The first sheet, those with pictures and
// charts, and those of series say so themselves.
func (s *Sheet) paper() {
	total := s.printed()
	s.Print.Landscape, s.Print.Wide = total > readPortrait, 1
	if total <= mostShrunk*(1+slack) { // a sheet in two parts is worse than small letters
		s.Print.RepeatCols = 0
		return
	}
	again := 0.0
	s.Print.RepeatCols = s.FreezeCols
	for _, w := range s.Widths[:s.FreezeCols] {
		again += w
	}
	s.Print.Wide = int(math.Ceil((total-again)/(readLandscape-again) - slack))
	s.titleAbove()
}

// titleAbove prints the title above the page, where it would be cut at the end of the
// columns that are repeated: of the pages side by side each has it whole.
func (s *Sheet) titleAbove() {
	s.Print.Header, _ = s.At(1, 1).Value.(string)
	s.Print.From = min(TitleRows+1, s.Print.RepeatRows)
}

// TitleRows are the rows of a sheet's title, of the sentence below it and of what is to
// be mended.
const TitleRows = 3

// printed is how wide what is printed of the sheet is, in characters.
func (s *Sheet) printed() float64 {
	total := 0.0
	for i, w := range s.Widths {
		if s.Print.ToCol == 0 || i < s.Print.ToCol {
			total += w
		}
	}
	return total
}
