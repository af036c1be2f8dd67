package main

import (
	"fmt"
	"regexp"
	"slices"
	"strconv"
	"strings"

	"bankwright/engine/check"
	"bankwright/engine/decl"
)

// piece is a piece of Go; bind tells how strongly its outermost operator binds.
type piece struct {
	text string
	bind int
}

const (
	bindsOr = iota + 1
	bindsAnd
	bindsComparison
	bindsSum
	bindsProduct
	bindsAll
)

// in is a piece where an operator stands that binds so strongly.
func (t piece) in(bind int) string {
	if t.bind < bind {
		return "(" + t.text + ")"
	}
	return t.text
}

// atom is a piece that needs no parentheses.
func atom(text string) piece { return piece{text, bindsAll} }

var plainTerm = regexp.MustCompile(`^[\w.\[\]+]+$`)

// named is a piece that may be written twice: a name, or a variable that gets it.
func (w *writer) named(t piece) string {
	if plainTerm.MatchString(t.text) {
		return t.text
	}
	v := w.fresh("part")
	w.say("%s := %s", v, t.text)
	return v
}

// assign writes an assignment of an expression, which q is or which is of q's type.
func (w *writer) assign(to, how string, e *check.Expr, q *check.Quantity) {
	switch w.typeOf(q) {
	case "bool":
		yes, _ := w.truth(e)
		w.say("%s %s %s", to, how, yes.text)
	case "int":
		w.choose(to, how, "int", e, w.textOf)
	default:
		if q.Type == decl.Boolean {
			w.assignTruth(to, how, e)
			return
		}
		w.choose(to, how, "float64", e, w.number)
	}
}

// assignTruth assigns a truth that may be absent.
func (w *writer) assignTruth(to, how string, e *check.Expr) {
	yes, miss := w.truth(e)
	if miss == "" {
		w.say("%s %s truth(%s)", to, how, yes.text)
		return
	}
	w.say("%s %s absent", to, how)
	w.say("if !(%s) { %s = truth(%s) }", miss, to, yes.text)
}

// choose assigns a number or a text, the arms of ?: and ?? in branches of their own.
func (w *writer) choose(to, how, kind string, e *check.Expr, plain func(*check.Expr) piece) {
	missing := "absent"
	isMissing := to + " != " + to
	if kind == "int" {
		missing, isMissing = "-1", to+" < 0"
	}
	switch e.Op {
	case check.If:
		yes, miss := w.truth(e.Args[0])
		if how == ":=" {
			w.say("var %s %s", to, kind)
		}
		if miss != "" {
			w.say("switch {\ncase %s:\n%s = %s\ncase %s:", miss, to, missing, yes.text)
			w.choose(to, "=", kind, e.Args[1], plain)
			w.say("default:")
			w.choose(to, "=", kind, e.Args[2], plain)
			w.say("}")
			return
		}
		w.say("if %s {", yes.text)
		w.choose(to, "=", kind, e.Args[1], plain)
		w.say("} else {")
		w.choose(to, "=", kind, e.Args[2], plain)
		w.say("}")
	case check.Else:
		w.choose(to, how, kind, e.Args[0], plain)
		if w.absent(e.Args[0]) {
			w.say("if %s {", isMissing)
			w.choose(to, "=", kind, e.Args[1], plain)
			w.say("}")
		}
	default:
		text := plain(e).text
		if _, err := strconv.Atoi(text); err == nil && how == ":=" && kind == "float64" {
			text += ".0"
		}
		w.say("%s %s %s", to, how, text)
	}
}

// item is where a reference leads.
func (w *writer) item(r *check.Ref) string {
	out := ""
	switch {
	case r.Origin == check.Self, r.Origin == check.One && r.Kind == w.p.kind:
		out = w.self
	case r.Origin == check.One:
		out = "m." + exported(r.Kind.Name)
	case r.Origin == check.Fixed:
		out = fmt.Sprintf("m.%s[%d]", exported(r.Kind.Name), r.Item)
	case r.Origin == check.Each:
		out = "each"
	case r.Origin == check.AxisItem:
		out = fmt.Sprintf("m.%s[%s]", exported(r.Kind.Name), w.stepAt(r.Axis))
	}
	for i, h := range r.Hops {
		at := fmt.Sprintf("m.%s[%s.%s]", exported(h.To.Name), out, field(h))
		if i == 0 && r.Origin == check.Self {
			name := h.Name
			if line := name + " := &" + at; !slices.Contains(w.reach, line) {
				w.reach = append(w.reach, line)
			}
			out = name
			continue
		}
		out = at
	}
	return out
}

// read is the value that a reference leads to.
func (w *writer) read(r *check.Ref) string {
	q := r.Target
	if cells(q) == 0 {
		return "absent"
	}
	home := w.home[q] == w.p && (r.Origin == check.Self || r.Origin == check.One && r.Kind == w.p.kind) && len(r.Hops) == 0
	if home && !w.stored[q] && (r.Prev || w.local[q] == "") {
		return w.variable(q.Name) + "Before"
	}
	if home && !r.Prev && w.local[q] != "" && len(w.fold) == 0 {
		return w.local[q]
	}
	for _, a := range q.Axes {
		if e := q.Kind.Active[a]; e != nil && w.fold[a] == "" {
			own := w.p.kind.Active[a]
			if own == nil || own.Ref.Target != e.Ref.Target {
				panic(w.p.kind.Name + " reads " + q.Name + " beyond its steps")
			}
		}
	}
	text := w.place(q, w.item(r), false)
	if r.Prev {
		if !strings.HasSuffix(text, "+1]") {
			panic(q.Name + ": a step before without a start")
		}
		text = strings.TrimSuffix(text, "+1]") + "]"
	}
	return text
}

// number is an expression that is a number.
func (w *writer) number(e *check.Expr) piece {
	switch e.Op {
	case check.Literal:
		return atom(literal(e.Num))
	case check.Nothing:
		return atom("absent")
	case check.Read:
		return atom(w.read(e.Ref))
	case check.Step:
		return atom("float64(" + w.stepAt(e.Axis) + " + 1)")
	case check.Neg:
		return piece{"-" + w.number(e.Args[0]).in(bindsAll), bindsProduct}
	case check.Add, check.Sub:
		return w.sum(e)
	case check.Mul:
		return piece{w.number(e.Args[0]).in(bindsProduct) + " * " + w.number(e.Args[1]).in(bindsAll), bindsProduct}
	case check.Div:
		if a, b := e.Args[0], e.Args[1]; a.Op == check.Literal && b.Op == check.Literal {
			return piece{fmt.Sprintf("%s.0 / %s", literal(a.Num), literal(b.Num)), bindsProduct}
		}
		if w.above(e.Args[1]) {
			return piece{w.number(e.Args[0]).in(bindsProduct) + " / " + w.number(e.Args[1]).in(bindsAll), bindsProduct}
		}
		return atom(fmt.Sprintf("over(%s, %s)", w.number(e.Args[0]).text, w.number(e.Args[1]).text))
	case check.Pow:
		if x := e.Args[1]; x.Op == check.Literal && x.Num == 2 {
			base := w.named(w.number(e.Args[0]))
			return piece{base + " * " + base, bindsProduct}
		}
		return atom(fmt.Sprintf("power(%s, %s)", w.number(e.Args[0]).text, w.number(e.Args[1]).text))
	case check.If, check.Else:
		v := w.fresh("part")
		w.choose(v, ":=", "float64", e, w.number)
		return atom(v)
	case check.Call:
		return w.call(e)
	case check.Fold:
		return w.aggregate(e)
	}
	panic(fmt.Sprint("no number: operation ", e.Op))
}

// sum adds or subtracts. A product in it is rounded first: some processors would
// otherwise multiply and add at once.
func (w *writer) sum(e *check.Expr) piece {
	side := func(a *check.Expr, bind int) string {
		t := w.number(a)
		if strings.Contains(t.text, "*") && t.bind == bindsProduct {
			return "float64(" + t.text + ")"
		}
		return t.in(bind)
	}
	op := " + "
	if e.Op == check.Sub {
		op = " - "
	}
	left := side(e.Args[0], bindsSum)
	return piece{left + op + side(e.Args[1], bindsProduct), bindsSum}
}

var callNames = map[string]string{
	"abs": "abs", "floor": "floor", "round": "math.Round", "sqrt": "math.Sqrt", "exp": "math.Exp",
	"ln": "natural", "sin": "math.Sin", "cos": "math.Cos", "tan": "math.Tan", "acos": "math.Acos", "discount": "discount",
	"lookup": "lookup", "lookup_name": "lookup", "at_least": "atLeast", "row_at_least": "rowAtLeast", "entry": "entry", "last_entry": "lastEntry",
	"interpolate": "interpolate", "interpolate_log": "interpolateLog", "t_quantile": "tQuantile", "min": "min", "max": "max",
}

func (w *writer) call(e *check.Expr) piece {
	var args []string
	for _, a := range e.Args {
		switch {
		case a.Op == check.Column:
			args = append(args, w.column(a))
		case a.Type == decl.Text:
			args = append(args, "float64("+w.textOf(a).text+")")
		default:
			args = append(args, w.number(a).text)
		}
	}
	if e.Fn.Name == "clamp" {
		return atom(fmt.Sprintf("min(max(%s, %s), %s)", args[0], args[1], args[2]))
	}
	name, ok := callNames[e.Fn.Name]
	if !ok {
		panic(e.Fn.Name + " cannot be written out")
	}
	return atom(name + "(" + strings.Join(args, ", ") + ")")
}

// textOf is an expression that is a text.
func (w *writer) textOf(e *check.Expr) piece {
	switch e.Op {
	case check.Literal:
		w.texts[int(e.Num)] = true
		return atom(textName(w.m.Texts[int(e.Num)]))
	case check.Read:
		return atom(w.read(e.Ref))
	case check.If, check.Else:
		v := w.fresh("word")
		w.choose(v, ":=", "int", e, w.textOf)
		return atom(v)
	}
	panic(fmt.Sprint("no text: operation ", e.Op))
}
