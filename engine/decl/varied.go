package decl

import (
	"strings"

	"bankwright/engine/diag"
)

// The parts of studies: names, values, varied and uncertain inputs.

// Value is a value as a scenario writes it, or a user behind a flag. What it
// means depends on its quantity: see Reader.
type Value struct {
	At   diag.Pos
	node *node
}

// Written is the value as written, without quotes.
func (v *Value) Written() string { return v.node.shown() }

// ValueOf is a value that was written elsewhere than in a file.
func ValueOf(text string) *Value {
	n := &node{kind: textNode, text: strings.TrimSpace(diag.Upright(asText(text)))}
	if n.text == "true" || n.text == "false" {
		n.kind, n.truth, n.written = boolNode, n.text == "true", n.text
	}
	return &Value{node: n}
}

// ValueAt is a text that was typed at a place elsewhere than in a file of ours.
func ValueAt(at diag.Pos, text string) *Value {
	return &Value{At: at, node: &node{kind: textNode, text: strings.TrimSpace(diag.Upright(asText(text))), at: at, keyAt: at}}
}

// named is the name that a key must give.
func (f *fields) named(key string) Named {
	name := f.text(key, true)
	if name == "" {
		return Named{}
	}
	return Named{name, f.n.get(key).at}
}

// names are the names that a key lists; none where it is not given. A single
// text counts as a list of one where that is enough.
func (f *fields) names(key string, least, most int) []Named {
	n := f.n.get(key)
	if n == nil {
		return nil
	}
	list := f.texts(key, least == 1)
	given := len(list)
	if n.kind == listNode {
		given = len(n.kids)
	}
	switch {
	case n.bad || n.kind != listNode && len(list) == 0: // told
	case given < least, given > most:
		wants := "at most " + count(most, "name")
		if least == most {
			wants = count(most, "name")
		} else if given < least {
			wants = "at least " + count(least, "name")
		}
		f.fault(n.at, "length", "Write "+wants+".", "`%s` takes %s, not %d", key, wants, given)
		return nil
	}
	var out []Named
	for _, kid := range list {
		out = append(out, Named{strings.TrimSpace(kid.text), kid.at})
	}
	return out
}

// value is the value that a key must give.
func (f *fields) value(key string) *Value {
	n := f.n.get(key)
	switch {
	case n == nil:
		f.missing(key)
		return nil
	case n.bad:
		f.ok = false
		return nil
	}
	return &Value{n.at, n}
}

// values are the values that a key lists, at least one.
func (f *fields) values(key string) []*Value {
	n := f.n.get(key)
	if n == nil {
		f.missing(key)
		return nil
	}
	if !f.kind(n, listNode, "is a list of values", "Write ["+n.quoted()+"].") {
		return nil
	}
	if len(n.kids) == 0 {
		f.fault(n.at, "missing", "Give at least one value.", "`%s` is empty", key)
	}
	var out []*Value
	for _, kid := range n.kids {
		f.ok = f.ok && !kid.bad
		out = append(out, &Value{kid.at, kid})
	}
	return out
}

// tables are the entries of a list of tables that a key must give.
func (f *fields) tables(key, example string) []*node {
	n := f.n.get(key)
	if n == nil {
		f.fault(f.n.keyAt, "missing", "Add "+key+" = ["+example+"].", "%s needs `%s`", f.what, key)
		return nil
	}
	if !f.kind(n, listNode, "is a list of tables", "Write ["+example+"].") {
		return nil
	}
	if len(n.kids) == 0 {
		f.fault(n.at, "missing", "Write ["+example+"].", "`%s` is empty", key)
	}
	return n.kids
}

// within reads a table that belongs to a study: a fault in it is one of the study.
func within[T any](f *fields, n *node, what string, read func(in *fields) T) (out T) {
	in := f.l.fields(n, what)
	if in != nil {
		out = read(in)
	}
	f.ok = f.ok && in != nil && in.ok
	return out
}

// vary reads one varied input, or several that are scaled together.
func (f *fields) vary(n *node, what string) *Vary {
	return within(f, n, what, func(in *fields) *Vary {
		v := &Vary{At: n.at}
		if n.at.Len == 0 || n.heading {
			v.At = n.keyAt
		}
		if in.has("inputs") {
			in.clash("`inputs`", "input", "values")
			v.Inputs, v.Scaled = in.names("inputs", 1, MaxUncertain), true
		} else {
			v.Inputs = []Named{in.named("input")}
		}
		switch {
		case in.has("by"):
			in.clash("`by`", "values", "from", "to", "points", "step")
			v.Scaled, v.Values = true, in.values("by")
		case in.has("values"):
			in.clash("`values`", "from", "to", "points", "step")
			v.Values = in.values("values")
		case in.has("from") || in.has("to"):
			in.stretch(v)
		case in.has("inputs"):
			in.fault(n.keyAt, "missing", "Add by = [\"80 %\", \"120 %\"].", "%s does not say by what the inputs are multiplied", what)
		default:
			in.fault(n.keyAt, "missing", "Add values = [\"…\", \"…\"], or from, to and points.", "%s does not say which values the input takes", what)
		}
		return v
	})
}

// stretch reads from, to, and how many values lie between.
func (f *fields) stretch(v *Vary) {
	v.From, v.To = f.value("from"), f.value("to")
	switch {
	case f.has("step"):
		f.clash("`step`", "points")
		v.Step = f.value("step")
	case f.has("points"):
		v.Points = f.integer("points", 2, MaxPoints, 0)
	case v.From != nil && v.To != nil:
		f.fault(f.n.keyAt, "missing", "Add points = 11, or step = \"…\".", "it is not said at how many values between `from` and `to`")
	}
}

// uncertain reads an input and its distribution.
func (f *fields) uncertain(n *node) *Uncertain {
	return within(f, n, "an uncertain input", func(in *fields) *Uncertain {
		u := &Uncertain{Input: in.named("input"), Kind: -1, At: n.at}
		for i, key := range distKeys {
			switch {
			case !in.has(key):
			case u.Kind >= 0:
				in.clash("`"+u.Kind.String()+"`", key)
			default:
				u.Kind = DistKind(i)
			}
		}
		switch {
		case u.Kind < 0:
			if in.ok {
				in.fault(n.keyAt, "missing", "Add triangular = [\"least\", \"most likely\", \"most\"], or one of "+strings.Join(distKeys[1:], ", ")+".", "it is not said how `%s` is spread", u.Input.Name)
			}
		case u.Kind == Trials:
			u.Cells = in.trials()
		default:
			u.Params = in.parameters(u.Kind)
		}
		return u
	})
}

// parameters are those of a distribution, as many as it takes.
func (f *fields) parameters(k DistKind) []*Value {
	want := distParams[k]
	n := f.n.get(k.String())
	form := k.String() + " = [\"" + strings.Join(want, "\", \"") + "\"]"
	if !f.kind(n, listNode, "is a list", "Write "+form+".") {
		return nil
	}
	if len(n.kids) != len(want) {
		f.fault(n.at, "length", "Write "+form+".", "`%s` takes %s, not %d", k, count(len(want), "value"), len(n.kids))
		return nil
	}
	return f.values(k.String())
}

// trials are the cells from which the distribution of a mean follows.
func (f *fields) trials() []Named {
	return within(f, f.n.get(Trials.String()), "`trials`", func(in *fields) (out []Named) {
		for _, key := range distParams[Trials] {
			out = append(out, in.named(key))
		}
		return out
	})
}

// correlation reads how two inputs go together.
func (f *fields) correlation(n *node) *Correlated {
	return within(f, n, "a correlation", func(in *fields) *Correlated {
		c := &Correlated{At: n.at}
		if !in.has("inputs") {
			in.fault(n.keyAt, "missing", "Add inputs = [\"…\", \"…\"].", "a correlation needs `inputs`")
		}
		copy(c.Inputs[:], in.names("inputs", 2, 2))
		by := in.n.get("by")
		if by == nil {
			in.fault(n.keyAt, "missing", "Add by = 0.5.", "a correlation needs `by`")
			return nil
		}
		if !in.kind(by, numberNode, "is a number", "Write a number between -1 and 1, without quotes.") {
			return nil
		}
		if c.By = by.number; !(c.By > -1 && c.By < 1) {
			in.fault(by.at, "bounds", "Write a number between -1 and 1, such as 0.7.", "a correlation lies between -1 and 1, both left out, and this is %s", by.written)
		}
		return c
	})
}
