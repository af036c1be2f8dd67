package text

import (
	"fmt"
	"io"
	"strings"

	"bankwright/engine/check"
	"bankwright/engine/decl"
)

// Rules writes what the rules know of every kind, or of one quantity or check.
func Rules(w io.Writer, p *check.Program, st Style) {
	for i, k := range p.Kinds {
		if i > 0 {
			fmt.Fprintln(w)
		}
		head := k.Name
		if k.Many {
			head += " (many: " + k.Plural + ")"
		}
		fmt.Fprintln(w, st.paint(bold, head))
		if k.Doc != "" {
			fmt.Fprint(w, indented(k.Doc, 2, st.Width))
		}
		section := ""
		for _, q := range k.Quantities {
			if q.Section != section {
				section = q.Section
				fmt.Fprintln(w, "\n  "+section)
			}
			ruleLine(w, q.Name, unitOf(q), summary(q), st)
		}
		for _, c := range p.Checks {
			if c.Result.Kind == k {
				ruleLine(w, "check "+c.Name, c.Severity.String(), c.Require.Text, st)
			}
		}
	}
}

// The columns of the list of rules, and how narrow the last one may be for what
// is long to be cut there; where it is narrower, it goes to lines of its own.
const (
	ruleName     = 30
	ruleUnit     = 12
	narrowColumn = 30
)

// ruleLine writes one rule.
func ruleLine(w io.Writer, name, unit, text string, st Style) {
	room := st.Width - ruleName - ruleUnit - 5
	if room >= narrowColumn {
		fmt.Fprintln(w, "  "+padRight(name, ruleName)+" "+padRight(unit, ruleUnit)+" "+cut(text, room))
		return
	}
	head := "  " + padRight(name, min(ruleName, st.Width-ruleUnit-4)) + " " + unit
	if line := padRight(head, ruleName+ruleUnit+3) + " " + strings.Join(strings.Fields(text), " "); width(line) <= st.Width {
		fmt.Fprintln(w, line)
		return
	}
	if width(head) > st.Width {
		head = "  " + name + "\n      " + unit
	}
	fmt.Fprintln(w, head)
	fmt.Fprint(w, indented(text, 6, st.Width))
}

func unitOf(q *check.Quantity) string {
	switch q.Type {
	case decl.Number:
		if q.Unit.Name == "" {
			return "-"
		}
		return q.Unit.Name
	case decl.Boolean:
		return "yes/no"
	case decl.Text:
		return "text"
	case decl.Reference:
		return q.To.Name
	case decl.Set:
		return q.To.Plural
	case decl.Recording:
		return "recording"
	}
	return "table"
}

// summary is a quantity's formula, or how its value is given.
func summary(q *check.Quantity) string {
	switch {
	case q.Formula != nil:
		return "= " + q.Formula.Text
	case q.Inverse != nil:
		return "inverse of " + inverseOf(q)
	case q.Default != nil:
		return "default " + q.Default.Written
	case q.Optional:
		return "optional"
	}
	return "required"
}

// inverseOf is the reference that a set is the inverse of.
func inverseOf(q *check.Quantity) string { return q.To.Name + "." + q.Inverse.Name }

func cut(s string, n int) string {
	s = strings.Join(strings.Fields(s), " ")
	if r := []rune(s); len(r) > n && n > 3 {
		return string(r[:n-3]) + "..."
	}
	return s
}

// Rule writes everything the rules say of one quantity.
func Rule(w io.Writer, q *check.Quantity, st Style) {
	fmt.Fprintln(w, st.paint(bold, q.Kind.Name+"."+q.Name)+"  "+unitOf(q))
	fmt.Fprint(w, indented(q.Doc, 2, st.Width))
	field := func(name, value string) {
		if value != "" {
			fmt.Fprint(w, hang("  "+name, value, 14, st.Width))
		}
	}
	var over []string
	for _, a := range q.Axes {
		over = append(over, a.Name)
	}
	field("over", strings.Join(over, ", "))
	if q.Formula != nil {
		field("formula", q.Formula.Text)
	} else {
		field("given", summary(q))
	}
	if q.Quantity.Start != nil {
		field("start", q.Quantity.Start.Text)
	}
	field("choices", strings.Join(q.Choices, ", "))
	if q.Min != nil {
		field("at least", q.Min.Written)
	}
	if q.Max != nil {
		field("at most", q.Max.Written)
	}
	if q.UsualMin != nil && q.UsualMax != nil {
		usually := q.UsualMin.Written + " to " + q.UsualMax.Written
		if q.UsualSource != "" {
			usually += " (" + q.UsualSource + ")"
		}
		field("usually", usually)
	}
	field("source", q.Source)
	field("written", q.At.String())
}

// Cautions writes the sentences that every output carries.
func Cautions(w io.Writer, notices []*decl.Notice, st Style) {
	for _, n := range notices {
		fmt.Fprint(w, hang("- ", n.Text, 2, st.Width))
		if n.Source != "" {
			fmt.Fprint(w, st.paintLines(dim, indented("("+n.Source+")", 2, st.Width)))
		}
	}
}

// CheckRule writes everything the rules say of one check.
func CheckRule(w io.Writer, c *check.Check, st Style) {
	fmt.Fprintln(w, st.paint(bold, "check."+c.Name)+"  "+c.Severity.String())
	fmt.Fprint(w, indented(c.Doc, 2, st.Width))
	for _, f := range [][2]string{{"of", c.Of.Name}, {"require", c.Require.Text}, {"otherwise", c.Otherwise}, {"source", c.Source}, {"written", c.At.String()}} {
		if f[1] != "" {
			fmt.Fprint(w, hang("  "+f[0], f[1], 14, st.Width))
		}
	}
}
