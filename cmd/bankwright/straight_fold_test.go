package main

import (
	"fmt"
	"strconv"

	"bankwright/engine/check"
	"bankwright/engine/decl"
)

// each writes a loop over what an aggregate takes in.
func (w *writer) each(e *check.Expr, body func()) {
	f := e.Fold
	if k := f.Items; k != nil {
		if len(k.Items) == 0 {
			return
		}
		j := w.fresh("j")
		w.say("for %s := range m.%s {", j, exported(k.Name))
		if f.Set != nil {
			w.say("if !%s.%s[%s] { continue }", w.item(f.Set), field(f.Set.Target), j)
		}
		w.say("each := &m.%s[%s]", exported(k.Name), j)
		body()
		w.say("}")
		return
	}
	ref := e.Args[0].Ref
	for _, a := range f.Over {
		v := w.fresh(axisName(a))
		if w.stepAt(a) == v {
			v = w.fresh(axisName(a))
		}
		w.say("for %s := range %s {", v, w.used(ref, a))
		w.fold[a] = v
	}
	body()
	for _, a := range f.Over {
		w.say("}")
		delete(w.fold, a)
	}
}

// used is how many steps of an axis are in use for the item that a reference leads to.
func (w *writer) used(ref *check.Ref, a *decl.Axis) string {
	active := ref.Target.Kind.Active[a]
	if active == nil {
		return strconv.Itoa(a.Steps)
	}
	r := *active.Ref
	if r.Origin == check.Self {
		r = check.Ref{Origin: ref.Origin, Kind: ref.Kind, Item: ref.Item, Axis: ref.Axis, Hops: ref.Hops, Target: r.Target}
	}
	return fmt.Sprintf("inUse(%s, %d)", w.read(&r), a.Steps)
}

// ends is the first or last value of a series.
func (w *writer) ends(e *check.Expr) string {
	ref := e.Args[0].Ref
	var limits []string
	for _, a := range e.Fold.Over {
		n := w.used(ref, a)
		if ref.Target.Kind.Active[a] == nil {
			w.fold[a] = "0"
			if e.Fold.Kind == check.Last {
				w.fold[a] = strconv.Itoa(a.Steps - 1)
			}
			continue
		}
		v := w.fresh("steps")
		w.say("%s := %s", v, n)
		limits = append(limits, v)
		w.fold[a] = "0"
		if e.Fold.Kind == check.Last {
			w.fold[a] = v + "-1"
		}
	}
	at := w.read(ref)
	for _, a := range e.Fold.Over {
		delete(w.fold, a)
	}
	if len(limits) == 0 {
		return at
	}
	out := w.fresh("end")
	w.say("%s := absent", out)
	w.say("if %s > 0 { %s = %s }", limits[0], out, at)
	return out
}

// aggregate is an aggregate that is a number.
func (w *writer) aggregate(e *check.Expr) piece {
	switch e.Fold.Kind {
	case check.Length:
		return atom("float64(len(" + w.column(e.Args[0]) + "))")
	case check.First, check.Last:
		return atom(w.ends(e))
	case check.Count:
		return w.count(e)
	case check.Sum, check.Mean:
		v := w.fresh("sum")
		w.say("%s := 0.0", v)
		n := ""
		if e.Fold.Kind == check.Mean {
			n = w.fresh("n")
			w.say("%s := 0", n)
		}
		w.each(e, func() {
			t := w.number(e.Args[0])
			if t.bind == bindsProduct {
				t.text = "float64(" + t.text + ")"
			}
			w.say("%s += %s", v, t.text)
			if n != "" {
				w.say("%s++", n)
			}
		})
		if n != "" {
			return atom(fmt.Sprintf("over(%s, float64(%s))", v, n))
		}
		return atom(v)
	case check.Min, check.Max:
		return w.extreme(e)
	case check.Deviation:
		list := w.fresh("list")
		w.say("var %s []float64", list)
		w.each(e, func() { w.say("%s = append(%s, %s)", list, list, w.number(e.Args[0]).text) })
		return atom("deviation(" + list + ")")
	}
	panic("this aggregate cannot be written out")
}

func (w *writer) count(e *check.Expr) piece {
	n := w.fresh("n")
	if !w.absent(e.Args[0]) {
		w.say("%s := 0", n)
		w.each(e, func() {
			yes, _ := w.truth(e.Args[0])
			w.say("if %s { %s++ }", yes.text, n)
		})
		return atom("float64(" + n + ")")
	}
	w.say("%s := 0.0", n)
	w.each(e, func() {
		one := w.fresh("one")
		w.assignTruth(one, ":=", e.Args[0])
		w.say("%s += %s", n, one)
	})
	return atom(n)
}

func (w *writer) extreme(e *check.Expr) piece {
	v, name, sign := w.fresh("low"), "min", 1
	if e.Fold.Kind == check.Max {
		v, name, sign = w.fresh("high"), "max", -1
	}
	if k := e.Fold.Items; k != nil && len(k.Items) == 0 {
		return atom("absent")
	}
	w.say("%s := math.Inf(%d)", v, sign)
	w.each(e, func() { w.say("%s = %s(%s, %s)", v, name, v, w.number(e.Args[0]).text) })
	empty := e.Fold.Set != nil
	for _, a := range e.Fold.Over {
		empty = empty || e.Args[0].Ref.Target.Kind.Active[a] != nil
	}
	if empty { // of nothing at all there is none
		w.say("if math.IsInf(%s, %d) { %s = absent }", v, sign, v)
	}
	return atom(v)
}
