package export

import (
	"bankwright/engine/check"
	"bankwright/engine/eval"
)

// influence is what values follow from: inputs of single items, columns of
// tables, and whether numbers are compared on the way.
type influence struct {
	res      *eval.Result
	cells    map[influenceCell]bool
	queue    []influenceCell
	columns  map[columnKey]bool
	compares bool
}

type influenceCell struct {
	q    *check.Quantity
	item int
}

// influenceOn finds all that cells of quantities follow from, reference by
// reference: of a kind only those items that are reached.
func influenceOn(res *eval.Result, cells ...influenceCell) *influence {
	in := &influence{res: res, cells: map[influenceCell]bool{}, columns: map[columnKey]bool{}}
	for _, c := range cells {
		in.add(c.q, c.item)
	}
	for n := 0; n < len(in.queue); n++ {
		c := in.queue[n]
		if c.q.Inverse != nil {
			for i := range c.q.To.Items {
				in.add(c.q.Inverse, i)
			}
		}
		in.expr(c.q.Value, c.item, nil)
		in.expr(c.q.Start, c.item, nil)
		if len(c.q.Own) > 0 {
			in.expr(c.q.Own[c.item], c.item, nil)
		}
		for _, a := range c.q.Axes {
			in.expr(c.q.Kind.Active[a], c.item, nil)
		}
	}
	return in
}

// among is the same influence told in the names of another program, which was
// resolved from the same files and may have fewer items.
func (in *influence) among(prog *check.Program) *influence {
	out := &influence{cells: map[influenceCell]bool{}, columns: map[columnKey]bool{}, compares: in.compares}
	for c := range in.cells {
		k := prog.Kind(c.q.Kind.Name)
		if k == nil {
			continue
		}
		q, item := k.Quantity(c.q.Name), k.Item(c.q.Kind.Items[c.item].Name)
		if q != nil && item >= 0 { // else nothing that stands on a sheet: a check, an item left out
			out.cells[influenceCell{q, item}] = true
		}
	}
	for key := range in.columns {
		for _, t := range prog.Model.Tables {
			if t.Name == key.table.Name {
				out.columns[columnKey{t, key.col}] = true
			}
		}
	}
	return out
}

func (in *influence) add(q *check.Quantity, item int) {
	if c := (influenceCell{q, item}); !in.cells[c] {
		in.cells[c] = true
		in.queue = append(in.queue, c)
	}
}

// expr follows an expression that is evaluated for an item; each are the items
// that the aggregate around it runs over.
func (in *influence) expr(e *check.Expr, item int, each []int) {
	if e == nil {
		return
	}
	switch {
	case e.Ref != nil:
		in.follow(e.Ref, item, each)
	case e.Op == check.Column:
		in.columns[columnKey{e.Table, e.Col}] = true
	case e.Op == check.Call, e.Op >= check.Eq && e.Op <= check.Ge:
		in.compares = true
	case e.Op == check.Fold && e.Fold.Items != nil:
		each = in.over(e.Fold, item, each)
	}
	for _, a := range e.Args {
		in.expr(a, item, each)
	}
}

// over are the items that an aggregate counts.
func (in *influence) over(spec *check.FoldSpec, item int, each []int) []int {
	n := len(spec.Items.Items)
	member := make([]bool, n)
	if spec.Set != nil {
		for _, owner := range in.follow(spec.Set, item, each) {
			for i := range n {
				member[i] = member[i] || in.res.At(spec.Set.Target, owner, i) == 1
			}
		}
	}
	var out []int
	for i := range n {
		if spec.Set == nil || member[i] {
			out = append(out, i)
		}
	}
	return out
}

// follow adds what a reference passes and where it ends, and returns the items
// there.
func (in *influence) follow(r *check.Ref, item int, each []int) []int {
	at := []int{item}
	switch r.Origin {
	case check.One:
		at = []int{0}
	case check.Fixed:
		at = []int{r.Item}
	case check.Each:
		at = each
	case check.AxisItem:
		at = nil
		for i := range r.Kind.Items {
			at = append(at, i)
		}
	}
	for _, h := range r.Hops {
		var next []int
		for _, i := range at {
			in.add(h, i)
			if v := in.res.At(h, i, 0); v == v {
				next = append(next, int(v))
			}
		}
		at = next
	}
	for _, i := range at {
		in.add(r.Target, i)
	}
	return at
}
