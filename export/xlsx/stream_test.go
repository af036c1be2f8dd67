package xlsx

import (
	"bytes"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"github.com/xuri/excelize/v2"

	"bankwright/export"
)

// streamed is a file of a sheet with a head and so many rows below it.
func streamed(t *testing.T, rows int) []byte {
	t.Helper()
	s := &export.Sheet{Name: "Rows", Widths: []float64{20}, FreezeRows: 1, Print: export.Print{RepeatRows: 1}}
	s.Set(1, 1, export.Cell{Value: "Name", Style: export.HeadText})
	var out bytes.Buffer
	err := Stream(&out, "Many rows", s, func(put func([]export.Cell) error) error {
		for i := range rows {
			if err := put([]export.Cell{{Value: "=1+1"}, {Value: float64(i) / 3}, {}, {Value: i%2 == 0}}); err != nil {
				return err
			}
		}
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	return out.Bytes()
}

// TestStream: rows come below those of the sheet, as they were typed; the same rows
// give the same bytes.
func TestStream(t *testing.T) {
	data := streamed(t, 1000)
	f := open(t, data)
	rows, err := f.GetRows("Rows", excelize.Options{RawCellValue: true})
	if err != nil || len(rows) != 1001 || rows[0][0] != "Name" {
		t.Fatalf("%d rows: %v", len(rows), err)
	}
	if row := strings.Join(rows[8], "|"); row != "=1+1|2.33333333333333||0" {
		t.Errorf("a row is %s", row)
	}
	if formula, _ := f.GetCellFormula("Rows", "A9"); formula != "" {
		t.Errorf("a text became the formula %s", formula)
	}
	if p, err := f.GetPanes("Rows"); err != nil || !p.Freeze || p.YSplit != 1 {
		t.Errorf("panes %+v, %v", p, err)
	}
	if p, err := f.GetDocProps(); err != nil || p.Title != "Many rows" {
		t.Errorf("properties %+v, %v", p, err)
	}
	if n := f.GetDefinedName(); len(n) != 1 || n[0].RefersTo != "'Rows'!$1:$1" {
		t.Errorf("names %+v", n)
	}
	if core := partsOf(t, data)[corePart]; !strings.Contains(core, "<cp:coreProperties ") || strings.Contains(core, "<lastModifiedBy>") {
		t.Errorf("its properties are %s", core)
	}
	for range 5 {
		if !bytes.Equal(streamed(t, 1000), data) {
			t.Fatal("two writes differ")
		}
	}
	path := filepath.Join(t.TempDir(), "a.xlsx")
	if err := os.WriteFile(path, data, 0o600); err != nil {
		t.Fatal(err)
	}
	wantChanged(t, path, true) // it has no seal
}

// TestStreamLimits: a row too many or too long is an error.
func TestStreamLimits(t *testing.T) {
	s := &export.Sheet{Name: "Rows"}
	err := Stream(&bytes.Buffer{}, "", s, func(put func([]export.Cell) error) error {
		for range export.MostRows {
			if err := put(nil); err != nil {
				return err
			}
		}
		return put(nil)
	})
	if err == nil || !strings.Contains(err.Error(), strconv.Itoa(export.MostRows)) {
		t.Errorf("a row too many: %v", err)
	}
	err = Stream(&bytes.Buffer{}, "", s, func(put func([]export.Cell) error) error { return put(make([]export.Cell, export.MostColumns+1)) })
	if err == nil {
		t.Error("a row too long was written")
	}
}
