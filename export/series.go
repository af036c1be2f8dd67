package export

import (
	"bankwright/engine/check"
	"bankwright/engine/decl"
)

// steps translates an aggregate over the steps of a series.
func (s *scope) steps(e *check.Expr) term {
	r := e.Args[0].Ref
	c := s.cells(r, e.Fold.Over)
	var want text
	if e.Args[0].MayBeAbsent() {
		want = s.expected(e, c)
		if s.fit != nil && want.length(s.page) > mostWant {
			l := s.work(e, "steps in use", want)
			l.format = "0"
			want = cell(s.same(l))
		}
	}
	t := combine(e.Fold.Kind, c, want, unitOf(r.Target))
	if hopAbsent(r.Hops) {
		for i, n := range t.needs {
			t.needs[i] = join("IF(", c.index, `="",TRUE,`, n, ")")
		}
	}
	return t
}

// mostWant is how long it may take to say how many steps are in use.
const mostWant = 70

// expected is how many of the steps that an aggregate collapses are in use: the
// step numbers beside them, counted.
func (s *scope) expected(e *check.Expr, c *ref) text {
	r := e.Args[0].Ref
	counts := c.to.page.counts
	last := len(counts) - 1
	n := *c
	n.to, n.item, n.index = counts[last], 0, nil
	whole := len(e.Fold.Over) == 1 && e.Fold.Over[0] == c.to.page.axes[last]
	limited := false
	for _, a := range e.Fold.Over {
		limited = limited || s.active(r, a) != nil
	}
	switch {
	case !limited:
		return join("COUNT(", &n, ")")
	case whole:
		a := e.Fold.Over[0]
		used := s.used(r, a)
		if hasSteps(r, a) {
			return used
		}
		return join("COUNTIF(", &n, `,"<="&`, used, ")")
	}
	// Steps end on several axes: only a series without any value counts as missing.
	return lit("1")
}

// hasSteps reports whether an axis has all the steps that can ever be in use.
func hasSteps(r *check.Ref, a *decl.Axis) bool {
	return mostOfQuantity(r.Target.Kind.Active[a].Ref.Target) <= float64(a.Steps)
}

// used is how many steps of an axis are in use, as a whole number.
func (s *scope) used(r *check.Ref, a *decl.Axis) text {
	n := s.active(r, a)
	if isCounted(r.Target.Kind.Active[a].Ref.Target) {
		return n.text
	}
	return join("INT(", n.paren(precProduct), "*(1+tolerance))")
}

// active is how many steps of an axis are in use for the item that a reference
// ends at, nil where all are.
func (s *scope) active(r *check.Ref, a *decl.Axis) *term {
	e := r.Target.Kind.Active[a]
	if e == nil {
		return nil
	}
	to := *e.Ref
	if to.Origin == check.Self {
		to = *r
		to.Target, to.Prev = e.Ref.Target, false
	}
	read := *e
	read.Ref = &to
	t := s.term(&read)
	return &t
}

// end translates first and last.
func (s *scope) end(e *check.Expr) term {
	t := s.endCell(e)
	if e.Type == decl.Number {
		return toBase(t, e.Args[0].Ref.Target.Unit)
	}
	return t
}

// endCell is the cell that first or last take, in the unit that it shows.
func (s *scope) endCell(e *check.Expr) term {
	r, over := e.Args[0].Ref, e.Fold.Over
	q := r.Target
	lastAxis := q.Axes[len(q.Axes)-1]
	if q.Type == decl.Set {
		s.pl.fail("first and last of the set %s have no spreadsheet form", r.Path)
		return term{text: lit("FALSE"), prec: precAtom}
	}
	open := map[*decl.Axis]bool{} // axes of which the whole range is kept
	var limit *term
	for _, a := range over {
		n := s.active(r, a)
		if n == nil || e.Fold.Kind == check.First {
			continue
		}
		if a != lastAxis {
			s.pl.fail("last(%s) cannot be written as a spreadsheet: the steps in use of %s are counted, and it is not the last axis", r.Path, a.Name)
		}
		limit, open[a] = n, true
	}
	c := s.cells(r, over)
	c.rows = s.endRows(c.to.page, q, over, open, e.Fold.Kind == check.Last)
	c.which += "end"
	t := term{text: cell(c), prec: precAtom}
	if limit != nil {
		n := s.used(r, lastAxis)
		if !hasSteps(r, lastAxis) {
			n = join("MIN(ROWS(", c, "),", n, ")")
		}
		t.text = join("INDEX(", c, ",", n, ")")
	}
	if e.Args[0].MayBeAbsent() {
		t.needs = []text{join(t.text, `=""`)}
		if hopAbsent(r.Hops) {
			t.needs = []text{join("IF(", c.index, `="",TRUE,`, t.text, `="")`)}
		}
	}
	return t
}

// endRows selects the first or last step of each collapsed axis, and all of
// those that are open.
func (s *scope) endRows(pg *page, q *check.Quantity, over []*decl.Axis, open map[*decl.Axis]bool, last bool) func([]span, []int) []span {
	n := len(q.Axes) - 1
	return func(out []span, steps []int) []span {
		from, to := make([]int, n+1), make([]int, n+1)
		for i, a := range q.Axes {
			switch {
			case !isOver(over, a):
				from[i] = steps[s.axis(a)]
			case last && !open[a]:
				from[i] = a.Steps - 1
			}
			to[i] = from[i]
			if open[a] {
				to[i] = a.Steps - 1
			}
		}
		return append(out, span{pg.rowOf(from), pg.rowOf(to)})
	}
}
