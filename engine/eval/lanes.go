package eval

import (
	"math"

	"bankwright/engine/arith"
	"bankwright/engine/check"
	"bankwright/engine/reading"
	"bankwright/engine/recording"
)

// run executes code for all lanes. Registers from base on are free; the result may
// lie in dst, where there is any, or in a register. From says where reads lead, as
// far as that is known.
func (b *block) run(c *code, from []origin, base int, dst []float64) value {
	reg, rooms := b.regs[base:base+c.regs], b.rooms[base:base+c.regs]
	for i := 0; i < len(c.instrs); i++ {
		in := &c.instrs[i]
		if in.op >= opJumpFalse {
			if v := &reg[in.a]; v.col == nil && jumps(in.op, v.num) {
				i = int(in.b) - 1
			}
			continue
		}
		to := rooms[in.dst]
		if in.dst == c.out && dst != nil {
			to = dst
		}
		switch in.op {
		case opConst:
			reg[in.dst] = value{num: in.num}
		case opRead:
			if from == nil {
				reg[in.dst] = b.read(in, to)
			} else if o := &from[i]; o.slot != nil {
				reg[in.dst] = b.slot(o.slot, in.row.at(b.at.steps))
			} else if o.base != nil {
				reg[in.dst] = value{num: o.base[in.row.at(b.at.steps)*o.items+o.item]}
			} else {
				reg[in.dst] = b.read(in, to)
			}
		case opStep:
			reg[in.dst] = value{num: float64(b.at.steps[in.axis] + 1)}
		case opNeg, opNot:
			reg[in.dst] = b.unary(in.op, reg[in.a], to)
		case opIf:
			reg[in.dst] = b.choose(reg[in.a], reg[in.b], reg[in.c], to)
		case opCall:
			reg[in.dst] = b.call(in, reg, to)
		case opMeasure:
			reg[in.dst] = b.measure(in, reg, to)
		case opFoldItems:
			reg[in.dst] = b.foldItems(in, base+c.regs, to)
		case opFoldSeries:
			reg[in.dst] = b.foldSeries(in, to)
		case opLength:
			reg[in.dst] = b.each(to, func() float64 { return b.at.length(in.expr.Args[0]) })
		default:
			reg[in.dst] = b.binary(in.op, reg[in.a], reg[in.b], to)
		}
	}
	return reg[c.out]
}

// each computes lane by lane what has no faster way: where a reference, a set or a
// count of steps differs from lane to lane.
func (b *block) each(dst []float64, f func() float64) value {
	for b.now.i = range dst {
		dst[b.now.i] = f()
	}
	return value{col: dst}
}

// reach follows a reference; false where it leads to different items at different
// lanes.
func (b *block) reach(ref *check.Ref) (item int, same bool) {
	item = b.at.origin(ref)
	for _, hop := range ref.Hops {
		v := b.cell(hop, item, 0)
		if v.col != nil {
			return 0, false
		}
		if v.num != v.num {
			return -1, true
		}
		item = int(v.num)
	}
	return item, true
}

func (b *block) read(in *instr, dst []float64) value {
	ref := in.expr.Ref
	item, same := b.reach(ref)
	switch {
	case !same:
		return b.each(dst, func() float64 { return b.at.read(in) })
	case item < 0:
		return value{num: math.NaN()}
	}
	return b.cell(ref.Target, item, in.row.at(b.at.steps))
}

// call applies a registry function.
func (b *block) call(in *instr, reg []value, dst []float64) value {
	fn := in.expr.Fn
	cols := b.lists[:fn.Columns()]
	for j := range cols {
		a := in.expr.Args[j]
		if a.Table != nil {
			cols[j] = b.at.column(a)
			continue
		}
		if a.Op == check.Fold {
			return b.slowCall(in, reg, dst)
		}
		if _, same := b.reach(a.Ref); !same {
			return b.slowCall(in, reg, dst)
		}
		if cols[j] = b.at.column(a); cols[j] == nil {
			return value{num: math.NaN()}
		}
	}
	x := b.numbers[:len(in.args)]
	varies := false
	for j, a := range in.args {
		x[j] = reg[a].num
		varies = varies || reg[a].col != nil
	}
	one := b.at.ready.single(fn, cols)
	switch {
	case !varies && one.At != nil && x[0] == x[0]:
		return value{num: arith.Finite(one.At(x[0]))}
	case !varies:
		return value{num: arith.Finite(fn.Apply(cols, x))}
	case one.Column != nil:
		n := arith.Padded(b.n)
		one.Column(dst[:n], reg[in.args[0]].col[:n])
		return value{col: dst}
	case one.At != nil:
		for i, v := range reg[in.args[0]].col {
			if v == v {
				v = arith.Finite(one.At(v))
			}
			dst[i] = v
		}
		return value{col: dst}
	}
	for i := range dst {
		for j, a := range in.args {
			if col := reg[a].col; col != nil {
				x[j] = col[i]
			}
		}
		dst[i] = arith.Finite(fn.Apply(cols, x))
	}
	return value{col: dst}
}

// slowCall applies a registry function whose lists differ from lane to lane.
func (b *block) slowCall(in *instr, reg []value, dst []float64) value {
	return b.each(dst, func() float64 { return b.at.call(in, b.lane(in, reg)) })
}

// lane is the registers of an instruction's arguments at the current lane.
func (b *block) lane(in *instr, reg []value) []float64 {
	for _, a := range in.args {
		b.one[a] = reg[a].at(b.now.i)
	}
	return b.one
}

// measure applies a function of a recording. What is to be found for all lanes is
// found in one pass.
func (b *block) measure(in *instr, reg []value, dst []float64) value {
	wanted := map[*reading.Recording][]recording.Measure{}
	b.each(dst, func() float64 {
		rec, names := b.at.recorded(in.expr)
		args := make([]float64, len(in.args))
		for j, a := range in.args {
			if args[j] = reg[a].at(b.now.i); args[j] != args[j] {
				return 0
			}
		}
		if rec != nil {
			wanted[rec] = append(wanted[rec], in.expr.Fn.Measure(names, args))
		}
		return 0
	})
	for rec, measures := range wanted {
		rec.Read(measures...)
	}
	return b.each(dst, func() float64 { return b.at.measure(in, b.lane(in, reg)) })
}

// foldItems runs the body of an aggregate for each item in turn.
func (b *block) foldItems(in *instr, base int, dst []float64) value {
	spec := in.expr.Fold
	set, same := -1, true
	if spec.Set != nil {
		set, same = b.reach(spec.Set)
	}
	w := &b.at
	outer := w.each
	defer func() { w.each = outer }()
	slow := !same || spec.Kind == check.Deviation
	for w.each = range spec.Items.Items {
		slow = slow || set >= 0 && b.cell(spec.Set.Target, set, w.each).col != nil
	}
	if slow {
		w.each = outer
		return b.each(dst, func() float64 { return w.foldItems(in, 0) })
	}
	t := newColumnTally(spec.Kind)
	for w.each = range spec.Items.Items {
		if spec.Set == nil || set >= 0 && b.cell(spec.Set.Target, set, w.each).num == 1 {
			t.add(b, b.run(in.body, nil, base, nil), dst)
		}
	}
	return t.result(b, dst)
}

// foldSeries combines the steps in use along the collapsed axes of a series.
func (b *block) foldSeries(in *instr, dst []float64) value {
	ref, over := in.expr.Args[0].Ref, in.expr.Fold.Over
	item, same := b.reach(ref)
	if same && item < 0 {
		return value{num: math.NaN()}
	}
	slow := func() value { return b.each(dst, func() float64 { return b.at.foldSeries(in) }) }
	if !same || in.expr.Fold.Kind == check.Deviation {
		return slow()
	}
	var limit [4]int
	var differ *bound // where lanes use different numbers of steps
	for j, a := range over {
		limit[j] = a.Steps
		if e := ref.Target.Kind.Active[a]; e != nil {
			u := b.inUse(e, a, item)
			if limit[j] = u.some; u.some == u.all {
				continue
			}
			if len(over) > 1 || u.all == 0 {
				return slow()
			}
			differ = u
		}
	}
	t := newColumnTally(in.expr.Fold.Kind)
	first := in.row.at(b.at.steps)
	var room [4]int
	at := room[:len(over)]
	for more := start(at, limit[:]); more; more = next(at, limit[:]) {
		v := b.cell(ref.Target, item, first+in.along.at(at))
		if differ != nil && at[0] >= differ.all {
			t.addWithin(b, v, dst, at[0], differ.lanes)
		} else {
			t.add(b, v, dst)
		}
	}
	if differ != nil && t.kind == check.Mean {
		return b.binary(opDiv, t.acc, value{col: differ.lanes}, dst)
	}
	return t.result(b, dst)
}
