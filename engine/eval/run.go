package eval

import (
	"math"

	"bankwright/engine/check"
	"bankwright/engine/decl"
)

// run executes code over the current block. Registers from base on are free;
// the result stays valid until they are used again.
func (w *worker) run(c *code, base int) []float64 {
	n := w.hi - w.lo
	for size := w.size(); len(w.buf) < base+c.regs; {
		w.buf = append(w.buf, make([]float64, size))
	}
	reg := func(i int) []float64 { return w.buf[base+i][:n] }
	for i := range c.instrs {
		in := &c.instrs[i]
		dst := reg(in.dst)
		switch in.op {
		case opConst:
			for j := range dst {
				dst[j] = in.num
			}
		case opRead:
			w.read(dst, in.expr.Ref)
		case opStep:
			for j := range dst {
				dst[j] = float64(w.step(in.expr.Axis) + 1)
			}
		case opNeg, opNot:
			unary(in.op, dst, reg(in.a))
		case opAdd, opSub, opMul, opDiv, opPow, opMin, opMax:
			arithmetic(in.op, dst, reg(in.a), reg(in.b))
		case opAnd, opOr:
			logic(in.op, dst, reg(in.a), reg(in.b))
		case opElse:
			replace(dst, reg(in.a), reg(in.b))
		case opIf:
			choose(dst, reg(in.a), reg(in.b), reg(in.c))
		case opCall:
			w.call(dst, in, reg)
		case opMeasure:
			w.measure(dst, in, reg)
		case opFoldItems:
			w.foldItems(dst, in, base+c.regs)
		case opFoldSeries:
			w.foldSeries(dst, in.expr)
		case opLength:
			w.length(dst, in.expr.Args[0])
		default:
			comparison(in.op, dst, reg(in.a), reg(in.b))
		}
	}
	return reg(c.out)
}

// size is how many lanes a register holds.
func (w *worker) size() int {
	if w.single {
		return 1
	}
	return block
}

// step is the current step on an axis, from 0.
func (w *worker) step(a *decl.Axis) int {
	for i, b := range w.axes {
		if a == b {
			return w.steps[i]
		}
	}
	return -1
}

// reach follows a reference for a lane: the item at its end, -1 where a
// reference on the way is absent.
func (w *worker) reach(ref *check.Ref, lane int) (point, item int) {
	point, item = w.at(lane)
	switch ref.Origin {
	case check.One:
		item = 0
	case check.Fixed:
		item = ref.Item
	case check.Each:
		item = w.each
	case check.AxisItem:
		item = w.step(ref.Axis)
	}
	for _, hop := range ref.Hops {
		v := w.r.AtPoint(hop, point, item, 0)
		if v != v {
			return point, -1
		}
		item = int(v)
	}
	return point, item
}

// rowOf is the row of q at the current steps; the axes of q that are not current
// take the steps that over gives.
func (w *worker) rowOf(q *check.Quantity, over []*decl.Axis, at []int) int {
	if len(q.Axes) == 0 {
		return 0
	}
	var steps [4]int
	use := steps[:0]
	for _, a := range q.Axes {
		s := w.step(a)
		for i, b := range over {
			if a == b {
				s = at[i]
			}
		}
		use = append(use, s)
	}
	return q.Row(use...)
}

// read gathers what a reference reaches.
func (w *worker) read(dst []float64, ref *check.Ref) {
	q := ref.Target
	row := w.rowOf(q, nil, nil)
	if ref.Prev {
		row--
	}
	n := len(q.Kind.Items)
	col := w.r.cols[q.Index][row*w.r.Points*n : (row+1)*w.r.Points*n]
	if ref.Origin == check.Self && len(ref.Hops) == 0 && w.item < 0 {
		copy(dst, col[w.lo:w.hi])
		return
	}
	for i := range dst {
		p, item := w.reach(ref, w.lo+i)
		if item < 0 {
			dst[i] = math.NaN()
		} else {
			dst[i] = col[p*n+item]
		}
	}
}

// column is a table column, or that of the points which a reference reaches.
func (w *worker) column(e *check.Expr, lane int) []float64 {
	if e.Table != nil {
		return w.r.tableColumn(e.Table, e.Col)
	}
	if e.Op == check.Fold {
		return w.history(e, lane)
	}
	_, item := w.reach(e.Ref, lane)
	if item < 0 || e.Ref.Target.Type != decl.Points || w.r.points[e.Ref.Target.Index][item] == nil {
		return nil
	}
	return w.r.points[e.Ref.Target.Index][item][e.Col]
}

// history is the values along the steps in use of a series; nil where a
// reference on the way is absent.
func (w *worker) history(e *check.Expr, lane int) []float64 {
	ref, over := e.Args[0].Ref, e.Fold.Over
	p, item := w.reach(ref, lane)
	if item < 0 {
		return nil
	}
	out := []float64{}
	w.eachValue(ref.Target, over, p, item, func(v float64) { out = append(out, v) })
	return out
}

// call applies a registry function lane by lane.
func (w *worker) call(dst []float64, in *instr, reg func(int) []float64) {
	fn := in.expr.Fn
	cols := make([][]float64, fn.Columns())
	x := make([]float64, len(in.args))
lanes:
	for i := range dst {
		for j := range cols {
			if cols[j] = w.column(in.expr.Args[j], w.lo+i); cols[j] == nil {
				dst[i] = math.NaN()
				continue lanes
			}
		}
		for j, a := range in.args {
			x[j] = reg(a)[i]
		}
		dst[i] = finite(fn.Apply(cols, x))
	}
}

// length is the number of rows of a column.
func (w *worker) length(dst []float64, col *check.Expr) {
	for i := range dst {
		c := w.column(col, w.lo+i)
		dst[i] = float64(len(c))
		if c == nil {
			dst[i] = math.NaN()
		}
	}
}
