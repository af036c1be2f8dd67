package eval

import (
	"math"

	"bankwright/engine/check"
	"bankwright/engine/decl"
)

// block is how many lanes an operation handles at a time: few enough that all
// columns of a formula stay in the first cache.
const block = 256

// opcode is what an instruction does to columns.
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
	opIf
	opElse
	opMin
	opMax
	opCall
	opMeasure
	opFoldItems
	opFoldSeries
	opLength
)

// instr is one operation: registers a, b, c (or args) into dst.
type instr struct {
	op      opcode
	dst     int
	a, b, c int
	num     float64
	expr    *check.Expr
	args    []int
	body    *code // the body of an aggregate over items
}

// code computes one expression; its result is in register out.
type code struct {
	instrs []instr
	regs   int
	out    int
}

// compile turns an expression into code.
func compile(e *check.Expr) *code {
	c := &code{}
	c.out = c.emit(e)
	return c
}

func (c *code) reg() int {
	c.regs++
	return c.regs - 1
}

func (c *code) push(i instr) int {
	i.dst = c.reg()
	c.instrs = append(c.instrs, i)
	return i.dst
}

var binaryOps = map[check.Op]opcode{
	check.Add: opAdd, check.Sub: opSub, check.Mul: opMul, check.Div: opDiv, check.Pow: opPow,
	check.Eq: opEqNum, check.Ne: opNeNum, check.Lt: opLt, check.Le: opLe, check.Gt: opGt, check.Ge: opGe,
	check.And: opAnd, check.Or: opOr, check.Else: opElse,
}

func (c *code) emit(e *check.Expr) int {
	switch e.Op {
	case check.Literal:
		return c.push(instr{op: opConst, num: e.Num})
	case check.Nothing:
		return c.push(instr{op: opConst, num: math.NaN()})
	case check.Read:
		return c.push(instr{op: opRead, expr: e})
	case check.Step:
		return c.push(instr{op: opStep, expr: e})
	case check.Neg:
		return c.push(instr{op: opNeg, a: c.emit(e.Args[0])})
	case check.Not:
		return c.push(instr{op: opNot, a: c.emit(e.Args[0])})
	case check.If:
		return c.push(instr{op: opIf, a: c.emit(e.Args[0]), b: c.emit(e.Args[1]), c: c.emit(e.Args[2])})
	case check.Call:
		return c.call(e)
	case check.Fold:
		return c.fold(e)
	}
	op := binaryOps[e.Op]
	if (op == opEqNum || op == opNeNum) && e.Args[0].Type != decl.Number {
		op += opEqText - opEqNum
	}
	return c.push(instr{op: op, a: c.emit(e.Args[0]), b: c.emit(e.Args[1])})
}

// call emits a registry function; min and max have loops of their own because
// rules use them most.
func (c *code) call(e *check.Expr) int {
	if op, ok := map[string]opcode{"min": opMin, "max": opMax}[e.Fn.Name]; ok {
		out := c.emit(e.Args[0])
		for _, a := range e.Args[1:] {
			out = c.push(instr{op: op, a: out, b: c.emit(a)})
		}
		return out
	}
	var args []int
	for _, a := range e.Args[e.Columns():] {
		args = append(args, c.emit(a))
	}
	if e.Fn.Measure != nil {
		return c.push(instr{op: opMeasure, expr: e, args: args})
	}
	return c.push(instr{op: opCall, expr: e, args: args})
}

func (c *code) fold(e *check.Expr) int {
	switch {
	case e.Fold.Kind == check.Length:
		return c.push(instr{op: opLength, expr: e})
	case e.Fold.Items != nil:
		return c.push(instr{op: opFoldItems, expr: e, body: compile(e.Args[0])})
	}
	return c.push(instr{op: opFoldSeries, expr: e})
}
