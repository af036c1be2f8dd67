package main

import (
	"bytes"
	"context"
	"encoding/json"
	"fmt"
	"math"
	"os"
	"os/exec"
	"strings"
	"testing"

	"bankwright/engine"
	"bankwright/engine/eval"
	"bankwright/engine/oracle"
)

// numpyRun is what testdata/speed/cost.py says of a grid: for whole columns, columns in
// blocks and broadcasting, the processor time of a point in nanoseconds, and the sum of
// all costs.
type numpyRun struct{ nanoseconds, sum [3]float64 }

// numpyInput is what the cost begins with, and the grid of price and depth, as numpy
// is given it.
func numpyInput(m *engine.Model, n int) map[string]any {
	given := map[string]any{}
	h := newByHand(m)
	for _, number := range h.numbers() {
		kind, name, _ := strings.Cut(number.quantity, ".")
		var value any
		if v := *number.to; v == v {
			value = v
		}
		if !m.Kind(kind).Many {
			if given[kind] == nil {
				given[kind] = map[string]any{}
			}
			given[kind].(map[string]any)[name] = value
			continue
		}
		list, _ := given[kind].([]map[string]any)
		for len(list) <= number.item {
			list = append(list, map[string]any{})
		}
		list[number.item][name] = value
		given[kind] = list
	}
	for i, x := range given["load"].([]map[string]any) {
		x["ac"], x["coincident"] = h.loads[i].ac, h.loads[i].coincident
	}
	for i, x := range given["source"].([]map[string]any) {
		x["sun"] = h.sources[i].sun
	}
	for i, x := range given["battery"].([]map[string]any) {
		x["depth"], x["cycles"] = h.batteries[i].depths, h.batteries[i].cycles
	}
	for i, x := range given["alternative"].([]map[string]any) {
		a, used := h.alternatives[i], []int{}
		for j, uses := range a.sources {
			if uses {
				used = append(used, j)
			}
		}
		x["battery"], x["inverter"], x["sources"] = a.battery, a.inverter, used
	}
	given["prices"], given["depths"] = steps(500, 1500, n), steps(0.5, 1, n)
	return given
}

// numpyCosts runs the cost in numpy over the grid of price and depth.
func numpyCosts(t testing.TB, m *engine.Model, n int) numpyRun {
	t.Helper()
	text, err := json.Marshal(numpyInput(m, n))
	if err != nil {
		t.Fatal(err)
	}
	command := exec.Command(oracle.Python(t, "numpy"), root+"/testdata/speed/cost.py")
	command.Stdin, command.Stderr = bytes.NewReader(text), os.Stderr
	out, err := command.Output()
	if err != nil {
		t.Fatal(err)
	}
	var r numpyRun
	if _, err := fmt.Sscan(string(out), &r.nanoseconds[0], &r.sum[0], &r.nanoseconds[1], &r.sum[1], &r.nanoseconds[2], &r.sum[2]); err != nil {
		t.Fatalf("%v: %s", err, out)
	}
	for i := range r.nanoseconds {
		r.nanoseconds[i] *= 1e9 / float64(n*n)
	}
	return r
}

// TestNumpyCosts: the cost in numpy is that of the engine.
func TestNumpyCosts(t *testing.T) {
	m := modelOf(t, "")
	const n = 40
	r := numpyCosts(t, m, n)
	sweep, err := m.Result.Sweep(priceAndDepth(t, m, n, n), figures(m))
	if err != nil {
		t.Fatal(err)
	}
	sum := 0.0
	err = sweep.Run(context.Background(), 0, sweep.Points(), func(p *eval.Points) error {
		for i := range p.N {
			for j := range figures(m) {
				sum += p.At(j, i)
			}
		}
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	for i, s := range r.sum {
		if !(math.Abs(s/sum-1) < 1e-10) {
			t.Errorf("way %d: the costs come to %v, by the engine %v", i, s, sum)
		}
	}
}

// BenchmarkNumpy holds a sweep over price and depth against the cost in numpy, by
// processor time: numpy uses one core, the sweep all.
func BenchmarkNumpy(b *testing.B) {
	m := modelOf(b, "")
	const n = 1000
	ours := swept(b, m, priceAndDepth(b, m, n, n), figures(m))
	var whole, blocks, broadcast []float64
	for b.Loop() {
		ours.take()
		r := numpyCosts(b, m, n)
		whole, blocks, broadcast = append(whole, r.nanoseconds[0]), append(blocks, r.nanoseconds[1]), append(broadcast, r.nanoseconds[2])
	}
	b.ReportMetric(lowest(whole)/lowest(ours.cpu), "x-numpy")
	b.ReportMetric(lowest(blocks)/lowest(ours.cpu), "x-numpy-blocks")
	b.ReportMetric(lowest(broadcast)/lowest(ours.cpu), "x-numpy-broadcast")
	b.ReportMetric(lowest(blocks)/lowest(ours.wall), "x-numpy-blocks-clock")
	b.ReportMetric(lowest(ours.cpu), "cpu-ns/point")
	b.ReportMetric(lowest(blocks), "numpy-blocks-cpu-ns/point")
	b.ReportMetric(0, "ns/op")
}
