package xlsx

import (
	"archive/zip"
	"bytes"
	"fmt"
	"runtime"
	"strings"
	"testing"

	"bankwright/engine/oracle"
	"bankwright/export"
)

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
	content := map[string]pieces{}
	for name, text := range parts {
		content[name] = pieces{[]byte(text)}
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

// returned is a file that came back, and what is told of it.
type returned struct {
	what string
	data []byte
	want string
}

// hostile are files that are no workbook, or made to do harm.
func hostile(t testing.TB) []returned {
	good, err := Bytes(sample())
	if err != nil {
		t.Fatal(err)
	}
	million := strings.Builder{}
	for i := range 1_000_000 {
		fmt.Fprintf(&million, `<row r="%d"><c r="A%d"><v>1</v></c></row>`, i+1, i+1)
	}
	bomb := sheetOf(`<row r="1"><c r="A1"><v>` + strings.Repeat("1", 300<<20) + `</v></c></row>`)
	return []returned{
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
		{"not a number", packed(t, sheetOf(`<row r="1"><c r="A1"><v>NaN</v></c></row>`), "<sst/>"), "A1 on the sheet \"Answer\" is no number"},
		{"an endless number", packed(t, sheetOf(`<row r="1"><c r="A1"><v>-Inf</v></c></row>`), "<sst/>"), "A1 on the sheet \"Answer\" is no number"},
		{"a number of another base", packed(t, sheetOf(`<row r="1"><c r="A1"><v>0x1p4</v></c></row>`), "<sst/>"), "A1 on the sheet \"Answer\" is no number"},
		{"broken XML", packed(t, `<worksheet><sheetData><row r="1"><c r="A1"></row>`, "<sst/>"), "does not end"},
		{"another's workbook", packed(t, sheetOf(`<row r="1"><c r="A1"><v>1</v></c></row>`), "<sst/>"), "is not a workbook of ours"},
	}
}

// TestHostile: what is no workbook, or made to do harm, is refused in a sentence
// before it takes memory.
func TestHostile(t *testing.T) {
	oracle.Measured(t)
	for _, c := range hostile(t) {
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
	oracle.OneCore(f)
	good, err := Bytes(sample())
	if err != nil {
		f.Fatal(err)
	}
	f.Add(good)
	f.Add(good[:len(good)/2])
	f.Add([]byte("PK\x03\x04"))
	for _, c := range hostile(f) {
		if len(c.data) < 20_000 { // those that unpack to little
			f.Add(c.data)
		}
	}
	f.Add(packed(f, sheetOf(`<row r="1"><c r="A1" t="s"><v>0</v></c><c t="b"><v>1</v></c><c t="e"><v>#N/A</v></c></row>`), "<sst><si><t>x</t><rPh><t>y</t></rPh></si></sst>"))
	f.Fuzz(func(t *testing.T, data []byte) {
		defer oracle.Within(t, oracle.Fuzzed)()
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
		defer oracle.Within(t, oracle.Fuzzed)()
		r := &File{parts: map[string]*zip.File{}}
		data := packed(t, sheet, texts)
		if err := r.begin(bytes.NewReader(data), int64(len(data))); err != nil {
			sentence(t, err)
			return
		}
		s, err := r.Read("Answer", 0)
		if err != nil {
			sentence(t, err)
		} else if s.Rows > export.MostRows || s.Cols > export.MostColumns {
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
