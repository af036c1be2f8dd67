package export

import (
	"strings"

	"bankwright/engine/check"
	"bankwright/engine/decl"
)

// Workings are parts of formulas. Their heads name them in plain words, by the
// labels of what they read, not by the text of the formula.

// stepWords say what a step of a function's spreadsheet form finds.
var stepWords = map[string]string{
	"row":   "row in the table",
	"line":  "row on the sheet",
	"low":   "the least that counts as equal",
	"high":  "the most that counts as equal",
	"next":  "row of the next point",
	"lower": "point below",
	"upper": "point above",
	"way":   "share of the way to the next point",
	"from":  "value at the point below",
	"inner": "share of the beta distribution, inside",
	"outer": "share of the beta distribution, outside",
	"tail":  "share of the tail",
}

// stepPlain names a step of a function.
func stepPlain(label string) string {
	if words := stepWords[label]; words != "" {
		return words
	}
	return spaced(label)
}

// stepUnit is the argument in whose unit a step's result is, -1 where it has
// none.
func stepUnit(e *check.Expr, label string) int {
	if len(e.Args) < 2 || e.Fn.Columns() == 0 {
		return -1
	}
	switch label {
	case "lower", "upper", "low", "high":
		return 0
	case "from":
		return 1
	}
	return -1
}

// signs are the operators as people write them.
var signs = map[check.Op]string{
	check.Add: " + ", check.Sub: " − ", check.Mul: " × ", check.Div: " / ", check.Pow: " to the power ",
	check.Eq: " = ", check.Ne: " ≠ ", check.Lt: " < ", check.Le: " ≤ ", check.Gt: " > ", check.Ge: " ≥ ",
	check.And: " and ", check.Or: " or ",
}

// mostPlain is how many characters a name in plain words may have.
const mostPlain = 80

// plain names an expression in plain words, down to a depth of operators.
func plain(e *check.Expr, deep int) string {
	args := func(sign string) string {
		if deep == 0 {
			return "a part of it"
		}
		var out []string
		for _, a := range e.Args {
			if a.Op != check.Column {
				words := plain(a, deep-1)
				if e.Op >= check.Mul && e.Op <= check.Pow && (a.Op == check.Add || a.Op == check.Sub) {
					words = "(" + words + ")"
				}
				out = append(out, words)
			}
		}
		return strings.Join(out, sign)
	}
	switch e.Op {
	case check.Literal:
		if e.Type == decl.Number {
			return number(e.Num)
		}
		return "a fixed choice"
	case check.Read:
		return lowerFirst(labelOf(e.Ref.Target))
	case check.Step:
		return spaced(e.Axis.Name)
	case check.Neg:
		return "minus " + args("")
	case check.Not:
		return "not " + args("")
	case check.If:
		return "choice by " + plain(e.Args[0], max(0, deep-1))
	case check.Else:
		return args(", where not given ")
	case check.Call:
		return spaced(e.Fn.Name) + " of " + args(", ")
	case check.Fold:
		return "each of " + args(", ")
	}
	return args(signs[e.Op])
}

// plainly is the name of a part of a formula.
func plainly(e *check.Expr) string { return cut(plain(e, 3), mostPlain) }
