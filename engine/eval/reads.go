package eval

import (
	"bankwright/engine/check"
	"bankwright/engine/decl"
)

// Reads are the cells whose values a part of a cell's formula reads, as far as
// they are needed: not those in an arm of ?: that is not taken.
func (r *Result) Reads(c Cell) []Cell {
	if q := c.Quantity; q.Inverse != nil {
		return []Cell{{Quantity: q.Inverse, Item: q.StepsOf(c.Row)[0]}}
	}
	e := formulaOf(c)
	if e == nil {
		return nil
	}
	w := r.spot(c)
	seen := map[Cell]bool{}
	var out []Cell
	w.reads(e, func(cell Cell) {
		if !seen[cell] {
			seen[cell] = true
			out = append(out, cell)
		}
	})
	return out
}

func (w *worker) reads(e *check.Expr, add func(Cell)) {
	switch e.Op {
	case check.Read:
		if item := w.reach(e.Ref); item >= 0 {
			add(Cell{Quantity: e.Ref.Target, Item: item, Row: w.rowOf(e.Ref)})
		}
	case check.Column:
		if e.Ref != nil {
			if item := w.reach(e.Ref); item >= 0 {
				add(Cell{Quantity: e.Ref.Target, Item: item, Row: 0})
			}
		}
	case check.If:
		w.reads(e.Args[0], add)
		if c := w.value(e.Args[0]); c == c {
			w.reads(e.Args[2-int(c)], add)
		}
	case check.Fold:
		w.foldReads(e, add)
	default:
		for _, a := range e.Args {
			w.reads(a, add)
		}
	}
}

func (w *worker) foldReads(e *check.Expr, add func(Cell)) {
	spec := e.Fold
	if spec.Items != nil {
		for w.each = range spec.Items.Items {
			if spec.Set == nil || w.member(spec.Set) {
				w.reads(e.Args[0], add)
			}
		}
		return
	}
	if spec.Kind == check.Length {
		w.reads(e.Args[0], add)
		return
	}
	ref := e.Args[0].Ref
	item := w.reach(ref)
	if item < 0 {
		return
	}
	row, along := seriesRows(e, w.axes)
	w.eachRow(ref.Target, row, along, spec.Over, item, func(row int) {
		add(Cell{Quantity: ref.Target, Item: item, Row: row})
	})
}

// ReadsOf are the cells that the failed part of a formula reads.
func (r *Result) ReadsOf(cause Cause) []Cell {
	var out []Cell
	seen := map[Cell]bool{}
	r.spot(cause.Cell).reads(cause.Expr, func(c Cell) {
		if !seen[c] {
			seen[c] = true
			out = append(out, c)
		}
	})
	return out
}

// Target is the cell that a Read outside any series reads for an item of the kind
// that it was resolved for; false where a reference on the way is absent.
func (r *Result) Target(e *check.Expr, item int) (Cell, bool) {
	to := (&worker{r: r, item: item}).reach(e.Ref)
	return Cell{Quantity: e.Ref.Target, Item: to}, to >= 0
}

// Reach is the value that a Read outside any series gives for an item of the
// kind that it was resolved for.
func (r *Result) Reach(e *check.Expr, item int) float64 { return r.Evaluate(e, item, nil, 0) }

// Evaluate is the value of an expression that belongs to no quantity, for an item
// of the kind that it was resolved for; NaN where it has none. Axis is the one that
// is current, at a step counted from 0; nil where there is none.
func (r *Result) Evaluate(e *check.Expr, item int, axis *decl.Axis, step int) float64 {
	w := &worker{r: r, item: item}
	if axis != nil {
		w.axes, w.steps = []*decl.Axis{axis}, []int{step}
	}
	return w.run(compile(e, w.axes), 0)
}
