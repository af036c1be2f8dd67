package eval

import (
	"math"
	"slices"

	"bankwright/engine/arith"
	"bankwright/engine/check"
	"bankwright/engine/decl"
)

// worker runs code at one cell after another.
type worker struct {
	r    *Result
	lane *lane // the point of a sweep at which it stands; nil: the base point

	q     *check.Quantity // whose formula runs
	item  int
	axes  []*decl.Axis // current axes, parallel to steps
	steps []int        // the current step on each axis
	each  int          // the item of the aggregate around
	regs  []float64
	ready readied

	lists   [4][]float64 // arguments of the function that is called
	numbers [8]float64

	counts []int // of the nodes that run together: for each item and axis how many steps are in use
	first  []int // by node: where its counts begin, -1 where all are in use
}

// cell is the value of a cell where the worker stands.
func (w *worker) cell(q *check.Quantity, item, row int) float64 {
	if w.lane != nil {
		return w.lane.cell(q, item, row)
	}
	return w.r.cols[q.Index][row*len(q.Kind.Items)+item]
}

// run executes code. Registers from base on are free.
func (w *worker) run(c *code, base int) float64 {
	if n := base + c.deep; len(w.regs) < n {
		w.regs = append(w.regs, make([]float64, n-len(w.regs))...)
	}
	reg := w.regs[base : base+c.regs]
	for i := 0; i < len(c.instrs); i++ {
		in := &c.instrs[i]
		switch in.op {
		case opConst:
			reg[in.dst] = in.num
		case opRead:
			reg[in.dst] = w.read(in)
		case opStep:
			reg[in.dst] = float64(w.steps[in.axis] + 1)
		case opNeg, opNot:
			reg[in.dst] = unary(in.op, reg[in.a])
		case opAdd:
			reg[in.dst] = arith.Finite(reg[in.a] + reg[in.b])
		case opSub:
			reg[in.dst] = arith.Finite(reg[in.a] - reg[in.b])
		case opMul:
			reg[in.dst] = arith.Finite(reg[in.a] * reg[in.b])
		case opIf:
			reg[in.dst] = choice(reg[in.a], reg[in.b], reg[in.c])
		case opCall:
			reg[in.dst] = w.call(in, reg)
		case opMeasure:
			reg[in.dst] = w.measure(in, reg)
		case opFoldItems:
			reg[in.dst] = w.foldItems(in, base+c.regs)
		case opFoldSeries:
			reg[in.dst] = w.foldSeries(in)
		case opLength:
			reg[in.dst] = w.length(in.expr.Args[0])
		case opJumpFalse, opJumpTrue, opJumpPresent:
			if jumps(in.op, reg[in.a]) {
				i = int(in.b) - 1
			}
		default:
			reg[in.dst] = binary(in.op, reg[in.a], reg[in.b])
		}
	}
	return reg[c.out]
}

// step is the current step on an axis, from 0.
func (w *worker) step(a *decl.Axis) int {
	if i := slices.Index(w.axes, a); i >= 0 {
		return w.steps[i]
	}
	return -1
}

// origin is the item from which a reference starts.
func (w *worker) origin(ref *check.Ref) int {
	switch ref.Origin {
	case check.One:
		return 0
	case check.Fixed:
		return ref.Item
	case check.Each:
		return w.each
	case check.AxisItem:
		return w.step(ref.Axis)
	}
	return w.item
}

// reach follows a reference to the item at its end, -1 where a reference on the
// way is absent.
func (w *worker) reach(ref *check.Ref) int {
	item := w.origin(ref)
	for _, hop := range ref.Hops {
		v := w.cell(hop, item, 0)
		if v != v {
			return -1
		}
		item = int(v)
	}
	return item
}

// read is what a reference reaches.
func (w *worker) read(in *instr) float64 {
	ref := in.expr.Ref
	item := w.item
	if ref.Origin != check.Self || len(ref.Hops) > 0 {
		if item = w.reach(ref); item < 0 {
			return math.NaN()
		}
	}
	return w.cell(ref.Target, item, in.row.at(w.steps))
}

// column is a table column, or that of the points which a reference reaches, or
// the values of a series; nil where a reference on the way is absent.
func (w *worker) column(e *check.Expr) []float64 {
	if e.Table != nil {
		return w.r.machine.tables[tableKey{e.Table, e.Col}]
	}
	if e.Op == check.Fold {
		return w.history(e)
	}
	item := w.reach(e.Ref)
	if item < 0 || e.Ref.Target.Type != decl.Points || w.r.points[e.Ref.Target.Index][item] == nil {
		return nil
	}
	return w.r.points[e.Ref.Target.Index][item][e.Col]
}

// history is the values along the steps in use of a series; nil where a
// reference on the way is absent.
func (w *worker) history(e *check.Expr) []float64 {
	ref := e.Args[0].Ref
	item := w.reach(ref)
	if item < 0 {
		return nil
	}
	out := []float64{}
	row, along := seriesRows(e, w.axes)
	w.eachRow(ref.Target, row, along, e.Fold.Over, item, func(row int) { out = append(out, w.cell(ref.Target, item, row)) })
	return out
}

// call applies a registry function.
func (w *worker) call(in *instr, reg []float64) float64 {
	fn := in.expr.Fn
	cols := w.lists[:fn.Columns()]
	for j := range cols {
		if cols[j] = w.column(in.expr.Args[j]); cols[j] == nil {
			return math.NaN()
		}
	}
	if one := w.ready.single(fn, cols); one.At != nil {
		if x := reg[in.args[0]]; x == x {
			return arith.Finite(one.At(x))
		}
		return math.NaN()
	}
	x := w.numbers[:0]
	for _, a := range in.args {
		x = append(x, reg[a])
	}
	return arith.Finite(fn.Apply(cols, x))
}

// length is the number of rows of a column.
func (w *worker) length(col *check.Expr) float64 {
	if c := w.column(col); c != nil {
		return float64(len(c))
	}
	return math.NaN()
}

// active is how many steps of an axis are in use for an item of a kind, where the
// worker stands.
func (w *worker) active(k *check.Kind, a *decl.Axis, item int) int {
	e := k.Active[a]
	if e == nil {
		return a.Steps
	}
	return inUse(w.cell(e.Ref.Target, limitItem(e.Ref, item), 0), a)
}

// inUse reports whether the current step is within the active ones.
func (w *worker) inUse() bool {
	for i, a := range w.axes {
		if w.q.Kind.Active[a] != nil && w.steps[i] >= w.active(w.q.Kind, a, w.item) {
			return false
		}
	}
	return true
}
