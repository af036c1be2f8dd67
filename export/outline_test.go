package export

import (
	"testing"

	"bankwright/engine/oracle"
)

// TestOutline: on sheets that have sections, what stands below the head of one is deeper
// in the outline, so that it can be folded.
func TestOutline(t *testing.T) {
	oracle.OneCore(t)
	pl := plotBook(models(t)["cabin"], nil)
	for _, name := range []string{"Inputs", "Alternatives", "Checks", unmetName, "Year by year", "Tables", questionsName, shortName, figuresName} {
		s := pl.book.Find(name)
		if s == nil {
			t.Fatalf("there is no sheet %s", name)
		}
		deep := 0
		for _, d := range s.Depth {
			deep += btoi(d > 0)
		}
		if 2*deep < len(s.rows) {
			t.Errorf("%s: of %d rows only %d are below a head", name, len(s.rows), deep)
		}
	}
}

// TestOnPaper: of a page of series all that has a value other than 0 is printed, no
// workings are, and no band is cut by the end of a page.
func TestOnPaper(t *testing.T) {
	oracle.OneCore(t)
	for name, m := range eachModel(t) {
		pl := plotBook(m, nil)
		for _, pg := range pl.series {
			if pg.rows > mostBanded {
				continue
			}
			p := pg.sheet.Print
			for _, l := range pg.lines {
				on := l.row <= p.ToRow && l.col+l.items()*l.across-1 <= p.ToCol
				if says := pl.says(l); says && !on || l.q == nil && on && pg.told > 0 {
					t.Errorf("%s: %s: %s is printed: %t", name, pg.name, l.label, on)
				}
			}
			high := float64(titlesHigh)
			for row := TitleRows + 1; row <= p.ToRow; row++ {
				for _, b := range pg.sheet.Breaks {
					if row == b {
						high = titlesHigh
					}
				}
				if high += pg.sheet.Heights[row-1]; len(pg.sheet.rows[row-1]) > 0 && high > pg.sheets.high()*max(1, pg.sheet.printed()/pg.sheets.room()) {
					t.Errorf("%s: %s: row %d is %.0f points below the top of its page, of %.0f; %.1f characters of %.0f, %d a page", name, pg.name, row, high, pg.sheets.high()*max(1, pg.sheet.printed()/pg.sheets.room()), pg.sheet.printed(), pg.sheets.room(), pg.sheets.onPage)
					break
				}
			}
		}
	}
}
