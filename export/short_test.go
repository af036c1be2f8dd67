package export

import (
	"math"
	"strings"
	"testing"
)

// TestLongSeries: what would take several pages side by side is printed as one page, of
// whole runs and blocks; the sheet In short has the least and the greatest of all steps as
// the engine computes them.
func TestLongSeries(t *testing.T) {
	m := models(t)["cabin"]
	pl := plotBook(m, nil)
	if err := pl.book.fill(); err != nil || len(pl.longSeries) == 0 {
		t.Fatalf("%d long series, %v", len(pl.longSeries), err)
	}
	short, rows := pl.book.Find(shortName), 0
	for _, pg := range pl.longSeries {
		p, run := pg.sheet.Print, pg.axes[len(pg.axes)-1].Steps+btoi(pg.starts)
		if pg.sheet.printed() > readLandscape || p.ToRow-p.From+1 > rowsOnPage(pg.sheet.printed())+run/2 || p.Wide != 1 {
			t.Errorf("%s: printed are %.0f characters and rows %d to %d on %d pages side by side", pg.name, pg.sheet.printed(), p.From, p.ToRow, p.Wide)
		}
		if (p.From-seriesRow)%run != 0 || (p.ToRow+1-seriesRow)%run != 0 {
			t.Errorf("%s: rows %d to %d are not whole runs", pg.name, p.From, p.ToRow)
		}
		some := false
		for row := p.From; row <= p.ToRow; row++ {
			for col := pg.lines[0].col; col <= p.ToCol; col++ {
				v, ok := pg.sheet.At(row, col).Value.(float64)
				some = some || ok && v != 0
			}
		}
		if !some {
			t.Errorf("%s: nothing but zeros is printed", pg.name)
		}
		for _, l := range pg.lines {
			if l.q == nil {
				continue
			}
			for i := range l.items() {
				least, most := math.Inf(1), math.Inf(-1)
				for step := range l.q.Rows() {
					if v := pl.res.At(l.q, i, step); v == v {
						v = l.q.Unit.FromBase(v)
						least, most = min(least, v), max(most, v)
					}
				}
				rows += besides(t, short, l, ": least", i, least) + besides(t, short, l, ": greatest", i, most)
			}
		}
	}
	if rows == 0 {
		t.Error("nothing was compared")
	}
}

// besides looks for a figure of the sheet In short, and returns 1 where it stands.
func besides(t *testing.T, s *Sheet, l *line, word string, item int, want float64) int {
	t.Helper()
	for row := range s.Rows() {
		c := s.At(row+1, labelCol)
		if c.Value != l.label+word || !strings.HasPrefix(c.Link, quoteSheet(l.page.name)) {
			continue
		}
		got, ok := s.At(row+1, itemCol+item).Value.(float64)
		if ok == math.IsInf(want, 0) || ok && math.Abs(got-want) > 1e-9*math.Max(1, math.Abs(want)) {
			t.Errorf("%s of %s, item %d: %v, want %g", c.Value, l.page.name, item, s.At(row+1, itemCol+item).Value, want)
		}
		return 1
	}
	return 0
}

// TestTitleWhole: where columns are repeated on pages side by side, at the end of which a
// title would be cut, it stands above the page and is not among what is printed.
func TestTitleWhole(t *testing.T) {
	s := &Sheet{FreezeCols: 1, FreezeRows: 6, Print: Print{RepeatRows: 6}}
	s.text(1, 1, "A title that is longer than the columns that are repeated", Title)
	for range 40 {
		s.Widths = append(s.Widths, itemWidth)
	}
	s.paper()
	if p := s.Print; p.RepeatCols != 1 || p.Wide < 2 || p.Header != s.At(1, 1).Value || p.From != TitleRows+1 {
		t.Errorf("it is printed as %+v", p)
	}
	for name, m := range models(t) {
		pl := plotBook(m, nil)
		for _, s := range pl.book.Sheets {
			if s.Print.RepeatCols > 0 && (s.Print.From < 2 || s.Print.Header != s.At(1, 1).Value) {
				t.Errorf("%s: the title of %s is cut", name, s.Name)
			}
		}
	}
}
