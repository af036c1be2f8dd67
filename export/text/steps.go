package text

import (
	"fmt"
	"io"
	"strings"

	"bankwright/engine"
)

// mostSteps is how many values of a series are told before the last.
const mostSteps = 24

// together stands for a space between words that stay on one line.
const together = "\x01"

// Steps writes the values of the steps in use of the series to which the cell
// belongs that is explained; nothing where it is no series.
func Steps(w io.Writer, m *engine.Model, t *engine.Trace, st Style) {
	q := t.Cell.Quantity
	if len(q.Axes) == 0 {
		return
	}
	name, _, _ := strings.Cut(t.Name, "[")
	var values []string
	for _, c := range m.InSeries(t.Cell) {
		values = append(values, strings.TrimPrefix(m.CellName(c), name)+": "+m.CellText(c))
	}
	var axes []string
	for _, a := range q.Axes {
		axes = append(axes, a.Name)
	}
	head := fmt.Sprintf("%s: %d steps of %s", name, len(values), strings.Join(axes, " and "))
	if len(values) == 1 {
		head = fmt.Sprintf("%s: 1 step of %s", name, strings.Join(axes, " and "))
	}
	fmt.Fprint(w, st.paintLines(bold, indented(head, 0, st.Width)))
	if n := len(values); n > mostSteps {
		rest := fmt.Sprintf("… %d more", n-mostSteps)
		values = append(values[:mostSteps-1:mostSteps-1], rest, values[n-1])
	}
	for i, v := range values {
		values[i] = strings.ReplaceAll(v, " ", together)
	}
	list := strings.ReplaceAll(indented(strings.Join(values, ", "), 2, st.Width), together, " ")
	fmt.Fprintln(w, list)
}

// pointRows writes an item's own table.
func pointRows(w io.Writer, m *engine.Model, t *engine.Trace) {
	q := t.Cell.Quantity
	columns := m.Result.PointsOf(q, t.Cell.Item)
	if len(columns) == 0 {
		return
	}
	var widths []int
	for i, c := range q.Columns {
		n := width(c.Name)
		for _, v := range columns[i] {
			n = max(n, width(c.Unit.Show(v, -1, m.Model.Currency)))
		}
		widths = append(widths, n)
	}
	line := func(cell func(i int) string) {
		s := "  "
		for i := range q.Columns {
			s += padLeft(cell(i), widths[i]) + "  "
		}
		fmt.Fprintln(w, strings.TrimRight(s, " "))
	}
	line(func(i int) string { return q.Columns[i].Name })
	for row := range columns[0] {
		line(func(i int) string { return q.Columns[i].Unit.Show(columns[i][row], -1, m.Model.Currency) })
	}
}
