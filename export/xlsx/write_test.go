package xlsx

import (
	"archive/zip"
	"bytes"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/xuri/excelize/v2"

	"bankwright/export"
)

// sample is a small book with everything that a file can hold.
func sample() *export.Book {
	low, high := 0.0, 5.0
	s := &export.Sheet{
		Name: "Prices & more", Widths: []float64{20, 0, 8}, FreezeRows: 1, FreezeCols: 1,
		Print: export.Print{Landscape: true, RepeatRows: 1, Footer: "file & date"},
		Validations: []export.Validation{
			{Range: "B2:B2", Min: &low, Max: &high, Title: "Price", Error: "From 0 to 5."},
			{Range: "B3:B3", Whole: true, Required: true, Title: "Count", Error: "A whole number."},
			{Range: "C2:C2", List: "Lists!$A$1:$A$2", Title: "Colour", Error: "Choose one."},
		},
		Marks: []export.Mark{{Range: "D2:D3", Word: "stop", Style: export.Stopped}},
	}
	s.Set(1, 1, export.Cell{Value: "Name", Style: export.HeadText})
	s.Set(2, 1, export.Cell{Value: "=1+1", Style: export.Label})
	s.Set(2, 2, export.Cell{Value: 2.5, Style: export.Input, Format: "#,##0.00"})
	s.Set(2, 3, export.Cell{Value: "green", Style: export.InputText})
	s.Set(2, 4, export.Cell{Formula: "B2*2", Value: 5.0, Style: export.Computed})
	s.Set(2, 5, export.Cell{Formula: `IF(B2>1,"a & b","")`, Value: "a & b"})
	s.Set(2, 6, export.Cell{Formula: "B2>1", Value: true})
	s.Set(2, 7, export.Cell{Formula: `""`, Value: ""})
	s.Set(3, 1, export.Cell{Value: "go", Style: export.Link, Link: "Lists!A1"})
	s.Set(3, 2, export.Cell{Style: export.Input})
	lists := &export.Sheet{Name: "Lists"}
	lists.Set(1, 1, export.Cell{Value: "green"})
	lists.Set(2, 1, export.Cell{Value: false})
	return &export.Book{Title: "Sample", Sheets: []*export.Sheet{s, lists}, Names: []export.Name{{Name: "tolerance", RefersTo: "Lists!$A$1"}}}
}

func open(t *testing.T, data []byte) *excelize.File {
	t.Helper()
	f, err := excelize.OpenReader(bytes.NewReader(data))
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { f.Close() })
	return f
}

func TestCells(t *testing.T) {
	data, err := Bytes(sample())
	if err != nil {
		t.Fatal(err)
	}
	f := open(t, data)
	for _, c := range []struct{ cell, raw, formula string }{
		{"A2", "=1+1", ""}, {"B2", "2.5", ""}, {"C2", "green", ""}, {"D2", "5", "B2*2"},
		{"E2", "a & b", `IF(B2>1,"a & b","")`}, {"F2", "1", "B2>1"}, {"G2", "", `""`}, {"B3", "", ""},
	} {
		raw, err := f.GetCellValue("Prices & more", c.cell, excelize.Options{RawCellValue: true})
		if err != nil || raw != c.raw {
			t.Errorf("%s = %q (%v), want %q", c.cell, raw, err, c.raw)
		}
		if formula, _ := f.GetCellFormula("Prices & more", c.cell); formula != c.formula {
			t.Errorf("%s has formula %q, want %q", c.cell, formula, c.formula)
		}
	}
	if shown, _ := f.GetCellValue("Prices & more", "B2"); shown != "2.50" {
		t.Errorf("B2 shows %q", shown)
	}
	rules, err := f.GetDataValidations("Prices & more")
	if err != nil || len(rules) != 3 {
		t.Fatalf("validations: %v %v", rules, err)
	}
	if v := rules[0]; !v.AllowBlank || v.Type != "decimal" {
		t.Errorf("a price: %+v", v)
	}
	if v := rules[1]; v.AllowBlank || v.Type != "whole" {
		t.Errorf("a count: %+v", v)
	}
	if ok, link, _ := f.GetCellHyperLink("Prices & more", "A3"); !ok || link != "Lists!A1" {
		t.Errorf("link %v %q", ok, link)
	}
}

// TestTexts: whatever a scenario says, its text is a text, and fits.
func TestTexts(t *testing.T) {
	for _, c := range []struct{ text, want string }{
		{"=HYPERLINK(\"x\")", "=HYPERLINK(\"x\")"},
		{"+1", "+1"}, {"-1", "-1"}, {"@a", "@a"},
		{"bell\a and \x00 zero", "bell and  zero"},
		{"two\nlines", "two\nlines"},
		{" spaces ", " spaces "},
		{"_x0041_", "_x0041_"},
		{"a\uFFFEb", "ab"},
	} {
		s := &export.Sheet{Name: "S"}
		s.Set(1, 1, export.Cell{Value: c.text})
		data, err := Bytes(&export.Book{Sheets: []*export.Sheet{s}})
		if err != nil {
			t.Fatal(err)
		}
		f := open(t, data)
		if got, _ := f.GetCellValue("S", "A1"); got != c.want {
			t.Errorf("%q became %q", c.text, got)
		}
		if formula, _ := f.GetCellFormula("S", "A1"); formula != "" {
			t.Errorf("%q became the formula %q", c.text, formula)
		}
	}
	long := clean(strings.Repeat("é𝄞", 20000))
	if n := utf16Len(long); n > longestText || n < longestText-3 {
		t.Errorf("a long text has %d characters left", n)
	}
	if !strings.HasSuffix(long, "longer than a cell can hold)") {
		t.Error("a text that is cut does not say so")
	}
}

func TestLimits(t *testing.T) {
	s := &export.Sheet{Name: "S"}
	s.Set(2, 1, export.Cell{Formula: strings.Repeat("1+", 5000) + "1", Value: 1.0})
	if _, err := Bytes(&export.Book{Sheets: []*export.Sheet{s}}); err == nil || !strings.Contains(err.Error(), "row 2") {
		t.Errorf("a formula that is too long: %v", err)
	}
	if _, err := Bytes(&export.Book{}); err == nil {
		t.Error("a book without sheets was written")
	}
}

// TestSameBytes: the same book gives the same bytes, every time.
func TestSameBytes(t *testing.T) {
	first, err := Bytes(sample())
	if err != nil {
		t.Fatal(err)
	}
	for range 20 {
		again, err := Bytes(sample())
		if err != nil {
			t.Fatal(err)
		}
		if !bytes.Equal(first, again) {
			t.Fatal("two writes differ")
		}
	}
}

func TestChanged(t *testing.T) {
	dir := t.TempDir()
	path := filepath.Join(dir, "a.xlsx")
	if err := Write(path, sample()); err != nil {
		t.Fatal(err)
	}
	wantChanged(t, path, false)
	f, err := excelize.OpenFile(path)
	if err != nil {
		t.Fatal(err)
	}
	if err := f.SetCellValue("Prices & more", "B2", 3); err != nil {
		t.Fatal(err)
	}
	if err := f.SaveAs(filepath.Join(dir, "b.xlsx")); err != nil {
		t.Fatal(err)
	}
	wantChanged(t, filepath.Join(dir, "b.xlsx"), true)
	other := filepath.Join(dir, "c.xlsx")
	if err := os.WriteFile(other, []byte("not a workbook"), 0o644); err != nil {
		t.Fatal(err)
	}
	wantChanged(t, other, true)
	if err := os.WriteFile(other, nil, 0o644); err != nil {
		t.Fatal(err)
	}
	wantChanged(t, other, true)
	var empty bytes.Buffer
	if err := zip.NewWriter(&empty).Close(); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(other, empty.Bytes(), 0o644); err != nil {
		t.Fatal(err)
	}
	wantChanged(t, other, true)
	if _, err := Changed(filepath.Join(dir, "none.xlsx")); err == nil {
		t.Error("a file that is not there was not reported")
	}
}

func wantChanged(t *testing.T, path string, want bool) {
	t.Helper()
	if got, err := Changed(path); err != nil || got != want {
		t.Errorf("Changed(%s) = %v, %v; want %v", filepath.Base(path), got, err, want)
	}
}

// TestWhole: a failed write leaves the old file and nothing else; a good one
// leaves no temporary file.
func TestWhole(t *testing.T) {
	dir := t.TempDir()
	path := filepath.Join(dir, "a.xlsx")
	if err := Write(path, sample()); err != nil {
		t.Fatal(err)
	}
	if err := os.Chmod(path, 0o600); err != nil {
		t.Fatal(err)
	}
	before, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	if err := Write(path, &export.Book{}); err == nil {
		t.Fatal("an empty book was written")
	}
	if after, _ := os.ReadFile(path); !bytes.Equal(before, after) {
		t.Error("the old file was changed by a failed write")
	}
	if err := Write(path, sample()); err != nil {
		t.Fatal(err)
	}
	if info, _ := os.Stat(path); info.Mode().Perm() != 0o600 {
		t.Errorf("the permissions became %v", info.Mode().Perm())
	}
	if err := Write(filepath.Join(dir, "folder", "a.xlsx"), sample()); err == nil {
		t.Error("a file was written into a folder that is not there")
	}
	if err := os.Mkdir(filepath.Join(dir, "taken.xlsx"), 0o755); err != nil {
		t.Fatal(err)
	}
	if err := Write(filepath.Join(dir, "taken.xlsx"), sample()); err == nil {
		t.Error("a folder was replaced by a file")
	}
	entries, err := os.ReadDir(dir)
	if err != nil {
		t.Fatal(err)
	}
	if len(entries) != 2 {
		t.Errorf("left behind: %v", entries)
	}
}
