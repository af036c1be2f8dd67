package eval

import (
	"maps"
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
	dst     int
	a, b, c int
	num     float64
	expr    *check.Expr
	row     rowAt // opRead, opFoldSeries: where the values lie
	along   rowAt // opFoldSeries: how far the steps that are collapsed lie apart
	axis    int   // opStep: place among the current axes
	args    []int
	body    *code // the body of an aggregate over items
}

// code computes one expression; its result is in register out. Every register is
// written once.
type code struct {
	axes   []*decl.Axis // the axes that are current when it runs
	instrs []instr
	regs   int
	out    int
	deep   int // registers of it and of the bodies in it

	known    map[instrKey]int // what has been computed already
	literals map[int]float64  // registers that hold them
}

// rowAt is a row of a quantity, as it depends on the current steps.
type rowAt struct {
	off int
	by  [4]int // for each current axis
}

func (r *rowAt) at(steps []int) int {
	row := r.off
	for i, s := range steps {
		row += s * r.by[i]
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
	r.off = q.Row(first...)
	for i, a := range axes {
		if j := slices.Index(q.Axes, a); j >= 0 {
			first[j] = 1
			r.by[i] = q.Row(first...) - r.off
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

// instrKey tells instructions apart by what they compute.
type instrKey struct {
	op      opcode
	a, b, c int
	num     uint64 // its bits: 0 and -0 are two values
	ref     refKey
}

// refKey tells reads apart: the same path to the same quantity.
type refKey struct {
	target *check.Quantity
	origin check.Origin
	item   int
	axis   *decl.Axis
	prev   bool
	hops   [3]*check.Quantity
}

// compile turns an expression into code that runs where axes are current.
func compile(e *check.Expr, axes []*decl.Axis) *code {
	c := &code{axes: axes, known: map[instrKey]int{}, literals: map[int]float64{}}
	c.out = c.emit(e)
	c.deep += c.regs
	c.known, c.literals = nil, nil
	return c
}

func (c *code) push(i instr) int {
	i.dst = c.regs
	c.regs++
	if i.op == opConst {
		c.literals[i.dst] = i.num
	}
	c.instrs = append(c.instrs, i)
	return i.dst
}

// share is push, except that what has been computed already is not computed again,
// and what follows from literals alone is computed at once.
func (c *code) share(i instr, ref refKey) int {
	if v, ok := c.fold(i); ok {
		i = instr{op: opConst, num: v}
	}
	key := instrKey{i.op, i.a, i.b, i.c, math.Float64bits(i.num), ref}
	if r, ok := c.known[key]; ok {
		return r
	}
	c.known[key] = c.push(i)
	return c.regs - 1
}

// fold is the value of an operation on literals.
func (c *code) fold(i instr) (float64, bool) {
	literal := func(r int) (float64, bool) {
		v, ok := c.literals[r]
		return v, ok
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

func (c *code) emit(e *check.Expr) int {
	switch e.Op {
	case check.Literal:
		return c.share(instr{op: opConst, num: e.Num}, refKey{})
	case check.Nothing:
		return c.share(instr{op: opConst, num: math.NaN()}, refKey{})
	case check.Read:
		return c.read(e)
	case check.Step:
		return c.push(instr{op: opStep, expr: e, axis: slices.Index(c.axes, e.Axis)})
	case check.Neg:
		return c.share(instr{op: opNeg, a: c.emit(e.Args[0])}, refKey{})
	case check.Not:
		return c.share(instr{op: opNot, a: c.emit(e.Args[0])}, refKey{})
	case check.If:
		cond := c.emit(e.Args[0])
		yes := c.arm(opJumpFalse, cond, e.Args[1])
		no := c.arm(opJumpTrue, cond, e.Args[2])
		return c.share(instr{op: opIf, a: cond, b: yes, c: no}, refKey{})
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
		return c.share(instr{op: op, a: left, b: c.arm(jump, left, e.Args[1])}, refKey{})
	}
	return c.share(instr{op: op, a: left, b: c.emit(e.Args[1])}, refKey{})
}

// lazyOps need their right side only where the left does not settle them.
var lazyOps = map[opcode]opcode{opAnd: opJumpFalse, opOr: opJumpTrue, opElse: opJumpPresent}

// arm emits what is needed only where a value does not let it be jumped over. What
// is computed in it is not shared with what comes after.
func (c *code) arm(jump opcode, on int, e *check.Expr) int {
	if e.Op == check.Literal || e.Op == check.Nothing || e.Op == check.Read {
		return c.emit(e)
	}
	known := maps.Clone(c.known)
	at := len(c.instrs)
	c.instrs = append(c.instrs, instr{op: jump, a: on, dst: -1})
	out := c.emit(e)
	c.instrs[at].b = len(c.instrs)
	c.known = known
	return out
}

func (c *code) read(e *check.Expr) int {
	ref := e.Ref
	i := instr{op: opRead, expr: e, row: rowOf(ref.Target, c.axes)}
	if ref.Prev {
		i.row.off--
	}
	key := refKey{target: ref.Target, origin: ref.Origin, item: ref.Item, axis: ref.Axis, prev: ref.Prev}
	if copy(key.hops[:], ref.Hops) < len(ref.Hops) {
		return c.push(i)
	}
	return c.share(i, key)
}

// call emits a registry function; min, max, clamp and discount are made of operations,
// because rules use them most.
func (c *code) call(e *check.Expr) int {
	args := make([]int, 0, len(e.Args))
	for _, a := range e.Args[e.Columns():] {
		args = append(args, c.emit(a))
	}
	switch e.Fn.Name {
	case "clamp":
		inner := c.share(instr{op: opMax, a: args[0], b: args[1]}, refKey{})
		return c.share(instr{op: opMin, a: inner, b: args[2]}, refKey{})
	case "discount":
		grown := c.share(instr{op: opAdd, a: c.share(instr{op: opConst, num: 1}, refKey{}), b: args[0]}, refKey{})
		return c.share(instr{op: opPow, a: grown, b: c.share(instr{op: opNeg, a: args[1]}, refKey{})}, refKey{})
	case "min", "max":
		op := map[string]opcode{"min": opMin, "max": opMax}[e.Fn.Name]
		out := args[0]
		for _, a := range args[1:] {
			out = c.share(instr{op: op, a: out, b: a}, refKey{})
		}
		return out
	}
	if e.Fn.Measure != nil {
		return c.push(instr{op: opMeasure, expr: e, args: args})
	}
	return c.push(instr{op: opCall, expr: e, args: args})
}

func (c *code) aggregate(e *check.Expr) int {
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
