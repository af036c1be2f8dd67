package xlsx

import (
	"archive/zip"
	"bytes"
	"fmt"
	"os"
	"path/filepath"
	"runtime"
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
			name := cellName(i+1, int(look)+1)
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
		text := string(unpacked(t, data, part))
		at := strings.Index(text, "<sheetProtection")
		if (at >= 0) != (want != "") || at >= 0 && !strings.HasPrefix(text[at:], want) || strings.Contains(text, "hashValue") || strings.Contains(text, "password=") {
			t.Errorf("%s: %s", part, text)
		}
	}
}

// unpacked is a part of a file.
func unpacked(t *testing.T, data []byte, name string) []byte {
	t.Helper()
	z, err := zip.NewReader(bytes.NewReader(data), int64(len(data)))
	if err != nil {
		t.Fatal(err)
	}
	for _, p := range z.File {
		if p.Name == name {
			b, err := part(p, 1<<20)
			if err != nil {
				t.Fatal(err)
			}
			return b
		}
	}
	t.Fatal("there is no part " + name)
	return nil
}

// The parts of a workbook in small.
const (
	typesPart = `<Types/>`
	mainRels  = `<Relationships><Relationship Id="r1" Type="t/worksheet" Target="worksheets/sheet1.xml"/><Relationship Id="r2" Type="t/sharedStrings" Target="sharedStrings.xml"/></Relationships>`
	mainPart  = `<workbook xmlns:r="x"><sheets><sheet name="Answer" r:id="r1"/></sheets></workbook>`
)

// packed is a workbook in small with a sheet and shared texts.
func packed(t testing.TB, sheet, texts string) []byte {
	t.Helper()
	return zipped(t, map[string]string{
		"[Content_Types].xml": typesPart, "xl/_rels/workbook.xml.rels": mainRels, "xl/workbook.xml": mainPart,
		"xl/worksheets/sheet1.xml": sheet, "xl/sharedStrings.xml": texts,
	})
}

func zipped(t testing.TB, parts map[string]string) []byte {
	t.Helper()
	content := map[string][]byte{}
	for name, text := range parts {
		content[name] = []byte(text)
	}
	data, err := pack(content)
	if err != nil {
		t.Fatal(err)
	}
	return data
}

// lying gives the first part of a packed file another size in the directory than it
// has.
func lying(t testing.TB, data []byte, part string, size uint32) []byte {
	t.Helper()
	out := bytes.Clone(data)
	at := bytes.LastIndex(out, []byte(part)) - 46 // the entry of the central directory begins so far before its name
	if at < 0 || !bytes.HasPrefix(out[at:], []byte("PK\x01\x02")) {
		t.Fatal("no directory")
	}
	for i := range 4 {
		out[at+24+i] = byte(size >> (8 * i))
	}
	return out
}

func sheetOf(rows string) string { return `<worksheet><sheetData>` + rows + `</sheetData></worksheet>` }

// TestHostile: what is no workbook, or made to do harm, is refused in a sentence
// before it takes memory.
func TestHostile(t *testing.T) {
	good, err := Bytes(sample())
	if err != nil {
		t.Fatal(err)
	}
	million := strings.Builder{}
	for i := range 1_000_000 {
		fmt.Fprintf(&million, `<row r="%d"><c r="A%d"><v>1</v></c></row>`, i+1, i+1)
	}
	bomb := sheetOf(`<row r="1"><c r="A1"><v>` + strings.Repeat("1", 300<<20) + `</v></c></row>`)
	for _, c := range []struct {
		what string
		data []byte
		want string
	}{
		{"nothing", nil, "is empty"},
		{"a text", []byte("price,1050\n"), "is not a workbook in the form .xlsx"},
		{"half a file", good[:len(good)/2], "is broken: its end is missing"},
		{"an old or encrypted one", append([]byte{0xD0, 0xCF, 0x11, 0xE0, 0xA1, 0xB1, 0x1A, 0xE1}, make([]byte, 600)...), "is protected by a password, or of the old form .xls"},
		{"OpenDocument", zipped(t, map[string]string{"mimetype": "application/vnd.oasis.opendocument.spreadsheet", "content.xml": "<x/>"}), "is an OpenDocument file"},
		{"another zip", zipped(t, map[string]string{"a.txt": "a"}), "is not a workbook in the form .xlsx"},
		{"no sheets", zipped(t, map[string]string{"[Content_Types].xml": "<Types/>", "xl/workbook.xml": "<workbook/>"}), "it has no sheets"},
		{"a sheet that is missing", zipped(t, map[string]string{"[Content_Types].xml": typesPart, "xl/_rels/workbook.xml.rels": mainRels, "xl/workbook.xml": mainPart}), `the sheet "Answer" cannot be found`},
		{"a million rows", packed(t, sheetOf(million.String()), "<sst/>"), "larger than a workbook of ours"},
		{"as many cells in little room", packed(t, sheetOf("<row>"+strings.Repeat(`<c t="b"/>`, 16_000)+strings.Repeat(`<c r="A9"/>`, 600_000)), "<sst/>"), "has far more cells"},
		{"a bomb", packed(t, bomb, "<sst/>"), "is larger than a workbook of ours, unpacked"},
		{"a bomb that says it is small", lying(t, packed(t, bomb, "<sst/>"), "xl/worksheets/sheet1.xml", 100), "is broken: its part"},
		{"a bomb of texts", packed(t, sheetOf(""), "<sst><si><t>"+strings.Repeat("a", 100<<20)+"</t></si></sst>"), "is larger than a workbook of ours, unpacked"},
		{"entities", packed(t, `<!DOCTYPE x [<!ENTITY a "b">]>`+sheetOf(`<row r="1"><c r="A1"><v>&a;</v></c></row>`), "<sst/>"), "declares entities of its own"},
		{"an entity", packed(t, sheetOf(`<row r="1"><c r="A1"><v>&a;</v></c></row>`), "<sst/>"), "cannot be read"},
		{"deep nesting", packed(t, strings.Repeat("<a>", 1_000_000), "<sst/>"), "nested too deep"},
		{"a cell far out", packed(t, sheetOf(`<row r="1"><c r="ZZZZ1"><v>1</v></c></row>`), "<sst/>"), `has a cell "ZZZZ1"`},
		{"a row far down", packed(t, sheetOf(`<row r="99999999"><c><v>1</v></c></row>`), "<sst/>"), `has a row "99999999"`},
		{"a text that is not there", packed(t, sheetOf(`<row r="1"><c r="A1" t="s"><v>7</v></c></row>`), "<sst/>"), "A1 on the sheet \"Answer\" has a text that is not there"},
		{"no number", packed(t, sheetOf(`<row r="1"><c r="A1"><v>1,050</v></c></row>`), "<sst/>"), "A1 on the sheet \"Answer\" is no number"},
		{"broken XML", packed(t, `<worksheet><sheetData><row r="1"><c r="A1"></row>`, "<sst/>"), "does not end"},
		{"another's workbook", packed(t, sheetOf(`<row r="1"><c r="A1"><v>1</v></c></row>`), "<sst/>"), "is not a workbook of ours"},
	} {
		t.Run(c.what, func(t *testing.T) {
			path := written(t, c.data)
			var before, after runtime.MemStats
			runtime.GC()
			runtime.ReadMemStats(&before)
			err := readAll(path)
			runtime.ReadMemStats(&after)
			if err == nil || !strings.Contains(err.Error(), c.want) {
				t.Errorf("%v, want %s", err, c.want)
			}
			if used := (after.TotalAlloc - before.TotalAlloc) >> 20; used > 300 {
				t.Errorf("took %d MB in all", used)
			}
		})
	}
}

// readAll reads where a workbook comes from, and all its sheets.
func readAll(path string) error {
	f, err := Open(path)
	if err != nil {
		return err
	}
	defer f.Close()
	for _, s := range f.Sheets() {
		if _, err := f.Read(s, 0); err != nil {
			return err
		}
	}
	_, err = export.OriginOf(f)
	return err
}

// FuzzRead: whatever a file holds, reading it ends in cells or in a sentence.
func FuzzRead(f *testing.F) {
	good, err := Bytes(sample())
	if err != nil {
		f.Fatal(err)
	}
	f.Add(good)
	f.Add(good[:len(good)/2])
	f.Add([]byte("PK\x03\x04"))
	f.Add(packed(f, sheetOf(`<row r="1"><c r="A1" t="s"><v>0</v></c><c t="b"><v>1</v></c><c t="e"><v>#N/A</v></c></row>`), "<sst><si><t>x</t><rPh><t>y</t></rPh></si></sst>"))
	f.Fuzz(func(t *testing.T, data []byte) {
		r := &File{parts: map[string]*zip.File{}}
		if err := r.begin(bytes.NewReader(data), int64(len(data))); err != nil {
			sentence(t, err)
			return
		}
		for _, s := range r.Sheets() {
			if _, err := r.Read(s, 0); err != nil {
				sentence(t, err)
			}
		}
	})
}

// FuzzSheet: the same for the text of a sheet, which need not be packed.
func FuzzSheet(f *testing.F) {
	f.Add(sheetOf(`<row r="2"><c r="B2" s="1"><f>A1</f><v>1e5</v></c></row>`), "<sst><si><t>_x0041_</t></si></sst>")
	f.Add(sheetOf(`<row><c t="inlineStr"><is><r><t>a</t></r></is></c><c t="d"><v>2026-01-01</v></c></row>`), "")
	f.Fuzz(func(t *testing.T, sheet, texts string) {
		r := &File{parts: map[string]*zip.File{}}
		data := packed(t, sheet, texts)
		if err := r.begin(bytes.NewReader(data), int64(len(data))); err != nil {
			sentence(t, err)
			return
		}
		s, err := r.Read("Answer", 0)
		if err != nil {
			sentence(t, err)
		} else if s.Rows > lastRow || s.Cols > lastCol {
			t.Errorf("%d rows, %d columns", s.Rows, s.Cols)
		}
	})
}

// sentence wants an error to be one that goes on from a file's name.
func sentence(t *testing.T, err error) {
	t.Helper()
	first, _, _ := strings.Cut(err.Error(), " ")
	if first != "is" && first != "has" && first != "declares" && first != "cannot" {
		t.Errorf("%v is no sentence", err)
	}
}
