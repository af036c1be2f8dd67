package main

import (
	"archive/zip"
	"bytes"
	"compress/gzip"
	"fmt"
	"io"
	"math/rand/v2"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// hostileLogs are recordings that no instrument wrote.
func hostileLogs() []hostile {
	r := strings.Repeat
	text := edited(starterText(), `trial.a: battery = "large"`, `trial.a: log = "a.csv"`)
	const head = "time (s),voltage (V),current (A)\n"
	good := head + many(200, "%d,13.1,20\n")
	var packed bytes.Buffer
	w := gzip.NewWriter(&packed)
	io.WriteString(w, good)
	w.Close()
	random := rand.New(rand.NewPCG(1, 2))
	noise := make([]byte, 1<<20)
	for i := range noise {
		noise[i] = byte(random.Uint32())
	}
	var out []hostile
	for _, c := range []struct {
		name, log string
		status    int
		want      string
	}{
		{"nothing", "", 1, "a.csv: error: "},
		{"line ends alone", r("\n", 1_000_000), 1, "a.csv"},
		{"blanks alone", r(" ", 1_000_000), 1, "a.csv"},
		{"a header alone", head, 1, "a.csv"},
		{"one row", head + "0,13,20\n", 1, "The log gives no energy"},
		{"one line of ten million letters", r("a", 10_000_000), 1, "a.csv"},
		{"one line of ten million commas", r(",", 10_000_000), 1, "a.csv"},
		{"a header of a hundred thousand columns", "time (s),voltage (V),current (A)" + many(100_000, ",c%d") + "\n" + r("0,1,2\n", 10), 1, "a.csv"},
		{"a row of a million columns", good + r("1,", 1_000_000) + "\n", 1, "a row is longer than a million characters"},
		{"rows of ever more columns", head + func() string {
			var b strings.Builder
			for i := range 1500 {
				fmt.Fprintf(&b, "%d,13%s\n", i, r(",1", i))
			}
			return b.String()
		}(), 1, "more cells than the header"},
		{"a quote that is never closed", head + "0,13,20\n\"1,13,20\n" + r("2,13,20\n", 500_000), 1, "a.csv"},
		{"quotes alone", r(`"`, 5_000_000), 1, "a.csv"},
		{"quotes in quotes", head + r("\"\"\"\"\"\"0,1,2\n", 1000), 1, "a.csv"},
		{"a zero byte in a row", good + "200,13\x00,20\n201,13,20\n", 1, "not plain text"},
		{"zero bytes between letters", "t\x00i\x00m\x00e\x00\n\x00", 1, "a.csv"},
		{"zero bytes in the middle", good + r("\x00", 100_000), 1, "not plain text"},
		{"UTF-16", "\xff\xfe" + strings.Join(strings.Split(good, ""), "\x00") + "\x00", 1, "a.csv"},
		{"UTF-16 from the other end", "\xfe\xff\x00" + strings.Join(strings.Split(good, ""), "\x00"), 1, "a.csv"},
		{"Latin 1", strings.Replace(good, "current (A)", "current (A),gr\xf6\xdfe", 1), 0, ""},
		{"noise", string(noise), 1, "a.csv"},
		{"packed by gzip", packed.String(), 1, "a.csv"},
		{"packed as a workbook", "PK\x03\x04" + string(noise[:1000]), 1, "a.csv"},
		{"a picture", "\x89PNG\r\n\x1a\n" + string(noise[:1000]), 1, "a.csv"},
		{"JSON", `[{"time": 0, "voltage": 13, "current": 20}, {"time": 1, "voltage": 13, "current": 20}]`, 1, "a.csv"},
		{"a page of the web", "<html><body>404 not found</body></html>\n", 1, "a.csv"},
		{"numbers that are none", head + r("0,NaN,Inf\n1,nan,-inf\n2,Infinity,1e999\n", 100), 1, "a.csv"},
		{"times that are none", head + r("NaN,13,20\nInf,13,20\n-Inf,13,20\n1e400,13,20\n", 100), 1, "a.csv"},
		{"times beyond all", head + "0,13,20\n1e300,13,20\n1.5e300,13,20\n", 1, "a.csv"},
		{"times that go back", head + func() string {
			var b strings.Builder
			for i := range 10_000 {
				fmt.Fprintf(&b, "%d,13,20\n", 10_000-i)
			}
			return b.String()
		}(), 1, "a.csv"},
		{"the same time over and over", head + r("5,13,20\n", 100_000), 1, "a.csv"},
		{"dates that are none", "time,voltage (V),current (A)\n" + r("2026-99-99 99:99:99,13,20\n", 1000), 1, "a.csv"},
		{"years beyond all", "time,voltage (V),current (A)\n0001-01-01 00:00:00,13,20\n9999-12-31 23:59:59,13,20\n", 1, "a.csv"},
		{"a clock that jumps at midnight for ever", "time,voltage (V),current (A)\n" + r("23:59:59,13,20\n00:00:01,13,20\n", 20_000), 0, ""},
		{"powers beyond all", head + many(100, "%d,1e308,1e308\n"), 1, "The log gives no energy"},
		{"powers that swing beyond all", head + many(50, "%d,1e308,-1e308\n") + many(50, "10%d,1e308,1e308\n"), 1, "The log gives no energy"},
		{"zeros from below", head + many(200, "%d,-0.0,-0\n"), 1, "The log gives no energy"},
		{"a number of a million digits", head + "0,13,20\n1," + r("1", 900_000) + ",20\n2,13,20\n", 0, "a.csv"},
		{"commands to the terminal", head + "0,13,20\n1,\x1b[2J\x1b]0;x\x07,20\n2,13,20\n3,13,20\n", 0, "a.csv"},
		{"a column name that is a command to the terminal", "time (s),voltage (V),\x1b[2Jcurrent (A)\n" + many(100, "%d,13,20\n"), 1, "a.csv"},
		{"spreadsheet formulas", head + r("=1+1,=cmd|'/c calc'!A0,@SUM(1)\n", 100), 1, "a.csv"},
		{"columns of the same name", "time (s),voltage (V),voltage (V),current (A),current (A)\n" + many(100, "%d,13,14,20,21\n"), 1, "a.csv"},
		{"no end of the last line", head + many(100, "%d,13,20\n") + "100,13,2", 0, "a.csv"},
		{"carriage returns alone", strings.ReplaceAll(good, "\n", "\r"), 1, "a.csv"},
		{"line ends of all sorts", strings.Replace(strings.Replace(good, "\n50,", "\r\n50,", 1), "\n60,", "\n\r60,", 1), 0, ""},
		{"a preamble of a hundred thousand lines", r("# made by nobody\n", 100_000) + good, 1, "a.csv"},
		{"a byte order mark on every line", strings.ReplaceAll(good, "\n", "\n\ufeff"), 1, "a.csv"},
		{"delimiters of all sorts", r("0;1,2\t3|4\n", 10_000), 1, "a.csv"},
		{"two million rows of noise", head + r("x,y,z\n", 700_000), 1, "a.csv"},
	} {
		out = append(out, hostile{name: "log: " + c.name, text: text, and: map[string]string{"a.csv": c.log}, status: c.status, want: c.want})
	}
	return out
}

// part is a part of a packed file, by what it holds or by what its entry claims.
type part struct {
	name, text string
	raw        *zip.FileHeader // the text is packed already, and this is claimed of it
}

func archive(parts ...part) string {
	var b bytes.Buffer
	w := zip.NewWriter(&b)
	for _, p := range parts {
		var to io.Writer
		var err error
		if p.raw != nil {
			p.raw.Name = p.name
			to, err = w.CreateRaw(p.raw)
		} else {
			to, err = w.CreateHeader(&zip.FileHeader{Name: p.name, Method: zip.Deflate})
		}
		if err != nil {
			panic(err)
		}
		io.WriteString(to, p.text)
	}
	w.Close()
	return b.String()
}

// shelved is a small scenario, of which the workbooks are that come back.
var shelved = crates("[crate.a]\nmass = \"640 kg\"\n")

// bookParts are the parts of its workbook.
func bookParts(t *testing.T) []part {
	folder := t.TempDir()
	if err := os.WriteFile(filepath.Join(folder, "s.toml"), []byte(shelved), 0o644); err != nil {
		t.Fatal(err)
	}
	bankwright(t, "book", filepath.Join(folder, "s.toml"), "-o", filepath.Join(folder, "s.xlsx"))
	z, err := zip.OpenReader(filepath.Join(folder, "s.xlsx"))
	if err != nil {
		t.Fatal(err)
	}
	defer z.Close()
	var parts []part
	for _, f := range z.File {
		r, err := f.Open()
		if err != nil {
			t.Fatal(err)
		}
		text, err := io.ReadAll(r)
		r.Close()
		if err != nil {
			t.Fatal(err)
		}
		parts = append(parts, part{name: f.Name, text: string(text)})
	}
	return parts
}

// hostileBooks are workbooks that come back as nobody would send them.
func hostileBooks(t *testing.T) []hostile {
	parts := bookParts(t)
	r := strings.Repeat
	const inputs, main = "xl/worksheets/sheet3.xml", "xl/workbook.xml"
	with := func(name string, change func(string) string) string {
		list := append([]part(nil), parts...)
		for i, p := range list {
			if p.name == name {
				list[i].text = change(p.text)
				if list[i].text == p.text {
					panic(name + " stays as it is")
				}
				return archive(list...)
			}
		}
		panic("no part " + name)
	}
	swap := func(name, old, fresh string) string {
		return with(name, func(s string) string { return strings.Replace(s, old, fresh, 1) })
	}
	cell := func(fresh string) string { return swap(inputs, "<v>640</v>", fresh) }
	bomb := archive(part{name: "b.txt", text: r("\x00", 20<<20)})
	lie := func(size uint64) string {
		list := append([]part(nil), parts...)
		list = append(list, part{name: "xl/extra.xml", text: "x", raw: &zip.FileHeader{Method: zip.Deflate, UncompressedSize64: size, CompressedSize64: 1}})
		return archive(list...)
	}
	whole := archive(parts...)
	var out []hostile
	for _, c := range []struct {
		name, book string
		status     int
		want       string
	}{
		{"as it was", whole, 0, "No input was changed"},
		{"cut within the directory", whole[:len(whole)-30], 1, "is broken"},
		{"cut in half", whole[:len(whole)/2], 1, "is broken"},
		{"cut at its first bytes", whole[:3], 1, "is broken"},
		{"bytes turned", strings.Map(func(r rune) rune { return r ^ 1 }, whole[:1000]), 1, "is not a workbook"},
		{"something before it", "#!/bin/sh\nexit\n" + whole, 0, ""},
		{"something behind it", whole + r("x", 1000), 0, ""},
		{"two archives one after the other", whole + whole, 0, ""},
		{"an archive within an archive", archive(part{name: "a.xlsx", text: whole}), 1, "is not a workbook"},
		{"an archive of archives", archive(append([]part{{name: "nested.zip", text: bomb}}, parts...)...), 0, "No input was changed"},
		{"an archive in place of a sheet", with(inputs, func(string) string { return bomb }), 1, "is broken"},
		{"an archive of ten thousand parts", archive(func() (list []part) {
			for i := range 10_000 {
				list = append(list, part{name: fmt.Sprintf("p%d", i)})
			}
			return list
		}()...), 1, "has more than"},
		{"a part that claims to be as large as the world", lie(1 << 62), 0, ""},
		{"a part that claims to hold nothing", lie(0), 0, ""},
		{"parts named twice", archive(append(parts[:len(parts):len(parts)], parts...)...), 1, "twice"},
		{"parts that lie outside", archive(append([]part{{name: "../../../../tmp/outside.txt", text: "x"}, {name: "/etc/passwd", text: "x"}, {name: `..\..\x`, text: "x"}}, parts...)...), 0, "No input was changed"},
		{"a sheet of three hundred megabytes", with(inputs, func(s string) string {
			return strings.Replace(s, "<v>640</v>", "<v>640"+r("0", 300<<20)+"</v>", 1)
		}), 1, "is larger than a workbook of ours"},
		{"a main part of a hundred megabytes", with(main, func(s string) string { return strings.Replace(s, "<sheets>", "<sheets>"+r(" ", 100<<20), 1) }), 1, "is larger than a workbook of ours"},
		{"entities that multiply", with(inputs, func(s string) string {
			return `<?xml version="1.0"?><!DOCTYPE x [<!ENTITY a "aaaaaaaaaa">` + many(9, `<!ENTITY b%d "&a;&a;&a;&a;&a;&a;&a;&a;&a;&a;">`) + `]>` + s[strings.Index(s, "<worksheet"):]
		}), 1, "declares entities of its own"},
		{"an entity that reads a file", with(inputs, func(s string) string {
			return `<!DOCTYPE x [<!ENTITY a SYSTEM "file:///etc/passwd">]>` + strings.Replace(s[strings.Index(s, "<worksheet"):], "<v>640</v>", "<v>&a;</v>", 1)
		}), 1, "declares entities of its own"},
		{"a document type from elsewhere", with(inputs, func(s string) string {
			return `<!DOCTYPE worksheet SYSTEM "http://127.0.0.1:1/x.dtd">` + s[strings.Index(s, "<worksheet"):]
		}), 1, "declares entities of its own"},
		{"entities in the main part", with(main, func(s string) string { return `<!DOCTYPE x [<!ENTITY a "b">]>` + s }), 1, "declares entities of its own"},
		{"entities in the relationships", with("xl/_rels/workbook.xml.rels", func(s string) string { return `<!DOCTYPE x [<!ENTITY a "b">]>` + s }), 1, "declares entities of its own"},
		{"an entity of nobody", cell("<v>&unknown;</v>"), 1, "cannot be read"},
		{"characters that are none", cell("<v>&#0;</v>"), 1, "cannot be read"},
		{"bytes that are no UTF-8", cell("<v>6\xff</v>"), 1, "cannot be read"},
		{"another encoding", with(inputs, func(s string) string { return strings.Replace(s, "UTF-8", "ISO-8859-1", 1) }), 1, "cannot be read"},
		{"elements without end", with(inputs, func(s string) string { return s[:200] + r("<a>", 500_000) }), 1, "cannot be read"},
		{"attributes without end", with(inputs, func(s string) string {
			return strings.Replace(s, "<sheetData", "<x "+many(100_000, `a%d="1" `)+"/><sheetData", 1)
		}), 0, ""},
		{"a comment of thirty megabytes", with(inputs, func(s string) string {
			return strings.Replace(s, "<sheetData", "<!--"+r("x", 30<<20)+"--><sheetData", 1)
		}), 1, "is larger than a workbook of ours"},
		{"a text in place of a number", cell("<v>a lot</v>"), 1, "is no number"},
		{"not a number", cell("<v>NaN</v>"), 1, "is no number"},
		{"a number without end", cell("<v>INF</v>"), 1, "is no number"},
		{"a number beyond all", cell("<v>1e400</v>"), 1, "is no number"},
		{"nearly a number beyond all", cell("<v>1.7e308</v>"), 0, "1.7e308 kg"},
		{"zero from below", cell("<v>-0</v>"), 0, "640 kg -> "},
		{"less than the least number", cell("<v>1e-400</v>"), 0, ""},
		{"a number of thirty thousand digits", cell("<v>" + r("6", 30_000) + "</v>"), 1, "is no number"},
		{"a cell of a kind that is none", swap(inputs, "<v>640</v>", "<v>640</v></c><c t=\"zzz\"><v>1</v>"), 0, ""},
		{"a style beyond all", with(inputs, func(s string) string {
			i := strings.Index(s, "<v>640</v>")
			j := strings.LastIndex(s[:i], "<c ")
			return s[:j] + `<c s="999999999" ` + s[j+3:]
		}), 0, ""},
		{"sheets that are each other", swap("xl/_rels/workbook.xml.rels", "worksheets/sheet3.xml", "worksheets/sheet1.xml"), 1, "was removed"},
		{"a sheet that is the main part", swap("xl/_rels/workbook.xml.rels", "worksheets/sheet3.xml", "workbook.xml"), 1, "was removed"},
		{"a main part that is a sheet", swap("_rels/.rels", "xl/workbook.xml", "xl/worksheets/sheet3.xml"), 1, "it has no sheets"},
		{"relationships that are their own", swap("_rels/.rels", "xl/workbook.xml", "_rels/.rels"), 1, "it has no sheets"},
		{"relationships out of the archive", swap("xl/_rels/workbook.xml.rels", "worksheets/sheet3.xml", "../../../../etc/passwd"), 1, "cannot be found in it"},
		{"relationships to elsewhere", swap("xl/_rels/workbook.xml.rels", "worksheets/sheet3.xml\"", "http://127.0.0.1:1/x.xml\" TargetMode=\"External\""), 1, "cannot be found in it"},
		{"ten thousand sheets", swap(main, "</sheets>", many(10_000, `<sheet name="x%d" sheetId="1%d" r:id="rId1"/>`)+"</sheets>"), 1, "has more than"},
		{"a sheet name that is a command to the terminal", with(main, func(s string) string { return strings.Replace(s, `name="Inputs"`, `name="In&#27;[2Jputs"`, 1) }), 1, "cannot be read"},
		{"a million rows", with(inputs, func(s string) string {
			i := strings.Index(s, "</sheetData>")
			return s[:i] + many(1_000_000, `<row r="1"><c r="A1"><v>1</v></c></row>`) + s[i:]
		}), 1, "is larger than a workbook of ours"},
		{"two million cells in a row", with(inputs, func(s string) string {
			i := strings.Index(s, "</sheetData>")
			return s[:i] + "<row>" + r(`<c/>`, 2_000_000) + "</row>" + s[i:]
		}), 1, "Inputs"},
		{"a cell at the end of the world", swap(inputs, "</sheetData>", `<row r="1048576"><c r="XFD1048576"><v>1</v></c></row></sheetData>`), 0, ""},
		{"a cell beyond it", swap(inputs, "</sheetData>", `<row r="1048577"><c r="XFE1048577"><v>1</v></c></row></sheetData>`), 1, "is broken"},
		{"rows below nothing", swap(inputs, "</sheetData>", `<row r="-1"><c r="A-1"><v>1</v></c></row></sheetData>`), 1, "is broken"},
		{"shared texts of ten megabytes", with(inputs, func(s string) string {
			return strings.Replace(s, "<v>640</v>", "</c><c t=\"inlineStr\"><is><t>"+r("a", 7<<20)+"</t></is>", 1)
		}), 1, "must not be empty"},
		{"a number of a million texts", cell(`<v>640</v></c><c r="ZZ9" t="s"><v>99999999999999999999</v>`), 1, "has a text that is not there"},
	} {
		out = append(out, hostile{name: "workbook: " + c.name, text: shelved, and: map[string]string{"s.xlsx": c.book}, args: []string{"readback", "s.xlsx"}, status: c.status, want: c.want})
	}
	return out
}
