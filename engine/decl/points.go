package decl

import (
	"cmp"
	"slices"
	"strings"

	"bankwright/engine/diag"
)

// points reads an item's own table: a list for each column, all of the same
// length. The rows are sorted by the first column.
func (l *loader) points(n *node, q *Quantity, scenario bool) ([][]float64, bool) {
	if !l.single(n, q, tableNode, "Write { "+strings.Join(columnNames(q.Columns), " = […], ")+" = […] }.") {
		return nil, false
	}
	names := columnNames(q.Columns)
	ok, misspelt := true, false
	for _, kid := range n.kids {
		if !slices.Contains(names, kid.key) {
			l.diags.Errorf(kid.keyAt, "unknown-key", l.didYouMean(kid.key, names), "`%s` is not a column of `%s`", shorten(kid.key, 60), q.Name)
			ok, misspelt = false, true
		}
	}
	out := make([][]float64, len(q.Columns))
	var first *node
	for i, c := range q.Columns {
		kid := n.get(c.Name)
		if kid == nil {
			if !misspelt {
				l.diags.Errorf(n.at, "missing", "Add "+c.Name+" = […].", "the column `%s` of `%s` is missing", c.Name, q.Name)
			}
			ok = false
			continue
		}
		var good bool
		out[i], good = l.column(kid, q, c, scenario)
		if good && first != nil && len(kid.kids) != len(first.kids) {
			l.diags.Errorf(kid.at, "length", "Give both columns the same number of values.",
				"`%s` has %s, but `%s` has %d", c.Name, count(len(kid.kids), "value"), first.key, len(first.kids))
			good = false
		}
		if first == nil && good {
			first = kid
		}
		ok = ok && good
	}
	if !ok {
		return out, false
	}
	order, ok := l.rising(out, n.get(names[0]))
	for i, c := range q.Columns {
		if ok && c.Falling {
			l.falling(n, q, c, out[i], order)
		}
	}
	return out, ok
}

// falling warns where the values of a column rise with the first one. order
// tells where each row stands in the file.
func (l *loader) falling(n *node, q *Quantity, c Column, values []float64, order []int) {
	first, column := n.get(q.Columns[0].Name).kids, n.get(c.Name).kids
	for i := 1; i < len(values); i++ {
		if !below(values[i-1], values[i]) {
			continue
		}
		a, b := order[i-1], order[i]
		l.diags.Add(diag.Diagnostic{Code: "unusual", Severity: diag.Warning, At: column[b].at,
			Summary: "`" + c.Name + "` rises with `" + q.Columns[0].Name + "`: " + column[a].shown() + " at " + first[a].shown() +
				", but " + column[b].shown() + " at " + first[b].shown(),
			Mend:    "Is that what you mean? Look whether values have changed places.",
			Related: []diag.Related{{At: q.At, Text: "declared here as falling"}}})
		return
	}
}

func (l *loader) column(n *node, q *Quantity, c Column, scenario bool) ([]float64, bool) {
	switch {
	case n.bad:
		return nil, false
	case n.kind != listNode:
		l.diags.Errorf(n.at, "wrong-type", "Write its values between [ and ].", "`%s` is a column, a list of values, not %s", c.Name, n.what())
		return nil, false
	case len(n.kids) == 0:
		l.diags.Errorf(n.at, "missing", "Give at least one value.", "the column `%s` is empty", c.Name)
		return nil, false
	case len(n.kids) > q.MaxRows:
		l.diags.Errorf(n.at, "limit", "Leave some out.", "`%s` has %d values, but at most %d can be used", c.Name, len(n.kids), q.MaxRows)
		return nil, false
	}
	out, ok := make([]float64, len(n.kids)), true
	for i, kid := range n.kids {
		if kid.kind == textNode && isFormula(strings.TrimSpace(kid.text)) {
			l.diags.Errorf(kid.at, "formula", "Write the value itself.", "a formula cannot stand in a table")
			ok = false
			continue
		}
		v, good := l.number(kid, c.Unit, c.Name, scenario)
		good = good && l.between(kid, c.Name, c.Unit, q.At, v, c.Min, c.Max, scenario)
		out[i], ok = v, ok && good
	}
	return out, ok
}

// rising sorts rows by the first column and reports whether its values differ;
// order is the row of the file that each row was.
func (l *loader) rising(columns [][]float64, first *node) (order []int, ok bool) {
	order = make([]int, len(columns[0]))
	for i := range order {
		order[i] = i
	}
	slices.SortStableFunc(order, func(a, b int) int { return cmp.Compare(columns[0][a], columns[0][b]) })
	for i := 1; i < len(order); i++ {
		if a, b := order[i-1], order[i]; !below(columns[0][a], columns[0][b]) {
			l.diags.Errorf(first.kids[max(a, b)].at, "points", "Give one row for each value of the first column.",
				"`%s` has the value %s twice", first.key, first.kids[max(a, b)].shown())
			return nil, false
		}
	}
	for c, column := range columns {
		sorted := make([]float64, len(order))
		for i, from := range order {
			sorted[i] = column[from]
		}
		columns[c] = sorted
	}
	return order, true
}
