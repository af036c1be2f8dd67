package check

import (
	"slices"
	"sort"
	"strings"

	"bankwright/engine/decl"
	"bankwright/engine/diag"
	"bankwright/engine/formula"
	"bankwright/engine/unit"
)

// What messages name and propose.

// unknown reports a path whose start means nothing here.
func (s *scope) unknown(n *formula.Node) {
	head := n.Path[0]
	if len(n.Path) > 1 {
		if k := s.pluralKind(head); k != nil {
			s.c.problem(s.f, s.part(n.At, n.Path, 1), "unknown-name", oneOf(n.Path[1], "There are ", k.ItemNames()), "there is no %s named %s", k.Name, n.Path[1])
			return
		}
		if k := s.c.byName[head]; k != nil {
			s.c.problem(s.f, n.At, "unknown-name", "Write "+k.Plural+".NAME."+n.Path[1]+" for one of them, or sum("+k.Plural+", ."+n.Path[1]+") over all.", "there are many of %s; the formula does not say which", k.Name)
			return
		}
	}
	if k := s.pluralKind(head); k != nil {
		s.c.problem(s.f, n.At, "wrong-kind", "Use it in an aggregate, such as sum("+head+", ."+someName(k)+").", "%s are items, not a value", head)
		return
	}
	if near := diag.Nearest(head, s.names()); near != "" {
		s.c.problem(s.f, n.At, "unknown-name", diag.Meant(head, near, near), "%s has no quantity %s", s.kind.Name, head)
		return
	}
	s.noQuantity(n.At, s.kind, head)
}

// part is where one name of a path stands, or the whole path where it is not
// written in one piece.
func (s *scope) part(at formula.Span, path []string, i int) formula.Span {
	text := []rune(s.f.Text)
	if at.Start+at.Len > len(text) || string(text[at.Start:at.Start+at.Len]) != strings.Join(path, ".") {
		return at
	}
	before := len([]rune(strings.Join(path[:i], ".")))
	if i > 0 {
		before++
	}
	return formula.Span{Start: at.Start + before, Len: len([]rune(path[i]))}
}

// last is where the first of the last names of a path stands.
func (s *scope) last(at formula.Span, rest []string) formula.Span {
	tail := len([]rune(strings.Join(rest, ".")))
	if tail >= at.Len {
		return at
	}
	end := formula.Span{Start: at.Start + at.Len - tail, Len: tail}
	if part := s.part(end, rest, 0); part != end || len(rest) == 1 {
		return part
	}
	return at
}

// noQuantity reports a name that a kind lacks, with the kinds that have it.
func (s *scope) noQuantity(at formula.Span, k *Kind, name string) {
	var owners []string
	for _, other := range s.c.prog.Kinds {
		if other != k && other.Quantity(name) != nil {
			owners = append(owners, other.Name)
		}
	}
	mend := diag.DidYouMean(name, k.QuantityNames())
	if len(owners) > 0 {
		also := strings.TrimPrefix(mend, "D")
		mend = name + " belongs to " + strings.Join(owners, ", ")
		if also != "" {
			mend += "; or d" + also
		} else {
			mend += "."
		}
	}
	if mend == "" {
		mend = "It must be a quantity of " + k.Name + ", a constant, or a path such as kind.quantity; the command rules lists them."
	}
	s.c.problem(s.f, at, "unknown-name", mend, "%s has no quantity %s", k.Name, name)
}

// QuantityNames are the names of a kind's quantities, in the order of the rules.
func (k *Kind) QuantityNames() []string {
	var out []string
	for _, q := range k.Quantities {
		out = append(out, q.Name)
	}
	return out
}

// ItemNames are the names of a kind's items, in the order of the scenario.
func (k *Kind) ItemNames() []string {
	var out []string
	for _, it := range k.Items {
		out = append(out, it.Name)
	}
	return out
}

func columnNames(t *decl.Table) []string {
	var out []string
	for _, c := range t.Columns {
		out = append(out, c.Name)
	}
	return out
}

// oneOf asks for the nearest name, or lists those that there are.
func oneOf(name, lead string, names []string) string {
	if near := diag.DidYouMean(name, names); near != "" {
		return near
	}
	const most = 12
	if len(names) > most {
		names = append(slices.Clone(names[:most]), "…")
	}
	if len(names) == 0 {
		return "There are none."
	}
	return lead + strings.Join(names, ", ") + "."
}

// someName is a number of a kind to show in an example.
func someName(k *Kind) string {
	names := k.QuantityNames()
	sort.SliceStable(names, func(i, j int) bool {
		return k.Quantity(names[i]).Type == decl.Number && k.Quantity(names[j]).Type != decl.Number
	})
	if len(names) == 0 {
		return "name"
	}
	return names[0]
}

func contains(list []string, s string) bool {
	for _, t := range list {
		if t == s {
			return true
		}
	}
	return false
}

// factorMend tells by what a formula misses its unit, where that is simple.
func factorMend(want, got unit.Dim) string {
	missing, ok := unit.Div(want, got)
	if !ok {
		return ""
	}
	if missing == unit.None {
		return ""
	}
	return "A factor that is " + missing.Describe() + " is missing, or one too many is there."
}

func functionNames() []string {
	out := []string{"prev"}
	for name := range foldKinds {
		out = append(out, name)
	}
	for _, f := range formula.Functions {
		out = append(out, f.Name)
	}
	slices.Sort(out)
	return slices.Compact(out)
}

func signature(fn *formula.Function) string {
	always := len(fn.Params) - fn.Spare
	s := "(" + strings.Join(fn.Params[:always], ", ")
	if fn.Spare > 0 {
		s += ", or also " + strings.Join(fn.Params[always:], ", ")
	}
	if fn.Rest {
		s += ", ..."
	}
	return strings.NewReplacer("[", "table.", "]", "", "{", "recording.", "}", "").Replace(s) + ")"
}
