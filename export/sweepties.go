package export

import (
	"fmt"
	"strings"

	"bankwright/engine"
	"bankwright/engine/check"
	"bankwright/engine/sweep"
	"bankwright/export/told"
)

// How many crossings are told in sentences, and how many have a row.
const (
	mostSaid      = 4
	mostCrossings = 30
)

// breakEven draws where two are level.
func (x *studies) breakEven(f engine.FoundBreakEven) {
	t := told.NewTie(x.w, f)
	cells := []influenceCell{{x.by, f.Ties[0].A}, {x.by, f.Ties[0].B}}
	var moved []*check.Axis
	if f.Over != nil {
		moved = append(moved, f.Over)
	}
	rows := min(mostCrossings, len(f.Ties[0].Crossings)) + 8
	if f.Over != nil {
		rows = min(mostSteps, f.Over.Steps()) + 8
	}
	x.begin(f.Title, "break-even "+f.Name, rows, cells, moved...)
	x.say(upperFirst(t.Given()))
	if f.Over == nil {
		if tie := f.Ties[0]; len(tie.Crossings) <= mostSaid {
			x.say(t.Sentences(tie)...)
		} else {
			a, b := told.Item(x.kind, tie.A), told.Item(x.kind, tie.B)
			x.say(fmt.Sprintf("%s and %s change places at %s values of %s.", a, b, told.Count(len(tie.Crossings)), t.Name(f.Input)))
			x.say(t.Looked(tie)...)
		}
		x.say(t.Checks())
		x.crossings(t)
		return
	}
	x.say(t.Lead())
	x.ties(t)
}

// crossings draws a row for each crossing of the only tie.
func (x *studies) crossings(t *told.Tie) {
	tie, q := t.F.Ties[0], t.F.Input.Quantity
	if len(tie.Crossings) == 0 {
		return
	}
	x.row++
	heads := []column{{upperFirst(t.Name(t.F.Input)), t.Unit(q), false}, {"what happens", "", false}, {"from given", "%", false}, {"better below", "", false}, {"and above", "", false}, {x.by.Label + " there", t.Unit(x.by), false}}
	exact := decimalFormat(t.Digits())
	format := decimalFormat(told.Digits(x.by, tie.At))
	shown := min(len(tie.Crossings), mostCrossings)
	x.table(heads, shown, x.lines(4, tie.A, tie.B), false, func(i int) {
		c := tie.Crossings[i]
		x.s.Set(x.row, 1, Cell{Value: round15(q.Unit.FromBase(c.At)), Style: Frozen, Format: exact})
		x.word(2, howTied(c))
		x.number(3, 100*t.Distance(c.At), "0.0")
		x.outcome(4, t, tie, c.Before)
		x.outcome(5, t, tie, c.After)
		x.figure(6, x.by, tie.At[i], format)
	})
	if n := len(tie.Crossings) - shown; n > 0 {
		x.say(told.Count(n) + " more lie above these.")
	}
}

// outcome puts who has the better figure.
func (x *studies) outcome(col int, t *told.Tie, tie sweep.Tie, outcome int) {
	switch text := t.Better(tie, outcome); text {
	case told.Item(x.kind, tie.A):
		x.won(col, tie.A, text)
	case told.Item(x.kind, tie.B):
		x.won(col, tie.B, text)
	default:
		x.word(col, text)
	}
}

// mostCurves is how many crossings of one value of a second input are drawn as curves.
const mostCurves = 4

// ties draws a row for each crossing at each value of a second input, and curves of
// them.
func (x *studies) ties(t *told.Tie) {
	q, second := t.F.Input.Quantity, t.F.Over
	at := told.Thinned(second.Steps(), mostSteps-1)
	sc := x.scale(second, at)
	if len(at) < second.Steps() {
		x.say(told.Every(at, second.Steps(), "values") + ".")
	}
	rows, cut := tieRows(t.F.Ties, at)
	lines := followed(t.F.Ties)
	lines = lines[:min(len(lines), mostCurves)]
	heads := []column{sc.column, {"level at", t.Unit(q), false}, {"from given", "%", false}, {"better below", "", false}, {"and above", "", false}, {"", "", false}}
	exact := decimalFormat(t.Digits())
	x.row++
	first := x.table(heads, len(rows), x.lines(4, t.F.Ties[0].A, t.F.Ties[0].B), len(rows) <= mostSteps, func(i int) { x.tieRow(t, sc, rows[i], exact) })
	x.say(cut, t.EachLooked(), t.Checks())
	switch {
	case len(lines) == 1 && len(rows) == len(at):
		x.tieCurves(t, sc, first, lines)
	case len(lines) > 0:
		x.tieCurves(t, sc, x.curveTable(t, sc, exact, lines), lines)
	}
}

// curveTable draws a column for each crossing that goes on from step to step, and gives
// the first row.
func (x *studies) curveTable(t *told.Tie, sc scale, exact string, lines [][]float64) int {
	q := t.F.Input.Quantity
	x.section("As curves, each of a crossing that goes on", len(sc.at)+3)
	heads := []column{sc.column}
	for n := range lines {
		heads = append(heads, column{"curve " + number(float64(n+1)), t.Unit(q), false})
	}
	return x.table(heads, len(sc.at), 1, true, func(i int) {
		x.step(studyNameCol, sc, i, Label)
		for n, line := range lines {
			if v := line[sc.at[i]]; v == v {
				x.number(studyFirstCol+n, q.Unit.FromBase(v), exact)
			}
		}
	})
}

// tieAt is a row of a table of ties: a crossing at a step, of those shown; -1: there is
// none.
type tieAt struct{ step, shown, crossing int }

// tieRows are the rows of a table of ties, and what is to be said where not all
// crossings are known.
func tieRows(ties []sweep.Tie, at []int) (rows []tieAt, cut string) {
	for i, step := range at {
		if ties[step].Cut {
			cut = told.Cut
		}
		if len(ties[step].Crossings) == 0 {
			rows = append(rows, tieAt{step, i, -1})
		}
		for j := range ties[step].Crossings {
			rows = append(rows, tieAt{step, i, j})
		}
	}
	return rows, cut
}

// tieRow draws a row of a table of ties.
func (x *studies) tieRow(t *told.Tie, sc scale, r tieAt, exact string) {
	tie, q := t.F.Ties[r.step], t.F.Input.Quantity
	x.step(studyNameCol, sc, r.shown, Label)
	if r.crossing < 0 {
		who := t.Always(tie)
		x.s.text(x.row, 3, "nowhere level", FrozenText)
		for _, col := range []int{4, 5} {
			x.better(col, tie, who)
		}
		return
	}
	c := tie.Crossings[r.crossing]
	x.number(2, q.Unit.FromBase(c.At), exact)
	x.number(3, 100*t.Distance(c.At), "0.0")
	x.outcome(4, t, tie, c.Before)
	x.outcome(5, t, tie, c.After)
	if word := told.Remark(c); word != "" {
		x.word(6, word)
	}
}

// better puts who is always better.
func (x *studies) better(col int, tie sweep.Tie, who string) {
	for _, item := range []int{tie.A, tie.B} {
		if who == told.Item(x.kind, item) {
			x.won(col, item, who)
			return
		}
	}
	x.word(col, who)
}

// tieCurves is the chart of where two are level along a second input.
func (x *studies) tieCurves(t *told.Tie, sc scale, first int, lines [][]float64) {
	q := t.F.Input.Quantity
	a, b := told.Item(x.kind, t.F.Ties[0].A), told.Item(x.kind, t.F.Ties[0].B)
	var values []float64
	for _, tie := range t.F.Ties {
		for _, c := range tie.Crossings {
			values = append(values, q.Unit.FromBase(c.At))
		}
	}
	c := Chart{Kind: ScatterChart, Title: fmt.Sprintf("Where %s and %s are level", a, b), Width: studyChartWidth, Height: studyChartHeight, Marked: true,
		X: over(strings.TrimSpace(sc.column.head+"  "+sc.column.unit), sc.values), Y: over(strings.TrimSpace(upperFirst(t.Name(t.F.Input))+"  "+t.Unit(q)), values)}
	if sc.values == nil {
		c.Kind = LineChart
	}
	last := first + len(sc.at) - 1
	for n := range lines {
		c.Series = append(c.Series, Series{Name: oneCell(x.head, studyFirstCol+n), X: x.cells(studyNameCol, first, last), Y: x.cells(studyFirstCol+n, first, last)})
	}
	x.chart(c)
}
