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
