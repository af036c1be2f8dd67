package text

import (
	"fmt"
	"io"

	"bankwright/engine"
	"bankwright/engine/check"
	"bankwright/engine/sweep"
	"bankwright/engine/unit"
	"bankwright/export/told"
)

// BreakEven writes where two items have the same figure: in sentences, or over a
// second input as a table.
func BreakEven(w io.Writer, m *engine.Model, b *check.BreakEven, ties []sweep.Tie, st Style) {
	heading(w, b.Title, "break-even "+b.Name, st)
	x := told.NewTie(cellNames(m), engine.FoundBreakEven{BreakEven: b, Ties: ties})
	sentences(w, st, x.Given())
	if b.Over != nil {
		tieTable(w, x, st)
	} else {
		sentences(w, st, x.Sentences(ties[0])...)
	}
	sentences(w, st, x.Checks())
}

// tieTable writes a row for each crossing at each value of the second input.
func tieTable(w io.Writer, x *told.Tie, st Style) {
	over, q := x.F.Over, x.F.Input.Quantity
	sentences(w, st, x.Lead())
	fmt.Fprintln(w)
	at := told.Thinned(over.Steps(), over.Steps())
	if !st.All {
		at = told.Thinned(over.Steps(), mostRows)
	}
	first := steps(x.Words, over, at)
	cells := first.cells
	first.cells = nil
	level, far := tableColumn{head: "level at", unit: x.Unit(q)}, tableColumn{head: "from given", unit: "%"}
	below, above, note := tableColumn{head: "better below", left: true}, tableColumn{head: "and above", left: true}, tableColumn{left: true}
	add := func(step, at, distance, under, over, remark string) {
		first.cells, level.cells, far.cells = append(first.cells, step), append(level.cells, at), append(far.cells, distance)
		below.cells, above.cells, note.cells = append(below.cells, under), append(above.cells, over), append(note.cells, remark)
	}
	digits, cut := x.Digits(), ""
	for i, step := range at {
		t := x.F.Ties[step]
		if t.Cut {
			cut = told.Cut
		}
		if len(t.Crossings) == 0 {
			who := x.Always(t)
			add(cells[i], "-", "-", who, who, "")
		}
		for j, c := range t.Crossings {
			label := cells[i]
			if j > 0 {
				label = ""
			}
			distance := "-"
			if d := x.Distance(c.At); d == d {
				distance = unit.Format(100*d, 1)
			}
			add(label, unit.Format(q.Unit.FromBase(c.At), digits), distance, x.Better(t, c.Before), x.Better(t, c.After), told.Remark(c))
		}
	}
	writeColumns(w, fitted([]tableColumn{first, level, far, below, above, note}, st.Width), st)
	if len(at) < over.Steps() {
		sentences(w, st, every(at, over.Steps()))
	}
	sentences(w, st, cut, x.EachLooked())
}
