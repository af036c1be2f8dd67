package export

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"bankwright/engine"
	"bankwright/engine/check"
	"bankwright/engine/decl"
	"bankwright/engine/eval"
	"bankwright/engine/oracle"
	"bankwright/export/calc"
)

// change is an input that somebody changes in the workbook, and the same for
// the engine.
type change struct {
	sheet    string
	row, col int
	data     any // nil: blanked
	engine   eval.Change
	set      func() (back func()) // in place of it: changes the program, until it is put back
	what     string
	sort     string
}

// changeSorts are what a change may be of; blankedSort is any that leaves nothing.
const blankedSort = "blanked"

var changeSorts = []string{"number", "filled", "truth", "reference", "choice", "member of a set", "step of a series", "point", "row of a table", blankedSort}

// changes draws changes of inputs at random: other numbers, other choices, other
// references, other members of sets, blanked optional inputs, but for those that
// stand for each other.
func changes(pl *plan, m *engine.Model, r *rand.Rand, n int) []change {
	return changesOf(pl, m, r, n, 1, func() *check.Quantity { return m.Quantities[r.IntN(len(m.Quantities))] })
}

// changeable reports whether an input has cells of its own that may be changed.
func changeable(pl *plan, q *check.Quantity) bool {
	l := pl.places[q]
	return !q.IsRule() && !q.Type.Tabular() && l != nil && l.row > 0 && l.page == pl.inputs && len(q.Kind.Items) > 0
}

// dealt draws inputs as from a pack of cards: none is drawn again before all have been.
func dealt(pl *plan, r *rand.Rand) func() *check.Quantity {
	var all, left []*check.Quantity
	for _, q := range pl.prog.Quantities {
		if changeable(pl, q) {
			all = append(all, q)
		}
	}
	return func() *check.Quantity {
		if len(left) == 0 {
			left = slices.Clone(all)
			r.Shuffle(len(left), func(i, j int) { left[i], left[j] = left[j], left[i] })
		}
		q := left[0]
		left = left[1:]
		return q
	}
}

// changesOf draws changes of the inputs that next gives, of each at an item and a row that
// are drawn so many times until they can be changed.
func changesOf(pl *plan, m *engine.Model, r *rand.Rand, n, draws int, next func() *check.Quantity) []change {
	var out []change
	taken := map[[3]int]bool{}
	for tries := 0; len(out) < n && tries < 1000; tries++ {
		q := next()
		if !changeable(pl, q) {
			continue
		}
		for range draws {
			c, ok := changeOf(pl, m, r, q)
			key := [3]int{q.Index, c.engine.Item, c.engine.Row}
			if ok && !taken[key] {
				taken[key] = true
				out = append(out, c)
				break
			}
		}
	}
	return out
}

// changeOf draws another value of an input at one of its items and rows.
func changeOf(pl *plan, m *engine.Model, r *rand.Rand, q *check.Quantity) (change, bool) {
	l, item, row := pl.places[q], r.IntN(len(q.Kind.Items)), 0
	if q.Type == decl.Set {
		if len(q.To.Items) == 0 {
			return change{}, false
		}
		row = r.IntN(len(q.To.Items))
	}
	data, base, ok := other(m, q, item, row, r)
	return change{
		sheet: "Inputs", row: l.row + row, col: l.column(item), data: data, what: q.Kind.Items[item].Name + "." + q.Name,
		engine: eval.Change{Quantity: q, Item: item, Row: row, Value: base}, sort: sortOf(q, m.Result.At(q, item, row)),
	}, ok
}

// sortOf is the sort of a change of an input that had the value v.
func sortOf(q *check.Quantity, v float64) string {
	switch {
	case q.Type == decl.Boolean:
		return "truth"
	case q.Type == decl.Set:
		return "member of a set"
	case q.Type == decl.Reference:
		return "reference"
	case q.Type == decl.Text:
		return "choice"
	case v != v:
		return "filled"
	}
	return "number"
}

// other is another value for an input: as data of a cell, and in base units.
func other(m *engine.Model, q *check.Quantity, item, row int, r *rand.Rand) (data any, base float64, ok bool) {
	v := m.Result.At(q, item, row)
	either := instead(q) != nil || slices.ContainsFunc(q.Kind.Quantities, func(o *check.Quantity) bool { return instead(o) == q })
	if q.MayBeAbsent && v == v && !either && r.IntN(2) == 0 {
		return nil, math.NaN(), q.Type != decl.Set
	}
	switch q.Type {
	case decl.Boolean, decl.Set:
		if v != v {
			return true, 1, q.Type == decl.Boolean
		}
		return v != 1, 1 - v, true
	case decl.Reference:
		if len(q.To.Items) == 0 {
			return nil, 0, false
		}
		i := r.IntN(len(q.To.Items))
		return q.To.Items[i].Name, float64(i), true
	case decl.Text:
		if len(q.Choices) == 0 {
			return nil, 0, false
		}
		choice := q.Choices[r.IntN(len(q.Choices))]
		for i, t := range m.Texts {
			if t == choice {
				return choice, float64(i), true
			}
		}
		return nil, 0, false
	}
	shown := q.Unit.FromBase(v)
	if v != v {
		shown = 1 + 3*r.Float64()
	} else if shown != math.Round(shown) || shown > 20 {
		shown *= 0.8 + 0.4*r.Float64()
	} else {
		shown += float64(r.IntN(2))
	}
	if q.Whole {
		shown = math.Round(shown)
	}
	if q.Max != nil && v == q.Max.Value && !q.Whole {
		shown *= 0.8 + 0.2*r.Float64()
	}
	if q.Min != nil {
		shown = max(shown, q.Unit.FromBase(q.Min.Value))
	}
	if q.Max != nil {
		shown = min(shown, q.Unit.FromBase(q.Max.Value))
	}
	shown = round15(shown)
	return shown, q.Unit.ToBase(shown), q.Unit.ToBase(shown) != v
}

// apply runs the engine with the changes.
func apply(m *engine.Model, list []change) *engine.Model {
	var all []eval.Change
	for _, c := range list {
		if c.set != nil {
			defer c.set()()
		} else {
			all = append(all, c.engine)
		}
	}
	out := *m
	out.Result = eval.New(m.Program).Run(all...)
	return &out
}

// TestChanges changes inputs in the workbook and holds every cell against the
// engine run with the same changes.
func TestChanges(t *testing.T) {
	oracle.OneCore(t)
	for name, m := range eachModel(t) {
		t.Run(name, func(t *testing.T) {
			pl := plotBook(m, nil)
			r := rand.New(rand.NewPCG(7, 11))
			rounds := 25
			if !small[name] {
				rounds = 5
			}
			for round := range rounds {
				list := slices.Concat(changes(pl, m, r, 4), tableChanges(pl, r))
				l := live{Book: pl.book, changed: map[[3]int]any{}}
				var what []string
				for _, c := range list {
					l.changed[[3]int{pl.book.Sheet(c.sheet), c.row, c.col}] = c.data
					what = append(what, c.what)
				}
				agree(t, pl, apply(m, list), calc.New(l))
				if t.Failed() {
					t.Fatalf("round %d, after changing %v", round, what)
				}
			}
		})
	}
}
