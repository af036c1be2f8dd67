package export_test

import (
	"bytes"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"reflect"
	"runtime/debug"
	"strings"
	"testing"

	"github.com/xuri/excelize/v2"

	"bankwright/engine/oracle"
	"bankwright/export"
	"bankwright/export/xlsx"
)

// office runs LibreOffice in a profile of its own, which calculates every formula of a
// file that it opens and knows the macro of testdata/office.
func office(t *testing.T, args ...string) {
	t.Helper()
	officeIn(t, "en-US", args...)
}

// officeIn runs LibreOffice as on a computer of a language and country: de-DE.
func officeIn(t *testing.T, locale string, args ...string) {
	t.Helper()
	program := oracle.Program(t, "soffice")
	profile := t.TempDir()
	if err := os.CopyFS(filepath.Join(profile, "user"), os.DirFS("testdata/office")); err != nil {
		t.Fatal(err)
	}
	settings := filepath.Join(profile, "user", "registrymodifications.xcu")
	text, err := os.ReadFile(settings)
	if err == nil {
		item := `<item oor:path="/org.openoffice.Setup/L10N"><prop oor:name="ooSetupSystemLocale" oor:op="fuse"><value>` + locale + `</value></prop></item>`
		err = os.WriteFile(settings, bytes.Replace(text, []byte("</oor:items>"), []byte(item+"</oor:items>"), 1), 0o644)
	}
	if err != nil {
		t.Fatal(err)
	}
	cmd := exec.Command(program, append([]string{"-env:UserInstallation=file://" + profile, "--headless", "--norestore"}, args...)...)
	cmd.Env = append(os.Environ(), "LC_ALL=C.UTF-8") // names of sheets become names of files
	if out, err := cmd.CombinedOutput(); err != nil {
		t.Fatalf("soffice: %v\n%s", err, out)
	}
}

// recalculate has LibreOffice calculate workbooks and save them to a folder.
func recalculate(t *testing.T, to string, files []string) {
	t.Helper()
	office(t, append([]string{"--convert-to", "xlsx", "--outdir", to}, files...)...)
}

// TestRecalculated has LibreOffice open the workbook of every scenario, and of the
// models of the tests, type changes of inputs into it, 25 times, and compares every
// cell each time: those of quantities with the engine run with the same changes, 1e-9
// relatively or 1e-10 absolutely. What it calculates after a change is what follows
// from the cells that were typed, as in the hands of a client.
func TestRecalculated(t *testing.T) {
	oracle.Slow(t)
	oracle.Program(t, "soffice")
	defer debug.SetGCPercent(debug.SetGCPercent(200)) // many short-lived values
	sorts := &export.Sorts{}
	t.Run("models", func(t *testing.T) {
		for _, s := range export.Suites(t) {
			t.Run(s.Name, func(t *testing.T) {
				t.Parallel()
				typeAll(t, s.Trials(t, 25, sorts))
			})
		}
	})
	if missing := sorts.Missing(); len(missing) > 0 {
		t.Errorf("nothing was changed of these sorts: %v", missing)
	}
}

// typeAll has LibreOffice type the changes of trials of one workbook, and checks what
// it calculates.
func typeAll(t *testing.T, trials []export.Trial) {
	t.Helper()
	folder := t.TempDir()
	book := filepath.Join(folder, "book.xlsx")
	if err := xlsx.Write(book, trials[0].Book); err != nil {
		t.Fatal(err)
	}
	job := []string{"open\tfile://" + book}
	for i, tr := range trials {
		tr.Typed(func(sheet, row, col int, data any) { job = append(job, keystrokes(t, sheet, row, col, data)) })
		job = append(job, fmt.Sprintf("csv\tfile://%s/%d.csv", folder, i), "back")
	}
	path := filepath.Join(folder, "job")
	if err := os.WriteFile(path, []byte(strings.Join(job, "\n")+"\n"), 0o644); err != nil {
		t.Fatal(err)
	}
	office(t, `macro:///Standard.Typing.Follow("`+path+`")`)
	for i, tr := range trials {
		if n := tr.Check(t, csvCells(t, folder, i, tr.Book)); n < 200 {
			t.Errorf("%s: only %d cells compared", tr.Name, n)
		}
	}
}

// keystrokes are the line of a job that types something into a cell.
func keystrokes(t *testing.T, sheet, row, col int, data any) string {
	t.Helper()
	at := fmt.Sprintf("\t%d\t%d\t%d", sheet, col-1, row-1)
	switch v := data.(type) {
	case nil:
		return "blank" + at
	case bool:
		return "number" + at + map[bool]string{true: "\t1", false: "\t0"}[v]
	case string:
		if strings.ContainsFunc(v, func(r rune) bool { return r < ' ' || r > '~' }) {
			t.Fatalf("%q cannot be typed", v)
		}
		return "text" + at + "\t" + v
	}
	return fmt.Sprint("number", at, "\t", data)
}

// csvCells reads the cells of all sheets as LibreOffice wrote them; a sheet that it did
// not write is a failure.
func csvCells(t *testing.T, folder string, round int, b *export.Book) func(sheet string, row, col int) string {
	t.Helper()
	sheets := map[string][][]string{}
	for _, s := range b.Sheets {
		text, err := os.ReadFile(filepath.Join(folder, fmt.Sprintf("%d-%s.csv", round, s.Name)))
		if err != nil {
			t.Fatal(err)
		}
		sheets[s.Name] = csvRows(string(text))
	}
	return at(sheets)
}

// csvRows are the rows of a file, empty ones too, which package csv leaves out.
func csvRows(s string) (rows [][]string) {
	row := []string{}
	for s != "" {
		field, end := "", strings.IndexAny(s, ",\n")
		if s[0] == '"' {
			for end = 1; ; end += 2 {
				end += strings.IndexByte(s[end:], '"')
				if end+1 >= len(s) || s[end+1] != '"' {
					break
				}
			}
			field, end = strings.ReplaceAll(s[1:end], `""`, `"`), end+1
		} else {
			field = s[:end]
		}
		row = append(row, field)
		if s[end] == '\n' {
			rows, row = append(rows, row), []string{}
		}
		s = s[end+1:]
	}
	return rows
}

func TestCsvRows(t *testing.T) {
	got := csvRows("1,\"a, \"\"b\"\"\"\n\n\"\",\"two\nlines\n\n\",TRUE\n\"end\"\n")
	want := [][]string{{"1", `a, "b"`}, {""}, {"", "two\nlines\n\n", "TRUE"}, {"end"}}
	if !reflect.DeepEqual(got, want) {
		t.Errorf("%q, want %q", got, want)
	}
}

// cells reads the raw text of a workbook's cells.
func cells(t *testing.T, f *excelize.File) func(sheet string, row, col int) string {
	t.Helper()
	sheets := map[string][][]string{}
	for _, s := range f.GetSheetList() {
		rows, err := f.GetRows(s, excelize.Options{RawCellValue: true})
		if err != nil {
			t.Fatal(err)
		}
		sheets[s] = rows
	}
	return at(sheets)
}

// at finds cells in rows of texts.
func at(sheets map[string][][]string) func(sheet string, row, col int) string {
	return func(sheet string, row, col int) string {
		rows := sheets[sheet]
		if row > len(rows) || col > len(rows[row-1]) {
			return ""
		}
		return rows[row-1][col-1]
	}
}
