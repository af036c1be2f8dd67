package export

import (
	"fmt"
	"io/fs"
	"maps"
	"math"
	"os"
	"sync"
	"testing"

	"bankwright/engine"
	"bankwright/engine/check"
	"bankwright/engine/decl"
	"bankwright/engine/eval"
	"bankwright/engine/oracle"
	"bankwright/export/calc"
	"bankwright/rules"
	"bankwright/scenarios"
)

// models are the scenarios that the tests of the workbook run on, read once. The
// market garden uses every construct of the rules language, the greenhouse what
// is hard to say in a spreadsheet, the quarry house everything of the trade.
func models(t *testing.T) map[string]*engine.Model {
	t.Helper()
	knowing.Lock()
	defer knowing.Unlock()
	if len(known) > 0 {
		return known
	}
	known = map[string]*engine.Model{
		"loaves":     load(t, os.DirFS("testdata"), "loaves.toml", nil),
		"greenhouse": load(t, os.DirFS("testdata"), "greenhouse.toml", nil),
		"garden":     load(t, os.DirFS("../engine/testdata/good"), "market_garden.toml", nil),
		"cabin":      load(t, scenarios.Files, scenarios.Default, rules.Files),
		"thresholds": load(t, os.DirFS("../testdata"), "thresholds.toml", rules.Files),
		"charging":   load(t, os.DirFS("../testdata"), "charging.toml", rules.Files),
		"boat":       load(t, scenarios.Files, "narrowboat.toml", rules.Files),
		"days":       load(t, os.DirFS("../testdata"), "typical_day.toml", rules.Files),
		"strings":    load(t, os.DirFS("../testdata/outside"), "sharing.toml", rules.Files),
		"bench":      load(t, scenarios.Files, "bench.toml", rules.Files),
		"wired boat": load(t, os.DirFS("../testdata"), "wiring_boat.toml", rules.Files),
		"wired land": load(t, os.DirFS("../testdata"), "wiring_land.toml", rules.Files),
		"quarry":     load(t, scenarios.Files, "quarry_house.toml", rules.Files),
	}
	return known
}

// eachModel are the models for a test that goes through all of them: the small ones
// where data races are looked for.
func eachModel(t *testing.T) map[string]*engine.Model {
	t.Helper()
	all := maps.Clone(models(t))
	maps.DeleteFunc(all, func(name string, _ *engine.Model) bool { return oracle.Brief() && !small[name] })
	return all
}

// known are the models once they are read; tests do not change them.
var known map[string]*engine.Model

// knowing is held by the test that reads models or runs their studies for all; some tests
// run at the same time.
var knowing sync.Mutex

// small are the models on which a test can be repeated often.
var small = map[string]bool{"loaves": true, "greenhouse": true, "garden": true, "cabin": true}

func load(t *testing.T, files fs.FS, scenario string, standard fs.FS) *engine.Model {
	t.Helper()
	m, list, _ := engine.Load(engine.Sources{Files: files, Scenario: scenario, Standard: standard})
	if m == nil {
		t.Fatalf("%s: %v", scenario, list)
	}
	return m
}

// live is a book as a spreadsheet program calculates it: from the formulas
// alone, some input cells being changed.
type live struct {
	*Book
	changed map[[3]int]any
}

func (l live) Cell(sheet, row, col int) (string, any) {
	if v, ok := l.changed[[3]int{sheet, row, col}]; ok {
		return "", v
	}
	c := l.Sheets[sheet].At(row, col)
	return c.Formula, c.Value
}

// cellOf is a cell that shows a value of the engine.
type cellOf struct {
	sheet    string
	row, col int
	want     calc.Value
	failed   bool // the engine has no result: the sheet shows an error value, or nothing
	of       eval.Cell
}

// name says whose value it is; steps are told by the number of the cell among all.
func (c cellOf) name() string {
	q := c.of.Quantity
	return fmt.Sprint(q.Kind.Name, ".", q.Kind.Items[c.of.Item].Name, ".", q.Name, "[", c.of.Row, "]")
}

// cellsOf are the cells of all quantities, with what the model's result says
// they show. What follows from a computed quantity is left out where the result
// is not the one that the workbook was written with.
func cellsOf(pl *plan, m *engine.Model) []cellOf {
	frozen := map[*check.Quantity]bool{}
	if m.Result != pl.res {
		frozen = onComputed(pl)
	}
	return cellsBut(pl, m, func(q *check.Quantity) bool { return frozen[q] })
}

// cellsBut are those of all quantities but some.
func cellsBut(pl *plan, m *engine.Model, but func(*check.Quantity) bool) []cellOf {
	var out []cellOf
	for _, q := range m.Quantities {
		l := pl.places[q]
		if l == nil || l.row == 0 || q.Type.Tabular() || but(q) {
			continue
		}
		q.EachStep(func(steps []int, row int) {
			at := 0
			if len(l.page.axes) > 0 {
				at = l.page.rowOf(steps)
			} else if q.Type == decl.Set {
				at = steps[0]
			}
			for i := range q.Kind.Items {
				out = append(out, cellOf{
					sheet: l.page.name, row: l.row + at, col: l.column(i), want: expected(m, q, i, row), failed: failed(m, q, i, row),
					of: eval.Cell{Quantity: q, Item: i, Row: row},
				})
			}
		})
	}
	return out
}

// agree holds every formula cell that shows a value of the engine against it.
func agree(t *testing.T, pl *plan, m *engine.Model, run *calc.Book) (cells int) {
	t.Helper()
	wrong := 0
	list := cellsOf(pl, m)
	for _, c := range list {
		got := run.Cell(pl.book.Sheet(c.sheet), c.row, c.col)
		if same(got, c.want) || c.failed {
			continue
		}
		if wrong++; wrong < 10 {
			t.Errorf("%s: sheet %v, engine %v: %s", c.name(), got, c.want, pl.book.Find(c.sheet).At(c.row, c.col).Formula)
		}
	}
	return len(list)
}

// expected is what the engine says a cell shows.
func expected(m *engine.Model, q *check.Quantity, item, row int) calc.Value {
	v := value(m, q, item, row)
	if q.Type == decl.Set {
		v = m.Result.At(q, item, row) == 1
	}
	if v == nil {
		return calc.Str("")
	}
	return calc.Of(v)
}

// failed reports whether the engine has no result for a cell, as opposed to a
// value that is absent: the sheet shows an error value then, or nothing.
func failed(m *engine.Model, q *check.Quantity, item, row int) bool {
	v := m.Result.At(q, item, row)
	return v != v && m.Result.Why(eval.Cell{Quantity: q, Item: item, Row: row}).Reason == eval.Failed
}

// same allows for rounding: 1e-9 relatively, and 1e-10 of a unit in sums of many
// steps that come to nothing.
func same(a, b calc.Value) bool {
	if b.T == calc.Text && b.S == "" {
		return a.T == calc.Empty || a == b
	}
	if a.T == calc.Number && b.T == calc.Number {
		return math.Abs(a.N-b.N) <= 1e-10+1e-9*math.Max(math.Abs(a.N), math.Abs(b.N))
	}
	return a == b
}

// TestFormulas calculates every workbook from its formulas alone and compares
// with the engine.
func TestFormulas(t *testing.T) {
	oracle.OneCore(t)
	for name, m := range eachModel(t) {
		t.Run(name, func(t *testing.T) {
			pl := plotBook(m, nil)
			if pl.fault != nil {
				t.Fatal(pl.fault)
			}
			run := calc.New(live{Book: pl.book})
			if n := agree(t, pl, m, run); n < 200 {
				t.Errorf("only %d cells compared", n)
			}
			noErrors(t, pl.book, run)
		})
	}
}

// noErrors looks for error values in every cell of a book.
func noErrors(t *testing.T, b *Book, run *calc.Book) {
	t.Helper()
	for n, s := range b.Sheets {
		for r, row := range s.Rows() {
			for c := range row {
				if v := run.Cell(n, r+1, c+1); v.T == calc.Error {
					t.Errorf("%s!%s is %s: %s", s.Name, cellName(r+1, c+1), v.S, row[c].Formula)
				}
			}
		}
	}
}

// TestStored: the values stored beside the formulas are those that the
// formulas give.
func TestStored(t *testing.T) {
	for name, m := range eachModel(t) {
		b, err := NewBook(m, study(t, m))
		if err != nil {
			t.Fatal(name, err)
		}
		run := calc.New(live{Book: b})
		for n, s := range b.Sheets {
			for r, row := range s.Rows() {
				for c, cell := range row {
					if cell.Formula == "" {
						continue
					}
					if got, want := run.Cell(n, r+1, c+1), calc.Of(cell.Value); !same(got, want) {
						t.Errorf("%s: %s!%s stores %v, gives %v", name, s.Name, cellName(r+1, c+1), want, got)
					}
				}
			}
		}
	}
}

func ExampleSheet() {
	s := &Sheet{Name: "Prices"}
	s.Set(2, 2, Cell{Value: 3.5})
	fmt.Println(s.At(2, 2).Value, s.At(9, 9).Value)
	// Output: 3.5 <nil>
}
