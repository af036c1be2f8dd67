package export

import "bankwright/engine/check"

// short is t, worked out in a cell of its own where it is long: for texts that
// are used several times.
func (s *scope) short(e *check.Expr, t term) term {
	switch e.Op {
	case check.Literal, check.Step, check.Read:
		return t
	}
	if t.text.refs() <= 1 {
		return t
	}
	return s.lifted(e)
}

// lifted works e out in a line of its own and is that line's cell.
func (s *scope) lifted(e *check.Expr) term {
	inner := s.tail(e, nil)
	l := s.work(excerpt(s.src, e), guarded(inner.text, inner.needs))
	t := term{cell(s.same(l)), precAtom, nil}
	if e.MayBeAbsent() {
		t.needs = []text{join(t.text, `=""`)}
	}
	return t
}

// work adds a line of workings with a formula, which is empty where the part
// that it serves is not needed.
func (s *scope) work(label string, t text) *line {
	for i := len(s.path) - 1; i >= 0; i-- {
		g := s.path[i]
		if g.not {
			t = join("IF(", g.cond.text, `,"",`, t, ")")
		} else {
			t = join("IF(", g.cond.text, ",", t, `,"")`)
		}
		t = guarded(t, g.cond.needs)
	}
	return s.add(line{label: label, look: Computed, step: func(int, int) text { return t }})
}

// excerpt is the part of a formula's text that e was read from.
func excerpt(src string, e *check.Expr) string {
	r := []rune(src)
	from, to := e.At.Start, e.At.Start+e.At.Len
	if from < 0 || to > len(r) || from >= to {
		return "workings"
	}
	return cut(string(r[from:to]), 80)
}
