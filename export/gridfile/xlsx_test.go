package gridfile

import (
	"bytes"
	"encoding/json"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"bankwright/engine/oracle"

	"github.com/xuri/excelize/v2"
)

// inSheet is a field of CSV as a cell of a sheet: nil, float64, bool or string.
func inSheet(column int, field string) any {
	switch {
	case field == "":
		return nil
	case column == 1 || column == 12:
		return field == "true"
	case column == 0 || column == 2 || column == 13:
		return strings.TrimPrefix(field, "'")
	}
	v, _ := strconv.ParseFloat(field, 64)
	return v
}

// alike tells whether two cells are the same to the 15 digits that a workbook keeps.
func alike(a, b any) bool {
	x, ok := a.(float64)
	y, both := b.(float64)
	if ok && both {
		return math.Abs(x-y) <= 1e-14*math.Abs(y)
	}
	return a == b
}

// TestXLSX: the sheet has the cells of the CSV with their types, below a row of names
// and one of units.
func TestXLSX(t *testing.T) {
	m, g := grid(t, everything)
	part := Part{3, 40}
	data := file(t, XLSX, m, g, part)
	want := records(t, append([]byte(strings.Repeat(",", len(columns)-1)+"\n"), file(t, CSV, m, g, part)...))[1:]
	f, err := excelize.OpenReader(bytes.NewReader(data))
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	rows, err := f.GetRows("Points", excelize.Options{RawCellValue: true})
	if err != nil || len(rows) != len(want)+2 {
		t.Fatalf("%d rows for %d points: %v", len(rows), len(want), err)
	}
	for j, c := range columns {
		name, unit, _ := strings.Cut(strings.TrimSuffix(c.head, ")"), " (")
		got := ""
		if j < len(rows[1]) {
			got = rows[1][j]
		}
		if rows[0][j] != name || got != unit {
			t.Errorf("column %d is %q in %q", j, rows[0][j], got)
		}
	}
	if p, err := f.GetPanes("Points"); err != nil || !p.Freeze || p.YSplit != 2 || p.XSplit != 0 {
		t.Errorf("panes %+v, %v", p, err)
	}
	for i, row := range rows[2:] {
		for j := range columns {
			got := ""
			if j < len(row) {
				got = row[j]
			}
			cell := inSheet(j, want[i][j])
			if truth, ok := cell.(bool); ok {
				if cell = "0"; truth {
					cell = "1"
				}
			}
			x, err := strconv.ParseFloat(got, 64)
			if _, number := cell.(float64); cell == nil && got != "" || number && (err != nil || !alike(x, cell)) || !number && cell != nil && got != cell {
				t.Fatalf("row %d: %s is %q, in CSV %q", i, columns[j].head, got, want[i][j])
			}
		}
	}
	openpyxl(t, data, want)
}

// readBack prints the cells of a sheet as JSON, by a reader of the format that has
// nothing to do with its writer.
const readBack = `
import json, sys, openpyxl
sheet = openpyxl.load_workbook(sys.argv[1], read_only=True).active
json.dump([list(row) for row in sheet.iter_rows(min_row=3, values_only=True)], sys.stdout)
`

// openpyxl holds the cells of a workbook as openpyxl reads them against CSV.
func openpyxl(t *testing.T, data []byte, want [][]string) {
	t.Helper()
	path := filepath.Join(t.TempDir(), "points.xlsx")
	if err := os.WriteFile(path, data, 0o600); err != nil {
		t.Fatal(err)
	}
	out, err := exec.Command(oracle.Python(t, "openpyxl"), "-c", readBack, path).Output()
	if err != nil {
		t.Fatal(err)
	}
	var rows [][]any
	if err := json.Unmarshal(out, &rows); err != nil || len(rows) != len(want) {
		t.Fatalf("openpyxl reads %d rows, not %d: %v", len(rows), len(want), err)
	}
	for i, row := range rows {
		for j, got := range row {
			if !alike(got, inSheet(j, want[i][j])) {
				t.Fatalf("row %d: openpyxl reads %s as %v, in CSV it is %q", i, columns[j].head, got, want[i][j])
			}
		}
	}
}
