package export

import (
	"strings"
	"testing"

	"bankwright/engine"
	"bankwright/engine/check"
	"bankwright/engine/decl"
	"bankwright/engine/eval"
	"bankwright/engine/oracle"
	"bankwright/export/calc"
)

// pointsTrial is a workbook in which somebody types the points of an item's
// own table, and what the engine takes them for.
type pointsTrial struct {
	name   string
	typed  [][2]any // nil: blank
	sorted [][]float64
	states string
}

// In units of the sheet: percent and cycles.
var pointsTrials = []pointsTrial{
	{"out of order", [][2]any{{50.0, 8000.0}, {80.0, 4500.0}, {100.0, 3300.0}, {30.0, 12000.0}}, [][]float64{{30, 50, 80, 100}, {12000, 8000, 4500, 3300}}, "counts counts counts counts"},
	{"falling, with gaps", [][2]any{{nil, nil}, {100.0, 3300.0}, {nil, nil}, {70.0, 5000.0}, {20.0, 15000.0}}, [][]float64{{20, 70, 100}, {15000, 5000, 3300}}, "- counts - counts counts"},
	{"a column blank", [][2]any{{50.0, 8000.0}, {80.0, nil}, {100.0, 3300.0}}, [][]float64{{50, 100}, {8000, 3300}}, "counts incomplete counts"},
	{"the first column blank", [][2]any{{50.0, 8000.0}, {nil, 4500.0}, {100.0, 3300.0}}, [][]float64{{50, 100}, {8000, 3300}}, "counts incomplete counts"},
	{"one left", [][2]any{{50.0, 8000.0}, {80.0, nil}}, [][]float64{{50}, {8000}}, "counts incomplete"},
	{"a depth twice", [][2]any{{80.0, 4500.0}, {50.0, 8000.0}, {80.0, 9999.0}}, [][]float64{{50, 80}, {8000, 4500}}, "counts counts twice"},
}

// trial is the changes of the workbook's cells and the engine's result.
func (c pointsTrial) trial(pl *plan, m *engine.Model) Trial {
	q := m.Kind("battery").Quantity("cycle_life")
	l := pl.places[q]
	out := Trial{Name: "points " + c.name, Book: pl.book, plan: pl}
	for r := range q.MaxRows {
		for col := range q.Columns {
			ch := change{sheet: l.page.name, row: l.row + col*q.MaxRows + r, col: l.column(0), what: c.name}
			if r < len(c.typed) {
				ch.data = c.typed[r][col]
			}
			out.list = append(out.list, ch)
		}
	}
	base := make([][]float64, len(c.sorted))
	for col := range base {
		for _, v := range c.sorted[col] {
			base[col] = append(base[col], q.Columns[col].Unit.ToBase(v))
		}
	}
	out.model = func() *engine.Model { return withPoints(m, q, base) }
	return out
}

// withPoints runs the engine with other points of the first item.
func withPoints(m *engine.Model, q *check.Quantity, points [][]float64) *engine.Model {
	given := q.Kind.Items[0].Given
	old := given[q.Name]
	given[q.Name] = &decl.Given{Points: points}
	defer func() { given[q.Name] = old }()
	out := *m
	out.Result = eval.Run(m.Program)
	return &out
}

// changed is the book as calculated after the changes of a trial.
func (tr Trial) changed() *calc.Book { return calc.New(tr.live()) }

// live is the book with the changes of a trial.
func (tr Trial) live() live {
	l := live{Book: tr.Book, changed: map[[3]int]any{}}
	for _, c := range tr.list {
		l.changed[[3]int{tr.Book.Sheet(c.sheet), c.row, c.col}] = c.data
	}
	return l
}

// TestPoints: whatever the order in which points stand in the workbook, the
// engine's figures follow; what does not count is said.
func TestPoints(t *testing.T) {
	oracle.OneCore(t)
	m := models(t)["cabin"]
	pl := plotBook(m, nil)
	for _, c := range pointsTrials {
		tr := c.trial(pl, m)
		run := tr.changed()
		agree(t, pl, tr.model(), run)
		if t.Failed() {
			t.Fatal(c.name)
		}
		p := pl.sorted[m.Kind("battery").Quantity("cycle_life")]
		var states []string
		for r := range c.typed {
			v := run.Cell(pl.book.Sheet(p.state.page.name), p.state.row+r, p.state.col).S
			if v == "" {
				v = "-"
			}
			states = append(states, v)
		}
		if got := strings.Join(states, " "); got != c.states {
			t.Errorf("%s: the points are %s, want %s", c.name, got, c.states)
		}
	}
}
