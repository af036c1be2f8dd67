package export

import "math"

// How much goes on a page of A4 with margins of 1 cm at the sides, in characters of
// columns: what is read is printed in 7 points or more, workings in 5 or more, letters
// being of 10 before a sheet is made smaller to fit (measured: LibreOffice 7.4 with
// Carlito; where neither that nor Calibri is there, it takes a wider face and letters
// are a fifth smaller).
const (
	readPortrait   = 135
	readLandscape  = 191
	smallPortrait  = 187
	smallLandscape = 305

	smallScale = 50  // per cent, for workings that would not need so little room
	scaledTo   = 138 // characters of columns that have room at that scale in any face
	slack      = 0.1 // of a page: rather smaller letters than one more
)

// rowsOnPage is how many rows a page that lies on its side has, for columns of so many
// characters in all: of 183 mm, where a character takes 1.82 mm and a row 4.52.
func rowsOnPage(total float64) int {
	scale := min(1, 277/(1.82*total))
	return int(183 * 0.97 / (4.52 * scale))
}

// paper decides how a sheet goes on paper: upright where that is wide enough, and on
// several pages side by side where it has to be. The first sheet, and those with
// pictures and charts, say so themselves.
func (s *Sheet) paper() {
	total := s.printed()
	portrait, landscape := float64(readPortrait), float64(readLandscape)
	if s.Print.Small {
		portrait, landscape = smallPortrait, smallLandscape
	}
	s.Print.Landscape, s.Print.Wide, s.Print.Scale = total > portrait, 1, 0
	if s.Print.Small && total <= scaledTo {
		s.Print.Scale = smallScale
	}
	if total <= smallLandscape*(1+slack) { // a sheet in two parts is worse than small letters
		s.Print.RepeatCols = 0
		return
	}
	again := 0.0
	s.Print.RepeatCols = s.FreezeCols
	for _, w := range s.Widths[:s.FreezeCols] {
		again += w
	}
	s.Print.Wide = int(math.Ceil((total-again)/(landscape-again) - slack))
	s.titleAbove()
}

// titleAbove prints the title above the page, where it would be cut at the end of the
// columns that are repeated: of the pages side by side each has it whole.
func (s *Sheet) titleAbove() {
	s.Print.Header, _ = s.At(1, 1).Value.(string)
	s.Print.From = min(titleRows+1, s.Print.RepeatRows)
}

// titleRows are the rows of a sheet's title, of the sentence below it and of what is to
// be mended.
const titleRows = 3

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
