package export

import (
	"bankwright/engine/check"
	"bankwright/engine/decl"
	"bankwright/engine/unit"
)

// Precedence of spreadsheet operators, the weakest first. A sign binds tighter
// than a power there, which reads wrongly to most people: a signed term always
// gets parentheses beside anything but + and -.
const (
	precAny     = iota
	precCompare // = < >
	precJoin    // &
	precSum     // + -, and a leading sign
	precProduct // * /
	precPower   // ^
	precAtom    // a cell, a number, a call
)

// term is a translated expression, in base units once the factors that wait are
// written behind its text: see plain.
type term struct {
	text     text
	prec     int
	needs    []text   // conditions that hold where a value is missing that it cannot do without
	mul, div []string // factors of units that wait
}

// scope is where a formula stands in the workbook.
type scope struct {
	pl   *plan
	kind *check.Kind  // whose items the columns are
	axes []*decl.Axis // of the steps in the rows; none for a scalar
	page *page
	src  string           // the formula's text, to label workings with
	each int              // the item of the aggregate around, where it is worked out item by item
	add  func(line) *line // puts a line of workings in front of the quantity
	lift func(e *check.Expr) *line
	keep func(*line) // puts a line of workings in its place, once it is known that it stays
	fit  *fitting
	path []guard // what must hold for the current part to be needed
}

// guard is a condition on the way to a part of a formula.
type guard struct {
	cond term
	of   *check.Expr // what the condition says, or nil
	not  bool
}

func (s *scope) with(g guard) *scope {
	t := *s
	t.path = append(append([]guard{}, s.path...), g)
	return &t
}

// paren is the text as an operand of an operator of precedence prec.
func (t term) paren(prec int) text {
	if t.prec < prec {
		return join("(", t.text, ")")
	}
	return t.text
}

// needing merges what terms cannot do without.
func needing(terms ...term) []text {
	var out []text
	seen := map[string]bool{}
	for _, t := range terms {
		for _, n := range t.needs {
			if k := n.key(); !seen[k] {
				seen[k] = true
				out = append(out, n)
			}
		}
	}
	return out
}

// guarded is the text, empty where a value that it needs is missing.
func guarded(t text, needs []text) text {
	if len(needs) > mostNeeds {
		return join("IF(OR(", list(needs), `),"",`, t, ")")
	}
	for i := len(needs) - 1; i >= 0; i-- {
		t = join("IF(", needs[i], `,"",`, t, ")")
	}
	return t
}

// mostNeeds is how many conditions are looked at one by one. An error value in
// a later one then does no harm, as in the engine, where the first value that
// is missing decides.
const mostNeeds = 8

// whole is the formula of a cell that shows e in unit out.
func (s *scope) whole(e *check.Expr, out *unit.Unit) text {
	if e.Op == check.Nothing {
		return lit(`""`)
	}
	t := s.tail(e, out)
	return guarded(t.text, s.bundled(e, s.open(t.needs)))
}

// open are the needs that no condition on the way here has looked at.
func (s *scope) open(needs []text) []text {
	var out []text
	for _, n := range needs {
		known := false
		for _, g := range s.path {
			for _, m := range g.cond.needs {
				known = known || m.key() == n.key()
			}
		}
		if !known {
			out = append(out, n)
		}
	}
	return out
}

// tail translates what a cell shows as it is: here, and only here, the arms of
// a choice may be without a value.
func (s *scope) tail(e *check.Expr, out *unit.Unit) term {
	if s.isApart(e) {
		return s.shown(e, s.lifted(e), out)
	}
	return s.measured(e, s.tailOf(e, out))
}

// shown is a term of base units in unit out, if e is a number.
func (s *scope) shown(e *check.Expr, t term, out *unit.Unit) term {
	if out != nil && e.Type == decl.Number {
		return fromBase(t, *out)
	}
	return t.plain()
}

func (s *scope) tailOf(e *check.Expr, out *unit.Unit) term {
	switch e.Op {
	case check.If:
		c := s.term(e.Args[0])
		yes := s.with(guard{cond: c, of: e.Args[0]}).whole(e.Args[1], out)
		no := s.with(guard{cond: c, of: e.Args[0], not: true}).whole(e.Args[2], out)
		return term{text: join("IF(", c.text, ",", yes, ",", no, ")"), prec: precAtom, needs: c.needs}
	case check.Else:
		missing := s.missing(e.Args[0])
		x := s.tail(e.Args[0], out)
		d := s.with(guard{cond: missing}).whole(e.Args[1], out)
		return term{text: join("IF(", missing.text, ",", d, ",", x.text, ")"), prec: precAtom}
	case check.And, check.Or:
		if e.Args[1].MayBeAbsent() {
			return s.lazy(e, func(t *scope, b *check.Expr) text { return t.whole(b, nil) })
		}
	case check.Read:
		if shows(out, e, e.Ref) {
			return handedOn(s.read(e), e.Ref)
		}
	case check.Fold:
		if k := e.Fold.Kind; k == check.First || k == check.Last {
			if r := e.Args[0].Ref; shows(out, e, r) {
				return handedOn(s.endCell(e), r)
			}
		}
	}
	return s.shown(e, s.scaled(e), out)
}

// shows reports whether a value is shown as it stands in the cell where it comes from.
func shows(out *unit.Unit, e *check.Expr, r *check.Ref) bool {
	return e.Type != decl.Number || out != nil && sameScale(*out, r.Target.Unit)
}

// handedOn is a value that a cell shows as another does: where that one has a formula, it is
// empty where there is no value, and nothing need be looked at. A blank cell would be 0.
func handedOn(t term, r *check.Ref) term {
	if r.Target.IsRule() && !r.Prev && !hopAbsent(r.Hops) {
		t.needs = nil
	}
	return t
}

// missing is the condition that a value is missing.
func (s *scope) missing(e *check.Expr) term {
	needs := s.read(e).needs
	switch len(needs) {
	case 0:
		return term{text: lit("FALSE"), prec: precAtom}
	case 1:
		return term{text: needs[0], prec: precCompare}
	}
	return term{text: join("OR(", list(needs), ")"), prec: precAtom}
}

// term translates e as a part of a formula.
func (s *scope) term(e *check.Expr) term { return s.scaled(e).plain() }

// scaled translates e, its factors of units still waiting.
func (s *scope) scaled(e *check.Expr) term {
	if s.isApart(e) {
		return s.lifted(e)
	}
	return s.measured(e, s.termOf(e))
}

func (s *scope) termOf(e *check.Expr) term {
	switch e.Op {
	case check.Literal:
		return s.literal(e)
	case check.Nothing:
		return term{text: lit(`""`), prec: precAtom, needs: []text{lit("TRUE")}}
	case check.Read:
		t := s.read(e)
		if e.Type == decl.Number {
			return toBase(t, e.Ref.Target.Unit)
		}
		return t
	case check.Step:
		return term{text: cell(s.count(e.Axis)), prec: precAtom}
	case check.Neg:
		x := s.scaled(e.Args[0])
		x.text, x.prec = join("-", x.paren(precAtom)), precSum
		return x
	case check.Not:
		x := s.term(e.Args[0])
		return term{text: join("NOT(", x.text, ")"), prec: precAtom, needs: x.needs}
	case check.Add, check.Sub, check.Mul, check.Div, check.Pow:
		return s.arithmetic(e)
	case check.Eq, check.Ne, check.Lt, check.Le, check.Gt, check.Ge:
		return s.comparison(e)
	case check.And, check.Or:
		return s.logic(e)
	case check.If:
		if e.Args[1].MayBeAbsent() || e.Args[2].MayBeAbsent() {
			return s.lifted(e)
		}
		return s.choice(e)
	case check.Else:
		if e.Args[1].MayBeAbsent() {
			return s.lifted(e)
		}
		missing := s.missing(e.Args[0])
		x := s.scaled(e.Args[0])
		d := s.with(guard{cond: missing}).scaled(e.Args[1])
		out := shared(&d, &x)
		out.text, out.prec = join("IF(", missing.text, ",", d.text, ",", x.text, ")"), precAtom
		return out
	case check.Call:
		return s.call(e)
	}
	return s.fold(e)
}

// choice is a part of a formula that is one of two, both of which have values.
func (s *scope) choice(e *check.Expr) term {
	c := s.term(e.Args[0])
	yes := s.with(guard{cond: c, of: e.Args[0]}).scaled(e.Args[1])
	no := s.with(guard{cond: c, of: e.Args[0], not: true}).scaled(e.Args[2])
	if len(yes.needs)+len(no.needs) > 0 {
		return s.tailOf(e, nil)
	}
	out := shared(&yes, &no)
	out.text, out.prec, out.needs = join("IF(", c.text, ",", yes.text, ",", no.text, ")"), precAtom, c.needs
	return out
}

func (s *scope) literal(e *check.Expr) term {
	switch e.Type {
	case decl.Boolean:
		if e.Num != 0 {
			return term{text: lit("TRUE"), prec: precAtom}
		}
		return term{text: lit("FALSE"), prec: precAtom}
	case decl.Text:
		return term{text: lit(quoteText(s.pl.prog.Texts[int(e.Num)])), prec: precAtom}
	}
	if s.lift != nil && e.Num != 0 && e.Num != 1 {
		l := s.fit.lifts[e]
		if l == nil {
			l = s.lift(e)
			s.fit.lifts[e] = l
		}
		return term{text: cell(&ref{to: l, item: own}), prec: precAtom}
	}
	return term{text: lit(number(e.Num)), prec: precAtom}
}

var operators = map[check.Op]struct {
	sign string
	prec int
}{
	check.Add: {"+", precSum}, check.Sub: {"-", precSum},
	check.Mul: {"*", precProduct}, check.Div: {"/", precProduct}, check.Pow: {"^", precPower},
	check.Eq: {"=", 0}, check.Ne: {"<>", 0}, check.Lt: {"<", 0}, check.Le: {"<=", 0}, check.Gt: {">", 0}, check.Ge: {">=", 0},
}

// arithmetic keeps the order of operations of the tree: a right operand of the
// same precedence stands in parentheses, and so do both sides of a power.
func (s *scope) arithmetic(e *check.Expr) term {
	a, b := s.scaled(e.Args[0]), s.scaled(e.Args[1])
	op := operators[e.Op]
	left := op.prec
	var out term
	switch e.Op {
	case check.Add, check.Sub:
		out = shared(&a, &b)
	case check.Mul:
		out = out.times(a.mul, a.div).times(b.mul, b.div)
	case check.Div:
		out = out.times(a.mul, a.div).times(b.div, b.mul)
	case check.Pow:
		left = precAtom
		a, b = a.plain(), b.plain()
	}
	out.text, out.prec, out.needs = join(a.paren(left), op.sign, b.paren(op.prec+1)), op.prec, needing(a, b)
	return out
}

// logic is AND or OR where all parts can always be worked out, and stops at the
// part that decides where they cannot.
func (s *scope) logic(e *check.Expr) term {
	parts := chain(e, e.Op, nil)
	eager := true
	for _, p := range parts[1:] {
		eager = eager && !p.MayBeAbsent() && !canFail(p)
	}
	if eager {
		terms := make([]term, len(parts))
		texts := make([]text, len(parts))
		for i, p := range parts {
			terms[i] = s.term(p)
			texts[i] = terms[i].text
		}
		return term{text: join(logicName(e.Op), "(", list(texts), ")"), prec: precAtom, needs: needing(terms...)}
	}
	if e.Args[1].MayBeAbsent() {
		return s.lifted(e)
	}
	return s.lazy(e, func(t *scope, b *check.Expr) text { return t.term(b).text })
}

func logicName(op check.Op) string {
	if op == check.And {
		return "AND"
	}
	return "OR"
}

// lazy is a and b, or a or b, b being worked out only where a does not decide.
func (s *scope) lazy(e *check.Expr, right func(*scope, *check.Expr) text) term {
	a := s.term(e.Args[0])
	if e.Op == check.And {
		b := right(s.with(guard{cond: a, of: e.Args[0]}), e.Args[1])
		return term{text: join("IF(", a.text, ",", b, ",FALSE)"), prec: precAtom, needs: a.needs}
	}
	b := right(s.with(guard{cond: a, of: e.Args[0], not: true}), e.Args[1])
	return term{text: join("IF(", a.text, ",TRUE,", b, ")"), prec: precAtom, needs: a.needs}
}

// chain is a, b, c of a and b and c.
func chain(e *check.Expr, op check.Op, out []*check.Expr) []*check.Expr {
	if e.Op != op {
		return append(out, e)
	}
	return chain(e.Args[1], op, chain(e.Args[0], op, out))
}

// canFail reports whether working out e may give an error value.
func canFail(e *check.Expr) bool {
	found := false
	e.Walk(func(e *check.Expr) {
		switch e.Op {
		case check.Div, check.Pow, check.Call, check.Fold:
			found = true
		}
	})
	return found
}
