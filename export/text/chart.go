package text

import (
	"fmt"
	"strings"

	"bankwright/engine/sweep"
	"bankwright/export/told"
)

// chart writes a map of who is best over two inputs: the one with more values goes
// down, the other across.
func (g *grid) chart() error {
	down, across := g.T.Axes[1], g.T.Axes[0]
	at, left := g.rows(down)
	first := steps(g.Words, down, at)
	if !g.named(first, at) {
		g.letters(first, at)
	}
	sentences(g.w, g.st, left, g.Tally())
	return g.edges(told.Thinned(across.Steps(), 5))
}

// named writes a map with names, if it fits.
func (g *grid) named(first tableColumn, at []int) bool {
	across := g.T.Axes[0]
	const most = 12
	if across.Steps() > most {
		return false
	}
	all := told.Thinned(across.Steps(), across.Steps())
	heads, name := g.Steps(across, all)
	columns := []tableColumn{first}
	for x, head := range heads {
		c := tableColumn{head: head, left: true}
		for _, y := range at {
			c.cells = append(c.cells, g.item(int(g.T.Best[g.T.Point(x, y)])))
		}
		columns = append(columns, c)
	}
	if sizeOf(columns) > g.st.Width {
		return false
	}
	g.above(first.size()+2, strings.TrimSpace(g.Inputs(across)+"  "+name))
	writeColumns(g.w, columns, g.st)
	return true
}

// above writes what goes across, above the values of it.
func (g *grid) above(indent int, name string) {
	if indent+width(name) > g.st.Width {
		indent = max(0, g.st.Width-width(name))
	}
	fmt.Fprintln(g.w, strings.Repeat(" ", indent)+g.st.paint(bold, name))
}

// symbols stand for items on a map, in the order of how often they win.
const symbols = "abcdefghijklmnopqrstuvwxyz"

// letters writes a map with a letter for each item, thinned out to what fits.
func (g *grid) letters(first tableColumn, at []int) {
	across := g.T.Axes[0]
	indent := first.size() + 2
	most := max(3, (g.st.Width-indent+1)/2)
	shown := told.Thinned(across.Steps(), across.Steps())
	if across.Steps() > most {
		shown = told.Thinned(across.Steps(), most-1) // and the last
	}
	symbol := map[int32]string{sweep.None: "."}
	var legend []string
	for i, item := range g.Order {
		if g.T.Wins[item] == 0 {
			continue
		}
		s := "+" // further ones
		if i < len(symbols) {
			s = symbols[i : i+1]
		}
		symbol[int32(item)] = s
		legend = append(legend, s+" "+g.item(item))
	}
	if g.T.Wins[len(g.Order)] > 0 {
		legend = append(legend, ". none passes all checks")
	}
	cells, name := g.Steps(across, shown)
	g.above(indent, strings.TrimSpace(g.Inputs(across)+"  "+name))
	heads := scaleLine(cells, g.st.Width-indent)
	lines := []string{padRight(first.head, indent) + heads}
	if first.unit != "" {
		lines = append(lines, padLeft(first.unit, first.size()))
	}
	fmt.Fprintln(g.w, g.st.paint(bold, strings.TrimRight(strings.Join(lines, "\n"), " ")))
	labels := alignPoints(first.cells)
	for i, y := range at {
		line := padLeft(labels[i], first.size()) + "  "
		if first.left {
			line = padRight(labels[i], first.size()) + "  "
		}
		for _, x := range shown {
			line += symbol[g.T.Best[g.T.Point(x, y)]] + " "
		}
		fmt.Fprintln(g.w, strings.TrimRight(line, " "))
	}
	sentence(g.w, g.st, "%s.", strings.Join(legend, ", "))
	if len(shown) < across.Steps() {
		sentences(g.w, g.st, told.Every(shown, across.Steps(), "columns")+".")
	}
}

// scaleLine writes names above columns of two characters each, as many as have
// room.
func scaleLine(names []string, room int) string {
	line := ""
	for i, s := range names {
		if n := 2 * i; (line == "" || width(line)+1 < n) && n+width(s) <= room {
			line = padRight(line, n) + s
		}
	}
	return line
}

// edges says where the best changes along the rows, at some of the columns.
func (g *grid) edges(columns []int) error {
	var heads, texts []string
	indent := 0
	for _, x := range columns {
		edge, err := g.Edge(g.ctx, 1, []int{x, 0})
		if err != nil {
			return err
		}
		if edge == "" {
			continue
		}
		head := "  at " + g.T.Axes[0].Written(x) + ":"
		heads, texts = append(heads, head), append(texts, edge)
		indent = max(indent, width(head)+2)
	}
	if len(heads) == 0 {
		return nil
	}
	fmt.Fprintln(g.w)
	fmt.Fprint(g.w, g.st.paintLines(bold, indented("Where another is best, along "+g.Inputs(g.T.Axes[1]), 0, g.st.Width)))
	for i, h := range heads {
		fmt.Fprint(g.w, hang(padRight(h, indent), texts[i], indent, g.st.Width))
	}
	return nil
}
