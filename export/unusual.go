package export

import (
	"slices"
	"strings"

	"bankwright/engine/check"
	"bankwright/engine/decl"
)

// What the rules call usual of a number is looked at live, on the sheet Limits: beside an
// input that is unusual stands a word, computed figures stand in a list of their own, and
// the first sheet counts all of them.

// unusualWord stands beside an input that is possible, but outside what is usual.
const unusualWord = "unusual"

// Columns of the sheet Limits behind those of what is possible.
const (
	usualLowCol = wrongFirstCol + 1 + iota
	usualHighCol
	belowCol     // how many are below what is usual
	aboveCol     // and above it
	unusualCol   // and both
	unusualAtCol // the row, where there are some
)

// unusualFigures is the label of how many figures are unusual in all.
const unusualFigures = "Unusual figures"

func hasUsual(q *check.Quantity) bool {
	return q.Type == decl.Number && q.UsualMin != nil && q.UsualMax != nil
}

// usualNote is what the note of a quantity says of its usual range, with its source.
func (pl *plan) usualNote(q *check.Quantity) string {
	if !hasUsual(q) {
		return ""
	}
	said := strings.TrimSuffix(pl.usual(q), ".")
	if q.UsualSource != "" {
		said += " (" + q.UsualSource + ")"
	}
	return said + "."
}

// drawUsual draws on the sheet Limits what is usual of cells and how many of them are
// outside. Of computed figures 0 does not count: it is written where there is none.
func (pl *plan) drawUsual(row int, q *check.Quantity, cells *ref) {
	s, at := pl.limits.sheet, spot{page: pl.limits}
	outside := func(bound, count int, b *decl.Bound, beyond, sign string) {
		s.Set(row, bound, Cell{Value: round15(q.Unit.FromBase(b.Value)), Style: Plain, Format: boundFormat})
		name := cellName(row, bound)
		t := join("COUNTIF(", cells, `,"`+beyond+`"&`+name+sign+"tolerance*ABS("+name+"))")
		if zeroIs := b.Value > 0 && beyond == "<" || b.Value < 0 && beyond == ">"; zeroIs && q.IsRule() {
			t = join(t, "-COUNTIF(", cells, ",0)")
		}
		s.Set(row, count, Cell{Formula: t.at(at), Style: Computed, Format: countFormat})
	}
	outside(usualLowCol, belowCol, q.UsualMin, "<", "-")
	outside(usualHighCol, aboveCol, q.UsualMax, ">", "+")
	count := cellName(row, unusualCol)
	s.Set(row, unusualCol, Cell{Formula: cellName(row, belowCol) + "+" + cellName(row, aboveCol), Style: Computed, Format: countFormat})
	s.Set(row, unusualAtCol, Cell{Formula: "IF(" + count + ">0,ROW(" + count + `),"")`, Style: Computed, Format: countFormat})
}

// drawUnusual lists computed figures with a usual range below what is to be mended, and
// how many figures are unusual in all.
func (pl *plan) drawUnusual() {
	if !slices.ContainsFunc(pl.prog.Quantities, hasUsual) {
		return
	}
	s := pl.limits.sheet
	row := pl.mendTo + 3
	s.text(row, labelCol, "Computed figures that have a usual range", Heading)
	for _, k := range pl.prog.Kinds {
		for _, q := range k.Quantities {
			l := pl.places[q]
			if !hasUsual(q) || !q.IsRule() || len(q.Axes) > 0 || l == nil || l.row == 0 || len(k.Items) == 0 {
				continue
			}
			row++
			s.Set(row, labelCol, Cell{Value: titleOf(k) + ": " + lowerFirst(labelOf(q)), Style: Link, Link: quoteSheet(l.page.name) + "!" + cellName(l.row, l.col)})
			s.text(row, unitCol, unitWord(l), Unit)
			pl.drawUsual(row, q, &ref{to: l, item: all})
		}
	}
	column := func(col, to int) string {
		return cellName(limitsHead+1, col) + ":" + cellName(to, col)
	}
	last := row
	row += 2
	s.text(row, labelCol, unusualFigures, TotalText)
	s.text(row, unitCol, numberWord, Unit)
	s.Set(row, unusualCol, Cell{Formula: "SUM(" + column(unusualCol, last) + ")", Style: Total, Format: "0"})
	n := cellName(row, unusualCol)
	s.text(row+1, labelCol, "The first of them", Label)
	s.text(row+1, unitCol, "words", Unit)
	s.Set(row+1, unusualCol, Cell{Style: Note, Formula: "IF(" + n + `=0,"",INDEX(` + cellName(1, labelCol) + ":" + cellName(last, labelCol) + ",MIN(" + column(unusualAtCol, last) + ")))"})
	s.text(row+2, labelCol, "In words", Label)
	s.text(row+2, unitCol, "words", Unit)
	s.Set(row+2, unusualCol, Cell{Style: Note, Formula: "IF(" + n + `=0,"",` + n + `&IF(` + n + `=1," unusual figure: "," unusual figures, the first: ")&` + cellName(row+1, unusualCol) + `&" (sheet ` + limitsName + `)")`})
	pl.unusualRow = row
}

// unusual says on the first sheet, beside what stands in the row above, how many figures
// are unusual, where there are some.
func (a *answer) unusual() {
	if a.pl.unusualRow > 0 {
		a.s.Set(a.row-1, itemCol+1, Cell{Formula: limitsName + "!" + cellName(a.pl.unusualRow+2, unusualCol), Style: Note})
	}
}
