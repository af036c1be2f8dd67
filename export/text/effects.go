package text

import (
	"cmp"
	"fmt"
	"io"
	"math"
	"slices"
	"strings"

	"bankwright/engine"
	"bankwright/engine/check"
	"bankwright/engine/eval"
	"bankwright/engine/sweep"
	"bankwright/engine/unit"
)

// mostEffects is how many inputs are shown unless all are asked for.
const mostEffects = 10

// Effects writes what each input does to the figure of the winner when it alone is
// moved by a share down and up, the greatest effect first.
func Effects(w io.Writer, m *engine.Model, e *sweep.Effects, share float64, st Style) {
	k := m.Compared()
	x := effects{m: m, e: e, st: st, w: w, k: k, by: k.Quantity(k.Compare.By)}
	heading(w, "What matters", "each input alone, "+unit.Format(100*share, -1)+" % down and up", st)
	if e.Figure != e.Figure {
		sentence(w, st, "%s has no %s, so that nothing can be said of what moves it.", x.name(e.Winner), x.by.Label)
		return
	}
	moving := slices.IndexFunc(e.All, func(e sweep.Effect) bool { return e.Swing() == 0 })
	if moving < 0 {
		moving = len(e.All)
	}
	sentence(w, st, "With nothing moved the %s of %s is %s.", x.by.Label, x.name(e.Winner), m.Text(x.by, e.Figure))
	if moving == 0 {
		sentence(w, st, "None of the %s inputs moves it.", unit.Format(float64(len(e.All)), 0))
	} else {
		shown := e.All[:moving]
		if !st.All && moving > mostEffects {
			shown = shown[:mostEffects]
		}
		fmt.Fprintln(w)
		x.table(shown)
		x.rest(len(shown), moving)
		x.lead(shown)
	}
	x.gone()
}

// effects writes effects.
type effects struct {
	m  *engine.Model
	e  *sweep.Effects
	st Style
	w  io.Writer
	k  *check.Kind
	by *check.Quantity
}

func (x *effects) name(item int) string { return itemName(x.k, item) }

// table writes effects row by row, with a mark where another is best.
func (x *effects) table(shown []sweep.Effect) {
	var figures []float64
	var pairs [][2]float64
	for _, e := range shown {
		figures = append(figures, e.FigureLow, e.FigureHigh)
		pairs = append(pairs, [2]float64{e.FigureLow - x.e.Figure, e.FigureHigh - x.e.Figure})
	}
	digits := digitsFor(x.by, append(figures, x.e.Figure))
	for digits < 9 && alike(x.by, figures, digits) { // a quantity's own decimals may hide what differs
		digits++
	}
	figure := func(v float64, best int) string {
		s := "none "
		if v == v {
			s = unit.Format(x.by.Unit.FromBase(v), digits) + " "
		}
		if best != x.e.Winner {
			s = s[:len(s)-1] + "*"
		}
		return s
	}
	names, low, high, units := tableColumn{head: "input", left: true}, tableColumn{head: "low"}, tableColumn{head: "high"}, tableColumn{left: true}
	atLow, atHigh := tableColumn{head: "at low ", unit: unitIn(x.m, x.by) + " "}, tableColumn{head: "at high ", unit: unitIn(x.m, x.by) + " "}
	for _, e := range shown {
		q := e.Cell.Quantity
		ends := ends(q, e.Low, e.High)
		names.cells = append(names.cells, x.m.CellName(e.Cell))
		low.cells, high.cells = append(low.cells, ends[0]), append(high.cells, ends[1])
		units.cells = append(units.cells, unitIn(x.m, q))
		atLow.cells, atHigh.cells = append(atLow.cells, figure(e.FigureLow, e.BestLow)), append(atHigh.cells, figure(e.FigureHigh, e.BestHigh))
	}
	columns := []tableColumn{names, low, high, units, atLow, atHigh, {bars: true}}
	for _, n := range []int{barWidth, 7, 5} {
		if columns[6].cells = tornado(pairs, n, x.st.Blocks); sizeOf(broken(columns, x.st.Width)) <= x.st.Width {
			break
		}
	}
	writeColumns(x.w, fitted(columns, x.st.Width), x.st)
	x.others(shown)
}

// alike reports whether some figures that differ read alike.
func alike(q *check.Quantity, values []float64, digits int) bool {
	for i := 0; i+1 < len(values); i += 2 {
		a, b := q.Unit.FromBase(values[i]), q.Unit.FromBase(values[i+1])
		if math.Abs(a-b) > 1e-9*math.Abs(a) && unit.Format(a, digits) == unit.Format(b, digits) {
			return true
		}
	}
	return false
}

// ends writes both ends of a range with decimals that they share.
func ends(q *check.Quantity, low, high float64) [2]string {
	a, b := q.Unit.FromBase(low), q.Unit.FromBase(high)
	digits := unit.DecimalsFor([]float64{a, b})
	return [2]string{unit.Format(a, digits), unit.Format(b, digits)}
}

// broken breaks the names of the first column at dots where a table is too wide.
func broken(columns []tableColumn, n int) []tableColumn {
	over := sizeOf(columns) - n
	if over <= 0 {
		return columns
	}
	room := max(12, columns[0].size()-over)
	out := slices.Clone(columns)
	for i := range out {
		out[i].cells = nil
	}
	for row, name := range columns[0].cells {
		lines := brokenName(name, room)
		for i, line := range lines {
			out[0].cells = append(out[0].cells, line)
			for j := range columns[1:] {
				cell := ""
				if i == len(lines)-1 {
					cell = columns[1+j].cells[row]
				}
				out[1+j].cells = append(out[1+j].cells, cell)
			}
		}
	}
	return out
}

// brokenName breaks a name behind dots, or words, into lines of at most n characters,
// further ones indented.
func brokenName(name string, n int) (lines []string) {
	line := ""
	after := "."
	if !strings.Contains(name, after) {
		after = " "
	}
	for _, part := range strings.SplitAfter(name, after) {
		if line != "" && width(line)+width(part) > n {
			lines = append(lines, line)
			line = "  "
		}
		line += part
	}
	return append(lines, line)
}

// others says who is best where it is not the winner.
func (x *effects) others(shown []sweep.Effect) {
	seen := map[int]bool{}
	var names []string
	for _, e := range shown {
		for _, best := range []int{e.BestLow, e.BestHigh} {
			if best != x.e.Winner && !seen[best] {
				if seen[best] = true; best != sweep.None {
					names = append(names, x.name(best))
				}
			}
		}
	}
	switch {
	case len(seen) == 1 && seen[sweep.None]:
		sentence(x.w, x.st, "* There none passes all checks.")
	case len(names) == 1 && !seen[sweep.None]:
		sentence(x.w, x.st, "* There %s is best.", names[0])
	case len(names) == 1:
		sentence(x.w, x.st, "* There %s is best, or none passes all checks.", names[0])
	case len(names) > 1:
		sentence(x.w, x.st, "* There another is best: %s.", strings.Join(x.turning(shown, false), ", "))
	}
	x.noneBest(shown)
}

// noneBest says at which ends none passes all checks, and what the winner fails.
func (x *effects) noneBest(shown []sweep.Effect) {
	const most = 3
	told := 0
	for _, e := range shown {
		at := e.Low
		if e.BestLow != sweep.None {
			at = e.High
		}
		if e.BestLow != sweep.None && e.BestHigh != sweep.None || told == most {
			continue
		}
		told++ // one of both ends says enough
		c := x.m.With(e.Cell, at).Compare()
		if o := c.Gravest(x.e.Winner); o != nil && o.Failed() {
			sentence(x.w, x.st, "%s = %s: %s", x.m.CellName(e.Cell), e.Cell.Quantity.Unit.Show(at, -1, x.m.Model.Currency), o.Text)
		}
	}
}

// turning names the best at each end where it is not the winner; ends at which none
// is best only if they are asked for.
func (x *effects) turning(shown []sweep.Effect, none bool) (out []string) {
	for _, e := range shown {
		q := e.Cell.Quantity
		for i, best := range []int{e.BestLow, e.BestHigh} {
			if at := []float64{e.Low, e.High}[i]; best != x.e.Winner && (none || best != sweep.None) {
				out = append(out, fmt.Sprintf("%s at %s = %s", x.name(best), x.m.CellName(e.Cell), q.Unit.Show(at, -1, x.m.Model.Currency)))
			}
		}
	}
	return out
}

// rest says what the inputs that are not shown do.
func (x *effects) rest(shown, moving int) {
	still := len(x.e.All) - moving
	more := moving - shown
	text := ""
	if more > 0 {
		q := x.by
		swing := x.e.All[shown].Swing()
		text = fmt.Sprintf("%s more move it by %s or less (--all shows them)", unit.Format(float64(more), 0), q.Unit.Show(swing, -1, x.m.Model.Currency))
		if more == 1 {
			text = "1 more moves it by " + q.Unit.Show(swing, -1, x.m.Model.Currency) + " (--all shows it)"
		}
	}
	if still > 0 {
		if text != "" {
			text += ", and "
		}
		text += unit.Format(float64(still), 0) + " do not move it"
		if still == 1 {
			text = strings.TrimSuffix(text, "1 do not move it") + "1 does not move it"
		}
	}
	if text != "" {
		sentence(x.w, x.st, "%s.", text)
	}
	x.hidden(shown)
}

// hidden names inputs that are not shown and by which another becomes best.
func (x *effects) hidden(shown int) {
	var turn []sweep.Effect
	for _, e := range x.e.All[shown:] {
		if e.Turns(x.e.Winner) && e.FigureLow == e.FigureLow && e.FigureHigh == e.FigureHigh {
			turn = append(turn, e)
		}
	}
	const most = 3
	parts := x.turning(turn[:min(most, len(turn))], true)
	if n := len(turn) - most; n > 0 {
		parts = append(parts, fmt.Sprintf("and by %d more inputs", n))
	}
	if len(parts) > 0 {
		sentence(x.w, x.st, "Among them another becomes best: %s.", strings.Join(parts, ", "))
	}
}

// lead says what moves the lead of the winner most, where these are not the same
// inputs in the same order.
func (x *effects) lead(shown []sweep.Effect) {
	const most = 3
	if x.e.Lead != x.e.Lead {
		return
	}
	by := slices.Clone(x.e.All)
	slices.SortStableFunc(by, func(a, b sweep.Effect) int { return cmp.Compare(b.LeadSwing(x.e.Lead), a.LeadSwing(x.e.Lead)) })
	by = by[:min(most, len(by))]
	same := true
	var parts []string
	for i, e := range by {
		if e.LeadSwing(x.e.Lead) == 0 {
			break
		}
		same = same && i < len(shown) && shown[i].Cell == e.Cell
		parts = append(parts, x.m.CellName(e.Cell)+" ("+x.by.Unit.Show(e.LeadSwing(x.e.Lead), -1, x.m.Model.Currency)+")")
	}
	if !same && len(parts) > 0 {
		sentence(x.w, x.st, "Its lead of %s over the next is moved most by %s.", x.by.Unit.Show(x.e.Lead, -1, x.m.Model.Currency), strings.Join(parts, ", "))
	}
}

// gone says at which ends there is no figure, and why.
func (x *effects) gone() {
	const most = 3
	told := 0
	for _, e := range x.e.All {
		for i, v := range []float64{e.FigureLow, e.FigureHigh} {
			if v == v {
				continue
			}
			at := []float64{e.Low, e.High}[i]
			if told++; told > most {
				sentence(x.w, x.st, "Further ends have no figure either.")
				return
			}
			why := x.m.With(e.Cell, at).WhyMissing(eval.Cell{Quantity: x.by, Item: x.e.Winner})
			sentence(x.w, x.st, "At %s = %s there is no figure: %s.", x.m.CellName(e.Cell), e.Cell.Quantity.Unit.Show(at, -1, x.m.Model.Currency), why)
		}
	}
}

// NoStudies says how a scenario asks for studies.
func NoStudies(w io.Writer, st Style) {
	sentence(w, st, "The scenario asks for no studies of its own. Tables such as [sweep.prices] with vary = [{ input = \"…\", values = [\"…\", \"…\"] }] ask for them, [doubt.…] and [break_even.…] likewise: see Sweeps, doubts and break-evens in README.md.")
}
