package main

import (
	"bytes"
	"io"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"bankwright/engine"
	"bankwright/engine/eval"
	"bankwright/engine/oracle"
)

// BenchmarkCompareDefault is the whole of `bankwright compare` on the built-in
// example: read rules and scenario, check, evaluate, judge, rank, print.
func BenchmarkCompareDefault(b *testing.B) {
	b.ReportAllocs()
	for b.Loop() {
		if status := run([]string{"compare"}, io.Discard, io.Discard); status != exitDone {
			b.Fatalf("exit status %d", status)
		}
	}
}

// wholeHouse is the embedded scenario in which the rules work out most of all:
// cables, the sharing of strings and typical days for nine alternatives.
const wholeHouse = "../../scenarios/quarry_house.toml"

// BenchmarkWholeHouse is the whole of `bankwright compare` on the house off the
// mains.
func BenchmarkWholeHouse(b *testing.B) {
	b.ReportAllocs()
	for b.Loop() {
		if status := run([]string{"compare", wholeHouse}, io.Discard, io.Discard); status != exitDone {
			b.Fatalf("exit status %d", status)
		}
	}
}

// BenchmarkEvaluate is the evaluation alone, of a program that is compiled, and
// tells the time for each cell that is computed by a formula.
func BenchmarkEvaluate(b *testing.B) {
	m, list, _ := engine.Load(sources(""))
	if m == nil {
		b.Fatal(list)
	}
	bad, cells := m.Result.Verify()
	if len(bad) > 0 || cells == 0 {
		b.Fatalf("%d of %d cells differ from the reference", len(bad), cells)
	}
	machine := eval.New(m.Program)
	b.ReportAllocs()
	for b.Loop() {
		machine.Run()
	}
	b.ReportMetric(float64(b.Elapsed().Nanoseconds())/float64(b.N)/float64(cells), "ns/cell")
}

// TestCompareIsQuick: compare, as a program of its own that is already built, takes
// under 100 ms of processor time on the built-in example and under 150 ms on the
// house off the mains.
func TestCompareIsQuick(t *testing.T) {
	oracle.Measured(t)
	for _, c := range []struct {
		title string
		args  []string
		limit time.Duration
	}{
		{"Alder Bay cabin", nil, 100 * time.Millisecond},
		{"Quarry House", []string{wholeHouse}, 150 * time.Millisecond},
	} {
		took := compareTime(t, c.title, c.args...)
		t.Logf("%s: %v of processor time", c.title, took)
		if took > c.limit {
			t.Errorf("%s: compare takes %v of processor time, more than %v", c.title, took, c.limit)
		}
	}
}

// compareTime is the processor time of compare, whose output begins with a title.
// The least of five runs counts, since a busy machine adds to the others.
func compareTime(t *testing.T, title string, args ...string) time.Duration {
	t.Helper()
	program, err := os.Executable() // a test program that is called bankwright is one: see TestMain
	if err != nil {
		t.Fatal(err)
	}
	best := time.Duration(math.MaxInt64)
	for range 5 {
		var out bytes.Buffer
		cmd := exec.Cmd{Path: program, Args: append([]string{"bankwright", "compare"}, args...), Stdout: &out}
		if err := cmd.Run(); err != nil {
			t.Fatal(err)
		}
		if !strings.HasPrefix(out.String(), title) {
			t.Fatalf("bankwright compare prints %q", out.String())
		}
		best = min(best, cmd.ProcessState.UserTime()+cmd.ProcessState.SystemTime())
	}
	return best
}

// BenchmarkCatalogue is the same on fifty batteries in 650 layouts, and what
// the other outputs of it take.
func BenchmarkCatalogue(b *testing.B) {
	file := catalogue(b)
	for _, bench := range []struct {
		name string
		args []string
	}{
		{"compare", []string{"compare", file}},
		{"json", []string{"compare", "--json", file}},
		{"book", []string{"book", file, "--force", "-o", filepath.Join(b.TempDir(), "catalogue.xlsx")}},
	} {
		b.Run(bench.name, func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				if status := run(bench.args, io.Discard, io.Discard); status != exitDone {
					b.Fatalf("exit status %d", status)
				}
			}
		})
	}
}
