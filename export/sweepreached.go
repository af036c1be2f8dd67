package export

import "strings"

// The inputs that studies reach stand on a sheet of their own, live and as they were, in
// two halves side by side: they are hundreds.

const reachedName = "Inputs of sweeps"

// reachSheet is that sheet in the making.
type reachSheet struct {
	s      *Sheet
	pl     *plan
	groups []*reach
	first  int // row of the list
	rows   int // of each half
	wide   int // columns of each half, and the empty one behind the left one
}

// Its rows and columns above the list.
const (
	reachedRow   = 4 // of the heads of studies
	reachedLeft  = 3 // at which place the first that changed stands in the left half; 0: nowhere
	reachedRight = 4
	reachedState = 5
	reachedWhich = 6
)

// reachedWidths are the columns of a half, in characters: with those of two groups both
// halves find room on a page that lies on its side.
var reachedWidths = []float64{31, 15, 9, 10, 10, 10}

const (
	flagWidth  = 3 // of the column of a group
	mostFrozen = 6 // groups beside which the heads of the list stay in sight
)

// newReached is the sheet for so many inputs.
func newReached(x *studies, n int) *reachSheet {
	l := &reachSheet{pl: x.pl, groups: x.groups, rows: max(1, (n+1)/2), wide: len(reachedWidths) + len(x.groups) + 1}
	l.s = x.pl.head(&page{name: reachedName, title: "Inputs that studies follow from",
		lead: "Live, and as they were " + x.pl.whenWritten() + ". Columns with a number: 1 where an input that this group of studies follows from has changed."})
	for half := range 2 {
		if half > 0 {
			l.s.Widths = append(l.s.Widths, gapWidth)
		}
		l.s.Widths = append(l.s.Widths, reachedWidths...)
		for range x.groups {
			l.s.Widths = append(l.s.Widths, flagWidth)
		}
	}
	if room := readLandscape - l.s.printed(); room > 0 { // what they are called takes fewer lines
		l.s.Widths[0] += room / 2
		l.s.Widths[l.wide] += room / 2
	}
	l.first = reachedRow + 1 + len(x.groups) + 1 + 3
	l.s.FreezeRows = l.first - 1
	if len(x.groups) > mostFrozen {
		l.s.FreezeRows = reachedRow + 1
	}
	l.s.Print.RepeatFrom, l.s.Print.RepeatRows = l.first-1, l.first-1
	return l
}

// column is a column of the left or the right half.
func (l *reachSheet) column(half, col int) int { return half*l.wide + col }

// cells are all rows of a column of a half.
func (l *reachSheet) cells(half, col int) string {
	return standCells(l.column(half, col), l.first, l.first+l.rows-1)
}

// list draws the inputs, the left half before the right one.
func (l *reachSheet) list(stands []stand) {
	var of []string
	for i := range l.groups {
		of = append(of, number(float64(i+1)))
	}
	for half := range 2 {
		left := l.column(half, 0)
		standHeads(l.s, l.first-1, left, of)
		for n, st := range stands[min(half*l.rows, len(stands)):min((half+1)*l.rows, len(stands))] {
			row := l.first + n
			drawStand(l.s, row, left, st, 0)
			for i := range l.groups {
				if st.of[i] {
					l.s.Set(row, left+thenStateCol+1+i, Cell{Formula: "IF($" + cellName(row, left+thenStateCol) + `="` + changed + `",1,0)`, Style: Pulled, Format: "0"})
				}
			}
		}
		l.s.Marks = append(l.s.Marks, Mark{cellName(l.first, left+thenStateCol) + ":" + cellName(l.first+l.rows-1, left+thenStateCol), changed, Unfit})
	}
}

// states says, for all studies and for each group of them, which is the first input that
// has changed.
func (l *reachSheet) states() {
	for i, h := range []string{"studies", "", "place, left", "place, right", "inputs", "the first that changed"} {
		look := HeadText
		if i == reachedLeft-1 || i == reachedRight-1 {
			look = Head
		}
		l.s.text(reachedRow, i+1, h, look)
	}
	state := func(row int, label, is string, col int) {
		l.s.text(row, 1, label, Label)
		at := []string{cellName(row, reachedLeft), cellName(row, reachedRight)}
		for half := range 2 {
			l.s.Set(row, reachedLeft+half, Cell{Formula: "IFERROR(MATCH(" + is + "," + l.cells(half, col) + ",0),0)", Style: Computed, Format: "0"})
		}
		l.s.Set(row, reachedState, Cell{Formula: "IF(" + at[0] + "+" + at[1] + `=0,"` + unchanged + `","` + changed + `")`, Style: ComputedText})
		name := func(half int) string {
			pick := func(col int) string { return "INDEX(" + l.cells(half, col) + "," + at[half] + ")" }
			return pick(thenInputCol) + `&" ("&` + pick(thenOwnerCol) + `&")"`
		}
		l.s.Set(row, reachedWhich, Cell{Formula: "IF(" + at[0] + ">0," + name(0) + ",IF(" + at[1] + ">0," + name(1) + `,""))`, Style: Sentence})
	}
	state(reachedRow+1, "All of them", `"`+changed+`"`, thenStateCol)
	for i, g := range l.groups {
		g.row = reachedRow + 2 + i
		state(g.row, number(float64(i+1))+": "+strings.Join(g.names, ", "), "1", thenStateCol+1+i)
	}
}

// stateOf is the formula that says "unchanged", or names the first input that changed, of
// a group or, for nil, of all studies.
func (l *reachSheet) stateOf(g *reach) string {
	return l.since(g).words()
}

// words is the formula that says "unchanged", or names the first input that changed.
func (c sinceThen) words() string {
	return "IF(" + c.state + `="` + unchanged + `","` + unchanged + `","` + changed + `: "&` + c.which + ")"
}

// since are the cells that say so of a group or, for nil, of all studies.
func (l *reachSheet) since(g *reach) sinceThen {
	row := reachedRow + 1
	if g != nil && !g.whole {
		row = g.row
	}
	at := func(col int) string {
		return quoteSheet(reachedName) + "!$" + columnName(col) + "$" + number(float64(row))
	}
	return sinceThen{at(reachedState), at(reachedWhich)}
}
