package export_test

import (
	"bufio"
	"bytes"
	"encoding/json"
	"fmt"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/xuri/excelize/v2"

	"bankwright/engine/oracle"
	"bankwright/export"
	"bankwright/export/xlsx"
)

// readBooks are the workbooks that other programs read in the tests.
var readBooks = []string{"garden", "cabin", "bench", "trays"}

// aCell is what a reader finds in a cell.
type aCell struct {
	Sheet   string
	Cell    string
	Value   any
	Formula bool
}

// TestOpenpyxl: openpyxl reads every value as it was written, without a warning.
func TestOpenpyxl(t *testing.T) {
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
	for _, name := range readBooks {
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

// TestRoundTrip: what LibreOffice opens and saves again has the formulas, names and
// limits on what may be typed that it had.
func TestRoundTrip(t *testing.T) {
	from, to := t.TempDir(), t.TempDir()
	var files []string
	for _, name := range readBooks {
		path := filepath.Join(from, name+".xlsx")
		if err := xlsx.Write(path, export.Workbook(t, name)); err != nil {
			t.Fatal(err)
		}
		files = append(files, path)
	}
	recalculate(t, to, files)
	for _, name := range readBooks {
		old, err := excelize.OpenFile(filepath.Join(from, name+".xlsx"))
		if err != nil {
			t.Fatal(err)
		}
		saved, err := excelize.OpenFile(filepath.Join(to, name+".xlsx"))
		if err != nil {
			t.Fatal(err)
		}
		sameNames(t, name, old, saved)
		sameFormulas(t, name, export.Workbook(t, name), saved)
		for _, s := range old.GetSheetList() {
			a, b := limitsOf(t, old, s), limitsOf(t, saved, s)
			for i := range max(len(a), len(b)) {
				if i >= len(a) || i >= len(b) || a[i] != b[i] {
					t.Errorf("%s: the sheet %s had %d limits and has %d; from number %d on they differ: %q, %q", name, s, len(a), len(b), i, a[min(i, len(a)-1):min(i+1, len(a))], b[min(i, len(b)):min(i+1, len(b))])
					break
				}
			}
		}
		old.Close()
		saved.Close()
	}
}

func sameNames(t *testing.T, name string, old, saved *excelize.File) {
	t.Helper()
	at := map[string]string{}
	for _, n := range saved.GetDefinedName() {
		at[strings.ToLower(n.Name)] = plainRef(n.RefersTo)
	}
	for _, n := range old.GetDefinedName() {
		if n.Scope == "Workbook" && at[strings.ToLower(n.Name)] != plainRef(n.RefersTo) {
			t.Errorf("%s: the name %s was %s and is %s", name, n.Name, n.RefersTo, at[strings.ToLower(n.Name)])
		}
	}
}

// plainRef leaves out what programs write in one way or another.
func plainRef(f string) string { return strings.NewReplacer("$", "", "'", "", " ", "").Replace(f) }

func sameFormulas(t *testing.T, name string, b *export.Book, saved *excelize.File) {
	t.Helper()
	wrong := 0
	for _, s := range b.Sheets {
		for r, row := range s.Rows() {
			for c, cell := range row {
				if cell.Formula == "" {
					continue
				}
				at, _ := excelize.CoordinatesToCellName(c+1, r+1)
				f, err := saved.GetCellFormula(s.Name, at)
				if err != nil || plainFormula(f) != plainFormula(cell.Formula) {
					if wrong++; wrong < 6 {
						t.Errorf("%s: %s!%s was %s and is %s (%v)", name, s.Name, at, cell.Formula, f, err)
					}
				}
			}
		}
	}
}

func plainFormula(f string) string {
	return strings.NewReplacer("$", "", "'", "", " ", "", "TRUE()", "TRUE", "FALSE()", "FALSE").Replace(strings.TrimPrefix(f, "="))
}

// limitsOf are the limits of a sheet, cell by cell in one order.
func limitsOf(t *testing.T, f *excelize.File, sheet string) []string {
	t.Helper()
	list, err := f.GetDataValidations(sheet)
	if err != nil {
		t.Fatal(err)
	}
	var out []string
	for _, v := range list {
		for _, cells := range strings.Fields(v.Sqref) {
			eachCell(cells, func(at string) {
				if operator(v.Operator) != "between" || v.Type == "list" {
					v.Formula2 = "" // of a limit on one side, or of a list, it says nothing
				}
				out = append(out, fmt.Sprint(at, " ", v.Type, " ", operator(v.Operator), " ", plainRef(number(v.Formula1)), " ", plainRef(number(v.Formula2)), " ", v.AllowBlank, " ", deref(v.Error)))
			})
		}
	}
	slices.Sort(out)
	return out
}

// operator is what holds where a limit names none.
func operator(s string) string {
	if s == "" {
		return "between"
	}
	return s
}

// number writes a limit in one way.
func number(s string) string {
	var x float64
	if _, err := fmt.Sscan(s, &x); err == nil && !strings.ContainsAny(s, "!$") {
		return fmt.Sprint(x)
	}
	return s
}

func deref(s *string) string {
	if s == nil {
		return ""
	}
	return *s
}

func eachCell(cells string, f func(at string)) {
	from, to, ok := strings.Cut(cells, ":")
	if !ok {
		to = from
	}
	c1, r1, _ := excelize.CellNameToCoordinates(from)
	c2, r2, _ := excelize.CellNameToCoordinates(to)
	for r := r1; r <= r2; r++ {
		for c := c1; c <= c2; c++ {
			at, _ := excelize.CoordinatesToCellName(c, r)
			f(at)
		}
	}
}
