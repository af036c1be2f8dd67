package engine

import (
	"math"
	"strings"

	"bankwright/engine/check"
	"bankwright/engine/decl"
	"bankwright/engine/eval"
	"bankwright/engine/unit"
)

// InSeries are the cells in use of the series of an item that a cell belongs
// to, in order; of a set, those of all items.
func (m *Model) InSeries(c eval.Cell) []eval.Cell {
	var out []eval.Cell
	c.Quantity.EachStep(func(_ []int, row int) {
		cell := eval.Cell{Quantity: c.Quantity, Item: c.Item, Row: row}
		if c.Quantity.Type == decl.Set || m.Result.InUse(cell) {
			out = append(out, cell)
		}
	})
	return out
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

// Sentence fills a sentence's values in for an item. Numbers in one unit have
// the same decimals, so that they can be compared, but for whole ones.
func (m *Model) Sentence(parts []check.Part, item int) string {
	return m.sentence(parts, func(e *check.Expr) float64 { return m.Result.Reach(e, item) })
}

// Line is a line of a drawing with its values filled in, and whether all of them are
// known. Axis is the one that is current, at a step counted from 0; nil where there
// is none.
func (m *Model) Line(parts []check.Part, item int, axis *decl.Axis, step int) (text string, known bool) {
	known = true
	text = m.sentence(parts, func(e *check.Expr) float64 {
		v := m.Result.Evaluate(e, item, axis, step)
		known = known && v == v
		return v
	})
	return text, known
}

// sentence fills in the values that reach gives.
func (m *Model) sentence(parts []check.Part, reach func(*check.Expr) float64) string {
	values := make([]float64, len(parts))
	byUnit := map[string][]float64{} // in the unit shown
	declared := map[string]int{}     // most decimals that a quantity asks for, -1: none does
	for i, p := range parts {
		if p.Read == nil {
			continue
		}
		values[i] = reach(p.Read)
		if q := p.Read.Ref.Target; q.Type == decl.Number {
			most, some := declared[q.Unit.Name]
			if !some || q.Decimals > most {
				declared[q.Unit.Name] = q.Decimals
			}
			byUnit[q.Unit.Name] = append(byUnit[q.Unit.Name], q.Unit.FromBase(values[i]))
		}
	}
	var b strings.Builder
	for i, p := range parts {
		switch q := p.Read; {
		case q == nil:
			b.WriteString(p.Text)
		case q.Ref.Target.Type == decl.Number:
			u := q.Ref.Target.Unit
			decimals := unit.DecimalsTogether(byUnit[u.Name], declared[u.Name])
			if v := u.FromBase(values[i]); decl.IsWhole(v) && q.Ref.Target.Decimals < 0 || len(byUnit[u.Name]) == 1 {
				decimals = q.Ref.Target.Decimals
			}
			b.WriteString(u.Show(values[i], decimals, m.Model.Currency))
		case q.Ref.Target.Type == decl.Text:
			b.WriteString(strings.ReplaceAll(m.Text(q.Ref.Target, values[i]), "_", " "))
		default:
			b.WriteString(m.Text(q.Ref.Target, values[i]))
		}
	}
	return b.String()
}

func nan() float64 { return math.NaN() }

// With is the model with another value of an input, in base units.
func (m *Model) With(input eval.Cell, value float64) *Model {
	change := eval.Change{Quantity: input.Quantity, Item: input.Item, Row: input.Row, Value: value}
	return &Model{Program: m.Program, Result: eval.New(m.Program).Run(change), src: m.src}
}

// WhyMissing says why a cell has no value; nothing where it has one.
func (m *Model) WhyMissing(c eval.Cell) string {
	if v := m.Result.At(c.Quantity, c.Item, c.Row); v == v {
		return ""
	}
	return m.whySentence(m.Result.Why(c))
}
