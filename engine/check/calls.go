package check

import (
	"fmt"
	"strings"

	"bankwright/engine/decl"
	"bankwright/engine/diag"
	"bankwright/engine/formula"
	"bankwright/engine/unit"
)

var foldKinds = map[string]FoldKind{
	"sum": Sum, "count": Count, "any": Any, "all": All, "min": Min, "max": Max, "mean": Mean, "deviation": Deviation, "first": First, "last": Last, "len": Length,
}

// call resolves a call: prev, an aggregate of a series, or a function.
func (s *scope) call(n *formula.Node) *Expr {
	if n.Text == "prev" {
		return s.prev(n)
	}
	if k, ok := foldKinds[n.Text]; ok && len(n.Args) == 1 {
		return s.series(n, k)
	}
	fn := formula.Lookup(n.Text)
	if fn == nil {
		mend := diag.DidYouMean(n.Text, functionNames())
		if mend == "" {
			mend = "There are " + strings.Join(functionNames(), ", ") + "."
		}
		s.c.problem(s.f, n.At, "function", mend, "there is no function %s", n.Text)
		s.faultsOf(n.Args)
		return bad(n)
	}
	if len(n.Args) < len(fn.Params)-fn.Spare || len(n.Args) > len(fn.Params) && !fn.Rest {
		s.faultsOf(n.Args)
		s.c.problem(s.f, n.At, "function", "It is "+fn.Doc+".", "%s takes %s, but %d are given", fn.Name, signature(fn), len(n.Args))
		return bad(n)
	}
	return s.function(n, fn)
}

// faultsOf tells of the faults in the arguments of a call that has no meaning.
func (s *scope) faultsOf(args []*formula.Node) {
	for _, a := range args {
		if a.Kind == formula.Name {
			s.name(a) // it may be a column or a series
		} else {
			s.expr(a)
		}
	}
}

// function resolves the arguments of a registry function.
func (s *scope) function(n *formula.Node, fn *formula.Function) *Expr {
	e := &Expr{Op: Call, At: n.At, Type: decl.Number, Fn: fn}
	var dims []unit.Dim
	faulty := false
	for i, a := range n.Args {
		var arg *Expr
		switch {
		case i == 0 && fn.History():
			arg = s.history(a, fn)
		case i < fn.Columns() && fn.Measure != nil:
			arg = s.recordedColumn(a, fn)
		case i < fn.Columns():
			arg = s.column(a, fn)
		default:
			arg = s.expr(a)
			want := decl.Number
			if fn.TextKey {
				want = decl.Text
			}
			if !s.typed(arg, want, fmt.Sprintf("what %s takes", fn.Name)) {
				faulty = true
			}
		}
		faulty = faulty || arg.Type == unknownType
		e.Args = append(e.Args, arg)
		dims = append(dims, arg.Dim)
	}
	if faulty || fn.Columns() > 0 && fn.Measure == nil && !s.columns(n, e) || fn.Measure != nil && !s.recorded(e) {
		return bad(n)
	}
	d, why := fn.Dim(dims)
	if why != "" {
		s.c.problem(s.f, n.At, "unit", s.argumentMend(e), "%s: %s", fn.Name, why)
		return bad(n)
	}
	e.Dim = d
	return e
}

// history resolves an argument that must be a series, of which the steps along
// the axes that the formula has not are taken.
func (s *scope) history(n *formula.Node, fn *formula.Function) *Expr {
	if n.Kind != formula.Name {
		s.c.problem(s.f, n.At, "series", "Give the calculation a name as a series of its own.", "%s takes the name of a series here", fn.Name)
		return bad(n)
	}
	return s.steps(n, s.name(n), &Expr{Op: Fold, At: n.At, Fold: &FoldSpec{Kind: Steps}})
}

// column resolves an argument that must be a table column.
func (s *scope) column(n *formula.Node, fn *formula.Function) *Expr {
	if n.Kind != formula.Name {
		s.c.problem(s.f, n.At, "table", "Write table.column.", "%s looks into a table column here", fn.Name)
		return bad(n)
	}
	e := s.name(n)
	switch {
	case e.Type == unknownType:
	case e.Op != Column:
		s.c.problem(s.f, n.At, "table", "Write table.column.", "%s is not a table column", strings.Join(n.Path, "."))
		return bad(n)
	case e.ofRecording():
		s.c.problem(s.f, n.At, "table", "Take something of it first, such as its mean over time.", "%s is a column of a recording, and %s looks into a table", strings.Join(n.Path, "."), fn.Name)
		return bad(n)
	}
	return e
}

// columns checks that the columns of a table function belong together and that
// the keys are in the order which the function relies on.
func (s *scope) columns(n *formula.Node, e *Expr) bool {
	fn := e.Fn
	cols := e.Args[:fn.Columns()]
	if fn.History() {
		cols = cols[1:]
	}
	if len(cols) == 0 {
		return true
	}
	keys := cols[0]
	for _, col := range cols[1:] {
		if col.Table != keys.Table || (col.Ref == nil) != (keys.Ref == nil) || col.Ref != nil && pathHead(col.Ref) != pathHead(keys.Ref) {
			s.c.problem(s.f, col.At, "table", "Name columns of the same table.", "the columns of %s must be of one table", fn.Name)
			return false
		}
	}
	switch {
	case fn.ByRow && keys.Table == nil:
		s.c.problem(s.f, keys.At, "table", "Between the points of an item there is interpolate.", "%s takes a column of a table of the rules", fn.Name)
		return false
	case fn.ByRow:
		e.Type = keys.Type
		return true
	case len(cols) > 1:
		e.Type = cols[1].Type
	}
	if fn.TextKey != (keys.Type == decl.Text) {
		s.c.problem(s.f, keys.At, "table", "Look numbers up with lookup, texts with lookup_name.", "%s cannot look into a column of this kind", fn.Name)
		return false
	}
	if fn.TextKey {
		return true
	}
	return s.sorted(keys, fn)
}

// sorted reports whether the keys rise or fall as a function needs it, and
// says so where they do not.
func (s *scope) sorted(keys *Expr, fn *formula.Function) bool {
	rising, falling := keys.Col == 0, false // an item's own points are sorted by their first column
	if keys.Table != nil {
		rising, falling = isSorted(keys.Table, keys.Col, 1), isSorted(keys.Table, keys.Col, -1)
	}
	switch {
	case fn.Rising && !rising:
		s.c.problem(s.f, keys.At, "table", "Sort the table by this column.", "%s needs a column that rises from row to row", fn.Name)
	case fn.Falling && !falling:
		s.c.problem(s.f, keys.At, "table", "Sort the table by this column, the largest first.", "%s needs a column that falls from row to row", fn.Name)
	default:
		return true
	}
	return false
}

// pathHead is a reference without its last name.
func pathHead(r *Ref) string {
	names := []string{fmt.Sprint(r.Origin, r.Item)}
	for _, h := range r.Hops {
		names = append(names, h.Name)
	}
	return strings.Join(append(names, r.Target.Name), ".")
}

// isSorted reports whether a column rises (sign 1) or falls (sign -1) from row
// to row.
func isSorted(t *decl.Table, col int, sign float64) bool {
	for i := 1; i < len(t.Rows); i++ {
		if sign*(t.Rows[i].Numbers[col]-t.Rows[i-1].Numbers[col]) <= 0 {
			return false
		}
	}
	return true
}

// prev resolves prev(x).
func (s *scope) prev(n *formula.Node) *Expr {
	if len(n.Args) != 1 || n.Args[0].Kind != formula.Name {
		s.c.problem(s.f, n.At, "series", "Write prev(name) and calculate with the result.", "prev takes the name of one series")
		return bad(n)
	}
	e := s.name(n.Args[0])
	if e.Type == unknownType {
		return e
	}
	if e.Op == Read {
		e.Ref.Prev = true // whatever else is wrong, it goes round in no circle
	}
	if e.Op != Read || len(e.Ref.Hops) > 0 || len(e.Ref.Target.Axes) == 0 {
		s.c.problem(s.f, n.At, "series", "Write the name alone, or let it run over an axis with `over`.", "prev takes a series, and this is none")
		return bad(n)
	}
	q := e.Ref.Target
	if len(s.axes) == 0 || q.last() != s.axes[len(s.axes)-1] {
		s.c.problem(s.f, n.At, "series", "Let "+s.subject()+" run over "+q.last().Name+" last.", "there is no step before: %s runs over %s, which is not the last axis here", q.Name, q.last().Name)
		return bad(n)
	}
	if q.Quantity.Start == nil {
		s.c.problem(s.f, n.At, "series", "Give "+q.Name+" a start: its value before the first step.", "%s has no start, so there is nothing before its first step", q.Name)
		return bad(n)
	}
	s.readable(e)
	e.At = n.At
	return e
}

// series resolves an aggregate over the steps of a series, or len of a column.
func (s *scope) series(n *formula.Node, k FoldKind) *Expr {
	if n.Args[0].Kind != formula.Name {
		s.c.problem(s.f, n.Args[0].At, "series", "Give the calculation a name as a series of its own.", "%s takes the name of a series here", n.Text)
		return bad(n)
	}
	x := s.name(n.Args[0])
	if x.Type == unknownType {
		return x
	}
	e := &Expr{Op: Fold, At: n.At, Type: decl.Number, Dim: x.Dim, Args: []*Expr{x}, Fold: &FoldSpec{Kind: k}}
	if k == Length {
		e.Dim = unit.None
		if x.Op != Column {
			s.c.problem(s.f, n.At, "table", "For the items of a kind write count.", "len counts the rows of a table column")
			return bad(n)
		}
		if x.ofRecording() {
			s.c.problem(s.f, n.At, "table", "For a recording write rows.", "len counts the rows of a table column")
			return bad(n)
		}
		return e
	}
	if e = s.steps(n, x, e); e.Op != Fold || !s.foldType(n, e, x) {
		return bad(n)
	}
	return e
}

// steps makes e, an aggregate or a history, run over the steps of x along the
// axes that the formula has not.
func (s *scope) steps(n *formula.Node, x, e *Expr) *Expr {
	switch {
	case x.Type == unknownType:
		return x
	case x.Op != Read:
		s.c.problem(s.f, n.At, "series", "Name a quantity that runs over an axis.", "this is not a series")
		return bad(n)
	}
	for _, a := range x.Ref.Target.Axes {
		if !hasAxis(s.axes, a) {
			e.Fold.Over = append(e.Fold.Over, a)
		}
	}
	if len(e.Fold.Over) == 0 {
		s.c.problem(s.f, n.At, "series", "Use the name alone.", "%s has one value here, there is nothing to aggregate", x.Ref.Path)
		return bad(n)
	}
	e.Type, e.Dim, e.Args = decl.Number, x.Dim, []*Expr{x}
	if e.Fold.Kind == Steps && !s.typed(x, decl.Number, "a history") {
		return bad(n)
	}
	return e
}

// foldType sets type and dimension of an aggregate from what it combines.
func (s *scope) foldType(n *formula.Node, e, x *Expr) bool {
	want := decl.Number
	switch e.Fold.Kind {
	case Count:
		want, e.Dim = decl.Boolean, unit.None
	case Any, All:
		want, e.Type, e.Dim = decl.Boolean, decl.Boolean, unit.None
	case First, Last:
		e.Type, e.Dim = x.Type, x.Dim
		return true
	case Sum:
		if x.Dim.IsPoint() {
			s.c.problem(s.f, n.At, "unit", "Take mean, min or max of them, or sum differences.", "temperatures cannot be added up")
			return false
		}
	case Deviation:
		e.Dim, _ = unit.Sub(x.Dim, x.Dim) // of temperatures it is a difference
	}
	return s.typed(x, want, "what "+n.Text+" takes")
}

// items resolves an aggregate with a body for each item.
func (s *scope) items(n *formula.Node) *Expr {
	k, ok := foldKinds[n.Text]
	if !ok || k == First || k == Last || k == Length {
		s.c.problem(s.f, n.At, "function", "Over items there are sum, count, any, all, and min, max, mean, deviation of map.", "there is no aggregate %s over items", n.Text)
		return bad(n)
	}
	if s.each != nil {
		s.c.problem(s.f, n.At, "series", "Give the inner aggregate a name as a quantity of its own.", "an aggregate cannot stand inside another")
		return bad(n)
	}
	spec := &FoldSpec{Kind: k}
	if !s.members(n.Args[0], spec) {
		return bad(n)
	}
	inner := *s
	inner.each = spec.Items
	body := inner.expr(n.Args[1])
	if body.Type == unknownType {
		return bad(n)
	}
	e := &Expr{Op: Fold, At: n.At, Type: decl.Number, Dim: body.Dim, Args: []*Expr{body}, Fold: spec}
	if !s.foldType(n, e, body) || !s.plainBody(body) {
		return bad(n)
	}
	return e
}

// members finds what an aggregate runs over: the items of a kind, or of a set.
func (s *scope) members(n *formula.Node, spec *FoldSpec) bool {
	if n.Kind != formula.Name || n.Dot {
		s.c.problem(s.f, n.At, "wrong-kind", "Name a kind by its plural, or a set.", "an aggregate runs over items")
		return false
	}
	if len(n.Path) == 1 && s.kind.Quantity(n.Path[0]) == nil {
		if k := s.pluralKind(n.Path[0]); k != nil {
			spec.Items = k
			return true
		}
	}
	ref, rest := s.origin(n)
	if ref == nil || len(rest) == 0 {
		s.unknown(n)
		return false
	}
	ref.Path = strings.Join(n.Path, ".")
	k := ref.Kind
	for i, name := range rest {
		q := k.Quantity(name)
		switch {
		case q == nil:
			s.noQuantity(n.At, k, name)
			return false
		case q.nowhere():
			return false
		case i == len(rest)-1 && q.Type == decl.Set:
			ref.Target, spec.Set, spec.Items = q, ref, q.To
			return true
		case q.Type != decl.Reference || i == len(rest)-1:
			s.c.problem(s.f, n.At, "wrong-kind", "Name a kind by its plural, or a set.", "%s is %s, not a set of items", ref.Path, typePhrase(q.Type))
			return false
		}
		ref.Hops, k = append(ref.Hops, q), q.To
	}
	return false
}

// plainBody refuses in the body of an aggregate what a spreadsheet cannot
// calculate over a whole range at once.
func (s *scope) plainBody(body *Expr) bool {
	ok := true
	body.Walk(func(e *Expr) {
		what := ""
		switch e.Op {
		case If:
			what = "?:"
		case Else:
			what = "??"
		case Call:
			what = e.Fn.Name
		case Fold:
			what = "an aggregate"
		}
		if what != "" && ok {
			ok = false
			s.c.problem(s.f, e.At, "series", "Give this part a name as a quantity of the item, and aggregate that.", "%s cannot stand inside an aggregate", what)
		}
	})
	return ok
}
