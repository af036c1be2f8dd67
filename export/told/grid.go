package told

import (
	"cmp"
	"context"
	"fmt"
	"math"
	"slices"
	"strings"

	"bankwright/engine"
	"bankwright/engine/check"
	"bankwright/engine/eval"
	"bankwright/engine/sweep"
)

// Grid says what was found on the grid of a sweep.
type Grid struct {
	Words
	T     *sweep.Table
	Order []int // items, those that are best most often first, then as they rank; nil where nothing is compared
}

// NewGrid is what is said of a grid.
func NewGrid(w Words, t *sweep.Table) *Grid {
	g := &Grid{Words: w, T: t}
	if t.Judge != nil {
		g.Order = ranked(w.M, func(a, b int) int { return cmp.Compare(t.Wins[b], t.Wins[a]) })
	}
	return g
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

// Title is the title of a sweep; one without a title is called by its inputs.
func (g *Grid) Title(s *check.Sweep) string {
	if s.Title != "" {
		return s.Title
	}
	var names []string
	for _, a := range s.Axes {
		names = append(names, g.Inputs(a))
	}
	return strings.Join(names, " × ")
}

// Given says what the inputs are where nothing is moved.
func (g *Grid) Given() string {
	var parts []string
	for _, a := range g.T.Axes {
		for _, c := range a.Inputs[:min(len(a.Inputs), 3)] {
			if v := g.M.Result.At(c.Quantity, c.Item, c.Row); v == v {
				parts = append(parts, g.Name(c)+" "+g.M.Text(c.Quantity, v))
			} else {
				parts = append(parts, g.Name(c)+" nothing")
			}
		}
		if n := len(a.Inputs) - 3; n > 0 {
			parts = append(parts, fmt.Sprintf("and %d more", n))
		}
	}
	return "As given: " + strings.Join(parts, ", ") + "."
}

// Lead is by which share of the best's figure the next lies behind it at a point; NaN
// where there is no next, or nothing to take a share of.
func (g *Grid) Lead(point int) float64 {
	best := int(g.T.Best[point])
	if best == sweep.None {
		return math.NaN()
	}
	own, next := g.T.Figure(best, point), math.Inf(1)
	for item := range g.Order {
		if item != best && g.T.Passed(item, point) {
			next = min(next, math.Abs(g.T.Figure(item, point)-own))
		}
	}
	if math.IsInf(next, 1) || own == 0 {
		return math.NaN()
	}
	return next / math.Abs(own)
}

// Tally says who is best at how many points.
func (g *Grid) Tally() string {
	n := g.T.Points()
	var parts []string
	for _, item := range g.Order {
		switch wins := g.T.Wins[item]; {
		case wins == n:
			return fmt.Sprintf("%s is best at all %s points.", Item(g.T.Judge.Kind, item), Count(n))
		case wins > 0 && len(parts) == 0:
			parts = append(parts, fmt.Sprintf("%s is best at %s of %s points", Item(g.T.Judge.Kind, item), Count(wins), Count(n)))
		case wins > 0:
			parts = append(parts, fmt.Sprintf("%s at %s", Item(g.T.Judge.Kind, item), Count(wins)))
		}
	}
	none := g.T.Wins[len(g.Order)]
	switch {
	case none == n:
		return fmt.Sprintf("None passes all checks at any of the %s points.", Count(n))
	case none > 0:
		parts = append(parts, "none passes all checks at "+Count(none))
	}
	return strings.Join(parts, ", ") + "."
}

// Turns says where the best changes along the only input; "" where it does not.
func (g *Grid) Turns(ctx context.Context) (string, error) {
	changes, err := g.T.Changes(ctx, 0, []int{0})
	if err != nil {
		return "", err
	}
	const most = 6
	k := g.T.Judge.Kind
	var parts []string
	for i, c := range changes {
		if i == most {
			parts = append(parts, moreChanges(len(changes)-most)+" above")
			break
		}
		value := g.between(g.T.Axes[0], c.At)
		switch {
		case c.After == sweep.None:
			parts = append(parts, "none passes from "+value+" on")
		default:
			parts = append(parts, Item(k, c.After)+" is best from "+value+" on")
		}
	}
	if len(parts) == 0 {
		return "", nil
	}
	return "Upwards, " + strings.Join(parts, ", ") + ".", nil
}

// Edge says where the best changes along one axis of a grid, at steps of the others:
// "a up to 5 m, then b"; "" where it does not. Of steps, that of the axis does not count.
func (g *Grid) Edge(ctx context.Context, axis int, steps []int) (string, error) {
	changes, err := g.T.Changes(ctx, axis, steps)
	if err != nil || len(changes) == 0 {
		return "", err
	}
	const most = 4
	k := g.T.Judge.Kind
	parts := []string{Item(k, changes[0].Before)}
	for i, c := range changes {
		if i == most {
			parts = append(parts, "("+moreChanges(len(changes)-most)+")")
			break
		}
		parts = append(parts, fmt.Sprintf("up to %s, then %s", g.between(g.T.Axes[axis], c.At), Item(k, c.After)))
	}
	return strings.Join(parts, " "), nil
}

// Extent says over how many values of each axis a grid goes.
func (g *Grid) Extent() string {
	var axes []string
	for _, a := range g.T.Axes {
		at := Thinned(a.Steps(), 2)
		cells, name := g.Steps(a, at)
		axes = append(axes, fmt.Sprintf("%s of %s (%s .. %s)", Count(a.Steps()), g.Inputs(a), cells[0], strings.TrimSpace(cells[len(cells)-1]+" "+name)))
	}
	return Count(g.T.Points()) + " points: " + strings.Join(axes, " × ") + "."
}

// FailsThere explains a mark at figures.
const FailsThere = "* does not pass all checks there."

// Beside names a cell beside others of its quantity.
func Beside(m *engine.Model, c eval.Cell) string {
	name := ""
	if c.Quantity.Kind.Many {
		name = engine.ItemAlias(c.Quantity.Kind.Items[c.Item])
	}
	if _, step, ok := strings.Cut(m.CellName(c), "["); ok {
		name += "[" + step
	}
	if name == "" {
		return c.Quantity.Name
	}
	return name
}
