package text

import (
	"fmt"
	"io"
	"slices"
	"strings"

	"bankwright/engine"
	"bankwright/engine/sweep"
	"bankwright/engine/unit"
	"bankwright/export/told"
)

// mostEffects is how many inputs are shown unless all are asked for.
const mostEffects = 10

// Effects writes what each input does to the figure of the winner when it alone is
// moved by a share down and up, the greatest effect first.
func Effects(w io.Writer, m *engine.Model, e *sweep.Effects, share float64, st Style) {
	x := told.NewEffects(cellNames(m), e)
	heading(w, "What matters", told.Moved(share), st)
	base, moves := x.Base()
	sentences(w, st, base...)
	shown := e.All[:x.Moving]
	if !st.All && x.Moving > mostEffects {
		shown = shown[:mostEffects]
	}
	if moves {
		fmt.Fprintln(w)
		effectsTable(w, x, shown, st)
		sentences(w, st, x.Others(shown))
		sentences(w, st, x.Rest(len(shown), howShown), x.Hidden(len(shown)), x.Lead(shown))
	}
	if e.Figure == e.Figure {
		sentences(w, st, slices.Concat(x.AllFailing(), x.Gone())...)
	}
}

// howShown says how inputs are shown that are not.
func howShown(more int) string {
	if more == 1 {
		return " (--all shows it)"
	}
	return " (--all shows them)"
}

// effectsTable writes effects row by row, with a mark where another is best.
func effectsTable(w io.Writer, x *told.Effects, shown []sweep.Effect, st Style) {
	digits := x.Digits(shown)
	figure := func(v float64, best int, fail bool) string {
		s := "none "
		if fail && v == v {
			return told.AllFail + " "
		}
		if v == v {
			s = unit.Format(x.By.Unit.FromBase(v), digits) + " "
		}
		if best != x.E.Winner {
			s = s[:len(s)-1] + "*"
		}
		return s
	}
	var pairs [][2]float64
	names, low, high, units := tableColumn{head: "input", left: true}, tableColumn{head: "low"}, tableColumn{head: "high"}, tableColumn{left: true}
	atLow, atHigh := tableColumn{head: "at low ", unit: x.Unit(x.By) + " "}, tableColumn{head: "at high ", unit: x.Unit(x.By) + " "}
	for _, e := range shown {
		q, d := e.Cell.Quantity, told.EndDigits(e)
		failLow, failHigh := e.AllFail()
		toLow, toHigh := e.Figures()
		pairs = append(pairs, [2]float64{toLow - x.E.Figure, toHigh - x.E.Figure})
		names.cells = append(names.cells, x.Name(e.Cell))
		low.cells, high.cells = append(low.cells, unit.Format(q.Unit.FromBase(e.Low), d)), append(high.cells, unit.Format(q.Unit.FromBase(e.High), d))
		units.cells = append(units.cells, x.Unit(q))
		atLow.cells, atHigh.cells = append(atLow.cells, figure(e.FigureLow, e.BestLow, failLow)), append(atHigh.cells, figure(e.FigureHigh, e.BestHigh, failHigh))
	}
	columns := []tableColumn{names, low, high, units, atLow, atHigh, {bars: true}}
	for _, n := range []int{barWidth, 7, 5} {
		if columns[6].cells = tornado(pairs, n, st.Blocks); sizeOf(broken(columns, st.Width)) <= st.Width {
			break
		}
	}
	writeColumns(w, fitted(columns, st.Width), st)
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

// NoStudies says how a scenario asks for studies.
func NoStudies(w io.Writer, st Style) {
	sentence(w, st, "The scenario asks for no studies of its own. Tables such as [sweep.prices] with vary = [{ input = \"…\", values = [\"…\", \"…\"] }] ask for them, [doubt.…] and [break_even.…] likewise; bankwright sweep --vary tries one without writing it, as bankwright sweep --help shows.")
}
