package engine

import (
	"cmp"
	"slices"

	"bankwright/engine/diag"
	"bankwright/engine/unit"
)

// MostTold is how many messages are told at once, whatever they come from: more than
// anybody mends before the next try.
const MostTold = 100

// Told is what is told of a list: no more than MostTold messages, and in one more how
// many are left out. Warnings are left out first: without its errors a file would look
// good; a limit that was reached is told before all, since the others follow from it.
func Told(list diag.List) diag.List {
	more := len(list) - MostTold
	if more <= 0 {
		return list
	}
	out := slices.Clone(list)
	slices.SortStableFunc(out, func(a, b diag.Diagnostic) int {
		return cmp.Or(cmp.Compare(a.Severity, b.Severity), cmp.Compare(rank(a), rank(b)))
	})
	next := out[MostTold]
	return append(out[:MostTold:MostTold], diag.Diagnostic{Code: "limit", Severity: next.Severity, At: out[MostTold-1].At,
		Summary: "left out: " + unit.Counted(more, "more message", "more messages"), Mend: "Mend the first ones and try again."})
}

// rank is 0 for a limit that was reached.
func rank(d diag.Diagnostic) int {
	if d.Code == "limit" {
		return 0
	}
	return 1
}
