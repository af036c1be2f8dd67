package export

import (
	"slices"
	"strings"

	"bankwright/engine/check"
	"bankwright/engine/formula"
)

// call translates a function of the registry by its spreadsheet form. Each of
// the form's steps becomes a line of workings.
func (s *scope) call(e *check.Expr) term {
	if e.Fn.Measure != nil {
		return s.found(e)
	}
	if e.Fn.Scales {
		return s.scaling(e)
	}
	result := form(e)
	args := map[string]term{}
	var terms []term
	var rest []text
	for i, a := range e.Args {
		name := e.Fn.Params[min(i, len(e.Fn.Params)-1)]
		var t term
		if a.Op == check.Column {
			name = strings.Trim(name, "[]")
			t = s.column(a)
		} else {
			t = s.term(a)
			if uses(e.Fn.Steps, result, name) > 1 {
				t = s.short(a, t)
			}
			rest = append(rest, t.text)
		}
		if i < len(e.Fn.Params) {
			args[name] = t
		}
		terms = append(terms, t)
	}
	args["..."] = term{text: list(rest), prec: precAny}
	needs := needing(terms...)
	for _, st := range e.Fn.Steps {
		t := substitute(st.Text, args)
		l := s.work(e, stepPlain(st.Label), guarded(t, s.bundled(e, s.open(needs))))
		if of := stepUnit(e, st.Label); of >= 0 {
			l.unit = s.pl.unitName(baseUnit(e.Args[of].Dim))
		}
		args["#"+st.Label] = term{text: cell(s.same(l)), prec: precAtom}
	}
	out := term{text: substitute(result, args), prec: precAny, needs: needs}
	if isCall(result) {
		out.prec = precAtom
	}
	return out
}

// form is the spreadsheet form of a call's result, the shortest that holds for its arguments.
func form(e *check.Expr) string {
	numbers := e.Args[e.Fn.Columns():]
	switch {
	case e.Fn.Counted != "" && atLeastOne(numbers[len(numbers)-1]):
		if wholeNumber(numbers[len(numbers)-1]) {
			return e.Fn.Whole
		}
		return e.Fn.Counted
	case e.Fn.Positive != "" && !slices.ContainsFunc(numbers, func(a *check.Expr) bool { return !nonNegative(a) }):
		return e.Fn.Positive
	}
	return e.Fn.Result
}

// scaling translates a function of numbers alone that keeps a factor of all of them.
func (s *scope) scaling(e *check.Expr) term {
	terms, args := make([]term, len(e.Args)), map[string]term{}
	all := make([]*term, len(terms))
	for i, a := range e.Args {
		terms[i], all[i] = s.scaled(a), &terms[i]
	}
	out := shared(all...)
	rest := make([]text, len(terms))
	for i, t := range terms {
		rest[i] = t.text
		if i < len(e.Fn.Params) {
			args[e.Fn.Params[i]] = t
		}
	}
	args["..."] = term{text: list(rest), prec: precAny}
	out.text, out.prec, out.needs = substitute(e.Fn.Result, args), precAtom, needing(terms...)
	return out
}

// uses counts how often a form names an argument.
func uses(steps []formula.SheetStep, result, name string) int {
	n := strings.Count(result, "{"+name+"}")
	for _, st := range steps {
		n += strings.Count(st.Text, "{"+name+"}")
	}
	return n
}

// substitute fills the arguments into a form. An argument that does not stand
// alone between brackets or commas gets brackets of its own.
func substitute(form string, args map[string]term) text {
	var out text
	for {
		i := strings.IndexByte(form, '{')
		if i < 0 {
			return join(out, form)
		}
		n := strings.IndexByte(form[i:], '}') + i
		out = join(out, form[:i])
		alone := (i == 0 || strings.IndexByte("(,", form[i-1]) >= 0) &&
			(n+1 == len(form) || strings.IndexByte("),", form[n+1]) >= 0)
		if t := args[form[i+1:n]]; alone {
			out = join(out, t.text)
		} else {
			out = join(out, t.paren(precAtom))
		}
		form = form[n+1:]
	}
}

// isCall reports whether a form is one call, NAME(...), as a whole.
func isCall(form string) bool {
	open := strings.IndexByte(form, '(')
	if open <= 0 || strings.Trim(form[:open], "ABCDEFGHIJKLMNOPQRSTUVWXYZ") != "" {
		return false
	}
	depth := 0
	for i := open; i < len(form); i++ {
		switch form[i] {
		case '(':
			depth++
		case ')':
			if depth--; depth == 0 {
				return i == len(form)-1
			}
		}
	}
	return false
}

// column is the range of a table's or an item's column, in base units.
func (s *scope) column(e *check.Expr) term {
	if e.Table != nil {
		l := s.pl.tableColumn(e.Table, e.Col)
		return term{text: cell(&ref{to: l, last: l.rows - 1}), prec: precAtom}
	}
	r := e.Ref
	c := &ref{to: s.pl.pointsColumn(r.Target, e.Col)}
	if len(r.Hops) > 0 {
		pos := &ref{to: s.pl.position(r.Kind, r.Hops)}
		s.from(pos, r)
		c.item, c.index = all, cell(pos)
	} else {
		s.from(c, r)
	}
	first := *c
	c.last = c.to.rows - 1
	out := term{text: cell(c), prec: precAtom}
	if r.MayBeAbsent() {
		out.needs = []text{emptiness(&first, r)}
	}
	return out
}
