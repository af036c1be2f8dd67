package export

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"bankwright/engine"
	"bankwright/engine/check"
	"bankwright/engine/sample"
	"bankwright/engine/sweep"
	"bankwright/engine/unit"
	"bankwright/export/told"
)

// effects draws what each input does alone, the greatest effect first.
func (x *studies) effects() {
	e := x.pl.found.Effects
	y := told.NewEffects(x.w, e)
	x.begin("What matters", told.Moved(x.pl.found.Share), mostDrawn+6, x.judged())
	base, moves := y.Base()
	x.say(base...)
	shown := e.All[:min(y.Moving, mostDrawn)]
	if moves {
		x.row++
		first := x.effectsTable(y, shown)
		nothing := func(int) string { return "" }
		x.say(y.Rest(len(shown), nothing), y.Hidden(len(shown)), y.Lead(shown))
		for _, s := range y.NoneBest(shown) {
			x.say(upperFirst(s))
		}
		x.say(y.Gone()...)
		x.effectsChart(y, shown, first)
		return
	}
	if e.Figure == e.Figure {
		x.say(y.Gone()...)
	}
}

// effectsTable draws a row for each input, and gives the first of them.
func (x *studies) effectsTable(y *told.Effects, shown []sweep.Effect) int {
	name, u := x.by.Label, y.Unit(x.by)
	heads := []column{{"Input", "", true}, {"unit", "", true}, {head: "low"}, {head: "high"}, {head: name + " at low", unit: u}, {head: name + " at high", unit: u},
		{head: "change at low", unit: u}, {head: "change at high", unit: u}, {head: "effect", unit: u}, {head: "best at low"}, {head: "best at high"}}
	format := decimalFormat(y.Digits(shown))
	at := x.by.Unit.FromBase(y.E.Figure)
	return x.table(heads, len(shown), true, func(i int) {
		e := shown[i]
		ends := decimalFormat(told.EndDigits(e))
		x.input(e.Cell)
		x.s.text(x.row, studyFirstCol, y.Unit(e.Cell.Quantity), Unit)
		x.figure(3, e.Cell.Quantity, e.Low, ends)
		x.figure(4, e.Cell.Quantity, e.High, ends)
		low, high := x.by.Unit.FromBase(e.FigureLow), x.by.Unit.FromBase(e.FigureHigh)
		x.number(5, low, format)
		x.number(6, high, format)
		x.number(7, low-at, format)
		x.number(8, high-at, format)
		x.number(9, x.by.Unit.FromBase(e.Swing())-x.by.Unit.FromBase(0), format)
		x.item(10, e.BestLow)
		x.item(11, e.BestHigh)
	})
}

// effectsChart draws bars of what inputs do.
func (x *studies) effectsChart(y *told.Effects, shown []sweep.Effect, first int) {
	changes := []float64{0}
	for _, e := range shown {
		for _, v := range []float64{e.FigureLow, e.FigureHigh} {
			changes = append(changes, x.by.Unit.FromBase(v)-x.by.Unit.FromBase(y.E.Figure))
		}
	}
	last := first + len(shown) - 1
	c := Chart{Kind: LyingChart, Title: "What moves the " + x.by.Label + " of " + told.Item(x.kind, y.E.Winner) + ": its change when an input alone is low or high",
		Width: studyChartWidth, Height: 110 + 22*len(shown), Y: over("change of "+figureTitle(x.m, x.by), changes)}
	for col := 7; col <= 8; col++ {
		c.Series = append(c.Series, Series{Name: oneCell(first-2, col), X: x.cells(studyNameCol, first, last), Y: x.cells(col, first, last)})
	}
	x.chart(c)
}

// doubt draws how sure a comparison is.
func (x *studies) doubt(f engine.FoundDoubt) {
	d := told.NewDoubt(x.w, f)
	cells := x.judged()
	for _, u := range f.Inputs {
		for _, c := range u.Cells {
			cells = append(cells, influenceCell{c.Quantity, c.Item})
		}
	}
	x.begin(f.Title, "doubt "+f.Name, min(len(d.Order), mostItems)+5, cells)
	x.say(d.Sure())
	x.row++
	x.doubtTable(d)
	x.say(d.Heads(), d.NoShares())
	x.section("What is uncertain", len(f.Inputs))
	for _, u := range f.Inputs {
		x.input(u.Place)
		x.s.text(x.row, studyFirstCol, d.Spread(u), Sentence)
		x.row++
	}
	for _, s := range d.Together() {
		x.say(upperFirst(s))
	}
	x.distributions(d)
	if f.Found.Shares != nil {
		x.shares(d)
	}
}

// mostItems is how many items a table of a doubt has.
const mostItems = 25

// doubtTable draws a row for each item.
func (x *studies) doubtTable(d *told.Doubt) {
	heads := []column{{titleOf(x.kind), "", true}, {"best in", "%", false}, {"±", "%", false}, {"passes in", "%", false}}
	var figures []float64
	for _, p := range told.Percentiles {
		heads = append(heads, column{unit.Format(100*p, 0) + " %", d.Unit(x.by), false})
		for _, it := range d.F.Found.Items {
			figures = append(figures, it.Figure.Pooled().Percentile(p))
		}
	}
	format := decimalFormat(told.Digits(x.by, figures))
	order := d.Order[:min(len(d.Order), mostItems)]
	x.table(heads, len(order), false, func(i int) {
		it := d.F.Found.Items[order[i]]
		x.s.text(x.row, studyNameCol, told.Item(x.kind, order[i]), Label)
		x.chance(2, it.Best.Value)
		x.number(3, 100*told.HalfWidth(it.Best), giveFormat(it.Best))
		x.chance(4, it.Passes.Value)
		for j, p := range told.Percentiles {
			x.figure(5+j, x.by, it.Figure.Pooled().Percentile(p), format)
		}
	})
	if n := len(d.Order) - len(order); n > 0 {
		x.say(told.Count(n) + " more are less likely the best, or rank behind them.")
	}
}

// chance puts a probability in percent, shown so that next to none does not read as none.
func (x *studies) chance(col int, v float64) {
	format := "0.0"
	if s := told.Chance(v); strings.ContainsAny(s, "<>") {
		format = quoteText(s)
	}
	x.number(col, 100*v, format)
}

// giveFormat shows half the width of bounds with the decimals that a terminal shows.
func giveFormat(e sample.Estimate) string {
	_, decimals, _ := strings.Cut(told.GiveOrTake(e), ".")
	return "0." + strings.Repeat("0", max(1, len(decimals)))
}

// mostBars is how many stretches a distribution is shown in.
const mostBars = 30

// stretches divides a range into at most so many parts with round ends.
func stretches(from, to float64, most int) (start, width float64, n int) {
	width = math.Pow(10, math.Floor(math.Log10((to-from)/float64(most))))
	for _, k := range []float64{1, 2, 2.5, 5, 10, 20} {
		start = math.Floor(from/(k*width)+tolerance) * k * width
		n = max(1, int(math.Ceil((to-start)/(k*width)-tolerance)))
		if n <= most {
			return round15(start), round15(k * width), n
		}
	}
	return from, (to - from) / float64(most), most
}

// distributions draws how the deciding figure of each of some items is spread: the share
// of draws in stretches of one width, and lines along them.
func (x *studies) distributions(d *told.Doubt) {
	items, rest := x.chosen(d.Order)
	u, from, to := x.by.Unit, math.Inf(1), math.Inf(-1)
	for _, item := range items {
		all := d.F.Found.Items[item].Figure.Pooled()
		from, to = math.Min(from, u.FromBase(all.Percentile(0.005))), math.Max(to, u.FromBase(all.Percentile(0.995)))
	}
	if !(from < to) {
		return // without a figure, or always the same
	}
	from, width, bars := stretches(from, to, mostBars)
	to = from + width*float64(bars)
	heads := []column{{upperFirst(x.by.Label) + " from", d.Unit(x.by), false}, {"middle", d.Unit(x.by), false}}
	counts := make([][]float64, len(items))
	top := 0.0
	for i, item := range items {
		heads = append(heads, column{told.Item(x.kind, item), "% of draws", false})
		for _, n := range d.F.Found.Items[item].Figure.Pooled().HistogramOver(u.ToBase(from), u.ToBase(to), bars).Counts {
			counts[i] = append(counts[i], 100*float64(n)/float64(d.F.Found.Samples))
		}
		top = math.Max(top, slices.Max(counts[i]))
	}
	x.section("How the "+x.by.Label+" is spread", studyChartHeight/17)
	x.say("Share of all draws in each stretch of the "+x.by.Label+". At most half a per cent of the draws of each lies below the first, and above the last.", rest)
	chart := x.space(studyChartHeight)
	x.row++
	edges, middles := decimalFormat(decimalsOf(width)), decimalFormat(decimalsOf(round15(width/2)))
	first := x.table(heads, bars, true, func(i int) {
		x.s.Set(x.row, studyNameCol, Cell{Value: round15(from + width*float64(i)), Style: Label, Format: edges})
		x.s.Set(x.row, studyFirstCol, Cell{Value: round15(from + width*(float64(i)+0.5)), Style: Label, Format: middles})
		for j, c := range counts {
			x.number(studyValueCol+j, c[i], "0.0")
		}
	})
	c := Chart{Kind: ScatterChart, Title: upperFirst(x.by.Label) + " of each while inputs are uncertain", Row: chart, Col: studyNameCol, Width: studyChartWidth, Height: studyChartHeight, Marked: true,
		X: over(figureTitle(x.m, x.by), []float64{from, to}), Y: over("% of draws", []float64{0, top})}
	for j := range items {
		c.Series = append(c.Series, Series{Name: oneCell(first-2, studyValueCol+j), X: x.cells(studyFirstCol, first, first+bars-1), Y: x.cells(studyValueCol+j, first, first+bars-1)})
	}
	x.s.Charts = append(x.s.Charts, c)
}

// shares draws which input makes it uncertain.
func (x *studies) shares(d *told.Doubt) {
	shares := d.F.Found.Shares
	x.section(d.SharesTitle(), min(len(shares), 10)+3)
	heads := []column{{"Input", "", true}, {"of figure", "%", false}, {"±", "%", false}, {"alone", "%", false}, {"±", "%", false},
		{"of lead", "%", false}, {"±", "%", false}, {"of lead, alone", "%", false}, {"±", "%", false}}
	first := x.table(heads, len(shares), true, func(i int) {
		s := shares[i]
		x.input(d.F.Inputs[i].Place)
		for j, e := range []sample.Estimate{s.Total, s.First, s.LeadTotal, s.LeadFirst} {
			x.number(2+2*j, 100*e.Value, "0")
			x.number(3+2*j, math.Ceil(100*told.HalfWidth(e)), "0")
		}
	})
	x.say(told.SharesHeads, d.NoLead())
	last := first + len(shares) - 1
	c := Chart{Kind: LyingChart, Title: "What makes the lead of " + told.Item(x.kind, d.F.Found.Winner) + " uncertain", Width: studyChartWidth, Height: 110 + 26*len(shares), Y: over("% of the variance of the lead", []float64{0, 100})}
	for _, col := range []int{6, 8} {
		c.Series = append(c.Series, Series{Name: oneCell(first-2, col), X: x.cells(studyNameCol, first, last), Y: x.cells(col, first, last)})
	}
	x.chart(c)
}

// breakEven draws where two are level.
func (x *studies) breakEven(f engine.FoundBreakEven) {
	t := told.NewTie(x.w, f)
	cells := []influenceCell{{x.by, f.Ties[0].A}, {x.by, f.Ties[0].B}}
	var moved []*check.Axis
	if f.Over != nil {
		moved = append(moved, f.Over)
	}
	rows := len(f.Ties[0].Crossings) + 8
	if f.Over != nil {
		rows = min(mostSteps, f.Over.Steps()) + 8
	}
	x.begin(f.Title, "break-even "+f.Name, rows, cells, moved...)
	x.say(upperFirst(t.Given()))
	if f.Over == nil {
		for _, s := range t.Sentences(f.Ties[0]) {
			x.say(s)
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
	x.table(heads, len(tie.Crossings), false, func(i int) {
		c := tie.Crossings[i]
		x.s.Set(x.row, 1, Cell{Value: round15(q.Unit.FromBase(c.At)), Style: Frozen, Format: exact})
		x.word(2, howTied(c))
		x.number(3, 100*t.Distance(c.At), "0.0")
		x.outcome(4, t, tie, c.Before)
		x.outcome(5, t, tie, c.After)
		x.figure(6, x.by, tie.At[i], format)
	})
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
	q, over1 := t.F.Input.Quantity, t.F.Over
	at := told.Thinned(over1.Steps(), mostSteps-1)
	sc := x.scale(over1, at)
	if len(at) < over1.Steps() {
		x.say(told.Every(at, over1.Steps(), "values") + ".")
	}
	rows, cut := tieRows(t.F.Ties, at)
	lines := followed(t.F.Ties)
	lines = lines[:min(len(lines), mostCurves)]
	heads := []column{sc.column, {"level at", t.Unit(q), false}, {"from given", "%", false}, {"better below", "", false}, {"and above", "", false}, {"", "", false}}
	if len(lines) > 1 {
		for n := range lines {
			heads = append(heads, column{"curve " + number(float64(n+1)), t.Unit(q), false})
		}
	}
	exact := decimalFormat(t.Digits())
	x.row++
	first := x.table(heads, len(rows), len(rows) <= mostSteps, func(i int) { x.tieRow(t, sc, rows[i], exact, lines) })
	x.say(cut, t.EachLooked(), t.Checks())
	if len(lines) > 0 && len(rows) <= mostSteps {
		x.tieCurves(t, sc, first, len(rows), lines)
	}
}

// tieRow is a row of a table of ties: a crossing, or that there is none.
type oneTie struct{ step, shown, crossing int }

// tieRows are the rows of a table of ties, and what is to be said where not all
// crossings are known.
func tieRows(ties []sweep.Tie, at []int) (rows []oneTie, cut string) {
	for i, step := range at {
		if ties[step].Cut {
			cut = told.Cut
		}
		if len(ties[step].Crossings) == 0 {
			rows = append(rows, oneTie{step, i, -1})
		}
		for j := range ties[step].Crossings {
			rows = append(rows, oneTie{step, i, j})
		}
	}
	return rows, cut
}

// tieRow draws a row of a table of ties.
func (x *studies) tieRow(t *told.Tie, sc scale, r oneTie, exact string, lines [][]float64) {
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
	for n, line := range lines {
		if len(lines) > 1 && line[r.step] == c.At {
			x.number(7+n, q.Unit.FromBase(c.At), exact)
		}
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
func (x *studies) tieCurves(t *told.Tie, sc scale, first, rows int, lines [][]float64) {
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
	last := first + rows - 1
	for n := range lines {
		col := 7 + n
		if len(lines) == 1 {
			col = studyFirstCol
		}
		c.Series = append(c.Series, Series{Name: oneCell(first-2, col), X: x.cells(studyNameCol, first, last), Y: x.cells(col, first, last)})
	}
	x.chart(c)
}
