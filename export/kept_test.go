package export

import (
	"fmt"
	"io/fs"
	"maps"
	"math"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"
	"testing/fstest"

	"bankwright/engine"
	"bankwright/engine/formula"
	"bankwright/engine/reading"
	"bankwright/export/calc"
)

// stoves asks everything of recordings that has a form in cells, and more.
const stoves = `
title = "Stoves"
standard_rules = false
[rules.kind.stove]
many = "stoves"
compare = { by = "energy", best = "lowest", show = ["energy"] }
[rules.stove.log]
recording = { time = "min", heat = "kW", flow = "kg/h", warmth = { unit = "°C", optional = true }, meter = { unit = "Wh", counter = true, optional = true } }
optional = true
[rules.stove.typed]
unit = "Wh"
unless = "log"
[rules.stove.energy]
unit = "Wh"
formula = "typed ?? integral(log.heat)"
[rules.stove.product]
unit = "W*kg"
formula = "integral(log.heat, log.flow)"
[rules.stove.product_mean]
unit = "W*kg/h"
formula = "time_mean(log.heat, log.flow)"
[rules.stove.mean]
unit = "°F"
formula = "time_mean(log.warmth)"
[rules.stove.rise]
unit = "K"
formula = "highest(log.warmth) - first_value(log.warmth)"
[rules.stove.low]
unit = "W"
formula = "lowest(log.heat)"
[rules.stove.last]
unit = "kg/h"
formula = "last_value(log.flow)"
[rules.stove.lasting]
unit = "h"
formula = "recorded_time(log.heat)"
[rules.stove.missing]
unit = "min"
formula = "gap_time(log.heat)"
[rules.stove.missing_share]
unit = "%"
formula = "1 - recorded_share(log.heat)"
[rules.stove.count]
formula = "rows(log.heat) + gaps(log.heat)"
[rules.stove.metered]
unit = "Wh"
formula = "growth(log.meter)"
`

// stoveLog is a log of so many rows a minute apart, with a gap in the middle.
func stoveLog(rows int, mend func(row int, cells []string)) []byte {
	var b strings.Builder
	r := rand.New(rand.NewPCG(uint64(rows), 1))
	b.WriteString("time (min),heat (kW),flow (kg/h),warmth (°C),meter (Wh)\n")
	for i := range rows {
		at := i
		if i >= rows/2 {
			at += 20
		}
		cells := []string{fmt.Sprint(at), fmt.Sprintf("%.3f", 2*math.Sin(float64(i)/9)+r.Float64()), fmt.Sprintf("%.2f", 3+r.Float64()), fmt.Sprintf("%.1f", 20+r.Float64()), fmt.Sprint(i)}
		if mend != nil {
			mend(i, cells)
		}
		b.WriteString(strings.Join(cells, ",") + "\n")
	}
	return []byte(b.String())
}

// stovesWith are stoves with logs, by name; one has none.
func stovesWith(t *testing.T, logs map[string][]byte) *engine.Model {
	t.Helper()
	text := stoves + "[stove.bare]\ntyped = \"5 Wh\"\n"
	files := fstest.MapFS{}
	for _, name := range slices.Sorted(maps.Keys(logs)) {
		log := logs[name]
		text += fmt.Sprintf("[stove.%s]\nlog = \"%s.csv\"\n", name, name)
		files[name+".csv"] = &fstest.MapFile{Data: log}
	}
	files["stoves.toml"] = &fstest.MapFile{Data: []byte(text)}
	return load(t, fs.FS(files), "stoves.toml", nil)
}

// TestKept: of a short log all rows stand in the book, and what has a form over them is
// live; of a long one some stand, and what is found is computed.
func TestKept(t *testing.T) {
	m := stovesWith(t, map[string][]byte{"short": stoveLog(60, nil), "long": stoveLog(2000, nil)})
	b, err := NewBook(m, nil)
	if err != nil {
		t.Fatal(err)
	}
	pl := plotBook(m, nil)
	run := calc.New(live{Book: pl.book})
	agree(t, pl, m, run)
	noErrors(t, b, run)
	q := m.Kind("stove").Quantity("log")
	forms := map[string]bool{}
	for _, f := range formula.Functions {
		if f.Kept.Text != "" {
			forms[f.Name] = true
		}
	}
	for i, it := range m.Kind("stove").Items {
		k := pl.kept[influenceCell{q, i}]
		if (k == nil) != (it.Name == "bare") {
			t.Fatalf("%s has a sheet: %v", it.Name, k != nil)
		}
		if k == nil {
			continue
		}
		if k.whole != (it.Name == "short") || len(k.rows) > mostKept || len(k.rows) < min(60, mostKept/2) || k.last-k.first != len(k.rows) {
			t.Errorf("%s: %d rows from %d to %d, all: %v", it.Name, len(k.rows), k.first, k.last, k.whole)
		}
		for _, a := range k.sought {
			if want := k.whole && a.fn.Kept.Text != ""; a.live != want {
				t.Errorf("%s: %s is live: %v", it.Name, callLabel(a.fn, a.names), a.live)
			}
			if !a.live {
				continue
			}
			delete(forms, a.fn.Name)
			sheet := pl.book.Sheet(k.page.name)
			got, want := run.Cell(sheet, a.row, keptLiveCol), run.Cell(sheet, a.row, keptValueCol)
			if diff := run.Cell(sheet, a.row, keptDiffCol).N; !same(got, want) || math.Abs(diff) > 1e-9*math.Abs(want.N) {
				t.Errorf("%s: %v from the rows, %v in the file, difference %v", callLabel(a.fn, a.names), got, want, diff)
			}
		}
	}
	if len(forms) > 0 {
		t.Errorf("not tried: %v", forms)
	}
	for _, name := range []string{"energy", "product", "product_mean", "mean", "rise", "low", "last", "lasting", "missing", "missing_share", "count", "metered"} {
		l := pl.places[m.Kind("stove").Quantity(name)]
		for i, it := range m.Kind("stove").Items {
			want := it.Name == "long" || it.Name == "short" && name == "metered"
			if l.isFrozen(i) != want {
				t.Errorf("%s of %s is computed: %v", name, it.Name, !want)
			}
		}
	}
}

// TestKeptFollows: a row that is changed in the book moves what is found in it, and
// another file's name is told.
func TestKeptFollows(t *testing.T) {
	m := stovesWith(t, map[string][]byte{"short": stoveLog(60, nil)})
	pl := plotBook(m, nil)
	q := m.Kind("stove").Quantity("log")
	item := 1
	k := pl.kept[influenceCell{q, item}]
	sheet, heat := pl.book.Sheet(k.page.name), k.column("heat")
	cell := pl.places[m.Kind("stove").Quantity("energy")]
	run := func(at [3]int, v any) *calc.Book {
		return calc.New(live{Book: pl.book, changed: map[[3]int]any{at: v}})
	}
	energy := func(r *calc.Book) float64 {
		return r.Cell(pl.book.Sheet(cell.page.name), cell.row, cell.column(item)).N
	}
	row := k.first + 10
	before := pl.book.Sheets[sheet].At(row, keptFirstCol).Value.(float64)
	if heat != k.columns[0] {
		t.Fatal("the first column is not the heat")
	}
	// A kilowatt more in one row of a minute each is 1000/60 Wh more.
	got := energy(run([3]int{sheet, row, keptFirstCol}, before+1)) - energy(run([3]int{}, nil))
	if math.Abs(got-1000.0/60) > 1e-9 {
		t.Errorf("a kilowatt more for a minute is %v Wh more", got)
	}
	for _, c := range []struct {
		typed any
		want  string
	}{{before, "It is equal to what"}, {before + 1, "It is not what"}, {"x", "It is not what"}} {
		if got := run([3]int{sheet, row, keptFirstCol}, c.typed).Cell(sheet, keptSameRow, 1).S; !strings.HasPrefix(got, c.want) {
			t.Errorf("with %v in a row: %q", c.typed, got)
		}
	}
	if f := pl.book.Sheets[sheet].At(3, 1).Formula; strings.Contains(f, "short.csv") {
		t.Errorf("the formula grows with the name of the file: %s", f)
	}
	in := pl.places[q]
	for _, c := range []struct{ file, want string }{{"short.csv", ""}, {"other.csv", "The sheet Inputs names another recording; this is still short.csv."}} {
		r := run([3]int{pl.book.Sheet("Inputs"), in.row, in.column(item)}, c.file)
		if got := r.Cell(sheet, 3, 1).S; got != c.want {
			t.Errorf("%s: %q", c.file, got)
		}
	}
	if got := run([3]int{pl.book.Sheet("Inputs"), in.row, in.column(item)}, nil).Cell(pl.book.Sheet(cell.page.name), cell.row, cell.column(item)); got.S != "" || got.T == calc.Number {
		t.Errorf("without the file the energy is %v", got)
	}
}

// TestKeptMissing: where a value is missing in a row, what is found of that column is
// computed, and the others stay live. A column without values is not drawn.
func TestKeptMissing(t *testing.T) {
	m := stovesWith(t, map[string][]byte{"short": stoveLog(60, func(row int, cells []string) {
		if cells[3] = ""; row == 7 {
			cells[1] = "-"
		}
	})})
	pl := plotBook(m, nil)
	agree(t, pl, m, calc.New(live{Book: pl.book}))
	k := pl.kept[influenceCell{m.Kind("stove").Quantity("log"), 1}]
	if len(k.columns) != 3 || len(k.page.sheet.Charts) != 3 {
		t.Errorf("%d columns, %d charts", len(k.columns), len(k.page.sheet.Charts))
	}
	for _, a := range k.sought {
		if want := a.fn.Kept.Text != "" && a.names[0] != "heat" && a.names[0] != "warmth"; a.live != want {
			t.Errorf("%s is live: %v", callLabel(a.fn, a.names), a.live)
		}
	}
}

// TestKeptSilent: of a column without values where others have some it is told how long
// that is; of a gap of all columns once, for all of them.
func TestKeptSilent(t *testing.T) {
	m := stovesWith(t, map[string][]byte{"short": stoveLog(60, func(row int, cells []string) {
		if row > 35 && row < 50 { // a quarter of an hour, behind the gap of 21 minutes
			cells[2] = ""
		}
	})})
	k := plotBook(m, nil).kept[influenceCell{m.Kind("stove").Quantity("log"), 1}]
	said := plainText(k.page.sheet.At(4, 1))
	if want := "21 min of it missing. Flow has no value for 36 min of it."; !strings.HasSuffix(said, want) {
		t.Errorf("%q, want %q", said, want)
	}
}

// TestCurves: every column is drawn once, against the time, over its own rows, with
// axes that say what they show and leave nothing out.
func TestCurves(t *testing.T) {
	m := stovesWith(t, map[string][]byte{"short": stoveLog(60, nil), "long": stoveLog(2000, nil)})
	pl := plotBook(m, nil)
	for _, k := range pl.keptOrder {
		s := k.page.sheet
		for i, c := range s.Charts {
			y, x := c.Series[0].Y, c.Series[0].X
			if y.Sheet != s.Name || x.Sheet != s.Name || y.Row != k.first || y.ToRow != k.last || x.Row != k.first || x.ToRow != k.last || y.Col != keptFirstCol+i || x.Col != keptTimeCol {
				t.Errorf("%s: chart %d draws %v against %v", s.Name, i, y, x)
			}
			head := s.At(c.Series[0].Name.Row, c.Series[0].Name.Col).Value
			if head != c.Y.Title || !strings.Contains(c.Y.Title, "(") || !strings.HasPrefix(c.X.Title, "time (min)") {
				t.Errorf("axes %q and %q, column %v", c.X.Title, c.Y.Title, head)
			}
			gaps := 0
			for row := y.Row; row <= y.ToRow; row++ {
				v, ok := s.At(row, y.Col).Value.(float64)
				at, _ := s.At(row, x.Col).Value.(float64)
				if !ok {
					gaps++
				} else if v < *c.Y.Min || v > *c.Y.Max || at < *c.X.Min || at > *c.X.Max {
					t.Errorf("%s: %v at %v is beyond the axes", s.Name, v, at)
				}
			}
			if gaps != 1 {
				t.Errorf("%s: %d gaps", s.Name, gaps)
			}
			if c.Row+keptChartRows > k.askRow {
				t.Errorf("%s: a chart covers what was found", s.Name)
			}
		}
	}
}

func TestAround(t *testing.T) {
	for _, c := range []struct{ low, high, from, to, step float64 }{
		{10.75, 13.72, 10, 14, 1}, {0, 50.1, 0, 60, 10}, {21.3, 26.9, 21, 27, 1}, {0, 0.2306, 0, 0.25, 0.05}, {-3, 3, -3, 3, 1}, {5, 5, 2, 8, 1}, {0, 0, -0.6, 0.6, 0.2}, {0, 6e9, 0, 6e9, 1e9},
	} {
		a := around(c.low, c.high)
		if math.Abs(*a.Min-c.from)+math.Abs(*a.Max-c.to)+math.Abs(a.Step-c.step) > 1e-12*math.Abs(c.to) {
			t.Errorf("from %v to %v: %v to %v by %v", c.low, c.high, *a.Min, *a.Max, a.Step)
		}
	}
}

// TestDrawn: a book asks nothing of a recording that was not found in its first pass.
func TestDrawn(t *testing.T) {
	files := fstest.MapFS{"a.csv": {Data: stoveLog(2000, nil)}, "stoves.toml": {Data: []byte(stoves + "[stove.a]\nlog = \"a.csv\"\n")}}
	m, list, _ := engine.Load(engine.Sources{Files: files, Scenario: "stoves.toml", Recordings: &reading.Shelf{Ahead: Drawn}})
	if m == nil {
		t.Fatal(list)
	}
	if _, err := NewBook(m, nil); err != nil {
		t.Fatal(err)
	}
	if n := m.Result.RecordingOf(m.Kind("stove").Quantity("log"), 0).Passes(); n != 1 {
		t.Errorf("it was read %d times", n)
	}
}
