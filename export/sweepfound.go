package export

import (
	"math"
	"slices"
	"strings"

	"bankwright/engine"
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
		x.say(slices.Concat(y.AllFailing(), y.Gone())...)
		x.effectsChart(y, shown, first)
		return
	}
	if e.Figure == e.Figure {
		x.say(slices.Concat(y.AllFailing(), y.Gone())...)
	}
}

// effectsTable draws a row for each input, and gives the first of them.
func (x *studies) effectsTable(y *told.Effects, shown []sweep.Effect) int {
	name, u := x.by.Label, y.Unit(x.by)
	heads := []column{{"Input", "", true}, {"unit", "", true}, {head: "low"}, {head: "high"}, {head: name + " at low", unit: u}, {head: name + " at high", unit: u},
		{head: "change at low", unit: u}, {head: "change at high", unit: u}, {head: "effect", unit: u}, {head: "best at low"}, {head: "best at high"}}
	format := decimalFormat(y.Digits(shown))
	at := x.by.Unit.FromBase(y.E.Figure)
	high := 1
	for _, e := range shown {
		high = max(high, x.lines(10, e.BestLow, e.BestHigh))
	}
	return x.table(heads, len(shown), high, true, func(i int) {
		e := shown[i]
		ends := decimalFormat(told.EndDigits(e))
		x.input(e.Cell)
		x.s.text(x.row, studyFirstCol, y.Unit(e.Cell.Quantity), Unit)
		x.figure(3, e.Cell.Quantity, e.Low, ends)
		x.figure(4, e.Cell.Quantity, e.High, ends)
		failLow, failHigh := e.AllFail()
		toLow, toHigh := e.Figures()
		for j, end := range []struct {
			figure float64
			fail   bool
		}{{toLow, failLow}, {toHigh, failHigh}} {
			v := x.by.Unit.FromBase(end.figure)
			x.number(5+j, v, format)
			x.number(7+j, v-at, format)
			if end.fail && e.Figure == e.Figure {
				x.word(5+j, told.AllFail)
			}
		}
		x.number(9, x.by.Unit.FromBase(e.Swing())-x.by.Unit.FromBase(0), format)
		x.item(10, e.BestLow)
		x.item(11, e.BestHigh)
	})
}

// effectsChart draws bars of what inputs do.
func (x *studies) effectsChart(y *told.Effects, shown []sweep.Effect, first int) {
	changes := []float64{0}
	for _, e := range shown {
		low, high := e.Figures()
		for _, v := range []float64{low, high} {
			changes = append(changes, x.by.Unit.FromBase(v)-x.by.Unit.FromBase(y.E.Figure))
		}
	}
	last := first + len(shown) - 1
	c := Chart{Kind: LyingChart, Title: "What moves the " + x.by.Label + " of " + told.Item(x.kind, y.E.Winner) + ": its change when an input alone is low or high",
		Width: studyChartWidth, Height: 110 + 22*len(shown), Y: over("change of "+figureTitle(x.m, x.by), changes)}
	for col := 7; col <= 8; col++ {
		c.Series = append(c.Series, Series{Name: oneCell(x.head, col), X: x.cells(studyNameCol, first, last), Y: x.cells(col, first, last)})
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
	x.table(heads, len(order), 1, false, func(i int) {
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
	first := x.table(heads, bars, 1, true, func(i int) {
		x.s.Set(x.row, studyNameCol, Cell{Value: round15(from + width*float64(i)), Style: Label, Format: edges})
		x.s.Set(x.row, studyFirstCol, Cell{Value: round15(from + width*(float64(i)+0.5)), Style: Label, Format: middles})
		for j, c := range counts {
			x.number(studyValueCol+j, c[i], "0.0")
		}
	})
	c := Chart{Kind: ScatterChart, Title: upperFirst(x.by.Label) + " of each while inputs are uncertain", Row: chart, Col: studyNameCol, Width: studyChartWidth, Height: studyChartHeight, Marked: true,
		X: over(figureTitle(x.m, x.by), []float64{from, to}), Y: over("% of draws", []float64{0, top})}
	for j, item := range items {
		c.Series = append(c.Series, Series{Item: item + 1, Name: oneCell(x.head, studyValueCol+j), X: x.cells(studyFirstCol, first, first+bars-1), Y: x.cells(studyValueCol+j, first, first+bars-1)})
	}
	x.s.Charts = append(x.s.Charts, c)
}

// shares draws which input makes it uncertain.
func (x *studies) shares(d *told.Doubt) {
	shares := d.F.Found.Shares
	x.section(d.SharesTitle(), min(len(shares), 10)+3)
	heads := []column{{"Input", "", true}, {"of figure", "%", false}, {"±", "%", false}, {"alone", "%", false}, {"±", "%", false},
		{"of lead", "%", false}, {"±", "%", false}, {"of lead, alone", "%", false}, {"±", "%", false}}
	first := x.table(heads, len(shares), 1, true, func(i int) {
		s := shares[i]
		x.input(d.F.Inputs[i].Place)
		for j, e := range []sample.Estimate{s.Total, s.First, s.LeadTotal, s.LeadFirst} {
			x.number(2+2*j, 100*e.Value, "0")
			x.number(3+2*j, math.Ceil(100*told.HalfWidth(e)), "0")
		}
	})
	x.say(told.SharesHeads, d.NoLead())
	last := first + len(shares) - 1
	c := Chart{Kind: LyingChart, Title: "What makes the lead of " + told.Item(x.kind, d.F.Found.Winner) + " uncertain: share of each input in its variance", Width: studyChartWidth, Height: 110 + 26*len(shares), Y: over("% of the variance of the lead, with all others", []float64{0, 100})}
	c.Series = []Series{{Name: oneCell(x.head, 6), X: x.cells(studyNameCol, first, last), Y: x.cells(6, first, last)}}
	x.chart(c)
}
