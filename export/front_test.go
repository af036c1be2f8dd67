package export

import (
	"context"
	"math"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"
	"testing/fstest"

	"bankwright/engine"
	"bankwright/engine/check"
	"bankwright/engine/oracle"
	"bankwright/export/calc"
	wording "bankwright/export/text"
	"bankwright/export/told"
)

// TestFrontFits: all rows of the first sheet find room on one page in letters of 6.7
// points, nothing stands beside it, and hardly any room is left at its end where there
// is something to be said.
func TestFrontFits(t *testing.T) {
	oracle.OneCore(t)
	for name, m := range eachModel(t) {
		pl := plotBook(m, study(t, m))
		s := pl.book.Find("Answer")
		high, wide := 0.0, 0.0
		for _, h := range s.Heights {
			high += h
		}
		for _, w := range s.Widths {
			wide += 8 * w // of the widest digit of 11 points
		}
		if s.Print.High != 1 || len(s.Rows()) > len(s.Heights) {
			t.Errorf("%s: %d pages, %d rows of which %d have a height", name, s.Print.High, len(s.Rows()), len(s.Heights))
		}
		// A4, less its margins, and letters of 10 points that are 6.7 points on paper.
		most := (297 - 2.5*frontMargin) / 25.4 * 72 / frontScale
		if high > most {
			t.Errorf("%s: %.0f points high, of %.0f", name, high, most)
		}
		if len(s.Charts) > 0 && high < 0.93*most {
			t.Errorf("%s: %.0f points high, of %.0f, and the rest is empty", name, high, most)
		}
		if most := (210.0 - 2*frontMargin) / 25.4 * 96 / frontScale; wide > most {
			t.Errorf("%s: %.0f pixels wide, of %.0f", name, wide, most)
		}
		for r, row := range s.Rows() {
			for c, cell := range row {
				if cell != (Cell{}) && c+max(1, int(cell.Span)) > len(s.Widths) {
					t.Errorf("%s: %s stands beside the page", name, cellName(r+1, c+1))
				}
			}
		}
		for _, c := range s.Charts {
			if c.ToCol > len(s.Widths) || c.ToRow > len(s.Heights) || c.Col > c.ToCol {
				t.Errorf("%s: the chart %q stands beside the page", name, c.Title)
			}
		}
	}
}

// bestFirst are the items in the order of the first sheet, by the places that the
// workings give them, which other tests hold against the engine.
func bestFirst(pl *plan, run *calc.Book) []int {
	places, _ := answerOf(pl.book, run)
	out := make([]int, 0, len(places))
	for want := 1; want <= len(places); want++ {
		if i := slices.Index(places, number(float64(want))); i >= 0 {
			out = append(out, i)
		}
	}
	for i, p := range places {
		if p == "-" {
			out = append(out, i)
		}
	}
	return out[:min(len(out), mostAnswered)]
}

// TestFrontCharts: what the charts draw are cells with the values of the items that are
// shown, best first, as the scenario has it and after inputs were changed; the parts of a
// bar add up to what they are parts of.
func TestFrontCharts(t *testing.T) {
	oracle.OneCore(t)
	drawn, moved := 0, 0
	for _, name := range []string{"cabin", "boat", "quarry", "bench"} {
		m := models(t)[name]
		pl := plotBook(m, nil)
		s := pl.book.Find("Answer")
		if len(s.Charts) != 2 || s.Charts[0].Kind != StackedChart || s.Charts[1].Kind != BarChart {
			t.Fatalf("%s: %v", name, s.Charts)
		}
		r := rand.New(rand.NewPCG(5, 8))
		first := bestFirst(pl, calc.New(live{Book: pl.book}))
		if best, ok := pl.model.Compare().Best(); !ok || first[0] != best.Item {
			t.Errorf("%s: the first is %v, the engine's best %v", name, first, best)
		}
		for round := range 8 {
			run := Trial{Book: pl.book, list: changes(pl, m, r, 5*min(round, 1))}.changed()
			order := bestFirst(pl, run)
			moved += btoi(!slices.Equal(order, first))
			for _, c := range s.Charts {
				drawn += chartHolds(t, name, pl, run, c, order)
			}
		}
	}
	if drawn < 1000 || moved == 0 {
		t.Errorf("only %d cells are drawn, and the order has changed %d times", drawn, moved)
	}
}

// chartHolds holds the cells of a chart against those of the quantities that they show.
func chartHolds(t *testing.T, name string, pl *plan, run *calc.Book, c Chart, order []int) (cells int) {
	t.Helper()
	k := pl.prog.Compared()
	value := func(q *check.Quantity, item int) calc.Value {
		l := pl.places[q]
		return run.Cell(pl.book.Sheet(l.page.name), l.row, l.column(item))
	}
	labels := map[string]*check.Quantity{}
	for _, q := range k.Quantities {
		labels[pl.places[q].label] = q
	}
	got := make([]float64, len(order))
	for _, series := range c.Series {
		n := pl.book.Sheet(series.Y.Sheet)
		if series.Y.ToColumn-series.Y.Col+1 != len(order) || series.X.ToColumn-series.X.Col+1 != len(order) || series.Y.Row != series.Y.ToRow {
			t.Fatalf("%s: %q draws %s over %s, for %d", name, c.Title, series.Y, series.X, len(order))
		}
		label := run.Cell(n, series.Name.Row, series.Name.Col).S
		for at, item := range order {
			v, who := run.Cell(n, series.Y.Row, series.Y.Col+at), run.Cell(n, series.X.Row, series.X.Col+at).S
			got[at] += v.N
			cells++
			if want := cut(itemLabel(k.Items[item]), longestShort); who != want {
				t.Errorf("%s: bar %d of %q is %q, want %q", name, at, c.Title, who, want)
			}
			if q := labels[label]; q != nil && value(q, item).T != calc.Error && !same(v, value(q, item)) {
				t.Errorf("%s: %s of bar %d is %v, its quantity %v", name, label, at, v, value(q, item))
			} else if q == nil && label != "All other parts" {
				t.Errorf("%s: %q draws %q, which is no quantity", name, c.Title, label)
			}
		}
	}
	if c.Kind != StackedChart {
		return cells
	}
	parts, sum := pl.model.Parts()
	for at, item := range order {
		want, size := value(sum, item), 0.0
		for _, q := range parts {
			size += math.Abs(value(q, item).N)
		}
		if want.T == calc.Number && math.Abs(got[at]-want.N) > engine.PartsTolerance*size {
			t.Errorf("%s: the parts of bar %d come to %v, not %v", name, at, got[at], want.N)
		}
	}
	return cells
}

// TestPartsAddUp: in each workbook with parts a row says so.
func TestPartsAddUp(t *testing.T) {
	oracle.OneCore(t)
	for _, name := range []string{"cabin", "quarry", "garden"} {
		m := models(t)[name]
		parts, _ := m.Parts()
		b, err := NewBook(m, nil)
		if err != nil {
			t.Fatal(err)
		}
		said := 0
		if s := b.Find(workingsName); s != nil {
			for r := range s.Rows() {
				for c := itemCol; s.At(r+1, labelCol).Value == "Whether the parts add up to it" && s.At(r+1, c).Formula != ""; c++ {
					if v := s.At(r+1, c).Value; v != "yes" && v != "" {
						t.Errorf("%s: %v", name, v)
					}
					said++
				}
			}
		}
		if (said > 0) != (parts != nil) {
			t.Errorf("%s: said for %d, of parts %v", name, said, parts)
		}
	}
}

// TestWeighty: parts that nobody has are not drawn one by one, nor the smallest ones of
// too many; without a chart in the rules there is none.
func TestWeighty(t *testing.T) {
	text := strings.Replace(crates, "BEST", "lowest", 1)
	if s := plotBook(load(t, fstest.MapFS{"crates.toml": {Data: []byte(text)}}, "crates.toml", nil), nil).book.Find("Answer"); len(s.Charts) > 0 {
		t.Errorf("the rules ask for no chart, and there is %v", s.Charts)
	}
	text = strings.Replace(text, `show = ["sound"]`, `show = ["sound"], parts = { sum = "total", of = ["a", "b", "none"] }`, 1) +
		"[rules.crate.none]\nformula = \"a - a\"\n"
	pl := plotBook(load(t, fstest.MapFS{"crates.toml": {Data: []byte(text)}}, "crates.toml", nil), nil)
	charts := pl.book.Find("Answer").Charts
	if len(charts) != 1 || len(charts[0].Series) != 3 {
		t.Fatalf("%v", charts)
	}
	run, n := calc.New(live{Book: pl.book}), pl.book.Sheet(workingsName)
	var names []string
	for _, s := range charts[0].Series {
		names = append(names, run.Cell(n, s.Name.Row, s.Name.Col).S)
	}
	if got := strings.Join(names, ", "); got != "A, B, All other parts" {
		t.Errorf("it draws %s", got)
	}
	of, sum := []string{}, "a"
	for _, part := range strings.Fields("p q r s t u v w x") {
		of, sum = append(of, `"`+part+`"`), sum+" + "+part
		text += "[rules.crate." + part + "]\nformula = \"a * " + map[bool]string{true: "3", false: "2"}[part < "s"] + "\"\n"
	}
	text = strings.Replace(text, `["a", "b", "none"]`, `["a", `+strings.Join(of, ", ")+`]`, 1)
	text = strings.Replace(text, `formula = "a + b"`, `formula = "`+sum+`"`, 1)
	pl = plotBook(load(t, fstest.MapFS{"crates.toml": {Data: []byte(text)}}, "crates.toml", nil), nil)
	if got := len(pl.book.Find("Answer").Charts[0].Series); got != mostSeries {
		t.Errorf("a bar of ten parts has %d pieces, want %d", got, mostSeries)
	}
}

// frozenOn are the sentences of the first sheet that are not live.
func frozenOn(b *Book) (out []string) {
	s := b.Find("Answer")
	for r := range s.Rows() {
		if c := s.At(r+1, unitCol); c.Style == FrozenWords {
			out = append(out, strings.TrimPrefix(c.Value.(string), writtenWords))
		}
	}
	return out
}

// turns are the sentences of a break-even, with as many digits as its value has alone.
func turns(said told.Words, b engine.FoundBreakEven) string {
	x := told.NewTie(said, b)
	x.More = 0
	return strings.Join(x.Turns(), " ")
}

// TestSure: the first sheet says in the words of the terminal what studies found, or by
// which command they are run, and leads to their sheet where there is one. A workbook
// with studies is read back like one without.
func TestSure(t *testing.T) {
	m := models(t)["cabin"]
	found, err := m.Study(context.Background())
	if err != nil {
		t.Fatal(err)
	}
	with, without := plotBook(m, found), plotBook(m, nil)
	said := told.Words{M: m, Name: told.InputName}
	margins := wording.Margins(m, m.Compare(), "one_oak")
	want := []string{sameWords + told.NewDoubt(said, found.Doubts[0]).Sure() + " In doubt: " + found.Doubts[0].Title + ".", margins}
	for _, b := range found.BreakEvens {
		want = append(want, turns(said, b))
	}
	if err := with.book.fill(); err != nil {
		t.Fatal(err)
	}
	if got := frozenOn(with.book); !slices.Equal(got, want) {
		t.Errorf("the sheet says %q, want %q", got, want)
	}
	for i, part := range []string{"one_oak stays best until the price of oak rises to 1,129 USD", "one_oak is best in 92.1 % of 8,192 draws", "are level at price of oak = 1,129 USD, 7.6 % above", "99.4 % where price of oak is 1,250 USD, and at 92.7 % where it is 1,550 USD; at 4 of 11 values nowhere."} {
		if !strings.Contains(strings.Join(want, "\n"), part) {
			t.Errorf("%d: %q lacks %q", i, want, part)
		}
	}
	if got := frozenOn(without.book); !slices.Equal(got, want[1:2]) {
		t.Errorf("without studies the sheet says %q", got)
	}
	for _, command := range []string{"bankwright sweep market", "bankwright sweep oak_price"} {
		if !slices.ContainsFunc(without.book.Find("Answer").Rows(), func(row []Cell) bool {
			return len(row) >= unitCol && strings.HasSuffix(plainText(row[unitCol-1]), command)
		}) {
			t.Errorf("without studies the sheet does not say %q", command)
		}
	}
	if _, faults := ReadBack(m, found, sentBack{with.book, nil}, "book.xlsx"); len(faults) > 0 {
		t.Errorf("read back: %v", faults)
	}
	leads := func(pl *plan) bool {
		return pl.book.Find("Answer").At(pl.studiesRow, unitCol).Link == sweepsName+"!A1"
	}
	if without.book.Find(sweepsName) == nil && leads(without) {
		t.Error("it leads to a sheet that is not there")
	}
	without.book.Sheets = append(without.book.Sheets, &Sheet{Name: sweepsName})
	if without.leadToStudies(); !leads(without) {
		t.Error("it does not lead to the sheet of studies")
	}
}

// TestFrontOrder: the first sheet shows the best first, with as many as have room.
func TestFrontOrder(t *testing.T) {
	oracle.OneCore(t)
	for _, name := range []string{"cabin", "boat", "quarry", "garden", "greenhouse"} {
		m := models(t)[name]
		pl := plotBook(m, nil)
		s := pl.book.Find("Answer")
		r := rand.New(rand.NewPCG(7, 11))
		for round := range 3 {
			list := changes(pl, m, r, 4*min(round, 1))
			run := Trial{Book: pl.book, list: list}.changed()
			var want, got []string
			for _, i := range bestFirst(pl, run) {
				want = append(want, cut(itemLabel(pl.prog.Compared().Items[i]), longestShort))
			}
			if len(want) > 8 { // in narrow columns
				for i := range want {
					want[i] = strings.ReplaceAll(want[i], "_", parted)
				}
			}
			for r := range s.Rows() {
				for c := itemCol; s.At(r+1, c).Style == Head; c++ {
					got = append(got, run.Cell(0, r+1, c).S)
				}
			}
			if !slices.Equal(got, want) {
				t.Errorf("%s, round %d: %v, want %v", name, round, got, want)
			}
		}
	}
}
