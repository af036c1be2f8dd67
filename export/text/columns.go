package text

import (
	"fmt"
	"io"
	"math"
	"slices"
	"strings"

	"bankwright/engine"
	"bankwright/engine/check"
	"bankwright/engine/decl"
	"bankwright/engine/unit"
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

// writeColumns writes a table; its heads are bold.
func writeColumns(w io.Writer, columns []tableColumn, st Style) {
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
		line = clipped(strings.TrimRight(line, " "), st.Width)
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

// clipped ends a line that is too long with an ellipsis.
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

// itemName is what people call an item, or the word for none.
func itemName(k *check.Kind, item int) string {
	if item < 0 {
		return "none"
	}
	return engine.ItemAlias(k.Items[item])
}

// numbers writes values of a quantity, in base units, with decimals that they
// share, and a dash where there is none.
func numbers(m *engine.Model, q *check.Quantity, values []float64) []string {
	out := make([]string, len(values))
	if q.Type != decl.Number {
		for i, v := range values {
			out[i] = m.Text(q, v)
		}
		return out
	}
	digits := digitsFor(q, values)
	for i, v := range values {
		if out[i] = "-"; v == v {
			out[i] = unit.Format(q.Unit.FromBase(v), digits)
		}
	}
	return out
}

// digitsFor is how many decimals values of a quantity share.
func digitsFor(q *check.Quantity, values []float64) int {
	if q.Decimals >= 0 {
		return q.Decimals
	}
	var shown []float64
	for _, v := range values {
		if v == v {
			shown = append(shown, q.Unit.FromBase(v))
		}
	}
	return unit.DecimalsFor(shown)
}

// unitIn is the unit of a quantity as shown.
func unitIn(m *engine.Model, q *check.Quantity) string {
	if q.Type != decl.Number {
		return ""
	}
	return q.Unit.In(m.Model.Currency)
}

// exactly writes a value of a quantity with some digits more than it has alone.
func exactly(m *engine.Model, q *check.Quantity, v float64, more int) string {
	return q.Unit.Show(v, unit.DecimalsFor([]float64{q.Unit.FromBase(v)})+more, m.Model.Currency)
}

// inputs names the cells of an axis.
func inputs(m *engine.Model, a *check.Axis) string {
	name := m.CellName(a.Inputs[0])
	switch n := len(a.Inputs) - 1; {
	case n == 1:
		name += ", " + m.CellName(a.Inputs[1])
	case n > 1:
		name += fmt.Sprintf(" and %d more", n)
	}
	return name
}

// steps writes values of an axis at some of its steps, and their unit.
func steps(m *engine.Model, a *check.Axis, at []int) (cells []string, name string) {
	q := a.Inputs[0].Quantity
	u := unit.Percent
	switch {
	case a.Relative:
		name = "% of given"
	case q.Type != decl.Number:
		for _, i := range at {
			cells = append(cells, a.Written(i))
		}
		return cells, ""
	default:
		u, name = q.Unit, unitIn(m, q)
	}
	var values []float64
	for _, i := range at {
		values = append(values, u.FromBase(a.Values[i]))
	}
	digits := decimalsOf(values)
	for _, v := range values {
		cells = append(cells, unit.Format(v, digits))
	}
	return cells, name
}

// decimalsOf is how many decimals values of an axis share: as many as figures do, or
// up to two more where they are not rounded then.
func decimalsOf(values []float64) int {
	least := unit.DecimalsFor(values)
	for d := least; d <= least+2; d++ {
		scale := math.Pow(10, float64(d))
		exact := true
		for _, v := range values {
			exact = exact && math.Abs(math.Round(v*scale)-v*scale) <= 1e-9*math.Abs(v*scale)
		}
		if exact {
			return d
		}
	}
	return least
}

// between writes a value that lies between steps of an axis.
func between(m *engine.Model, a *check.Axis, v float64) string {
	if a.Relative {
		return unit.Percent.Show(v, 1, "") + " of given"
	}
	return exactly(m, a.Inputs[0].Quantity, v, 1)
}

// thinned are places of n, equally far apart and most at most, and the last of them.
func thinned(n, most int) []int {
	stride := 1
	if n > most {
		stride = (n - 2 + max(1, most-1)) / max(1, most-1)
	}
	var out []int
	for at := 0; at < n; at += stride {
		out = append(out, at)
	}
	if out[len(out)-1] != n-1 {
		out = append(out, n-1)
	}
	return out
}

// every says which part of so many values is shown.
func every(shown []int, n int) string {
	return fmt.Sprintf("Every %s of %s values is shown; --all shows all.", ordinal(shown[1]-shown[0]), unit.Format(float64(n), 0))
}

// ordinal writes 2nd, 3rd, 4th.
func ordinal(n int) string {
	ending := "th"
	if tens := n / 10 % 10; tens != 1 {
		switch n % 10 {
		case 1:
			ending = "st"
		case 2:
			ending = "nd"
		case 3:
			ending = "rd"
		}
	}
	return unit.Format(float64(n), 0) + ending
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

// moreChanges says how many changes are not told.
func moreChanges(n int) string {
	if n == 1 {
		return "1 more change"
	}
	return unit.Format(float64(n), 0) + " more changes"
}
