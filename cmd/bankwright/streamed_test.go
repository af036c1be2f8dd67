package main

import (
	"context"
	"fmt"
	"math/rand/v2"
	"os"
	"os/exec"
	"runtime"
	"strconv"
	"strings"
	"testing"

	"bankwright/engine"
	"bankwright/engine/eval"
	"bankwright/engine/oracle"
)

// streamedPoints names the variable in the environment in which a test process finds
// the sweep that it is to stream.
const streamedPoints = "BANKWRIGHT_STREAMED"

// cost of a streamed sweep.
type streamCost struct {
	seconds  float64 // of processors, planning included, reading the model not
	heap     float64 // bytes of live and dead objects at the most
	resident float64 // bytes of memory of the whole process at the most
}

// streamed runs a sweep of the default scenario in a process of its own, for which
// nothing else is in memory: a grid of prices and depths, or every input varied.
func streamed(t testing.TB, what string, prices, depths, cores int) streamCost {
	t.Helper()
	self, err := os.Executable()
	if err != nil {
		t.Fatal(err)
	}
	command := exec.Command(self, "-test.run", "^TestStream$", "-test.v")
	command.Env = append(os.Environ(), fmt.Sprintf("%s=%s %d %d", streamedPoints, what, prices, depths), fmt.Sprintf("GOMAXPROCS=%d", cores))
	out, err := command.CombinedOutput()
	if err != nil {
		t.Fatalf("%v: %s", err, out)
	}
	var c streamCost
	_, text, found := strings.Cut(string(out), "streamed ")
	if _, err := fmt.Sscan(text, &c.seconds, &c.heap, &c.resident); err != nil || !found {
		t.Fatalf("%v: %s", err, out)
	}
	return c
}

// TestStream streams a sweep, where the environment names one, and writes what it cost.
func TestStream(t *testing.T) {
	words := strings.Fields(os.Getenv(streamedPoints))
	if len(words) != 3 {
		return
	}
	m := modelOf(t, "")
	prices, err1 := strconv.Atoi(words[1])
	depths, err2 := strconv.Atoi(words[2])
	if err1 != nil || err2 != nil {
		t.Fatal(err1, err2)
	}
	axes := streamAxes(t, m, words[0], prices, depths)
	before, heap, runs := oracle.Processor(), uint64(0), 0
	sweep, err := m.Result.Sweep(axes, judged(m))
	if err != nil {
		t.Fatal(err)
	}
	look := func() {
		var s runtime.MemStats
		runtime.ReadMemStats(&s)
		heap = max(heap, s.HeapInuse)
	}
	err = sweep.Run(context.Background(), 0, sweep.Points(), func(*eval.Points) error {
		if runs++; runs%200 == 1 {
			look()
		}
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	look()
	fmt.Printf("streamed %g %d %g\n", (oracle.Processor() - before).Seconds(), heap, resident())
}

// resident is the most memory that this process has had at once, in bytes; 0 where the
// system does not say. (What getrusage says is no less than what its parent had.)
func resident() float64 {
	text, err := os.ReadFile("/proc/self/status")
	if err != nil {
		return 0
	}
	_, rest, _ := strings.Cut(string(text), "VmHWM:")
	var kilobytes float64
	if _, err := fmt.Sscan(rest, &kilobytes); err != nil {
		return 0
	}
	return kilobytes * 1024
}

// streamAxes are axes whose values are made as they are asked for.
func streamAxes(t testing.TB, m *engine.Model, what string, prices, depths int) []eval.Axis {
	if what == "everything" {
		axis := everyInput(m, 1, rand.New(rand.NewPCG(1, 2)))
		axis.Steps = prices * depths
		base := make([]float64, len(axis.Inputs))
		for j, c := range axis.Inputs {
			base[j] = m.Result.At(c.Quantity, c.Item, c.Row)
		}
		axis.Fill = func(cols [][]float64, first int) {
			for j, col := range cols {
				for i := range col { // another share of a thousandth for each point and input
					col[i] = base[j] * (1 - float64((first+i)*(j+7)%1009)*1e-6)
				}
			}
		}
		return []eval.Axis{axis}
	}
	axes := priceAndDepth(t, m, 2, 2)
	for i, to := range [][2]float64{{500, 1500}, {0.5, 1}} {
		n := []int{prices, depths}[i]
		axes[i].Steps = n
		axes[i].Fill = func(cols [][]float64, first int) {
			for j := range cols[0] {
				cols[0][j] = to[0] + (to[1]-to[0])*float64(first+j)/float64(n)
			}
		}
	}
	return axes
}

// TestStreamedMemory: a streamed sweep takes less than 100 MB, however many points it
// has.
func TestStreamedMemory(t *testing.T) {
	oracle.Measured(t)
	for _, c := range []struct {
		what                  string
		prices, depths, cores int
	}{{"grid", 100, 1000, 2}, {"grid", 10000, 20, 2}, {"everything", 40, 25, 2}, {"everything", 40, 50, 8}, {"everything", 40, 50, 32}} {
		cost := streamed(t, c.what, c.prices, c.depths, c.cores)
		t.Logf("%d cores, %s of %d points: %.1f MB of heap, %.1f MB in all, %.2f s", c.cores, c.what, c.prices*c.depths, cost.heap/1e6, cost.resident/1e6, cost.seconds)
		if cost.resident > 100e6 {
			t.Errorf("%s of %d points takes %.0f MB", c.what, c.prices*c.depths, cost.resident/1e6)
		}
	}
}

// BenchmarkStreamed tells how many times as long ten times the points take, and the
// memory of the larger sweep.
func BenchmarkStreamed(b *testing.B) {
	for _, c := range []struct {
		what           string
		prices, depths int
	}{{"grid", 10000, 200}, {"everything", 40, 100}} {
		b.Run(c.what, func(b *testing.B) {
			var few, many, heap, resident []float64
			for b.Loop() {
				one, ten := streamed(b, c.what, c.prices, c.depths, runtime.GOMAXPROCS(0)), streamed(b, c.what, 10*c.prices, c.depths, runtime.GOMAXPROCS(0))
				few, many = append(few, one.seconds), append(many, ten.seconds)
				heap, resident = append(heap, ten.heap), append(resident, ten.resident)
			}
			b.ReportMetric(lowest(many)/lowest(few), "x-ten-times")
			b.ReportMetric(lowest(heap)/1e6, "MB-heap")
			b.ReportMetric(lowest(resident)/1e6, "MB-resident")
			b.ReportMetric(0, "ns/op")
		})
	}
}
