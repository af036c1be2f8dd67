package export_test

import (
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"testing"

	"github.com/xuri/excelize/v2"

	"bankwright/engine/oracle"
	"bankwright/export"
	"bankwright/export/xlsx"
)

// alwaysCalculate makes LibreOffice calculate every formula when it opens a
// file; by default it trusts the values that are stored.
const alwaysCalculate = `<?xml version="1.0" encoding="UTF-8"?>
<oor:items xmlns:oor="http://openoffice.org/2001/registry" xmlns:xs="http://www.w3.org/2001/XMLSchema" xmlns:xsi="http://www.w3.org/2001/XMLSchema-instance">
<item oor:path="/org.openoffice.Office.Calc/Formula/Load"><prop oor:name="OOXMLRecalcMode" oor:op="fuse"><value>0</value></prop></item>
</oor:items>`

// recalculate has LibreOffice calculate workbooks and save them to a folder.
func recalculate(t *testing.T, to string, files []string) {
	t.Helper()
	program := oracle.Program(t, "soffice")
	profile := t.TempDir()
	if err := os.Mkdir(filepath.Join(profile, "user"), 0o755); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(filepath.Join(profile, "user", "registrymodifications.xcu"), []byte(alwaysCalculate), 0o644); err != nil {
		t.Fatal(err)
	}
	args := []string{"-env:UserInstallation=file://" + profile, "--headless", "--convert-to", "xlsx", "--outdir", to}
	if out, err := exec.Command(program, append(args, files...)...).CombinedOutput(); err != nil {
		t.Fatalf("soffice: %v\n%s", err, out)
	}
}

// TestRecalculated has LibreOffice calculate the workbooks, as they are and
// with inputs changed in them, and compares every cell: those of quantities
// with the engine run with the same changes, 1e-9 relatively or 1e-10
// absolutely.
func TestRecalculated(t *testing.T) {
	oracle.Slow(t)
	trials := export.Trials(t, 4)
	from, to := t.TempDir(), t.TempDir()
	var files []string
	for i, tr := range trials {
		path := filepath.Join(from, strconv.Itoa(i)+".xlsx")
		tr.Changed(func() {
			if err := xlsx.Write(path, tr.Book); err != nil {
				t.Fatal(err)
			}
		})
		files = append(files, path)
	}
	recalculate(t, to, files)
	for i, tr := range trials {
		f, err := excelize.OpenFile(filepath.Join(to, strconv.Itoa(i)+".xlsx"))
		if err != nil {
			t.Fatal(err)
		}
		if n := tr.Check(t, cells(t, f)); n < 200 {
			t.Errorf("%s: only %d cells compared", tr.Name, n)
		}
		f.Close()
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
	return func(sheet string, row, col int) string {
		rows := sheets[sheet]
		if row > len(rows) || col > len(rows[row-1]) {
			return ""
		}
		return rows[row-1][col-1]
	}
}
