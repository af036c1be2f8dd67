package main

import (
	"fmt"
	"strings"

	"bankwright/engine/check"
	"bankwright/engine/decl"
)

// truth is a condition, and the condition that it is absent, nothing where it never
// is. The first has no meaning where the second holds.
func (w *writer) truth(e *check.Expr) (yes piece, miss string) {
	switch e.Op {
	case check.Literal:
		return atom(fmt.Sprint(e.Num != 0)), ""
	case check.Read:
		v := w.read(e.Ref)
		if e.Ref.Target.Type == decl.Set || !w.may[e.Ref.Target] {
			return atom(v), ""
		}
		return piece{v + " != 0", bindsComparison}, v + " != " + v
	case check.Not:
		yes, miss := w.truth(e.Args[0])
		return atom("!" + yes.in(bindsAll)), miss
	case check.And, check.Or:
		return w.both(e)
	case check.If, check.Else:
		return w.chosen(e)
	case check.Fold:
		return w.overall(e)
	}
	if e.Args[0].Type == decl.Text {
		return w.sameText(e)
	}
	return w.comparison(e)
}

func (w *writer) both(e *check.Expr) (yes piece, miss string) {
	left, leftMiss := w.truth(e.Args[0])
	right, rightMiss := w.truth(e.Args[1])
	op, bind, open := " && ", bindsAnd, left.in(bindsAll)
	if e.Op == check.Or {
		op, bind, open = " || ", bindsOr, "!"+left.in(bindsAll)
	}
	yes = piece{left.in(bind) + op + right.in(bind), bind}
	switch {
	case leftMiss == "" && rightMiss == "":
		return yes, ""
	case rightMiss == "":
		return yes, leftMiss
	case leftMiss == "":
		return yes, open + " && (" + rightMiss + ")"
	}
	return yes, leftMiss + " || " + open + " && (" + rightMiss + ")"
}

// chosen is ?: or ?? of truths.
func (w *writer) chosen(e *check.Expr) (yes piece, miss string) {
	v := w.fresh("holds")
	may := w.absent(e)
	if may {
		w.say("%s := absent", v)
	} else {
		w.say("%s := false", v)
	}
	set := func(a *check.Expr) {
		if may {
			w.assignTruth(v, "=", a)
			return
		}
		yes, _ := w.truth(a)
		w.say("%s = %s", v, yes.text)
	}
	if e.Op == check.Else {
		yes, miss := w.truth(e.Args[0])
		if miss == "" {
			return yes, ""
		}
		w.say("if %s {", miss)
		set(e.Args[1])
		w.say("} else {")
		if may {
			w.say("%s = truth(%s)", v, yes.text)
		} else {
			w.say("%s = %s", v, yes.text)
		}
		w.say("}")
	} else {
		cond, miss := w.truth(e.Args[0])
		if miss != "" {
			w.say("switch {\ncase %s:\ncase %s:", miss, cond.text)
			set(e.Args[1])
			w.say("default:")
		} else {
			w.say("if %s {", cond.text)
			set(e.Args[1])
			w.say("} else {")
		}
		set(e.Args[2])
		w.say("}")
	}
	if may {
		return piece{v + " != 0", bindsComparison}, v + " != " + v
	}
	return atom(v), ""
}

func (w *writer) sameText(e *check.Expr) (yes piece, miss string) {
	a, b := w.textOf(e.Args[0]).text, w.textOf(e.Args[1]).text
	op := " == "
	if e.Op == check.Ne {
		op = " != "
	}
	var missing []string
	for i, v := range []string{a, b} {
		if w.absent(e.Args[i]) {
			missing = append(missing, v+" < 0")
		}
	}
	return piece{a + op + b, bindsComparison}, strings.Join(missing, " || ")
}

// comparison compares numbers; a bare comparison does where one side is 0 or both are
// whole numbers, as nothing else is near these.
func (w *writer) comparison(e *check.Expr) (yes piece, miss string) {
	var side [2]string
	var missing []string
	for i, a := range e.Args {
		t := w.number(a)
		side[i] = t.in(bindsSum)
		if w.absent(a) {
			side[i] = w.named(t)
			missing = append(missing, side[i]+" != "+side[i])
		}
	}
	a, b := side[0], side[1]
	miss = strings.Join(missing, " || ")
	bare := zero(e.Args[0]) || zero(e.Args[1]) || counted(e.Args[0]) && counted(e.Args[1])
	if bare {
		ops := map[check.Op]string{check.Eq: "==", check.Ne: "!=", check.Lt: "<", check.Le: "<=", check.Gt: ">", check.Ge: ">="}
		return piece{a + " " + ops[e.Op] + " " + b, bindsComparison}, miss
	}
	switch e.Op {
	case check.Eq:
		return atom("same(" + a + ", " + b + ")"), miss
	case check.Ne:
		return atom("!same(" + a + ", " + b + ")"), miss
	case check.Lt:
		return atom("below(" + a + ", " + b + ")"), miss
	case check.Le:
		return atom("atMost(" + a + ", " + b + ")"), miss
	case check.Gt:
		return atom("below(" + b + ", " + a + ")"), miss
	}
	return atom("atMost(" + b + ", " + a + ")"), miss
}

func zero(e *check.Expr) bool { return e.Op == check.Literal && e.Num == 0 }

func counted(e *check.Expr) bool {
	return e.Op == check.Step || e.Op == check.Literal && e.Num == float64(int(e.Num))
}

// overall is an aggregate that is a truth.
func (w *writer) overall(e *check.Expr) (yes piece, miss string) {
	kind := e.Fold.Kind
	if kind == check.First || kind == check.Last {
		v := w.fresh("end")
		q := e.Args[0].Ref.Target
		at := w.ends(e)
		if !w.may[q] {
			return atom(at), ""
		}
		w.say("%s := %s", v, at)
		return piece{v + " != 0", bindsComparison}, v + " != " + v
	}
	v := w.fresh("holds")
	may := w.absent(e.Args[0])
	settled := kind == check.Any
	if !may {
		w.say("%s := %v", v, !settled)
		w.each(e, func() {
			yes, _ := w.truth(e.Args[0])
			if settled {
				w.say("%s = %s || %s", v, v, yes.in(bindsAnd))
			} else {
				w.say("%s = %s && %s", v, v, yes.in(bindsComparison))
			}
		})
		return atom(v), ""
	}
	w.say("%s := truth(%v)", v, !settled)
	idle, end := "0", "1"
	if !settled {
		idle, end = end, idle
	}
	w.each(e, func() {
		one := w.fresh("one")
		w.assignTruth(one, ":=", e.Args[0])
		w.say("if %s != %s && %s != %s { %s = %s }", v, end, one, idle, v, one)
	})
	return piece{v + " != 0", bindsComparison}, v + " != " + v
}
