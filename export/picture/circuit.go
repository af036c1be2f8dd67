package picture

import (
	"errors"
	"fmt"
	"slices"
	"strings"

	"gonum.org/v1/plot/vg"
)

// Circuit shows how parts are joined: a grid in columns and rows between a positive
// line above and a negative one below, with further parts in these lines and from
// one to the other. The columns are numbered from the one that is next to the lines.
type Circuit struct {
	Title, Note   string
	Foot          []string // sentences at the bottom
	Columns, Rows Repeat
	Positive      int // the column from which the positive line leaves, from 1
	Negative      int // that of the negative line
	Parts         []Part
}

// Repeat is how often something is there, how often it is drawn at most, and what
// one of it is called. Where there are more, the first ones and the last are drawn.
type Repeat struct {
	Count, Most int
	Name        string
}

// Place is where a part stands. Parts in the lines and across stand in their order,
// counted from the columns.
type Place string

// The places.
const (
	InCell   Place = "cell"     // in each cell of the grid, positive end up
	Between  Place = "between"  // between a cell and the next below it
	InColumn Place = "column"   // at the positive end of each column
	Joining  Place = "join"     // from each column to the next, in both lines
	Positive Place = "positive" // in the positive line
	Negative Place = "negative" // in the negative line
	Both     Place = "both"     // in both lines
	Across   Place = "across"   // from the positive line to the negative one
	Below    Place = "below"    // a row of values below the columns
)

// Part is one part, or one part of each column or cell.
type Part struct {
	Symbol string // one of Symbols; none Below
	Marks  string // two signs, = or ~, in a converter; one in a source
	Place  Place
	Name   string
	Label  []string // lines below the name
	Values []string // Below: by column
}

func (k Circuit) prepare() (sketch, error) {
	if k.Columns.Count < 1 || k.Rows.Count < 1 {
		return sketch{}, fmt.Errorf("a circuit of %d columns and %d rows cannot be drawn", k.Columns.Count, k.Rows.Count)
	}
	for _, c := range []int{k.Positive, k.Negative} {
		if c < 1 || c > k.Columns.Count {
			return sketch{}, fmt.Errorf("a line leaves column %d, but there are %d", c, k.Columns.Count)
		}
	}
	if !slices.ContainsFunc(k.Parts, func(p Part) bool { return p.Place == InCell }) {
		return sketch{}, errors.New("a circuit has nothing in its cells")
	}
	for _, p := range k.Parts {
		if _, known := symbols[p.Symbol]; !known && p.Place != Below {
			return sketch{}, fmt.Errorf("there is no symbol %q", p.Symbol)
		}
	}
	p := k.plot()
	return sketch{title: k.Title, note: k.Note, width: p.width, height: p.height, draw: p.draw, dpi: int(printed * 72 / float64(p.width)), grey: true}, nil
}

// plan is a circuit with all of its pieces placed. Heights are counted from the top.
type plan struct {
	k             Circuit
	width, height vg.Length
	shown         []int             // columns that are drawn
	x             map[int]vg.Length // of each
	rows          []int             // rows that are drawn
	top, bottom   vg.Length         // of the two lines
	high, low     vg.Length         // where the columns are joined, above and below
	left          vg.Length         // of the leftmost column

	wires   []wire
	symbols []placedSymbol
	signs   []sign
	rings   []vg.Point // where the lines leave the columns
	dots    []vg.Point
	texts   []words
}

type wire struct {
	points []vg.Point
	width  vg.Length
	look   lineLook
}

type lineLook int

const (
	solid lineLook = iota
	broken
	leader // from a label to what it is of
)

// placedSymbol is a symbol in the picture; column and row are 0 outside the grid.
type placedSymbol struct {
	name, marks string
	at          vg.Point
	level       bool // its line runs from left to right
	column, row int
}

// sign is a plus or a minus.
type sign struct {
	at   vg.Point
	plus bool
}

type words struct {
	pen   pen
	at    vg.Point
	align float64
	text  string
}

// printed is how many pixels wide the image of a circuit is: 277 mm, as wide as A4 in
// landscape is printed, at 300 to the inch.
const printed = 277 / 25.4 * 300

// Measures, in points.
const (
	pitch      = vg.Length(40) // from column to column
	sideMargin = vg.Length(136)
	lineHeight = vg.Length(10.5) // of a label
	rise       = vg.Length(22)   // from where columns are joined to the line
	cellHeight = vg.Length(30)
	columnPart = vg.Length(36)
	gapHeight  = vg.Length(20) // between cells
	thickWire  = vg.Length(1.8)
	thinWire   = vg.Length(1)
)

var (
	namePen = pen{8.5, true, black}
	linePen = pen{8.5, false, black}
)

// plot places everything.
func (k Circuit) plot() *plan {
	p := &plan{k: k, x: map[int]vg.Length{}}
	p.shown = shownOf(k.Columns, k.Positive, k.Negative)
	p.rows = shownOf(k.Rows)
	p.top = p.roomAbove()
	p.high = p.top
	if k.Columns.Count > 1 {
		p.high += rise
	}
	right := p.columns()
	side := p.grid(0)
	if spare := p.heights(side); spare > 0 { // the columns stand in the middle
		p.symbols, p.signs, p.wires = nil, nil, nil
		side = p.grid(spare / 2)
		p.settle(side)
	}
	p.ends()
	p.join()
	p.columnWires()
	p.lines(right)
	p.beside(side)
	p.height = max(p.below(), p.height)
	p.foot()
	return p
}

// shownOf are those that are drawn, from 1: the first ones, the last, and those that
// must be seen.
func shownOf(r Repeat, must ...int) []int {
	if r.Count <= r.Most {
		must = nil
	}
	must = append(slices.Clone(must), r.Count)
	for i := 1; i < r.Count && i < max(2, r.Most); i++ {
		must = append(must, i)
	}
	slices.Sort(must)
	must = slices.Compact(must)
	for i := 1; i < len(must); i++ { // the place of one left out is as well taken by it
		if must[i] == must[i-1]+2 {
			must = slices.Insert(must, i, must[i]-1)
		}
	}
	return must
}

// of are the parts at a place.
func (p *plan) of(at ...Place) []Part {
	var list []Part
	for _, part := range p.k.Parts {
		if slices.Contains(at, part.Place) {
			list = append(list, part)
		}
	}
	return list
}

// columns gives each column its place, from right to left, and returns the right end.
func (p *plan) columns() vg.Length {
	slots := 0
	for i, c := range p.shown {
		if i > 0 && c > p.shown[i-1]+1 {
			slots++
		}
		p.x[c] = -vg.Length(slots) * pitch
		slots++
	}
	right := sideMargin + vg.Length(slots)*pitch
	for _, c := range p.shown {
		p.x[c] += right - pitch/2
	}
	p.left = p.x[p.k.Columns.Count]
	return right
}

// block is a label in the margin beside what it is of.
type block struct {
	lines []words
	at    vg.Length // the height of what it is of
}

// grid places the parts of each column, so far below its end, and returns the labels
// beside them.
func (p *plan) grid(from vg.Length) []block {
	var side []block
	if p.k.Columns.Count > 1 {
		for _, part := range p.of(Joining) {
			side = append(side, p.block(part, p.high))
		}
	}
	y := p.high + 6 + from
	for _, part := range p.of(InColumn) {
		y += columnPart / 2
		for _, c := range p.shown {
			p.put(part, vg.Point{X: p.x[c], Y: y}, false, c, 0)
		}
		side = append(side, p.block(part, y))
		y += columnPart / 2
	}
	for i, r := range p.rows {
		if i > 0 {
			y += p.gap(r, y, &side)
		}
		y += cellHeight / 2
		for _, part := range p.of(InCell) {
			for _, c := range p.shown {
				at := vg.Point{X: p.x[c], Y: y}
				p.put(part, at, false, c, r)
				p.signs = append(p.signs, sign{vg.Point{X: at.X + 15, Y: y - 11}, true}, sign{vg.Point{X: at.X + 15, Y: y + 11}, false})
			}
			if i == 0 {
				side = append(side, p.block(part, y))
			}
		}
		y += cellHeight / 2
	}
	p.low = y + 8
	return side
}

// gap is what stands between a row and the one above it, and how high that is.
func (p *plan) gap(row int, y vg.Length, side *[]block) vg.Length {
	at := y + gapHeight/2
	if left := row - p.rows[slices.Index(p.rows, row)-1] - 1; left > 0 {
		for _, c := range p.shown {
			p.wires = append(p.wires, wire{[]vg.Point{{X: p.x[c], Y: y}, {X: p.x[c], Y: y + 2*gapHeight}}, thinWire, broken})
		}
		*side = append(*side, p.block(Part{Label: []string{strings.Join(more(left), " ")}}, y+gapHeight))
		return 2 * gapHeight
	}
	for _, part := range p.of(Between) {
		for _, c := range p.shown {
			p.put(part, vg.Point{X: p.x[c], Y: at}, false, c, row)
		}
		if row == 2 {
			*side = append(*side, p.block(part, at))
		}
	}
	return gapHeight
}

// more says how many are left out, a line each where there is little room.
func more(n int) []string { return []string{"…", fmt.Sprintf("%d more", n), "like", "these"} }

func (p *plan) put(part Part, at vg.Point, level bool, column, row int) {
	p.symbols = append(p.symbols, placedSymbol{part.Symbol, part.Marks, at, level, column, row})
}

// block is the label of a part beside the leftmost column.
func (p *plan) block(part Part, at vg.Length) block {
	return block{lines: label(part, sideMargin-26), at: at}
}

// label is the text of a part in a width, line by line.
func label(part Part, width vg.Length) []words {
	var out []words
	for _, l := range namePen.wrap(part.Name, width, 2) {
		out = append(out, words{pen: namePen, text: l})
	}
	for _, s := range part.Label {
		for _, l := range linePen.wrap(s, width, 3) {
			out = append(out, words{pen: linePen, text: l})
		}
	}
	return out
}

// heights finds how far apart the two lines must be for what stands between them, and
// returns how much more that is than the columns need.
func (p *plan) heights(side []block) vg.Length {
	least := p.low
	if p.k.Columns.Count > 1 {
		least += rise
	}
	p.bottom = max(least, p.settle(side)+4)
	for _, part := range p.of(Across) {
		p.bottom = max(p.bottom, p.top+86+lineHeight*vg.Length(len(label(part, acrossWidth))))
	}
	return p.bottom - least
}

// ends finds where the columns end below.
func (p *plan) ends() {
	if p.low = p.bottom; p.k.Columns.Count > 1 {
		p.low -= rise
	}
}

// settle moves labels apart, downwards, and returns where the last one ends.
func (p *plan) settle(side []block) vg.Length {
	slices.SortStableFunc(side, func(a, b block) int { return int(a.at - b.at) })
	end := vg.Length(0)
	for i := range side {
		y := max(end, side[i].at-lineHeight*vg.Length(len(side[i].lines))/2)
		for n := range side[i].lines {
			side[i].lines[n].at.Y = y + lineHeight*(vg.Length(n)+0.5)
		}
		end = y + lineHeight*vg.Length(len(side[i].lines)) + 5
	}
	return end
}

// beside writes the labels in the margin, each with a line to what it is of.
func (p *plan) beside(side []block) {
	for _, b := range side {
		if len(b.lines) == 0 {
			continue
		}
		for _, w := range b.lines {
			w.at.X, w.align = sideMargin-26, 1
			p.texts = append(p.texts, w)
		}
		middle := (b.lines[0].at.Y + b.lines[len(b.lines)-1].at.Y) / 2
		p.wires = append(p.wires, wire{[]vg.Point{{X: sideMargin - 22, Y: middle}, {X: p.left - 14, Y: b.at}}, 0.5, leader})
	}
}
