package eval

import (
	"math"

	"bankwright/engine/check"
	"bankwright/engine/decl"
)

// Reason is why a cell has no value.
type Reason int8

const (
	// Present: the cell has a value.
	Present Reason = iota
	// Absent: an optional input was not given.
	Absent
	// Beyond: the step is not among those in use.
	Beyond
	// Failed: an operation has no result for these values.
	Failed
)

// Cell is one quantity of one item, of one row of its storage.
type Cell = check.Place

// Cause is where a missing value comes from: the cell, and for a failure the
// part of its formula that has no result.
type Cause struct {
	Cell     Cell
	Expr     *check.Expr // Failed: the operation; Absent: an aggregate that has too few values, or what a recording has not
	Reason   Reason
	TooLarge bool // Failed: the operation gives an infinity
}

// spot is a worker that stands at one cell and evaluates parts of its formula.
func (r *Result) spot(c Cell) *worker {
	w := &worker{}
	w.stand(r, c)
	return w
}

// stand puts a worker at a cell.
func (w *worker) stand(r *Result, c Cell) {
	*w = worker{r: r, q: c.Quantity, item: c.Item, regs: w.regs}
	w.axes = c.Quantity.Axes
	w.steps = c.Quantity.StepsOf(c.Row)
	if n := len(w.steps); n > 0 && w.steps[n-1] < 0 { // a start: its last axis is not current
		w.axes, w.steps = w.axes[:n-1], w.steps[:n-1]
	}
}

// formulaOf is what computes a cell, nil for a given value.
func formulaOf(c Cell) *check.Expr {
	q := c.Quantity
	if n := len(q.Axes); q.Start != nil && n > 0 && q.StepsOf(c.Row)[n-1] < 0 {
		return q.Start
	}
	if q.Value != nil {
		return q.Value
	}
	return q.Own[c.Item]
}

// InUse reports whether the step of a cell is among those that its item uses. A
// given series has values beyond them as well, which nothing reads.
func (r *Result) InUse(c Cell) bool { return r.spot(c).inUse() }

// EachMissing calls f for every cell in use that has no value.
func (r *Result) EachMissing(f func(Cell)) {
	var w worker
	for _, q := range r.Program.Quantities {
		if q.Type.Tabular() {
			continue
		}
		n := len(q.Kind.Items)
		for row := range q.Rows() {
			there := false
			for item, v := range r.cols[q.Index][row*n:][:n] {
				if v == v {
					continue
				}
				c := Cell{Quantity: q, Item: item, Row: row}
				if !there {
					w.stand(r, c)
					there = true
				}
				if w.item = item; w.inUse() {
					f(c)
				}
			}
		}
	}
}

// Why traces a missing value to its cause. What was traced is kept: many cells
// are missing for the same reason, and the ways to it run together.
func (r *Result) Why(c Cell) Cause {
	if v := r.At(c.Quantity, c.Item, c.Row); v == v {
		return Cause{Reason: Present, Cell: c}
	}
	at := r.traced.place(c)
	if *at == 0 {
		cause := r.trace(c)
		*at = r.traced.keep(cause)
	}
	return r.traced.causes[*at-1]
}

// traced is what Why found: a number for each cell of the quantities that it was asked of,
// since a large model may miss millions of values for a handful of reasons.
type traced struct {
	of     [][]int32 // by quantity, as their values lie: one more than the place of the cause; 0: not traced
	causes []Cause
}

// place is where the number of a cell's cause stands.
func (t *traced) place(c Cell) *int32 {
	q := c.Quantity
	if q.Index >= len(t.of) {
		t.of = append(t.of, make([][]int32, q.Index+1-len(t.of))...)
	}
	n := len(q.Kind.Items)
	if t.of[q.Index] == nil {
		t.of[q.Index] = make([]int32, n*q.Rows())
	}
	return &t.of[q.Index][c.Row*n+c.Item]
}

// keep is the number of a cause, the same as of the cell in which it lies where that was
// traced before.
func (t *traced) keep(cause Cause) int32 {
	if n := *t.place(cause.Cell); n > 0 && t.causes[n-1] == cause {
		return n
	}
	t.causes = append(t.causes, cause)
	return int32(len(t.causes))
}

// trace is Why for a cell without a value.
func (r *Result) trace(c Cell) Cause {
	var w *worker
	if n := len(r.idle); n > 0 {
		w, r.idle = r.idle[n-1], r.idle[:n-1]
	} else {
		w = &worker{}
	}
	defer func() { r.idle = append(r.idle, w) }()
	w.stand(r, c)
	if !w.inUse() {
		return Cause{Reason: Beyond, Cell: c}
	}
	e := formulaOf(c)
	if e == nil {
		return Cause{Reason: Absent, Cell: c}
	}
	return w.why(c, e)
}

// rowOf is the row that a reference reads at the worker's steps.
func (w *worker) rowOf(ref *check.Ref) int {
	at := rowOf(ref.Target, w.axes)
	if ref.Prev {
		at.off--
	}
	return at.at(w.steps)
}

// value evaluates a part of the formula at the worker's cell.
func (w *worker) value(e *check.Expr) float64 {
	if e.Op == check.Read { // most parts are, and need no program
		if item := w.reach(e.Ref); item >= 0 {
			return w.cell(e.Ref.Target, item, w.rowOf(e.Ref))
		}
		return math.NaN()
	}
	c := w.r.parts[e]
	if c == nil {
		if w.r.parts == nil {
			w.r.parts = map[*check.Expr]*code{}
		}
		c = compile(e, w.axes)
		w.r.parts[e] = c
	}
	return w.run(c, 0)
}

// why finds the part of e, which has no value, that is to blame.
func (w *worker) why(c Cell, e *check.Expr) Cause {
	missing := func(e *check.Expr) bool { v := w.value(e); return v != v }
	switch e.Op {
	case check.Nothing:
		return Cause{Reason: Absent, Cell: c}
	case check.Read:
		return w.whyRead(c, e)
	case check.If:
		if missing(e.Args[0]) {
			return w.why(c, e.Args[0])
		}
		if w.value(e.Args[0]) != 0 {
			return w.why(c, e.Args[1])
		}
		return w.why(c, e.Args[2])
	case check.Else:
		return w.why(c, e.Args[1])
	case check.Fold:
		return w.whyFold(c, e)
	}
	for _, a := range e.Args {
		switch {
		case a.Op == check.Column:
			if cause, ok := w.whyColumn(a); ok {
				return cause
			}
		case a.Op == check.Fold && a.Fold.Kind == check.Steps:
			if cause := w.whyFold(c, a); cause.Cell != c {
				return cause
			}
		case missing(a):
			return w.why(c, a)
		}
	}
	if e.Op == check.Call && e.Fn.Measure != nil { // the recording has nothing of the sort
		return Cause{Reason: Absent, Cell: c, Expr: e}
	}
	return Cause{Reason: Failed, Cell: c, Expr: e, TooLarge: w.tooLarge(e)}
}

// tooLarge reports whether an operation, all of whose operands are there, has
// no value because it is too large to be a number.
func (w *worker) tooLarge(e *check.Expr) bool {
	switch e.Op {
	case check.Add, check.Sub, check.Mul:
		return true
	case check.Div:
		return w.value(e.Args[1]) != 0
	case check.Pow:
		x, y := w.value(e.Args[0]), 0.0
		if x != 0 { // zero to a power below zero is a division by zero
			y = w.value(e.Args[1])
		}
		return math.IsInf(math.Pow(x, y), 0)
	case check.Call:
		if e.Fn.Columns() > 0 {
			return false
		}
		var x []float64
		for _, a := range e.Args {
			x = append(x, w.value(a))
		}
		return math.IsInf(e.Fn.Apply(nil, x), 0)
	}
	return false
}

func (w *worker) whyRead(c Cell, e *check.Expr) Cause {
	item := w.reach(e.Ref)
	if item < 0 {
		return Cause{Reason: Absent, Cell: w.firstAbsentHop(e.Ref)}
	}
	return w.r.Why(Cell{Quantity: e.Ref.Target, Item: item, Row: w.rowOf(e.Ref)})
}

// firstAbsentHop is the reference on the way that is not given.
func (w *worker) firstAbsentHop(ref *check.Ref) Cell {
	for i, hop := range ref.Hops {
		part := *ref
		part.Hops = ref.Hops[:i]
		item := w.reach(&part)
		if v := w.r.At(hop, item, 0); v != v {
			return Cell{Quantity: hop, Item: item}
		}
	}
	return Cell{Quantity: ref.Target}
}

func (w *worker) whyColumn(a *check.Expr) (Cause, bool) {
	if a.Ref == nil || w.column(a) != nil || a.Ref.Target.Type == decl.Recording && w.recording(a) != nil {
		return Cause{}, false
	}
	item := w.reach(a.Ref)
	if item < 0 {
		return Cause{Reason: Absent, Cell: w.firstAbsentHop(a.Ref)}, true
	}
	return Cause{Reason: Absent, Cell: Cell{Quantity: a.Ref.Target, Item: item}}, true
}

func (w *worker) whyFold(c Cell, e *check.Expr) Cause {
	spec := e.Fold
	n := 0
	failed := func() Cause {
		few := n < spec.Least()
		cause := Cause{Reason: Failed, Cell: c, Expr: e, TooLarge: spec.Kind == check.Sum || spec.Kind == check.Deviation}
		if few {
			cause.Reason, cause.TooLarge = Absent, false
		}
		return cause
	}
	if spec.Items != nil {
		for w.each = range spec.Items.Items {
			if spec.Set != nil && !w.member(spec.Set) {
				continue
			}
			n++
			if v := w.value(e.Args[0]); v != v {
				return w.why(c, e.Args[0])
			}
		}
		return failed()
	}
	if spec.Kind == check.Length {
		cause, _ := w.whyColumn(e.Args[0])
		return cause
	}
	ref := e.Args[0].Ref
	item := w.reach(ref)
	if item < 0 {
		return Cause{Reason: Absent, Cell: w.firstAbsentHop(ref)}
	}
	var missing *Cell
	row, along := seriesRows(e, w.axes)
	w.eachRow(ref.Target, row, along, spec.Over, item, func(row int) {
		n++
		cell := Cell{Quantity: ref.Target, Item: item, Row: row}
		if v := w.r.At(cell.Quantity, cell.Item, cell.Row); v != v && missing == nil {
			missing = &cell
		}
	})
	if missing != nil {
		return w.r.Why(*missing)
	}
	return failed()
}
