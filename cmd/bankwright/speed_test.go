package main

import (
	"math/rand/v2"
	"testing"

	"bankwright/engine/eval"
)

// BenchmarkSweep tells how many nanoseconds a point of a sweep takes.
func BenchmarkSweep(b *testing.B) {
	m := modelOf(b, "")
	grid, every := priceAndDepth(b, m, 1000, 1000), []eval.Axis{everyInput(m, 2048, rand.New(rand.NewPCG(1, 2)))}
	for _, c := range []struct {
		name string
		axes []eval.Axis
		want []eval.Cell
	}{
		{"price and depth", grid, judged(m)},
		{"price and depth, figure alone", grid, figures(m)},
		{"every input", every, judged(m)},
		{"every input, figure alone", every, figures(m)},
	} {
		b.Run(c.name, func(b *testing.B) {
			s := swept(b, m, c.axes, c.want)
			for b.Loop() {
				s.take()
			}
			b.ReportMetric(lowest(s.cpu), "cpu-ns/point")
			b.ReportMetric(lowest(s.wall), "ns/point")
		})
	}
}
