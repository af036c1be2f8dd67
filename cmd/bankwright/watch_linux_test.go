package main

import (
	"bufio"
	"io"
	"os"
	"os/signal"
	"path/filepath"
	"regexp"
	"strings"
	"syscall"
	"testing"
	"time"

	"bankwright/engine/oracle"
	"bankwright/scenarios"
)

// watched is a run that watches a file, and what it has written.
type watched struct {
	t     testing.TB
	file  string
	lines chan string
	done  chan int
}

// watchRun begins a run that watches a copy of the built-in example in a folder whose
// name has a space and letters beyond ASCII.
func watchRun(t testing.TB, args ...string) *watched {
	t.Helper()
	held := make(chan os.Signal, 1) // a signal that comes after the run does not end the tests
	signal.Notify(held, os.Interrupt)
	t.Cleanup(func() { signal.Stop(held) })
	text, err := scenarios.Files.ReadFile(scenarios.Default)
	if err != nil {
		t.Fatal(err)
	}
	w := &watched{t: t, file: filepath.Join(t.TempDir(), "Hütte am See", "hut 1.toml"), lines: make(chan string, 10000), done: make(chan int, 1)}
	if err := os.Mkdir(filepath.Dir(w.file), 0o755); err != nil {
		t.Fatal(err)
	}
	w.write(string(text))
	out, in := io.Pipe()
	for i, arg := range args {
		args[i] = strings.ReplaceAll(arg, "FOLDER", filepath.Dir(w.file))
	}
	go func() {
		status := run(append(args, "--watch"), in, in)
		in.Close()
		w.done <- status
	}()
	go func() {
		for s := bufio.NewScanner(out); s.Scan(); {
			w.lines <- s.Text()
		}
		close(w.lines)
	}()
	return w
}

func (w *watched) write(text string) {
	w.t.Helper()
	if err := os.WriteFile(w.file, []byte(text), 0o644); err != nil {
		w.t.Fatal(err)
	}
}

// edit replaces a text in the file, in place or as editors do that write another file
// and rename it.
func (w *watched) edit(renamed bool, old, new string) {
	w.t.Helper()
	text, err := os.ReadFile(w.file)
	if err != nil || !strings.Contains(string(text), old) {
		w.t.Fatalf("the scenario has no %q: %v", old, err)
	}
	edited := strings.Replace(string(text), old, new, 1)
	if !renamed {
		w.write(edited)
		return
	}
	if err := os.WriteFile(w.file+"~", []byte(edited), 0o644); err != nil {
		w.t.Fatal(err)
	}
	if err := os.Rename(w.file+"~", w.file); err != nil {
		w.t.Fatal(err)
	}
}

// until reads on until a line holds a text, and returns all lines up to it.
func (w *watched) until(text string) string {
	w.t.Helper()
	var all []string
	patience := time.After(time.Minute)
	for {
		select {
		case line, more := <-w.lines:
			if all = append(all, line); strings.Contains(line, text) {
				return strings.Join(all, "\n")
			}
			if !more {
				w.t.Fatalf("the run ended before %q:\n%s", text, strings.Join(all, "\n"))
			}
		case <-patience:
			w.t.Fatalf("no %q in a minute:\n%s", text, strings.Join(all, "\n"))
		}
	}
}

// end interrupts the run and returns its exit status.
func (w *watched) end() int {
	w.t.Helper()
	if err := syscall.Kill(os.Getpid(), syscall.SIGINT); err != nil {
		w.t.Fatal(err)
	}
	return <-w.done
}

// contains fails the test where lines lack one of some texts.
func (w *watched) contains(lines string, texts ...string) {
	w.t.Helper()
	for _, s := range texts {
		if !strings.Contains(strings.Join(strings.Fields(lines), " "), s) {
			w.t.Errorf("no %q in\n%s", s, lines)
		}
	}
}

// TestWatchCompare: each save, in place or by renaming, shows what is other, cell by
// cell; a fault is told and the next save mends it; a file that is included counts.
func TestWatchCompare(t *testing.T) {
	w := watchRun(t, "compare", "FOLDER/hut 1.toml")
	w.contains(w.until("Watching"), "Alder Bay cabin", "one_oak is best")
	w.edit(false, `= "1050 USD"`, `= "1150 USD"`)
	w.contains(w.until("above."), "hut 1.toml",
		"battery.oak.price 1,050 -> 1,150 USD", "alternative.one_oak.lifetime_cost_per_energy 0.321 -> 0.337 USD/kWh",
		"27 more cells are other than before; --all shows them.", "three_ash is best")
	w.edit(true, "nominal_voltage ", "nominal_votlage ")
	w.contains(w.until("Did you mean"), "error:")
	w.edit(true, "nominal_votlage ", "nominal_voltage ")
	w.until("No number is other than before.")
	w.edit(true, "title ", "include = [\"more.toml\"]\ntitle ")
	w.contains(w.until("more.toml"), "hut 1.toml")
	more := filepath.Join(filepath.Dir(w.file), "more.toml")
	if err := os.WriteFile(more, []byte("[load.kettle]\npower = \"20 W\"\nhours_per_day = \"0.1 h/day\"\n"), 0o644); err != nil {
		t.Fatal(err)
	}
	w.contains(w.until("above."), "more.toml", "load.kettle")
	if status := w.end(); status != exitDone {
		t.Errorf("exit status %d", status)
	}
}

// TestWatchReadme: what README.md shows of a save is what comes out.
func TestWatchReadme(t *testing.T) {
	page, err := os.ReadFile("../../README.md")
	if err != nil {
		t.Fatal(err)
	}
	starter, err := scenarios.Files.ReadFile(scenarios.Starter)
	if err != nil {
		t.Fatal(err)
	}
	w := watchRun(t, "compare", "FOLDER/hut 1.toml")
	w.until("Watching")
	w.write(string(starter))
	w.until("above.")
	w.edit(true, `"640 USD"`, `"960 USD"`)
	told := w.until("above.")
	w.end()
	saves := regexp.MustCompile(`(?m)^\d\d:\d\d:\d\d  .*\n`).FindAllStringIndex(told, -1) // the first save may be seen twice
	lines := strings.Split(told[saves[len(saves)-1][1]:], "\n")
	var want strings.Builder
	for _, l := range lines {
		want.WriteString(strings.TrimRight("    "+l, " ") + "\n")
	}
	if !strings.Contains(string(page), want.String()) {
		t.Errorf("README.md does not show\n%s", &want)
	}
}

// TestWatchSweep: of the studies only those are shown that find something else.
func TestWatchSweep(t *testing.T) {
	w := watchRun(t, "sweep", "FOLDER/hut 1.toml", "oak_price", "depth")
	w.until("Watching")
	w.edit(true, `"1050 USD"`, `"1060 USD"`)
	w.contains(w.until("As before"), "battery.oak.price 1,050 -> 1,060 USD", "level at battery.oak.price = 1,129.3558 USD, 6.5 % above")
	w.edit(true, `"28 kg"`, `"29 kg"`)
	w.contains(w.until("As before"), "battery.oak.mass 28 -> 29 kg", "As before: break-even oak_price, break-even depth.")
	if status := w.end(); status != exitDone {
		t.Errorf("exit status %d", status)
	}
}

// TestWatchBook: the workbook is written anew, unless somebody has worked on it.
func TestWatchBook(t *testing.T) {
	oracle.OneCore(t)
	w := watchRun(t, "book", "FOLDER/hut 1.toml", "-o", "FOLDER/hut.xlsx")
	w.until("Watching")
	book := filepath.Join(filepath.Dir(w.file), "hut.xlsx")
	first, err := os.ReadFile(book)
	if err != nil {
		t.Fatal(err)
	}
	w.edit(true, `"1050 USD"`, `"1060 USD"`)
	w.contains(w.until("hut.xlsx"), "battery.oak.price 1,050 -> 1,060 USD")
	second, err := os.ReadFile(book)
	if err != nil || string(first) == string(second) {
		t.Fatalf("the workbook is the same as before (%v)", err)
	}
	if err := os.WriteFile(book, second[:len(second)/2], 0o644); err != nil {
		t.Fatal(err)
	}
	w.edit(true, `"1060 USD"`, `"1070 USD"`)
	w.contains(w.until("stays as it is"), "battery.oak.price 1,060 -> 1,070 USD")
	if status := w.end(); status != exitDone {
		t.Errorf("exit status %d", status)
	}
}

// TestWatchPoints: a file that the run itself has written is written anew on each save,
// also one of which nothing tells that it is ours.
func TestWatchPoints(t *testing.T) {
	oracle.OneCore(t)
	w := watchRun(t, "sweep", "FOLDER/hut 1.toml", "--vary", "battery.ash.price=300USD,400USD", "-o", "FOLDER/points.xlsx")
	w.until("Watching")
	points := filepath.Join(filepath.Dir(w.file), "points.xlsx")
	first, err := os.ReadFile(points)
	if err != nil {
		t.Fatal(err)
	}
	w.edit(true, `"1050 USD"`, `"1060 USD"`)
	w.contains(w.until("2 points"), "battery.oak.price 1,050 -> 1,060 USD")
	second, err := os.ReadFile(points)
	if err != nil || string(first) == string(second) {
		t.Fatalf("the points are the same as before (%v)", err)
	}
	if err := os.WriteFile(points, append(second, 0), 0o644); err != nil {
		t.Fatal(err)
	}
	w.edit(true, `"1060 USD"`, `"1070 USD"`)
	w.until("stays as it is")
	if status := w.end(); status != exitDone {
		t.Errorf("exit status %d", status)
	}
}

// BenchmarkWatch tells how long it takes from a save until what is other stands there,
// and how long a whole run of the same command takes.
func BenchmarkWatch(b *testing.B) {
	w := watchRun(b, "compare", "FOLDER/hut 1.toml")
	w.until("Watching")
	var run, shown []float64
	prices := [2]string{`"1050 USD"`, `"1051 USD"`}
	for i := 0; b.Loop(); i++ {
		start := time.Now()
		runQuietly(b, "compare", w.file)
		run = append(run, time.Since(start).Seconds())
		start = time.Now()
		w.edit(true, prices[i%2], prices[1-i%2])
		w.until("above.")
		shown = append(shown, time.Since(start).Seconds())
	}
	w.end()
	b.ReportMetric(1000*lowest(shown), "ms/save")
	b.ReportMetric(lowest(shown)/lowest(run), "runs/save")
}

// runQuietly runs a command line that must succeed.
func runQuietly(t testing.TB, args ...string) {
	t.Helper()
	if status := run(args, io.Discard, io.Discard); status != exitDone {
		t.Fatalf("exit status %d", status)
	}
}

// TestWatchOnly: after a save, too, only the sections that are asked for are shown.
func TestWatchOnly(t *testing.T) {
	w := watchRun(t, "compare", "FOLDER/hut 1.toml", "--only", "verdict")
	w.until("Watching")
	w.edit(false, `= "1050 USD"`, `= "1150 USD"`)
	lines := w.until("three_ash is best")
	w.contains(lines, "battery.oak.price 1,050 -> 1,150 USD")
	if strings.Contains(lines, "first_cost") || strings.Contains(lines, "caution") {
		t.Errorf("more than was asked for:\n%s", lines)
	}
	w.end()
}

// TestWatchBack: a file that was deleted and comes back is named, not its folder.
func TestWatchBack(t *testing.T) {
	w := watchRun(t, "compare", "FOLDER/hut 1.toml")
	w.until("Watching")
	text, err := os.ReadFile(w.file)
	if err != nil {
		t.Fatal(err)
	}
	if err := os.Remove(w.file); err != nil {
		t.Fatal(err)
	}
	w.until("cannot be read")
	w.write(strings.Replace(string(text), `= "1050 USD"`, `= "1150 USD"`, 1))
	lines := w.until("three_ash is best")
	for _, line := range strings.Split(lines, "\n") {
		if len(line) > 9 && line[2] == ':' && line[5] == ':' && !strings.HasSuffix(line, "hut 1.toml") {
			t.Errorf("no file is named: %q", line)
		}
	}
	w.end()
}
