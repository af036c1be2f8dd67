package xlsx

import (
	"strings"
	"testing"

	"bankwright/export"
)

// TestSpan: a sentence over several columns is one cell, wrapped, in a row that
// is high enough for it.
func TestSpan(t *testing.T) {
	s := &export.Sheet{Name: "Words", Widths: []float64{20, 30, 30}}
	s.Set(1, 1, export.Cell{Value: "short", Style: export.Words, Span: 3})
	s.Set(2, 2, export.Cell{Formula: `"a"`, Value: strings.Repeat("word ", 40), Style: export.Words, Span: 2})
	data, err := Bytes(&export.Book{Sheets: []*export.Sheet{s}})
	if err != nil {
		t.Fatal(err)
	}
	f := open(t, data)
	merged, err := f.GetMergeCells("Words")
	if err != nil || len(merged) != 2 || merged[0][0] != "A1:C1" || merged[1][0] != "B2:C2" {
		t.Errorf("merged are %v (%v)", merged, err)
	}
	one, _ := f.GetRowHeight("Words", 1)
	several, _ := f.GetRowHeight("Words", 2)
	if one > 20 || several < 40 || several > 80 { // 200 characters in a width of 60
		t.Errorf("rows are %v and %v points high", one, several)
	}
	id, _ := f.GetCellStyle("Words", "B2")
	style, err := f.GetStyle(id)
	if err != nil || style.Alignment == nil || !style.Alignment.WrapText {
		t.Errorf("the sentence is not wrapped (%v)", err)
	}
}

// TestPrintedPart: of a sheet of which only a part is printed, with its title above the
// page, the file says so.
func TestPrintedPart(t *testing.T) {
	s := &export.Sheet{Name: "Hours & days", Widths: []float64{12, 12, 12}, FreezeRows: 5,
		Print: export.Print{RepeatRows: 5, From: 4, ToRow: 7, ToCol: 2, Header: "Hours & days", Footer: "file"}}
	s.Set(9, 3, export.Cell{Value: 1.0})
	data, err := Bytes(&export.Book{Title: "Hours", Sheets: []*export.Sheet{s}})
	if err != nil {
		t.Fatal(err)
	}
	f := open(t, data)
	names := map[string]string{}
	for _, n := range f.GetDefinedName() {
		names[n.Name] = n.RefersTo
	}
	if a, h := names["_xlnm.Print_Area"], names["_xlnm.Print_Titles"]; a != "'Hours & days'!$A$4:$B$7" || h != "'Hours & days'!$4:$5" {
		t.Errorf("printed is %s with the heads %s", a, h)
	}
	if head, err := f.GetHeaderFooter(s.Name); err != nil || head.OddHeader != "&L&BHours && days" {
		t.Errorf("the header is %+v, %v", head, err)
	}
}
