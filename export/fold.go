package export

import (
	"bankwright/engine/check"
	"bankwright/engine/decl"
	"bankwright/engine/unit"
)

// fold translates an aggregate.
func (s *scope) fold(e *check.Expr) term {
	spec := e.Fold
	switch {
	case spec.Kind == check.Length:
		c := s.column(e.Args[0])
		count := "COUNT("
		if e.Args[0].Type == decl.Text {
			count = "COUNTA("
		}
		return term{text: join(count, c.text, ")"), prec: precAtom, needs: c.needs}
	case spec.Items != nil:
		return s.items(e)
	case spec.Kind == check.First || spec.Kind == check.Last:
		return s.end(e)
	}
	return s.steps(e)
}

// combine is the aggregate of cells in unit u. None of the cells is without a
// value unless want tells how many have one when nothing is missing.
func combine(kind check.FoldKind, r *ref, want text, u unit.Unit) term {
	out := term{prec: precAtom}
	if kind == check.Deviation {
		out.needs = fewer(r, 2)
	}
	yes, no := r.as("COUNTIF({r},TRUE)"), r.as("COUNTIF({r},FALSE)")
	switch kind {
	case check.Count:
		out.text = cell(yes)
	case check.Any:
		out.text, out.prec = join(yes, ">0"), precCompare
	case check.All:
		out.text, out.prec = join(no, "=0"), precCompare
	default:
		out.text = join(numeric[kind]+"(", r, ")")
		if kind == check.Deviation {
			u.Zero = 0 // of temperatures it is a difference
		}
		out = toBase(out, u)
	}
	if want == nil {
		return out
	}
	few := join(r.as(`SUMPRODUCT(--({r}<>""))`), "<", want)
	switch kind {
	case check.Any:
		few = join("IF(", yes, ">0,FALSE,", few, ")")
	case check.All:
		few = join("IF(", no, ">0,FALSE,", few, ")")
	case check.Count:
	default:
		few = join("COUNT(", r, ")<", want)
	}
	out.needs = append(out.needs, few)
	return out
}

// fewer is the condition that fewer than n cells hold a number.
func fewer(r *ref, n int) []text {
	return []text{join("COUNT(", r, ")<="+number(float64(n-1)))}
}

var numeric = map[check.FoldKind]string{check.Sum: "SUM", check.Min: "MIN", check.Max: "MAX", check.Mean: "AVERAGE", check.Deviation: "STDEV"}

// unitOf is the unit that the cells of a number show.
func unitOf(q *check.Quantity) unit.Unit {
	if q.Type == decl.Number {
		return q.Unit
	}
	return unit.One
}

// empty is the aggregate of nothing.
func empty(kind check.FoldKind) term {
	switch kind {
	case check.Any:
		return term{text: lit("FALSE"), prec: precAtom}
	case check.All:
		return term{text: lit("TRUE"), prec: precAtom}
	case check.Sum, check.Count:
		return term{text: lit("0"), prec: precAtom}
	}
	return term{text: lit(`""`), prec: precAtom, needs: []text{lit("TRUE")}}
}

// items translates an aggregate over the items of a kind or of a set.
func (s *scope) items(e *check.Expr) term {
	spec := e.Fold
	if len(spec.Items.Items) == 0 {
		return empty(spec.Kind)
	}
	body := e.Args[0]
	if body.Op == check.Read && body.Ref.Origin == check.Each {
		single := len(body.Ref.Hops) == 0 || len(body.Ref.Target.Axes) == 0
		if spec.Set == nil && single {
			return s.across(e)
		}
		summed := spec.Kind == check.Sum || spec.Kind == check.Count
		if spec.Set != nil && single && summed && !body.MayBeAbsent() && !hopAbsent(spec.Set.Hops) {
			return s.members(e)
		}
	}
	return s.itemByItem(e)
}

// across is an aggregate of a quantity of all items: of one row.
func (s *scope) across(e *check.Expr) term {
	all := *s
	all.each = eachAll
	c := all.cells(e.Args[0].Ref, nil)
	var want text
	if e.Args[0].MayBeAbsent() {
		want = join("COLUMNS(", c, ")")
	}
	return combine(e.Fold.Kind, c, want, unitOf(e.Args[0].Ref.Target))
}

// eachAll stands for all items in scope.each.
const eachAll = all

// members is a sum or a count over a set: the row of the values times the
// column of memberships.
func (s *scope) members(e *check.Expr) term {
	inner := *s
	inner.each = eachAll
	row := cell(inner.cells(e.Args[0].Ref, nil))
	set := s.membership(e.Fold.Set)
	if e.Fold.Kind == check.Count {
		row = join("--", row)
	}
	t := term{text: join("SUMPRODUCT(MMULT(", row, ",--", set, "))"), prec: precAtom}
	if e.Fold.Kind == check.Sum {
		return toBase(t, unitOf(e.Args[0].Ref.Target))
	}
	return t
}

// membership is the column that tells which items are in a set.
func (s *scope) membership(r *check.Ref) *ref {
	c := &ref{to: s.pl.place(r.Target), last: len(r.Target.To.Items) - 1}
	s.reachSet(c, r)
	return c
}

func (s *scope) reachSet(c *ref, r *check.Ref) {
	if len(r.Hops) == 0 {
		s.from(c, r)
		return
	}
	pos := &ref{to: s.pl.position(r.Kind, r.Hops)}
	s.from(pos, r)
	c.item, c.index = all, cell(pos)
}

// absent marks a value that is missing, in workings where empty means that an
// item is no member.
const absent = `"absent"`

// itemByItem works the body out for each item in lines of their own.
func (s *scope) itemByItem(e *check.Expr) term {
	spec := e.Fold
	n := len(spec.Items.Items)
	may := e.Args[0].MayBeAbsent()
	forms := make([]text, n)
	labels := make([]string, n)
	for j, it := range spec.Items.Items {
		inner := *s
		inner.each = j
		body := inner.term(e.Args[0])
		t := body.text
		if may && len(body.needs) > 0 {
			t = join("IF(OR(", list(body.needs), "),", absent, ",", t, ")")
		}
		if spec.Set != nil {
			m := &ref{to: s.pl.place(spec.Set.Target), row: j}
			s.reachSet(m, spec.Set)
			member := cell(m)
			if hopAbsent(spec.Set.Hops) {
				member = join("IF(", m.index, `="",FALSE,`, m, ")")
			}
			t = join("IF(", member, ",", t, `,"")`)
		}
		forms[j] = t
		labels[j] = itemLabel(it)
	}
	work := line{labels: labels, look: Computed, truth: e.Args[0].Type == decl.Boolean, step: func(_, j int) text { return forms[j] }}
	if e.Args[0].Type == decl.Number {
		work.unit = s.pl.unitName(baseUnit(e.Args[0].Dim))
	}
	series := len(s.page.axes) > 0
	if series {
		work.across = n
	} else {
		work.rows = n
	}
	r := s.same(s.put(e.Args[0], work))
	if r.sub = series; !series {
		r.last = n - 1
	}
	out := combine(spec.Kind, r, nil, unit.One)
	if may {
		missing := join(r.as("COUNTIF({r},"+absent+")"), ">0")
		switch spec.Kind {
		case check.Any:
			missing = join("IF(", r.as("COUNTIF({r},TRUE)"), ">0,FALSE,", missing, ")")
		case check.All:
			missing = join("IF(", r.as("COUNTIF({r},FALSE)"), ">0,FALSE,", missing, ")")
		}
		out.needs = append(out.needs, missing)
	}
	if spec.Least() == 1 {
		out.needs = append(out.needs, fewer(r, 1)...)
	}
	return out
}
