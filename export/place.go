package export

import (
	"math"
	"slices"
	"strings"
	"unicode/utf8"

	"bankwright/engine/decl"
)

// mostBanded is how many rows a page of series may have for its blocks to stand below
// each other as well, in bands: with the heads that each band has, it fits on a page.
const mostBanded = 60

// Sizes on a page of series: widths in characters, heights in points.
const (
	leastSeries  = 8.5 // of a column of values: more digits than a figure is shown with
	widestSeries = 14
	gapWidth     = 2     // between blocks
	stepHigh     = 11.25 // of a row of steps, which holds a line of 10 points
	headHigh     = 13
	titlesHigh   = 50 // of the rows above the first heads, which each page has
)

// bands are how blocks may stand on paper: so many places beside each other, of columns
// of some width, in so many bands on a page.
type bands struct {
	landscape bool
	slots     int
	width     float64 // of a column
	lastCol   int
	onPage    int
}

// placeSeries gives every line of a page of series its place: side by side, and where
// there are few steps in bands that are one page wide. Those come first that are meant
// for paper. All blocks begin at columns as far apart as the widest block needs, but for
// those of one column, of which several stand in the place of one.
func (pl *plan) placeSeries(pg *page) {
	first, taken := 1, 0.0
	for i, a := range pg.axes {
		pg.counts[i].row, pg.counts[i].col = seriesRow, first
		named := a.Kind != nil || len(a.Labels) > 0
		first += 1 + btoi(named)
		for _, w := range stepWidths(a, named) {
			taken += w
		}
	}
	pg.eachRow(func([]int) { pg.rows++ })
	var others []*line
	told, slot := []*line{}, 1
	for _, l := range pg.lines {
		if slot = max(slot, l.items()*l.across); pl.says(l) {
			told = append(told, l)
		} else {
			others = append(others, l)
		}
		l.above = l.said()
	}
	pg.told, pg.lines = len(told), append(told, others...)
	least := pl.digits(pg)
	best := pg.banded(taken, least, slot, first, true)
	if pg.rows <= mostBanded {
		if upright := pg.banded(taken, least, slot, first, false); pg.pages(upright, slot, first) < pg.pages(best, slot, first) {
			best = upright
		}
	}
	if pg.rows > mostBanded {
		best.slots = MostColumns
	}
	pg.sheets = best
	pg.put(best, slot, first)
}

// says reports whether a line of a page of series is meant for paper: workings are not,
// nor is what is empty, 0 or FALSE in all steps in this scenario.
func (pl *plan) says(l *line) bool {
	if l.q == nil {
		return false
	}
	for i := range l.items() {
		for row := range l.q.Rows() {
			if v := pl.res.At(l.q, i, row); v == v && (v != 0 || l.q.Type != decl.Number && l.q.Type != decl.Boolean) && inUse(pl.res, l.q, i, row) {
				return true
			}
		}
	}
	return false
}

// digits is how wide columns have to be for the figures that are meant for paper.
func (pl *plan) digits(pg *page) float64 {
	wide := leastSeries
	for _, l := range pg.lines[:pg.told] {
		if l.q.Type != decl.Number {
			continue
		}
		most, least := 0.0, 0.0
		for i := range l.items() {
			for row := range l.q.Rows() {
				if v := l.q.Unit.FromBase(pl.res.At(l.q, i, row)); v == v {
					most, least = max(most, math.Abs(v)), min(least, v)
				}
			}
		}
		_, after, dot := strings.Cut(l.format, ".")
		digits := math.Floor(math.Log10(max(1, most))) + 1
		wide = max(wide, 1.5+digits+math.Floor((digits-1)/3)/2+float64(len(after)+btoi(dot))+float64(btoi(least < 0)))
	}
	return wide
}

// banded is how blocks of so many columns stand on a page beside the columns of steps:
// as many as find room in letters that can be read, each as wide as they leave it.
func (pg *page) banded(taken, least float64, slot, first int, landscape bool) bands {
	b, n := bands{landscape: landscape}, float64(slot)
	wide := b.room()
	b.slots = max(1, int((wide-taken)/(n*least+gapWidth)))
	b.width = min(widestSeries, math.Floor(10*((wide-taken)/float64(b.slots)-gapWidth)/n)/10)
	b.width = max(least, b.width)
	total := taken + float64(b.slots)*(n*b.width+gapWidth)
	b.lastCol = first - 1 + b.slots*(slot+1)
	b.onPage = max(1, int((b.high()*max(1, total/wide)-titlesHigh+stepHigh)/pg.bandHigh(b.width)))
	return b
}

// bandHigh is how high a band is, with the row below it.
func (pg *page) bandHigh(width float64) float64 {
	return headHigh + stepHigh + namesHigh(pg.lines[:pg.told], width) + float64(pg.rows+1)*stepHigh
}

// namesHigh is the height of the row of names above columns of some width: one that is
// too long for a line takes two.
func namesHigh(list []*line, width float64) float64 {
	lines := 1
	for _, l := range list {
		for i := range l.items() {
			said := utf8.RuneCountInString(l.kind.Items[i].Name)
			if l.across > 1 {
				said += longestOf(l.labels)
			}
			lines = max(lines, 1+int(float64(said)*boldWide/width))
		}
	}
	return float64(min(lines, 3)) * headHigh
}

// boldWide is how wide a bold letter is, in those that widths of columns are counted in.
const boldWide = 1.05

func longestOf(list []string) (n int) {
	for _, s := range list {
		n = max(n, utf8.RuneCountInString(s))
	}
	return n
}

// pages is how many pages the lines that are meant for paper take.
func (pg *page) pages(b bands, slot, first int) int {
	pg.put(b, slot, first)
	n := 1
	for _, l := range pg.lines[:pg.told] {
		n = max(n, 1+slices.Index(pg.bands, l.row)/b.onPage)
	}
	return n
}

// put gives the lines their places in bands.
func (pg *page) put(b bands, slot, first int) {
	row, at, used := seriesRow, 0, slot // at the next place; so many columns of the last are taken
	pg.bands, pg.gaps, pg.width, pg.wide = []int{row}, map[int]bool{}, 0, b.width
	for i, l := range pg.lines {
		slots := b.slots
		if i >= pg.told { // a screen can be wider than paper, and fewer bands are fewer steps
			slots = min(MostColumns, 2*slots)
		}
		columns, wide := l.items()*l.across, l.slots(slot, b.width)
		room := max(columns+1, int(l.above/b.width)+1)
		beside := columns == 1 && used+room <= slot && i != pg.told
		if !beside && at > 0 && (at+wide > slots || i == pg.told && b.slots < MostColumns) {
			row, at = row+pg.rows+bandRows+1, 0
			pg.bands = append(pg.bands, row)
		}
		if !beside {
			used = 0
			at += wide
		}
		from := at - 1
		if !beside {
			from = at - wide
		}
		l.row, l.col = row, first+1+from*(slot+1)+used
		if used = slot; columns == 1 && wide == 1 {
			used = l.col - (first + 1 + from*(slot+1)) + room
		}
		pg.width = max(pg.width, first+at*(slot+1))
	}
	for col := first; col <= pg.width; col += slot + 1 {
		pg.gaps[col] = true
	}
}

// said is how wide what stands above a block is.
func (l *line) said() float64 {
	label, below := l.headed()
	return max(float64(utf8.RuneCountInString(label))*boldWide, float64(utf8.RuneCountInString(below)))
}

// slots is how many places of so many columns a block takes, so that what is said above
// it has room.
func (l *line) slots(columns int, width float64) int {
	place := float64(columns)*width + gapWidth
	return max(1, int(math.Ceil((l.above+gapWidth)/place)))
}

// heights makes all rows of steps of a page of series as high as its bands count with.
func (pg *page) heights() {
	s := pg.sheet
	names, others := namesHigh(pg.lines[:pg.told], pg.wide), namesHigh(pg.lines, pg.wide)
	for _, band := range pg.bands {
		if pg.told < len(pg.lines) && band == pg.lines[pg.told].row && len(pg.bands) > 1 {
			names = others // those of workings are longer
		}
		for len(s.Heights) < band+pg.rows {
			s.Heights = append(s.Heights, stepHigh)
		}
		for row := band - bandRows; row < band; row++ {
			s.Heights[row-1] = headHigh
		}
		s.Heights[band-3], s.Heights[band-2] = stepHigh, names
		if len(pg.bands) > 1 {
			s.fold(band, band+pg.rows-1)
		}
	}
	clear(s.Heights[:TitleRows])
}

// room is how wide a page is, in characters, and high how high, in points, in letters
// that can be read.
func (b bands) room() float64 {
	if b.landscape {
		return readLandscape
	}
	return readPortrait
}

func (b bands) high() float64 {
	if b.landscape {
		return highLandscape
	}
	return highPortrait
}

// size prints a page of series in the size that its rows are counted for, whatever a
// program makes of its columns; where it is too wide for that, fitted.
func (b bands) size(s *Sheet) {
	s.Print.Landscape, s.Print.Wide = b.landscape, 1
	if s.printed() <= b.room() {
		s.Print.Scale = 100 * readScale
	}
}
