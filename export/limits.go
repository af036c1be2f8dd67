package export

import (
	"strings"

	"bankwright/engine/check"
	"bankwright/engine/decl"
	"bankwright/engine/unit"
)

// limit says what may be typed into the cells of an input.
func (pl *plan) limit(s *Sheet, l *line) {
	if l.q == nil || l.rows == 0 {
		return
	}
	put := func(v Validation, from, rows int) {
		v.Range = cellName(l.row+from, l.col) + ":" + cellName(l.row+from+rows-1, l.col+l.items()-1)
		s.Validations = append(s.Validations, v)
	}
	if l.q.Type == decl.Points {
		n := l.q.MaxRows
		for i, c := range l.q.Columns {
			v := Validation{Title: cut(labelOf(l.q), 30)}
			pl.bounds(&v, c.Unit, c.Min, c.Max)
			put(v, i*n, n)
		}
		return
	}
	if v, ok := pl.validation(l.q); ok {
		put(v, 0, l.rows)
	}
}

// validation is the limit on what may be typed into an input's cells.
func (pl *plan) validation(q *check.Quantity) (v Validation, ok bool) {
	v = Validation{Title: cut(labelOf(q), 30), Required: required(q)}
	switch q.Type {
	case decl.Recording:
		return v, false // the name of a file
	case decl.Boolean, decl.Set:
		v.List, v.Error = pl.lists.truths(), "Choose TRUE or FALSE."
	case decl.Text:
		if len(q.Choices) == 0 {
			return v, false
		}
		v.List, v.Error = pl.lists.choices(q), cut("Choose one of: "+strings.Join(q.Choices, ", ")+".", 250)
	case decl.Reference:
		v.List, v.Error = (&ref{to: pl.names[q.To], item: all}).rangeText(), "Choose one of the names in the row "+titleOf(q.To)+"."
		return v, len(q.To.Items) > 0
	case decl.Number:
		v.Whole = q.Whole
		pl.bounds(&v, q.Unit, q.Min, q.Max)
		v.Usual = pl.usual(q)
	}
	return v, true
}

// bounds limits a number to what the rules allow.
func (pl *plan) bounds(v *Validation, u unit.Unit, least, most *decl.Bound) {
	var words []string
	add := func(word string, b *decl.Bound) *float64 {
		if b == nil {
			return nil
		}
		words = append(words, word+unit.InCurrency(b.Written, pl.prog.Model.Currency))
		x := round15(u.FromBase(b.Value))
		return &x
	}
	v.Min, v.Max = add("at least ", least), add("at most ", most)
	v.Error = "A number"
	if v.Whole {
		v.Error = "A whole number"
	}
	if len(words) > 0 {
		v.Error += ", " + strings.Join(words, " and ")
	}
	if pl.unitName(u) != "" {
		v.Error += ", in the unit beside it"
	}
	v.Error += "."
}

// usual is a sentence on what an input usually is, "" where the rules have none.
func (pl *plan) usual(q *check.Quantity) string {
	low, high := q.UsualMin, q.UsualMax
	written := func(b *decl.Bound) string { return unit.InCurrency(b.Written, pl.prog.Model.Currency) }
	switch {
	case low != nil && high != nil:
		return "Usually from " + written(low) + " to " + written(high) + "."
	case low != nil:
		return "Usually " + written(low) + " or more."
	case high != nil:
		return "Usually " + written(high) + " or less."
	}
	return ""
}
