package export

import (
	"strings"
	"unicode/utf8"

	"bankwright/engine/decl"
)

// bandRows are the rows of heads above the steps of a page of series.
const bandRows = 3

// drawSeries draws a page of series: a step in each row, a block of columns for
// each quantity with the items side by side.
func (pl *plan) drawSeries(pg *page) {
	s := pl.head(pg)
	s.wide = pg.width
	s.FreezeCols = pl.drawSteps(s, pg)
	s.FreezeRows, s.Print.RepeatRows = seriesRow-1, seriesRow-1
	if len(pg.bands) > 1 { // each has heads of its own
		s.FreezeRows, s.Print.RepeatRows = seriesRow-bandRows-1, seriesRow-bandRows-1
	}
	for len(s.Widths) < pg.width {
		width := pg.wide
		if pg.gaps[len(s.Widths)+1] {
			width = gapWidth
		}
		s.Widths = append(s.Widths, width)
	}
	for _, l := range pg.lines {
		pl.drawBlockHead(s, l)
		pl.drawSeriesCells(pg, l)
	}
	pg.heights()
	pl.onPaper(pg)
}

// drawSteps draws the columns that number and name the steps, in each band, and returns
// how many columns they take.
func (pl *plan) drawSteps(s *Sheet, pg *page) int {
	width := 0
	for i, a := range pg.axes {
		col := pg.counts[i].col
		named := a.Kind != nil || len(a.Labels) > 0
		width = col + btoi(named)
		s.Widths = append(s.Widths, stepWidths(a, named)...)
		for _, band := range pg.bands {
			s.text(band-1, col, strings.ReplaceAll(a.Name, "_", " "), HeadText)
			if named {
				s.text(band-1, col+1, "name", HeadText)
			}
			pg.eachRow(func(steps []int) {
				row := band + pg.rowOf(steps)
				if steps[i] < 0 {
					s.text(row, col+btoi(named), "start", Note)
					return
				}
				s.Set(row, col, Cell{Value: float64(steps[i] + 1), Style: Unit, Format: stepFormat})
				if named {
					s.Set(row, col+1, pl.stepCell(pg, a, steps[i], cellName(row, col)))
				}
			})
		}
	}
	return width
}

// stepFormat keeps the number of a step apart from the name beside it.
const stepFormat = `0"  "`

// stepWidths are the widths of the columns that number and name an axis' steps.
func stepWidths(a *decl.Axis, named bool) []float64 {
	number := max(6, float64(len(a.Name))+2)
	if !named {
		return []float64{max(number, 11)} // wide enough for the word "start"
	}
	name := 8.0
	for step := range a.Steps {
		name = max(name, float64(utf8.RuneCountInString(stepName(a, step)))+2)
	}
	return []float64{number, min(name, 30)}
}

func btoi(b bool) int {
	if b {
		return 1
	}
	return 0
}

// stepCell names a step.
func (pl *plan) stepCell(pg *page, a *decl.Axis, step int, number string) Cell {
	if a.Kind == nil {
		return Cell{Value: stepName(a, step), Style: Label}
	}
	for _, k := range pl.prog.Kinds {
		if k.Kind == a.Kind {
			t := join("INDEX(", &ref{to: pl.names[k], item: all}, ",", number, ")")
			return Cell{Formula: t.at(spot{page: pg}), Value: a.Kind.Items[step].Name, Style: Label}
		}
	}
	return Cell{Value: stepName(a, step), Style: Label}
}

// headed is what stands above a block: its label, and below that the unit, behind the
// words for the part of it that a line of workings is.
func (l *line) headed() (label, below string) {
	label, below = l.label, unitWord(l)
	if l.finds != "" {
		label, below = l.belongs, l.finds+";  "+below
	}
	if l.frozen != nil {
		below += "  " + computedNote
	} else if l.onComputed {
		below += "  " + followNote
	}
	return label, strings.TrimSpace(below)
}

// drawBlockHead writes quantity, unit and items above a block.
func (pl *plan) drawBlockHead(s *Sheet, l *line) {
	label, below := l.headed()
	s.text(l.row-3, l.col, label, Section)
	s.text(l.row-2, l.col, below, Note)
	for i := range l.items() {
		for j := range l.across {
			col := l.col + i*l.across + j
			c := Cell{Formula: pl.nameAbove(l.kind).at(spot{page: l.page, item: i}), Value: l.kind.Items[i].Name, Style: Head}
			if !l.kind.Many {
				c = Cell{Value: "value", Style: Head}
			}
			if j < len(l.labels) {
				c.Formula += `&": "&` + quoteText(l.labels[j])
				c.Value = l.kind.Items[i].Name + ": " + l.labels[j]
				if !l.kind.Many {
					c = Cell{Value: l.labels[j], Style: Head}
				}
			}
			s.Set(l.row-1, col, c)
		}
	}
}

// drawSeriesCells draws the cells of a block.
func (pl *plan) drawSeriesCells(pg *page, l *line) {
	last := len(pg.axes) - 1
	step, start := l.columnTexts(l.step), l.columnTexts(l.start)
	pg.eachRow(func(steps []int) {
		texts, storage := step, -1
		if steps[last] < 0 {
			texts = start
		}
		if texts == nil && (l.frozen == nil || steps[last] < 0 && l.q.Start == nil) {
			return
		}
		if l.q != nil {
			storage = l.q.Row(steps...)
		}
		row := pg.rowOf(steps)
		for i := range l.items() {
			for j := range l.across {
				at := spot{page: pg, item: i, steps: steps}
				var t text
				if texts != nil {
					t = texts[i*l.across+j]
				}
				l.draw(pl, i, l.row+row, l.col+i*l.across+j, at, t, storage)
			}
		}
	})
}

// columnTexts are the formulas of the columns of a block, which say the same in every
// row; nil without a form.
func (l *line) columnTexts(form func(item, row int) text) []text {
	if form == nil {
		return nil
	}
	var texts []text
	for i := range l.items() {
		for j := range l.across {
			texts = append(texts, form(i, j))
		}
	}
	return texts
}
