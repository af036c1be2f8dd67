package engine_test

import (
	"math"
	"math/rand"
	"testing"

	"bankwright/engine"
	"bankwright/engine/eval"
)

// TestPoints: a sweep gives at each point, to the last bit, what a run of that point
// alone gives; changed inputs may have had formulas, texts and references may change
// as well as numbers.
func TestPoints(t *testing.T) {
	m := load(t, "testdata/good", "market_garden.toml")
	const points = 600 // more than two blocks of lanes
	r := rand.New(rand.NewSource(1))
	var cells []eval.Cell
	var values [][]float64
	change := func(cell string, value func() float64) {
		c, err := m.ParseCell(cell)
		if err != nil {
			t.Fatal(err)
		}
		var list []float64
		for range points {
			list = append(list, value())
		}
		cells, values = append(cells, c), append(values, list)
	}
	change("crop.leek.price", func() float64 { return r.Float64() * 5 })
	change("crop.rhubarb.price", func() float64 { return r.Float64() * 5 }) // given by a formula
	change("garden.years", func() float64 { return float64(1 + r.Intn(6)) })
	change("bed.north.crop", func() float64 { return float64(r.Intn(2)) })
	change("bed.north.lost", func() float64 {
		if r.Intn(3) == 0 {
			return math.NaN()
		}
		return r.Float64()
	})
	change("bed.south.rain[2]", func() float64 { return r.Float64() })
	change("bed.south.neighbours[leek]", func() float64 { return float64(r.Intn(2)) })
	compareSweep(t, m, []eval.Axis{{Inputs: cells, Steps: points, Fill: eval.Values(values...)}}, 7)
	// rows of which each takes several blocks, the last of them not full
	rows := []eval.Axis{{Inputs: cells[:1], Steps: 3, Fill: eval.Values(values[0])}, {Inputs: cells[1:], Steps: points, Fill: eval.Values(values[1:]...)}}
	compareSweep(t, m, rows, 37)
	// the same inputs as a grid: what does not depend on an axis is computed once
	var axes []eval.Axis
	for i, c := range cells {
		axes = append(axes, eval.Axis{Inputs: []eval.Cell{c}, Steps: 3 + i%2, Fill: eval.Values(values[i])})
	}
	compareSweep(t, m, axes, 97)
}

// compareSweep holds every cell of a model at some points of a sweep against a run
// of that point alone.
func compareSweep(t *testing.T, m *engine.Model, axes []eval.Axis, stride int) {
	t.Helper()
	var want []eval.Cell
	for _, q := range m.Quantities {
		if q.Type.Tabular() {
			continue
		}
		for item := range q.Kind.Items {
			for row := range q.Rows() {
				want = append(want, eval.Cell{Quantity: q, Item: item, Row: row})
			}
		}
	}
	sweep, err := m.Result.Sweep(axes, want)
	if err != nil {
		t.Fatal(err)
	}
	machine := eval.New(m.Program)
	steps := make([]int, len(axes))
	next := 0
	err = sweep.Run(t.Context(), 0, sweep.Points(), func(p *eval.Points) error {
		if p.First != next {
			t.Fatalf("points %d come after %d", p.First, next)
		}
		next += p.N
		for i := (stride - p.First%stride) % stride; i < p.N; i += stride {
			sweep.StepsAt(p.First+i, steps)
			one := machine.Run(changesAt(axes, steps)...)
			for j, c := range want {
				a, b := p.At(j, i), one.At(c.Quantity, c.Item, c.Row)
				if math.Float64bits(a) != math.Float64bits(b) && !(a != a && b != b) {
					t.Fatalf("point %d: %s = %v, alone %v", p.First+i, m.CellName(c), a, b)
				}
			}
		}
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	if next != sweep.Points() {
		t.Errorf("%d points came, not %d", next, sweep.Points())
	}
}

// TestManyPoints: a grid of nearly as many points as can be counted gives its last
// ones; one of more is refused.
func TestManyPoints(t *testing.T) {
	m := load(t, "testdata/good", "market_garden.toml")
	var axes []eval.Axis
	for i, name := range []string{"bed.south.rain[1]", "bed.south.rain[2]", "bed.south.rain[3]", "garden.rate"} {
		c, err := m.ParseCell(name)
		if err != nil {
			t.Fatal(err)
		}
		axes = append(axes, eval.Axis{Inputs: []eval.Cell{c}, Steps: []int{2_080_000, 2_080_000, 990_000, 2}[i], Fill: func(cols [][]float64, first int) {
			for j := range cols[0] {
				cols[0][j] = float64(first+j) / 4e6
			}
		}})
	}
	c, err := m.ParseCell("bed.south.water[4,3]") // all its steps, at three axes, are more than can be counted
	if err != nil {
		t.Fatal(err)
	}
	want := []eval.Cell{c}
	sweep, err := m.Result.Sweep(axes, want)
	if err != nil {
		t.Fatal(err)
	}
	const points = 8_566_272_000_000_000_000
	if sweep.Points() != points {
		t.Fatalf("%d points", sweep.Points())
	}
	machine, steps, seen := eval.New(m.Program), make([]int, len(axes)), 0
	err = sweep.Run(t.Context(), points-9, points, func(p *eval.Points) error {
		for i := range p.N {
			sweep.StepsAt(p.First+i, steps)
			one := machine.Run(changesAt(axes, steps)...)
			if a, b := p.At(0, i), one.At(c.Quantity, c.Item, c.Row); math.Float64bits(a) != math.Float64bits(b) {
				t.Errorf("point %d: %v, alone %v", p.First+i, a, b)
			}
			seen++
		}
		return nil
	})
	if err != nil || seen != 9 {
		t.Errorf("%d points seen: %v", seen, err)
	}
	axes[3].Steps = 3
	if _, err := m.Result.Sweep(axes, want); err == nil {
		t.Error("a grid of more points than can be counted was planned")
	}
}

// changesAt is what is varied at some steps of axes.
func changesAt(axes []eval.Axis, steps []int) []eval.Change {
	var out []eval.Change
	for i, a := range axes {
		cols := make([][]float64, len(a.Inputs))
		for j := range cols {
			cols[j] = make([]float64, 1)
		}
		a.Fill(cols, steps[i])
		for j, c := range a.Inputs {
			out = append(out, eval.Change{Quantity: c.Quantity, Item: c.Item, Row: c.Row, Value: cols[j][0]})
		}
	}
	return out
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
