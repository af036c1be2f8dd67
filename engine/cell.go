package engine

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"bankwright/engine/check"
	"bankwright/engine/decl"
	"bankwright/engine/diag"
	"bankwright/engine/eval"
)

// CellName is the name of a cell on the command line: kind.item.quantity, or
// kind.quantity where there is one item, and [step] or [step,step], counted
// from 1, behind a series (0 is the start).
func (m *Model) CellName(c eval.Cell) string {
	q := c.Quantity
	s := q.Kind.Name + "."
	if q.Kind.Many {
		s += q.Kind.Items[c.Item].Name + "."
	}
	s += q.Name
	if len(q.Axes) == 0 {
		return s
	}
	var steps []string
	for i, n := range q.StepsOf(c.Row) {
		if k := q.Axes[i].Kind; k != nil && n >= 0 {
			steps = append(steps, k.Items[n].Name)
		} else {
			steps = append(steps, strconv.Itoa(n+1))
		}
	}
	return s + "[" + strings.Join(steps, ",") + "]"
}

// Text is a value as people read it, with its unit: "2,765 Wh", "yes", "bus bar".
func (m *Model) Text(q *check.Quantity, v float64) string {
	if v != v {
		return "-"
	}
	switch q.Type {
	case decl.Boolean, decl.Set:
		if v != 0 {
			return "yes"
		}
		return "no"
	case decl.Text:
		return m.Texts[int(v)]
	case decl.Reference:
		return q.To.Items[int(v)].Name
	}
	return q.Unit.Show(v, q.Decimals, m.Model.Currency)
}

// Sentence fills a sentence's values in for an item.
func (m *Model) Sentence(parts []check.Part, item int) string {
	var b strings.Builder
	for _, p := range parts {
		if p.Read == nil {
			b.WriteString(p.Text)
			continue
		}
		b.WriteString(m.Text(p.Read.Ref.Target, m.Result.Reach(p.Read, item)))
	}
	return b.String()
}

// ParseCell finds the cell of a name such as "shelf.oak.price" or
// "shelf.oak.stock[3]"; a series without a step means its first.
func (m *Model) ParseCell(name string) (eval.Cell, *diag.Diagnostic) {
	fail := func(mend, format string, args ...any) (eval.Cell, *diag.Diagnostic) {
		return eval.Cell{}, &diag.Diagnostic{Code: "unknown-name", Summary: fmt.Sprintf(format, args...), Mend: mend}
	}
	path, step, hasStep := strings.Cut(strings.TrimSuffix(name, "]"), "[")
	parts := strings.Split(path, ".")
	k := m.Kind(parts[0])
	if k == nil {
		return fail(diag.DidYouMean(parts[0], m.kindNames()), "there is no kind %s", parts[0])
	}
	rest, item := parts[1:], 0
	if k.Many {
		if len(rest) == 0 || k.Item(rest[0]) < 0 {
			names := k.ItemNames()
			mend := "Its items are " + strings.Join(names, ", ") + "."
			if len(rest) > 0 {
				if n := diag.DidYouMean(rest[0], names); n != "" {
					mend = n
				}
				return fail(mend, "there is no %s named %s", k.Name, rest[0])
			}
			return fail(mend, "say which %s", k.Name)
		}
		item, rest = k.Item(rest[0]), rest[1:]
	}
	if len(rest) != 1 {
		return fail("A cell is named kind.item.quantity, or kind.quantity where there is one item.", "%s is not the name of a cell", name)
	}
	q := k.Quantity(rest[0])
	if q == nil {
		return fail(diag.DidYouMean(rest[0], k.QuantityNames()), "%s has no quantity %s", k.Name, rest[0])
	}
	c := eval.Cell{Quantity: q, Item: item}
	if q.Start != nil {
		c.Row = 1
	}
	if hasStep {
		return m.atStep(c, step, fail)
	}
	return c, nil
}

// atStep moves a cell to the step that is written behind it.
func (m *Model) atStep(c eval.Cell, text string, fail func(mend, format string, args ...any) (eval.Cell, *diag.Diagnostic)) (eval.Cell, *diag.Diagnostic) {
	q := c.Quantity
	words := strings.Split(text, ",")
	if len(words) != len(q.Axes) {
		return fail("", "%s runs over %d axes, but %d steps are given", q.Name, len(q.Axes), len(words))
	}
	var steps []int
	for i, w := range words {
		a := q.Axes[i]
		n := -1
		if a.Kind != nil {
			for j, it := range a.Kind.Items {
				if it.Name == strings.TrimSpace(w) {
					n = j
				}
			}
		}
		if n < 0 {
			v, err := strconv.Atoi(strings.TrimSpace(w))
			low := 1
			if q.Start != nil && i == len(words)-1 {
				low = 0
			}
			if err != nil || v < low || v > a.Steps {
				return fail(fmt.Sprintf("The steps of %s run from %d to %d.", a.Name, low, a.Steps), "%s has no step %s", q.Name, w)
			}
			n = v - 1
		}
		steps = append(steps, n)
	}
	c.Row = q.Row(steps...)
	return c, nil
}

func (m *Model) kindNames() []string {
	var out []string
	for _, k := range m.Kinds {
		out = append(out, k.Name)
	}
	return out
}

func nan() float64 { return math.NaN() }

// ParseQuantity finds the quantity of a name such as "shelf.price"; a cell's
// name is understood as well.
func (m *Model) ParseQuantity(name string) (*check.Quantity, *diag.Diagnostic) {
	parts := strings.Split(name, ".")
	if k := m.Kind(parts[0]); k != nil && len(parts) == 2 {
		if q := k.Quantity(parts[1]); q != nil {
			return q, nil
		}
		return nil, &diag.Diagnostic{Code: "unknown-name", Summary: fmt.Sprintf("%s has no quantity %s", k.Name, parts[1]), Mend: diag.DidYouMean(parts[1], k.QuantityNames())}
	}
	c, problem := m.ParseCell(name)
	return c.Quantity, problem
}
