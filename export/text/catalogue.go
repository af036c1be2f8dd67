package text

import (
	"fmt"
	"io"
	"slices"
	"strings"

	"bankwright/engine"
	"bankwright/engine/decl"
	"bankwright/engine/unit"
)

// only is a comparison of a part of its items.
func only(c *engine.Comparison, list []engine.Standing) *engine.Comparison {
	part := *c
	part.Ranked = list
	return &part
}

// writeFrontier names the items on the frontier, cheapest first.
func writeFrontier(w io.Writer, c *engine.Comparison, st Style) {
	front := c.Frontier()
	if len(front) == 0 {
		return
	}
	const most = 24
	var names []string
	for _, s := range front {
		names = append(names, engine.ItemAlias(c.Kind.Items[s.Item]))
	}
	more := ""
	if n := len(names) - most; n > 0 {
		names, more = names[:most], fmt.Sprintf(", and %s more", unit.Format(float64(n), 0))
	}
	f := c.Kind.Compare.Frontier
	line := hang("", fmt.Sprintf("Frontier of %s (low) against %s (high): %s%s.", c.Kind.Quantity(f.Lowest).Label, c.Kind.Quantity(f.Highest).Label, strings.Join(names, ", "), more), 0, st.Width)
	fmt.Fprint(w, "\n", line)
}

// writeRest writes one line for each item that is not shown in full and that no
// check forbids, and counts the others by the check that forbids them.
func writeRest(w io.Writer, m *engine.Model, c *engine.Comparison, st Style) {
	var open, stopped []engine.Standing
	for _, s := range c.Rest() {
		if s.Stopped {
			stopped = append(stopped, s)
		} else {
			open = append(open, s)
		}
	}
	if len(open) > 0 {
		head := fmt.Sprintf("%s more that no check stops, best first", unit.Format(float64(len(open)), 0))
		if c.Kind.Compare.Frontier != nil {
			head += "; * is on the frontier"
		}
		fmt.Fprintf(w, "\n%s\n", st.paint(bold, head))
		writeTable(w, restTable(m, only(c, open)), st)
	}
	writeStopped(w, c, stopped, st)
}

// writeStopped counts items by the first check that forbids each.
func writeStopped(w io.Writer, c *engine.Comparison, stopped []engine.Standing, st Style) {
	if len(stopped) == 0 {
		return
	}
	checks, counts := c.Stops(stopped)
	order := make([]int, len(checks))
	for i := range order {
		order[i] = i
	}
	slices.SortStableFunc(order, func(a, b int) int { return counts[b] - counts[a] })
	var parts []string
	for _, i := range order {
		parts = append(parts, unit.Format(float64(counts[i]), 0)+" "+checks[i].Name)
	}
	verb := " are stopped"
	if len(stopped) == 1 {
		verb = " is stopped"
	}
	s := unit.Format(float64(len(stopped)), 0) + verb + ", counted by the first check that each fails: " + strings.Join(parts, ", ") + "."
	fmt.Fprint(w, "\n", hang("", s, 0, st.Width))
}

// table is a table with an item in each row.
type table struct {
	names   []string
	marks   []string // "*" or nothing
	columns []row    // label, unit and the cells of a quantity; the last one decides
	found   []against
}

// against is what speaks most against an item: a word, and the check behind it.
type against struct{ word, check string }

// restTable makes the table of the items of c.
func restTable(m *engine.Model, c *engine.Comparison) table {
	var t table
	for _, s := range c.Ranked {
		t.names = append(t.names, engine.ItemAlias(c.Kind.Items[s.Item]))
		mark := ""
		if s.Frontier {
			mark = "*"
		}
		t.marks = append(t.marks, mark)
		f := against{}
		switch o := c.Gravest(s.Item); {
		case o != nil && o.Check.Severity == decl.Caution && s.Eligible:
			f.word = o.Check.Severity.String()
		case o != nil && o.Check.Severity != decl.Caution:
			f = against{o.Check.Severity.String(), strings.ReplaceAll(o.Check.Name, "_", " ")}
		case !s.Eligible:
			f.word = "no figure"
		}
		t.found = append(t.found, f)
	}
	for _, name := range tabled(c) {
		r := figures(m, c, c.Kind.Quantity(name))
		r.cells = alignPoints(r.cells)
		t.columns = append(t.columns, r)
	}
	return t
}

// tabled are the quantities of the table, the deciding one last.
func tabled(c *engine.Comparison) []string {
	names := c.Kind.Compare.Table
	if len(names) == 0 {
		return shown(c.Kind)
	}
	names = slices.DeleteFunc(slices.Clone(names), func(s string) bool { return s == c.Kind.Compare.By })
	return append(names, c.Kind.Compare.By)
}

// columnWidth is how wide a column is: its widest cell or word of the head.
func columnWidth(r row) int {
	n := width(r.unit)
	for _, s := range r.cells {
		n = max(n, width(s))
	}
	for _, s := range strings.Fields(r.label) {
		n = max(n, width(s))
	}
	return n
}

// fit leaves out what does not fit into a width: the names of checks first,
// then columns, but never the deciding one. It tells which columns went.
func (t *table) fit(most int) (left []string) {
	total := func() int {
		n := 2 // the mark
		for _, s := range t.names {
			n = max(n, width(s)+2)
		}
		for _, r := range t.columns {
			n += 2 + columnWidth(r)
		}
		found := 0
		for _, f := range t.found {
			found = max(found, 2+width(f.text()))
		}
		return n + found
	}
	if total() > most {
		for i := range t.found {
			t.found[i].check = ""
		}
	}
	for total() > most && len(t.columns) > 1 {
		last := len(t.columns) - 2
		left = append([]string{t.columns[last].label}, left...)
		t.columns = slices.Delete(t.columns, last, last+1)
	}
	return left
}

func (f against) text() string { return strings.TrimSpace(f.word + " " + f.check) }

// writeTable writes a table whose heads take as many lines as they need.
func writeTable(w io.Writer, t table, st Style) {
	left := t.fit(st.Width)
	first := 0
	for _, s := range t.names {
		first = max(first, width(s))
	}
	lines := []string{}
	heads := make([][]string, len(t.columns))
	deep := 0
	for i, r := range t.columns {
		heads[i] = wrap(r.label, columnWidth(r))
		deep = max(deep, len(heads[i]))
	}
	for n := range deep + 1 {
		line := padRight("", first+2)
		for i, r := range t.columns {
			s := r.unit
			if n < deep {
				s = ""
				if at := n - deep + len(heads[i]); at >= 0 {
					s = heads[i][at]
				}
			}
			line += "  " + padLeft(s, columnWidth(r))
		}
		lines = append(lines, line)
	}
	for j, name := range t.names {
		line := padRight(name, first) + padLeft(t.marks[j], 2)
		for _, r := range t.columns {
			line += "  " + padLeft(r.cells[j], columnWidth(r))
		}
		lines = append(lines, line+"  "+t.found[j].text())
	}
	for _, line := range lines {
		fmt.Fprintln(w, strings.TrimRight(line, " "))
	}
	if len(left) > 0 {
		fmt.Fprint(w, hang("", "Not shown for want of width: "+strings.Join(left, ", ")+".", 0, st.Width))
	}
}
