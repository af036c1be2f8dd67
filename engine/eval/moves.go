package eval

import "bankwright/engine/check"

// moves are code made ready for the blocks of a level: where it reads what lies in a
// block's memory it takes it from there, so that most reads and all literals cost
// nothing, and what is left stands close together.
type moves struct {
	list []move
	out  operand
}

// move is an instruction of which reads and literals are left out.
type move struct {
	op    opcode
	last  bool       // its result is that of the code
	dst   int32      // register
	x     [3]operand // a jump has in place of the second where it leads
	in    *instr
	extra *extra // nil where it has none
}

// operand says where a value lies among the values of a block: at a place, which moves on
// with the row of the quantity that is computed where moves is 1.
type operand struct{ at, moves int32 }

// extra is what few moves have.
type extra struct {
	from origin    // opRead
	args []operand // of a function
	body *moves    // of an aggregate over items
}

// origin is where the values of a read lie, where that is the same at all points: a
// slot, or what is given or computed at the base point. Both are nil where it is to
// be found out while running.
type origin struct {
	slot  *slot
	base  []float64
	items int // how far rows lie apart in base
	item  int
}

// ready makes the code of all members of a level ready, when all slots have their places.
func (p *planner) ready(lv *level) {
	for _, u := range lv.units {
		for i := range u.members {
			m := &u.members[i]
			if m.n == nil {
				continue
			}
			r := reader{p: p, lv: lv, item: m.slot.item}
			if m.n.start != nil {
				m.start = r.moves(m.n.start, 0)
			}
			r.row = &m.n.row
			m.value = r.moves(m.n.value, 0)
		}
	}
}

// reader makes code ready for one member.
type reader struct {
	p    *planner
	lv   *level
	item int
	row  *rowAt // of the quantity that is computed; nil of its start
}

// moves makes code ready whose registers begin at base.
func (r *reader) moves(c *code, base int) *moves {
	out := &moves{list: make([]move, 0, len(c.instrs))}
	where := make([]operand, c.regs) // by register
	begin := make([]int32, len(c.instrs)+1)
	for i := range c.instrs {
		in := &c.instrs[i]
		begin[i] = int32(len(out.list))
		if in.op >= opJumpFalse {
			out.list = append(out.list, move{op: in.op, x: [3]operand{where[in.a], {at: in.b}}, in: in})
			continue
		}
		var more *extra
		switch in.op {
		case opConst:
			where[in.dst] = r.constant(in.num)
			continue
		case opRead:
			at, from, direct := r.read(in)
			if direct {
				where[in.dst] = at
				continue
			}
			more = &extra{from: from}
		case opCall, opMeasure:
			more = &extra{}
			for _, a := range in.args {
				more.args = append(more.args, where[a])
			}
		case opFoldItems:
			more = &extra{body: r.moves(in.body, base+c.regs)}
		}
		m := move{op: in.op, last: in.dst == c.out, dst: int32(base) + in.dst, in: in, extra: more}
		m.x = [3]operand{where[in.a], where[in.b], where[in.c]}
		where[in.dst] = operand{at: int32(r.lv.rows) + m.dst}
		out.list = append(out.list, m)
	}
	begin[len(c.instrs)] = int32(len(out.list))
	for i := range out.list {
		if m := &out.list[i]; m.op >= opJumpFalse {
			m.x[1].at = begin[m.x[1].at]
		}
	}
	out.out = where[c.out]
	return out
}

// constant is a place that always holds a number.
func (r *reader) constant(x float64) operand {
	lv := r.lv
	lv.constants = append(lv.constants, x)
	return operand{at: int32(lv.rows + lv.deep + len(lv.constants) - 1)}
}

// read finds out where a read finds its value, and whether it lies among the values of
// the block, or never changes.
func (r *reader) read(in *instr) (at operand, from origin, direct bool) {
	item, ok := r.p.lead(in.expr.Ref, r.item)
	if !ok {
		return at, from, false
	}
	from = r.p.origin(in.expr.Ref.Target, item)
	still := in.row.by == [4]int32{}
	switch s := from.slot; {
	case s == nil && still:
		return r.constant(from.base[int(in.row.off)*from.items+from.item]), from, true
	case s == nil || s.level != r.lv:
		return at, from, false
	case s.one:
		return operand{at: int32(s.off)}, from, true
	case still:
		return operand{at: int32(s.off) + in.row.off}, from, true
	case r.row != nil && in.row.by == r.row.by:
		return operand{int32(s.off) + in.row.off - r.row.off, 1}, from, true
	}
	return at, from, false
}

func (p *planner) origin(q *check.Quantity, item int) origin {
	if of := p.slots[q.Index]; of != nil && of[item] != nil {
		return origin{slot: of[item]}
	}
	return origin{base: p.r.cols[q.Index], items: len(q.Kind.Items), item: item}
}

// lead is the item to which a reference leads at all points, false where that
// depends on the point, the step or the item of an aggregate, or where there is none.
func (p *planner) lead(ref *check.Ref, self int) (int, bool) {
	item := self
	switch ref.Origin {
	case check.One:
		item = 0
	case check.Fixed:
		item = ref.Item
	case check.Each, check.AxisItem:
		return 0, false
	}
	for _, hop := range ref.Hops {
		if of := p.slots[hop.Index]; of != nil && of[item] != nil {
			return 0, false
		}
		v := p.w.cell(hop, item, 0)
		if v != v {
			return 0, false
		}
		item = int(v)
	}
	return item, true
}
