package main

import (
	"archive/zip"
	"bufio"
	"bytes"
	"errors"
	"io"
	"path/filepath"
	"testing"

	"bankwright/engine/oracle"
)

// mostForPoints is how much memory the program may take, in MB, to write a sheet of
// points, however long it is.
const mostForPoints = 150

// TestPointsMemory: a sweep whose sheet has a million cells, and one as long as a sheet
// may nearly be, are written as a workbook in little memory, of the whole program as the
// system counts it: with the code, the model and the buffers of the compressor.
func TestPointsMemory(t *testing.T) {
	oracle.Measured(t)
	for _, c := range []struct {
		prices string
		cells  int // at the least
	}{{"1112", 1_000_000}, {"10000", 9_000_000}} {
		folder := t.TempDir()
		status, told, used := runWithin(t, folder, "", "sweep", "--vary", "battery.oak.price=800 USD..1300 USD/"+c.prices,
			"--vary", "site.depth_of_discharge=60 %..90 %/100", "-o", "points.xlsx")
		if status != exitDone {
			t.Fatalf("exit status %d: %s", status, told)
		}
		cells := cellsIn(t, filepath.Join(folder, "points.xlsx"))
		t.Logf("%d cells: %d MB, %.2f s", cells, used.MB, used.Seconds)
		if cells < c.cells {
			t.Errorf("the sheet has only %d cells", cells)
		}
		if used.MB > mostForPoints {
			t.Errorf("a sheet of %d cells takes %d MB", cells, used.MB)
		}
	}
}

// cellsIn counts the cells of a workbook's first sheet that hold something.
func cellsIn(t *testing.T, path string) (n int) {
	t.Helper()
	z, err := zip.OpenReader(path)
	if err != nil {
		t.Fatal(err)
	}
	defer z.Close()
	part, err := z.Open("xl/worksheets/sheet1.xml")
	if err != nil {
		t.Fatal(err)
	}
	tags := bufio.NewReaderSize(part, 1<<16)
	for {
		tag, err := tags.ReadSlice('>')
		if bytes.HasPrefix(tag, []byte("<c ")) && !bytes.HasSuffix(tag, []byte("/>")) {
			n++
		}
		if errors.Is(err, io.EOF) {
			return n
		}
		if err != nil {
			t.Fatal(err)
		}
	}
}
