package decl

import "strings"

// inverted reads a set that is the inverse of a reference: inverse =
// "crate.shelf", on a shelf, is the set of the crates whose shelf it is.
func (l *loader) inverted(f *fields, q *Quantity) {
	f.clash("`inverse`", "type", "unit", "choices", "columns", "rows", "over", "formula", "default", "optional", "unless",
		"min", "max", "usual", "usual_in", "usual_by", "whole", "otherwise", "decimals", "refers", "set")
	path := f.text("inverse", true)
	if !f.ok {
		return
	}
	n := f.n.get("inverse")
	kind, _, found := strings.Cut(path, ".")
	k := l.kinds[kind]
	switch {
	case k == nil && l.unread:
		f.ok = false
	case !found || k == nil:
		mend := l.didYouMean(kind, l.kindNames())
		if mend == "" || !found {
			mend = "Write \"KIND.NAME\": a quantity that refers to one " + q.Kind.Name + "."
		}
		f.fault(n.at, "unknown-kind", mend, "`%s` does not name a quantity of a kind", shorten(path, 60))
	case !k.Many:
		f.fault(n.at, "reference", "Name a quantity of a kind of many.", "`%s` has only one item, so that there is no set of them", kind)
	default:
		q.Type, q.Refers = Set, k
		l.inverse[q] = n
	}
}

// resolveInverse finds the references whose inverse sets are.
func (l *loader) resolveInverse() {
	for q, n := range l.inverse {
		name := strings.TrimPrefix(strings.TrimSpace(n.text), q.Refers.Name+".")
		other := l.byName[q.Refers][name]
		switch {
		case l.broken[q], l.broken[other], other == nil && l.unread:
		case other == nil:
			l.broken[q] = true
			l.diags.Errorf(n.at, "unknown-name", l.nearQuantity(q.Refers, name), "`%s` is not a quantity of %s", shorten(name, 60), q.Refers.Name)
		case other.Type != Reference || other.Refers != q.Kind:
			l.broken[q] = true
			l.diags.Errorf(n.at, "reference", "Name a quantity of "+q.Refers.Name+" with refers = \""+q.Kind.Name+"\".",
				"`%s` does not refer to one %s", shorten(n.text, 60), q.Kind.Name)
		default:
			q.Inverse = other
		}
	}
}

// Computed reports whether values of q come from elsewhere and cannot be given.
func (q *Quantity) Computed() bool { return q.Formula != nil || q.Inverse != nil }

// origin says in words what a computed quantity comes from.
func (q *Quantity) origin() string {
	if q.Inverse != nil {
		return "the `" + q.Inverse.Name + "` of every " + q.Refers.Name
	}
	return shorten(q.Formula.Text, 80)
}
