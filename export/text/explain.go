package text

import (
	"bytes"
	"fmt"
	"io"
	"strings"

	"bankwright/engine"
	"bankwright/engine/check"
	"bankwright/engine/decl"
	"bankwright/engine/eval"
)

// Explain writes how a cell came about: its value and formula, then what the
// formula reads, level by level, each with the place where it is written.
func Explain(w io.Writer, m *engine.Model, t *engine.Trace, st Style) {
	q := t.Cell.Quantity
	title := t.Name + " = " + t.Text
	if width(title) > st.Width {
		title = t.Name + "\n" + strings.TrimSuffix(hang("= ", t.Text, 2, st.Width), "\n")
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
	told := &telling{told: map[string]bool{t.Name: true}, whole: map[*engine.Trace]bool{}, sourced: map[*check.Quantity]bool{}, deep: map[string]bool{}}
	told.look(t)
	if s := told.source(t); s != "" {
		fmt.Fprint(w, hang("  source: ", q.Source, 10, st.Width))
	}
	for _, s := range t.Recorded {
		fmt.Fprint(w, hang("  ", s, 4, st.Width))
		told.told[s] = true
	}
	if q.Type == decl.Points {
		pointRows(w, m, t)
	}
	told.below(t.From, 1)
	writeLines(w, told.lines, st)
	if told.cut || t.Cut {
		told.writeCut(w, m, t, st)
	}
}

// writeCut names what is given below the levels that are shown, and says how to see all.
func (l *telling) writeCut(w io.Writer, m *engine.Model, t *engine.Trace, st Style) {
	levels, _ := m.Below(t.Cell)
	var given []*engine.Trace
	for _, g := range m.GivenBelow(t.Cell) {
		if !l.told[g.Name] {
			given = append(given, g)
		}
	}
	if len(given) > 0 {
		l.lines = nil
		l.below(given, 1)
		fmt.Fprintln(w, "\n"+st.paint(bold, "Given further down"))
		writeLines(w, l.lines, st)
	}
	fmt.Fprintln(w)
	sentence(w, st, "… goes deeper; --depth %d shows all of it.", levels)
}

// A tree down to the inputs is shown by itself where it takes so many lines at most;
// else it is cut below some levels.
const (
	smallTree = 40
	fewLevels = 3
)

// Tree traces a cell down to what is given, or some levels where that would be long.
func Tree(m *engine.Model, c eval.Cell, st Style) *engine.Trace {
	if levels, cells := m.Below(c); len(cells) <= smallTree {
		var b bytes.Buffer
		t := m.Explain(c, levels)
		if Explain(&b, m, t, st); bytes.Count(b.Bytes(), []byte("\n")) <= smallTree {
			return t
		}
	}
	return m.Explain(c, fewLevels)
}

// line is one cell of the tree.
type line struct {
	depth       int // levels below the cell that is explained
	name, value string
	how         came
	indent      int
	remarks     []string // where in recordings it was found, and its source
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

// telling lists a tree: what has been told once, cells and remarks, is not told again.
type telling struct {
	told    map[string]bool
	whole   map[*engine.Trace]bool // what was looked at
	deep    map[string]bool        // cells that are told with what they read
	sourced map[*check.Quantity]bool
	cut     bool // something is left out that goes deeper
	lines   []line
}

// look notes which cells of a tree are told with what they read.
func (l *telling) look(t *engine.Trace) {
	if l.whole[t] {
		return
	}
	l.whole[t] = true
	if len(t.From) > 0 {
		l.deep[t.Name] = true
	}
	for _, f := range t.From {
		l.look(f)
	}
}

// below lists the tree below a cell, and of many cells of one quantity the first two and
// the last.
func (l *telling) below(from []*engine.Trace, depth int) {
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
				l.lines = append(l.lines, line{depth: depth, name: fmt.Sprintf("… %d more", n-3)})
			}
			continue
		}
		l.cell(t, depth)
	}
}

// cell lists a cell and what is below it.
func (l *telling) cell(t *engine.Trace, depth int) {
	one := line{depth: depth, name: t.Name, value: t.Text, how: origin(t)}
	if l.told[t.Name] && (t.Cut || len(t.From) > 0) {
		one.how = came{what: "see above"}
		l.lines = append(l.lines, one)
		return
	}
	if t.Cut && l.deep[t.Name] {
		one.how = came{what: "see below"}
		l.lines = append(l.lines, one)
		return
	}
	if t.Cut {
		l.cut = true
		one.how.what += " …"
	}
	for _, s := range t.Recorded {
		if !l.told[s] { // what was repaired in a recording is told once
			one.remarks, l.told[s] = append(one.remarks, s), true
		}
	}
	if s := l.source(t); s != "" {
		one.remarks = append(one.remarks, "source: "+s)
	}
	l.lines = append(l.lines, one)
	l.told[t.Name] = true
	l.below(t.From, depth+1)
}

// source is where the formula or the default of a cell comes from, the first time that
// its quantity is told.
func (l *telling) source(t *engine.Trace) string {
	q := t.Cell.Quantity
	if l.sourced[q] || t.Given != nil && !t.Given.Default {
		return ""
	}
	l.sourced[q] = true
	return q.Source
}

// mostAlike is how many cells of one quantity are told of each.
const mostAlike = 6

// writeLines aligns names and values; what does not fit goes to the next line.
func writeLines(w io.Writer, lines []line, st Style) {
	names, values := 0, 0
	for i := range lines {
		l := &lines[i]
		l.indent = min(2*l.depth, max(0, st.Width-width(l.name)))
		if n := width(l.value); n <= 16 { // else it is a sentence
			values = max(values, n)
		}
	}
	most := max(0, st.Width-2-values)
	for _, l := range lines {
		names = max(names, min(l.indent+width(l.name), most, 46))
	}
	for _, l := range lines {
		head := strings.Repeat(" ", l.indent) + l.name
		if width(l.value) > max(values, st.Width-names-2) { // a sentence
			fmt.Fprintln(w, head)
			fmt.Fprint(w, indented(l.value, min(l.indent+4, max(2, st.Width-narrowest)), st.Width))
			head, l.value = "", ""
		}
		if l.value != "" && width(head) > most {
			fmt.Fprintln(w, head)
			head = ""
		}
		if l.value != "" {
			head = padRight(head, names) + "  " + padLeft(l.value, values)
		}
		if how := l.how.short(); head != "" && width(head)+2+width(how) <= st.Width {
			fmt.Fprintln(w, strings.TrimRight(head+"  "+how, " "))
		} else {
			if head != "" {
				fmt.Fprintln(w, head)
			}
			fmt.Fprint(w, st.paintLines(dim, howCame(l.how, l.indent+4, st)))
		}
		for _, s := range l.remarks {
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
