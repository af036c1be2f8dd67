package engine

import (
	"errors"
	"slices"

	"bankwright/engine/check"
	"bankwright/engine/decl"
	"bankwright/engine/eval"
)

// Only is the same scenario with a few items of the compared kind, read anew:
// the items named, and those that anything else refers to. It is the model
// itself where leaving items out would change other figures, since a rule
// goes over all of them; the error tells that the files have changed meanwhile.
func (m *Model) Only(names []string) (*Model, error) {
	k := m.Compared()
	if k == nil || m.goesOver(k) {
		return m, nil
	}
	keep := m.referred(k)
	for _, name := range names {
		keep[name] = true
	}
	changed := errors.New("the scenario was changed while it was read; try again")
	declared, list := decl.Load(m.src)
	if declared == nil || list.HasErrors() {
		return nil, changed
	}
	left := 0
	for _, d := range declared.Kinds {
		if d.Name == k.Name {
			d.Items = slices.DeleteFunc(d.Items, func(it *decl.Item) bool { return !keep[it.Name] })
			left = len(d.Items)
		} else if !sameItems(d, m.Kind(d.Name)) {
			drop(d, m.Kind(d.Name))
		}
	}
	prog, list := check.Resolve(declared)
	if list.HasErrors() || left != len(keep) {
		return nil, changed
	}
	few := &Model{Program: prog, Dropped: m.Dropped, src: m.src}
	few.resizeKindAxes()
	few.Result = eval.Run(prog)
	return few, nil
}

func sameItems(d *decl.Kind, k *check.Kind) bool { return k != nil && len(d.Items) == len(k.Items) }

// drop leaves out the items that k does not have: combinations that their
// condition left out.
func drop(d *decl.Kind, k *check.Kind) {
	d.Items = slices.DeleteFunc(d.Items, func(it *decl.Item) bool { return k == nil || k.Item(it.Name) < 0 })
}

// goesOver reports whether a rule goes over all items of a kind.
func (m *Model) goesOver(k *check.Kind) bool {
	for _, a := range m.Axes {
		if a.Kind == k.Kind {
			return true
		}
	}
	found := false
	m.eachExpr(func(e *check.Expr) {
		found = found || e.Fold != nil && e.Fold.Items == k
	})
	return found
}

// referred are the names of the items of a kind that formulas or studies name,
// or that items of other kinds, or those of the kind itself, refer to.
func (m *Model) referred(k *check.Kind) map[string]bool {
	out := map[string]bool{}
	for item := range m.NamedByStudies(k) {
		out[k.Items[item].Name] = true
	}
	m.eachExpr(func(e *check.Expr) {
		if e.Ref != nil && e.Ref.Origin == check.Fixed && e.Ref.Kind == k {
			out[k.Items[e.Ref.Item].Name] = true
		}
	})
	for _, q := range m.Quantities {
		if q.To != k {
			continue
		}
		for item, it := range q.Kind.Items {
			if g := q.GivenFor(it); g != nil {
				for _, name := range g.Texts {
					out[name] = true
				}
			} else if v := m.Result.At(q, item, 0); v == v && q.Type == decl.Reference {
				out[k.Items[int(v)].Name] = true
			}
		}
	}
	return out
}

// eachExpr calls f for every part of every formula and sentence.
func (m *Model) eachExpr(f func(e *check.Expr)) {
	for _, q := range m.Quantities {
		q.Value.Walk(f)
		q.Start.Walk(f)
		for _, own := range q.Own {
			own.Walk(f)
		}
	}
	sentence := func(parts []check.Part) {
		for _, p := range parts {
			p.Read.Walk(f)
		}
	}
	for _, k := range m.Kinds {
		sentence(k.Summary)
	}
	for _, c := range m.Checks {
		sentence(c.Message)
	}
	for _, q := range m.Questions {
		sentence(q.Sentence)
	}
	for _, d := range m.Drawings {
		d.Walk(f)
	}
}
