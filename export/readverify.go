package export

import (
	"math"
	"slices"

	"bankwright/engine"
	"bankwright/engine/check"
	"bankwright/engine/decl"
)

// Differs compares a scenario that was written for a workbook with it: the cells whose
// value is another one, and the kinds whose items are others than those of the
// scenario from which the workbook came.
func (r *Readback) Differs(from, now *engine.Model) (cells []string, kinds map[string]bool) {
	kinds = map[string]bool{}
	for _, k := range from.Kinds {
		if other := now.Kind(k.Name); other == nil || !slices.Equal(namesOfItems(k), namesOfItems(other)) {
			kinds[k.Name] = true
		}
	}
	revised := map[inputKey]decl.Revision{}
	for _, v := range r.Revisions {
		k := r.pl.prog.Kind(v.Kind)
		revised[inputKey{k.Quantity(v.Quantity), k.Item(v.Item)}] = v
	}
	for _, k := range r.pl.prog.Kinds {
		other := now.Kind(k.Name)
		for _, q := range k.Quantities {
			if q.IsRule() || q.Inverse != nil || q.Type == decl.Recording || other == nil {
				continue
			}
			for item, it := range k.Items {
				i := other.Item(it.Name)
				if i < 0 {
					continue // told by its kind
				}
				v, changed := revised[inputKey{q, item}]
				if !r.agrees(q, item, v, changed, now, other.Quantity(q.Name), i) {
					cells = append(cells, r.pl.prog.CellName(check.Place{Quantity: q, Item: item}))
				}
			}
		}
	}
	return cells, kinds
}

// agrees compares one input of an item.
func (r *Readback) agrees(q *check.Quantity, item int, v decl.Revision, changed bool, now *engine.Model, to *check.Quantity, i int) bool {
	if f := to.OwnFormula(i); f != nil {
		was := q.OwnFormula(item)
		return !changed && was != nil && was.Text == f.Text || changed && v.Formula == f.Text
	}
	if changed && v.Formula != "" {
		return false
	}
	if q.Type == decl.Points {
		want := r.pl.res.PointsOf(q, item)
		if changed {
			want = inBase(q, v.Points)
		}
		return slices.EqualFunc(want, now.Result.PointsOf(to, i), func(a, b []float64) bool { return slices.EqualFunc(a, b, near) })
	}
	same, n := true, 0
	q.EachStep(func(steps []int, row int) {
		base := r.pl.res.At(q, item, row)
		want := r.pl.model.Text(q, base)
		if changed {
			want, base = r.revised(q, v, n)
		}
		got := now.Result.At(to, i, row)
		switch {
		case q.Type == decl.Number || q.Type == decl.Boolean:
			same = same && near(base, got)
		case q.Type == decl.Set:
			same = same && (near(base, got) || changed && base == 0 && got != got)
		default:
			same = same && want == now.Text(to, got) && (base == base) == (got == got)
		}
		n++
	})
	return same
}

// revised is what a revision says of the n-th value of an input: in base units, NaN
// where it is none, or as a text beside a number.
func (r *Readback) revised(q *check.Quantity, v decl.Revision, n int) (string, float64) {
	nan := math.NaN()
	switch {
	case v.Absent:
		return r.pl.model.Text(q, nan), nan
	case q.Type == decl.Number:
		return "", q.Unit.ToBase(v.Values[n])
	case q.Type == decl.Boolean:
		return "", v.Values[n]
	case q.Type == decl.Set:
		if slices.Contains(v.Texts, q.To.Items[n].Name) {
			return "", 1
		}
		return "", 0
	}
	return v.Texts[0], 0
}

// inBase are columns in base units, in the order in which the engine keeps them.
func inBase(q *check.Quantity, columns [][]float64) [][]float64 {
	if columns == nil {
		return nil
	}
	order := make([]int, len(columns[0]))
	for i := range order {
		order[i] = i
	}
	slices.SortFunc(order, func(a, b int) int {
		if columns[0][a] < columns[0][b] {
			return -1
		}
		return 1
	})
	out := make([][]float64, len(columns))
	for c, column := range columns {
		for _, i := range order {
			out[c] = append(out[c], q.Columns[c].Unit.ToBase(column[i]))
		}
	}
	return out
}

// near reports whether two values are the same but for the rounding of a unit.
func near(a, b float64) bool {
	d := a - b
	return a == b || a != a && b != b || max(d, -d) <= 1e-13*max(a, -a, b, -b)
}
