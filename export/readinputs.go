package export

import (
	"math"
	"slices"
	"strconv"
	"strings"
	"unicode/utf8"

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
			if row == 0 {
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
		case t.byFormula():
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
	row, col := r.rows[l.row], r.columnAt(l.row, unitCol)
	if l.unit == "" || row == 0 || col == 0 {
		return
	}
	if now := r.inputs.At(row, col); now.Value != l.unit {
		r.fault(r.inputs.Name+"!"+cellName(row, col), "unit", "Write "+l.unit+" again, and the values in it.",
			"%s stands where the unit %s stood: values are read in %s", content(now), l.unit, l.unit)
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

// scalar reads the number of a cell in the unit of the sheet; NaN where it is empty.
// False where it cannot be used, which is then told.
func (t *typedCells) scalar(i int, u unit.Unit) (float64, bool) {
	c := t.now[i]
	switch v := c.Value.(type) {
	case nil:
		if c.Formula {
			t.refuse(i, "formula", "Type the value, or open and save the workbook in a spreadsheet program.", "%s is a formula here, without a stored value", t.name())
			return 0, false
		}
		return math.NaN(), true
	case bool:
		t.refuse(i, "wrong-type", t.old(i)+".", "%s is a number, not %s", t.name(), content(c))
	case ErrorValue:
		t.refuse(i, "number", "Type the value.", "%s has no value here: a formula gives %s", t.name(), v)
	case string:
		t.refuseText(i, v)
	case float64:
		switch {
		case c.Date:
			t.refuse(i, "wrong-type", "Set the cell's format to a number, and type it again.", "%s is a date or a time here: the program took what was typed for one", t.name())
		case c.Percent && u.Name == "%":
			return round15(100 * v), true // 80 % that was typed with its sign is stored as 0.8
		case c.Percent:
			t.refuse(i, "unit", "Set the cell's format to a number, and type it again without the sign.", "%s is a percentage here, and not a number in %s", t.name(), named(t.r.pl.unitName(u)))
		default:
			if c.Formula {
				t.r.warn(t.at[i], "formula", "", "a formula stands here; its value %s is taken", content(c))
			}
			return v, true
		}
	}
	return 0, false
}

func named(u string) string {
	if u == "" {
		return "plain numbers"
	}
	return u
}

// refuseText tells of a text in the cell of a number.
func (t *typedCells) refuseText(i int, text string) {
	mend := t.old(i) + ": digits and a decimal sign alone."
	plain := strings.NewReplacer(",", "", " ", "", "\u00a0", "", "'", "").Replace(strings.TrimSpace(text))
	if v, _, err := unit.ParseValue(plain); err == nil {
		mend = "Type " + decl.Figure(v) + ": digits and a decimal sign alone. The unit stands beside it."
	}
	t.refuse(i, "wrong-type", mend, "%s is a number, but this is the text %q", t.name(), cut(text, 40))
}

// judged reports whether the rules allow a value; where not, or where it is unusual,
// that is told at its cell.
func (t *typedCells) judged(i int, read func(v *decl.Value) (float64, bool), u unit.Unit, x float64) bool {
	text := strings.TrimSpace(decl.Figure(x) + " " + strings.TrimPrefix(u.In(t.r.pl.prog.Model.Currency), "1"))
	_, ok := read(decl.ValueAt(t.r.pos(t.at[i]), text))
	t.faulty = t.faulty || !ok
	return ok
}

// signTyped warns of a small percentage: programs store 70 % as 0.7, and do not all
// show that the sign was typed.
func (t *typedCells) signTyped(i int, u unit.Unit, before, x float64) {
	if u.Name == "%" && math.Abs(x) <= 1 && x != 0 && !(math.Abs(before) <= 1) && !t.now[i].Percent {
		meant := t.r.pl.told15(u, round15(100*x))
		t.r.warn(t.at[i], "unusual", "Is that what you mean? Where it is "+meant+", type it without the sign.", "%s is %s: a program keeps that where %s is typed with its sign", t.name(), t.r.pl.told15(u, x), meant)
	}
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
		return yes(x != 0)
	}
	return t.r.pl.told15(q.Unit, x)
}

// told15 is a number with its digits, thousands apart, and its unit.
func (pl *plan) told15(u unit.Unit, x float64) string {
	_, decimals, _ := strings.Cut(strconv.FormatFloat(round15(x), 'f', -1, 64), ".")
	return u.Show(u.ToBase(x), len(decimals), pl.prog.Model.Currency)
}

func yes(v bool) string {
	if v {
		return "yes"
	}
	return "no"
}

// truth reads a cell that is true or false, NaN where it is empty.
func (t *typedCells) truth(i int) (float64, bool) {
	switch v := t.now[i].Value.(type) {
	case nil:
		return math.NaN(), true
	case bool:
		if v {
			return 1, true
		}
		return 0, true
	case float64:
		if v == 0 || v == 1 { // some programs store truths as numbers
			return v, true
		}
	}
	t.refuse(i, "wrong-type", "Choose TRUE or FALSE.", "%s is true or false, not %s", t.name(), content(t.now[i]))
	return 0, false
}

// set reads the members of a set.
func (t *typedCells) set() {
	q := t.l.q
	first, blanks, were := -1, 0, 0
	in := make([]bool, len(t.now))
	for i := range t.now {
		x, ok := t.truth(i)
		if !ok {
			continue
		}
		before := t.before(i)
		if x != x {
			blanks++
		}
		if before != before {
			were++
		}
		in[i] = x == 1
		if before == x || before != before && x != x {
			continue
		}
		if first < 0 {
			first = i
		}
		old := "-"
		if before == before {
			old = yes(before == 1)
		}
		t.changed(i, t.cellName(i), old, yes(in[i]))
	}
	switch {
	case first < 0 || t.faulty:
	case blanks == len(t.now) && !required(q):
		t.leftOut()
		t.revise(first, decl.Revision{Absent: true})
	case blanks > 0 && were == 0:
		t.refuse(slices.IndexFunc(t.now, func(c ReturnedCell) bool { return c.Value == nil }), "missing", "Choose TRUE or FALSE.", "a member of %s is neither in nor out", t.name())
	default:
		t.revise(first, decl.Revision{Texts: t.members(in)})
	}
}

// members are the names of those that are in, in the scenario's order, new ones last.
func (t *typedCells) members(in []bool) []string {
	out := []string{}
	if g := t.l.q.GivenFor(t.l.q.Kind.Items[t.item]); g != nil {
		for _, name := range g.Texts {
			if i := t.l.q.To.Item(name); i >= 0 && in[i] {
				out = append(out, name)
			}
		}
	}
	for i, it := range t.l.q.To.Items {
		if in[i] && !slices.Contains(out, it.Name) {
			out = append(out, it.Name)
		}
	}
	return out
}

// choice reads a text, or the name of an item.
func (t *typedCells) choice() {
	q := t.l.q
	before, _ := t.then[0].Value.(string)
	now := ""
	switch v := t.now[0].Value.(type) {
	case nil:
	case string:
		now = v
	case ErrorValue:
		t.refuse(0, "number", "Type the text.", "%s has no value here: a formula gives %s", t.name(), v)
		return
	default:
		now = content(t.now[0])
	}
	if now == "" {
		t.leftOut()
	}
	if now == before {
		return
	}
	t.changed(0, t.cellName(0), orNone(before), orNone(now))
	switch {
	case now == "" && required(q):
		t.refuse(0, "missing", t.old(0)+".", "%s must not be empty", t.name())
	case now == "":
		t.revise(0, decl.Revision{Absent: true})
	case strings.HasPrefix(strings.TrimSpace(now), "="), strings.ContainsFunc(now, func(c rune) bool { return c < ' ' || c >= 0x7f && c < 0xa0 }), !utf8.ValidString(now):
		t.refuse(0, "text", "Type plain words.", "%s cannot be %q", t.name(), cut(now, 40))
	default:
		_, _, ok := t.r.reader.Choice(decl.ValueAt(t.r.pos(t.at[0]), now), q.Quantity)
		t.faulty = !ok
		t.revise(0, decl.Revision{Texts: []string{strings.TrimSpace(now)}})
	}
}

func orNone(s string) string {
	if s == "" {
		return "-"
	}
	return s
}

// recording refuses another recording: a workbook cannot read one.
func (t *typedCells) recording() {
	for i, c := range t.now {
		if !alike(t.then[i].Value, c.Value) {
			t.refuse(i, "computed", t.old(i)+", and name another file in the scenario.", "%s stands where %s stood: a workbook cannot read a recording", content(c), content(ReturnedCell{Value: t.then[i].Value}))
		}
	}
}
