package engine

import (
	"fmt"
	"strings"

	"bankwright/engine/arith"
	"bankwright/engine/check"
	"bankwright/engine/decl"
	"bankwright/engine/diag"
	"bankwright/engine/eval"
	"bankwright/engine/unit"
)

// Faults are what the values themselves show to be wrong: computed values out
// of their bounds, operations without a result, and axes that are too short. A
// failure is told once, at the cell where it arises, and with it how many
// other cells of the same formula fail likewise; what follows from a value
// that is told to be out of its bounds is not told again.
func (m *Model) Faults() diag.List {
	var list diag.List
	faulty := m.bounds(&list)
	m.spread(faulty)
	follows := m.follower(faulty)
	for _, f := range m.failures() {
		if !follows(f.cause.Cell) {
			list.Add(m.failure(f))
		}
	}
	m.shortAxes(&list)
	return list
}

// eachCell calls f for every cell of some quantities that holds a number, a
// truth, a text or a reference.
func (m *Model) eachCell(of func(q *check.Quantity) bool, f func(c eval.Cell, v float64)) {
	for _, q := range m.Quantities {
		if q.Type.Tabular() || !of(q) {
			continue
		}
		for item := range q.Kind.Items {
			for row := range q.Rows() {
				f(eval.Cell{Quantity: q, Item: item, Row: row}, m.Result.At(q, item, row))
			}
		}
	}
}

// failures are the operations without a result, each formula once.
func (m *Model) failures() []*failed {
	seen := map[eval.Cell]bool{}
	told := map[*check.Expr]*failed{} // by the part that fails
	var order []*failed
	m.Result.EachMissing(func(c eval.Cell) {
		cause := m.Result.Why(c)
		if cause.Reason != eval.Failed || seen[cause.Cell] {
			return
		}
		seen[cause.Cell] = true
		if f := told[cause.Expr]; f != nil {
			f.more++
			return
		}
		told[cause.Expr] = &failed{cause: cause}
		order = append(order, told[cause.Expr])
	})
	return order
}

// follower tells whether a cell is computed, over any number of steps, from
// one of the cells that are at fault.
func (m *Model) follower(faulty map[eval.Cell]bool) func(eval.Cell) bool {
	known := map[eval.Cell]bool{}
	var follows func(c eval.Cell) bool
	follows = func(c eval.Cell) bool {
		if len(faulty) == 0 || c.Quantity.Type.Tabular() {
			return false
		}
		if answer, ok := known[c]; ok {
			return answer
		}
		known[c] = false
		for _, r := range m.Result.Reads(c) {
			if faulty[r] || follows(r) {
				known[c] = true
				break
			}
		}
		return known[c]
	}
	return follows
}

// spread adds to the cells at fault what the rules compute them from, defaults
// left out: where a limit of the rules is broken, what is given is to blame,
// and so for whatever else is computed from it.
func (m *Model) spread(faulty map[eval.Cell]bool) {
	var upstream func(c eval.Cell)
	upstream = func(c eval.Cell) {
		for _, r := range m.Result.Reads(c) {
			q := r.Quantity
			if faulty[r] || q.Type.Tabular() {
				continue
			}
			if g := q.GivenFor(q.Kind.Items[r.Item]); q.Value == nil && (g == nil || g.Default) {
				continue
			}
			faulty[r] = true
			upstream(r)
		}
	}
	var broken []eval.Cell
	for c := range faulty {
		if c.Quantity.Value != nil {
			broken = append(broken, c)
		}
	}
	for _, c := range broken {
		upstream(c)
	}
}

// bounds tells of values that formulas gave and that break their quantity's
// limits, once for each quantity; written ones were checked when they were
// read. It returns all cells that do.
func (m *Model) bounds(list *diag.List) map[eval.Cell]bool {
	faulty := map[eval.Cell]bool{}
	told := map[*check.Quantity]bool{}
	var first []eval.Cell
	limited := func(q *check.Quantity) bool { return q.Whole || q.Min != nil || q.Max != nil }
	m.eachCell(limited, func(c eval.Cell, v float64) {
		q := c.Quantity
		if v == v && (q.Value != nil || q.Own[c.Item] != nil) && m.broken(q, v) != "" {
			faulty[c] = true
			if q.Value == nil || !told[q] {
				told[q] = true
				first = append(first, c)
			}
		}
	})
	follows := m.follower(faulty)
	for _, c := range first {
		if !follows(c) {
			list.Add(m.outOfBounds(c))
		}
	}
	return faulty
}

// broken says which limit of a quantity a value breaks, "" if none.
func (m *Model) broken(q *check.Quantity, v float64) string {
	switch {
	case q.Whole && !decl.IsWhole(v):
		return "but must be a whole number"
	case q.Min != nil && arith.Below(v, q.Min.Value):
		return "below the least that is possible, " + unit.InCurrency(q.Min.Written, m.Model.Currency)
	case q.Max != nil && arith.Below(q.Max.Value, v):
		return "above the most that is possible, " + unit.InCurrency(q.Max.Written, m.Model.Currency)
	}
	return ""
}

// outOfBounds tells of a computed value that breaks a limit: where the
// scenario gives its formula, or else where it gives the first value that
// flows into it; with what it was computed from, and where more of that is given.
func (m *Model) outOfBounds(c eval.Cell) diag.Diagnostic {
	q := c.Quantity
	v := m.Result.At(q, c.Item, c.Row)
	d := diag.Diagnostic{Code: "bounds", Mend: m.comesFrom(c), Summary: fmt.Sprintf("%s comes to %s, %s", m.CellName(c), m.Text(q, v), m.broken(q, v))}
	if q.Otherwise != "" {
		d.Summary, d.Mend = strings.TrimSuffix(q.Otherwise, "."), d.Summary+". "+d.Mend
	}
	from := m.givenFor(c)
	switch {
	case q.Value == nil:
		d.At = q.OwnFormula(c.Item).At
	case len(from) == 0:
		d.At = q.Formula.At
	default:
		d.At, from = from[0].at, from[1:]
		d.Related = []diag.Related{{At: q.Formula.At, Text: "computed here"}}
	}
	for _, g := range from[:min(len(from), mostInputs)] {
		d.Related = append(d.Related, diag.Related{At: g.at, Text: m.CellName(g.cell) + " is given here"})
	}
	return d
}

// comesFrom tells with which values a cell was computed, the first of them.
func (m *Model) comesFrom(c eval.Cell) string {
	var values []string
	for _, r := range m.Result.Reads(c) {
		if !r.Quantity.Type.Tabular() && len(values) < mostInputs {
			values = append(values, m.CellName(r)+" = "+m.CellText(r))
		}
	}
	switch len(values) {
	case 0:
		return "Change the formula."
	case 1:
		return "It comes from " + values[0] + "."
	}
	last := len(values) - 1
	return "It comes from " + strings.Join(values[:last], ", ") + " and " + values[last] + "."
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
		if cause.Expr != nil && cause.Expr.Op == check.Call {
			return m.withValues(cause, m.notRecorded(cause))
		}
		if cause.Expr != nil {
			values := m.Result.ReadsOf(cause)
			if set := cause.Expr.Fold.Set; len(values) == 0 && set != nil && set.Origin == check.Self && len(set.Hops) == 0 {
				return "no " + cause.Expr.Fold.Items.Name + " refers to " + ItemAlias(cause.Cell.Quantity.Kind.Items[cause.Cell.Item])
			}
			return m.withValues(cause, tooFew(cause.Expr.Fold, values))
		}
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
		what = tooFew(e.Fold, nil)
	}
	return m.withValues(cause, what)
}

// tooFew says that an aggregate has not the values that it takes.
func tooFew(spec *check.FoldSpec, values []eval.Cell) string {
	if spec.Kind == check.Deviation && len(values) > 0 {
		return "one value has no spread"
	}
	return "there is nothing to take it from"
}

// withValues adds to what went wrong the values that the part reads.
func (m *Model) withValues(cause eval.Cause, what string) string {
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
	if rec := m.Result.RecordingOf(c.Quantity, c.Item); rec != nil {
		return recordingText(rec)
	}
	if c.Quantity.Type == decl.Recording {
		return "-"
	}
	if c.Quantity.Type == decl.Points {
		return "a table"
	}
	return m.Text(c.Quantity, m.Result.At(c.Quantity, c.Item, c.Row))
}
