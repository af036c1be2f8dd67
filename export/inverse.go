package export

import "bankwright/engine/check"

// inverseLine is the place of a set that is the inverse of a reference, on the
// page of its kind's rules: a row for each item of the other kind, TRUE below
// the item that it refers to.
func (pl *plan) inverseLine(q *check.Quantity, l line) *line {
	l.rows = len(q.To.Items)
	for _, it := range q.To.Items {
		l.labels = append(l.labels, labelOf(q)+": "+itemLabel(it))
	}
	l.step = func(_, row int) text {
		return join(&ref{to: pl.place(q.Inverse), item: row}, "=", &ref{to: pl.names[q.Kind], item: own})
	}
	return pl.newLine(pl.rulePage(q.Kind), l)
}
