package export

import (
	"fmt"
	"strings"
	"testing"
)

// TestSourcesLead: each source stands once, says behind how many rows it stands and leads
// to the first of them, as each of these leads to it; names lead to where they are worked
// out.
func TestSourcesLead(t *testing.T) {
	pl := plotBook(models(t)["cabin"], nil)
	s := pl.book.Find(sourcesName)
	to := func(link string) int {
		sheet, cell, _ := strings.Cut(link, "!")
		at, ok := cornerOf(cell)
		if sheet != quoteSheet(sourcesName) || !ok {
			t.Fatalf("%q leads elsewhere", link)
		}
		return at.row
	}
	listed := func(row int) bool { // not a row of a kind of that name
		c := s.At(row, sourceNumCol)
		return c.Value != nil && c.Link == ""
	}
	behind, places := map[int][]int{}, 0
	for row := sourceHead + 1; row <= len(s.Rows()); row++ {
		if number := s.At(row, sourceNumCol); number.Link != "" {
			at := to(number.Link)
			behind[at] = append(behind[at], row)
			if s.At(at, sourceNumCol).Value != number.Value || !listed(at) {
				t.Errorf("row %d leads to row %d, which is another source", row, at)
			}
		}
		if name := s.At(row, sourceNameCol); name.Link != "" && !listed(row) {
			sheet, cell, _ := strings.Cut(name.Link, "!")
			at, _ := cornerOf(cell)
			of := pl.book.Find(strings.Trim(sheet, "'"))
			if places++; of == nil || of.At(at.row, at.col) == (Cell{}) {
				t.Errorf("%v leads to %s, where nothing stands", name.Value, name.Link)
			}
		}
	}
	known := map[any]bool{}
	for row := sourceHead + 1; row <= len(s.Rows()); row++ {
		if !listed(row) {
			continue
		}
		text, lead := s.At(row, sourceTextCol).Value, s.At(row, sourceNameCol)
		if known[text] {
			t.Errorf("%v stands twice", text)
		}
		known[text] = true
		want := fmt.Sprintf("behind %d rows: the first", len(behind[row]))
		if len(behind[row]) == 1 {
			want = "behind 1 row"
		}
		if len(behind[row]) == 0 || lead.Value != want || to(lead.Link) != behind[row][0] {
			t.Errorf("the source %v says %v and leads to %s; its rows are %v", text, lead.Value, lead.Link, behind[row])
		}
	}
	if len(known) == 0 || places == 0 {
		t.Errorf("%d sources, %d places", len(known), places)
	}
}

// TestLabelsLead: each row of a rule leads to where the rule and its source stand, and
// that row back to it; each check does, too, and what is brought from another sheet leads
// there.
func TestLabelsLead(t *testing.T) {
	for _, name := range []string{"cabin", "quarry"} {
		pl := plotBook(models(t)[name], nil)
		sources, rules, brought, judged := pl.book.Find(sourcesName), 0, 0, 0
		at := func(link string) (*Sheet, place) {
			sheet, cell, _ := strings.Cut(link, "!")
			corner, _ := cornerOf(cell)
			return pl.book.Find(strings.ReplaceAll(strings.Trim(sheet, "'"), "''", "'")), place{corner.row, corner.col}
		}
		// A long label lets what stands beside it lead.
		leading := func(s *Sheet, row, col int) Cell {
			if c := s.At(row, col); c.Link != "" || col != labelCol {
				return c
			}
			return s.At(row, col+1)
		}
		holds := func(label Cell, of, name string) {
			s, to := at(label.Link)
			if s != sources || sources.At(to.row, 1).Value != of || sources.At(to.row, sourceNameCol).Value != name {
				t.Errorf("%s: %v leads to %q, not to %s.%s", name, label.Value, label.Link, of, name)
			}
		}
		for _, k := range pl.prog.Kinds {
			for _, q := range k.Quantities {
				if s, row, col := pl.spotOf(q); s != nil && q.IsRule() {
					rules++
					holds(leading(s, row, col), k.Name, q.Name)
				}
			}
			if pg := pl.rules[k]; pg != nil && pg.sheet != nil {
				for _, l := range pg.pulled {
					if s, to := at(leading(pg.sheet, l.row, labelCol).Link); l.of != nil && pl.places[l.of].row > 0 {
						brought++
						if s == nil || s.At(to.row, to.col) == (Cell{}) {
							t.Errorf("%s: %s, which is brought here, leads nowhere", name, l.label)
						}
					}
				}
			}
		}
		checks := pl.book.Find("Checks")
		for row := range checks.Rows() {
			if c := checks.At(row+1, labelCol); c.Style == Label {
				judged++
				s, to := at(leading(checks, row+1, labelCol).Link)
				back, from := at(sources.At(to.row, sourceNameCol).Link)
				if s != sources || back != checks || from.row != row+1 {
					t.Errorf("%s: the check %v leads to %q, and that back to row %d", name, c.Value, c.Link, from.row)
				}
			}
		}
		if rules < 300 || brought < 30 || judged < 50 {
			t.Errorf("%s: %d rules, %d brought, %d checks", name, rules, brought, judged)
		}
	}
}

type place struct{ row, col int }
