package export

import (
	"strings"
	"testing"
)

// TestGivesTruth: what a formula is made of last tells whether it gives a truth value.
func TestGivesTruth(t *testing.T) {
	for f, want := range map[string]bool{
		"x>=0": true, `IF(x="","",x>0)`: true, "AND(x>0,x<1)": true, "(x<>x)": true, `IF(x>0,TRUE,"")`: true, `IFERROR(NOT(x),"")`: true,
		"INDEX(TRUE,x)": true, "IF(x>0,OR(x,x),x=1)": true, "TRUE": true, "(x+1)*(x-1)>0": true, `x="a=b"`: true,
		"x": false, "x+1": false, `IF(x>0,"","")`: false, "IF(x>0,1,x>0)": false, "SUM(x>0)": false, `"a=b"`: false, `"<"&x`: false,
		"(x>0)*(x<1)": false, "COUNTIF(x,\">0\")": false, "INDEX(x,TRUE)": false, "x&(x=1)": false, "": false, "(": false, "IF(": false,
	} {
		if got := givesTruth(f); got != want {
			t.Errorf("%s: %v", f, got)
		}
	}
}

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
