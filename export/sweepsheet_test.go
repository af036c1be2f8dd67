package export

import (
	"context"
	"math"
	"strings"
	"testing"
	"testing/fstest"

	"bankwright/engine"
)

// ranStudies are what the studies of the models found that the tests run on.
var ranStudies = map[*engine.Model]*engine.Studies{}

// study runs all studies of a model, once.
func study(t *testing.T, m *engine.Model) *engine.Studies {
	t.Helper()
	knowing.Lock()
	defer knowing.Unlock()
	if ranStudies[m] == nil {
		s, err := m.Study(context.Background())
		if err != nil {
			t.Fatal(err)
		}
		ranStudies[m] = s
	}
	return ranStudies[m]
}

// trays is a small scenario with a study of each sort: grids over one axis, over two, of
// which one is long, over three and over names, a doubt of independent inputs, and two
// break-evens.
const trays = `
title          = "Trays"
currency       = "EUR"
standard_rules = false

[wood.beech]
label = "red beech from afar"
price = "3 EUR"
[wood.larch]
price = "2 EUR"

[tray.deep]
wood  = "beech"
depth = 4
[tray.flat]
label = "the flat one with handles"
wood  = "larch"
depth = 1
work  = "5 EUR"
[tray.round]
wood  = "larch"
depth = 9

[hall]
rent = "1 EUR"
wear = 2

[sweep.along]
title = "Price of beech"
show  = ["tray.cost", "tray.room"]
vary  = [{ input = "wood.beech.price", from = "0 EUR", to = "9 EUR", points = 19 }]

[sweep.wide]
vary = [{ input = "hall.wear", from = 1, to = 3, points = 30 }, { input = "wood.beech.price", from = "0 EUR", to = "9 EUR", points = 200 }]

[sweep.woods]
title = "Which wood"
show  = ["tray.deep.room"]
vary  = [{ input = "tray.deep.wood", values = ["beech", "larch"] }, { input = "hall.wear", values = [1, 2, 3] }, { input = "hall.rent", values = ["1 EUR", "2 EUR"] }]

[doubt.market]
title  = "Prices"
samples = 512
inputs = [{ input = "wood.beech.price", uniform = ["0 EUR", "4 EUR"] }, { input = "hall.wear", normal = [2, 0.1] }]

[break_even.beech]
title   = "Beech"
between = ["deep", "flat"]
input   = "wood.beech.price"
from    = "0 EUR"
to      = "9 EUR"

[break_even.never]
title   = "Never"
between = ["deep", "flat"]
input   = "wood.beech.price"
from    = "5 EUR"
to      = "9 EUR"

[break_even.wear]
title   = "Beech by wear"
between = ["deep", "flat"]
input   = "wood.beech.price"
from    = "0 EUR"
to      = "4 EUR"
over    = { input = "hall.wear", from = 1, to = 4, points = 7 }

[rules.kind.wood]
many = "woods"
[rules.kind.hall]
[rules.kind.tray]
many    = "trays"
compare = { by = "cost", best = "lowest", show = ["cost"] }
[rules.wood.price]
unit = "money"
[rules.hall.rent]
unit = "money"
[rules.hall.wear]
[rules.hall.idle]
default = 7
[rules.tray.wood]
refers = "wood"
[rules.tray.depth]
[rules.tray.work]
unit    = "money"
default = "0 EUR"
[rules.tray.room]
formula = "depth * 2"
[rules.tray.cost]
unit    = "money"
formula = "depth * wood.price + hall.wear * hall.rent * 2 / depth + work"
[rules.check.shallow]
of        = "tray"
severity  = "unfit"
require   = "depth < 8"
otherwise = "It is {depth} deep."
`

var traysKnown *engine.Model

func trayModel(t *testing.T) *engine.Model {
	t.Helper()
	knowing.Lock()
	defer knowing.Unlock()
	if traysKnown == nil {
		m, list, _ := engine.Load(engine.Sources{Files: fstest.MapFS{"trays.toml": {Data: []byte(trays)}}, Scenario: "trays.toml"})
		if m == nil {
			t.Fatal(list)
		}
		traysKnown = m
	}
	return traysKnown
}

// looked is the sheet of studies as a test looks at it.
type looked struct {
	t *testing.T
	s *Sheet
}

// below is the first row from one on that begins with a text.
func (l looked) below(row int, text string) int {
	l.t.Helper()
	for r := row; r <= len(l.s.Rows()); r++ {
		if v, ok := l.s.At(r, 1).Value.(string); ok && strings.HasPrefix(v, text) {
			return r
		}
	}
	l.t.Fatalf("nothing begins with %q from row %d on", text, row)
	return 0
}

// is holds a cell against a number or a text.
func (l looked) is(row, col int, want any) {
	l.t.Helper()
	got := l.s.At(row, col).Value
	x, ok := want.(float64)
	g, also := got.(float64)
	if ok && also && math.Abs(x-g) <= 1e-9*math.Max(1, math.Abs(x)) || !ok && got == want {
		return
	}
	l.t.Errorf("%s is %v, want %v", cellName(row, col), got, want)
}

// trayBook is the workbook of the trays, and its sheet of studies.
func trayBook(t *testing.T) (*engine.Model, *engine.Studies, *plan, looked) {
	t.Helper()
	m := trayModel(t)
	found := study(t, m)
	pl := plotBook(m, found)
	if pl.fault != nil {
		t.Fatal(pl.fault)
	}
	if err := pl.book.fill(); err != nil {
		t.Fatal(err)
	}
	return m, found, pl, looked{t, pl.book.Find(sweepsName)}
}

// TestSweepLine: figures along one input are the engine's at every value, with who is
// best, by how much, and what else is shown.
func TestSweepLine(t *testing.T) {
	_, found, _, l := trayBook(t)
	g := found.Sweeps[0].Table
	first := l.below(l.below(1, "Price of beech"), "EUR") + 1
	room := l.below(l.below(first, "Room"), "EUR") + 1
	for p := range g.Points() {
		l.is(first+p, 1, g.Axes[0].Values[p])
		l.is(first+p, 2, []string{"deep", "the flat one with handles"}[g.Best[p]])
		for col, item := range []int{1, 0, 2} { // as often as they win
			l.is(first+p, 4+col, g.Figure(item, p))
			if marked := strings.Contains(l.s.At(first+p, 4+col).Format, "*"); marked != (item == 2) {
				t.Errorf("row %d: the figure of item %d is marked: %v", first+p, item, marked)
			}
		}
		l.is(room+p, 3, 8.0)
	}
	l.is(first+2, 3, 100*(11.0-5)/5) // deep costs 5, the next 11
	if c := l.s.Charts[0]; c.Kind != ScatterChart || len(c.Series) != 3 || c.Series[1].Y != (Range{sweepsName, first, 5, first + 18, 5}) {
		t.Errorf("the chart is %+v", c)
	}
}

// TestSweepMap: of a large grid evenly chosen steps are shown, each with who is best
// there; colours and letters are those of the item.
func TestSweepMap(t *testing.T) {
	_, found, _, l := trayBook(t)
	g := found.Sweeps[1].Table
	at := l.below(1, "Wide")
	row := l.below(at, "Price of red beech from afar  EUR") + 1
	rows := 0
	for step := 0; step < 200; {
		v, ok := l.s.At(row, 1).Value.(float64)
		if !ok { // heads again on the next page
			row += 2
			v = l.s.At(row, 1).Value.(float64)
		}
		for math.Abs(g.Axes[1].Values[step]-v) > 1e-9 {
			step++
		}
		for col := range 16 {
			across := min(2*col, 29)
			best := int(g.Best[g.Point(across, step)])
			l.is(row, 3+col, []string{"A", "B"}[best])
			if look := l.s.At(row, 3+col).Style; look != Won(best) {
				t.Errorf("%s looks like %d, not like item %d", cellName(row, 3+col), look, best)
			}
		}
		row, rows = row+1, rows+1
		if step == 199 {
			break
		}
	}
	if rows != 51 {
		t.Errorf("%d of 200 values are shown", rows)
	}
	edge := l.below(at, "at 3.00")
	l.is(edge, 2, "deep up to 2.875 EUR, then the flat one with handles") // 4 p + 3 * 2 / 4 = 2 + 3 * 2 + 5
	l.below(at, "Every 4th of 200 values of price of red beech from afar is shown. Every point goes to a file")
	three := l.below(1, "Which wood")
	l.is(l.below(three, "With wood of deep at larch")+4, 3, "A")
	l.is(l.below(three, "With wood of deep at beech")+4, 4, "B")
	l.is(l.below(three, "Room of deep"), 4, 8.0)
}

// TestSweepEffects: the ranked table has the figures of the engine, and leads to the
// inputs.
func TestSweepEffects(t *testing.T) {
	_, found, pl, l := trayBook(t)
	e := found.Effects
	first := l.below(l.below(1, "With nothing moved"), "Input") + 2
	for i, x := range e.All[:5] {
		u := x.Cell.Quantity.Unit
		l.is(first+i, 3, u.FromBase(x.Low))
		l.is(first+i, 4, u.FromBase(x.High))
		l.is(first+i, 5, x.FigureLow)
		l.is(first+i, 6, x.FigureHigh)
		l.is(first+i, 7, x.FigureLow-e.Figure)
		l.is(first+i, 9, x.Swing())
		l.is(first+i, 10, "the flat one with handles")
		sheet, cell, _ := strings.Cut(l.s.At(first+i, 1).Link, "!")
		at, _ := cornerOf(cell)
		if v := pl.book.Find(sheet).At(at.row, at.col).Value; v != u.FromBase(x.Base) {
			t.Errorf("%v leads to %s!%s, where %v stands", l.s.At(first+i, 1).Value, sheet, cell, v)
		}
	}
	l.is(first, 1, "Work of the flat one with handles")
	l.is(first+5, 1, "4 do not move it.")
}

// TestSweepDoubt: chances, percentiles, the spread of figures and shares of variance are
// those that were found.
func TestSweepDoubt(t *testing.T) {
	_, found, _, l := trayBook(t)
	f := found.Doubts[0].Found
	at := l.below(1, "Prices")
	for item, name := range []string{"deep", "the flat one with handles", "round"} {
		row, it := l.below(l.below(at, "Trays")+2, name), f.Items[item]
		l.is(row, 2, 100*it.Best.Value)
		l.is(row, 3, 100*(it.Best.High-it.Best.Value))
		l.is(row, 4, 100*it.Passes.Value)
		l.is(row, 5, it.Figure.Percentile(0.05).Value)
		l.is(row, 7, it.Figure.Percentile(0.95).Value)
	}
	first := l.below(l.below(at, "Cost from"), "EUR") + 1
	for item := range f.Items {
		sum := 0.0
		for row := first; ; row++ {
			v, ok := l.s.At(row, 3+item).Value.(float64)
			if !ok {
				break
			}
			sum += v
		}
		if sum < 98.9 || sum > 100+1e-9 {
			t.Errorf("%g %% of the draws of item %d are shown", sum, item)
		}
	}
	share := l.below(l.below(at, "Where the uncertainty of the flat one with handles"), "Price of red beech")
	l.is(share, 6, 100*f.Shares[0].LeadTotal.Value)
	l.is(share+1, 2, 100*f.Shares[1].Total.Value)
}

// TestSweepTies: where two are level stands in a table; where they never are, in words.
func TestSweepTies(t *testing.T) {
	_, _, _, l := trayBook(t)
	row := l.below(l.below(1, "break-even beech"), "Price of red beech from afar") + 2
	for col, want := range []any{2.5, "level", -100.0 / 6, "deep", "the flat one with handles", 11.0} {
		l.is(row, col+1, want)
	}
	l.below(l.below(1, "break-even never"), "deep and the flat one with handles are level nowhere from 5 EUR to 9 EUR")
	row = l.below(l.below(1, "break-even wear"), "Wear") + 2
	for i := range 7 {
		wear := 1 + 0.5*float64(i)
		l.is(row+i, 1, wear)
		l.is(row+i, 2, (7+2*wear-wear/2)/4) // 4 p + wear / 2 = 2 + 2 wear + 5
	}
	if c := l.s.Charts[len(l.s.Charts)-1]; c.Series[0].Y != (Range{sweepsName, row, 2, row + 6, 2}) {
		t.Errorf("the chart is %+v", c)
	}
}

func TestStretches(t *testing.T) {
	for _, c := range []struct {
		from, to, start, width float64
		n                      int
	}{
		{0.263, 0.641, 0.26, 0.02, 20}, {1.1, 18.2, 1, 1, 18}, {0, 30, 0, 1, 30}, {-5, 5, -5, 0.5, 20}, {1000, 1000.001, 1000, 0.00005, 20},
	} {
		start, width, n := stretches(c.from, c.to, 30)
		if math.Abs(start-c.start) > 1e-9 || math.Abs(width-c.width) > 1e-9 || n != c.n {
			t.Errorf("%g to %g: %d stretches of %g from %g", c.from, c.to, n, width, start)
		}
	}
	for i := range 500 {
		from := math.Sin(float64(i)) * 100
		to := from + math.Exp(float64(i%20)-10)
		start, width, n := stretches(from, to, 30)
		if n > 30 || n < 10 || start > from+1e-9 || start+width*float64(n) < to-1e-9 {
			t.Errorf("%g to %g: %d stretches of %g from %g", from, to, n, width, start)
		}
	}
}

// TestSweepCharts: charts draw cells that hold numbers, and their names stand above.
func TestSweepCharts(t *testing.T) {
	_, _, _, l := trayBook(t)
	if len(l.s.Charts) != 5 { // a line, effects, a doubt, its shares, ties along a second input
		t.Errorf("there are %d charts", len(l.s.Charts))
	}
	for _, c := range l.s.Charts {
		for _, s := range c.Series {
			if name, ok := l.s.At(s.Name.Row, s.Name.Col).Value.(string); !ok || name == "" || s.Name.Row != s.Y.Row-1 && s.Name.Row != s.Y.Row-2 {
				t.Errorf("%s: a series has the name %q of %v", c.Title, name, s.Name)
			}
			for row := s.Y.Row; row <= s.Y.ToRow; row++ {
				if _, ok := l.s.At(row, s.Y.Col).Value.(float64); !ok || l.s.At(row, s.X.Col).Value == nil {
					t.Errorf("%s: row %d holds no figure", c.Title, row)
				}
			}
		}
	}
}
