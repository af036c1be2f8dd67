package check

import (
	"bankwright/engine/decl"
	"bankwright/engine/diag"
)

// charting checks what the compared kind says of charts: single numbers of one sort.
// Whether parts add up is judged where there are values.
func (c *checker) charting(k *Kind) {
	c.alike(k, k.Compare.At, "chart", k.Compare.Chart)
	if p := k.Compare.Parts; p != nil {
		c.alike(k, p.At, "parts", append([]string{p.Sum}, p.Of...))
	}
}

// alike checks that names are those of single numbers in one unit.
func (c *checker) alike(k *Kind, at diag.Pos, key string, names []string) {
	var first *Quantity
	for _, name := range names {
		switch q := k.Quantity(name); {
		case q == nil:
			c.list.Errorf(at, "unknown-name", oneOf(name, "It has ", k.QuantityNames()), "%s has no quantity %s for `%s`", k.Name, name, key)
		case q.Type != decl.Number || len(q.Axes) > 0:
			c.list.Errorf(at, "wrong-kind", "Name single numbers.", "%s cannot be drawn by `%s`: it is not a single number", name, key)
		case first == nil:
			first = q
		case q.Unit.Name != first.Unit.Name:
			c.list.Errorf(at, "unit", "Name quantities with the same unit.", "`%s` draws quantities of one unit together, but %s is in %s and %s in %s", key, first.Name, first.Unit.Name, name, q.Unit.Name)
		}
	}
}
