package main

import (
	"context"
	"math/rand/v2"
	"syscall"
	"testing"
	"time"

	"bankwright/engine"
	"bankwright/engine/eval"
)

// BenchmarkSweep tells how many nanoseconds a point of a sweep takes.
func BenchmarkSweep(b *testing.B) {
	m, list, _ := engine.Load(sources(""))
	if m == nil {
		b.Fatal(list)
	}
	grid := priceAndDepth(b, m, 1000, 1000)
	k := m.Compared()
	var cost []eval.Cell
	for item := range k.Items {
		cost = append(cost, eval.Cell{Quantity: k.Quantity(k.Compare.By), Item: item})
	}
	every := everyInput(m, 2048, rand.New(rand.NewPCG(1, 2)))
	for _, c := range []struct {
		name string
		axes []eval.Axis
		want []eval.Cell
	}{
		{"price and depth", grid, judged(m)},
		{"price and depth, figure alone", grid, cost},
		{"every input", []eval.Axis{every}, judged(m)},
		{"every input, figure alone", []eval.Axis{every}, cost},
	} {
		b.Run(c.name, func(b *testing.B) {
			points := 0
			before := cpu()
			for b.Loop() {
				s, err := m.Result.Sweep(c.axes, c.want)
				if err != nil {
					b.Fatal(err)
				}
				if err := s.Run(context.Background(), 0, s.Points(), func(p *eval.Points) error { return nil }); err != nil {
					b.Fatal(err)
				}
				points = s.Points()
			}
			b.ReportMetric(float64((cpu()-before).Nanoseconds())/float64(b.N)/float64(points), "cpu-ns/point")
			b.ReportMetric(float64(b.Elapsed().Nanoseconds())/float64(b.N)/float64(points), "ns/point")
		})
	}
}

// cpu is the processor time that this process has used.
func cpu() time.Duration {
	var u syscall.Rusage
	if err := syscall.Getrusage(syscall.RUSAGE_SELF, &u); err != nil {
		panic(err)
	}
	return time.Duration(u.Utime.Nano() + u.Stime.Nano())
}
