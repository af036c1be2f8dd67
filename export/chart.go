package export

import "math"

// ChartKind is how a chart shows its series.
type ChartKind uint8

// The kinds of charts.
const (
	ScatterChart ChartKind = iota // lines through points at numbers
	LineChart                     // lines over names at even distances
	BarChart                      // lying bars, the first on top, those of several series below each other
	StackedChart                  // lying bars, those of several series one behind the other
	LyingChart                    // bars to the right and the left, the first name on top, those of several series at one height
)

// Chart is a picture of cells of the book. All its texts are plain: none can become
// a formula, and what it draws are ranges of cells.
type Chart struct {
	Kind          ChartKind
	Title         string
	Row, Col      int // the cell at its upper left corner, from 1
	Width, Height int // in pixels, 96 an inch
	ToRow, ToCol  int // in place of these: the last cell that it covers, of columns and rows whose size is set
	X, Y          Axis
	Series        []Series
	Marked        bool // lines have marks at their points
	Tight         bool // what stands beside its axes is in smaller letters, since names are long
}

// Axis is an axis of a chart. Without Min and Max the program that shows it chooses.
type Axis struct {
	Title    string // with the unit
	Min, Max *float64
	Step     float64 // between marks; 0: chosen
	Format   string  // of the numbers beside it; "": as the cells
}

// Series is what is drawn in one colour. Empty cells leave a gap.
type Series struct {
	Name Range // a cell; shown where a chart has several
	X, Y Range
	Item int // whose series it is, of those that are compared, counted from 1: drawn in its look; 0: nobody's
}

// Range is cells of a sheet, ends included; rows and columns count from 1.
type Range struct {
	Sheet           string
	Row, Col        int
	ToRow, ToColumn int
}

// String is the range as formulas write it.
func (r Range) String() string {
	out := quoteSheet(r.Sheet) + "!"
	at := func(row, col int) string { return "$" + columnName(col) + "$" + number(float64(row)) }
	if out += at(r.Row, r.Col); r.ToRow > r.Row || r.ToColumn > r.Col {
		out += ":" + at(max(r.Row, r.ToRow), max(r.Col, r.ToColumn))
	}
	return out
}

// around is an axis from a round number below the values to one above, in steps of 1,
// 2 or 5, so that a curve fills the picture even where it stays far from 0.
func around(low, high float64) Axis {
	const marks = 6 // at most so many steps
	if !(high > low) {
		low, high = low-math.Max(math.Abs(low), 1)/2, high+math.Max(math.Abs(high), 1)/2
	}
	step := math.Pow(10, math.Floor(math.Log10((high-low)/marks)))
	for _, k := range []float64{1, 2, 5, 10} {
		from, to := math.Floor(low/(k*step)+tolerance), math.Ceil(high/(k*step)-tolerance)
		if to-from <= marks || k == 10 {
			low, high = round15(from*k*step), round15(to*k*step)
			return Axis{Min: &low, Max: &high, Step: round15(k * step)}
		}
	}
	return Axis{}
}
