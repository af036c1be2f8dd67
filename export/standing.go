package export

import (
	"strings"

	"bankwright/engine/arith"
)

// standing lists the inputs that values follow from, in the order in which they
// stand in the workbook.
func (pl *plan) standing(all ...*influence) []stand {
	var out []stand
	put := func(reached func(*influence) bool, list func() []stand) {
		of, some := make([]bool, len(all)), false
		for i, in := range all {
			of[i] = reached(in)
			some = some || of[i]
		}
		if !some {
			return
		}
		for _, st := range list() {
			st.of = of
			out = append(out, st)
		}
	}
	for _, l := range pl.inputs.lines {
		if l.q == nil || l.row == 0 || l.q.IsRule() {
			continue
		}
		for i := range l.items() {
			if !pl.places[l.q].isFrozen(i) {
				put(func(in *influence) bool { return in.cells[influenceCell{l.q, i}] }, func() []stand { return pl.inputStands(l, i) })
			}
		}
	}
	for _, k := range pl.prog.Kinds {
		for _, l := range pl.extra[k] {
			if l.figureOf != nil {
				put(func(in *influence) bool { return in.cells[influenceCell{l.figureOf, l.only}] }, func() []stand { return pl.inputStands(l, l.only) })
			}
		}
	}
	for _, t := range pl.prog.Model.Tables {
		for i := range t.Columns {
			put(func(in *influence) bool { return in.columns[columnKey{t, i}] }, func() []stand { return pl.tableStands(columnKey{t, i}) })
		}
	}
	put(func(in *influence) bool { return in.compares }, func() []stand {
		return []stand{{label: "Tolerance of comparisons", owner: "Calculation", live: "tolerance", then: arith.Tolerance,
			look: Pulled, format: "0E+00", at: Range{Sheet: pl.inputs.name, Row: pl.toleranceRow + 1, Col: itemCol}}}
	})
	return out
}

// inputStands are the cells of an input of an item: each that holds a value,
// and blank ones side by side together.
func (pl *plan) inputStands(l *line, item int) []stand {
	owner := titleOf(l.kind)
	if l.kind.Many {
		owner = itemLabel(l.kind.Items[item])
	}
	var out []stand
	for r := 0; r < l.rows; r++ {
		c := l.data(item, r)
		st := stand{label: l.rowLabel(r), owner: owner, unit: l.unitOr(), then: c.Value, format: c.Format, look: Pulled,
			worked: hasOwn(l, item), at: Range{Sheet: l.page.name, Row: l.row + r, Col: l.column(item)}}
		if c.Value != nil {
			if run := l.alikeFrom(item, r); run > mostAlike && !st.worked {
				st.at.ToRow = l.row + r + run - 1
				st.label += " and the next " + number(float64(run-1))
				first, cells := Range{st.at.Sheet, st.at.Row, st.at.Col, 0, 0}.String(), st.at.String()
				st.live = "IF(SUMPRODUCT(ISNUMBER(" + cells + ")*(" + cells + "=" + first + "))=ROWS(" + cells + ")," + first + `,"various")`
				out = append(out, st)
				r += run - 1
				continue
			}
			out = append(out, st.single())
			continue
		}
		blank := r
		for !st.worked && r+1 < l.rows && l.data(item, r+1).Value == nil {
			r++
		}
		if st.at.ToRow = l.row + r; r == blank {
			out = append(out, st.single())
			continue
		}
		st.label += " and the next " + number(float64(r-blank))
		st.unit, st.format, st.then = "values", "0", 0.0
		st.live = "COUNTA(" + st.at.String() + ")"
		out = append(out, st)
	}
	return out
}

// mostAlike is how many cells with one number are listed one by one.
const mostAlike = 3

// alikeFrom is how many cells of an input, from a row on, hold the same number.
func (l *line) alikeFrom(item, r int) int {
	v, ok := l.data(item, r).Value.(float64)
	n := 1
	for ok && r+n < l.rows && l.data(item, r+n).Value == v {
		n++
	}
	return n
}

// single completes what is known of one cell.
func (st stand) single() stand {
	cell := st.at.String()
	st.live = "IF(" + cell + `="","` + notGiven + `",` + cell + ")"
	switch st.then.(type) {
	case nil:
		st.then = notGiven
	case string:
		st.look = PulledText
	}
	return st
}

// tableStands are the cells of a column of a table.
func (pl *plan) tableStands(key columnKey) []stand {
	l, c := pl.published[key], key.table.Columns[key.col]
	var out []stand
	for r, values := range key.table.Rows {
		st := stand{label: upperFirst(spaced(key.table.Name)) + ": " + spaced(c.Name) + " " + number(float64(r+1)), owner: pl.tables.title, look: Pulled,
			at: Range{Sheet: pl.tables.name, Row: l.row + r, Col: l.col}}
		if c.Text {
			st.then = values.Texts[key.col]
		} else {
			st.unit, st.then = pl.unitName(c.Unit), round15(c.Unit.FromBase(values.Numbers[key.col]))
			st.format, _ = tableFormats(key.table, key.col)
		}
		out = append(out, st.single())
	}
	return out
}

// rowLabel is the label of a row of a line of inputs.
func (l *line) rowLabel(r int) string {
	switch {
	case r >= len(l.labels):
		return l.label
	case l.q == nil && l.label != "":
		return l.label + ": " + l.labels[r]
	}
	return l.labels[r]
}

// spaced is a name as people read it.
func spaced(name string) string { return strings.ReplaceAll(name, "_", " ") }

// hasOwn reports whether a scenario gives an item's input as a formula.
func hasOwn(l *line, item int) bool {
	return l.q != nil && !l.q.Type.Tabular() && len(l.q.Own) > 0 && l.q.Own[item] != nil
}
