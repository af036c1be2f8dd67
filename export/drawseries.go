package export

import (
	"strings"
	"unicode/utf8"

	"bankwright/engine/decl"
)

// drawSeries draws a page of series: a step in each row, a block of columns for
// each quantity with the items side by side.
func (pl *plan) drawSeries(pg *page) {
	s := pl.head(pg)
	s.wide = pg.width
	s.FreezeRows = seriesRow - 1
	s.Print.RepeatRows = seriesRow - 1
	s.FreezeCols = pl.drawSteps(s, pg)
	s.wideEnough(s.FreezeCols)
	for _, l := range pg.lines {
		for len(s.Widths) < l.col-1 {
			s.Widths = append(s.Widths, 2)
		}
		for range l.items() * l.across {
			s.Widths = append(s.Widths, itemWidth)
		}
		pl.drawBlockHead(s, l)
		pl.drawSeriesCells(pg, l)
	}
	s.spread()
}

// drawSteps draws the columns that number and name the steps, and returns how
// many columns they take.
func (pl *plan) drawSteps(s *Sheet, pg *page) int {
	width := 0
	for i, a := range pg.axes {
		col := pg.counts[i].col
		named := a.Kind != nil || len(a.Labels) > 0
		s.text(seriesRow-1, col, strings.ReplaceAll(a.Name, "_", " "), HeadText)
		width = col
		if named {
			width++
			s.text(seriesRow-1, col+1, "name", HeadText)
		}
		s.Widths = append(s.Widths, stepWidths(a, named)...)
		pg.eachRow(func(steps []int) {
			row := seriesRow + pg.rowOf(steps)
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

// titleWidth is what the title of a sheet takes of the columns that repeat on
// every page.
const titleWidth = 24

// wideEnough widens the last of the first columns, so that a title fits.
func (s *Sheet) wideEnough(cols int) {
	total := 0.0
	for _, w := range s.Widths[:cols] {
		total += w
	}
	s.Widths[cols-1] += max(0, titleWidth-total)
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

// drawBlockHead writes quantity, unit and items above a block.
func (pl *plan) drawBlockHead(s *Sheet, l *line) {
	s.text(seriesRow-3, l.col, l.label, Section)
	unit := unitWord(l)
	if l.frozen != nil {
		unit = strings.TrimSpace(unit + "  " + computedNote)
	} else if l.onComputed {
		unit = strings.TrimSpace(unit + "  " + followNote)
	}
	s.text(seriesRow-2, l.col, unit, Note)
	for i := range l.items() {
		for j := range l.across {
			col := l.col + i*l.across + j
			c := Cell{Formula: cell(&ref{to: pl.names[l.kind], item: own}).at(spot{page: l.page, item: i}), Value: l.kind.Items[i].Name, Style: Head}
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
			s.Set(seriesRow-1, col, c)
		}
	}
}

// drawSeriesCells draws the cells of a block.
func (pl *plan) drawSeriesCells(pg *page, l *line) {
	last := len(pg.axes) - 1
	pg.eachRow(func(steps []int) {
		form, storage := l.step, -1
		if steps[last] < 0 {
			form = l.start
		}
		if form == nil && (l.frozen == nil || steps[last] < 0 && l.q.Start == nil) {
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
				if form != nil {
					t = form(i, j)
				}
				l.draw(pl, i, l.row+row, l.col+i*l.across+j, at, t, storage)
			}
		}
	})
}
