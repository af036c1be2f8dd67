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

// eachInput calls f for every input of every item that has cells of its own, from the
// top of the sheet down.
func (r *returned) eachInput(f func(l *line, item int)) {
	lines := slices.Clone(r.pl.inputs.lines)
	slices.SortStableFunc(lines, func(a, b *line) int { return a.row - b.row })
	for _, l := range lines {
		if l.q == nil || l.row == 0 {
			continue
		}
		for item := range l.items() {
			if l.has(item) && !l.isFrozen(item) {
				f(l, item)
			}
		}
	}
}

// typedCells is what an input of an item has in its cells, as written and as sent back.
type typedCells struct {
	r      *returned
	l      *line
	item   int
	then   []Cell
	now    []ReturnedCell
	at     []string // addresses
	found  []InputChange
	faulty bool
}

// cells collects the cells of an input; false where their row or column is gone.
func (r *returned) cells(l *line, item int) (*typedCells, bool) {
	t := &typedCells{r: r, l: l, item: item}
	for i := range l.rows {
		row, col := r.rows[l.row+i], r.columnAt(l.row+i, l.column(item))
		if row == 0 || col == 0 {
			if now := r.moved[l.row+i]; now > 0 {
				r.fault(r.inputs.Name+"!"+cellName(now, 1+r.left), "layout", "Put the rows back in their order: formulas read each input where it stood.",
					"the row of %q, an input, was row %d and stands here now: rows were sorted or moved", l.rowLabel(i), l.row+i)
			} else if row == 0 {
				r.fault(r.inputs.Name, "layout", "Put it back, with this label.", "the row of %q, an input, is gone", l.rowLabel(i))
			}
			return nil, false
		}
		t.then = append(t.then, r.pl.inputs.sheet.At(l.row+i, l.column(item)))
		t.now = append(t.now, r.inputs.At(row, col))
		t.at = append(t.at, r.inputs.Name+"!"+cellName(row, col))
	}
	return t, true
}

// readInputs reads all inputs.
func (r *returned) readInputs() {
	gone := map[*line]bool{}
	var last *line
	r.eachInput(func(l *line, item int) {
		if gone[l] {
			return
		}
		if l != last {
			r.checkUnit(l)
			last = l
		}
		t, ok := r.cells(l, item)
		if !ok {
			gone[l] = true
			return
		}
		switch {
		case t.byFormula(), !t.valued():
		case l.q.Type == decl.Recording:
			t.recording()
		case l.q.Type == decl.Points:
			t.points()
		case l.q.Type == decl.Set:
			t.set()
		case l.q.Type == decl.Text || l.q.Type == decl.Reference:
			t.choice()
		default:
			t.numbers()
		}
	})
}

// checkUnit refuses a unit that was changed: values are read in the old one.
func (r *returned) checkUnit(l *line) {
	was := unitWord(l)
	if l.unit == "" && was != numberWord {
		return // a word that says what may be typed
	}
	for i := range l.rows {
		row, col := r.rows[l.row+i], r.columnAt(l.row+i, unitCol)
		if row == 0 || col == 0 {
			continue
		}
		if now := r.inputs.At(row, col); now.Value != was {
			r.fault(r.inputs.Name+"!"+cellName(row, col), "unit", "Write "+was+" again, and the values in it.",
				"%s stands where the unit %s stood: values are read in %s", content(now), was, named(l.unit))
		}
	}
}

// refuse tells of a cell that cannot be used.
func (t *typedCells) refuse(i int, code, mend, format string, args ...any) {
	t.faulty = true
	t.r.fault(t.at[i], code, mend, format, args...)
}

// name is the quantity's, as faults have it.
func (t *typedCells) name() string { return "`" + t.l.q.Name + "`" }

// old says what stood in a cell, as a mend.
func (t *typedCells) old(i int) string {
	if t.then[i].Value == nil {
		return "Leave the cell empty"
	}
	return "Type a value, or set it back to " + content(ReturnedCell{Value: t.then[i].Value})
}

// changed notes what was changed in a cell.
func (t *typedCells) changed(i int, name, old, new string) {
	t.found = append(t.found, InputChange{Cell: name, Address: t.at[i], Old: old, New: new})
}

// revise notes a revision of the scenario, with the changes that were found, unless
// something is at fault.
func (t *typedCells) revise(i int, v decl.Revision) {
	if t.faulty {
		return
	}
	t.r.out.Changes = append(t.r.out.Changes, t.found...)
	v.Kind, v.Item, v.Quantity, v.At = t.l.q.Kind.Name, t.l.q.Kind.Items[t.item].Name, t.l.q.Name, t.r.pos(t.at[i])
	t.r.out.Revisions = append(t.r.out.Revisions, v)
}

// cellName is the name of the cell of a step.
func (t *typedCells) cellName(i int) string {
	q := t.l.q
	row := 0
	if len(q.Axes) > 0 {
		n := 0
		q.EachStep(func(_ []int, storage int) {
			if n == i {
				row = storage
			}
			n++
		})
	}
	return t.r.pl.prog.CellName(check.Place{Quantity: q, Item: t.item, Row: row})
}

// byFormula deals with an input that the scenario gives by a formula: it is as it
// was while the cells hold formulas.
func (t *typedCells) byFormula() bool {
	given, still := 0, 0
	for i := range t.then {
		if t.then[i].Formula != "" {
			given++
			if t.now[i].Formula {
				still++
			}
		}
	}
	if given == 0 {
		return false
	}
	if still > 0 && still < given {
		for i := range t.now {
			if !t.now[i].Formula {
				t.refuse(i, "overwritten", "Type the values of all steps, or set the formula back.", "a step of %s was typed over its formula", t.name())
				break
			}
		}
	}
	return still > 0
}

// numbers reads a number, a truth, or a series of them.
func (t *typedCells) numbers() {
	q := t.l.q
	values, changed := make([]float64, len(t.now)), make([]bool, len(t.now))
	first, blanks := -1, 0
	for i := range t.now {
		before, x, ok := t.before(i), 0.0, false
		if q.Type == decl.Boolean {
			x, ok = t.truth(i)
		} else {
			x, ok = t.scalar(i, q.Unit)
		}
		if !ok {
			continue
		}
		values[i], changed[i] = x, !close15(before, x) && (x == x || before == before) || t.then[i].Formula != ""
		if x != x {
			blanks++
		}
		if !changed[i] {
			values[i] = before
			continue
		}
		if first < 0 {
			first = i
		}
		t.signTyped(i, q.Unit, before, x)
		if q.Type == decl.Number && x == x && !t.judged(i, func(v *decl.Value) (float64, bool) { return t.r.reader.Input(v, q.Quantity) }, q.Unit, x) {
			continue
		}
		old := t.shown(q, before)
		if f := q.OwnFormula(t.item); f != nil {
			old = "= " + f.Text
		}
		t.changed(i, t.cellName(i), old, t.shown(q, x))
	}
	if blanks == len(t.now) {
		t.leftOut()
	}
	switch {
	case first < 0 || t.faulty:
	case blanks == len(t.now):
		if required(q) {
			t.refuse(first, "missing", t.old(first)+".", "%s must not be empty", t.name())
		}
		t.revise(first, decl.Revision{Absent: true})
	case t.holes(values):
	default:
		t.revise(first, decl.Revision{Values: values, Changed: changed})
	}
}

// before is the number that a cell was written with, NaN where it was empty.
func (t *typedCells) before(i int) float64 {
	switch v := t.then[i].Value.(type) {
	case float64:
		return v
	case bool:
		if v {
			return 1
		}
		return 0
	}
	return math.NaN()
}

// leftOut notes that an input has no value.
func (t *typedCells) leftOut() { t.r.blank[inputKey{t.l.q, t.item}] = t.at[0] }

// holes refuses steps without a value, but at the end where only some are in use.
func (t *typedCells) holes(values []float64) bool {
	q := t.l.q
	n := len(values)
	if len(q.Axes) > 0 && q.Axes[0].Active != nil {
		for n > 0 && values[n-1] != values[n-1] {
			n--
		}
	}
	for i, x := range values[:n] {
		if x != x {
			t.refuse(i, "missing", t.old(i)+"; a series has a value for each step, or none at all.", "a step of %s is empty", t.name())
			return true
		}
	}
	return false
}

// shown is a value in the unit of the sheet, as people read it with all its digits.
func (t *typedCells) shown(q *check.Quantity, x float64) string {
	if x != x {
		return "-"
	}
	if q.Type == decl.Boolean {
		return t.r.pl.model.Text(q, x)
	}
	return t.r.pl.told15(q.Unit, x)
}

// told15 is a number with its digits, thousands apart, and its unit.
func (pl *plan) told15(u unit.Unit, x float64) string {
	_, decimals, _ := strings.Cut(strconv.FormatFloat(round15(x), 'f', -1, 64), ".")
	return u.Show(u.ToBase(x), len(decimals), pl.prog.Model.Currency)
}
