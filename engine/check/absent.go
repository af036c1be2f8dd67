package check

import "bankwright/engine/decl"

// absence finds which quantities can be without a value, in the order of
// evaluation, so that a spreadsheet is guarded there and only there.
func (c *checker) absence() {
	for _, q := range c.prog.Quantities {
		if q.Value == nil {
			q.MayBeAbsent = q.Optional && q.Default == nil
		}
	}
	for _, g := range c.prog.Order {
		for again := true; again; { // within a group values go round through prev
			again = false
			for _, n := range g.Nodes {
				q := n.Quantity
				if q.MayBeAbsent {
					continue
				}
				e := q.Value
				if n.Item >= 0 {
					e = q.Own[n.Item]
				}
				if e.MayBeAbsent() || q.Start.MayBeAbsent() {
					q.MayBeAbsent, again = true, true
				}
			}
		}
	}
}

// MayBeAbsent reports whether e can be without a value because an optional
// input is. A series that does not use all its steps is not absent, it ends.
func (e *Expr) MayBeAbsent() bool {
	if e == nil {
		return false
	}
	switch e.Op {
	case Nothing:
		return true
	case Read:
		return e.Ref.MayBeAbsent()
	case Column:
		return e.Ref != nil && e.Ref.MayBeAbsent()
	case Else:
		return e.Args[1].MayBeAbsent()
	case Call:
		if e.Fn.Measure != nil { // a recording may lack what is looked for
			return true
		}
	case Fold:
		if e.Fold.Least() > 0 || e.Fold.Set != nil && e.Fold.Set.MayBeAbsent() {
			return true
		}
	}
	for _, a := range e.Args {
		if a.MayBeAbsent() {
			return true
		}
	}
	return false
}

// MayBeAbsent reports whether a step of the way, or its end, can be absent.
func (r *Ref) MayBeAbsent() bool {
	for _, h := range r.Hops {
		if h.MayBeAbsent {
			return true
		}
	}
	return r.Target.MayBeAbsent && r.Target.Type != decl.Set
}
