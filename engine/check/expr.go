package check

import (
	"strings"

	"bankwright/engine/decl"
	"bankwright/engine/formula"
	"bankwright/engine/unit"
)

// expr gives a node its meaning. A part that cannot be understood is reported
// once and has the unknown type, which fits everywhere.
func (s *scope) expr(n *formula.Node) *Expr {
	switch n.Kind {
	case formula.Number:
		e := &Expr{Op: Literal, At: n.At, Type: decl.Number, Num: n.Num, Dim: unit.None}
		if n.Num == 0 {
			e.Dim = unit.Any
		}
		return e
	case formula.Truth:
		return &Expr{Op: Literal, At: n.At, Type: decl.Boolean, Num: n.Num}
	case formula.Text:
		return &Expr{Op: Literal, At: n.At, Type: decl.Text, Num: s.c.text(n.Text)}
	case formula.Name:
		e := s.name(n)
		s.readable(e)
		if e.ofRecording() && e.Type != unknownType {
			s.c.problem(s.f, n.At, "table", "Take one value of it, such as its mean over time: time_mean("+strings.Join(n.Path, ".")+").", "a column of a recording is not one value")
			return bad(n)
		}
		if e.Op == Column && e.Type != unknownType {
			s.c.problem(s.f, n.At, "table", "Columns stand in interpolate, lookup, at_least, entry or len.", "a column of a table is not one value")
			e.Type = unknownType
		}
		return e
	case formula.Unary:
		return s.unary(n)
	case formula.Binary:
		return s.binary(n)
	case formula.Cond:
		return s.cond(n)
	case formula.Each:
		return s.items(n)
	}
	return s.call(n)
}

// bad is a part that has been reported.
func bad(n *formula.Node) *Expr {
	return &Expr{Op: Literal, At: n.At, Type: unknownType, Dim: unit.Any}
}

// typed checks that e is of type t; unknown passes.
func (s *scope) typed(e *Expr, t decl.Type, role string) bool {
	if e.Type == t || e.Type == unknownType {
		return true
	}
	s.c.problem(s.f, e.At, "wrong-kind", typeMend(t, e), "%s must be %s, but this is %s", role, typePhrase(t), valuePhrase(e))
	return false
}

func (s *scope) unary(n *formula.Node) *Expr {
	arg := s.expr(n.Args[0])
	if n.Op == "not" {
		if !s.typed(arg, decl.Boolean, "what stands behind not") {
			return bad(n)
		}
		return &Expr{Op: Not, At: n.At, Type: decl.Boolean, Args: []*Expr{arg}}
	}
	if !s.typed(arg, decl.Number, "what has a sign") {
		return bad(n)
	}
	if arg.Dim.IsPoint() {
		s.c.problem(s.f, n.At, "unit", "Subtract another temperature from it first, which gives a difference.", "a temperature cannot change its sign; only differences can")
		return bad(n)
	}
	return &Expr{Op: Neg, At: n.At, Type: decl.Number, Dim: arg.Dim, Args: []*Expr{arg}}
}

var binaryOps = map[string]Op{
	"+": Add, "-": Sub, "*": Mul, "/": Div, "**": Pow, "==": Eq, "!=": Ne,
	"<": Lt, "<=": Le, ">": Gt, ">=": Ge, "and": And, "or": Or, "??": Else,
}

func (s *scope) binary(n *formula.Node) *Expr {
	op := binaryOps[n.Op]
	a, b := s.expr(n.Args[0]), s.expr(n.Args[1])
	e := &Expr{Op: op, At: n.At, Type: decl.Number, Args: []*Expr{a, b}}
	switch op {
	case And, Or:
		e.Type = decl.Boolean
		if !s.typed(a, decl.Boolean, "each side of "+n.Op) || !s.typed(b, decl.Boolean, "each side of "+n.Op) {
			return bad(n)
		}
		return e
	case Eq, Ne, Lt, Le, Gt, Ge:
		return s.comparison(n, e)
	case Else:
		return s.replacement(n, e)
	}
	if !s.typed(a, decl.Number, "each side of "+n.Op) || !s.typed(b, decl.Number, "each side of "+n.Op) {
		return bad(n)
	}
	if a.Type == unknownType || b.Type == unknownType {
		return bad(n)
	}
	var ok bool
	if e.Dim, ok = s.arithmetic(n, op, a, b); !ok {
		return bad(n)
	}
	return e
}

// arithmetic is the dimension of a op b, reported where there is none.
func (s *scope) arithmetic(n *formula.Node, op Op, a, b *Expr) (unit.Dim, bool) {
	switch op {
	case Add, Sub:
		combine, verb := unit.Add, "added to"
		if op == Sub {
			combine, verb = unit.Sub, "subtracted from"
		}
		d, ok := combine(a.Dim, b.Dim)
		if !ok {
			mend := s.pairMend(a, b)
			if mend == "" || a.Dim.IsPoint() || b.Dim.IsPoint() {
				mend = "A temperature minus a temperature is a difference, a temperature plus a difference is a temperature; nothing else is done with temperatures."
			}
			first, second := b.Dim, a.Dim
			s.c.problem(s.f, n.At, "unit", mend, "%s cannot be %s %s", first.Describe(), verb, second.Describe())
		}
		return d, ok
	case Mul, Div:
		combine := unit.Mul
		if op == Div {
			combine = unit.Div
		}
		d, ok := combine(a.Dim, b.Dim)
		if !ok {
			s.c.problem(s.f, n.At, "unit", "Use a difference of temperatures.", "a temperature cannot be multiplied or divided")
		}
		return d, ok
	}
	return s.power(n, a, b)
}

// power is the dimension of a ** b: the exponent has no unit, and is a literal
// where the base has one.
func (s *scope) power(n *formula.Node, a, b *Expr) (unit.Dim, bool) {
	if _, ok := unit.Fit(unit.None, b.Dim); !ok {
		s.c.problem(s.f, b.At, "unit", "Divide it by a value of its own unit first.", "an exponent has no unit, but this is %s", b.Dim.Describe())
		return unit.Any, false
	}
	if a.Dim.IsNone() || a.Dim.IsAny() {
		return a.Dim, true
	}
	exponent, ok := literal(b)
	if ok && exponent == 0.5 {
		if d, ok := unit.Root(a.Dim, 2); ok {
			return d, true
		}
	}
	if !ok || exponent != float64(int(exponent)) {
		s.c.problem(s.f, b.At, "unit", "Write a whole number, or divide the base by one of its own unit first.", "%s can only be raised to a number written out here", a.Dim.Describe())
		return unit.Any, false
	}
	d, ok := unit.Pow(a.Dim, int(exponent))
	if !ok {
		s.c.problem(s.f, n.At, "unit", "Use a smaller power, or divide the base by one of its own unit first.", "%s cannot be raised to that power", a.Dim.Describe())
	}
	return d, ok
}

// literal is the value of a number written out, with or without a sign.
func literal(e *Expr) (float64, bool) {
	if e.Op == Literal && e.Type == decl.Number {
		return e.Num, true
	}
	if e.Op == Neg {
		v, ok := literal(e.Args[0])
		return -v, ok
	}
	return 0, false
}

func (s *scope) comparison(n *formula.Node, e *Expr) *Expr {
	a, b := e.Args[0], e.Args[1]
	e.Type = decl.Boolean
	switch {
	case a.Type == unknownType || b.Type == unknownType:
		return bad(n)
	case a.Type != b.Type:
		s.c.problem(s.f, n.At, "wrong-kind", "Compare a number with a number, a text with a text.", "%s cannot be compared with %s", valuePhrase(a), valuePhrase(b))
		return bad(n)
	case a.Type != decl.Number && e.Op != Eq && e.Op != Ne:
		s.c.problem(s.f, n.At, "wrong-kind", "Write == or !=.", "only numbers have an order")
		return bad(n)
	}
	if a.Type == decl.Text && !s.comparable(a, b) || a.Type == decl.Text && !s.comparable(b, a) {
		return bad(n)
	}
	if _, ok := unit.Fit(a.Dim, b.Dim); a.Type == decl.Number && !ok {
		s.c.problem(s.f, n.At, "unit", s.pairMend(a, b), "%s is compared with %s", a.Dim.Describe(), b.Dim.Describe())
		return bad(n)
	}
	return e
}

// comparable checks that a text written out is one of the choices of what it is
// compared with: otherwise the comparison could never be true.
func (s *scope) comparable(a, b *Expr) bool {
	if a.Op != Literal || b.Op != Read || len(b.Ref.Target.Choices) == 0 {
		return true
	}
	t := s.c.prog.Texts[int(a.Num)]
	if contains(b.Ref.Target.Choices, t) {
		return true
	}
	s.c.problem(s.f, a.At, "choice", oneOf(t, "They are ", b.Ref.Target.Choices), "\"%s\" is not one of the choices of %s", t, b.Ref.Target.Name)
	return false
}

// replacement is a ?? b: a stands for an input that may be absent.
func (s *scope) replacement(n *formula.Node, e *Expr) *Expr {
	a, b := e.Args[0], e.Args[1]
	if a.Type == unknownType || b.Type == unknownType {
		return bad(n)
	}
	if a.Op != Read {
		s.c.problem(s.f, a.At, "absent", "Write it directly behind the name of an optional input: (name ?? 0).", "?? replaces an optional input, not a calculation")
		return bad(n)
	}
	return s.alternatives(n, e, a, b)
}

func (s *scope) cond(n *formula.Node) *Expr {
	c, a, b := s.expr(n.Args[0]), s.expr(n.Args[1]), s.expr(n.Args[2])
	if !s.typed(c, decl.Boolean, "what stands before ?") {
		return bad(n)
	}
	if a.Type == unknownType || b.Type == unknownType {
		return bad(n)
	}
	return s.alternatives(n, &Expr{Op: If, At: n.At, Args: []*Expr{c, a, b}}, a, b)
}

// alternatives checks that both values that e may have are alike.
func (s *scope) alternatives(n *formula.Node, e, a, b *Expr) *Expr {
	if a.Type != b.Type {
		s.c.problem(s.f, n.At, "wrong-kind", "Let both be numbers, or both texts, or both true or false.", "the two values are unlike: %s and %s", valuePhrase(a), valuePhrase(b))
		return bad(n)
	}
	d, ok := unit.Fit(a.Dim, b.Dim)
	if a.Type == decl.Number && !ok {
		s.c.problem(s.f, n.At, "unit", s.pairMend(a, b), "the two values are unlike: %s and %s", a.Dim.Describe(), b.Dim.Describe())
		return bad(n)
	}
	e.Type, e.Dim = a.Type, d
	return e
}
