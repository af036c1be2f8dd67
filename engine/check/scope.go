package check

import (
	"regexp"
	"strings"

	"bankwright/engine/decl"
	"bankwright/engine/diag"
	"bankwright/engine/formula"
	"bankwright/engine/unit"
)

// scope is where a formula stands: it decides what names mean.
type scope struct {
	c    *checker
	f    *decl.Formula // the formula being read
	kind *Kind         // whose item the formula is for
	item int           // which item, -1: any
	axes []*decl.Axis  // the steps that are current
	each *Kind         // the kind of the aggregate around, nil outside
	q    *Quantity     // what the formula is for, or nil
}

// rule reads the formula of a quantity. Where it has faults, what it is known
// to read stands in its place, so that it has its place in the order.
func (s *scope) rule(f *decl.Formula, q *Quantity) *Expr {
	e := s.formula(f, q)
	if e == nil {
		e = &Expr{Op: Call, Type: unknownType, Args: s.c.reads}
		s.c.faulty[e] = true
	}
	return e
}

// formula reads a formula and, where q is not nil, checks it against q's type
// and unit. It is nil where the formula has faults.
func (s *scope) formula(f *decl.Formula, q *Quantity) *Expr {
	s.f, s.q, s.c.reads = f, q, nil
	n, problems := formula.Parse(f.Text)
	for _, p := range problems {
		s.c.problem(f, p.At, "syntax", s.plainMend(p.Mend, q), "%s", p.Text)
	}
	if n == nil {
		return nil
	}
	before := len(s.c.list)
	e := s.expr(n)
	if q != nil {
		s.fits(e, q)
	}
	if s.c.list[before:].HasErrors() {
		return nil
	}
	return e
}

// fits checks that a formula gives what its quantity is.
func (s *scope) fits(e *Expr, q *Quantity) {
	want := q.Type
	if e.Type == unknownType {
		return
	}
	switch {
	case want == e.Type:
	case q.Kind.Quantity(q.Name) != q: // a check, or the condition of combinations
		what := "the check " + q.Name + " requires"
		if q == q.Kind.Keep {
			what = "`keep` is"
		}
		s.c.problem(s.f, e.At, "wrong-kind", typeMend(decl.Boolean, e), "%s a condition, but this gives %s", what, valuePhrase(e))
		return
	default:
		s.c.problem(s.f, e.At, "wrong-kind", typeMend(want, e), "%s is %s, but its formula gives %s", q.Name, typePhrase(want), valuePhrase(e))
		return
	}
	if want == decl.Text {
		s.choices(e, q)
	}
	if want != decl.Number {
		return
	}
	if _, ok := unit.Fit(q.Dim, e.Dim); !ok {
		s.c.problem(s.f, e.At, "unit", s.unitMend(q, e), "%s is %s, but its formula gives %s", q.Name, q.Dim.Describe(), e.Dim.Describe())
	}
}

// choices checks that every text a rule can give is one of its choices.
func (s *scope) choices(e *Expr, q *Quantity) {
	if len(q.Choices) == 0 {
		return
	}
	switch e.Op {
	case Literal:
		if t := s.c.prog.Texts[int(e.Num)]; !contains(q.Choices, t) {
			s.c.problem(s.f, e.At, "choice", oneOf(t, "They are ", q.Choices), "\"%s\" is not one of the choices of %s", t, q.Name)
		}
	case If:
		s.choices(e.Args[1], q)
		s.choices(e.Args[2], q)
	}
}

// unknownType is the type of a part that has been reported already.
const unknownType decl.Type = -1

func typePhrase(t decl.Type) string {
	switch t {
	case decl.Number:
		return "a number"
	case decl.Boolean:
		return "true or false"
	case decl.Text:
		return "a text"
	case decl.Reference:
		return "a reference"
	case decl.Set:
		return "a set of items"
	case decl.Recording:
		return "a recording"
	}
	return "a table"
}

// name resolves a path to a Read, a Column or a Step.
func (s *scope) name(n *formula.Node) *Expr {
	e := &Expr{At: n.At, Type: unknownType, Dim: unit.Any}
	if n.Dot && s.each == nil {
		s.c.problem(s.f, n.At, "unknown-name", "A name with a dot in front belongs inside sum, count, any, all or map.", "there is no item for .%s here", strings.Join(n.Path, "."))
		return e
	}
	ref, rest := s.origin(n)
	if ref == nil {
		return s.other(n, e)
	}
	ref.Path = strings.Join(n.Path, ".")
	if n.Dot {
		ref.Path = "." + ref.Path
	}
	if len(rest) == 0 {
		s.c.problem(s.f, n.At, "wrong-kind", "Name one of its quantities: "+ref.Path+"."+someName(ref.Kind)+".", "%s is an item, not a value", ref.Path)
		return e
	}
	return s.follow(e, ref, rest)
}

// origin finds where a path starts and what of it is left to follow.
func (s *scope) origin(n *formula.Node) (*Ref, []string) {
	head := n.Path[0:]
	if n.Dot {
		return &Ref{Origin: Each, Kind: s.each}, head
	}
	if s.kind.Quantity(head[0]) != nil {
		return &Ref{Origin: Self, Kind: s.kind}, head
	}
	if len(head) == 1 {
		if k := s.c.byName["constant"]; k != nil && k.Quantity(head[0]) != nil {
			return &Ref{Origin: One, Kind: k}, head
		}
		return nil, nil
	}
	if k := s.c.byName[head[0]]; k != nil && !k.Many {
		return &Ref{Origin: One, Kind: k}, head[1:]
	}
	for _, a := range s.axes {
		if a.Kind != nil && a.Name == head[0] {
			return &Ref{Origin: AxisItem, Axis: a, Kind: s.c.kinds[a.Kind]}, head[1:]
		}
	}
	for _, k := range s.c.prog.Kinds {
		if k.Many && k.Plural == head[0] {
			if i := k.Item(head[1]); i >= 0 {
				return &Ref{Origin: Fixed, Kind: k, Item: i}, head[2:]
			}
		}
	}
	return nil, nil
}

// follow goes along references to the quantity at the end of a path.
func (s *scope) follow(e *Expr, ref *Ref, rest []string) *Expr {
	k := ref.Kind
	for i, name := range rest {
		q := k.Quantity(name)
		if q == nil {
			s.noQuantity(s.last(e.At, rest[i:]), k, name)
			return e
		}
		if q.nowhere() {
			return e
		}
		last := i == len(rest)-1
		switch {
		case q.Type.Tabular():
			return s.pointsColumn(e, ref, q, rest[i+1:])
		case last:
			ref.Target = q
			return s.read(e, ref)
		case q.Type != decl.Reference:
			s.c.problem(s.f, e.At, "wrong-kind", "Name "+strings.Join(rest[:i+1], ".")+" alone, or begin with an input that names an item.", "%s is %s; nothing can be reached through it", name, typePhrase(q.Type))
			return e
		}
		ref.Hops = append(ref.Hops, q)
		k = q.To
	}
	return e
}

// nowhere reports whether q refers to a kind that there is not, which is told.
func (q *Quantity) nowhere() bool {
	return (q.Type == decl.Reference || q.Type == decl.Set) && q.To == nil
}

// read makes the Read of a reference that has its target.
func (s *scope) read(e *Expr, ref *Ref) *Expr {
	q := ref.Target
	e.Ref = ref
	switch q.Type {
	case decl.Reference:
		s.c.problem(s.f, e.At, "wrong-kind", "Name one of its quantities: "+ref.Path+"."+someName(q.To)+".", "%s names an item, it is not a value", ref.Path)
		return e
	case decl.Set:
		if !hasAxis(s.axes, q.Axes[0]) {
			s.c.problem(s.f, e.At, "wrong-kind", "Use it in an aggregate, such as sum("+ref.Path+", ."+someName(q.To)+").", "%s is a set of items, not a value", ref.Path)
			return e
		}
	}
	e.Op, e.Type, e.Dim = Read, q.Type, q.Dim
	if q.Type == decl.Set {
		e.Type = decl.Boolean
	}
	s.c.reads = append(s.c.reads, &Expr{Op: Read, At: e.At, Ref: ref})
	return e
}

// readable checks that every axis of a read series is current in the scope.
func (s *scope) readable(e *Expr) {
	if e.Op != Read {
		return
	}
	for _, a := range e.Ref.Target.Axes {
		if !hasAxis(s.axes, a) {
			name := e.Ref.Path
			s.c.problem(s.f, e.At, "series", "Take one value of it, such as sum("+name+"), max("+name+") or last("+name+"), or run over "+a.Name+" as well.", "%s has a value for each %s, but one value is wanted here", name, a.Name)
			e.Type = unknownType
			return
		}
	}
}

// pointsColumn makes the Column of an item's own table or recording.
func (s *scope) pointsColumn(e *Expr, ref *Ref, q *Quantity, rest []string) *Expr {
	ref.Target = q
	var names []string
	for i, col := range q.Columns {
		names = append(names, col.Name)
		if len(rest) == 1 && rest[0] == col.Name {
			e.Op, e.Type, e.Dim, e.Ref, e.Col = Column, decl.Number, col.Unit.Dim, ref, i
			return e
		}
	}
	s.c.problem(s.f, e.At, "unknown-name", "Its columns are "+strings.Join(names, ", ")+".", "%s is %s; name one of its columns", q.Name, typePhrase(q.Type))
	return e
}

// other resolves what is no quantity: a step number or a table's column.
func (s *scope) other(n *formula.Node, e *Expr) *Expr {
	head := n.Path[0]
	if len(n.Path) == 1 {
		for _, a := range s.axes {
			if a.Name == head {
				e.Op, e.Type, e.Dim, e.Axis = Step, decl.Number, unit.None, a
				return e
			}
		}
		if head == "absent" {
			e.Op, e.Type, e.Dim = Nothing, decl.Number, unit.Any
			return e
		}
	}
	if t := s.table(head); t != nil && len(n.Path) == 2 {
		for i, col := range t.Columns {
			if col.Name == n.Path[1] {
				e.Op, e.Table, e.Col = Column, t, i
				e.Type, e.Dim = decl.Number, col.Unit.Dim
				if col.Text {
					e.Type, e.Dim = decl.Text, unit.None
				}
				return e
			}
		}
		s.c.problem(s.f, n.At, "unknown-name", oneOf(n.Path[1], "Its columns are ", columnNames(t)), "the table %s has no column %s", head, n.Path[1])
		return e
	}
	s.unknown(n)
	return e
}

func (s *scope) table(name string) *decl.Table {
	for _, t := range s.c.prog.Model.Tables {
		if t.Name == name {
			return t
		}
	}
	return nil
}

func (s *scope) pluralKind(name string) *Kind {
	for _, k := range s.c.prog.Kinds {
		if k.Many && k.Plural == name {
			return k
		}
	}
	return nil
}

// names are all one-segment names of the scope.
func (s *scope) names() []string {
	out := s.kind.QuantityNames()
	if k := s.c.byName["constant"]; k != nil {
		out = append(out, k.QuantityNames()...)
	}
	for _, a := range s.axes {
		out = append(out, a.Name)
	}
	return out
}

var placeholder = regexp.MustCompile(`\{([^{}]*)\}`)

// maxNamed is how many values a sentence may name.
const maxNamed = 100

// sentence reads text with {paths} in it.
func (s *scope) sentence(text string, at diag.Pos) []Part {
	var parts []Part
	from := 0
	for n, m := range placeholder.FindAllStringSubmatchIndex(text, -1) {
		if n == maxNamed {
			s.c.list.Errorf(at, "limit", "Write several sentences.", "the sentence names more than %d values", maxNamed)
			return nil
		}
		if m[0] > from {
			parts = append(parts, Part{Text: text[from:m[0]]})
		}
		from = m[1]
		s.f = &decl.Formula{Text: text[m[2]:m[3]], At: at}
		if e := s.formula(s.f, nil); e != nil {
			if e.Op != Read {
				s.c.list.Errorf(at, "wrong-kind", "Give the calculation a name as a quantity of its own.", "{%s} is not the name of a quantity", s.f.Text)
				continue
			}
			parts = append(parts, Part{Read: e})
		}
	}
	if strings.ContainsAny(placeholder.ReplaceAllLiteralString(text, ""), "{}") {
		s.c.list.Errorf(at, "syntax", "Write each name between { and }.", "a brace is open or closed alone in this sentence")
	}
	if from < len(text) {
		parts = append(parts, Part{Text: text[from:]})
	}
	return parts
}
