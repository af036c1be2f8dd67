package xlsx

import (
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/xuri/excelize/v2"

	"bankwright/export"
)

// written is a file of the test's.
func written(t testing.TB, data []byte) string {
	t.Helper()
	path := filepath.Join(t.TempDir(), "book.xlsx")
	if err := os.WriteFile(path, data, 0o644); err != nil {
		t.Fatal(err)
	}
	return path
}

// TestReadCells: what was written is read, and what the library changes in it.
func TestReadCells(t *testing.T) {
	data, err := Bytes(sample())
	if err != nil {
		t.Fatal(err)
	}
	f := open(t, data)
	const sheet = "Prices & more"
	percent, date := 9, 14
	styled := func(cell string, s excelize.Style) {
		id, err := f.NewStyle(&s)
		if err != nil {
			t.Fatal(err)
		}
		if err := f.SetCellStyle(sheet, cell, cell, id); err != nil {
			t.Fatal(err)
		}
	}
	own, quotedPercent, duration := "0.0 %", `0.0" % of all"`, "[hh]:mm"
	for cell, v := range map[string]any{"B10": 0.8, "B11": 46000.0, "B12": "text", "B13": true, "B14": 0.5, "B15": 0.5, "B16": 0.5, "B17": "a & <b>", "B18": -1.5e-9} {
		if err := f.SetCellValue(sheet, cell, v); err != nil {
			t.Fatal(err)
		}
	}
	for cell, formula := range map[string]string{"H2": "FALSE()", "I2": "true()", "J2": "TRUE()+1"} { // as LibreOffice stores truths, the first two
		if err := f.SetCellValue(sheet, cell, len(formula)%2); err != nil {
			t.Fatal(err)
		}
		if err := f.SetCellFormula(sheet, cell, formula); err != nil {
			t.Fatal(err)
		}
	}
	styled("B10", excelize.Style{NumFmt: percent})
	styled("B11", excelize.Style{NumFmt: date})
	styled("B14", excelize.Style{CustomNumFmt: &own})
	styled("B15", excelize.Style{CustomNumFmt: &quotedPercent})
	styled("B16", excelize.Style{CustomNumFmt: &duration})
	if err := f.SetCellRichText(sheet, "B19", []excelize.RichTextRun{{Text: "one "}, {Text: "two", Font: &excelize.Font{Bold: true}}}); err != nil {
		t.Fatal(err)
	}
	buf, err := f.WriteToBuffer()
	if err != nil {
		t.Fatal(err)
	}
	r, err := Open(written(t, buf.Bytes()))
	if err != nil {
		t.Fatal(err)
	}
	defer r.Close()
	if got := strings.Join(r.Sheets(), ", "); got != sheet+", Lists" {
		t.Errorf("sheets %s", got)
	}
	s, err := r.Read(sheet, 100)
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct {
		row, col int
		want     export.ReturnedCell
	}{
		{2, 1, export.ReturnedCell{Value: "=1+1"}},
		{2, 2, export.ReturnedCell{Value: 2.5}},
		{2, 4, export.ReturnedCell{Value: 5.0, Formula: true}},
		{2, 5, export.ReturnedCell{Value: "a & b", Formula: true}},
		{2, 6, export.ReturnedCell{Value: true, Formula: true}},
		{2, 8, export.ReturnedCell{Value: false, Formula: true, Truth: true}},
		{2, 9, export.ReturnedCell{Value: true, Formula: true, Truth: true}},
		{2, 10, export.ReturnedCell{Value: "0", Formula: true}}, // the library marks what a formula gives as a text
		{2, 7, export.ReturnedCell{Formula: true}},
		{3, 2, export.ReturnedCell{}},
		{10, 2, export.ReturnedCell{Value: 0.8, Percent: true}},
		{11, 2, export.ReturnedCell{Value: 46000.0, Date: true}},
		{12, 2, export.ReturnedCell{Value: "text"}},
		{13, 2, export.ReturnedCell{Value: true}},
		{14, 2, export.ReturnedCell{Value: 0.5, Percent: true}},
		{15, 2, export.ReturnedCell{Value: 0.5}},
		{16, 2, export.ReturnedCell{Value: 0.5, Date: true}},
		{17, 2, export.ReturnedCell{Value: "a & <b>"}},
		{18, 2, export.ReturnedCell{Value: -1.5e-9}},
		{19, 2, export.ReturnedCell{Value: "one two"}},
	} {
		if got := s.At(c.row, c.col); got != c.want {
			t.Errorf("row %d column %d: %+v, want %+v", c.row, c.col, got, c.want)
		}
	}
	if _, err := r.Read("Elsewhere", 0); err == nil {
		t.Error("a sheet that is not there was read")
	}
}

// TestEscaped: characters that XML cannot hold stand as _xHHHH_, and what only looks so
// is written with an escaped first character.
func TestEscaped(t *testing.T) {
	for in, want := range map[string]string{
		"": "", "plain": "plain", "_x0041_b": "Ab", "a_x000A_b": "a\nb", "_x005F_x0041_": "_x0041_", "_xD83D__xDE00_": "\U0001F600", "_x00": "_x00", "_xzzzz_": "_xzzzz_",
	} {
		if got := unescaped(in); got != want {
			t.Errorf("%q: %q, want %q", in, got, want)
		}
	}
	s := sample()
	s.Sheets[0].Set(2, 1, export.Cell{Value: "_x0041_"})
	data, err := Bytes(s)
	if err != nil {
		t.Fatal(err)
	}
	r, err := Open(written(t, data))
	if err != nil {
		t.Fatal(err)
	}
	defer r.Close()
	if sheet, err := r.Read(s.Sheets[0].Name, 0); err != nil || sheet.At(2, 1).Value != "_x0041_" {
		t.Errorf("%v %v", sheet.At(2, 1), err)
	}
}

// TestTextStaysText: what a scenario says is text in every look, whatever it begins
// with: no formula, no link out of the workbook, nothing cut but by a word.
func TestTextStaysText(t *testing.T) {
	texts := []string{
		"=1+1", "+cmd|' /c calc'!A0", "@SUM(A1)", "-2+3|'x'!A1", `=HYPERLINK("http://x","y")`, "\t=1+1", "'=1+1", "http://x", "\u202Eright to left \u05D0", "\U0001F600", `a"b`, "<f>1</f>", "&amp;", "]]>",
	}
	s := &export.Sheet{Name: "Texts", Print: export.Print{Footer: "=1+1 &A"}}
	for i, text := range texts {
		for look := export.Plain; look <= export.Link; look++ {
			s.Set(i+1, int(look)+1, export.Cell{Value: text, Style: look})
		}
	}
	s.Set(len(texts)+1, 1, export.Cell{Value: strings.Repeat("=", 40_000)})
	data, err := Bytes(&export.Book{Title: "=1+1", Sheets: []*export.Sheet{s}})
	if err != nil {
		t.Fatal(err)
	}
	f := open(t, data)
	f.Pkg.Range(func(name, _ any) bool {
		if strings.Contains(fmt.Sprint(name), "externalLink") {
			t.Errorf("a link out of the workbook: %v", name)
		}
		return true
	})
	r, err := Open(written(t, data))
	if err != nil {
		t.Fatal(err)
	}
	defer r.Close()
	sheet, err := r.Read("Texts", 1000)
	if err != nil {
		t.Fatal(err)
	}
	for i, text := range texts {
		for look := export.Plain; look <= export.Link; look++ {
			name, err := excelize.CoordinatesToCellName(int(look)+1, i+1)
			if err != nil {
				t.Fatal(err)
			}
			if got := sheet.At(i+1, int(look)+1); got.Value != text || got.Formula {
				t.Errorf("%s: %+v, want the text %q", name, got, text)
			}
			if linked, target, _ := f.GetCellHyperLink("Texts", name); linked {
				t.Errorf("%s: a link to %s", name, target)
			}
		}
	}
	if long, _ := sheet.At(len(texts)+1, 1).Value.(string); len(long) != longestText || !strings.HasSuffix(long, "(cut: the text is longer than a cell can hold)") {
		t.Errorf("a long text has %d characters", len(long))
	}
}

// TestProtection: a sheet with formulas is protected without a password, and only its
// inputs are not locked; one without formulas is open.
func TestProtection(t *testing.T) {
	data, err := Bytes(sample())
	if err != nil {
		t.Fatal(err)
	}
	f := open(t, data)
	const sheet = "Prices & more"
	for _, c := range []struct {
		cell string
		open bool
	}{{"B2", true}, {"C2", true}, {"B3", true}, {"D2", false}, {"A2", false}} {
		id, err := f.GetCellStyle(sheet, c.cell)
		if err != nil {
			t.Fatal(err)
		}
		st, err := f.GetStyle(id)
		if err != nil {
			t.Fatal(err)
		}
		if open := st.Protection != nil && !st.Protection.Locked; open != c.open {
			t.Errorf("%s can be changed: %v", c.cell, open)
		}
	}
	for part, want := range map[string]string{"xl/worksheets/sheet1.xml": `<sheetProtection sheet="true"`, "xl/worksheets/sheet2.xml": ""} {
		text := partsOf(t, data)[part]
		at := strings.Index(text, "<sheetProtection")
		if (at >= 0) != (want != "") || at >= 0 && !strings.HasPrefix(text[at:], want) || strings.Contains(text, "hashValue") || strings.Contains(text, "password=") {
			t.Errorf("%s: %s", part, text)
		}
	}
}
