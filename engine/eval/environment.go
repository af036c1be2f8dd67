package eval

import (
	"fmt"
	"math"

	"bankwright/engine/arith"
	"bankwright/engine/check"
	"bankwright/engine/decl"
	"bankwright/engine/formula"
)

// What the reference's machine finds behind names: values and functions.

// environment gives the machine the values behind the names; missing tells that
// one of them is not there.
func (ref *reference) environment(w *worker) (env map[string]any, missing bool) {
	env = map[string]any{}
	for name, f := range snapping {
		env[name] = f
	}
	for _, f := range formula.Functions {
		env["fn_"+f.Name] = w.r.applied(f)
	}
	env["text_"] = func(args ...any) (any, error) {
		v, ok := args[0].(float64)
		if !ok || v != v {
			return nil, fmt.Errorf("a value is missing")
		}
		return w.r.Program.Texts[int(v)], nil
	}
	value := func(e *check.Expr) any {
		v := w.machineValue(e)
		missing = missing || v == nil
		return v
	}
	for _, s := range ref.bindings {
		switch {
		case s.e.Op == check.Column && s.e.Table == nil && s.e.Ref.Target.Type == decl.Recording:
			rec := w.recording(s.e)
			env[s.name] = field{rec, columnOf(s.e)}
			missing = missing || rec == nil
		case s.e.Op == check.Column:
			env[s.name] = w.column(s.e)
			missing = missing || w.column(s.e) == nil
		case s.e.Op == check.Fold && s.e.Fold.Kind == check.Steps:
			env[s.name] = w.column(s.e)
			missing = missing || w.column(s.e) == nil
		case s.e.Op != check.Fold:
			env[s.name] = value(s.e)
		case s.e.Fold.Kind == check.Length:
			env[s.name] = w.column(s.e.Args[0])
			missing = missing || w.column(s.e.Args[0]) == nil
		case s.e.Fold.Items == nil:
			list := []any{}
			if w.reach(s.e.Args[0].Ref) < 0 {
				missing = true
			}
			w.eachStepValue(s.e, func(v any) {
				list = append(list, v)
				missing = missing || v == nil
			})
			env[s.name] = list
		default:
			list := w.itemValues(s, value)
			// expr's mean of nothing is 0
			missing = missing || s.e.Fold.Kind == check.Mean && len(list) == 0
			env[s.name] = list
		}
	}
	return env, missing
}

// itemValues is the list that an aggregate over items runs over: for each item
// the values that the body reads of it.
func (w *worker) itemValues(s binding, value func(*check.Expr) any) []any {
	list := []any{}
	for w.each = range s.e.Fold.Items.Items {
		if s.e.Fold.Set != nil && !w.member(s.e.Fold.Set) {
			continue
		}
		item := map[string]any{}
		for i, e := range s.each {
			item[fmt.Sprintf("f%d", i)] = value(e)
		}
		list = append(list, item)
	}
	return list
}

// machineValue is a read value as expr's types: nil where there is none.
func (w *worker) machineValue(e *check.Expr) any {
	if e.Op == check.Step {
		return float64(w.step(e.Axis) + 1)
	}
	item := w.reach(e.Ref)
	if item < 0 {
		return nil
	}
	return w.r.machineValue(e.Type, w.r.At(e.Ref.Target, item, w.rowOf(e.Ref)))
}

func (r *Result) machineValue(t decl.Type, v float64) any {
	switch {
	case v != v:
		return nil
	case t == decl.Boolean:
		return v != 0
	case t == decl.Text:
		return r.Program.Texts[int(v)]
	}
	return v
}

// eachStepValue calls f with each value that a series aggregate combines.
func (w *worker) eachStepValue(e *check.Expr, f func(any)) {
	w.foldReads(e, func(c Cell) {
		f(w.r.machineValue(e.Args[0].Type, w.r.At(c.Quantity, c.Item, c.Row)))
	})
}

// pair makes a comparison callable by the machine; it fails on missing values.
func pair(f func(a, b float64) bool) func(...any) (any, error) {
	return func(args ...any) (any, error) {
		a, ok := floating(args[0])
		b, ok2 := floating(args[1])
		if !ok || !ok2 || a != a || b != b {
			return nil, fmt.Errorf("a value is missing")
		}
		return f(a, b), nil
	}
}

// floating is a number of the machine: len and count give it integers.
func floating(v any) (float64, bool) {
	switch v := v.(type) {
	case float64:
		return v, true
	case int:
		return float64(v), true
	}
	return 0, false
}

var snapping = map[string]any{
	"equal_":     pair(func(a, b float64) bool { return a == b || arith.Near(a, b) }),
	"unequal_":   pair(func(a, b float64) bool { return !(a == b || arith.Near(a, b)) }),
	"below_":     pair(arith.Below),
	"at_most_":   pair(arith.AtMost),
	"above_":     pair(func(a, b float64) bool { return arith.Below(b, a) }),
	"not_below_": pair(func(a, b float64) bool { return arith.AtMost(b, a) }),
	"deviation_": deviation,
	"sound_": func(args ...any) (any, error) {
		if x, ok := floating(args[0]); !ok || x != x {
			return nil, fmt.Errorf("a value is missing")
		}
		return args[0], nil
	},
	"finite_": func(args ...any) (any, error) {
		if x, ok := floating(args[0]); ok && math.IsInf(x, 0) {
			return nil, fmt.Errorf("a value is too large")
		}
		return args[0], nil
	},
	"divisor_": func(args ...any) (any, error) {
		if x, ok := floating(args[0]); ok && x == 0 {
			return math.NaN(), nil
		}
		return args[0], nil
	},
}

// deviation is the aggregate of that name over a list of the machine; it fails
// where a value of the list is missing, or too few are there.
func deviation(args ...any) (any, error) {
	list, ok := args[0].([]any)
	x := make([]float64, len(list))
	for i, v := range list {
		if x[i], ok = floating(v); !ok {
			break
		}
	}
	if d := formula.Deviation(x); ok && d == d {
		return d, nil
	}
	return nil, fmt.Errorf("a value is missing")
}

// applied makes a registry function callable by the machine.
func (r *Result) applied(f *formula.Function) func(...any) (any, error) {
	return func(args ...any) (any, error) {
		var cols [][]float64
		var x []float64
		var fields field
		var names []string
		for _, a := range args {
			if v, ok := floating(a); ok {
				x = append(x, v)
				continue
			}
			switch a := a.(type) {
			case field:
				fields, names = a, append(names, a.name)
			case []float64:
				cols = append(cols, a)
			case string:
				x = append(x, float64(r.machine.texts[a]))
			default:
				return nil, fmt.Errorf("a value is missing")
			}
		}
		if f.Measure != nil {
			return measured(f, fields.rec, names, x), nil
		}
		return arith.Finite(f.Apply(cols, x)), nil
	}
}
