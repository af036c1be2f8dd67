package export

import (
	"strings"
	"testing"
)

// TestTruthsSaid: whatever is true or false is said to be "yes or no", on all sheets that
// say units.
func TestTruthsSaid(t *testing.T) {
	for _, name := range []string{"cabin", "boat", "bench", "garden"} {
		pl := plotBook(models(t)[name], nil)
		if err := pl.book.fill(); err != nil {
			t.Fatal(err)
		}
		p, seen, told := practiceOf(pl), 0, map[string]bool{}
		for _, s := range pl.book.Sheets {
			for r, row := range s.Rows() {
				for c, cell := range row {
					if _, ok := cell.Value.(bool); !ok || s.Name == "Lists" {
						continue
					}
					seen++
					if said := saidOf(p, s, r+1, c+1); !strings.Contains(said, truthWord) && !told[s.Name+said] {
						t.Errorf("%s: %s!%s is %v, and its unit %q: %s", name, s.Name, cellName(r+1, c+1), cell.Value, said, cell.Formula)
						told[s.Name+said] = true
					}
				}
			}
		}
		if seen < 100 {
			t.Errorf("%s: only %d truth values", name, seen)
		}
	}
}

// saidOf is the unit that a sheet says of a cell: above its block, or in its row, in the
// last column that is headed so.
func saidOf(p *practice, s *Sheet, row, col int) string {
	text := func(row, col int) string { v, _ := s.At(row, col).Value.(string); return v }
	if p.series[s.Name] {
		for row > 3 && s.At(row, 1).Style != HeadText {
			row--
		}
		for col > 1 && text(row-2, col) == "" {
			col--
		}
		return text(row-1, col)
	}
	for head := row; head > 0; head-- {
		for c := len(s.rows[head-1]); c > 0; c-- {
			if text(head, c) == "unit" {
				return text(row, c)
			}
		}
	}
	return ""
}
