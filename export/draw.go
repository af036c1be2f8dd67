package export

import (
	"cmp"
	"math"
	"slices"
	"sort"

	"bankwright/engine/check"
)

// Columns of the pages with items side by side.
const (
	labelCol = 1
	unitCol  = 2
	itemCol  = 3
)

// Widths of columns, in characters.
const (
	labelWidth = 44
	unitWidth  = 11
	itemWidth  = 12
	noteWidth  = 60
	leastNote  = 38

	narrowLabel = 32 // where many items stand side by side
	narrowItem  = 11
	narrowNote  = 28
)

// placeInputs gives every line of the page of inputs its rows.
func (pl *plan) placeInputs() {
	row := jumpRow + 1
	for _, k := range pl.inputKinds() {
		lines := pl.inputsOf(k)
		if len(k.Items) == 0 || len(lines)+len(pl.extra[k]) == 0 && !k.Many {
			continue
		}
		names := pl.names[k]
		names.row, names.col = row+1, itemCol
		row += 2
		if labelled(k) {
			row++
		}
		row = placeBlock(lines, row)
		if len(pl.extra[k]) > 0 {
			row++ // a heading
		}
		for _, l := range pl.extra[k] {
			l.row, l.col = row, itemCol
			row += l.rows
		}
		if l := pl.missing[k]; l != nil {
			l.row, l.col = row, itemCol
			pl.sum(l, pl.blankTerms(k))
			row += l.rows
		}
		row++
	}
	pl.toleranceRow = row
}

// inputKinds are the kinds in the order in which the sheet of inputs has them, by what a
// client has to say: what is owned or may be bought, in the order of the rules, what there
// is one of, the shorter first, how the alternatives that are compared are made of it, and
// last the constants of the rules.
func (pl *plan) inputKinds() []*check.Kind {
	compared := pl.prog.Compared()
	long := map[*check.Kind]int{}
	for _, l := range pl.inputs.lines {
		long[l.kind] += l.rows
	}
	rank := func(k *check.Kind) int {
		switch {
		case k.Constants():
			return 3
		case k == compared:
			return 2
		case !k.Many:
			return 1
		}
		return 0
	}
	out := slices.Clone(pl.prog.Kinds)
	slices.SortStableFunc(out, func(a, b *check.Kind) int {
		if by := cmp.Compare(rank(a), rank(b)); by != 0 || a.Many {
			return by
		}
		return cmp.Compare(long[a], long[b])
	})
	return out
}

// jumpRow is the row of the sheet of inputs that leads to its blocks.
const jumpRow = 4

// drawJumps draws links to the blocks, as many as there are columns beside each other.
func (pl *plan) drawJumps(s *Sheet) {
	s.text(jumpRow, labelCol, "Go to", Note)
	col := unitCol
	for _, k := range pl.inputKinds() {
		if row := pl.names[k].row; row > 0 && col <= len(s.Widths) {
			s.Set(jumpRow, col, Cell{Value: titleOf(k), Style: Link, Link: "Inputs!" + cellName(row-1, labelCol), Lines: 1})
			col++
		}
	}
}

// mostRows is how many rows of inputs stand below one row of names, so that
// hardly a page is printed without.
const mostRows = 12

// placeBlock gives the inputs of a kind their rows, with a row above each
// section, and within long ones.
func placeBlock(lines []*line, row int) int {
	section, names := "", row
	for _, l := range lines {
		if l.q == nil || l.rows == 0 {
			continue
		}
		if l.q.Section != section || row > names && row+l.rows-names > mostRows {
			section, l.head, names = l.q.Section, upperFirst(l.q.Section), row
			if l.head == "" {
				l.head = "Further inputs"
			}
			row++
		}
		l.row, l.col = row, itemCol
		row += l.rows
	}
	return row
}

func (pl *plan) inputsOf(k *check.Kind) []*line {
	var out []*line
	for _, l := range pl.inputs.lines {
		if l.kind == k {
			out = append(out, l)
		}
	}
	return out
}

// labelled reports whether some item has another label than its name.
func labelled(k *check.Kind) bool {
	for _, it := range k.Items {
		if itemLabel(it) != it.Name {
			return true
		}
	}
	return false
}

const ruleRow = 5 // first row below the heads of a page of rules

// placeRules gives every line of a page of rules its rows.
func (pg *page) placeRules() {
	row := ruleRow + btoi(labelled(pg.kind))
	if len(pg.pulled) > 0 {
		row++
		pg.sortPulled()
		for _, l := range pg.pulled {
			l.row, l.col = row, itemCol
			row += l.rows
		}
		row++
	}
	for _, l := range slices.Concat(pg.lines, pg.points) {
		if l.head != "" {
			row += 2
		}
		l.row, l.col = row, itemCol
		row += l.rows
	}
}

// sortPulled puts together what comes by the same references, in the order in
// which the formulas first ask for them.
func (pg *page) sortPulled() {
	first := map[string]int{}
	for i, l := range pg.pulled {
		if _, ok := first[l.group]; !ok {
			first[l.group] = i
		}
	}
	sort.SliceStable(pg.pulled, func(i, j int) bool { return first[pg.pulled[i].group] < first[pg.pulled[j].group] })
}

const seriesRow = 7 // first row below the heads of a page of series

// head begins a sheet: title and a sentence.
func (pl *plan) head(pg *page) *Sheet {
	s := &Sheet{Name: pg.name, Print: Print{Landscape: true, Footer: pl.footer()}}
	s.text(1, 1, pg.title, Title)
	if pg.lead != "" {
		s.text(2, 1, pg.lead, Note)
	}
	pg.sheet = s
	return s
}

// draw draws one cell of a line, with the value that the engine computed where
// storage is the row of it.
func (l *line) draw(pl *plan, item, row, col int, at spot, t text, storage int) {
	look := l.look
	c := Cell{Style: look, Format: l.format, Typed: l.of != nil && !l.of.IsRule()}
	switch {
	case t != nil:
		c.Formula = t.at(at)
		if look == Input {
			c.Style = Computed
		} else if look == InputText {
			c.Style = ComputedText
		}
		if l.q != nil && storage >= 0 {
			c.Value = pl.content(l.q, item, storage)
			if c.Value == nil || !inUse(pl.res, l.q, item, storage) {
				c.Value = ""
			}
		}
	case l.isFrozen(item) && storage >= 0:
		c = l.frozenCell(pl, item, storage)
	default:
		return
	}
	l.page.sheet.Set(row, col, c)
}

// rowsOf draws all cells of a line that is no series.
func (l *line) rowsOf(pl *plan) {
	s := l.page.sheet
	for r := range l.rows {
		s.text(l.row+r, labelCol, l.rowLabel(r), Label)
		s.text(l.row+r, unitCol, unitWord(l), Unit)
		for i := range l.items() {
			if !l.has(i) {
				continue
			}
			var t text
			if l.step != nil {
				t = l.step(i, r)
			}
			if t == nil && l.data != nil && !l.isFrozen(i) {
				s.Set(l.row+r, l.col+i, l.data(i, r))
				continue
			}
			l.draw(pl, i, l.row+r, l.col+i, spot{page: l.page, item: i}, t, l.storage(r))
		}
	}
}

// storage is the row of the engine's values that a row of the line shows.
func (l *line) storage(r int) int {
	if l.q == nil || l.rows != 1 {
		return -1
	}
	return 0
}

// noted puts the line's note into a column.
func (l *line) noted(col int) {
	if l.note != "" {
		l.page.sheet.text(l.row, col, l.note, Remark)
	}
}

// drawRules draws a page of rules.
func (pl *plan) drawRules(pg *page) {
	s := pl.head(pg)
	pl.heads(s, pg, ruleRow-1, pg.kind)
	note := itemCol + len(pg.kind.Items) + 1
	top := ruleRow + btoi(labelled(pg.kind))
	if top > ruleRow {
		s.text(ruleRow, labelCol, "Label", Label)
		for i, it := range pg.kind.Items {
			s.Set(ruleRow, itemCol+i, Cell{Formula: "Inputs!" + cellName(pl.names[pg.kind].row+1, itemCol+i), Value: itemLabel(it), Style: Head})
		}
	}
	s.FreezeRows, s.FreezeCols = top-1, unitCol
	s.Print.RepeatRows = top - 1
	s.Widths = widths(len(pg.kind.Items))
	if len(pg.pulled) > 0 {
		s.text(top, labelCol, "From other sheets", Section)
	}
	s.text(ruleRow-1, note, "note; label or unit leads to its source", HeadText)
	for _, l := range pg.pulled {
		l.rowsOf(pl)
		l.noted(note)
	}
	if n := len(pg.pulled); n > 0 {
		s.fold(pg.pulled[0].row, pg.pulled[n-1].row+pg.pulled[n-1].rows-1)
	}
	last := 0 // the row of the last heading
	for _, l := range slices.Concat(pg.lines, pg.points) {
		if l.head != "" {
			s.text(l.row-1, labelCol, l.head, Section)
			last = l.row - 1
		}
		l.rowsOf(pl)
		l.noted(note)
		l.folded(last > 0)
	}
}

// folded puts the line's rows into the outline: below the heading of its section
// and, if they are workings, deeper than the rules that they serve.
func (l *line) folded(section bool) {
	if section {
		l.page.sheet.fold(l.row, l.row+l.rows-1)
	}
	if l.q == nil && section {
		l.page.sheet.fold(l.row, l.row+l.rows-1)
	}
}

// widths are the columns of a page with n items side by side, a gap and a note, which is
// as wide as the page leaves it; where that is too little, all are narrower.
func widths(n int) []float64 { return spread(n, gapWidth) }

// spread are such columns with a gap of some width.
func spread(n int, gap float64) []float64 {
	label, item := float64(labelWidth), float64(itemWidth)
	beside := func() float64 { return label + unitWidth + float64(n)*item + gap }
	room := readPortrait - beside()
	if room < leastNote {
		room = readLandscape - beside()
	}
	if room < leastNote {
		label, room = narrowLabel, narrowNote
		item = max(narrowItem, min(item, math.Floor(10*(readLandscape-narrowLabel-unitWidth-gap-narrowNote)/float64(n))/10))
	}
	w := []float64{label, unitWidth}
	for range n {
		w = append(w, item)
	}
	return append(w, gap, min(noteWidth, room))
}

// nameAbove is the name of an item above its figures, which says where inputs are missing
// that they need.
func (pl *plan) nameAbove(k *check.Kind) text {
	name := cell(&ref{to: pl.names[k], item: own})
	if l := pl.lacking[k]; l != nil {
		return join("IF(", &ref{to: l, item: own}, `>0,"`+incomplete+`: ","")&`, name)
	}
	return name
}

// heads writes the row that names the columns; the names are those of the page
// of inputs, alive.
func (pl *plan) heads(s *Sheet, pg *page, row int, k *check.Kind) {
	s.text(row, labelCol, titleOf(k), HeadText)
	s.text(row, unitCol, "unit", HeadText)
	for i, it := range k.Items {
		if !k.Many {
			s.text(row, itemCol, "value", Head)
			break
		}
		s.Set(row, itemCol+i, Cell{Formula: pl.nameAbove(k).at(spot{page: pg, item: i}), Value: it.Name, Style: Head})
	}
	s.text(row, itemCol+len(k.Items)+1, "note", HeadText)
}
