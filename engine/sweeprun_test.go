package engine_test

import (
	"context"
	"errors"
	"runtime"
	"sync"
	"testing"

	"bankwright/engine/eval"
)

// gardenSweep is a sweep of so many points over two inputs of the garden.
func gardenSweep(t *testing.T, points int) *eval.Sweep {
	t.Helper()
	m := load(t, "testdata/good", "market_garden.toml")
	ramp := func(cols [][]float64, first int) {
		for _, col := range cols {
			for i := range col {
				col[i] = float64(first+i) / float64(points)
			}
		}
	}
	var inputs, want []eval.Cell
	for _, name := range []string{"crop.leek.price", "bed.south.rain[2]"} {
		c, err := m.ParseCell(name)
		if err != nil {
			t.Fatal(err)
		}
		inputs = append(inputs, c)
	}
	k := m.Compared()
	for item := range k.Items {
		want = append(want, eval.Cell{Quantity: k.Quantity(k.Compare.By), Item: item})
	}
	s, err := m.Result.Sweep([]eval.Axis{{Inputs: inputs, Steps: points, Fill: ramp}}, want)
	if err != nil {
		t.Fatal(err)
	}
	return s
}

// TestSweepAllocations: a sweep of many points allocates what it needs at its start,
// and nothing for each point.
func TestSweepAllocations(t *testing.T) {
	count := func(points int) float64 {
		s := gardenSweep(t, points)
		return testing.AllocsPerRun(3, func() {
			if err := s.Run(context.Background(), 0, points, func(*eval.Points) error { return nil }); err != nil {
				t.Fatal(err)
			}
		})
	}
	few, many := count(2_000), count(400_000)
	if many > few+50 { // 1,600 more runs of points
		t.Errorf("%v allocations for 2,000 points, %v for 400,000", few, many)
	}
}

// TestSweepCores: the same values in the same order on any number of cores.
func TestSweepCores(t *testing.T) {
	const points = 20_000
	run := func(cores int) []float64 {
		defer runtime.GOMAXPROCS(runtime.GOMAXPROCS(cores))
		var out []float64
		s := gardenSweep(t, points)
		if err := s.Run(context.Background(), 0, points, func(p *eval.Points) error {
			for i := range p.N {
				out = append(out, p.At(0, i))
			}
			return nil
		}); err != nil {
			t.Fatal(err)
		}
		return out
	}
	one, eight := run(1), run(8)
	if len(one) != points || len(eight) != points {
		t.Fatalf("%d and %d points", len(one), len(eight))
	}
	for i := range one {
		if one[i] != eight[i] {
			t.Fatalf("point %d: %v on one core, %v on eight", i, one[i], eight[i])
		}
	}
}

// TestSweepAtOnce: several may run one sweep at the same time, parts of it or all, and
// several may run sweeps of their own; each gets what it gets alone.
func TestSweepAtOnce(t *testing.T) {
	const points = 20_000
	defer runtime.GOMAXPROCS(runtime.GOMAXPROCS(4))
	run := func(s *eval.Sweep, from int) (sum float64) {
		if err := s.Run(context.Background(), from, points, func(p *eval.Points) error {
			for i := range p.N {
				sum += p.At(0, i)
			}
			return nil
		}); err != nil {
			t.Error(err)
		}
		return sum
	}
	shared := gardenSweep(t, points)
	alone := gardenSweep(t, points)
	want := []float64{run(alone, 0), run(alone, points/2)}
	var work sync.WaitGroup
	for i := range 8 {
		own := gardenSweep(t, points)
		for _, s := range []*eval.Sweep{shared, own} {
			work.Go(func() {
				if got := run(s, i%2*points/2); got != want[i%2] {
					t.Errorf("from point %d on the sum is %v, alone it is %v", i%2*points/2, got, want[i%2])
				}
			})
		}
	}
	work.Wait()
}

// TestSweepStops: a sweep ends soon when its context is done, or when what takes its
// points fails, with that reason.
func TestSweepStops(t *testing.T) {
	const points = 1 << 40 // days of work
	s := gardenSweep(t, points)
	ctx, cancel := context.WithCancelCause(context.Background())
	why := errors.New("enough")
	got := 0
	err := s.Run(ctx, 0, points, func(p *eval.Points) error {
		if got += p.N; got > 100_000 {
			cancel(why)
		}
		return nil
	})
	if !errors.Is(err, why) || got > 1_000_000 {
		t.Errorf("%v after %d points", err, got)
	}
	full := errors.New("full")
	if err := s.Run(context.Background(), 0, points, func(*eval.Points) error { return full }); !errors.Is(err, full) {
		t.Errorf("%v, not what the taker said", err)
	}
}
