package engine_test

import (
	"math"
	"math/rand"
	"testing"

	"bankwright/engine"
	"bankwright/engine/eval"
)

// TestPoints: a run over many points gives at each point, to the last bit, what
// a run of that point alone gives; changed inputs may have had formulas, texts
// and references may change as well as numbers.
func TestPoints(t *testing.T) {
	m := load(t, "testdata/good", "market_garden.toml")
	const points = 600 // more than two blocks of lanes
	r := rand.New(rand.NewSource(1))
	change := func(cell string, value func() float64) eval.Change {
		c, err := m.ParseCell(cell)
		if err != nil {
			t.Fatal(err)
		}
		ch := eval.Change{Quantity: c.Quantity, Item: c.Item, Row: c.Row}
		for range points {
			ch.Values = append(ch.Values, value())
		}
		return ch
	}
	changes := []eval.Change{
		change("crop.leek.price", func() float64 { return r.Float64() * 5 }),
		change("crop.rhubarb.price", func() float64 { return r.Float64() * 5 }), // given by a formula
		change("garden.years", func() float64 { return float64(1 + r.Intn(6)) }),
		change("bed.north.crop", func() float64 { return float64(r.Intn(2)) }),
		change("bed.north.lost", func() float64 {
			if r.Intn(3) == 0 {
				return math.NaN()
			}
			return r.Float64()
		}),
		change("bed.south.rain[2]", func() float64 { return r.Float64() }),
		change("bed.south.neighbours[leek]", func() float64 { return float64(r.Intn(2)) }),
	}
	machine := eval.New(m.Program)
	all := machine.Run(points, changes...)
	for p := 0; p < points; p += 7 {
		one := make([]eval.Change, len(changes))
		for i, c := range changes {
			one[i] = c
			one[i].Values = c.Values[p : p+1]
		}
		compareAt(t, m, all, p, machine.Run(1, one...))
	}
}

func compareAt(t *testing.T, m *engine.Model, all *eval.Result, p int, one *eval.Result) {
	t.Helper()
	for _, q := range m.Quantities {
		if len(q.Columns) > 0 {
			continue
		}
		for item := range q.Kind.Items {
			for row := range q.Rows() {
				a, b := all.AtPoint(q, p, item, row), one.At(q, item, row)
				if math.Float64bits(a) != math.Float64bits(b) && !(a != a && b != b) {
					t.Fatalf("point %d: %s = %v, alone %v", p, m.CellName(eval.Cell{Quantity: q, Item: item, Row: row}), a, b)
				}
			}
		}
	}
}

// TestLayout: rows and steps are each other's inverse.
func TestLayout(t *testing.T) {
	m := load(t, "testdata/good", "market_garden.toml")
	for _, q := range m.Quantities {
		seen := map[int]bool{}
		q.EachStep(func(steps []int, row int) {
			seen[row] = true
			back := q.StepsOf(row)
			for i := range steps {
				if back[i] != steps[i] {
					t.Errorf("%s: row %d is %v, not %v", q.Name, row, steps, back)
				}
			}
		})
		starts := 0
		for row := range q.Rows() {
			if !seen[row] {
				starts++
				if s := q.StepsOf(row); q.Start == nil || s[len(s)-1] != -1 {
					t.Errorf("%s: row %d belongs to no step", q.Name, row)
				}
			}
		}
		if q.Start != nil && starts == 0 {
			t.Errorf("%s has a start but no row for it", q.Name)
		}
	}
}
