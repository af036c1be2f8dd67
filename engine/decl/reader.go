package decl

import (
	"strings"

	"bankwright/engine/diag"
	"bankwright/engine/unit"
)

// Reader gives written values their meaning once their quantities are known.
type Reader struct{ l *loader }

// NewReader makes a reader of values for a scenario that has been read. Faults
// go to the list.
func NewReader(m *Model, list *diag.List) *Reader {
	l := &loader{model: m, diags: list, collected: true, items: map[*Kind]map[string]*Item{}, groups: map[*Kind]map[string]*Item{}, names: map[*Kind][]string{}}
	for _, k := range m.Kinds {
		l.items[k], l.groups[k] = map[string]*Item{}, map[string]*Item{}
		for _, it := range k.Items {
			l.items[k][it.Name] = it
			if it.Group != "" && l.groups[k][it.Group] == nil {
				l.groups[k][it.Group] = it
			}
		}
	}
	return &Reader{l}
}

// Number is the value of a number in base units, within the limits of its
// quantity; false where it is at fault, which is then told.
func (r *Reader) Number(v *Value, q *Quantity) (float64, bool) {
	if !r.plain(v) {
		return 0, false
	}
	x, ok := r.l.number(v.node, q.Unit, q.Name, true)
	return x, ok && r.l.possible(v.node, q, x, true)
}

// Input is Number, and warns where the value is unusual.
func (r *Reader) Input(v *Value, q *Quantity) (float64, bool) {
	if !r.plain(v) {
		return 0, false
	}
	x, ok := r.l.number(v.node, q.Unit, q.Name, true)
	return x, ok && r.l.inBounds(v.node, q, x, true)
}

// Point is a value in a column of an item's own table, in base units.
func (r *Reader) Point(v *Value, q *Quantity, c Column) (float64, bool) {
	if !r.plain(v) {
		return 0, false
	}
	x, ok := r.l.number(v.node, c.Unit, c.Name, true)
	return x, ok && r.l.between(v.node, c.Name, c.Unit, q.At, x, c.Min, c.Max, true)
}

// Choice is what a truth, a text or a reference is: 0 or 1 and, for the other
// two, the text.
func (r *Reader) Choice(v *Value, q *Quantity) (truth float64, text string, ok bool) {
	if !r.plain(v) {
		return 0, "", false
	}
	var texts []string
	switch q.Type {
	case Boolean:
		truth, ok = r.l.boolean(v.node, q)
		return truth, "", ok
	case Text:
		texts, ok = r.l.choice(v.node, q)
	case Reference:
		texts, ok = r.l.reference(v.node, q)
	}
	if !ok {
		return 0, "", false
	}
	return 0, texts[0], true
}

// Difference is a difference between two values of a quantity, in base units.
func (r *Reader) Difference(v *Value, q *Quantity, what string) (float64, bool) {
	if !r.plain(v) {
		return 0, false
	}
	u := q.Unit
	if u.Dim.IsPoint() {
		u = unit.Base(unit.Difference)
	}
	return r.l.number(v.node, u, what, true)
}

// Share is a share such as "80 %", as a plain number.
func (r *Reader) Share(v *Value, what string) (float64, bool) {
	if !r.plain(v) {
		return 0, false
	}
	return r.l.number(v.node, unit.Percent, what, true)
}

// plain reports whether a value is none of a formula, and says so otherwise.
func (r *Reader) plain(v *Value) bool {
	if v.node.bad {
		return false
	}
	if v.node.kind == textNode && isFormula(strings.TrimSpace(v.node.text)) {
		r.l.diags.Errorf(v.At, "formula", "Write the value itself.", "a formula cannot stand here")
		return false
	}
	return true
}
