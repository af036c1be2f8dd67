package gridfile

import (
	"bytes"
	"context"
	"errors"
	"io"
	"runtime"
	"strings"
	"testing"
	"testing/fstest"

	"bankwright/engine"
	"bankwright/engine/oracle"
	"bankwright/engine/sweep"
)

var formats = []Format{CSV, Parquet, XLSX}

func TestFormatOf(t *testing.T) {
	for path, want := range map[string]Format{"a.csv": CSV, "d.x/b.PARQUET": Parquet, "c.tar.xlsx": XLSX, ".csv": CSV, "a": "", "a.": "", "a.json": "", "a.xls": "", "csv": "", "": ""} {
		got, err := FormatOf(path)
		if got != want || (err == nil) != (want != "") {
			t.Errorf("%s: %q, %v", path, got, err)
		}
		if err != nil && !strings.Contains(err.Error(), ".csv, .parquet or .xlsx") {
			t.Errorf("%s: %v", path, err)
		}
	}
}

func TestParsePart(t *testing.T) {
	for text, want := range map[string]Part{"1/1": {1, 1}, "3/8": {3, 8}, "8/8": {8, 8}} {
		if got, err := ParsePart(text); got != want || err != nil {
			t.Errorf("%s: %v, %v", text, got, err)
		}
	}
	for _, text := range []string{"", "3", "/", "0/8", "9/8", "-1/8", "1/0", "1/-1", "a/8", "3/8/9", "3 / 8", "1.5/2", "1/99999999999999999999"} {
		if got, err := ParsePart(text); err == nil {
			t.Errorf("%q: %v", text, got)
		}
	}
}

func FuzzParsePart(f *testing.F) {
	f.Add("3/8")
	f.Fuzz(func(t *testing.T, text string) {
		p, err := ParsePart(text)
		if err != nil {
			return
		}
		if p.K < 1 || p.K > p.N {
			t.Errorf("%q is %v", text, p)
		}
		if again, err := ParsePart(p.String()); again != p || err != nil {
			t.Errorf("%v reads back as %v, %v", p, again, err)
		}
	})
}

// TestSameBytes: a grid gives the same bytes every time, on however many cores.
func TestSameBytes(t *testing.T) {
	was := runtime.GOMAXPROCS(0)
	defer runtime.GOMAXPROCS(was)
	for _, f := range formats {
		var first []byte
		for _, cores := range []int{1, 1, 2, 7} {
			runtime.GOMAXPROCS(cores)
			m, g := grid(t, everything)
			got := file(t, f, m, g, Part{2, 20})
			if first == nil {
				first = got
			}
			if !bytes.Equal(got, first) {
				t.Errorf("%s: other bytes on %d cores", f, cores)
			}
		}
	}
}

// TestNothingCompared: without a comparison there is no column for the best.
func TestNothingCompared(t *testing.T) {
	text := strings.Replace(shelves, "compare = {", "#", 1) + "[sweep.x]\nshow = [\"shelf.two.price\"]\nvary = [{ input = \"shop.warm\", values = [\"1 °C\", \"2 °C\"] }]"
	m, list, _ := engine.Load(engine.Sources{Files: fstest.MapFS{"s.toml": {Data: []byte(text)}}, Scenario: "s.toml"})
	if m == nil {
		t.Fatal(list)
	}
	g, err := sweep.NewGrid(m.Program, m.Result, m.Sweeps[0].Axes, m.Sweeps[0].Show)
	if err != nil {
		t.Fatal(err)
	}
	if got := string(file(t, CSV, m, g, all)); !strings.HasPrefix(got, "shop.warm (°C),shelf.two.price (EUR)\n1,") || strings.Contains(got, "\r") {
		t.Errorf("the file is\n%s", got)
	}
}

// refused wants a refusal before anything is written.
func refused(t *testing.T, f Format, vary string, part Part, words ...string) {
	t.Helper()
	m, g := grid(t, vary)
	var out bytes.Buffer
	ctx := sweep.WithProgress(t.Context(), func(int, int) { t.Fatal("a point was computed") })
	err := Write(ctx, &out, f, m.Program, g, part)
	if err == nil || out.Len() > 0 {
		t.Fatalf("%s of %d points: %v, %d bytes", f, g.Points(), err, out.Len())
	}
	for _, w := range words {
		if !strings.Contains(err.Error(), w) {
			t.Errorf("%s of %d points: %v", f, g.Points(), err)
		}
	}
}

// TestTooMany: what a format has no room for is refused before anything is written;
// a part of it is not.
func TestTooMany(t *testing.T) {
	const two = `vary = [{ input = "shop.warm", from = "1 °C", to = "2 °C", points = 1025 }, { input = "shop.share", from = "1 %", to = "2 %", points = 1024 }]`
	refused(t, XLSX, two, all, "1,048,574", "1,049,600", "CSV or Parquet")
	const many = `vary = [
{ input = "shop.warm", from = "1 °C", to = "2 °C", points = 4000 }, { input = "shop.share", from = "1 %", to = "2 %", points = 5000 },
{ input = "plank.oak.cost", from = "1 EUR/m", to = "2 EUR/m", points = 5000 }]`
	refused(t, Parquet, many, all, "6 columns", "in parts", "CSV")
	refused(t, Parquet, many, Part{1, 10}, "in parts")
	m, g := grid(t, many)
	if data := string(file(t, CSV, m, g, Part{K: 1e11, N: 1e11})); strings.Count(data, "\n") != 1 || !strings.HasPrefix(data, "2,2,2,") {
		t.Errorf("the last point of many is\n%s", data)
	}
}

// TestStopped: an error of the writer, or a context that is done, ends the writing and
// is what is returned.
func TestStopped(t *testing.T) {
	for _, f := range formats {
		m, g := grid(t, everything)
		ctx, cancel := context.WithCancel(t.Context())
		most := 0
		err := Write(sweep.WithProgress(ctx, func(done, _ int) {
			most = done
			cancel()
		}), io.Discard, f, m.Program, g, all)
		if !errors.Is(err, context.Canceled) || most >= g.Points() {
			t.Errorf("%s: stopped at %d with %v", f, most, err)
		}
		if err := Write(t.Context(), full{}, f, m.Program, g, all); !errors.Is(err, errFull) {
			t.Errorf("%s: a full disk gives %v", f, err)
		}
	}
}

// full is a disk that takes nothing more.
type full struct{}

var errFull = errors.New("no space left")

// Write fails.
func (full) Write([]byte) (int, error) { return 0, errFull }

// TestMemory: millions of points take no more memory than few.
func TestMemory(t *testing.T) {
	oracle.Measured(t)
	for _, f := range []Format{CSV, Parquet} {
		m, g := grid(t, long)
		var s runtime.MemStats
		peak, next := uint64(0), 0
		ctx := sweep.WithProgress(t.Context(), func(done, _ int) {
			if done >= next {
				next = done + 20_000
				runtime.ReadMemStats(&s)
				peak = max(peak, s.HeapAlloc)
			}
		})
		if err := Write(ctx, io.Discard, f, m.Program, g, all); err != nil || g.Points() != 3_000_000 {
			t.Fatal(g.Points(), err)
		}
		t.Logf("%s: the heap takes up to %d MB", f, peak>>20)
		if peak > 100<<20 {
			t.Errorf("%s: the heap takes %d MB", f, peak>>20)
		}
	}
}
