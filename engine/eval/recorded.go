package eval

import (
	"math"

	"bankwright/engine/arith"
	"bankwright/engine/check"
	"bankwright/engine/decl"
	"bankwright/engine/formula"
	"bankwright/engine/reading"
	"bankwright/engine/recording"
)

// site is a call of a function of a recording, in a formula of a quantity.
type site struct {
	q    *check.Quantity
	item int // the only item, -1: all
	call *check.Expr
}

// sites are the calls of a program whose numbers are known before anything is
// computed: literals, or made of what is given.
func sites(p *check.Program) []site {
	var out []site
	for _, g := range p.Order {
		for _, n := range g.Nodes {
			e := n.Quantity.Value
			if n.Item >= 0 {
				e = n.Quantity.Own[n.Item]
			}
			e.Walk(func(e *check.Expr) {
				if e.Op == check.Call && e.Fn.Measure != nil && len(n.Quantity.Axes) == 0 && known(e) {
					out = append(out, site{n.Quantity, n.Item, e})
				}
			})
		}
	}
	return out
}

// known reports whether the numbers of a call follow from what is given alone.
func known(call *check.Expr) bool {
	ok := true
	for _, a := range call.Args[call.Columns():] {
		a.Walk(func(e *check.Expr) {
			switch e.Op {
			case check.Fold, check.Step, check.Column:
				ok = false
			case check.Read:
				q := e.Ref.Target
				ok = ok && q.Value == nil && q.Inverse == nil && len(q.Axes) == 0 && e.Ref.Origin != check.Each
				for _, own := range q.Own {
					ok = ok && own == nil
				}
			}
		})
	}
	return ok
}

// readAhead reads every recording once, for all that is to be found in it and is
// known beforehand.
func (m *Machine) readAhead(r *Result) {
	wanted := map[*reading.Recording][]recording.Measure{}
	var order []*reading.Recording
	for _, byItem := range r.recordings {
		for _, rec := range byItem {
			if _, ok := wanted[rec]; !ok && rec != nil {
				wanted[rec], order = nil, append(order, rec)
			}
		}
	}
	if len(order) == 0 {
		return
	}
	for _, s := range m.sites {
		for item := range s.q.Kind.Items {
			if s.item >= 0 && s.item != item {
				continue
			}
			w := r.spot(Cell{Quantity: s.q, Item: item})
			if rec, measure := w.asked(s.call); measure != nil {
				wanted[rec] = append(wanted[rec], measure)
			}
		}
	}
	for _, rec := range order {
		rec.Read(wanted[rec]...)
	}
}

// asked is the recording and the measure of a call at the worker's cell; no
// measure where the recording or a number is missing.
func (w *worker) asked(call *check.Expr) (*reading.Recording, recording.Measure) {
	rec, names := w.recorded(call)
	if rec == nil {
		return nil, nil
	}
	var x []float64
	for _, a := range call.Args[call.Columns():] {
		v := w.value(a)
		if v != v {
			return nil, nil
		}
		x = append(x, v)
	}
	return rec, call.Fn.Measure(names, x)
}

// recorded is the recording that a call reaches, nil where there is
// none, and the names of the columns.
func (w *worker) recorded(call *check.Expr) (*reading.Recording, []string) {
	var names []string
	for _, a := range call.Args[:call.Columns()] {
		names = append(names, columnOf(a))
	}
	return w.recording(call.Args[0]), names
}

// columnOf is the name of a column of a recording.
func columnOf(e *check.Expr) string { return e.Ref.Target.Columns[e.Col].Name }

// recording is the recording of which e is a column, nil where it is not given.
func (w *worker) recording(e *check.Expr) *reading.Recording {
	item := w.reach(e.Ref)
	if item < 0 {
		return nil
	}
	return w.r.recordings[e.Ref.Target.Index][item]
}

// measure applies a function of a recording.
func (w *worker) measure(in *instr, reg []float64) float64 {
	rec, names := w.recorded(in.expr)
	x := make([]float64, len(in.args))
	for j, a := range in.args {
		x[j] = reg[a]
	}
	return measured(in.expr.Fn, rec, names, x)
}

// measured is the value of a function of a recording; no value where the
// recording or a number is missing.
func measured(fn *formula.Function, rec *reading.Recording, names []string, x []float64) float64 {
	if rec == nil {
		return math.NaN()
	}
	for _, v := range x {
		if v != v {
			return v
		}
	}
	found := rec.Result(fn.Measure(names, x))
	report := rec.Report()
	if !report.Usable() || found.Value != found.Value {
		return math.NaN()
	}
	return arith.Finite(fn.Pick(found, report))
}

// field is a column of a recording as expr's machine has it.
type field struct {
	rec  *reading.Recording
	name string
}

// RecordingOf is the recording that an item gives, nil where it gives none.
func (r *Result) RecordingOf(q *check.Quantity, item int) *reading.Recording {
	if q.Type != decl.Recording {
		return nil
	}
	return r.recordings[q.Index][item]
}

// Finding is what a part of a cell's formula found in a recording.
type Finding struct {
	Call      *check.Expr
	Recording *reading.Recording
	Result    recording.Result
}

// Findings are what the formula of a cell found in recordings, in the order in
// which it asks; not what stands in an arm of ?: that is not taken.
func (r *Result) Findings(c Cell) []Finding {
	e := formulaOf(c)
	if e == nil || c.Quantity.Inverse != nil {
		return nil
	}
	w := r.spot(c)
	var out []Finding
	var walk func(e *check.Expr)
	walk = func(e *check.Expr) {
		switch {
		case e.Op == check.If:
			walk(e.Args[0])
			if v := w.value(e.Args[0]); v == v {
				walk(e.Args[2-int(v)])
			}
			return
		case e.Op == check.Fold || e.Op == check.Column:
			return
		case e.Op == check.Call && e.Fn.Measure != nil:
			if rec, measure := w.asked(e); measure != nil {
				out = append(out, Finding{e, rec, rec.Result(measure)})
			}
		}
		for _, a := range e.Args {
			walk(a)
		}
	}
	walk(e)
	return out
}
