package text

import (
	"cmp"
	"fmt"
	"io"
	"math"
	"strconv"
	"strings"

	"bankwright/engine"
	"bankwright/engine/check"
	"bankwright/engine/decl"
	"bankwright/engine/sample"
	"bankwright/engine/sweep"
	"bankwright/engine/unit"
)

// Doubt writes how sure a comparison is while inputs are uncertain: what was
// uncertain, how likely each item is best, where its figure lies, and which input
// makes it so.
func Doubt(w io.Writer, m *engine.Model, d *check.Doubt, f *sweep.Doubted, st Style) {
	x := newDoubt(m, d, f)
	x.st, x.w = st, w
	heading(w, d.Title, "doubt "+d.Name, st)
	for _, u := range d.Inputs {
		sentence(w, st, "%s: %s.", m.CellName(u.Place), Spread(m, u))
	}
	for _, c := range d.Correlated {
		sentence(w, st, "%s and %s go together, with a correlation of %s.", c.Inputs[0].Name, c.Inputs[1].Name, strconv.FormatFloat(c.By, 'g', -1, 64))
	}
	fmt.Fprintln(w)
	x.table()
	sentence(w, st, "%s", x.sure())
	x.shares()
}

// Sure says in a sentence how sure a comparison is in a doubt.
func Sure(m *engine.Model, d *check.Doubt, f *sweep.Doubted) string {
	return newDoubt(m, d, f).sure()
}

func newDoubt(m *engine.Model, d *check.Doubt, f *sweep.Doubted) *doubt {
	order := ranked(m, func(a, b int) int { return cmp.Compare(f.Items[b].Best.Value, f.Items[a].Best.Value) })
	return &doubt{m: m, d: d, f: f, k: m.Compared(), order: order}
}

// doubt writes a doubt.
type doubt struct {
	m  *engine.Model
	d  *check.Doubt
	f  *sweep.Doubted
	st Style
	w  io.Writer
	k  *check.Kind

	order []int // items, those that are likeliest best first, then as they rank
}

// Spread says in words how an input is spread.
func Spread(m *engine.Model, u check.Uncertain) string {
	q := u.Quantity
	if u.Kind == decl.Trials {
		return fmt.Sprintf("the mean of %s trials, %s with a deviation of %s", m.CellText(u.Cells[2]), m.CellText(u.Cells[0]), m.CellText(u.Cells[1]))
	}
	p := u.Params
	digits := 0
	for _, v := range p[:min(len(p), 3)] {
		if u.Kind != decl.Lognormal && (u.Kind != decl.Normal || v == p[0]) {
			digits = max(digits, unit.DecimalsFor([]float64{q.Unit.FromBase(v)}))
		}
	}
	show := func(v float64) string { return q.Unit.Show(v, digits, m.Model.Currency) }
	switch u.Kind {
	case decl.Triangular:
		return fmt.Sprintf("from %s to %s, most likely %s", show(p[0]), show(p[2]), show(p[1]))
	case decl.Uniform:
		return fmt.Sprintf("from %s to %s, all alike", show(p[0]), show(p[1]))
	case decl.Normal:
		return fmt.Sprintf("normal around %s, with a deviation of %s", q.Unit.Show(p[0], -1, m.Model.Currency), deviation(m, q, p[1]))
	}
	return fmt.Sprintf("lognormal around %s, with a spread of %s %%", q.Unit.Show(p[0], -1, m.Model.Currency), unit.Format(100*p[1], -1))
}

// deviation writes a difference of values of a quantity; of temperatures in K.
func deviation(m *engine.Model, q *check.Quantity, v float64) string {
	if q.Dim.IsPoint() {
		return unit.Format(v, -1) + " K"
	}
	return q.Unit.Show(v, -1, m.Model.Currency)
}

// table writes a row for each item.
func (x *doubt) table() {
	by := x.k.Quantity(x.k.Compare.By)
	names, best, within, passes := tableColumn{left: true}, tableColumn{head: "best in", unit: "%"}, tableColumn{head: "±"}, tableColumn{head: "passes in", unit: "%"}
	shares := []float64{0.05, 0.5, 0.95}
	var chances, figures []float64
	for _, item := range x.order {
		it := x.f.Items[item]
		names.cells = append(names.cells, itemName(x.k, item))
		best.cells, within.cells = append(best.cells, tenths(it.Best.Value)), append(within.cells, giveOrTake(it.Best))
		passes.cells = append(passes.cells, tenths(it.Passes.Value))
		chances = append(chances, it.Best.Value)
		for _, s := range shares {
			figures = append(figures, it.Figure.Percentile(s).Value)
		}
	}
	shown := numbers(x.m, by, figures)
	columns := []tableColumn{names, best, within, {bars: true}, passes}
	for i, s := range shares {
		c := tableColumn{head: unit.Format(100*s, 0) + " %", unit: unitIn(x.m, by)}
		for j := range x.order {
			c.cells = append(c.cells, shown[3*j+i])
		}
		columns = append(columns, c)
	}
	for _, n := range []int{barWidth, 6, 3} {
		if columns[3].cells = Bars(append(chances, 1), n, x.st.Blocks)[:len(chances)]; sizeOf(columns) <= x.st.Width {
			break
		}
	}
	writeColumns(x.w, fitted(columns, x.st.Width), x.st)
	sentence(x.w, x.st, "Best in and passes in: of all draws, being the best that passes all checks, and passing them. 5 %%, 50 %%, 95 %%: the %s below which so many draws lie.", by.Label)
	fmt.Fprintln(x.w)
}

// tenths writes a share in percent, so that next to none does not read as none.
func tenths(v float64) string {
	switch {
	case v != v:
		return "-"
	case v > 0 && v < 0.0005:
		return "< 0.1"
	case v < 1 && v >= 0.9995:
		return "> 99.9"
	}
	return unit.Format(100*v, 1)
}

// giveOrTake is half the width of the bounds of a share, in percent.
func giveOrTake(e sample.Estimate) string {
	half := 100 * math.Max(e.High-e.Value, e.Value-e.Low)
	if half != half {
		return "-"
	}
	return unit.Format(half, max(1, min(2, -int(math.Floor(math.Log10(math.Max(half, 0.01)))))))
}

// sure says how sure it is that the likeliest is best.
func (x *doubt) sure() string {
	first := x.f.Items[x.order[0]].Best
	if first.Value == 0 {
		return fmt.Sprintf("In none of %s draws does any pass all checks.", unit.Format(float64(x.f.Samples), 0))
	}
	s := fmt.Sprintf("%s is best in %s %% of %s draws, give or take %s", itemName(x.k, x.order[0]), tenths(first.Value), unit.Format(float64(x.f.Samples), 0), giveOrTake(first))
	const most = 3
	for i, item := range x.order[1:] {
		v := x.f.Items[item].Best.Value
		if v == 0 || i == most {
			break
		}
		s += fmt.Sprintf("; %s in %s %%", itemName(x.k, item), tenths(v))
	}
	if v := x.f.None.Value; v > 0 {
		s += fmt.Sprintf("; in %s %% none passes all checks", tenths(v))
	}
	return s + "."
}

// shares writes which input the spread of the winner's figure, and of its lead, is
// due to.
func (x *doubt) shares() {
	if x.f.Shares == nil {
		if x.f.Unclear != "" {
			sentence(x.w, x.st, "Which input makes it uncertain is not told: %s.", x.f.Unclear)
		}
		return
	}
	winner := itemName(x.k, x.f.Winner)
	fmt.Fprintf(x.w, "\n%s\n", x.st.paint(bold, "Where the uncertainty of "+winner+" comes from"))
	names := tableColumn{head: "input", left: true}
	figure, alone := tableColumn{head: "of figure", unit: "%"}, tableColumn{head: "alone", unit: "%"}
	lead, leadAlone := tableColumn{head: "of lead", unit: "%"}, tableColumn{head: "alone", unit: "%"}
	var bars []float64
	for i, s := range x.f.Shares {
		names.cells = append(names.cells, x.m.CellName(x.d.Inputs[i].Place))
		figure.cells, alone.cells = append(figure.cells, bounded(s.Total)), append(alone.cells, bounded(s.First))
		lead.cells, leadAlone.cells = append(lead.cells, bounded(s.LeadTotal)), append(leadAlone.cells, bounded(s.LeadFirst))
		bars = append(bars, math.Max(0, s.LeadTotal.Value))
	}
	columns := []tableColumn{names, figure, alone, lead, leadAlone}
	if withBars := append(columns, tableColumn{cells: Bars(append(bars, 1), barWidth, x.st.Blocks)[:len(bars)], bars: true}); sizeOf(withBars) <= x.st.Width {
		columns = withBars
	}
	writeColumns(x.w, fitted(columns, x.st.Width), x.st)
	sentence(x.w, x.st, "Shares of the variance of its figure and of its lead over the next, with all others, and alone: what would go if the input were known. The bar is the share in the lead.")
	if lead := x.f.Lead.Pooled(); lead.Missing() > 0 {
		sentence(x.w, x.st, "In %s of %s draws there is no lead: in them %s or all others fail a check or have no figure, and which input is to blame for that these shares do not tell.",
			unit.Format(float64(lead.Missing()), 0), unit.Format(float64(x.f.Samples), 0), winner)
	}
}

// bounded is a share in percent and how far it may be out.
func bounded(e sample.Estimate) string {
	if e.Value != e.Value {
		return "-"
	}
	s := strings.Replace(unit.Format(100*e.Value, 0), "-0", "0", 1)
	half := 100 * math.Max(e.High-e.Value, e.Value-e.Low)
	if half != half {
		return s
	}
	return s + " ±" + unit.Format(math.Ceil(half), 0)
}
