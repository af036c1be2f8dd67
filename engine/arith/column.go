package arith

import "math"

// Together is how many lanes are worked through at once: the lengths of columns
// are multiples of it. What stands behind the last lane in use is computed along and
// never read.
const Together = 8

// Padded is a number of lanes with what is computed along.
func Padded(n int) int { return (n + Together - 1) &^ (Together - 1) }

// Fill enters one number in all lanes.
func Fill(col []float64, x float64) {
	for i := range col {
		col[i] = x
	}
}

// Operand is one side of an operation: a column, or one number that all lanes have,
// which then stands in as many lanes as are worked through at once.
type Operand struct {
	lanes []float64
	moves int // 1 where the next lanes are found further on, 0 where they are the same
}

// Of is a column as an operand. Its length is a multiple of Together.
func Of(col []float64) Operand { return Operand{col, 1} }

// Number is one number as an operand, which lies in room.
func Number(x float64, room *[Together]float64) Operand {
	Fill(room[:], x)
	return Operand{room[:], 0}
}

// Op is an operation on two numbers.
type Op uint8

// The operations. A result that is too large to be a number is no value. Truths are
// 1 and 0. Two numbers within Tolerance count as equal.
const (
	Add         Op = iota
	Sub            // x - y
	Mul            //
	Div            // x / y; by zero there is no value
	Min            // no value where one of them is
	Max            //
	Less           // x < y
	LessOrEqual    // x <= y
	And            // x where it settles the result, else y
	Or             //
	Else           // y where x is no value
	Any            // y taken into x, which any values made: y, except where x is 1 or y is 0
	All            // y taken into x, which all values made: y, except where x is 0 or y is 1
	Ops            // how many there are
)

// Apply enters the results of an operation in dst, which may be the column of an
// operand.
func (op Op) Apply(dst []float64, x, y Operand) {
	if len(dst) == 0 {
		return
	}
	fits(x.holds(len(dst)) && y.holds(len(dst)), len(dst))
	if f := wide[op]; f != nil {
		f(&dst[0], &x.lanes[0], &y.lanes[0], len(dst), x.moves*bytesTogether, y.moves*bytesTogether)
		return
	}
	plain[op](dst, x.lanes, y.lanes, x.moves*four, y.moves*four)
}

// bytesTogether is how far the lanes lie apart that are worked through next.
const bytesTogether = Together * 8

// Choose enters x where cond is true, y where it is false, and no value where it is
// none. Cond is as long as dst.
func Choose(dst, cond []float64, x, y Operand) {
	if len(dst) == 0 {
		return
	}
	fits(len(cond) >= len(dst) && x.holds(len(dst)) && y.holds(len(dst)), len(dst))
	if wideChoose != nil {
		wideChoose(&dst[0], &cond[0], &x.lanes[0], &y.lanes[0], len(dst), x.moves*bytesTogether, y.moves*bytesTogether)
		return
	}
	choose(dst, cond, x.lanes, y.lanes, x.moves*four, y.moves*four)
}

// Within enters x where a count is above so many, y elsewhere. Counts are as many as
// lanes of dst, and numbers.
func Within(dst, counts []float64, step float64, x, y Operand) {
	if len(dst) == 0 {
		return
	}
	fits(len(counts) >= len(dst) && x.holds(len(dst)) && y.holds(len(dst)), len(dst))
	if wideWithin != nil {
		wideWithin(&dst[0], &counts[0], &x.lanes[0], &y.lanes[0], len(dst), x.moves*bytesTogether, y.moves*bytesTogether, step)
		return
	}
	within(dst, counts, x.lanes, y.lanes, x.moves*four, y.moves*four, step)
}

// fits panics where columns have no room for all lanes, before anything reads or writes
// beside them.
func fits(ok bool, lanes int) {
	if !ok || lanes%Together != 0 {
		panic("arith: columns of unlike lengths, or no multiple of the lanes that are worked through at once")
	}
}

// holds reports whether an operand has so many lanes.
func (x Operand) holds(lanes int) bool {
	return len(x.lanes) >= lanes || x.moves == 0 && len(x.lanes) == Together
}

// wide, wideChoose and wideWithin are what the machine does eight lanes at a time, nil
// where it cannot. Lengths are multiples of Together; dx and dy are how many bytes to
// move on after eight lanes.
var (
	wide       [Ops]func(dst, x, y *float64, n, dx, dy int)
	wideChoose func(dst, cond, x, y *float64, n, dx, dy int)
	wideWithin func(dst, counts, x, y *float64, n, dx, dy int, step float64)
)

// absent is no value.
var absent = math.NaN()
