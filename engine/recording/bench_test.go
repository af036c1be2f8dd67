package recording_test

import (
	"bufio"
	"encoding/csv"
	"fmt"
	"io"
	"math"
	"runtime"
	"strings"
	"testing"
	"time"

	"bankwright/engine/oracle"
	"bankwright/engine/recording"
)

// endless is a recording of any length that needs no memory: a quarter of a second
// from row to row, the values a pattern that repeats.
type endless struct {
	rows, next int
	tails      []string // what stands behind the time
	line       []byte
	left       []byte
}

const endlessHeader = "time (s),temperature,power\n"

// newEndless makes a recording of n rows, some 31 bytes each.
func newEndless(n int) *endless {
	e := &endless{rows: n, left: []byte(endlessHeader)}
	for i := range 1000 {
		x := 2 * math.Pi * float64(i) / 1000
		e.tails = append(e.tails, fmt.Sprintf(",%.3f,%.3f\n", 20+5*math.Cos(3*x), 1000+500*math.Sin(x)))
	}
	return e
}

func (e *endless) Read(p []byte) (int, error) {
	n := 0
	for n < len(p) {
		if len(e.left) == 0 {
			if e.next == e.rows {
				break
			}
			e.line = appendTime(e.line[:0], e.next)
			e.line = append(e.line, e.tails[e.next%len(e.tails)]...)
			e.left = e.line
			e.next++
		}
		k := copy(p[n:], e.left)
		e.left = e.left[k:]
		n += k
	}
	if n == 0 {
		return 0, io.EOF
	}
	return n, nil
}

// appendTime writes the time of a row: 1000000 s and a quarter of a second for each
// row before.
func appendTime(b []byte, row int) []byte {
	b = fmt.Appendf(b, "%d", 1000000+row/4)
	return append(b, []string{".000", ".250", ".500", ".750"}[row%4]...)
}

// everything is one of each measure.
func everything() []recording.Measure {
	return []recording.Measure{
		recording.Integral{Of: "power"}, recording.Integral{Of: "power", Times: "power"}, recording.Mean{Of: "temperature"},
		recording.Min{Of: "temperature"}, recording.Max{Of: "power"}, recording.Duration{Of: "power"},
		recording.Crossing{Of: "power", Level: 1200, Direction: recording.Falling},
		recording.Held{Of: "power", For: 60. / 3600}, recording.Jump{Of: "power", Response: "temperature", Within: 3},
		recording.Curves{Points: 500},
	}
}

// bare reads the same bytes through the same reader of rows, and does nothing with
// them.
func bare(from io.Reader) (rows int) {
	r := csv.NewReader(bufio.NewReaderSize(from, 1<<16))
	r.FieldsPerRecord, r.ReuseRecord = -1, true
	for {
		if _, err := r.Read(); err != nil {
			return rows
		}
		rows++
	}
}

// text is a recording in memory, so that making it takes no part in a measurement.
func text(n int) string {
	var b strings.Builder
	io.Copy(&b, newEndless(n))
	return b.String()
}

// BenchmarkRead reads 10 million rows in ten files of a million, so that the files
// fit into memory and making them is not measured. It gives the speed by processor
// time, that of collecting garbage included, and how much longer it takes than a
// bare read of the same bytes.
func BenchmarkRead(b *testing.B) {
	const files, rows = 10, 1_000_000
	content := text(rows)
	for _, c := range []struct {
		name     string
		measures []recording.Measure
	}{{"rows", nil}, {"integral", everything()[1:2]}, {"everything", everything()}} {
		b.Run(c.name, func(b *testing.B) {
			var plain, full time.Duration
			for b.Loop() {
				for range files {
					start := oracle.Processor()
					bare(strings.NewReader(content))
					plain += oracle.Processor() - start
					start = oracle.Processor()
					_, report := recording.Run(greenhouse, recording.Source{Reader: strings.NewReader(content)}, c.measures...)
					full += oracle.Processor() - start
					if report.Rows != rows {
						b.Fatal(told(report.Problems))
					}
				}
			}
			bytes := float64(files*len(content)) * float64(b.N)
			b.ReportMetric(0, "ns/op")
			b.ReportMetric(bytes/full.Seconds()/1e6, "MB/s")
			b.ReportMetric(bytes/plain.Seconds()/1e6, "bare-MB/s")
			b.ReportMetric(full.Seconds()/plain.Seconds(), "times-bare")
		})
	}
}

// watch looks at memory while it is read.
type watch struct {
	from *endless
	left int
	most uint64
}

func (w *watch) Read(p []byte) (int, error) {
	n, err := w.from.Read(p)
	if w.left -= n; w.left < 0 {
		w.left = 1 << 20
		var now runtime.MemStats
		runtime.ReadMemStats(&now)
		w.most = max(w.most, now.HeapInuse+now.StackInuse)
	}
	return n, err
}

// long reads so many rows, and holds the integral to that of the pattern, which is
// summed as whole numbers of thousandths, and memory to 64 MB.
func long(t testing.TB, n int) (megabytes float64) {
	runtime.GC()
	w := &watch{from: newEndless(n)}
	results, report := recording.Run(greenhouse, recording.Source{Reader: w}, everything()...)
	if !report.Usable() || report.Rows != n || len(report.Problems) > 0 {
		t.Fatal(told(report.Problems))
	}
	pattern := func(i int) int64 { return int64(math.Round(1e6 + 5e5*math.Sin(2*math.Pi*float64(i)/1000))) }
	twice := int64(0)
	for i := range 1000 {
		twice += 2 * pattern(i) * int64(n/1000)
	}
	twice -= pattern(0) + pattern(999)
	want := float64(twice) / 1000 / 2 * 0.25 / 3600
	if e := math.Abs(results[0].Value/want - 1); e > 1e-12 {
		t.Errorf("the integral is %v, want %v: off by %v", results[0].Value, want, e)
	}
	if w.most > 64<<20 {
		t.Errorf("%d MB of memory are in use", w.most>>20)
	}
	return float64(w.most) / (1 << 20)
}

func TestLong(t *testing.T) {
	oracle.OneCore(t)
	t.Logf("%.1f MB of memory", long(t, 500_000))
}

// BenchmarkLong reads 10 million rows that are made as they are read (which is part
// of the time), and gives the memory in use.
func BenchmarkLong(b *testing.B) {
	for b.Loop() {
		b.ReportMetric(long(b, 10_000_000), "MB-memory")
	}
}

// In the steady state a row costs no allocation but the one that the reader of rows
// makes for its text.
func TestAllocations(t *testing.T) {
	oracle.OneCore(t)
	count := func(read func(io.Reader)) float64 {
		var runs [2]float64
		for i, n := range []int{10000, 40000} {
			content := text(n)
			runs[i] = testing.AllocsPerRun(1, func() { read(strings.NewReader(content)) })
		}
		return (runs[1] - runs[0]) / 30000
	}
	plain := count(func(r io.Reader) { bare(r) })
	full := count(func(r io.Reader) {
		recording.Run(greenhouse, recording.Source{Reader: r}, everything()...)
	})
	if full > plain+0.01 {
		t.Errorf("%v allocations a row, a bare read %v", full, plain)
	}
}
