package export_test

import (
	"path/filepath"
	"strconv"
	"testing"

	"github.com/xuri/excelize/v2"

	"bankwright/engine/oracle"
	"bankwright/export"
	"bankwright/export/xlsx"
)

// TestSinceRecalculated: LibreOffice, too, finds which input was changed.
func TestSinceRecalculated(t *testing.T) {
	oracle.Slow(t)
	from, to := t.TempDir(), t.TempDir()
	var files, wants []string
	for want, book := range export.Edited(t) {
		path := filepath.Join(from, strconv.Itoa(len(files))+".xlsx")
		if err := xlsx.Write(path, book); err != nil {
			t.Fatal(err)
		}
		files, wants = append(files, path), append(wants, want)
	}
	recalculate(t, to, files)
	for i, want := range wants {
		f, err := excelize.OpenFile(filepath.Join(to, filepath.Base(files[i])))
		if err != nil {
			t.Fatal(err)
		}
		cell := cells(t, f)
		if got := cell("All shelves", 3, 2); got != want {
			t.Errorf("the sheet says %q, want %q", got, want)
		}
		f.Close()
	}
}
