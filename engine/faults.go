package engine

import (
	"fmt"
	"strings"

	"bankwright/engine/check"
	"bankwright/engine/decl"
	"bankwright/engine/diag"
	"bankwright/engine/eval"
)

// Faults are what the values themselves show to be wrong: operations without a
// result, computed inputs out of their bounds, and axes that are too short.
// A failure is told once, at the cell where it arises, and with it how many
// other cells of the same formula fail likewise.
func (m *Model) Faults() diag.List {
	var list diag.List
	failures := map[eval.Cell]bool{}
	told := map[*check.Expr]*failed{} // by the part that fails
	var order []*failed
	for _, q := range m.Quantities {
		if q.Type == decl.Points {
			continue
		}
		for item := range q.Kind.Items {
			for row := range q.Rows() {
				c := eval.Cell{Quantity: q, Item: item, Row: row}
				v := m.Result.At(q, item, row)
				if v == v {
					m.bounds(&list, c, v)
					continue
				}
				cause := m.Result.Why(c)
				if cause.Reason != eval.Failed || failures[cause.Cell] {
					continue
				}
				failures[cause.Cell] = true
				if f := told[cause.Expr]; f != nil {
					f.more++
					continue
				}
				told[cause.Expr] = &failed{cause: cause}
				order = append(order, told[cause.Expr])
			}
		}
	}
	for _, f := range order {
		list.Add(m.failure(f))
	}
	m.shortAxes(&list)
	return list
}

// bounds checks an input that a formula gave; written ones were checked when
// they were read.
func (m *Model) bounds(list *diag.List, c eval.Cell, v float64) {
	q := c.Quantity
	if q.Value != nil || q.Own[c.Item] == nil {
		return
	}
	at := q.OwnFormula(c.Item).At
	if q.Whole && !decl.IsWhole(v) {
		list.Errorf(at, "bounds", "", "%s comes to %s, but must be a whole number", m.CellName(c), m.Text(q, v))
	}
	if q.Min != nil && v < q.Min.Value {
		list.Errorf(at, "bounds", "", "%s comes to %s, below the least that is possible, %s", m.CellName(c), m.Text(q, v), q.Min.Written)
	}
	if q.Max != nil && v > q.Max.Value {
		list.Errorf(at, "bounds", "", "%s comes to %s, above the most that is possible, %s", m.CellName(c), m.Text(q, v), q.Max.Written)
	}
}

// shortAxes reports items that need more steps than are laid out.
func (m *Model) shortAxes(list *diag.List) {
	for _, k := range m.Kinds {
		for _, a := range m.Axes {
			e := k.Active[a]
			if e == nil {
				continue
			}
			for item := range k.Items {
				if v := m.Result.Reach(e, item); v > float64(a.Steps) {
					list.Errorf(a.Active.At, "series", fmt.Sprintf("Ask for at most %d, or give the axis more steps.", a.Steps), "%s asks for %s steps of %s, but only %d are laid out", k.Items[item].Name, m.Text(e.Ref.Target, v), a.Name, a.Steps)
					break
				}
			}
		}
	}
}

// failed is a part of a formula without a result, at the first cell where that
// happens, and how many more there are.
type failed struct {
	cause eval.Cause
	more  int
}

// failure tells of an operation without a result, with the values involved.
func (m *Model) failure(f *failed) diag.Diagnostic {
	cause := f.cause
	d := diag.Diagnostic{Code: "not-a-number", Mend: "Change one of these values, or let the formula ask first with ?: whether it can be computed."}
	d.Summary = m.CellName(cause.Cell) + " has no result: " + m.whySentence(cause)
	switch {
	case f.more == 1:
		d.Summary += "; nor has one more cell of this formula"
	case f.more > 1:
		d.Summary += fmt.Sprintf("; nor have %d more cells of this formula", f.more)
	}
	if f := m.FormulaAt(cause.Cell); f != nil {
		d.At = f.Pos(cause.Expr.At.Start, cause.Expr.At.Len)
	}
	return d
}

// whySentence says what went wrong, with values.
func (m *Model) whySentence(cause eval.Cause) string {
	switch cause.Reason {
	case eval.Absent:
		return m.CellName(cause.Cell) + " is not given"
	case eval.Beyond:
		return m.CellName(cause.Cell) + " is beyond the steps in use"
	}
	what := "the value is too large to be a number"
	switch e := cause.Expr; {
	case cause.TooLarge:
	case e.Op == check.Div:
		what = "division by zero"
	case e.Op == check.Call && e.Fn.Columns() > 0:
		what = "there is no such row in the table"
	case e.Op == check.Call:
		what = e.Fn.Name + " has no result for this value"
	case e.Op == check.Pow:
		what = "this power has no result"
	case e.Op == check.Fold:
		what = "there is nothing to take it from"
	}
	var values []string
	for _, c := range m.Result.ReadsOf(cause) {
		values = append(values, m.CellName(c)+" = "+m.CellText(c))
	}
	if len(values) > 0 {
		what += ", with " + strings.Join(values, ", ")
	}
	return what
}

// FormulaAt is the formula that computes a cell, nil for a given value.
func (m *Model) FormulaAt(c eval.Cell) *decl.Formula {
	q := c.Quantity
	steps := q.StepsOf(c.Row)
	if q.Start != nil && steps[len(steps)-1] < 0 {
		return q.Quantity.Start
	}
	if q.Formula != nil {
		return q.Formula
	}
	return q.OwnFormula(c.Item)
}

// CellText is a cell's value with its unit.
func (m *Model) CellText(c eval.Cell) string {
	if c.Quantity.Type == decl.Points {
		return "a table"
	}
	return m.Text(c.Quantity, m.Result.At(c.Quantity, c.Item, c.Row))
}
