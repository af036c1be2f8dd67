package export_test

import (
	"bytes"
	"encoding/json"
	"os"
	"os/exec"
	"path/filepath"
	"testing"

	"github.com/xuri/excelize/v2"

	"bankwright/engine/oracle"
	"bankwright/export"
	"bankwright/export/xlsx"
)

// saved writes the workbooks to a folder, as they are or with the inputs changed.
func saved(t *testing.T, returns []export.Return, changed bool) (folder string, files []string) {
	t.Helper()
	folder = t.TempDir()
	for _, r := range returns {
		path := filepath.Join(folder, r.Name+".xlsx")
		write := func() {
			if err := xlsx.Write(path, r.Book); err != nil {
				t.Fatal(err)
			}
		}
		if changed {
			r.Changed(write)
		} else {
			write()
		}
		files = append(files, path)
	}
	return folder, files
}

// checkReturns reads the workbooks of a folder back.
func checkReturns(t *testing.T, returns []export.Return, folder string) {
	t.Helper()
	for _, r := range returns {
		f, err := xlsx.Open(filepath.Join(folder, r.Name+".xlsx"))
		if err != nil {
			t.Fatal(err)
		}
		r.Check(t, f)
		f.Close()
	}
}

// TestReturnedFiles: the changes come back from a file, and from one that the library
// has changed.
func TestReturnedFiles(t *testing.T) {
	oracle.OneCore(t)
	returns := export.Returns(t)
	folder, _ := saved(t, returns, true)
	checkReturns(t, returns, folder)
	folder, files := saved(t, returns, false)
	for i, r := range returns {
		f, err := excelize.OpenFile(files[i])
		if err != nil {
			t.Fatal(err)
		}
		r.Each(func(sheet, cell string, data any) {
			if err := f.SetCellFormula(sheet, cell, ""); err != nil {
				t.Fatal(err)
			}
			if err := f.SetCellValue(sheet, cell, data); err != nil {
				t.Fatal(err)
			}
		})
		if err := f.Save(); err != nil {
			t.Fatal(err)
		}
		f.Close()
	}
	checkReturns(t, returns, folder)
}

// TestReturnedByLibreOffice: LibreOffice opens and saves the workbooks, and no input,
// no row and no formula is other than it was.
func TestReturnedByLibreOffice(t *testing.T) {
	oracle.Slow(t)
	returns := export.Returns(t)
	_, files := saved(t, returns, true)
	to := t.TempDir()
	recalculate(t, to, files)
	checkReturns(t, returns, to)
}

// typing types values into cells by openpyxl.
const typing = `
import json, sys, openpyxl
for path, cells in json.load(sys.stdin):
    book = openpyxl.load_workbook(path)
    for sheet, cell, value in cells:
        assert not book[sheet][cell].protection.locked or book[sheet][cell].data_type == "f", cell
        book[sheet][cell].value = value
    book.save(path)
`

// TestReturnedByOpenpyxl: openpyxl types the changes into the workbooks and saves
// them, without the values of formulas. What is typed over is not locked, save where
// a scenario gives an input by a formula.
func TestReturnedByOpenpyxl(t *testing.T) {
	oracle.OneCore(t)
	python := oracle.Python(t, "openpyxl")
	typedBy(t, exec.Command(python, "-c", typing))
}

// TestReturnedByNode: two libraries of JavaScript do the same.
func TestReturnedByNode(t *testing.T) {
	oracle.OneCore(t)
	modules := os.Getenv("BANKWRIGHT_NODE_MODULES")
	if modules == "" {
		oracle.Missing(t, "BANKWRIGHT_NODE_MODULES names no folder with the packages exceljs and xlsx")
	}
	for name, script := range map[string]string{"exceljs": exceljsTyping, "xlsx": sheetjsTyping} {
		t.Run(name, func(t *testing.T) {
			run := exec.Command("node", "-e", script)
			run.Env = append(os.Environ(), "NODE_PATH="+modules)
			typedBy(t, run)
		})
	}
}

const exceljsTyping = `
const E = require("exceljs");
(async () => {
  for (const [path, cells] of JSON.parse(require("fs").readFileSync(0))) {
    const book = new E.Workbook();
    await book.xlsx.readFile(path);
    for (const [sheet, cell, value] of cells) book.getWorksheet(sheet).getCell(cell).value = value;
    await book.xlsx.writeFile(path);
  }
})().catch(e => { console.error(e); process.exit(1); });
`

const sheetjsTyping = `
const X = require("xlsx");
for (const [path, cells] of JSON.parse(require("fs").readFileSync(0))) {
  const book = X.readFile(path, {cellFormula: true});
  for (const [sheet, cell, value] of cells) {
    const s = book.Sheets[sheet];
    if (value === null) delete s[cell];
    else s[cell] = {v: value, t: {number: "n", string: "s", boolean: "b"}[typeof value]};
  }
  X.writeFile(book, path);
}
`

// typedBy has a program type the changes into the workbooks, which it reads as JSON, and
// save them.
func typedBy(t *testing.T, cmd *exec.Cmd) {
	t.Helper()
	returns := export.Returns(t)
	folder, files := saved(t, returns, false)
	var all [][2]any
	for i, r := range returns {
		var cells [][3]any
		r.Each(func(sheet, cell string, data any) { cells = append(cells, [3]any{sheet, cell, data}) })
		all = append(all, [2]any{files[i], cells})
	}
	input, err := json.Marshal(all)
	if err != nil {
		t.Fatal(err)
	}
	cmd.Stdin = bytes.NewReader(input)
	if out, err := cmd.CombinedOutput(); err != nil {
		t.Fatalf("%v\n%s", err, out)
	}
	checkReturns(t, returns, folder)
}

// TestSavedScenarios: LibreOffice opens and saves the workbooks of the scenarios, with
// their studies, and no word, figure or cell of them is told of.
func TestSavedScenarios(t *testing.T) {
	oracle.Slow(t)
	from, to := t.TempDir(), t.TempDir()
	var files []string
	check := map[string]func(export.Returned){}
	for _, name := range []string{"alder_bay", "bench", "market_stall", "narrowboat", "quarry_house", "starter"} {
		book, unremarked := export.Unremarked(t, name+".toml")
		path := filepath.Join(from, name+".xlsx")
		if err := xlsx.Write(path, book); err != nil {
			t.Fatal(err)
		}
		files = append(files, path)
		check[name] = unremarked
	}
	recalculate(t, to, files)
	for name, unremarked := range check {
		f, err := xlsx.Open(filepath.Join(to, name+".xlsx"))
		if err != nil {
			t.Fatal(err)
		}
		unremarked(f)
		f.Close()
	}
}
