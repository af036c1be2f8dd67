package export

import (
	"context"
	"io/fs"
	"math/rand/v2"
	"slices"
	"strconv"
	"strings"
	"sync"
	"testing"

	"bankwright/engine"
	"bankwright/engine/check"
	"bankwright/export/calc"
	"bankwright/rules"
	"bankwright/scenarios"
)

// What the tests that write files need of this package's insides; they cannot
// stand in it, since package xlsx imports it.

// Trial is a workbook with some inputs changed, beside the engine's result for
// the same changes.
type Trial struct {
	Name  string
	Book  *Book
	plan  *plan
	model func() *engine.Model // the engine run with the changes; nil where it cannot be
	list  []change
}

// Suite is a model of which LibreOffice calculates the workbook.
type Suite struct {
	Name  string
	model *engine.Model
}

// Suites are every scenario that comes with the program, and those models of the tests
// that have what no other has.
func Suites(t *testing.T) (out []Suite) {
	known := models(t)
	for _, name := range []string{"loaves", "greenhouse", "garden", "thresholds"} {
		out = append(out, Suite{name, known[name]})
	}
	for _, file := range Shipped(t) {
		out = append(out, Suite{file, load(t, scenarios.Files, file, rules.Files)})
	}
	logs := map[string][]byte{"short": stoveLog(60, nil), "long": stoveLog(700, nil)}
	return append(out, Suite{"stoves", stovesWith(t, logs)})
}

// Shipped are the files of the scenarios that come with the program.
func Shipped(t *testing.T) []string {
	t.Helper()
	files, err := fs.Glob(scenarios.Files, "*.toml")
	if err != nil || len(files) < 5 {
		t.Fatalf("scenarios: %v, %v", files, err)
	}
	return files
}

// shippedModel is the model of a scenario that comes with the program, read once.
func shippedModel(t *testing.T, file string) *engine.Model {
	t.Helper()
	all := models(t)
	knowing.Lock()
	defer knowing.Unlock()
	for _, of := range []map[string]*engine.Model{all, shipped} {
		for _, m := range of {
			if m.Model.Files[0].Name == file {
				return m
			}
		}
	}
	shipped[file] = load(t, scenarios.Files, file, rules.Files)
	return shipped[file]
}

// shipped are those that the other tests of the workbook do not run on.
var shipped = map[string]*engine.Model{}

// changedEach is how many inputs change in a round: so many that 25 rounds reach every
// input of any scenario that comes with the program.
const changedEach = 14

// Trials are the workbook as it is, and after so many rounds of changes; which sorts
// of changes there were is counted. Each input is changed in one of them, of an item or
// several, with changes of other inputs.
func (s Suite) Trials(t *testing.T, rounds int, seen *Sorts) []Trial {
	pl := plotBook(s.model, nil)
	if pl.fault != nil {
		t.Fatal(pl.fault)
	}
	if err := pl.book.fill(); err != nil {
		t.Fatal(err)
	}
	out := []Trial{{"unchanged", pl.book, pl, func() *engine.Model { return pl.model }, nil}}
	r := rand.New(rand.NewPCG(3, 5))
	next, reached := dealt(pl, r), map[*check.Quantity]bool{}
	for i := range rounds {
		list := slices.Concat(changesOf(pl, pl.model, r, changedEach, 20, next), tableChanges(pl, r))
		seen.count(list)
		for _, c := range list {
			reached[c.engine.Quantity] = true
		}
		out = append(out, Trial{"round " + number(float64(i+1)), pl.book, pl, func() *engine.Model { return apply(pl.model, list) }, list})
	}
	for _, q := range pl.prog.Quantities {
		if changeable(pl, q) && !reached[q] {
			t.Errorf("%s: nothing is changed of %s.%s", s.Name, q.Kind.Name, q.Name)
		}
	}
	if s.Name == scenarios.Default {
		for _, c := range []pointsTrial{pointsTrials[0], pointsTrials[3], pointsTrials[5]} {
			out = append(out, c.trial(pl, s.model))
		}
		out = append(out, blankedTrials(pl, s.model)...)
	}
	return out
}

// Sorts counts what was changed, by sort; tests that run beside each other may share it.
type Sorts struct {
	lock sync.Mutex
	seen map[string]int
}

func (s *Sorts) count(list []change) {
	s.lock.Lock()
	defer s.lock.Unlock()
	if s.seen == nil {
		s.seen = map[string]int{}
	}
	for _, c := range list {
		s.seen[c.sort]++
		if c.data == nil {
			s.seen[blankedSort]++
		}
	}
}

// Missing are the sorts of which there was none.
func (s *Sorts) Missing() (out []string) {
	for _, sort := range changeSorts {
		if s.seen[sort] == 0 {
			out = append(out, sort)
		}
	}
	return out
}

// Typed calls f for every change: the number of the sheet, and what is typed, nil to
// blank it.
func (tr Trial) Typed(f func(sheet, row, col int, data any)) {
	for _, c := range tr.list {
		f(tr.Book.Sheet(c.sheet), c.row, c.col, c.data)
	}
}

// Changed calls f while the inputs are changed in the book; the values that
// are stored beside the formulas stay those of before.
func (tr Trial) Changed(f func()) {
	var back []func()
	for _, c := range tr.list {
		s := tr.Book.Find(c.sheet)
		old := s.At(c.row, c.col)
		back = append(back, func() { s.Set(c.row, c.col, old) })
		s.Set(c.row, c.col, Cell{Value: c.data, Style: old.Style, Format: old.Format})
	}
	f()
	for _, b := range back {
		b()
	}
}

// Changes names what was changed.
func (tr Trial) Changes() []string {
	var out []string
	for _, c := range tr.list {
		out = append(out, c.what)
	}
	return out
}

// Check holds what a spreadsheet program calculated against the engine, where the
// engine can be run with the same changes, and every other cell against package calc,
// for which the engine's values are given. What follows from a computed figure is held
// against the engine as long as the sheet says that the figure is of these inputs. The
// first sheet shows no error value, whatever was changed, and the others show none where
// the engine has a result for every cell.
func (tr Trial) Check(t *testing.T, got func(sheet string, row, col int) string) (cells int) {
	t.Helper()
	l, results := tr.live(), tr.model != nil
	if tr.model != nil {
		m := tr.model()
		for _, c := range cellsBut(tr.plan, m, func(q *check.Quantity) bool { return movedSince(tr.plan, q, got) }) {
			if c.failed {
				results = false
				continue
			}
			if g := got(c.sheet, c.row, c.col); !reads(g, c.want) {
				t.Errorf("%s: %s (%s!%s): spreadsheet %q, engine %v, after changing %v", tr.Name, c.name(), c.sheet, cellName(c.row, c.col), g, c.want, tr.Changes())
			}
			l.know(c)
		}
		judgements(t, tr.Name, tr.plan, m, got)
	}
	tr.since(t, got)
	run := calc.New(l)
	for n, s := range tr.Book.Sheets {
		for r, row := range s.Rows() {
			for c := range row {
				cells++
				v, g := run.Cell(n, r+1, c+1), got(s.Name, r+1, c+1)
				if isError(g) != (v.T == calc.Error) || !isError(g) && !reads(g, v) || isError(g) && (n == 0 || results) {
					t.Errorf("%s: %s!%s: spreadsheet %q, calc %v: %s", tr.Name, s.Name, cellName(r+1, c+1), g, v, row[c].Formula)
				}
			}
		}
	}
	return cells
}

// know has a cell with a formula taken for what the engine says it shows.
func (l live) know(c cellOf) {
	at := [3]int{l.Sheet(c.sheet), c.row, c.col}
	if _, typed := l.changed[at]; typed || l.Sheets[at[0]].At(c.row, c.col).Formula == "" {
		return
	}
	switch c.want.T {
	case calc.Number:
		l.changed[at] = c.want.N
	case calc.Boolean:
		l.changed[at] = c.want.N != 0
	default:
		l.changed[at] = c.want.S
	}
}

// since holds what the sheet of computed figures says against what was changed.
func (tr Trial) since(t *testing.T, got func(sheet string, row, col int) string) {
	t.Helper()
	if tr.Book.Find(computedName) == nil {
		return
	}
	moved := false
	for _, c := range tr.list {
		same := tr.Book.Find(c.sheet).At(c.row, c.col).Value == c.data
		moved = moved || !same && isStand(tr.plan, c.sheet, c.row, c.col)
	}
	if state := got(computedName, computedStateRow, 1); moved != strings.HasPrefix(state, changed+": ") || !moved && state != unchanged {
		t.Errorf("%s: computed figures follow from what was changed (%v): %v; the sheet says %q", tr.Name, tr.Changes(), moved, state)
	}
}

// isError reports whether the raw text of a cell is an error value.
func isError(got string) bool {
	return strings.HasPrefix(got, "#") || strings.HasPrefix(got, "Err:")
}

// reads reports whether the raw text of a cell is a value.
func reads(got string, want calc.Value) bool {
	switch want.T {
	case calc.Number, calc.Boolean:
		return same(numeral(got), calc.Num(want.N))
	}
	return got == want.S
}

// numeral is a number, a percentage or a truth as a file has it; what is none is no
// number.
func numeral(s string) calc.Value {
	switch s {
	case "TRUE":
		return calc.Num(1)
	case "FALSE":
		return calc.Num(0)
	}
	plain, percent := strings.CutSuffix(s, "%")
	x, err := strconv.ParseFloat(plain, 64)
	if err != nil {
		return calc.Str(s)
	}
	if percent {
		x /= 100
	}
	return calc.Num(x)
}

// Workbook is the workbook of a model that the tests know, or of a file of Shipped, with
// its studies.
func Workbook(t *testing.T, name string) *Book {
	t.Helper()
	m := models(t)[name]
	switch {
	case name == "trays":
		m = trayModel(t)
	case strings.HasSuffix(name, ".toml"):
		m = shippedModel(t, name)
	}
	found := study(t, m)
	knowing.Lock() // what studies found is sorted when it is first asked for
	defer knowing.Unlock()
	b, err := NewBook(m, found)
	if err != nil {
		t.Fatal(name, err)
	}
	return b
}

// ReadPoints is how large letters are that are meant to be read on paper.
const ReadPoints = 10 * readScale

// Studied is the workbook of a small scenario whose studies are run anew.
func Studied(t *testing.T) *Book {
	t.Helper()
	m := trayModel(t)
	found, err := m.Study(context.Background())
	if err != nil {
		t.Fatal(err)
	}
	b, err := NewBook(m, found)
	if err != nil {
		t.Fatal(err)
	}
	return b
}
