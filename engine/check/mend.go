package check

import (
	"slices"
	"strings"

	"bankwright/engine/decl"
	"bankwright/engine/formula"
	"bankwright/engine/unit"
)

// What messages propose where types or units do not fit.

// valuePhrase says what a part of a formula gives.
func valuePhrase(e *Expr) string {
	if e.Type == decl.Number && !e.Dim.IsAny() {
		return e.Dim.Describe()
	}
	return typePhrase(e.Type)
}

// typeMend tells how to get a value of type want from e.
func typeMend(want decl.Type, e *Expr) string {
	name := "name"
	if e.Op == Read {
		name = e.Ref.Path
	}
	switch {
	case want == decl.Boolean && e.Type == decl.Number:
		return "Compare it with another value, such as " + name + " > limit."
	case want == decl.Boolean:
		return "Compare it with one of its texts, such as " + name + " == \"text\"."
	case want == decl.Number && e.Type == decl.Boolean:
		return "Choose between two numbers with it: (" + name + " ? 1 : 0)."
	case want == decl.Number:
		return "Choose a number by it: (" + name + " == \"text\" ? 1 : 0)."
	}
	return "Name a text quantity, or write a text between quotes, such as (name > limit ? \"one\" : \"two\")."
}

// pairMend tells how to make the units of two operands fit.
func (s *scope) pairMend(a, b *Expr) string {
	if _, ok := literal(a); ok && a.Dim.IsNone() {
		return s.literalMend(a, b.Dim, b)
	}
	if _, ok := literal(b); ok && b.Dim.IsNone() {
		return s.literalMend(b, a.Dim, a)
	}
	if mend := factorMend(a.Dim, b.Dim); mend != "" {
		return mend
	}
	return "Both must measure the same."
}

// unitMend tells how to give e, the whole of a formula, the dimension of q.
func (s *scope) unitMend(q *Quantity, e *Expr) string {
	if v, ok := literal(e); ok && e.Dim.IsNone() {
		value := unit.Format(v, -1) + " " + q.Unit.In(s.currency())
		if s.item >= 0 {
			return "Write \"" + value + "\", without the equals sign."
		}
		return s.placed(formula.Naming(value))
	}
	if mend := factorMend(q.Dim, e.Dim); mend != "" {
		return mend
	}
	return "A temperature is no difference of temperatures: use the other kind, or change the unit."
}

// argumentMend tells how to make the units of a function's arguments fit.
func (s *scope) argumentMend(e *Expr) string {
	for _, a := range e.Args {
		if _, ok := literal(a); !ok || !a.Dim.IsNone() {
			continue
		}
		for _, b := range e.Args {
			if !b.Dim.IsNone() && !b.Dim.IsAny() {
				return s.literalMend(a, b.Dim, b)
			}
		}
	}
	return "It is " + e.Fn.Doc + "."
}

// literalMend is the mend for a number written into a formula where a value of
// a dimension belongs: that needs a name. beside may show the unit.
func (s *scope) literalMend(number *Expr, want unit.Dim, beside *Expr) string {
	u := unit.Base(want)
	if beside.Op == Read && beside.Ref.Target.Unit.Name != "" {
		u = beside.Ref.Target.Unit
	}
	v, _ := literal(number)
	return s.placed(formula.Naming(unit.Format(v, -1) + " " + u.In(s.currency())))
}

// inScenario reports whether the formula stands in a scenario, not in rules.
func (s *scope) inScenario() bool {
	return slices.ContainsFunc(s.c.prog.Model.Files, func(f *decl.File) bool {
		return s.f != nil && f.Name == s.f.At.File && !f.Rules
	})
}

// currency is in what the file counts in which the formula stands: rules count
// in money.
func (s *scope) currency() string {
	if s.inScenario() {
		return s.c.prog.Model.Currency
	}
	return ""
}

// placed is a mend that names a constant, as the file declares one in which the
// formula stands.
func (s *scope) placed(mend string) string {
	if s.inScenario() {
		return strings.ReplaceAll(mend, "[constant.", "[rules.constant.")
	}
	return mend
}

// plainMend is the mend of a formula that cannot be read; where an item's
// formula is but a value, it needs no formula.
func (s *scope) plainMend(mend string, q *Quantity) string {
	text := strings.TrimSpace(s.f.Text)
	if s.item < 0 || q == nil || q == q.Kind.Keep {
		return s.placed(mend)
	}
	if _, u, err := unit.ParseValue(text); err == nil && u.Name != "" {
		return "Write \"" + text + "\", without the equals sign."
	}
	return s.placed(mend)
}

// subject names what the formula is for.
func (s *scope) subject() string {
	if s.q == nil {
		return "the formula"
	}
	return s.q.Name
}
