package export

import (
	"context"
	"fmt"
	"slices"
	"strings"
	"unicode/utf8"

	"bankwright/engine"
	"bankwright/engine/check"
	"bankwright/engine/sweep"
	"bankwright/export/told"
)

// How much of a grid is shown: of a longer axis evenly chosen steps, of more than two
// axes some of their combinations.
const (
	mostDown   = 60
	mostAcross = 20
	mostMaps   = 4
	mostBeside = 40
)

// grid is a sweep on the sheet.
type grid struct {
	*studies
	*told.Grid
	f engine.FoundSweep
	t *sweep.Table
}

// sweep draws what was found on a grid.
func (x *studies) sweep(f engine.FoundSweep) {
	g := grid{x, told.NewGrid(x.w, f.Table), f, f.Table}
	var cells []influenceCell
	for _, c := range f.Table.Beside {
		cells = append(cells, influenceCell{c.Quantity, c.Item})
	}
	if g.t.Judge != nil {
		cells = append(cells, x.judged()...)
	}
	x.begin(upperFirst(g.Title(f.Sweep)), "sweep "+f.Name, min(mostSteps, g.t.Axes[len(g.t.Axes)-1].Steps())+12, cells, g.t.Axes...)
	x.say(g.Given())
	switch {
	case len(g.t.Axes) == 1:
		g.line()
		return
	case g.t.Judge != nil:
		g.maps()
	}
	g.extents()
}

// mapAxes are the axes of a map by number: the longest goes down, the longest of the
// others across.
func mapAxes(t *sweep.Table) (down, across int) {
	down = len(t.Axes) - 1
	across = down - 1
	for i := across - 1; i >= 0; i-- {
		if t.Axes[i].Steps() > t.Axes[across].Steps() {
			across = i
		}
	}
	return down, across
}

// maps draws who is best: a map for some combinations of the axes that are on neither
// side of it.
func (g *grid) maps() {
	down, across := mapAxes(g.t)
	g.say(g.Tally())
	steps, all := g.others(down, across)
	if len(g.t.Axes) > 2 {
		g.say(g.Extent())
	}
	if len(steps) < all {
		g.say(fmt.Sprintf("Of %s maps %s are shown. Every point goes to a file with sweep -o.", told.Count(all), told.Count(len(steps))))
	}
	words, short := g.words()
	if short {
		g.legend(words)
	}
	for _, at := range steps {
		g.one(down, across, at, words)
		g.edges(down, across, at)
	}
}

// others are the steps of the axes beside a map, for each map that is drawn, and how
// many there are.
func (g *grid) others(down, across int) (out [][]int, all int) {
	all = 1
	for i, a := range g.t.Axes {
		if i != down && i != across {
			all *= a.Steps()
		}
	}
	for _, n := range told.Thinned(all, mostMaps-1) {
		at := make([]int, len(g.t.Axes))
		for i := len(at) - 1; i >= 0; i-- {
			if i != down && i != across {
				at[i] = n % g.t.Axes[i].Steps()
				n /= g.t.Axes[i].Steps()
			}
		}
		out = append(out, at)
	}
	return out, all
}

// with says at which values of further axes a map is drawn.
func (g *grid) with(down, across int, at []int) string {
	var parts []string
	for i, a := range g.t.Axes {
		if i != down && i != across {
			parts = append(parts, g.Inputs(a)+" at "+a.Written(at[i]))
		}
	}
	return strings.Join(parts, ", ")
}

// one draws one map, in words for who wins.
func (g *grid) one(down, across int, at []int, words map[int]string) {
	v, h := g.t.Axes[down], g.t.Axes[across]
	rows, columns := told.Thinned(v.Steps(), mostDown-1), told.Thinned(h.Steps(), mostAcross-1)
	if len(g.t.Axes) > 2 {
		g.section("With "+g.with(down, across, at), 8)
	}
	for _, part := range []struct {
		at   []int
		axis *check.Axis
	}{{rows, v}, {columns, h}} {
		if len(part.at) < part.axis.Steps() {
			g.say(told.Every(part.at, part.axis.Steps(), "values of "+g.Inputs(part.axis)) + ". Every point goes to a file with sweep -o.")
		}
	}
	side, top := g.scale(v, rows), g.scale(h, columns)
	g.row++
	g.room(min(len(rows), 6) + 2)
	g.mapHeads(side, top)
	for i, y := range rows {
		if g.row-g.top+1 > g.page {
			g.newPage()
			g.mapHeads(side, top)
		}
		g.step(studyNameCol, side, i, Label)
		for j, z := range columns {
			at[down], at[across] = y, z
			best := int(g.t.Best[g.t.Point(at...)])
			g.won(studyValueCol+j, best, words[best])
		}
		g.row++
	}
}

// mapHeads draws what goes across above a map, and the name of what goes down.
func (g *grid) mapHeads(side, top scale) {
	g.s.text(g.row, studyValueCol, strings.TrimSpace(top.column.head+"  "+top.column.unit), Section)
	g.row++
	look := Head
	if side.column.left {
		look = HeadText
	}
	g.s.text(g.row, studyNameCol, strings.TrimSpace(side.column.head+"  "+side.column.unit), look)
	for i := range top.at {
		g.step(studyValueCol+i, top, i, Head)
	}
	g.row++
}

// letters stand for items, the same on all maps.
const letters = "ABCDEFGHIJKLMNOPQRSTUVWXYZ"

// words are what stands on a map for each item that wins somewhere: its name, or a
// letter where names are too long for a narrow cell.
func (g *grid) words() (words map[int]string, short bool) {
	words = map[int]string{sweep.None: "none"}
	for _, item := range g.winners() {
		words[item] = told.Item(g.kind, item)
		short = short || float64(utf8.RuneCountInString(words[item])) > g.columnWidth()-1
	}
	if !short {
		return words, false
	}
	words[sweep.None] = "-"
	for _, item := range g.winners() {
		switch {
		case item == sweep.None:
		case item < len(letters):
			words[item] = letters[item : item+1]
		default:
			words[item] = number(float64(item + 1))
		}
	}
	return words, true
}

// winners are the items that win somewhere, the most frequent first; None last, where
// that is somewhere so.
func (g *grid) winners() []int {
	items := slices.DeleteFunc(slices.Clone(g.Order), func(item int) bool { return g.t.Wins[item] == 0 })
	if g.t.Wins[len(g.Order)] > 0 {
		items = append(items, sweep.None)
	}
	return items
}

// legend explains the letters of a map.
func (g *grid) legend(words map[int]string) {
	items := g.winners()
	down, _ := mapAxes(g.t)
	g.room(len(items) + min(12, g.t.Axes[down].Steps()) + 7) // it stands with the first map
	g.row++
	for _, item := range items {
		name := "none passes all checks"
		if item != sweep.None {
			name = told.Item(g.kind, item)
		}
		g.s.text(g.row, studyNameCol, name, Label)
		g.won(studyFirstCol, item, words[item])
		g.row++
	}
}

// edges says where the best changes along the longest axis, at some steps of the other.
func (g *grid) edges(down, across int, at []int) {
	const most = 5
	var heads, texts []string
	for _, z := range told.Thinned(g.t.Axes[across].Steps(), most) {
		at[across] = z
		text, err := g.Edge(context.Background(), down, at)
		if err != nil || text == "" {
			continue // of what is not a number nothing lies between two steps
		}
		heads, texts = append(heads, "at "+g.t.Axes[across].Written(z)), append(texts, text)
	}
	if len(heads) == 0 {
		return
	}
	g.section("Where another is best, along "+g.Inputs(g.t.Axes[down]), len(heads))
	for i, h := range heads {
		g.s.text(g.row, studyNameCol, h, Label)
		g.s.text(g.row, studyFirstCol, texts[i], Sentence)
		g.row++
	}
}

// extents draws from where to where the cells go that are shown beside the figures.
func (g *grid) extents() {
	cells := g.t.Beside
	if len(cells) == 0 {
		return
	}
	g.section("Over all points", min(len(cells), 4)+1)
	shown := cells[:min(len(cells), mostBeside)]
	g.table([]column{{"", "", true}, {"unit", "", true}, {head: "least"}, {head: "most"}}, len(shown), 1, false, func(i int) {
		q := shown[i].Quantity
		g.s.text(g.row, studyNameCol, upperFirst(g.Name(shown[i])), Label)
		g.s.text(g.row, studyFirstCol, g.Unit(q), Unit)
		format := decimalFormat(told.Digits(q, []float64{g.t.Low[i], g.t.High[i]}))
		g.figure(studyValueCol, q, g.t.Low[i], format)
		g.figure(studyValueCol+1, q, g.t.High[i], format)
	})
	if n := len(cells) - len(shown); n > 0 {
		g.say(told.Count(n) + " more go to a file with sweep -o.")
	}
}

// line draws a grid over one input: figures and a chart of them, and what else is shown.
func (g *grid) line() {
	a := g.t.Axes[0]
	at := told.Thinned(a.Steps(), mostSteps-1)
	if g.t.Judge != nil {
		turns, err := g.Turns(context.Background())
		if err != nil {
			turns = ""
		}
		g.say(g.Tally(), turns)
	}
	if len(at) < a.Steps() {
		g.say(told.Every(at, a.Steps(), "values") + ". Every point goes to a file with sweep -o.")
	}
	g.row++
	sc := g.scale(a, at)
	switch {
	case g.t.Judge != nil && g.t.Kept:
		g.figures(sc)
	case g.t.Judge != nil:
		g.table([]column{sc.column, {"best", "", true}}, len(at), g.lines(studyFirstCol, g.winners()...), false, func(i int) {
			g.step(studyNameCol, sc, i, Label)
			g.item(studyFirstCol, int(g.t.Best[at[i]]))
		})
	}
	if g.t.Kept {
		g.beside(sc)
	} else {
		g.extents()
	}
}

// figures draws the figures of items along one input.
func (g *grid) figures(sc scale) {
	items, rest := g.chosen(g.Order)
	unit := g.Unit(g.by)
	heads := []column{sc.column, {head: "best"}, {head: "lead", unit: "%"}}
	var all []float64
	marked := ""
	for _, item := range items {
		heads = append(heads, column{head: told.Item(g.kind, item), unit: unit})
		for _, p := range sc.at {
			all = append(all, g.t.Figure(item, p))
			if f := g.t.Figure(item, p); f == f && !g.t.Passed(item, p) {
				marked = told.FailsThere
			}
		}
	}
	format := decimalFormat(told.Digits(g.by, all))
	g.say(upperFirst(g.by.Label) + " of each; lead: how far the next lies behind the best.")
	first := g.table(heads, len(sc.at), g.lines(studyFirstCol, g.winners()...), true, func(i int) {
		p := sc.at[i]
		g.step(studyNameCol, sc, i, Label)
		g.item(studyFirstCol, int(g.t.Best[p]))
		g.number(studyValueCol, 100*g.Lead(p), "0.0")
		for j, item := range items {
			f := format
			if !g.t.Passed(item, p) {
				f += `"*"`
			}
			g.figure(studyValueCol+1+j, g.by, g.t.Figure(item, p), f)
		}
	})
	g.say(marked, rest)
	g.curves(sc, first, items, all)
}

// curves is the chart of figures along one input.
func (g *grid) curves(sc scale, first int, items []int, figures []float64) {
	var shown []float64
	for _, v := range figures {
		shown = append(shown, g.by.Unit.FromBase(v))
	}
	c := Chart{Kind: ScatterChart, Title: upperFirst(g.by.Label) + " along " + g.Inputs(sc.axis), Width: studyChartWidth, Height: studyChartHeight, Marked: true,
		X: over(strings.TrimSpace(sc.column.head+"  "+sc.column.unit), sc.values), Y: over(figureTitle(g.m, g.by), shown)}
	if sc.values == nil {
		c.Kind = LineChart
	}
	last := first + len(sc.at) - 1
	for j, item := range items {
		col := studyValueCol + 1 + j
		c.Series = append(c.Series, Series{Item: item + 1, Name: oneCell(g.head, col), X: g.cells(studyNameCol, first, last), Y: g.cells(col, first, last)})
	}
	g.chart(c)
}

// beside draws what is shown beside the figures along one input, a table for each
// quantity.
func (g *grid) beside(sc scale) {
	const most = studyColumns
	for from := 0; from < len(g.t.Beside); {
		to := from + 1
		for to < len(g.t.Beside) && to-from < most && g.t.Beside[to].Quantity == g.t.Beside[from].Quantity {
			to++
		}
		q := g.t.Beside[from].Quantity
		heads := []column{sc.column, {}}
		var all []float64
		for k := from; k < to; k++ {
			heads = append(heads, column{head: told.Beside(g.m, g.t.Beside[k]), unit: g.Unit(q)})
			for _, p := range sc.at {
				all = append(all, g.t.Value(k, p))
			}
		}
		format := decimalFormat(told.Digits(q, all))
		g.section(labelOf(q), len(sc.at)+3)
		g.table(heads, len(sc.at), 1, false, func(i int) {
			g.step(studyNameCol, sc, i, Label)
			for k := from; k < to; k++ {
				g.figure(studyValueCol+k-from, q, g.t.Value(k, sc.at[i]), format)
			}
		})
		from = to
	}
}
