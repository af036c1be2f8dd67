package engine

import (
	"math"

	"bankwright/engine/check"
	"bankwright/engine/diag"
)

// PartsTolerance is how far parts may be from what they add up to, as a share of the
// sum of their sizes.
const PartsTolerance = 1e-9

// Parts are the quantities that add up to a figure of the compared kind, and that
// figure; nil where the rules name none.
func (m *Model) Parts() (parts []*check.Quantity, sum *check.Quantity) {
	k := m.Compared()
	if k == nil || k.Compare.Parts == nil {
		return nil, nil
	}
	for _, name := range k.Compare.Parts.Of {
		parts = append(parts, k.Quantity(name))
	}
	return parts, k.Quantity(k.Compare.Parts.Sum)
}

// partsFault tells of the first item whose parts do not add up to their sum. It is
// the rules that are at fault then, whatever the scenario gives.
func (m *Model) partsFault(list *diag.List) {
	parts, sum := m.Parts()
	if parts == nil {
		return
	}
	k := m.Compared()
	for i := range k.Items {
		want, got, size := m.Result.At(sum, i, 0), 0.0, 0.0
		for _, q := range parts {
			v := m.Result.At(q, i, 0)
			got, size = got+v, size+math.Abs(v)
		}
		if want == want && !(math.Abs(got-want) <= PartsTolerance*math.Max(size, math.Abs(want))) {
			list.Errorf(k.Compare.Parts.At, "conflict", "Name all parts of it, and each once.", "the parts of %s come to %s for %s, but it is %s", sum.Name, m.Text(sum, got), k.Items[i].Name, m.Text(sum, want))
			return
		}
	}
}
