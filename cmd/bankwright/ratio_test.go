package main

import (
	"context"
	"math"
	"math/rand/v2"
	"runtime"
	"sync"
	"testing"
	"time"

	"bankwright/engine"
	"bankwright/engine/check"
	"bankwright/engine/eval"
	"bankwright/engine/oracle"
)

// side is one of two ways to the same values.
type side struct {
	name   string
	points int    // that run goes through
	run    func() // on all cores
	wall   []float64
	cpu    []float64 // nanoseconds a point
}

// take measures a run.
func (s *side) take() {
	before, start := oracle.Processor(), time.Now()
	s.run()
	s.wall = append(s.wall, float64(time.Since(start).Nanoseconds())/float64(s.points))
	s.cpu = append(s.cpu, float64((oracle.Processor()-before).Nanoseconds())/float64(s.points))
}

// compare runs both sides in turn, as often as a benchmark asks, and reports how many
// times as long the other takes a point: the least processor time that each took, as
// other work on the machine can only add to it, and the least time on the clock.
func compare(b *testing.B, metric string, ours, other *side) {
	for b.Loop() {
		ours.take()
		other.take()
	}
	b.ReportMetric(lowest(other.cpu)/lowest(ours.cpu), metric)
	b.ReportMetric(lowest(other.wall)/lowest(ours.wall), metric+"-clock")
	b.ReportMetric(lowest(ours.cpu), "cpu-ns/point")
	b.ReportMetric(lowest(other.cpu), other.name+"-cpu-ns/point")
	b.ReportMetric(0, "ns/op")
}

func lowest(x []float64) float64 {
	low := math.Inf(1)
	for _, v := range x {
		low = min(low, v)
	}
	return low
}

// swept is a sweep over axes, planned anew in each run.
func swept(b *testing.B, m *engine.Model, axes []eval.Axis, want []eval.Cell) *side {
	s := &side{name: "sweep", points: 1}
	for _, a := range axes {
		s.points *= a.Steps
	}
	s.run = func() {
		sweep, err := m.Result.Sweep(axes, want)
		if err == nil {
			err = sweep.Run(context.Background(), 0, sweep.Points(), func(*eval.Points) error { return nil })
		}
		if err != nil {
			b.Fatal(err)
		}
	}
	return s
}

// goes is Go code that is called once a point, by as many goroutines as there are
// cores, each with what begin makes for it.
func goes(points int, begin func() (call func(point int))) *side {
	return &side{name: "go", points: points, run: func() {
		var work sync.WaitGroup
		n := runtime.GOMAXPROCS(0)
		for i := range n {
			work.Go(func() {
				call := begin()
				for p := points * i / n; p < points*(i+1)/n; p++ {
					call(p)
				}
			})
		}
		work.Wait()
	}}
}

// costByHand calls the cost by hand with the values of every point.
func costByHand(m *engine.Model, points int, set func(h *byHand) func(point int)) *side {
	return goes(points, func() func(int) {
		h := newByHand(m)
		at := set(h)
		return func(point int) {
			at(point)
			h.run()
		}
	})
}

// BenchmarkCost holds sweeps against the cost by hand: a grid of price and depth, and
// everything varied with which the cost begins.
func BenchmarkCost(b *testing.B) {
	m := modelOf(b, "")
	b.Run("price and depth", func(b *testing.B) {
		const n = 1000
		compare(b, "x-go", swept(b, m, priceAndDepth(b, m, n, n), judged(m)), costByHand(m, n*n, func(h *byHand) func(int) {
			return func(point int) {
				h.batteries[0].price = 500 + float64(point/n)
				h.site.depthOfDischarge = 0.5 + float64(point%n)/(2*n)
			}
		}))
	})
	for _, days := range []bool{false, true} {
		name := map[bool]string{false: "everything", true: "everything, typical days counted"}[days]
		b.Run(name, func(b *testing.B) {
			const points = 1 << 14
			axis, _, values := costAxis(m, newByHand(m), points, rand.New(rand.NewPCG(5, 6)))
			compare(b, "x-go", swept(b, m, append(counting(m, days), axis), figures(m)), costByHand(m, points, func(h *byHand) func(int) {
				for i := range h.alternatives {
					h.alternatives[i].dayRuns = days
				}
				_, to, _ := costAxis(m, h, 1, rand.New(rand.NewPCG(5, 6)))
				return func(point int) {
					for j, v := range to {
						*v = values[j][point]
					}
				}
			}))
		})
	}
}

// counting is an axis of one step that lets typical days count; none where they do
// not, as in the scenario.
func counting(m *engine.Model, days bool) []eval.Axis {
	if !days {
		return nil
	}
	axis := eval.Axis{Steps: 1}
	var values [][]float64
	k := m.Compared()
	for item := range k.Items {
		axis.Inputs = append(axis.Inputs, eval.Cell{Quantity: k.Quantity("day_runs"), Item: item})
		values = append(values, []float64{1})
	}
	axis.Fill = eval.Values(values...)
	return []eval.Axis{axis}
}

// BenchmarkModel holds a sweep of the whole model, typical day included, with every
// input varied, against the same written out as straight Go.
func BenchmarkModel(b *testing.B) {
	m := modelOf(b, "")
	o := newOutline(m, straightWanted(m))
	const points = 1 << 11
	axis, _, values := straightAxis(m, o, newStraight(m, o), points)
	compare(b, "x-go", swept(b, m, []eval.Axis{axis}, judged(m)), goes(points, func() func(int) {
		s := newStraight(m, o)
		_, to, _ := straightAxis(m, o, s, 1)
		s.Fix()
		return func(point int) {
			for j, v := range to {
				*v = values[j][point]
			}
			s.Run()
		}
	}))
}

// BenchmarkMachine holds sweeps against expr's virtual machine running the same
// formulas, every cell of them at every point: a grid of price and depth, also against
// those cells alone that price or depth reach, and every input varied.
func BenchmarkMachine(b *testing.B) {
	m := modelOf(b, "")
	want := straightWanted(m)
	need := needed(m, want...)
	bare, _ := machined(m, need, true)
	meant, _ := machined(m, need, false)
	const n = 1000
	b.Run("price and depth", func(b *testing.B) {
		compare(b, "x-machine", swept(b, m, priceAndDepth(b, m, n, n), judged(m)), drilled(bare, 8, false))
	})
	b.Run("price and depth, cells that they reach", func(b *testing.B) {
		few := map[*check.Quantity]bool{}
		for q := range reached(m, m.Kind("battery").Quantity("price"), m.Kind("site").Quantity("depth_of_discharge")) {
			few[q] = need[q]
		}
		some, _ := machined(m, few, true)
		compare(b, "x-machine", swept(b, m, priceAndDepth(b, m, n, n), judged(m)), drilled(some, 8, false))
	})
	axis := everyInput(m, 1<<11, rand.New(rand.NewPCG(7, 8)))
	for _, c := range []struct {
		name  string
		other *side
	}{
		{"every input", drilled(bare, 8, false)},
		{"every input, filled in", drilled(bare, 8, true)},
		{"every input, as the rules mean, filled in", drilled(meant, 8, true)},
	} {
		b.Run(c.name, func(b *testing.B) {
			compare(b, "x-machine", swept(b, m, []eval.Axis{axis}, judged(m)), c.other)
		})
	}
}
