package export

import (
	"cmp"
	"context"
	"fmt"
	"math"
	"slices"
	"strings"

	"bankwright/engine"
	"bankwright/engine/check"
	"bankwright/engine/decl"
	"bankwright/engine/eval"
	"bankwright/engine/sample"
	"bankwright/engine/sweep"
	"bankwright/engine/unit"
	"bankwright/export/picture"
)

// SweepPicture draws a grid: over one input the figure of each item, over two who is
// best. A grid over more is shown at the first step of the others. The error is a
// sentence that says why it cannot be drawn.
func SweepPicture(m *engine.Model, f engine.FoundSweep) (picture.Picture, error) {
	t := f.Table
	switch {
	case t.Judge == nil:
		return nil, fmt.Errorf("these rules compare nothing, so that there is no best to draw")
	case !t.Kept:
		return nil, fmt.Errorf("a grid of %s points is too fine to be drawn; take fewer values", unit.Format(float64(t.Points()), 0))
	case len(t.Axes) == 1:
		return sweepCurves(m, f.Title, t), nil
	}
	return sweepMap(m, f), nil
}

// figureTitle is the deciding quantity with its unit.
func figureTitle(m *engine.Model, q *check.Quantity) string {
	if u := q.Unit.In(m.Model.Currency); u != "" {
		return q.Label + " (" + u + ")"
	}
	return q.Label
}

// pictureAxis is an axis as a picture takes it, and where its given value lies; NaN
// where that is nowhere on it.
func pictureAxis(m *engine.Model, a *check.Axis) (picture.Axis, float64) {
	var names []string
	for _, c := range a.Inputs {
		names = append(names, m.CellName(c))
	}
	title := strings.Join(names, ", ")
	if len(names) > 3 {
		title = fmt.Sprintf("%s and %d more", strings.Join(names[:2], ", "), len(names)-2)
	}
	c := a.Inputs[0]
	q, given := c.Quantity, m.Result.At(c.Quantity, c.Item, c.Row)
	if q.Type != decl.Number && !a.Relative {
		x, at := picture.Axis{Title: title}, math.NaN()
		for i, v := range a.Values {
			if v == given {
				at = float64(i)
			}
			x.Names = append(x.Names, a.Written(i))
		}
		return x, at
	}
	u, name := q.Unit, q.Unit.In(m.Model.Currency)
	if a.Relative {
		u, name, given = unit.Percent, "% of given", 1
	}
	if name != "" {
		title += " (" + name + ")"
	}
	x := picture.Axis{Title: title}
	for _, v := range a.Values {
		x.Values = append(x.Values, u.FromBase(v))
	}
	return x, u.FromBase(given)
}

func itemNames(k *check.Kind) (out []string) {
	for _, it := range k.Items {
		out = append(out, engine.ItemAlias(it))
	}
	return out
}

// sweepCurves draws a grid over one input; without a title it says what it asks.
func sweepCurves(m *engine.Model, title string, t *sweep.Table) picture.Curves {
	x, given := pictureAxis(m, t.Axes[0])
	c := picture.Curves{Title: cmp.Or(title, "Who is best, as "+x.Title+" moves?"), X: x, Axis: figureTitle(m, t.Judge.By)}
	if given == given {
		c.Base = &picture.Point{Name: "as given", X: given}
	}
	for item, name := range itemNames(t.Judge.Kind) {
		line := picture.Curve{Item: name}
		for p := range t.Points() {
			line.Results = append(line.Results, t.Judge.By.Unit.FromBase(t.Figure(item, p)))
		}
		c.Lines = append(c.Lines, line)
	}
	return c
}

// sweepMap draws the last two axes: of the grid, these have the longest; of further
// ones, their first step.
func sweepMap(m *engine.Model, f engine.FoundSweep) picture.Picture {
	t := f.Table
	n := len(t.Axes)
	x, atX := pictureAxis(m, t.Axes[n-1])
	y, atY := pictureAxis(m, t.Axes[n-2])
	points := x.Len() * y.Len()
	p := picture.Map{Title: cmp.Or(f.Title, "Who is best?"), X: x, Y: y, Items: itemNames(t.Judge.Kind), BestTitle: figureTitle(m, t.Judge.By)}
	for i, a := range t.Axes[:n-2] {
		word := "with "
		if i > 0 {
			word = "and "
		}
		p.Note += word + m.CellName(a.Inputs[0]) + " at " + a.Written(0) + " "
	}
	if p.Note = strings.TrimSpace(p.Note); p.Note != "" {
		p.Note = "Drawn " + p.Note + "."
	}
	if atX == atX && atY == atY {
		p.Base = &picture.Point{Name: "as given", X: atX, Y: atY}
	}
	for i := range points { // the first step of the others: the first points of the grid
		best := int(t.Best[i])
		p.Winner = append(p.Winner, best)
		figure := math.NaN()
		if best != sweep.None {
			figure = t.Judge.By.Unit.FromBase(t.Figure(best, i))
		}
		p.Best = append(p.Best, figure)
	}
	p.Lead = func(item, other, point int) float64 {
		if !t.Passed(item, point) || !t.Passed(other, point) {
			return math.NaN()
		}
		lead := t.Figure(other, point) - t.Figure(item, point)
		if !t.Judge.Kind.Compare.Lowest {
			lead = -lead
		}
		return lead
	}
	return p
}

// mostDrawn is how many inputs a picture of effects shows.
const mostDrawn = 15

// EffectsPicture draws what each input does alone.
func EffectsPicture(m *engine.Model, e *sweep.Effects, by float64) picture.Picture {
	k := m.Compared()
	q := k.Quantity(k.Compare.By)
	winner := engine.ItemAlias(k.Items[e.Winner])
	p := picture.Effects{
		Title: "What moves the " + q.Label + " of " + winner + "?", Axis: figureTitle(m, q), BaseName: "as given", Base: q.Unit.FromBase(e.Figure),
		Note: fmt.Sprintf("Each input alone, %s %% down and up.", unit.Format(100*by, -1)),
	}
	end := func(c eval.Cell, at, figure float64, best int) picture.End {
		x := picture.End{Input: c.Quantity.Unit.Show(at, -1, m.Model.Currency), Result: q.Unit.FromBase(figure)}
		switch {
		case best == sweep.None:
			x.Winner = "none"
		case best != e.Winner:
			x.Winner = engine.ItemAlias(k.Items[best])
		}
		return x
	}
	for _, x := range e.All[:min(mostDrawn, len(e.All))] {
		if low, high := x.Figures(); x.Swing() > 0 {
			p.Inputs = append(p.Inputs, picture.Effect{Input: m.CellName(x.Cell), Low: end(x.Cell, x.Low, low, x.BestLow), High: end(x.Cell, x.High, high, x.BestHigh)})
		}
	}
	return p
}

// DoubtPicture draws how the figure of each item spreads, and how likely it is best.
func DoubtPicture(m *engine.Model, f engine.FoundDoubt) picture.Picture {
	k := m.Compared()
	q := k.Quantity(k.Compare.By)
	p := picture.Distributions{Title: f.Title, Axis: figureTitle(m, q), ChanceTitle: "best",
		Note: fmt.Sprintf("%s draws. Outlines leave out the lowest and the highest half per cent of results.", unit.Format(float64(f.Found.Samples), 0))}
	for i, it := range f.Found.Items {
		all := it.Figure.Pooled()
		h := all.Histogram(histogramBars(all))
		at := func(share float64) float64 { return q.Unit.FromBase(all.Percentile(share)) }
		p.Items = append(p.Items, picture.Distribution{
			Item: engine.ItemAlias(k.Items[i]), Look: i, Chance: it.Best.Value, Missing: all.Missing(),
			Low: at(0.05), Median: at(0.5), High: at(0.95), From: q.Unit.FromBase(h.From), To: q.Unit.FromBase(h.To), Bars: h.Counts,
		})
	}
	return p
}

// histogramBars is how many bars a histogram has: as wide as Freedman and Diaconis
// (1981) advise, 12 to 80 of them.
func histogramBars(s *sample.Summary) int {
	width := 2 * (s.Percentile(0.75) - s.Percentile(0.25)) / math.Cbrt(float64(s.Count()))
	if !(width > 0) {
		return 80
	}
	return int(max(12, min(80, (s.Percentile(0.995)-s.Percentile(0.005))/width)))
}

// SharesPicture draws which input makes the lead of the winner uncertain; nil where
// that is not defined.
func SharesPicture(m *engine.Model, f engine.FoundDoubt) picture.Picture {
	if f.Found.Shares == nil {
		return nil
	}
	k := m.Compared()
	winner := engine.ItemAlias(k.Items[f.Found.Winner])
	p := picture.Indices{Title: "What makes the lead of " + winner + " uncertain?", Note: f.Title + ".", Axis: "share of the variance of the lead"}
	bounds := func(e sample.Estimate) picture.Estimate {
		return picture.Estimate{Value: e.Value, Low: e.Low, High: e.High}
	}
	for i, s := range f.Found.Shares {
		p.Inputs = append(p.Inputs, picture.Index{Input: m.CellName(f.Inputs[i].Place), First: bounds(s.LeadFirst), Total: bounds(s.LeadTotal)})
	}
	return p
}

// BreakEvenPicture draws the break-even along its second input, or, where it has
// none, the figures of both along its only one, which the context bounds.
func BreakEvenPicture(ctx context.Context, m *engine.Model, f engine.FoundBreakEven) (picture.Picture, error) {
	if f.Over != nil {
		return breakEvenCurve(m, f)
	}
	const points = 201
	a := &check.Axis{Inputs: []check.Place{f.Input}, Values: make([]float64, points)}
	for i := range points {
		a.Values[i] = f.From + (f.To-f.From)*float64(i)/(points-1)
	}
	g, err := sweep.NewGrid(m.Program, m.Result, []*check.Axis{a}, nil)
	if err != nil {
		return nil, err
	}
	t, err := g.Collect(ctx)
	if err != nil {
		return nil, err
	}
	by := t.Judge.By
	c := sweepCurves(m, f.Title, t)
	c.Note = tiedNote(f)
	c.Lines = []picture.Curve{c.Lines[f.Ties[0].A], c.Lines[f.Ties[0].B]}
	for i, x := range f.Ties[0].Crossings {
		at := f.Input.Quantity.Unit
		c.Marks = append(c.Marks, picture.Point{Name: at.Show(x.At, -1, m.Model.Currency), X: at.FromBase(x.At), Y: by.Unit.FromBase(f.Ties[0].At[i])})
	}
	return c, nil
}

// breakEvenCurve draws where two are level along a second input, a line for each
// crossing that goes on from step to step.
func breakEvenCurve(m *engine.Model, f engine.FoundBreakEven) (picture.Picture, error) {
	x, given := pictureAxis(m, f.Over)
	q := f.Input.Quantity
	lines := followed(f.Ties)
	if len(lines) == 0 {
		return nil, fmt.Errorf("there is no value at which the two become level, so that there is no curve to draw")
	}
	c := picture.Curves{Title: f.Title, Note: tiedNote(f), X: x, Axis: m.CellName(f.Input)}
	if u := q.Unit.In(m.Model.Currency); u != "" {
		c.Axis += " (" + u + ")"
	}
	if given == given {
		c.Base = &picture.Point{Name: "as given", X: given}
	}
	for n, at := range lines {
		line := picture.Curve{Item: "level"}
		if n > 0 {
			line.Item = "level again"
		}
		for _, v := range at {
			line.Results = append(line.Results, q.Unit.FromBase(v))
		}
		c.Lines = append(c.Lines, line)
	}
	return c, nil
}

// tiedNote says what lines do not show: jumps, at which nothing is level, and that there
// are more crossings than were told.
func tiedNote(f engine.FoundBreakEven) string {
	jump, cut := false, false
	for _, t := range f.Ties {
		cut = cut || t.Cut
		for _, c := range t.Crossings {
			jump = jump || c.Jump
		}
	}
	var out []string
	if jump {
		out = append(out, "At some of these the two change places by a jump and are nowhere level.")
	}
	if cut {
		out = append(out, "There are more changes of place than are drawn.")
	}
	return strings.Join(out, " ")
}

// followed are the crossings of ties that follow each other, as lines: the value at each
// step, NaN where the line is not. A crossing goes on in the nearest one of the next
// step at which the same item gets ahead; the n-th need not be the n-th again, since
// others come and go.
func followed(ties []sweep.Tie) (lines [][]float64) {
	var going []ending
	for step, t := range ties {
		rest := slices.Clone(t.Crossings)
		var next []ending
		for len(rest) > 0 {
			from, to := nearest(going, rest)
			if from < 0 {
				break
			}
			next = append(next, ending{going[from].line, rest[to]})
			going, rest = slices.Delete(going, from, from+1), slices.Delete(rest, to, to+1)
		}
		for _, c := range rest {
			next = append(next, ending{len(lines), c})
			lines = append(lines, slices.Repeat([]float64{math.NaN()}, len(ties)))
		}
		for _, n := range next {
			lines[n.line][step] = n.At
		}
		going = next
	}
	return lines
}

// alikeAt reports whether outcomes may be the same one, of which a range shows no more
// than that it is level at its end.
func alikeAt(a, b int) bool { return a == b || a == sweep.Level || b == sweep.Level }

// ending is the crossing at which a line has arrived.
type ending struct {
	line int
	sweep.Crossing
}

// nearest are the places of the line and the crossing of one sort that lie closest; -1
// where there are none.
func nearest(going []ending, rest []sweep.Crossing) (from, to int) {
	from, to = -1, -1
	least := math.Inf(1)
	for i, g := range going {
		for j, c := range rest {
			if d := math.Abs(g.At - c.At); alikeAt(g.Before, c.Before) && alikeAt(g.After, c.After) && d < least {
				from, to, least = i, j, d
			}
		}
	}
	return from, to
}
