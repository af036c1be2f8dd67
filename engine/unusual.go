package engine

import (
	"fmt"
	"slices"
	"strings"

	"bankwright/engine/check"
	"bankwright/engine/decl"
	"bankwright/engine/diag"
	"bankwright/engine/eval"
	"bankwright/engine/unit"
)

const (
	mostUnusual = 3 // items of which one quantity is told to be unusual
	mostInputs  = 4 // inputs that are named beside the first
)

// unusual warns of computed values outside the usual range of their quantity:
// something that they come from may be a slip. Inputs were judged when they were
// read. Neither what comes from one of which that was told is told again, nor what
// comes from all inputs that a warning names already. 0 is not judged: it is written
// where there is none.
func (m *Model) unusual(told diag.List) (list diag.List) {
	known := map[diag.Pos]bool{}
	for _, d := range told {
		known[d.At] = true
	}
	count, last := map[*check.Quantity]int{}, map[*check.Quantity]int{}
	var named [][]givenCell // by the warnings so far
	judged := func(q *check.Quantity) bool { return q.UsualMin != nil && q.UsualMax != nil }
	m.eachCell(judged, func(c eval.Cell, v float64) {
		q := c.Quantity
		if plain := q.Value == nil && q.Own[c.Item] == nil; plain || v != v || v == 0 || !q.IsUnusual(v) {
			return
		}
		from := m.givenFor(c)
		if slices.ContainsFunc(from, func(g givenCell) bool { return known[g.at] }) || coversAny(from, named) {
			return
		}
		named = append(named, from)
		if count[q]++; count[q] <= mostUnusual {
			last[q] = len(list)
			list.Add(m.unusualCell(c, v, from))
		}
	})
	for q, n := range count {
		if more := n - mostUnusual; more > 0 {
			list[last[q]].Summary += "; so it is for " + unit.Counted(more, "more "+strings.ReplaceAll(q.Kind.Name, "_", " "), "more "+q.Kind.Plural)
		}
	}
	return list
}

// coversAny reports whether all of the inputs of one list at least are among some.
func coversAny(some []givenCell, lists [][]givenCell) bool {
	places := map[diag.Pos]bool{}
	for _, g := range some {
		places[g.at] = true
	}
	return slices.ContainsFunc(lists, func(list []givenCell) bool {
		return len(list) > 0 && !slices.ContainsFunc(list, func(g givenCell) bool { return !places[g.at] })
	})
}

// unusualCell is the warning for one computed value.
func (m *Model) unusualCell(c eval.Cell, v float64, from []givenCell) diag.Diagnostic {
	q := c.Quantity
	money := m.Model.Currency
	d := diag.Diagnostic{Code: "unusual", Severity: diag.Warning, At: q.At,
		Summary: fmt.Sprintf("%s comes to %s, where %s to %s is usual", m.CellName(c), m.beside(q, v),
			unit.InCurrency(q.UsualMin.Written, money), unit.InCurrency(q.UsualMax.Written, money))}
	f := m.FormulaAt(c)
	d.Mend = "It is " + strings.TrimSpace(f.Text) + ". Look for a slip in what it comes from."
	if q.Value == nil {
		d.At = f.At
	} else if len(from) > 0 {
		d.At, from = from[0].at, from[1:]
	}
	for _, g := range from[:min(len(from), mostInputs)] {
		d.Related = append(d.Related, diag.Related{At: g.at, Text: "it comes from " + m.CellName(g.cell) + " as well"})
	}
	d.Related = append(d.Related, q.UsualPlace())
	return d
}

// beside is a value in the unit in which the usual range of its quantity is written.
func (m *Model) beside(q *check.Quantity, v float64) string {
	_, u, err := unit.ParseValue(q.UsualMin.Written)
	if err != nil || u.Dim != q.Unit.Dim {
		u = q.Unit
	}
	return u.Show(v, -1, m.Model.Currency)
}

// givenCell is an input of the scenario and where it stands.
type givenCell struct {
	cell eval.Cell
	at   diag.Pos
}

// givenFor are the inputs of the scenario from which a cell is computed, itself not
// counted and defaults left out, in the order in which formulas name them.
func (m *Model) givenFor(c eval.Cell) []givenCell {
	var out []givenCell
	seen, places := map[eval.Cell]bool{c: true}, map[diag.Pos]bool{}
	var visit func(c eval.Cell)
	visit = func(c eval.Cell) {
		for _, r := range m.Result.Reads(c) {
			if seen[r] {
				continue
			}
			seen[r] = true
			if g := m.given(r); g != nil && !places[g.At] {
				places[g.At] = true
				out = append(out, givenCell{r, g.At})
			}
			if !r.Quantity.Type.Tabular() {
				visit(r)
			}
		}
	}
	visit(c)
	return out
}

// given is what the scenario says of an input, nil where it says nothing.
func (m *Model) given(c eval.Cell) *decl.Given {
	q := c.Quantity
	if q.Value != nil || c.Item >= len(q.Kind.Items) {
		return nil
	}
	if g := q.GivenFor(q.Kind.Items[c.Item]); g != nil && !g.Default {
		return g
	}
	return nil
}
