package text

import (
	"cmp"
	"context"
	"fmt"
	"io"
	"math"
	"slices"
	"strings"

	"bankwright/engine"
	"bankwright/engine/check"
	"bankwright/engine/sweep"
	"bankwright/engine/unit"
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
	g := grid{ctx: ctx, m: m, t: t, st: st, w: w}
	if t.Judge != nil {
		g.order = ranked(m, func(a, b int) int { return cmp.Compare(t.Wins[b], t.Wins[a]) })
	}
	name := ""
	if s.Name != "" {
		name = "sweep " + s.Name
	}
	heading(w, gridTitle(m, s), name, st)
	g.given()
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

// gridTitle is the title of a sweep; one without a name is called by its inputs.
func gridTitle(m *engine.Model, s *check.Sweep) string {
	if s.Title != "" {
		return s.Title
	}
	var names []string
	for _, a := range s.Axes {
		names = append(names, inputs(m, a))
	}
	return strings.Join(names, " × ")
}

// grid writes what was found on a grid.
type grid struct {
	ctx   context.Context
	m     *engine.Model
	t     *sweep.Table
	st    Style
	w     io.Writer
	order []int // items, those that win most often first, then as they rank
}

// ranked are all items in an order; those that are alike in it, as they rank where
// nothing is moved.
func ranked(m *engine.Model, order func(a, b int) int) []int {
	var items []int
	for _, s := range m.Compare().Ranked {
		items = append(items, s.Item)
	}
	slices.SortStableFunc(items, order)
	return items
}

// given says what the inputs are where nothing is moved.
func (g *grid) given() {
	var parts []string
	for _, a := range g.t.Axes {
		for _, c := range a.Inputs[:min(len(a.Inputs), 3)] {
			if v := g.m.Result.At(c.Quantity, c.Item, c.Row); v == v {
				parts = append(parts, g.m.CellName(c)+" "+g.m.Text(c.Quantity, v))
			} else {
				parts = append(parts, g.m.CellName(c)+" nothing")
			}
		}
		if n := len(a.Inputs) - 3; n > 0 {
			parts = append(parts, fmt.Sprintf("and %d more", n))
		}
	}
	sentence(g.w, g.st, "As given: %s.", strings.Join(parts, ", "))
}

// rows are the steps of an axis that are shown, and a sentence where it is not all.
func (g *grid) rows(a *check.Axis) ([]int, string) {
	if g.st.All || a.Steps() <= mostRows {
		return thinned(a.Steps(), a.Steps()), ""
	}
	at := thinned(a.Steps(), mostRows)
	return at, every(at, a.Steps())
}

// line writes a grid over one input.
func (g *grid) line() error {
	a := g.t.Axes[0]
	at, left := g.rows(a)
	cells, name := steps(g.m, a, at)
	first := tableColumn{head: inputs(g.m, a), unit: name, cells: cells, left: name == ""}
	switch {
	case g.t.Judge != nil && g.t.Kept:
		g.figures(first, at)
	case g.t.Judge != nil:
		writeColumns(g.w, []tableColumn{first, g.winners(at)}, g.st)
	}
	if left != "" {
		sentence(g.w, g.st, "%s", left)
	}
	if g.t.Judge == nil {
		return nil
	}
	sentence(g.w, g.st, "%s", g.tally())
	changes, err := g.t.Changes(g.ctx, 0, []int{0})
	if err != nil {
		return err
	}
	g.turns(changes)
	return nil
}

// winners is the column of who is best.
func (g *grid) winners(at []int) tableColumn {
	c := tableColumn{head: "best", left: true}
	for _, point := range at {
		c.cells = append(c.cells, itemName(g.t.Judge.Kind, int(g.t.Best[point])))
	}
	return c
}

// figures writes the figures of as many items as fit, and the lead of the best.
func (g *grid) figures(first tableColumn, at []int) {
	columns, tail := []tableColumn{first, g.winners(at)}, g.leads(at)
	all := []float64{}
	for _, point := range at {
		for item := range g.order {
			all = append(all, g.t.Figure(item, point))
		}
	}
	digits := digitsFor(g.t.Judge.By, all)
	marked := false
	var left []string
	for i, item := range g.order {
		c := tableColumn{head: itemName(g.t.Judge.Kind, item) + " ", unit: unitIn(g.m, g.t.Judge.By) + " "}
		fails := false
		for _, point := range at {
			s := g.figure(item, point, digits)
			fails = fails || strings.HasSuffix(s, "*")
			c.cells = append(c.cells, s)
		}
		fits := func(tail []tableColumn) bool {
			return sizeOf(append(append(columns[:len(columns):len(columns)], c), tail...)) <= g.st.Width
		}
		if g.t.Wins[item] > 0 && !fits(tail) && (fits(tail[:1]) || i == 0) {
			tail = tail[:1] // rather no bars than not who is best
		}
		if i > 0 && !fits(tail) {
			left = append(left, itemName(g.t.Judge.Kind, item))
			continue
		}
		marked = marked || fails
		columns = append(columns, c)
	}
	writeColumns(g.w, append(columns, tail...), g.st)
	if marked {
		sentence(g.w, g.st, "* does not pass all checks there.")
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
		l := g.lead(point)
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
	v := g.t.Figure(item, point)
	switch {
	case v != v:
		return "- "
	case g.t.Passed(item, point):
		return unit.Format(g.t.Judge.By.Unit.FromBase(v), digits) + " "
	}
	return unit.Format(g.t.Judge.By.Unit.FromBase(v), digits) + "*"
}

// lead is by which share of the best's figure the next lies behind it; NaN where
// there is no next, or nothing to take a share of.
func (g *grid) lead(point int) float64 {
	best := int(g.t.Best[point])
	if best == sweep.None {
		return math.NaN()
	}
	own, next := g.t.Figure(best, point), math.Inf(1)
	for item := range g.order {
		if item != best && g.t.Passed(item, point) {
			next = min(next, math.Abs(g.t.Figure(item, point)-own))
		}
	}
	if math.IsInf(next, 1) || own == 0 {
		return math.NaN()
	}
	return next / math.Abs(own)
}

// tally says who is best at how many points.
func (g *grid) tally() string {
	n := g.t.Points()
	var parts []string
	for _, item := range g.order {
		switch wins := g.t.Wins[item]; {
		case wins == n:
			return fmt.Sprintf("%s is best at all %s points.", itemName(g.t.Judge.Kind, item), unit.Format(float64(n), 0))
		case wins > 0 && len(parts) == 0:
			parts = append(parts, fmt.Sprintf("%s is best at %s of %s points", itemName(g.t.Judge.Kind, item), unit.Format(float64(wins), 0), unit.Format(float64(n), 0)))
		case wins > 0:
			parts = append(parts, fmt.Sprintf("%s at %s", itemName(g.t.Judge.Kind, item), unit.Format(float64(wins), 0)))
		}
	}
	none := g.t.Wins[len(g.order)]
	switch {
	case none == n:
		return fmt.Sprintf("None passes all checks at any of the %s points.", unit.Format(float64(n), 0))
	case none > 0:
		parts = append(parts, fmt.Sprintf("none passes all checks at %s", unit.Format(float64(none), 0)))
	}
	return strings.Join(parts, ", ") + "."
}

// turns says where the best changes along one input.
func (g *grid) turns(changes []sweep.Change) {
	const most = 6
	k := g.t.Judge.Kind
	a := g.t.Axes[0]
	var parts []string
	for i, c := range changes {
		if i == most {
			parts = append(parts, moreChanges(len(changes)-most)+" above")
			break
		}
		value := between(g.m, a, c.At)
		switch {
		case c.After == sweep.None:
			parts = append(parts, "none passes from "+value+" on")
		default:
			parts = append(parts, itemName(k, c.After)+" is best from "+value+" on")
		}
	}
	if len(parts) > 0 {
		sentence(g.w, g.st, "Upwards, %s.", strings.Join(parts, ", "))
	}
}

// shares writes how often each item is best.
func (g *grid) shares() {
	n := float64(g.t.Points())
	var axes []string
	for _, a := range g.t.Axes {
		at := thinned(a.Steps(), 2)
		cells, name := steps(g.m, a, at)
		axes = append(axes, strings.TrimSpace(fmt.Sprintf("%s of %s (%s .. %s %s)", unit.Format(float64(a.Steps()), 0), inputs(g.m, a), cells[0], cells[len(cells)-1], name)))
	}
	sentence(g.w, g.st, "%s points: %s.", unit.Format(n, 0), strings.Join(axes, " × "))
	fmt.Fprintln(g.w)
	names, points, share := tableColumn{head: "best", left: true}, tableColumn{head: "points"}, tableColumn{head: "share", unit: "%"}
	var values []float64
	for _, item := range append(slices.Clone(g.order), len(g.order)) {
		wins := g.t.Wins[item]
		if wins == 0 {
			continue
		}
		name := "none passes"
		if item < len(g.order) {
			name = itemName(g.t.Judge.Kind, item)
		}
		names.cells, points.cells = append(names.cells, name), append(points.cells, unit.Format(float64(wins), 0))
		share.cells, values = append(share.cells, unit.Format(100*float64(wins)/n, 1)), append(values, float64(wins)/n)
	}
	writeColumns(g.w, []tableColumn{names, points, share, {cells: Bars(append(values, 1), 30, g.st.Blocks)[:len(values)], bars: true}}, g.st)
}
