package main

import (
	"bankwright/engine/check"
	"bankwright/engine/decl"
)

// absent reports whether an expression may be without a value, as far as can be told
// beforehand. That a number grows too large is not looked for, except by division.
func (o *outline) absent(e *check.Expr) bool {
	some := func(args []*check.Expr) bool {
		for _, a := range args {
			if o.absent(a) {
				return true
			}
		}
		return false
	}
	switch e.Op {
	case check.Nothing:
		return true
	case check.Literal, check.Step, check.Column:
		return false
	case check.Read:
		return o.may[e.Ref.Target] || cells(e.Ref.Target) == 0
	case check.Div:
		return some(e.Args) || !o.above(e.Args[1])
	case check.Pow:
		exponent := e.Args[1]
		return some(e.Args) || !o.above(e.Args[0]) && !(exponent.Op == check.Literal && exponent.Num >= 0 && exponent.Num == float64(int(exponent.Num)))
	case check.Else:
		return o.absent(e.Args[1])
	case check.Call:
		return o.callAbsent(e)
	case check.Fold:
		return o.foldAbsent(e)
	}
	return some(e.Args)
}

func (o *outline) callAbsent(e *check.Expr) bool {
	for _, a := range e.Args {
		if a.Op == check.Column && a.Ref != nil && o.noPoints(a.Ref.Target) || o.absent(a) {
			return true
		}
	}
	switch e.Fn.Name {
	case "min", "max", "clamp", "abs", "ceil", "floor", "round", "exp", "sin", "cos", "tan", "interpolate", "interpolate_log", "row_at_least", "last_entry":
		return false
	case "discount":
		return false // rates are above -1
	case "sqrt":
		return !o.above(e.Args[0])
	}
	return true
}

// noPoints reports whether a table of their own is not given for all items.
func (o *outline) noPoints(q *check.Quantity) bool {
	for item := range q.Kind.Items {
		if o.m.Result.PointsOf(q, item) == nil {
			return true
		}
	}
	return false
}

func (o *outline) foldAbsent(e *check.Expr) bool {
	f := e.Fold
	needsOne := f.Kind == check.Min || f.Kind == check.Max || f.Kind == check.Mean || f.Kind == check.First || f.Kind == check.Last
	switch {
	case f.Kind == check.Length:
		return e.Args[0].Ref != nil && o.noPoints(e.Args[0].Ref.Target)
	case f.Items != nil:
		return len(f.Items.Items) > 0 && o.absent(e.Args[0]) || needsOne && (f.Set != nil || len(f.Items.Items) == 0)
	}
	for _, a := range f.Over {
		if needsOne && (e.Args[0].Ref.Target.Kind.Active[a] != nil || a.Steps == 0) {
			return true
		}
	}
	return o.absent(e.Args[0])
}

// above reports whether an expression is surely above 0 where it has a value.
func (o *outline) above(e *check.Expr) bool {
	switch e.Op {
	case check.Literal:
		return e.Num > 0
	case check.Step:
		return true
	case check.Read:
		return o.quantityAbove(e.Ref.Target)
	case check.Add, check.Mul, check.Div:
		return o.above(e.Args[0]) && o.above(e.Args[1])
	case check.Pow:
		return o.above(e.Args[0])
	case check.If:
		return o.above(e.Args[1]) && o.above(e.Args[2])
	case check.Else:
		return o.above(e.Args[0]) && o.above(e.Args[1])
	case check.Call:
		switch e.Fn.Name {
		case "exp":
			return true
		case "sqrt":
			return o.above(e.Args[0])
		case "min":
			for _, a := range e.Args {
				if !o.above(a) {
					return false
				}
			}
			return true
		case "max":
			for _, a := range e.Args {
				if o.above(a) {
					return true
				}
			}
		}
	}
	return false
}

func (o *outline) quantityAbove(q *check.Quantity) bool {
	if q.Type != decl.Number || q.Start != nil {
		return false
	}
	if q.Value != nil {
		return o.above(q.Value)
	}
	if q.Kind.Name == "constant" {
		return o.m.Result.At(q, 0, 0) > 0
	}
	return q.Min != nil && q.Min.Value > 0
}
