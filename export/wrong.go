package export

import (
	"strings"

	"bankwright/engine/check"
	"bankwright/engine/decl"
	"bankwright/engine/unit"
)

// What is pasted into a cell passes by the limits on what may be typed. Each row
// of inputs therefore says beside it where a value stands that is not possible,
// and the first sheet names the first of them and recommends nothing.

// wrongWord stands beside an input with a value that is not possible.
const wrongWord = "not possible"

// wrongState is what is to be said of a row of an input whose missing values are
// told by known, which may be nil.
func (pl *plan) wrongState(l *line, r int, known text) text {
	bad := pl.wrongCells(l, r)
	if bad == nil {
		return known
	}
	if known == nil {
		known = lit(`""`)
	}
	// What is missing comes first.
	return join("IF(", known, `<>"",`, known, ",IF(", bad, `>0,"`+wrongWord+`",""))`)
}

// wrongCells counts the values of a row that are not possible, nil where any is.
func (pl *plan) wrongCells(l *line, r int) text {
	cells := &ref{to: l, item: all, row: r}
	filled := join("SUMPRODUCT(1*(", cells, `<>""))`)
	switch l.q.Type {
	case decl.Recording:
		return nil // a file's name and its rows, which nobody types
	case decl.Boolean, decl.Set:
		return join("SUMPRODUCT((", cells, `<>"")*(`, cells, "<>TRUE)*(", cells, "<>FALSE))")
	case decl.Text:
		for _, c := range l.q.Choices {
			filled = join(filled, "-COUNTIF(", cells, ",", quoteText(c), ")")
		}
		if len(l.q.Choices) == 0 {
			return nil
		}
		return filled
	case decl.Reference:
		found := pl.pulls[hopKey(l.kind, []*check.Quantity{l.q}, "#")]
		if found == nil {
			return nil
		}
		return join("SUMPRODUCT(1*ISERROR(", &ref{to: found, item: all}, "))")
	}
	out := join(filled, "-COUNT(", cells, ")")
	limit := func(sign string, b *decl.Bound, u unit.Unit) {
		if b != nil {
			x := u.FromBase(b.Value)
			margin := tolerance * max(x, -x)
			if sign == "<" {
				margin = -margin
			}
			out = join(out, "+COUNTIF(", cells, `,"`+sign+`"&`+signed(x+margin)+")")
		}
	}
	limit("<", l.q.Min, l.q.Unit)
	limit(">", l.q.Max, l.q.Unit)
	if l.q.Whole {
		out = join(out, "+IFERROR(SUMPRODUCT(1*(ABS(", cells, "-ROUND(", cells, ",0))>tolerance*ABS(", cells, "))),0)")
	}
	return out
}

// signed is a figure behind an operator.
func signed(x float64) string {
	s := number(x)
	if strings.HasPrefix(s, "-") {
		return "(" + s + ")"
	}
	return s
}

// countWrong counts the inputs of a block that are not possible, and names the
// first; their states stand in rows of a column.
func (pl *plan) countWrong(title string, from, to, col int) (count, first string) {
	rows := func(c int) string {
		n := "Inputs!$" + columnName(c) + "$"
		return n + number(float64(from)) + ":" + n[len("Inputs!"):] + number(float64(to))
	}
	count = "COUNTIF(" + rows(col) + `,"` + wrongWord + `")`
	first = "INDEX(" + rows(labelCol) + `,MATCH("` + wrongWord + `",` + rows(col) + ",0))&" + quoteText(" ("+title+")")
	return count, first
}
