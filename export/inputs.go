package export

import (
	"slices"

	"strings"

	"bankwright/engine/check"
	"bankwright/engine/decl"
)

// inputLine is the place of an input that is no series: one row, or one for
// each member of a set or each point of a table.
func (pl *plan) inputLine(q *check.Quantity, l line) *line {
	l.look = Input
	switch q.Type {
	case decl.Boolean, decl.Text, decl.Reference:
		l.look = InputText
		if q.Type == decl.Reference && len(q.To.Items) == 0 && q.MayBeAbsent {
			return pl.newLine(pl.inputs, l) // nothing to choose: nothing to show
		}
		if len(q.Choices) > 0 && !slices.ContainsFunc(q.Own, func(e *check.Expr) bool { return e != nil }) {
			l.format = textFormat
		}
	case decl.Set:
		l.look = InputText
		if l.rows = len(q.To.Items); l.rows == 0 {
			return pl.newLine(pl.inputs, l) // nothing to be a member: nothing to show
		}
		for _, it := range q.To.Items {
			l.labels = append(l.labels, labelOf(q)+": "+itemLabel(it))
		}
	case decl.Points:
		return pl.pointsLine(q, l)
	case decl.Recording:
		return pl.recordingLine(q, l)
	}
	l.data = func(item, row int) Cell {
		return Cell{Value: pl.content(q, item, row), Style: l.look, Format: l.format, Typed: true}
	}
	in := pl.newLine(pl.inputs, l)
	pl.inputs.lines = append(pl.inputs.lines, in)
	return in
}

// inputSeries is the place on the page of inputs where a series is given, a row
// a step; the page of series brings it beside the others. A series that a
// scenario gives by a formula is calculated there and only shown here.
func (pl *plan) inputSeries(q *check.Quantity, block *line) *line {
	l := line{kind: q.Kind, only: own, q: q, label: labelOf(q), unit: block.unit, format: block.format, note: block.note, look: Input, rows: 1}
	if q.Type != decl.Number {
		l.look = InputText
	}
	for _, a := range q.Axes {
		l.rows *= a.Steps
	}
	at := make([][]int, 0, l.rows)
	eachStep(q.Axes, func(steps []int) {
		at = append(at, append([]int(nil), steps...))
		l.labels = append(l.labels, labelOf(q)+": "+stepLabel(q.Axes, steps))
	})
	l.data = func(item, row int) Cell {
		return Cell{Value: pl.content(q, item, q.Row(at[row]...)), Style: l.look, Format: l.format, Typed: true}
	}
	l.step = func(item, row int) text {
		if q.Own[item] == nil {
			return nil
		}
		r := block.page.rowOf(at[row])
		return cell(&ref{to: block, item: own, row: r})
	}
	in := pl.newLine(pl.inputs, l)
	pl.inputs.lines = append(pl.inputs.lines, in)
	return in
}

// eachStep counts through axes, the last fastest. The slice is reused.
func eachStep(axes []*decl.Axis, f func(steps []int)) {
	pg := page{axes: axes}
	pg.eachRow(f)
}

func stepLabel(axes []*decl.Axis, steps []int) string {
	var out []string
	for i, a := range axes {
		out = append(out, stepName(a, steps[i]))
	}
	return strings.Join(out, ", ")
}

// stepName is the name of a step, or the axis with its number.
func stepName(a *decl.Axis, step int) string {
	switch {
	case a.Kind != nil:
		return itemLabel(a.Kind.Items[step])
	case step < len(a.Labels):
		return a.Labels[step]
	}
	return strings.ReplaceAll(a.Name, "_", " ") + " " + number(float64(step+1))
}

func (r *ref) rangeText() string {
	return cell(r).at(spot{page: &page{}})
}
