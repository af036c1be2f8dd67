package export

import (
	"fmt"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"
	"testing/fstest"

	"bankwright/engine/check"
	"bankwright/engine/eval"
	"bankwright/engine/oracle"
	"bankwright/export/calc"
)

// onComputed are the computed quantities and all that follows from them.
func onComputed(pl *plan) map[*check.Quantity]bool {
	out := map[*check.Quantity]bool{}
	for _, c := range pl.computed {
		out[c.line.q] = true
	}
	for more := len(out) > 0; more; {
		more = false
		for _, q := range pl.prog.Quantities {
			if !out[q] && slices.ContainsFunc(reached(q), func(r *check.Quantity) bool { return out[r] }) {
				out[q], more = true, true
			}
		}
	}
	return out
}

// TestComputed: exactly these quantities of the standard rules are not live in
// the workbook. Whoever adds to the list takes a live figure from the client.
func TestComputed(t *testing.T) {
	oracle.OneCore(t)
	want := []string{"alternative.counted_wear"}
	ms := models(t)
	for _, name := range []string{"cabin", "boat", "thresholds", "days"} {
		pl := plotBook(ms[name], nil)
		var got []string
		for _, c := range pl.computed {
			got = append(got, c.line.q.Kind.Name+"."+c.line.q.Name)
		}
		if !slices.Equal(got, want) {
			t.Errorf("%s: computed are %v, want %v", name, got, want)
		}
		follow := 0
		for q := range onComputed(pl) {
			if l := pl.places[q]; !notLive(q.Value) {
				follow++
				if cell := l.page.sheet.At(l.row, l.col); cell.Formula == "" {
					t.Errorf("%s: %s.%s follows from a computed quantity, and is not live", name, q.Kind.Name, q.Name)
				}
			}
		}
		if follow < 3 {
			t.Errorf("%s: only %d quantities follow from computed ones", name, follow)
		}
	}
	for _, name := range []string{"garden", "greenhouse"} {
		if pl := plotBook(ms[name], nil); pl.book.Find(computedName) != nil {
			t.Errorf("%s has the sheet %s, and nothing in it is computed", name, computedName)
		}
	}
}

// stateOf is the one cell that says whether inputs have changed, and the line
// of the first sheet.
func stateOf(pl *plan, run *calc.Book) (state, line string) {
	state = run.Cell(pl.book.Sheet(computedName), computedStateRow, 1).S
	for r, row := range pl.book.Find("Answer").Rows() {
		if len(row) > 0 && row[0].Style == Alert {
			line = run.Cell(0, r+1, 1).S
		}
	}
	return state, line
}

// isStand reports whether a cell is among those that computed figures follow
// from.
func isStand(pl *plan, sheet string, row, col int) bool {
	return slices.ContainsFunc(pl.stands, func(s stand) bool {
		return s.at.Sheet == sheet && s.at.Col == col && row >= s.at.Row && row <= max(s.at.Row, s.at.ToRow)
	})
}

// TestSince: the sheet says "unchanged" while nothing is changed, and after a
// change names it if and only if a computed figure follows from it.
func TestSince(t *testing.T) {
	oracle.OneCore(t)
	for _, name := range []string{"cabin", "days"} {
		m := models(t)[name]
		pl := plotBook(m, nil)
		if state, line := stateOf(pl, calc.New(live{Book: pl.book})); state != unchanged || line != "" {
			t.Errorf("%s unchanged: the sheet says %q, the first %q", name, state, line)
		}
		r := rand.New(rand.NewPCG(13, 17))
		seen := map[bool]int{}
		for range 60 {
			list := changes(pl, m, r, 1)
			c := list[0]
			if pl.book.Find(c.sheet).At(c.row, c.col).Value == c.data {
				continue // another value happened to be the same
			}
			run := calc.New(live{Book: pl.book, changed: map[[3]int]any{{pl.book.Sheet(c.sheet), c.row, c.col}: c.data}})
			state, line := stateOf(pl, run)
			reached := isStand(pl, c.sheet, c.row, c.col)
			seen[reached]++
			if reached != strings.HasPrefix(state, changed+": ") || reached != strings.HasPrefix(line, "Computed figures are of other inputs") || !reached && state != unchanged {
				t.Errorf("%s, %s changed, which is followed from: %v; the sheet says %q, the first %q", name, c.what, reached, state, line)
			}
			if moved := movesComputed(pl, m.Result, apply(m, list).Result); moved && !reached {
				t.Errorf("%s: %s moves a computed figure and is not among what it follows from", name, c.what)
			}
		}
		if seen[true] < 10 || seen[false] < 10 {
			t.Errorf("%s: changes with and without effect: %v", name, seen)
		}
	}
}

func movesComputed(pl *plan, a, b *eval.Result) bool {
	for _, c := range pl.computed {
		q := c.line.q
		for i := range q.Kind.Items {
			for row := range q.Rows() {
				if x, y := a.At(q, i, row), b.At(q, i, row); x != y && (x == x || y == y) {
					return true
				}
			}
		}
	}
	return false
}

// crane has every place in which a formula without spreadsheet form can stand:
// a rule over two kinds of steps, a single one behind a reference, a rule that
// chooses, a check, an input given by a formula; values that are absent, and a
// figure within a formula of the scenario.
const crane = `
title = "Cranes"
standard_rules = false
[rules.axis.step]
steps = 4
[rules.kind.rope]
many = "ropes"
[rules.rope.bends]
columns = { reach = "", count = "" }
rows = 5
[rules.rope.grade]
default = 1
[rules.rope.unused]
default = 1
[rules.kind.crane]
many = "cranes"
compare = { by = "cost", best = "lowest", show = ["worn"] }
[rules.crane.rope]
refers = "rope"
[rules.crane.height]
unit = "m"
over = "step"
optional = true
[rules.crane.size]
unit = "m"
default = "1 m"
[rules.crane.worn]
formula = "rainflow(height, rope.bends.reach, rope.bends.count, size / 1)"
[rules.crane.graded]
formula = "rope.grade > 1 ? rainflow(height, rope.bends.reach, rope.bends.count, size / 1) : 0"
[rules.crane.guess]
default = 2
[rules.crane.cost]
formula = "(worn ?? 1) * 1 + (graded ?? 0) + guess"
[rules.check.wear]
of = "crane"
severity = "caution"
require = "rainflow(height, rope.bends.reach, rope.bends.count, size / 1) < 1"
otherwise = "It wears {worn}."
[rules.question.wear]
of = "crane"
ask = "How much does it wear?"
answer = "It wears {worn} of {guess}."
[rope.thin]
bends = { reach = [1, 5], count = [100, 10] }
[rope.thick]
bends = { reach = [1, 5], count = [1000, 100] }
[crane.first]
rope = "thin"
height = ["0 m", "3 m", "1 m", "4 m"]
guess = "= 3 * rainflow(height, rope.bends.reach, rope.bends.count, size / 1)"
[crane.second]
rope = "thin"
size = "= 2 * 1"
`

func TestComputedEverywhere(t *testing.T) {
	m := load(t, fstest.MapFS{"crane.toml": {Data: []byte(strings.Replace(crane, `"= 2 * 1"`, `"= 2 * cranes.first.size"`, 1))}}, "crane.toml", nil)
	b, err := NewBook(m, nil)
	if err != nil {
		t.Fatal(err)
	}
	pl := plotBook(m, nil)
	run := calc.New(live{Book: pl.book})
	agree(t, pl, m, run)
	noErrors(t, b, run)
	var got []string
	for _, c := range pl.computed {
		got = append(got, fmt.Sprint(computedLabel(c), " ", c.item))
	}
	if text := strings.Join(got, ", "); text != "Worn -1, Graded -1, Guess of first 0, Wear -1" {
		t.Errorf("computed are %s", text)
	}
	if state, _ := stateOf(pl, run); state != unchanged {
		t.Errorf("unchanged: %s", state)
	}
	k := m.Kind("crane")
	in := func(kind, name string) *line {
		q := m.Kind(kind).Quantity(name)
		return pl.inputs.lines[slices.IndexFunc(pl.inputs.lines, func(l *line) bool { return l.q == q })]
	}
	for _, c := range []struct {
		what     string
		line     *line
		item     int
		row      int
		data     any
		state    string
		computed string // which of the computed quantities, in their order
	}{
		{"a point", in("rope", "bends"), 0, 0, 2.0, "changed: Bends: reach 1 (thin)", "cccc"},
		{"a point added", in("rope", "bends"), 0, 3, 9.0, "changed: Bends: reach 3 and the next 2 (thin)", "cccc"},
		{"another rope's point", in("rope", "bends"), 1, 0, 2.0, unchanged, "uuuu"},
		{"the rope", in("crane", "rope"), 1, 0, "thick", "changed: Rope (second)", "ccuc"},
		{"the grade", in("rope", "grade"), 0, 0, 2.0, "changed: Grade (thin)", "ucuu"},
		{"what nobody reads", in("rope", "unused"), 0, 0, 2.0, unchanged, "uuuu"},
		{"a height blanked", in("crane", "height"), 0, 0, nil, "changed: Height: step 1 (first)", "cccc"},
		{"a height given", in("crane", "height"), 1, 2, 1.0, "changed: Height: step 1 and the next 3 (second)", "ccuc"},
		{"a size that another follows", in("crane", "size"), 0, 0, 3.0, "changed: Size (first)", "cccc"},
		{"the figure in a formula", pl.extra[k][0], 1, 0, 5.0, "changed: Size (second)", "ccuc"},
	} {
		run := calc.New(live{Book: pl.book, changed: map[[3]int]any{{pl.book.Sheet("Inputs"), c.line.row + c.row, c.line.column(c.item)}: c.data}})
		state, _ := stateOf(pl, run)
		var which strings.Builder
		for i := range pl.computed {
			which.WriteString(run.Cell(pl.book.Sheet(computedName), computedHeadRow+2+i, thenLiveCol).S[:1])
		}
		if state != c.state || which.String() != c.computed {
			t.Errorf("%s: %q %s, want %q %s", c.what, state, which.String(), c.state, c.computed)
		}
	}
}
