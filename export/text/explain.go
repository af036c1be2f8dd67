package text

import (
	"fmt"
	"io"
	"strings"

	"bankwright/engine"
	"bankwright/engine/check"
	"bankwright/engine/decl"
)

// Explain writes how a cell came about: its value and formula, then what the
// formula reads, level by level, each with the place where it is written.
func Explain(w io.Writer, m *engine.Model, t *engine.Trace, st Style) {
	q := t.Cell.Quantity
	title := t.Name + " = " + t.Text
	if width(title) > st.Width {
		title = t.Name + "\n= " + t.Text
	}
	fmt.Fprint(w, st.paintLines(bold, title+"\n"))
	if q.Doc != "" {
		fmt.Fprint(w, indented(q.Doc, 2, st.Width))
	}
	if t.Verdict != "" {
		fmt.Fprint(w, indented("Not met: "+t.Verdict, 2, st.Width))
	}
	if t.Reason != "" {
		fmt.Fprint(w, indented("No value: "+t.Reason+".", 2, st.Width))
	}
	fmt.Fprint(w, howCame(origin(t), 2, st))
	if q.Source != "" {
		fmt.Fprint(w, hang("  source: ", q.Source, 10, st.Width))
	}
	seen := map[string]bool{t.Name: true}
	for _, s := range t.Recorded {
		fmt.Fprint(w, hang("  ", s, 4, st.Width))
		seen[s] = true
	}
	if q.Type == decl.Points {
		pointRows(w, m, t)
	}
	var lines []line
	collect(t.From, 1, seen, &lines)
	writeLines(w, lines, st)
}

// line is one cell of the tree.
type line struct {
	depth       int // levels below the cell that is explained
	name, value string
	how         came
	indent      int
	recorded    []string // where in recordings it was found
}

// came is how a value came about: what is to be said of it, and the place where
// that is written.
type came struct{ what, place string }

// short is the same on one line.
func (c came) short() string {
	if c.what == "" || c.place == "" {
		return c.what + c.place
	}
	return c.what + "   " + c.place
}

// howCame writes how a value came about at an indent, over several lines where it
// is long; the place stands apart or on a line of its own.
func howCame(c came, indent int, st Style) string {
	indent = min(indent, max(2, st.Width-narrowest))
	if s := c.short(); indent+width(s) <= st.Width {
		return strings.Repeat(" ", indent) + s + "\n"
	}
	s := indented(c.what, indent, st.Width)
	last := s[strings.LastIndexByte(strings.TrimSuffix(s, "\n"), '\n')+1 : len(s)-1]
	if width(last)+3+width(c.place) <= st.Width {
		return strings.TrimSuffix(s, "\n") + "   " + c.place + "\n"
	}
	return s + indented(c.place, indent, st.Width)
}

// narrowest is how many characters are left for a text, however deep it stands.
const narrowest = 36

// collect lists the tree below a cell, a cell that has been told once not again
// and of many cells of one quantity the first two and the last.
func collect(from []*engine.Trace, depth int, seen map[string]bool, out *[]line) {
	count := map[*check.Quantity]int{}
	for _, t := range from {
		count[t.Cell.Quantity]++
	}
	nth := map[*check.Quantity]int{}
	for _, t := range from {
		q := t.Cell.Quantity
		nth[q]++
		if n := count[q]; n > mostAlike && nth[q] > 2 && nth[q] < n {
			if nth[q] == 3 {
				*out = append(*out, line{depth: depth, name: fmt.Sprintf("… %d more", n-3)})
			}
			continue
		}
		l := line{depth: depth, name: t.Name, value: t.Text, how: origin(t)}
		again := seen[t.Name] && len(t.From) > 0
		if again {
			l.how = came{what: "see above"}
		}
		for _, s := range t.Recorded {
			if !again && !seen[s] { // what was repaired in a recording is told once
				l.recorded, seen[s] = append(l.recorded, s), true
			}
		}
		*out = append(*out, l)
		seen[t.Name] = true
		if !again {
			collect(t.From, depth+1, seen, out)
		}
	}
}

// mostAlike is how many cells of one quantity are told of each.
const mostAlike = 6

// writeLines aligns names and values; what does not fit goes to the next line.
func writeLines(w io.Writer, lines []line, st Style) {
	names, values := 0, 0
	for i := range lines {
		l := &lines[i]
		l.indent = min(2*l.depth, max(0, st.Width-width(l.name)))
		values = max(values, min(width(l.value), 16))
	}
	most := max(0, st.Width-2-values)
	for _, l := range lines {
		names = max(names, min(l.indent+width(l.name), most, 46))
	}
	for _, l := range lines {
		head := strings.Repeat(" ", l.indent) + l.name
		if l.value != "" && width(head) > most {
			fmt.Fprintln(w, head)
			head = ""
		}
		if l.value != "" {
			head = padRight(head, names) + "  " + padLeft(l.value, values)
		}
		if how := l.how.short(); width(head)+2+width(how) <= st.Width {
			fmt.Fprintln(w, strings.TrimRight(head+"  "+how, " "))
		} else {
			fmt.Fprintln(w, head)
			fmt.Fprint(w, st.paintLines(dim, howCame(l.how, l.indent+4, st)))
		}
		for _, s := range l.recorded {
			fmt.Fprint(w, st.paintLines(dim, indented(s, min(l.indent+4, max(2, st.Width-narrowest)), st.Width)))
		}
	}
}

// origin tells where a value comes from: its formula, or the line that gives it.
func origin(t *engine.Trace) came {
	switch {
	case t.Formula != nil:
		return came{"= " + strings.Join(strings.Fields(t.Formula.Text), " "), place(t.Formula.At.String())}
	case t.Cell.Quantity.Inverse != nil:
		return came{"by the reference " + inverseOf(t.Cell.Quantity), place(t.Cell.Quantity.At.String())}
	case t.Given != nil && t.Given.Default:
		return came{"by default", place(t.Given.At.String())}
	case t.Given != nil:
		return came{"", place(t.Given.At.String())}
	}
	return came{what: "not given"}
}

// place shortens file:line:col to file:line.
func place(at string) string {
	if i := strings.LastIndexByte(at, ':'); i > 0 && strings.Count(at, ":") > 1 {
		return at[:i]
	}
	return at
}

func indented(s string, n, total int) string {
	return hang("", s, n, total)
}

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
