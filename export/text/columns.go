package text

import (
	"fmt"
	"io"
	"slices"
	"strings"

	"bankwright/engine"
	"bankwright/export/told"
)

// tableColumn is a column of a table: its head, of one line or two, and its cells.
type tableColumn struct {
	head, unit string
	cells      []string
	left       bool // cells stand flush left; else decimal points stand below each other
	bars       bool // cells are bars
}

// size is how many characters the column takes.
func (c tableColumn) size() int {
	n := max(width(c.head), width(c.unit))
	for _, s := range alignPoints(c.cells) {
		n = max(n, width(s))
	}
	return n
}

// sizeOf is how many characters columns take beside each other.
func sizeOf(columns []tableColumn) int {
	n := -2
	for _, c := range columns {
		n += 2 + c.size()
	}
	return n
}

// writeColumns writes a table; its heads are bold. Where not all columns fit beside each
// other, the table goes on in further ones below, which begin with its first column.
func writeColumns(w io.Writer, columns []tableColumn, st Style) {
	for i, part := range parted(columns, st.Width) {
		if i > 0 {
			fmt.Fprintln(w)
		}
		writePart(w, part, st)
	}
}

// parted divides columns into tables of a width. A column without a head, such as that
// of units, stays beside the one before. Where the first column leaves no room for a
// single further one, its texts are cut, and no figures.
func parted(columns []tableColumn, n int) (out [][]tableColumn) {
	if sizeOf(columns) <= n {
		return [][]tableColumn{columns}
	}
	first, part := columns[:1:1], columns[:1:1]
	for i := 1; i < len(columns); {
		next := i + 1
		for next < len(columns) && columns[next].head == "" && !columns[next].bars {
			next++
		}
		group := columns[i:next]
		if len(part) > 1 && sizeOf(append(part[:len(part):len(part)], group...)) > n {
			out, part = append(out, part), first
		}
		part = append(part[:len(part):len(part)], group...)
		i = next
	}
	out = append(out, part)
	for i, part := range out {
		if over := sizeOf(part) - n; over > 0 && part[0].left {
			out[i] = slices.Clone(part)
			out[i][0] = part[0].shortened(max(1, part[0].size()-over))
		}
	}
	return out
}

// shortened is a column whose texts are cut to so many characters.
func (c tableColumn) shortened(n int) tableColumn {
	out := tableColumn{head: clipped(c.head, n), unit: clipped(c.unit, n), left: c.left}
	for _, s := range c.cells {
		out.cells = append(out.cells, clipped(s, n))
	}
	return out
}

// writePart writes columns that stand beside each other.
func writePart(w io.Writer, columns []tableColumn, st Style) {
	rows := 0
	for _, c := range columns {
		rows = max(rows, len(c.cells))
	}
	lines := make([]string, rows+2)
	for i, c := range columns {
		n := c.size()
		cells := append([]string{c.head, c.unit}, alignPoints(c.cells)...)
		for j, s := range cells {
			if i > 0 {
				lines[j] += "  "
			}
			if c.left || c.bars {
				lines[j] += padRight(s, n)
			} else {
				lines[j] += padLeft(s, n)
			}
		}
	}
	for i, line := range lines {
		line = strings.TrimRight(line, " ")
		switch {
		case i == 0:
			line = st.paint(bold, line)
		case i == 1 && line == "":
			continue
		case i == 1:
			line = st.paint(dim, line)
		}
		fmt.Fprintln(w, line)
	}
}

// clipped ends a text that is too long with an ellipsis.
func clipped(line string, n int) string {
	if width(line) <= n {
		return line
	}
	var b strings.Builder
	for _, r := range line {
		if width(b.String()+string(r)) >= n {
			break
		}
		b.WriteRune(r)
	}
	return b.String() + "…"
}

// fitted makes columns fit a width as far as it can: first the names of the first
// column are broken, then bars are left out.
func fitted(columns []tableColumn, n int) []tableColumn {
	if columns = broken(columns, n); sizeOf(columns) <= n {
		return columns
	}
	return slices.DeleteFunc(slices.Clone(columns), func(c tableColumn) bool { return c.bars })
}

// heading writes the title of a study, and its name at the right edge.
func heading(w io.Writer, title, name string, st Style) {
	lines := wrap(title, st.Width)
	if last := len(lines) - 1; last >= 0 && name != "" {
		if gap := st.Width - width(lines[last]) - width(name); gap >= 2 {
			name = strings.Repeat(" ", gap) + name
		} else {
			lines = append(lines, "")
			name = padLeft(name, st.Width)
		}
	}
	for i, l := range lines {
		fmt.Fprint(w, st.paint(bold, l))
		if i == len(lines)-1 {
			fmt.Fprint(w, st.paint(dim, name))
		}
		fmt.Fprintln(w)
	}
}

// sentence writes a sentence across the width.
func sentence(w io.Writer, st Style, format string, args ...any) {
	fmt.Fprint(w, hang("", fmt.Sprintf(format, args...), 0, st.Width))
}

// cellNames are words that call inputs as commands do.
func cellNames(m *engine.Model) told.Words { return told.Words{M: m, Name: m.CellName} }

// sentences writes sentences, each across the width; none of an empty text.
func sentences(w io.Writer, st Style, texts ...string) {
	for _, s := range texts {
		if s != "" {
			sentence(w, st, "%s", s)
		}
	}
}

// tornado draws, for each pair of moves away from a base, one bar to both sides.
func tornado(pairs [][2]float64, n int, blocks bool) []string {
	var moves []float64
	for _, p := range pairs {
		moves = append(moves, min(0, lesser(p[0], p[1])), max(0, -lesser(-p[0], -p[1])))
	}
	drawn := Bars(moves, n, blocks)
	out := make([]string, len(pairs))
	for i := range out {
		low, high := []rune(drawn[2*i]), []rune(drawn[2*i+1])
		for j, r := range high {
			if j < len(low) && r != ' ' {
				low[j] = r
			}
		}
		out[i] = string(low)
	}
	return out
}

// lesser is the lesser of two that may have no value; 0 if both have none.
func lesser(a, b float64) float64 {
	switch {
	case a != a && b != b:
		return 0
	case a != a || b < a:
		return b
	}
	return a
}
