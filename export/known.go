package export

import (
	"math"
	"slices"

	"bankwright/engine/check"
	"bankwright/engine/decl"
)

// What is known of a value before it is worked out makes formulas shorter. It follows from
// what the rules declare, not from what stands in a cell: a reader may change that.

// nonNegative reports whether a number is never below 0, as far as can be seen at once.
func nonNegative(e *check.Expr) bool {
	switch e.Op {
	case check.Literal:
		return e.Num >= 0
	case check.Step:
		return true
	case check.Read:
		q := e.Ref.Target
		if q.IsRule() {
			return isPlainRule(q) && !e.Ref.Prev && nonNegative(q.Value)
		}
		return q.Min != nil && q.Min.Value >= 0
	case check.If:
		return nonNegative(e.Args[1]) && nonNegative(e.Args[2])
	case check.Mul, check.Add, check.Div:
		return nonNegative(e.Args[0]) && nonNegative(e.Args[1])
	case check.Fold:
		return e.Fold.Kind == check.Count || e.Fold.Kind == check.Length
	}
	return false
}

// isPlainRule reports whether the values of a number are those of one formula: some series
// begin otherwise.
func isPlainRule(q *check.Quantity) bool {
	return q.IsRule() && q.Type == decl.Number && q.Start == nil
}

// atLeastOne reports whether a number is never below 1, as far as can be seen at once.
func atLeastOne(e *check.Expr) bool {
	switch e.Op {
	case check.Literal:
		return e.Num >= 1
	case check.Step:
		return true
	case check.Read:
		return isPlainRule(e.Ref.Target) && !e.Ref.Prev && atLeastOne(e.Ref.Target.Value)
	case check.Add:
		return atLeastOne(e.Args[0]) && nonNegative(e.Args[1]) || nonNegative(e.Args[0]) && atLeastOne(e.Args[1])
	case check.Fold:
		return e.Fold.Kind == check.Length && e.Args[0].Table != nil && len(e.Args[0].Table.Rows) > 0
	case check.If:
		return atLeastOne(e.Args[1]) && atLeastOne(e.Args[2])
	case check.Call:
		switch e.Fn.Name {
		case "max":
			return slices.ContainsFunc(e.Args, atLeastOne)
		case "min":
			return !slices.ContainsFunc(e.Args, func(a *check.Expr) bool { return !atLeastOne(a) })
		case "row_at_least":
			return true
		}
	}
	return false
}

// isCounted reports whether a quantity is a whole number, as far as can be seen at once.
func isCounted(q *check.Quantity) bool {
	if q.IsRule() {
		return isPlainRule(q) && wholeNumber(q.Value)
	}
	own := slices.ContainsFunc(q.Own, func(e *check.Expr) bool { return e != nil })
	return q.Whole && !own
}

// wholeNumber is isCounted of a part of a formula.
func wholeNumber(e *check.Expr) bool {
	switch e.Op {
	case check.Step:
		return true
	case check.Literal:
		return e.Num == math.Trunc(e.Num)
	case check.Read:
		return !e.Ref.Prev && isCounted(e.Ref.Target)
	case check.Add, check.Sub, check.Mul, check.Else:
		return wholeNumber(e.Args[0]) && wholeNumber(e.Args[1])
	case check.If:
		return wholeNumber(e.Args[1]) && wholeNumber(e.Args[2])
	case check.Fold:
		switch e.Fold.Kind {
		case check.Count, check.Length:
			return true
		case check.Sum, check.Min, check.Max, check.First, check.Last:
			return wholeNumber(e.Args[0])
		}
	case check.Call:
		switch e.Fn.Name {
		case "round", "floor", "ceil", "row_at_least":
			return true
		case "min", "max":
			return !slices.ContainsFunc(e.Args, func(a *check.Expr) bool { return !wholeNumber(a) })
		}
	}
	return false
}

// mostOf is a number that e, which is never below 0, does not go beyond as far as can be
// seen at once; infinite where nothing can be seen.
func mostOf(e *check.Expr) float64 {
	switch e.Op {
	case check.Literal:
		return e.Num
	case check.Read:
		return mostOfQuantity(e.Ref.Target)
	case check.If:
		return max(mostOf(e.Args[1]), mostOf(e.Args[2]))
	case check.Fold:
		if e.Fold.Kind == check.Length && e.Args[0].Table != nil {
			return float64(len(e.Args[0].Table.Rows))
		}
	case check.Call:
		most := math.Inf(1)
		switch e.Fn.Name {
		case "round", "floor":
			return math.Round(mostOf(e.Args[0]))
		case "min":
			for _, a := range e.Args {
				most = min(most, mostOf(a))
			}
		}
		return most
	}
	return math.Inf(1)
}

func mostOfQuantity(q *check.Quantity) float64 {
	if isPlainRule(q) {
		return mostOf(q.Value)
	}
	if q.IsRule() || q.Max == nil {
		return math.Inf(1)
	}
	return q.Max.Value
}
