package text

import (
	"fmt"
	"slices"
	"strings"

	"bankwright/export/told"
)

// beside writes the cells that are shown and do not decide: over one input at each
// value, else from where to where they go.
func (g *grid) beside() {
	t := g.T
	if len(t.Beside) == 0 {
		return
	}
	if len(t.Axes) == 1 && t.Kept {
		for from := 0; from < len(t.Beside); {
			to := from + 1
			for to < len(t.Beside) && t.Beside[to].Quantity == t.Beside[from].Quantity {
				to++
			}
			g.besideLine(from, to)
			from = to
		}
		return
	}
	names, low, high, units := tableColumn{head: "over all points", left: true}, tableColumn{head: "least"}, tableColumn{head: "most"}, tableColumn{left: true}
	for i, c := range t.Beside {
		both := g.Numbers(c.Quantity, []float64{t.Low[i], t.High[i]})
		names.cells, units.cells = append(names.cells, g.M.CellName(c)), append(units.cells, g.Unit(c.Quantity))
		low.cells, high.cells = append(low.cells, both[0]), append(high.cells, both[1])
	}
	fmt.Fprintln(g.w)
	writeColumns(g.w, fitted([]tableColumn{names, low, high, units}, g.st.Width), g.st)
	sentence(g.w, g.st, "Every point: -o FILE.csv, .parquet or .xlsx.")
}

// besideLine writes cells of one quantity at each value of the only input, in
// blocks that fit the width.
func (g *grid) besideLine(from, to int) {
	t := g.T
	at, _ := g.rows(t.Axes[0])
	first := steps(g.Words, t.Axes[0], at)
	q := t.Beside[from].Quantity
	var all []float64
	for k := from; k < to; k++ {
		for _, point := range at {
			all = append(all, t.Value(k, point))
		}
	}
	shown := g.Numbers(q, all)
	still := func(k int) bool { // the same at every value
		return !slices.ContainsFunc(shown[(k-from)*len(at):(k-from+1)*len(at)], func(s string) bool { return s != shown[(k-from)*len(at)] })
	}
	fmt.Fprintf(g.w, "\n%s\n", g.st.paint(bold, strings.TrimSpace(q.Label+"  "+g.Unit(q))))
	columns := []tableColumn{first}
	var same []string
	for k := from; k < to; k++ {
		if still(k) {
			same = append(same, told.Beside(g.M, t.Beside[k])+" "+g.M.Text(q, t.Value(k, 0)))
			continue
		}
		c := tableColumn{head: told.Beside(g.M, t.Beside[k]), cells: shown[(k-from)*len(at) : (k-from+1)*len(at)]}
		if len(columns) > 1 && sizeOf(append(columns[:len(columns):len(columns)], c)) > g.st.Width {
			writeColumns(g.w, columns, g.st)
			fmt.Fprintln(g.w)
			columns = []tableColumn{first}
		}
		columns = append(columns, c)
	}
	if len(columns) > 1 {
		writeColumns(g.w, columns, g.st)
	}
	if len(same) > 0 {
		sentence(g.w, g.st, "At every value: %s.", strings.Join(same, ", "))
	}
}
