package text

import (
	"fmt"
	"io"
	"math"
	"strings"

	"bankwright/engine"
	"bankwright/engine/check"
	"bankwright/engine/sample"
	"bankwright/engine/sweep"
	"bankwright/engine/unit"
	"bankwright/export/told"
)

// Doubt writes how sure a comparison is while inputs are uncertain: what was
// uncertain, how likely each item is best, where its figure lies, and which input
// makes it so.
func Doubt(w io.Writer, m *engine.Model, d *check.Doubt, f *sweep.Doubted, st Style) {
	x := doubt{told.NewDoubt(cellNames(m), engine.FoundDoubt{Doubt: d, Found: f}), st, w}
	heading(w, d.Title, "doubt "+d.Name, st)
	for _, u := range d.Inputs {
		sentence(w, st, "%s: %s.", x.Name(u.Place), x.Spread(u))
	}
	sentences(w, st, x.Together()...)
	fmt.Fprintln(w)
	x.table()
	sentences(w, st, x.Sure(), x.NoShares())
	x.shares()
}

// doubt writes a doubt.
type doubt struct {
	*told.Doubt
	st Style
	w  io.Writer
}

// table writes a row for each item.
func (x *doubt) table() {
	names, best, within, passes := tableColumn{left: true}, tableColumn{head: "best in", unit: "%"}, tableColumn{head: "±"}, tableColumn{head: "passes in", unit: "%"}
	var chances, figures []float64
	for _, item := range x.Order {
		it := x.F.Found.Items[item]
		names.cells = append(names.cells, told.Item(x.K, item))
		best.cells, within.cells = append(best.cells, told.Chance(it.Best.Value)), append(within.cells, told.GiveOrTake(it.Best))
		passes.cells = append(passes.cells, told.Chance(it.Passes.Value))
		chances = append(chances, it.Best.Value)
		for _, s := range told.Percentiles {
			figures = append(figures, it.Figure.Percentile(s).Value)
		}
	}
	shown := x.Numbers(x.By, figures)
	columns := []tableColumn{names, best, within, {bars: true}, passes}
	for i, s := range told.Percentiles {
		c := tableColumn{head: unit.Format(100*s, 0) + " %", unit: x.Unit(x.By)}
		for j := range x.Order {
			c.cells = append(c.cells, shown[len(told.Percentiles)*j+i])
		}
		columns = append(columns, c)
	}
	for _, n := range []int{barWidth, 6, 3} {
		if columns[3].cells = Bars(append(chances, 1), n, x.st.Blocks)[:len(chances)]; sizeOf(columns) <= x.st.Width {
			break
		}
	}
	writeColumns(x.w, fitted(columns, x.st.Width), x.st)
	sentences(x.w, x.st, x.Heads())
	fmt.Fprintln(x.w)
}

// shares writes which input the spread of the winner's figure, and of its lead, is
// due to.
func (x *doubt) shares() {
	if x.F.Found.Shares == nil {
		return
	}
	fmt.Fprintf(x.w, "\n%s\n", x.st.paint(bold, x.SharesTitle()))
	names := tableColumn{head: "input", left: true}
	figure, alone := tableColumn{head: "of figure", unit: "%"}, tableColumn{head: "alone", unit: "%"}
	lead, leadAlone := tableColumn{head: "of lead", unit: "%"}, tableColumn{head: "alone", unit: "%"}
	var bars []float64
	for i, s := range x.F.Found.Shares {
		names.cells = append(names.cells, x.Name(x.F.Inputs[i].Place))
		figure.cells, alone.cells = append(figure.cells, bounded(s.Total)), append(alone.cells, bounded(s.First))
		lead.cells, leadAlone.cells = append(lead.cells, bounded(s.LeadTotal)), append(leadAlone.cells, bounded(s.LeadFirst))
		bars = append(bars, math.Max(0, s.LeadTotal.Value))
	}
	columns := []tableColumn{names, figure, alone, lead, leadAlone}
	if withBars := append(columns, tableColumn{cells: Bars(append(bars, 1), barWidth, x.st.Blocks)[:len(bars)], bars: true}); sizeOf(withBars) <= x.st.Width {
		columns = withBars
	}
	writeColumns(x.w, fitted(columns, x.st.Width), x.st)
	sentences(x.w, x.st, told.SharesHeads+" The bar is the share in the lead.", x.NoLead())
}

// bounded is a share in percent and how far it may be out.
func bounded(e sample.Estimate) string {
	if e.Value != e.Value {
		return "-"
	}
	s := strings.Replace(unit.Format(100*e.Value, 0), "-0", "0", 1)
	half := 100 * told.HalfWidth(e)
	if half != half {
		return s
	}
	return s + " ±" + unit.Format(math.Ceil(half), 0)
}
