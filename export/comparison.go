package export

import (
	"bankwright/engine/check"
	"bankwright/engine/decl"
)

// comparison of numbers snaps as the engine's does: what differs by less than
// the tolerance is equal.
func (s *scope) comparison(e *check.Expr) term {
	a, b := s.scaled(e.Args[0]), s.scaled(e.Args[1])
	needs := needing(a, b)
	if e.Args[0].Type == decl.Text {
		if isChoice(e) {
			sign := map[check.Op]string{check.Eq: "=", check.Ne: "<>"}[e.Op]
			return term{text: join(a.text, sign, b.text), prec: precCompare, needs: needs}
		}
		t := join("EXACT(", a.text, ",", b.text, ")")
		if e.Op == check.Ne {
			t = join("NOT(", t, ")")
		}
		return term{text: t, prec: precAtom, needs: needs}
	}
	op := operators[e.Op].sign
	exact := wholeNumber(e.Args[0]) && wholeNumber(e.Args[1])
	if e.Args[0].Type != decl.Number || exact || isZero(e.Args[0]) || isZero(e.Args[1]) {
		// whole numbers of things that are counted need no margin, and a factor changes no sign
		return term{text: join(a.paren(precJoin), op, b.paren(precJoin)), prec: precCompare, needs: needs}
	}
	shared(&a, &b) // of both sides, it changes nothing
	return term{text: s.snapped(e, a, b), prec: precCompare, needs: needs}
}

// isChoice reports whether texts are one of a list of choices and one that is written out:
// such texts differ in more than how large their letters are, by which most programs do not
// tell texts apart.
func isChoice(e *check.Expr) bool {
	a, b := e.Args[0], e.Args[1]
	if a.Op == check.Literal {
		a, b = b, a
	}
	return a.Op == check.Read && len(a.Ref.Target.Choices) > 0 && b.Op == check.Literal
}

// snapped compares numbers with a margin: the tolerance of one of them, which is written
// twice. Where they are that close it makes no difference of which; it is the shorter.
func (s *scope) snapped(e *check.Expr, a, b term) text {
	x, y := a.paren(precSum), b.paren(precProduct)
	op := operators[e.Op].sign
	left := e.Args[1].Op != check.Literal && (e.Args[0].Op == check.Literal || a.text.length(s.page) < b.text.length(s.page))
	of, t := e.Args[1], b
	if left {
		of, t = e.Args[0], a
	}
	if e.Op == check.Eq || e.Op == check.Ne {
		t = s.short(of, t)
		margin := lit("tolerance")
		if !isOne(of) {
			margin = join(margin, "*", size(of, t))
		}
		if left {
			x = t.paren(precSum)
		} else {
			y = t.paren(precProduct)
		}
		if e.Op == check.Eq {
			return join("ABS(", x, "-", y, ")<=", margin)
		}
		return join("ABS(", x, "-", y, ")>", margin)
	}
	// The margin moves the bound to where equal numbers fall on the right side of it.
	sign := "+"
	if (e.Op == check.Lt || e.Op == check.Ge) != left {
		sign = "-"
	}
	var bound text
	switch {
	case isOne(of):
		bound = lit("(1" + sign + "tolerance)")
	case nonNegative(of):
		bound = join(t.paren(precProduct), "*(1"+sign+"tolerance)")
	default:
		t = s.short(of, t)
		bound = join(t.paren(precSum), sign+"tolerance*", size(of, t))
	}
	if left {
		return join(bound, op, b.paren(precSum))
	}
	return join(a.paren(precSum), op, bound)
}

func isOne(e *check.Expr) bool { return e.Op == check.Literal && e.Num == 1 }

func isZero(e *check.Expr) bool { return e.Op == check.Literal && e.Num == 0 }

// size is the text of a number without its sign.
func size(e *check.Expr, t term) text {
	if e.Op == check.Literal && e.Num >= 0 {
		return t.text
	}
	return join("ABS(", t.text, ")")
}
