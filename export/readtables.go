package export

import (
	"math"
	"slices"
	"strconv"
	"strings"

	"bankwright/engine/check"
	"bankwright/engine/decl"
	"bankwright/engine/unit"
)

// points reads an item's own table: rows that are empty do not count.
func (t *typedCells) points() {
	q, n := t.l.q, t.l.q.MaxRows
	columns := make([][]float64, len(q.Columns))
	first := -1
	for row := range n {
		values, blanks := make([]float64, len(columns)), 0
		for c, col := range q.Columns {
			i := c*n + row
			x, ok := t.scalar(i, col.Unit)
			if !ok {
				return
			}
			if values[c] = x; x != x {
				blanks++
			}
			if before := t.before(i); !close15(before, x) && (x == x || before == before) {
				if first < 0 {
					first = i
				}
				if x == x && !t.judged(i, func(v *decl.Value) (float64, bool) { return t.r.reader.Point(v, q.Quantity, col) }, col.Unit, x) {
					return
				}
				name := t.cellName(0) + "." + col.Name + "[" + number(float64(row+1)) + "]"
				t.changed(i, name, t.r.pl.orNone15(col, before), t.r.pl.orNone15(col, x))
			}
		}
		switch {
		case blanks == len(columns):
			continue
		case blanks > 0:
			c := slices.IndexFunc(values, math.IsNaN)
			t.refuse(c*n+row, "points", "Fill all columns of row "+number(float64(row+1))+", or none.", "a row of %s is not complete", t.name())
			return
		case slices.ContainsFunc(columns[0], func(x float64) bool { return close15(x, values[0]) }):
			t.refuse(row, "points", "Give one row for each value of the first column.", "%s has the value %s twice", t.name(), content(t.now[row]))
			return
		}
		for c, x := range values {
			columns[c] = append(columns[c], x)
		}
	}
	t.pointsRead(columns, first)
}

// pointsRead makes a revision of the table that was read.
func (t *typedCells) pointsRead(columns [][]float64, first int) {
	empty := len(columns[0]) == 0
	if empty {
		t.leftOut()
	}
	switch {
	case first < 0:
	case empty && required(t.l.q):
		t.refuse(first, "missing", t.old(first)+".", "%s must not be empty", t.name())
	case empty:
		t.revise(first, decl.Revision{Absent: true})
	default:
		t.revise(first, decl.Revision{Points: columns})
	}
}

func (pl *plan) orNone15(c decl.Column, x float64) string {
	if x != x {
		return "-"
	}
	return pl.told15(c.Unit, x)
}

// eitherGiven refuses two inputs of which one is needed, where both are empty now.
func (r *returned) eitherGiven() {
	r.eachInput(func(l *line, item int) {
		other := instead(l.q)
		if other == nil {
			return
		}
		at, blank := r.blank[inputKey{l.q, item}]
		if _, both := r.blank[inputKey{other, item}]; blank && both {
			r.fault(at, "missing", "Fill one of the two.", "`%s` and `%s` are both empty", l.q.Name, other.Name)
		}
	})
}

// figureChange is a figure of a scenario's own formula that was changed.
type figureChange struct {
	e *check.Expr
	x float64
	t *typedCells
}

// readFigures reads the figures of the scenario's own formulas, which stand in cells
// of their own, and the tolerance.
func (r *returned) readFigures() {
	byFormula := map[inputKey][]figureChange{}
	var order []inputKey
	for _, k := range r.pl.prog.Kinds {
		for _, l := range r.pl.extra[k] {
			if l.figure == nil || l.row == 0 {
				continue
			}
			c, ok := r.figureOf(l)
			if !ok {
				continue
			}
			key := inputKey{l.figureOf, l.only}
			if byFormula[key] == nil {
				order = append(order, key)
			}
			byFormula[key] = append(byFormula[key], c)
		}
	}
	for _, key := range order {
		reviseFormula(key, byFormula[key])
	}
	r.readTolerance()
}

// figureOf reads a figure; false where it is as it was, or cannot be used.
func (r *returned) figureOf(l *line) (figureChange, bool) {
	cells := *l
	cells.q = l.figureOf
	t, ok := r.cells(&cells, l.only)
	if !ok || !t.valued() {
		return figureChange{}, false
	}
	x, ok := t.scalar(0, unit.One)
	if !ok || close15(x, l.figure.Num) {
		return figureChange{}, false
	}
	if x != x {
		t.refuse(0, "missing", t.old(0)+".", "a figure in the formula of %s is empty", t.name())
		return figureChange{}, false
	}
	t.changed(0, t.cellName(0)+", "+lowerFirst(l.label), number(l.figure.Num), number(x))
	return figureChange{l.figure, x, t}, true
}

// reviseFormula puts figures into the formula that they stand in, the last one first.
func reviseFormula(key inputKey, list []figureChange) {
	text := []rune(key.q.OwnFormula(key.item).Text)
	slices.SortFunc(list, func(a, b figureChange) int { return b.e.At.Start - a.e.At.Start })
	all := list[0].t
	for _, c := range list {
		from, figure := c.e.At.Start, decl.Figure(c.x)
		if c.x < 0 {
			figure = "(" + figure + ")"
		}
		end := literalEnd(text, from)
		if was, err := strconv.ParseFloat(strings.ReplaceAll(string(text[from:end]), "_", ""), 64); err != nil || was != c.e.Num {
			c.t.refuse(0, "formula", "Change it in the scenario.", "this figure cannot be put into the formula of %s", c.t.name())
		}
		text = slices.Concat(text[:from], []rune(figure), text[end:])
	}
	for _, c := range list[1:] { // told in the order in which they are written
		all.found = append(c.t.found, all.found...)
		all.faulty = all.faulty || c.t.faulty
	}
	all.revise(0, decl.Revision{Formula: string(text)})
}

// literalEnd is where the number ends that begins in a formula.
func literalEnd(text []rune, from int) int {
	end := from
	for end < len(text) && (strings.ContainsRune("0123456789._eE", text[end]) || end > from && strings.ContainsRune("+-", text[end]) && strings.ContainsRune("eE", text[end-1])) {
		end++
	}
	return end
}

func (r *returned) readTolerance() {
	row, col := r.rows[r.pl.toleranceRow+1], r.columnAt(r.pl.toleranceRow+1, itemCol)
	if now := r.inputs.At(row, col); row > 0 && col > 0 && !alike(tolerance, now.Value) {
		r.fault(r.inputs.Name+"!"+cellName(row, col), "computed", "Set it back to "+number(tolerance)+".", "the tolerance of comparisons is no input of the scenario")
	}
}
