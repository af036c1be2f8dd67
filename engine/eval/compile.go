package eval

import (
	"math"
	"slices"

	"bankwright/engine/check"
	"bankwright/engine/decl"
)

// opcode is what an instruction does.
type opcode uint8

const (
	opConst opcode = iota
	opRead
	opStep
	opNeg
	opNot
	opAdd
	opSub
	opMul
	opDiv
	opPow
	opEqNum
	opNeNum
	opEqText
	opNeText
	opLt
	opLe
	opGt
	opGe
	opAnd
	opOr
	opMin
	opMax
	opElse
	opIf
	opCall
	opMeasure
	opFoldItems
	opFoldSeries
	opLength
	opJumpFalse   // to instruction b where a is false or missing
	opJumpTrue    // where a is true or missing
	opJumpPresent // where a is there
)

// instr is one operation: registers a, b, c (or args) into dst.
type instr struct {
	op      opcode
	dst     int32
	a, b, c int32
	num     float64
	expr    *check.Expr
	row     rowAt // opRead, opFoldSeries: where the values lie
	along   rowAt // opFoldSeries: how far the steps that are collapsed lie apart
	axis    int32 // opStep: place among the current axes
	args    []int32
	body    *code // the body of an aggregate over items
}

// code computes one expression; its result is in register out. Every register is
// written once.
type code struct {
	axes   []*decl.Axis // the axes that are current when it runs
	instrs []instr
	regs   int
	out    int32
	deep   int // registers of it and of the bodies in it

	known []int32 // while it is compiled: instructions whose results may be used again
	by    []int32 // by register: the instruction that writes it
}

// rowAt is a row of a quantity, as it depends on the current steps.
type rowAt struct {
	off int32
	by  [4]int32 // for each current axis
}

func (r *rowAt) at(steps []int) int {
	row := int(r.off)
	for i, s := range steps {
		row += s * int(r.by[i])
	}
	return row
}

// rowOf is the row of q at the steps of some axes. The axes of q that are not
// among them stand at their first step.
func rowOf(q *check.Quantity, axes []*decl.Axis) rowAt {
	var r rowAt
	if len(q.Axes) == 0 {
		return r
	}
	first := make([]int, len(q.Axes))
	begin := q.Row(first...)
	r.off = int32(begin)
	for i, a := range axes {
		if j := slices.Index(q.Axes, a); j >= 0 {
			first[j] = 1
			r.by[i] = int32(q.Row(first...) - begin)
			first[j] = 0
		}
	}
	return r
}

// seriesRows is where the values of an aggregate over a series begin, and how far
// the steps that it collapses lie apart.
func seriesRows(e *check.Expr, axes []*decl.Axis) (row, along rowAt) {
	q := e.Args[0].Ref.Target
	along = rowOf(q, e.Fold.Over)
	along.off = 0
	return rowOf(q, axes), along
}

// same reports whether two instructions compute the same from the same registers. Zero
// and -0 are two values.
func (i *instr) same(j *instr) bool {
	return i.op == j.op && i.a == j.a && i.b == j.b && i.c == j.c && math.Float64bits(i.num) == math.Float64bits(j.num) &&
		(i.op != opRead || sameRef(i.expr.Ref, j.expr.Ref))
}

// sameRef reports whether two references are the same path to the same quantity.
func sameRef(a, b *check.Ref) bool {
	return a.Target == b.Target && a.Origin == b.Origin && a.Item == b.Item && a.Axis == b.Axis && a.Prev == b.Prev && slices.Equal(a.Hops, b.Hops)
}

// compile turns an expression into code that runs where axes are current.
func compile(e *check.Expr, axes []*decl.Axis) *code {
	n := parts(e)
	room := make([]int32, 2*n)
	c := &code{axes: axes, instrs: make([]instr, 0, n), known: room[:0:n], by: room[n : n : 2*n]}
	c.out = c.emit(e)
	c.deep += c.regs
	c.known, c.by = nil, nil
	return c
}

// parts is about how many instructions an expression takes: some are shared, and some
// are jumped over.
func parts(e *check.Expr) int {
	if e.Op == check.Fold {
		return 1
	}
	n := 1
	for _, a := range e.Args {
		n += parts(a)
	}
	return n
}

func (c *code) push(i instr) int32 {
	i.dst = int32(c.regs)
	c.regs++
	c.by = append(c.by, int32(len(c.instrs)))
	c.instrs = append(c.instrs, i)
	return i.dst
}

// share is push, except that what has been computed already is not computed again,
// and what follows from literals alone is computed at once.
func (c *code) share(i instr) int32 {
	if v, ok := c.fold(&i); ok {
		i = instr{op: opConst, num: v}
	}
	for _, at := range c.known {
		if known := &c.instrs[at]; known.same(&i) {
			return known.dst
		}
	}
	c.known = append(c.known, int32(len(c.instrs)))
	return c.push(i)
}

// fold is the value of an operation on literals.
func (c *code) fold(i *instr) (float64, bool) {
	literal := func(r int32) (float64, bool) {
		in := &c.instrs[c.by[r]]
		return in.num, in.op == opConst
	}
	if i.op < opNeg || i.op > opElse {
		return 0, false
	}
	a, ok := literal(i.a)
	if i.op == opNeg || i.op == opNot {
		return unary(i.op, a), ok
	}
	b, also := literal(i.b)
	return binary(i.op, a, b), ok && also
}

var binaryOps = map[check.Op]opcode{
	check.Add: opAdd, check.Sub: opSub, check.Mul: opMul, check.Div: opDiv, check.Pow: opPow,
	check.Eq: opEqNum, check.Ne: opNeNum, check.Lt: opLt, check.Le: opLe, check.Gt: opGt, check.Ge: opGe,
	check.And: opAnd, check.Or: opOr, check.Else: opElse,
}

func (c *code) emit(e *check.Expr) int32 {
	switch e.Op {
	case check.Literal:
		return c.share(instr{op: opConst, num: e.Num})
	case check.Nothing:
		return c.share(instr{op: opConst, num: math.NaN()})
	case check.Read:
		return c.read(e)
	case check.Step:
		return c.push(instr{op: opStep, expr: e, axis: int32(slices.Index(c.axes, e.Axis))})
	case check.Neg:
		return c.share(instr{op: opNeg, a: c.emit(e.Args[0])})
	case check.Not:
		return c.share(instr{op: opNot, a: c.emit(e.Args[0])})
	case check.If:
		cond := c.emit(e.Args[0])
		yes := c.arm(opJumpFalse, cond, e.Args[1])
		no := c.arm(opJumpTrue, cond, e.Args[2])
		return c.share(instr{op: opIf, a: cond, b: yes, c: no})
	case check.Call:
		return c.call(e)
	case check.Fold:
		return c.aggregate(e)
	}
	op := binaryOps[e.Op]
	if (op == opEqNum || op == opNeNum) && e.Args[0].Type != decl.Number {
		op += opEqText - opEqNum
	}
	left := c.emit(e.Args[0])
	if jump, lazy := lazyOps[op]; lazy {
		return c.share(instr{op: op, a: left, b: c.arm(jump, left, e.Args[1])})
	}
	return c.share(instr{op: op, a: left, b: c.emit(e.Args[1])})
}

// lazyOps need their right side only where the left does not settle them.
var lazyOps = map[opcode]opcode{opAnd: opJumpFalse, opOr: opJumpTrue, opElse: opJumpPresent}

// arm emits what is needed only where a value does not let it be jumped over. What
// is computed in it is not shared with what comes after.
func (c *code) arm(jump opcode, on int32, e *check.Expr) int32 {
	if e.Op == check.Literal || e.Op == check.Nothing || e.Op == check.Read {
		return c.emit(e)
	}
	known, at := len(c.known), len(c.instrs)
	c.instrs = append(c.instrs, instr{op: jump, a: on, dst: -1})
	out := c.emit(e)
	c.instrs[at].b = int32(len(c.instrs))
	c.known = c.known[:known]
	return out
}

func (c *code) read(e *check.Expr) int32 {
	i := instr{op: opRead, expr: e, row: rowOf(e.Ref.Target, c.axes)}
	if e.Ref.Prev {
		i.row.off--
	}
	return c.share(i)
}

// call emits a registry function; min, max, clamp and discount are made of operations,
// because rules use them most.
func (c *code) call(e *check.Expr) int32 {
	args := make([]int32, 0, len(e.Args))
	for _, a := range e.Args[e.Columns():] {
		args = append(args, c.emit(a))
	}
	switch e.Fn.Name {
	case "clamp":
		inner := c.share(instr{op: opMax, a: args[0], b: args[1]})
		return c.share(instr{op: opMin, a: inner, b: args[2]})
	case "discount":
		grown := c.share(instr{op: opAdd, a: c.share(instr{op: opConst, num: 1}), b: args[0]})
		return c.share(instr{op: opPow, a: grown, b: c.share(instr{op: opNeg, a: args[1]})})
	case "min", "max":
		op := map[string]opcode{"min": opMin, "max": opMax}[e.Fn.Name]
		out := args[0]
		for _, a := range args[1:] {
			out = c.share(instr{op: op, a: out, b: a})
		}
		return out
	}
	if e.Fn.Measure != nil {
		return c.push(instr{op: opMeasure, expr: e, args: args})
	}
	return c.push(instr{op: opCall, expr: e, args: args})
}

func (c *code) aggregate(e *check.Expr) int32 {
	switch {
	case e.Fold.Kind == check.Length:
		return c.push(instr{op: opLength, expr: e})
	case e.Fold.Items != nil:
		body := compile(e.Args[0], c.axes)
		c.deep = max(c.deep, body.deep)
		return c.push(instr{op: opFoldItems, expr: e, body: body})
	}
	row, along := seriesRows(e, c.axes)
	return c.push(instr{op: opFoldSeries, expr: e, row: row, along: along})
}
