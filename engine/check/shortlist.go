package check

import "bankwright/engine/decl"

// shortlisting checks what the compared kind says of comparing many items.
func (c *checker) shortlisting(k *Kind) {
	for _, name := range k.Compare.Table {
		if q := k.Quantity(name); q == nil {
			c.list.Errorf(k.Compare.At, "unknown-name", oneOf(name, "It has ", k.QuantityNames()), "%s has no quantity %s for the table", k.Name, name)
		} else if len(q.Axes) > 0 || q.Type.Tabular() {
			c.list.Errorf(k.Compare.At, "series", "Name a quantity with one value.", "%s is a series and cannot be a column of the table", name)
		}
	}
	f := k.Compare.Frontier
	if f == nil {
		return
	}
	for _, name := range []string{f.Lowest, f.Highest} {
		if q := k.Quantity(name); q == nil {
			c.list.Errorf(f.At, "unknown-name", oneOf(name, "It has ", k.QuantityNames()), "%s has no quantity %s for the frontier", k.Name, name)
		} else if q.Type != decl.Number || len(q.Axes) > 0 {
			c.list.Errorf(f.At, "wrong-kind", "Name single numbers.", "%s cannot make a frontier: it is not a single number", name)
		}
	}
}
