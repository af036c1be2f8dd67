package text

import (
	"context"
	"fmt"
	"io"
	"slices"
	"strings"

	"bankwright/engine"
	"bankwright/engine/check"
	"bankwright/engine/sweep"
	"bankwright/engine/unit"
	"bankwright/export/told"
)

// mostRows is how many rows of a grid are shown unless all are asked for.
const mostRows = 30

// barWidth is how many characters a bar in a table takes.
const barWidth = 9

// Title writes the scenario's title, and its currency at the right edge.
func Title(w io.Writer, m *engine.Model, st Style) { title(w, m, st) }

// Sweep writes what was found on a grid: over one input a row for each value, over
// two a map of who is best, over more how often each item is. The context bounds the
// search for where that changes.
func Sweep(ctx context.Context, w io.Writer, m *engine.Model, s *check.Sweep, t *sweep.Table, st Style) error {
	g := grid{Grid: told.NewGrid(cellNames(m), t), ctx: ctx, st: st, w: w}
	name := ""
	if s.Name != "" {
		name = "sweep " + s.Name
	}
	heading(w, g.Title(s), name, st)
	sentences(w, st, g.Given())
	if t.Judge != nil {
		fmt.Fprintln(w)
	}
	var err error
	switch {
	case len(t.Axes) == 1:
		err = g.line()
	case len(t.Axes) == 2 && t.Judge != nil:
		err = g.chart()
	case t.Judge != nil:
		g.shares()
	}
	if err != nil {
		return err
	}
	g.beside()
	return nil
}

// grid writes what was found on a grid.
type grid struct {
	*told.Grid
	ctx context.Context
	st  Style
	w   io.Writer
}

// item is what people call an item that is compared.
func (g *grid) item(item int) string { return told.Item(g.T.Judge.Kind, item) }

// rows are the steps of an axis that are shown, and a sentence where it is not all.
func (g *grid) rows(a *check.Axis) ([]int, string) {
	if g.st.All || a.Steps() <= mostRows {
		return told.Thinned(a.Steps(), a.Steps()), ""
	}
	at := told.Thinned(a.Steps(), mostRows)
	return at, every(at, a.Steps())
}

// every says which part of so many values is shown, and how to see all.
func every(at []int, n int) string { return told.Every(at, n, "values") + "; --all shows all." }

// steps is the column of the values of an axis.
func steps(w told.Words, a *check.Axis, at []int) tableColumn {
	cells, name := w.Steps(a, at)
	return tableColumn{head: w.Inputs(a), unit: name, cells: cells, left: name == ""}
}

// line writes a grid over one input.
func (g *grid) line() error {
	at, left := g.rows(g.T.Axes[0])
	first := steps(g.Words, g.T.Axes[0], at)
	switch {
	case g.T.Judge != nil && g.T.Kept:
		g.figures(first, at)
	case g.T.Judge != nil:
		writeColumns(g.w, []tableColumn{first, g.winners(at)}, g.st)
	}
	sentences(g.w, g.st, left)
	if g.T.Judge == nil {
		return nil
	}
	turns, err := g.Turns(g.ctx)
	sentences(g.w, g.st, g.Tally(), turns)
	return err
}

// winners is the column of who is best.
func (g *grid) winners(at []int) tableColumn {
	c := tableColumn{head: "best", left: true}
	for _, point := range at {
		c.cells = append(c.cells, g.item(int(g.T.Best[point])))
	}
	return c
}

// figures writes the figures of as many items as fit, and the lead of the best.
func (g *grid) figures(first tableColumn, at []int) {
	columns, tail := []tableColumn{first, g.winners(at)}, g.leads(at)
	all := []float64{}
	for _, point := range at {
		for item := range g.Order {
			all = append(all, g.T.Figure(item, point))
		}
	}
	digits := told.Digits(g.T.Judge.By, all)
	marked := false
	var left []string
	for i, item := range g.Order {
		c := tableColumn{head: g.item(item) + " ", unit: g.Unit(g.T.Judge.By) + " "}
		fails := false
		for _, point := range at {
			s := g.figure(item, point, digits)
			fails = fails || strings.HasSuffix(s, "*")
			c.cells = append(c.cells, s)
		}
		fits := func(tail []tableColumn) bool {
			return sizeOf(append(append(columns[:len(columns):len(columns)], c), tail...)) <= g.st.Width
		}
		if g.T.Wins[item] > 0 && !fits(tail) && (fits(tail[:1]) || i == 0) {
			tail = tail[:1] // rather no bars than not who is best
		}
		if i > 0 && !fits(tail) {
			left = append(left, g.item(item))
			continue
		}
		marked = marked || fails
		columns = append(columns, c)
	}
	writeColumns(g.w, append(columns, tail...), g.st)
	if marked {
		sentences(g.w, g.st, told.FailsThere)
	}
	if len(left) > 0 {
		sentence(g.w, g.st, "Not shown for want of width: %s.", strings.Join(left, ", "))
	}
}

// leads are the columns of the best's lead: in percent, and as bars.
func (g *grid) leads(at []int) []tableColumn {
	share := tableColumn{head: "lead", unit: "%"}
	var leads []float64
	for _, point := range at {
		l := g.Lead(point)
		s := "-"
		if l == l {
			s = unit.Format(100*l, 1)
		}
		leads, share.cells = append(leads, l), append(share.cells, s)
	}
	return []tableColumn{share, {cells: Bars(leads, barWidth, g.st.Blocks), bars: true}}
}

// figure is a figure of an item, marked where it may not be best. The mark's place
// is kept free behind the others.
func (g *grid) figure(item, point, digits int) string {
	v := g.T.Figure(item, point)
	switch {
	case v != v:
		return "- "
	case g.T.Passed(item, point):
		return unit.Format(g.T.Judge.By.Unit.FromBase(v), digits) + " "
	}
	return unit.Format(g.T.Judge.By.Unit.FromBase(v), digits) + "*"
}

// shares writes how often each item is best.
func (g *grid) shares() {
	n := float64(g.T.Points())
	sentences(g.w, g.st, g.Extent())
	fmt.Fprintln(g.w)
	names, points, share := tableColumn{head: "best", left: true}, tableColumn{head: "points"}, tableColumn{head: "share", unit: "%"}
	var values []float64
	for _, item := range append(slices.Clone(g.Order), len(g.Order)) {
		wins := g.T.Wins[item]
		if wins == 0 {
			continue
		}
		name := "none passes"
		if item < len(g.Order) {
			name = g.item(item)
		}
		names.cells, points.cells = append(names.cells, name), append(points.cells, told.Count(wins))
		share.cells, values = append(share.cells, unit.Format(100*float64(wins)/n, 1)), append(values, float64(wins)/n)
	}
	writeColumns(g.w, []tableColumn{names, points, share, {cells: Bars(append(values, 1), 30, g.st.Blocks)[:len(values)], bars: true}}, g.st)
}
