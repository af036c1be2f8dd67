package text

import (
	"fmt"
	"strings"

	"bankwright/engine/sweep"
	"bankwright/engine/unit"
)

// chart writes a map of who is best over two inputs: the one with more values goes
// down, the other across.
func (g *grid) chart() error {
	down, across := g.t.Axes[1], g.t.Axes[0]
	at, left := g.rows(down)
	label, name := steps(g.m, down, at)
	first := tableColumn{head: inputs(g.m, down), unit: name, cells: label, left: name == ""}
	if !g.named(first, at) {
		g.letters(first, at)
	}
	if left != "" {
		sentence(g.w, g.st, "%s", left)
	}
	sentence(g.w, g.st, "%s", g.tally())
	return g.edges(thinned(across.Steps(), 5))
}

// named writes a map with names, if it fits.
func (g *grid) named(first tableColumn, at []int) bool {
	across := g.t.Axes[0]
	const most = 12
	if across.Steps() > most {
		return false
	}
	all := thinned(across.Steps(), across.Steps())
	heads, name := steps(g.m, across, all)
	columns := []tableColumn{first}
	for x, head := range heads {
		c := tableColumn{head: head, left: true}
		for _, y := range at {
			c.cells = append(c.cells, itemName(g.t.Judge.Kind, int(g.t.Best[g.t.Point(x, y)])))
		}
		columns = append(columns, c)
	}
	if sizeOf(columns) > g.st.Width {
		return false
	}
	g.above(first.size()+2, strings.TrimSpace(inputs(g.m, across)+"  "+name))
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
	across := g.t.Axes[0]
	indent := first.size() + 2
	most := max(3, (g.st.Width-indent+1)/2)
	shown := thinned(across.Steps(), across.Steps())
	if across.Steps() > most {
		shown = thinned(across.Steps(), most-1) // and the last
	}
	symbol := map[int32]string{sweep.None: "."}
	var legend []string
	for i, item := range g.order {
		if g.t.Wins[item] == 0 {
			continue
		}
		s := "+" // further ones
		if i < len(symbols) {
			s = symbols[i : i+1]
		}
		symbol[int32(item)] = s
		legend = append(legend, s+" "+itemName(g.t.Judge.Kind, item))
	}
	if g.t.Wins[len(g.order)] > 0 {
		legend = append(legend, ". none passes all checks")
	}
	cells, name := steps(g.m, across, shown)
	g.above(indent, strings.TrimSpace(inputs(g.m, across)+"  "+name))
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
			line += symbol[g.t.Best[g.t.Point(x, y)]] + " "
		}
		fmt.Fprintln(g.w, strings.TrimRight(line, " "))
	}
	sentence(g.w, g.st, "%s.", strings.Join(legend, ", "))
	if len(shown) < across.Steps() {
		sentence(g.w, g.st, "Every %s of %s columns is shown.", ordinal(shown[1]-shown[0]), unit.Format(float64(across.Steps()), 0))
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
	down, across := g.t.Axes[1], g.t.Axes[0]
	var heads, texts []string
	for _, x := range columns {
		changes, err := g.t.Changes(g.ctx, 1, []int{x, 0})
		if err != nil {
			return err
		}
		const most = 4
		if len(changes) == 0 {
			continue
		}
		parts := []string{itemName(g.t.Judge.Kind, changes[0].Before)}
		for i, c := range changes {
			if i == most {
				parts = append(parts, "("+moreChanges(len(changes)-most)+")")
				break
			}
			parts = append(parts, fmt.Sprintf("up to %s, then %s", between(g.m, down, c.At), itemName(g.t.Judge.Kind, c.After)))
		}
		heads, texts = append(heads, "  at "+across.Written(x)+":"), append(texts, strings.Join(parts, " "))
	}
	if len(heads) == 0 {
		return nil
	}
	indent := 0
	for _, h := range heads {
		indent = max(indent, width(h)+2)
	}
	fmt.Fprintf(g.w, "\n%s\n", g.st.paint(bold, "Where another is best, along "+inputs(g.m, down)))
	for i, h := range heads {
		fmt.Fprint(g.w, hang(padRight(h, indent), texts[i], indent, g.st.Width))
	}
	return nil
}
