package engine

import (
	"slices"

	"bankwright/engine/arith"
	"bankwright/engine/check"
	"bankwright/engine/decl"
	"bankwright/engine/eval"
	"bankwright/engine/unit"
)

// Moved is a cell that is other than it was in an earlier model of a scenario. Of a
// series it is the first step that is. Before and Now are as people read them, "-"
// where there is no value, with as many decimals as it takes to tell them apart.
type Moved struct {
	Cell   eval.Cell
	Name   string // kind.item.quantity[step]; kind.item where the whole item is new or gone
	Before string
	Now    string
	Unit   string
	Steps  int  // further steps of the series that are other than before
	Input  bool // given by the files, before or now
	Check  bool // what a check finds
}

// mostDecimals is how many decimals are shown at most to tell two values apart.
const mostDecimals = 12

// Since lists what is other than in an earlier model: items, values and findings,
// kind by kind in the order of the rules.
func (m *Model) Since(old *Model) []Moved {
	var out []Moved
	for _, k := range m.Kinds {
		was := old.Kind(k.Name)
		for item, it := range k.Items {
			before := itemNamed(was, it.Name)
			if before < 0 {
				out = append(out, Moved{Name: k.Name + "." + it.Name, Before: "-", Now: "new", Input: true})
				continue
			}
			out = append(out, m.itemSince(k, item, old, was, before)...)
		}
		if was == nil {
			continue
		}
		for _, it := range was.Items {
			if itemNamed(k, it.Name) < 0 {
				out = append(out, Moved{Name: k.Name + "." + it.Name, Before: "there", Now: "gone", Input: true})
			}
		}
	}
	return append(out, m.findingsSince(old)...)
}

// itemSince lists the quantities of an item that are other than before.
func (m *Model) itemSince(k *check.Kind, item int, old *Model, was *check.Kind, before int) []Moved {
	var out []Moved
	for _, q := range k.Quantities {
		o := was.Quantity(q.Name)
		if o == nil || m.IsCheck(q) || o.Type != q.Type {
			continue
		}
		if q.Type.Tabular() {
			out = append(out, m.tableSince(q, item, old, o, before)...)
			continue
		}
		moved := Moved{Steps: -1, Input: q.GivenFor(k.Items[item]) != nil || o.GivenFor(was.Items[before]) != nil}
		q.EachStep(func(steps []int, row int) {
			a, b := nan(), m.Result.At(q, item, row)
			if same, ok := old.rowOf(q, o, steps); ok {
				a = old.Result.At(o, before, same)
			}
			if !m.differ(old, q, o, a, b, moved.Input) {
				return
			}
			if moved.Steps++; moved.Steps > 0 {
				return
			}
			moved.Cell = eval.Cell{Quantity: q, Item: item, Row: row}
			moved.Name = m.CellName(moved.Cell)
			moved.Before, moved.Now = m.apart(old, q, o, a, b)
			if q.Type == decl.Number {
				moved.Unit = q.Unit.In(m.Model.Currency)
			}
		})
		if moved.Steps >= 0 {
			out = append(out, moved)
		}
	}
	return out
}

// tableSince tells whether a table or a recording is another than before.
func (m *Model) tableSince(q *check.Quantity, item int, old *Model, o *check.Quantity, before int) []Moved {
	c := eval.Cell{Quantity: q, Item: item}
	moved := Moved{Cell: c, Name: m.CellName(c), Before: old.CellText(eval.Cell{Quantity: o, Item: before}), Now: m.CellText(c), Input: true}
	if q.Type == decl.Points {
		a, b := old.Result.PointsOf(o, before), m.Result.PointsOf(q, item)
		if slices.EqualFunc(a, b, slices.Equal) {
			return nil
		}
		moved.Now = "another table"
		if a == nil {
			moved.Before, moved.Now = "-", "a table"
		}
		if b == nil {
			moved.Now = "-"
		}
	}
	if moved.Before == moved.Now {
		return nil
	}
	return []Moved{moved}
}

// differ reports whether two values of a cell are not the same; what is calculated
// may differ in its last digits.
func (m *Model) differ(old *Model, q, o *check.Quantity, a, b float64, input bool) bool {
	switch {
	case a != a || b != b:
		return a == a || b == b
	case q.Type == decl.Text || q.Type == decl.Reference: // numbers of places in lists
		return old.Text(o, a) != m.Text(q, b)
	}
	return a != b && (input || !arith.Near(a, b))
}

// apart are two values as people read them.
func (m *Model) apart(old *Model, q, o *check.Quantity, a, b float64) (before, now string) {
	if q.Type != decl.Number {
		return old.Text(o, a), m.Text(q, b)
	}
	show := func(v float64, decimals int) string {
		if v != v {
			return "-"
		}
		return unit.Format(q.Unit.FromBase(v), decimals)
	}
	var known []float64
	for _, v := range []float64{a, b} {
		if v == v {
			known = append(known, q.Unit.FromBase(v))
		}
	}
	decimals := q.Decimals
	if decimals < 0 {
		decimals = unit.DecimalsFor(known)
	}
	for ; ; decimals++ {
		before, now = show(a, decimals), show(b, decimals)
		if before != now || decimals >= mostDecimals {
			return before, now
		}
	}
}

// rowOf is the row, in this model, of the quantity o for steps of the one that it has
// become; false where it has no such step. Steps that are items go by their names.
func (m *Model) rowOf(q, o *check.Quantity, steps []int) (int, bool) {
	if len(o.Axes) != len(q.Axes) {
		return 0, false
	}
	there := make([]int, len(steps))
	for i, n := range steps {
		a, b := q.Axes[i], o.Axes[i]
		if a.Name != b.Name || (a.Kind == nil) != (b.Kind == nil) {
			return 0, false
		}
		if a.Kind != nil && n >= 0 {
			if n = itemNamed(m.Kind(b.Kind.Name), a.Kind.Items[n].Name); n < 0 {
				return 0, false
			}
		}
		if n >= b.Steps {
			return 0, false
		}
		there[i] = n
	}
	return o.Row(there...), true
}

// findingsSince lists what checks find other than before.
func (m *Model) findingsSince(old *Model) []Moved {
	then := map[string]Outcome{}
	for _, k := range old.Kinds {
		for _, o := range old.Outcomes(k) {
			then[o.Check.Name+"."+k.Items[o.Item].Name] = o
		}
	}
	var out []Moved
	for _, k := range m.Kinds {
		for _, o := range m.Outcomes(k) {
			before, known := then[o.Check.Name+"."+k.Items[o.Item].Name]
			if !known || before.Word() == o.Word() {
				continue
			}
			c := eval.Cell{Quantity: o.Check.Result, Item: o.Item}
			out = append(out, Moved{Cell: c, Name: m.CellName(c), Before: before.Word(), Now: o.Word(), Check: true})
		}
	}
	return out
}

// itemNamed is the place of an item, -1 where there is no kind or none of that name.
func itemNamed(k *check.Kind, name string) int {
	if k == nil {
		return -1
	}
	return k.Item(name)
}
