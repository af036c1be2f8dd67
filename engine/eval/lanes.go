package eval

import (
	"math"

	"bankwright/engine/arith"
	"bankwright/engine/check"
	"bankwright/engine/reading"
	"bankwright/engine/recording"
)

// run executes code for all lanes. The result may lie in dst, where there is any, or
// where the code found it.
func (b *block) run(code *moves, dst []float64) value {
	vals, cur, regs := b.vals, b.cur, b.lv.rows
	for i := 0; i < len(code.list); i++ {
		m := &code.list[i]
		x := &vals[int(m.x[0].at)+int(m.x[0].moves)*cur]
		if m.op >= opJumpFalse {
			if x.col == nil && jumps(m.op, x.num) {
				i = int(m.x[1].at) - 1
			}
			continue
		}
		to := b.rooms[m.dst]
		if m.last && dst != nil {
			to = dst
		}
		put := &vals[regs+int(m.dst)]
		switch m.op {
		case opRead:
			*put = b.look(m, to)
		case opStep:
			*put = value{num: float64(b.at.steps[m.in.axis] + 1)}
		case opNeg, opNot:
			*put = b.unary(m.op, x, to)
		case opIf:
			*put = b.choose(x, b.val(m.x[1]), b.val(m.x[2]), to)
		case opCall:
			*put = b.call(m, to)
		case opMeasure:
			*put = b.measure(m, to)
		case opFoldItems:
			*put = b.foldItems(m, to)
		case opFoldSeries:
			*put = b.foldSeries(m.in, to)
		case opLength:
			*put = b.each(to, func() float64 { return b.at.length(m.in.expr.Args[0]) })
		default:
			*put = b.binary(m.op, x, &vals[int(m.x[1].at)+int(m.x[1].moves)*cur], to)
		}
	}
	return *b.val(code.out)
}

// val is the value of an operand.
func (b *block) val(x operand) *value { return &b.vals[int(x.at)+int(x.moves)*b.cur] }

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

// look reads what does not lie among the values of the block, or not always in the same
// place.
func (b *block) look(m *move, dst []float64) value {
	from, in := &m.extra.from, m.in
	switch {
	case from.slot != nil:
		return b.slot(from.slot, in.row.at(b.at.steps))
	case from.base != nil:
		return value{num: from.base[in.row.at(b.at.steps)*from.items+from.item]}
	}
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
func (b *block) call(m *move, dst []float64) value {
	in, args := m.in, m.extra.args
	fn := in.expr.Fn
	cols := b.lists[:fn.Columns()]
	for j := range cols {
		a := in.expr.Args[j]
		if a.Table != nil {
			cols[j] = b.at.column(a)
			continue
		}
		if a.Op == check.Fold {
			return b.slowCall(m, dst)
		}
		if _, same := b.reach(a.Ref); !same {
			return b.slowCall(m, dst)
		}
		if cols[j] = b.at.column(a); cols[j] == nil {
			return value{num: math.NaN()}
		}
	}
	x := b.numbers[:len(args)]
	varies := false
	for j, a := range args {
		v := b.val(a)
		x[j] = v.num
		varies = varies || v.col != nil
	}
	one := b.at.ready.single(fn, cols)
	switch {
	case !varies && one.At != nil && x[0] == x[0]:
		return value{num: arith.Finite(one.At(x[0]))}
	case !varies:
		return value{num: arith.Finite(fn.Apply(cols, x))}
	case one.Column != nil:
		one.Column(dst[:b.wide], b.val(args[0]).col[:b.wide])
		return value{col: dst}
	case one.At != nil:
		for i, v := range b.val(args[0]).col {
			if v == v {
				v = arith.Finite(one.At(v))
			}
			dst[i] = v
		}
		return value{col: dst}
	}
	for i := range dst {
		for j, a := range args {
			if col := b.val(a).col; col != nil {
				x[j] = col[i]
			}
		}
		dst[i] = arith.Finite(fn.Apply(cols, x))
	}
	return value{col: dst}
}

// slowCall applies a registry function whose lists differ from lane to lane.
func (b *block) slowCall(m *move, dst []float64) value {
	return b.each(dst, func() float64 { return b.at.call(m.in, b.lane(m)) })
}

// lane is the registers of a move's arguments at the current lane.
func (b *block) lane(m *move) []float64 {
	for j, a := range m.in.args {
		b.one[a] = b.val(m.extra.args[j]).at(b.now.i)
	}
	return b.one
}

// measure applies a function of a recording. What is to be found for all lanes is
// found in one pass.
func (b *block) measure(m *move, dst []float64) value {
	in := m.in
	wanted := map[*reading.Recording][]recording.Measure{}
	b.each(dst, func() float64 {
		rec, names := b.at.recorded(in.expr)
		args := make([]float64, len(in.args))
		for j, a := range m.extra.args {
			if args[j] = b.val(a).at(b.now.i); args[j] != args[j] {
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
	return b.each(dst, func() float64 { return b.at.measure(in, b.lane(m)) })
}

// foldItems runs the body of an aggregate for each item in turn.
func (b *block) foldItems(m *move, dst []float64) value {
	in, spec := m.in, m.in.expr.Fold
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
			t.add(b, b.run(m.extra.body, nil), dst)
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
		return b.binary(opDiv, &t.acc, &value{col: differ.lanes}, dst)
	}
	return t.result(b, dst)
}
