package export

import (
	"strings"

	"bankwright/engine/decl"
)

// tableColumn is the column of a table of the rules in base units. Numbers in
// another unit stand as published, with a calculated column beside them.
func (pl *plan) tableColumn(t *decl.Table, col int) *line {
	l := pl.columns[columnKey{t, col}]
	if l == nil {
		pl.fail("the table %s has no place in the workbook", t.Name)
		return pl.newLine(pl.tables, line{rows: 1})
	}
	return l
}

// drawTables draws the tables of the rules, one below the other, and notes
// where their columns are.
func (pl *plan) drawTables() {
	pg := pl.tables
	pg.lead = "Published values that the formulas look up. They belong to the rules: change them in a rules file."
	s := pl.head(pg)
	s.FreezeRows, s.Print.RepeatRows = 3, 3
	s.text(3, 1, "as published", Published)
	s.text(3, 2, "calculated", ComputedText)
	row, notes := 5, []int{}
	for _, t := range pl.prog.Model.Tables {
		s.text(row, 1, upperFirst(strings.ReplaceAll(t.Name, "_", " ")), Heading)
		note := strings.TrimSpace(t.Doc + " Source: " + t.Source)
		if t.Source == "" {
			note = t.Doc
		}
		notes = append(notes, row+1)
		s.text(row+1, 1, note, Remark)
		col := 1
		for i := range t.Columns {
			col = pl.drawColumn(s, t, i, row+2, col)
		}
		s.fold(row+1, row+3+len(t.Rows))
		row += len(t.Rows) + 5
		for len(s.Widths) < col {
			s.Widths = append(s.Widths, tableWidth)
		}
	}
	for _, row := range notes { // as wide as the widest table
		c := s.At(row, 1)
		c.Span = int16(len(s.Widths))
		s.Set(row, 1, c)
	}
}

// tableWidth is how wide columns of tables are, in characters.
const tableWidth = 18

// drawColumn draws one column and returns the next free one.
func (pl *plan) drawColumn(s *Sheet, t *decl.Table, i, row, col int) int {
	c := t.Columns[i]
	u := c.Unit
	l := pl.newLine(pl.tables, line{rows: max(len(t.Rows), 1), only: own})
	l.row, l.col = row+2, col
	head := strings.ReplaceAll(c.Name, "_", " ")
	s.text(row, col, head, Head)
	s.text(row+1, col, pl.unitName(u), Note)
	format, baseFormat := tableFormats(t, i)
	for r, values := range t.Rows {
		if c.Text {
			s.text(row+2+r, col, values.Texts[i], Published)
		} else {
			s.Set(row+2+r, col, Cell{Value: round15(u.FromBase(values.Numbers[i])), Style: Published, Format: format, Typed: true})
		}
	}
	pl.columns[columnKey{t, i}], pl.published[columnKey{t, i}] = l, l
	name := t.Name + "_" + c.Name
	if c.Text || u.Mul == 1 && u.Div == 1 && u.Zero == 0 {
		pl.nameColumn(l, name)
		return col + 1
	}
	base := pl.newLine(pl.tables, line{rows: l.rows, only: own})
	base.row, base.col = row+2, col+1
	s.text(row, col+1, head, Head)
	s.text(row+1, col+1, pl.unitName(baseUnit(u.Dim)), Note)
	for r, values := range t.Rows {
		form := toBase(term{text: cell(&ref{to: l, item: own, row: r}), prec: precAtom}, u).plain().text
		s.Set(row+2+r, col+1, Cell{Formula: form.at(spot{page: pl.tables}), Value: round15(values.Numbers[i]), Style: Computed, Format: baseFormat})
	}
	pl.columns[columnKey{t, i}] = base
	pl.nameColumn(base, name)
	return col + 2
}

// nameColumn gives a column of a table a defined name, where that is legal.
func (pl *plan) nameColumn(l *line, name string) {
	if len(name) > longestColumnName {
		return
	}
	l.rangeName = pl.freeName(name)
	pl.nameRange(l.rangeName, Range{Sheet: l.page.name, Row: l.row, Col: l.col, ToRow: l.row + l.rows - 1})
}

// longestColumnName keeps names of columns shorter than what they stand for.
const longestColumnName = 20

// tableFormats are the number formats of a column, as published and in base
// units.
func tableFormats(t *decl.Table, col int) (published, base string) {
	var shown, values []float64
	for _, r := range t.Rows {
		if !t.Columns[col].Text {
			shown = append(shown, t.Columns[col].Unit.FromBase(r.Numbers[col]))
			values = append(values, r.Numbers[col])
		}
	}
	return exactFormat(shown), exactFormat(values)
}
