package xlsx

import (
	"bytes"
	"image"
	"image/png"
	"strings"
	"testing"

	"bankwright/export"
)

// TestPictures: pictures stand on their sheet in the size asked for, each on a page of
// its own, with words for who cannot see them; the same book gives the same bytes.
func TestPictures(t *testing.T) {
	var b bytes.Buffer
	if err := png.Encode(&b, image.NewGray(image.Rect(0, 0, 400, 100))); err != nil {
		t.Fatal(err)
	}
	book := func() *export.Book {
		s := &export.Sheet{Name: "Drawn", Widths: []float64{44, 12}, Breaks: []int{30}}
		s.Set(1, 1, export.Cell{Value: "Drawn"})
		s.Set(60, 2, export.Cell{Formula: "1+1", Value: 2.0})
		s.Pictures = []export.Picture{
			{Row: 5, Col: 1, Width: 200, Text: `=HYPERLINK("x") <b> ` + strings.Repeat("é", 2000), PNG: b.Bytes()},
			{Row: 30, Col: 1, Width: 800, Text: "second", PNG: b.Bytes()},
		}
		return &export.Book{Title: "Pictures", Sheets: []*export.Sheet{{Name: "First"}, s}}
	}
	data, err := Bytes(book())
	if err != nil {
		t.Fatal(err)
	}
	for range 5 {
		if again, err := Bytes(book()); err != nil || !bytes.Equal(data, again) {
			t.Fatalf("the same pictures give other bytes (%v)", err)
		}
	}
	f := open(t, data)
	for cell, want := range map[string]string{"A5": `=HYPERLINK("x") <b> `, "A30": "second"} {
		p, err := f.GetPictures("Drawn", cell)
		if err != nil || len(p) != 1 || !bytes.Equal(p[0].File, b.Bytes()) {
			t.Errorf("%s: %d pictures (%v)", cell, len(p), err)
		} else if text := p[0].Format.AltText; !strings.HasPrefix(text, want) || len([]rune(text)) > longestAlt {
			t.Errorf("%s: %q", cell, text)
		}
	}
	if v, _ := f.GetCellFormula("Drawn", "B60"); v != "1+1" {
		t.Errorf("the cell below holds %q", v)
	}
	parts := partsOf(t, data)
	if !strings.Contains(parts["xl/worksheets/sheet2.xml"], "<rowBreaks") || strings.Contains(parts["xl/worksheets/sheet1.xml"], "<drawing ") {
		t.Error("no new page begins, or the pictures are on another sheet")
	}
	// In units of 1/9525 pixel: 200 by 50, and 800 by 200.
	for _, size := range []string{`cx="1905000" cy="476250"`, `cx="7620000" cy="1905000"`} {
		if d := parts["xl/drawings/drawing1.xml"]; !strings.Contains(d, size) {
			t.Errorf("no picture has the size %s: %s", size, d)
		}
	}
	if _, err := Bytes(&export.Book{Sheets: []*export.Sheet{{Name: "S", Pictures: []export.Picture{{Row: 1, Col: 1, Width: 9, PNG: []byte("none")}}}}}); err == nil {
		t.Error("what is no picture was written")
	}
}
