package main

import (
	"math"
	"math/rand/v2"
	"path/filepath"
	"testing"

	"bankwright/engine"
	"bankwright/engine/check"
	"bankwright/engine/decl"
	"bankwright/engine/eval"
	"bankwright/engine/oracle"
)

// judged are the cells that a ranking needs: the deciding figure of each item that
// is compared, and whether it passes each check that would rule it out.
func judged(m *engine.Model) []eval.Cell {
	k := m.Compared()
	var out []eval.Cell
	for item := range k.Items {
		out = append(out, eval.Cell{Quantity: k.Quantity(k.Compare.By), Item: item})
		for _, c := range m.Checks {
			if c.Result.Kind == k && c.Severity != decl.Caution {
				out = append(out, eval.Cell{Quantity: c.Result, Item: item})
			}
		}
	}
	return out
}

// everyInput are the numbers that a scenario or the rules give, as cells, with
// random values near them for so many points; not those that follow from a formula.
func everyInput(m *engine.Model, points int, r *rand.Rand) (axis eval.Axis) {
	var values [][]float64
	for _, q := range m.Quantities {
		if q.Value != nil || q.Type != decl.Number {
			continue
		}
		for item := range q.Kind.Items {
			for row := range q.Rows() {
				base := m.Result.At(q, item, row)
				if base != base || q.Own[item] != nil {
					continue
				}
				list := make([]float64, points)
				for i := range list {
					list[i] = nearby(q, base, r)
				}
				axis.Inputs = append(axis.Inputs, eval.Cell{Quantity: q, Item: item, Row: row})
				values = append(values, list)
			}
		}
	}
	axis.Steps, axis.Fill = points, eval.Values(values...)
	return axis
}

// nearby is a random value of an input within its limits, up to a fifth away.
func nearby(q *check.Quantity, base float64, r *rand.Rand) float64 {
	v := base * (0.8 + 0.4*r.Float64())
	if q.Whole {
		v = math.Round(base) + float64(r.IntN(3)) - 1
	}
	if q.Min != nil {
		v = max(v, q.Min.Value)
	}
	if q.Max != nil {
		v = min(v, q.Max.Value)
	}
	return v
}

// everyCell are the cells of a model that are no tables.
func everyCell(m *engine.Model) (out []eval.Cell) {
	for _, q := range m.Quantities {
		if q.Type.Tabular() {
			continue
		}
		for item := range q.Kind.Items {
			for row := range q.Rows() {
				out = append(out, eval.Cell{Quantity: q, Item: item, Row: row})
			}
		}
	}
	return out
}

// TestSweepEveryInput: with all inputs of a scenario varied at once, every cell at
// every point is to the last bit what a run of that point alone gives, and what
// expr's machine gives for it.
func TestSweepEveryInput(t *testing.T) {
	oracle.OneCore(t)
	files, err := filepath.Glob("../../scenarios/*.toml")
	if err != nil || len(files) < 5 {
		t.Fatal(files, err)
	}
	for _, file := range files {
		t.Run(filepath.Base(file), func(t *testing.T) {
			m := modelOf(t, file)
			const points = 40
			axes := []eval.Axis{everyInput(m, points, rand.New(rand.NewPCG(1, 2)))}
			machine, cells := eval.New(m.Program), 0
			// wanted alone, a ranking's cells use memory again that others have left
			for k, want := range [][]eval.Cell{everyCell(m), judged(m)} {
				s, err := m.Result.Sweep(axes, want)
				if err != nil {
					t.Fatal(err)
				}
				err = s.Run(t.Context(), 0, points, func(p *eval.Points) error {
					for i := 0; i < p.N; i += 13 {
						one := holdPoint(t, m, machine, axes, s, want, p, i)
						cells += len(want)
						if k > 0 {
							continue // these runs have been verified
						}
						if bad, _ := one.Verify(); len(bad) > 0 {
							t.Fatalf("point %d: %s = %v, expr's machine %v", p.First+i, m.CellName(bad[0].Cell), bad[0].Columns, bad[0].Reference)
						}
					}
					return nil
				})
				if err != nil {
					t.Fatal(err)
				}
			}
			t.Logf("%d inputs varied, %d cells equal", len(axes[0].Inputs), cells)
		})
	}
}

// TestSweepFew: grids over two or three random inputs, of which only a ranking's cells
// and a few more are wanted, so that much is not planned at all, are at every point what
// runs of those points alone give.
func TestSweepFew(t *testing.T) {
	oracle.OneCore(t)
	files, err := filepath.Glob("../../scenarios/*.toml")
	if err != nil || len(files) < 5 {
		t.Fatal(files, err)
	}
	for _, file := range files {
		m := modelOf(t, file)
		r := rand.New(rand.NewPCG(3, 4))
		every, cells, machine := varied(m, 3, r), everyCell(m), eval.New(m.Program)
		held := 0
		for range 40 {
			var axes []eval.Axis
			for _, i := range r.Perm(len(every))[:2+r.IntN(2)] {
				axes = append(axes, every[i])
			}
			want := judged(m)
			for range r.IntN(4) {
				want = append(want, cells[r.IntN(len(cells))])
			}
			s, err := m.Result.Sweep(axes, want)
			if err != nil {
				t.Fatal(err)
			}
			skip := 1 + s.Points()/3
			err = s.Run(t.Context(), 0, s.Points(), func(p *eval.Points) error {
				for i := range p.N {
					if (p.First+i)%skip == 0 || p.First+i == s.Points()-1 {
						holdPoint(t, m, machine, axes, s, want, p, i)
						held++
					}
				}
				return nil
			})
			if err != nil {
				t.Fatal(err)
			}
		}
		if held < 100 {
			t.Errorf("%s: only %d points were held", file, held)
		}
	}
}

// varied are axes, one for each number and truth that is given, of so many steps.
func varied(m *engine.Model, n int, r *rand.Rand) (out []eval.Axis) {
	all := everyInput(m, n, r)
	values := make([][]float64, len(all.Inputs))
	for i := range values {
		values[i] = make([]float64, n)
	}
	all.Fill(values, 0)
	for i, c := range all.Inputs {
		out = append(out, eval.Axis{Inputs: []eval.Cell{c}, Steps: n, Fill: eval.Values(values[i])})
	}
	for _, c := range everyCell(m) {
		if q := c.Quantity; q.Value == nil && q.Type == decl.Boolean && q.Inverse == nil && q.Own[c.Item] == nil {
			out = append(out, eval.Axis{Inputs: []eval.Cell{c}, Steps: 2, Fill: eval.Values([]float64{0, 1})})
		}
	}
	return out
}

// holdPoint holds the cells of one point against a run of that point alone, which it
// returns.
func holdPoint(t *testing.T, m *engine.Model, machine *eval.Machine, axes []eval.Axis, s *eval.Sweep, want []eval.Cell, p *eval.Points, i int) *eval.Result {
	t.Helper()
	steps := make([]int, len(axes))
	s.StepsAt(p.First+i, steps)
	var changes []eval.Change
	for a, axis := range axes {
		cols := make([][]float64, len(axis.Inputs))
		for j := range cols {
			cols[j] = make([]float64, 1)
		}
		axis.Fill(cols, steps[a])
		for j, c := range axis.Inputs {
			changes = append(changes, eval.Change{Quantity: c.Quantity, Item: c.Item, Row: c.Row, Value: cols[j][0]})
		}
	}
	one := machine.Run(changes...)
	for j, c := range want {
		a, b := p.At(j, i), one.At(c.Quantity, c.Item, c.Row)
		if math.Float64bits(a) != math.Float64bits(b) && !(a != a && b != b) {
			t.Fatalf("steps %v: %s = %v, alone %v", steps, m.CellName(c), a, b)
		}
	}
	return one
}

// priceAndDepth are axes over the price of the large battery and the depth of
// discharge of the built-in example, with so many steps each.
func priceAndDepth(t testing.TB, m *engine.Model, prices, depths int) []eval.Axis {
	t.Helper()
	axis := func(name string, values []float64) eval.Axis {
		c, err := m.ParseCell(name)
		if err != nil {
			t.Fatal(err)
		}
		return eval.Axis{Inputs: []eval.Cell{c}, Steps: len(values), Fill: eval.Values(values)}
	}
	return []eval.Axis{axis("battery.oak.price", steps(500, 1500, prices)), axis("site.depth_of_discharge", steps(0.5, 1, depths))}
}

// steps are so many numbers, evenly apart.
func steps(from, to float64, n int) []float64 {
	out := make([]float64, n)
	for i := range out {
		out[i] = from + (to-from)*float64(i)/float64(n-1)
	}
	return out
}

// TestGridPoints: every point of a small grid, and 1,000 random ones of a grid of a
// million, are to the last bit what a run with these inputs alone gives.
func TestGridPoints(t *testing.T) {
	oracle.OneCore(t)
	m := modelOf(t, "")
	machine := eval.New(m.Program)
	want := judged(m)
	run := func(axes []eval.Axis, ranges [][2]int) {
		s, err := m.Result.Sweep(axes, want)
		if err != nil {
			t.Fatal(err)
		}
		for _, r := range ranges {
			err := s.Run(t.Context(), r[0], r[1], func(p *eval.Points) error {
				for i := range p.N {
					holdPoint(t, m, machine, axes, s, want, p, i)
				}
				return nil
			})
			if err != nil {
				t.Fatal(err)
			}
		}
	}
	run(priceAndDepth(t, m, 7, 6), [][2]int{{0, 42}})
	r := rand.New(rand.NewPCG(3, 4))
	var some [][2]int
	for range 1000 {
		at := r.IntN(1_000_000)
		some = append(some, [2]int{at, at + 1})
	}
	run(priceAndDepth(t, m, 1000, 1000), some)
}
