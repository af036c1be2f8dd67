package xlsx

import (
	"io"
	"math"
	"testing"
	"time"

	"github.com/xuri/excelize/v2"

	"bankwright/engine"
	"bankwright/engine/oracle"
	"bankwright/export"
	"bankwright/rules"
	"bankwright/scenarios"
)

// BenchmarkBook holds the writing of the default scenario's workbook against the bare
// stream writer of the library, which writes the same cells with the same styles,
// formulas and values and nothing else: no widths, notes, limits, colours, links, names,
// pictures and no seal. Both sides are taken in turn, by processor time, the least of
// which counts. The share is that of the bare writer's cells in a second; the packed
// share is that of a bare writer which packs as we do.
func BenchmarkBook(b *testing.B) {
	m, list, _ := engine.Load(engine.Sources{Files: scenarios.Files, Scenario: scenarios.Default, Standard: rules.Files})
	if m == nil {
		b.Fatal(list)
	}
	book, err := export.NewBook(m, nil)
	if err != nil {
		b.Fatal(err)
	}
	bare := newBare(b, book)
	lowest := [3]time.Duration{math.MaxInt64, math.MaxInt64, math.MaxInt64}
	for b.Loop() {
		for i, run := range []func() error{
			func() error { _, err := Bytes(book); return err },
			func() error { return bare.write(nil) },
			func() error { return bare.write(func(w io.Writer) excelize.ZipWriter { return zipTo(w) }) },
		} {
			before := oracle.Processor()
			if err := run(); err != nil {
				b.Fatal(err)
			}
			lowest[i] = min(lowest[i], oracle.Processor()-before)
		}
	}
	b.ReportMetric(float64(lowest[1])/float64(lowest[0]), "share")
	b.ReportMetric(float64(lowest[2])/float64(lowest[0]), "packed-share")
	b.ReportMetric(float64(bare.cells)/lowest[0].Seconds(), "cells/s")
	b.ReportMetric(float64(bare.cells)/lowest[1].Seconds(), "bare-cells/s")
	b.ReportMetric(0, "ns/op")
}

// bareBook is the cells of a book as the library takes them.
type bareBook struct {
	names []string
	rows  [][][]any // by sheet and row
	looks []styleKey
	cells int
}

func newBare(b *testing.B, book *export.Book) *bareBook {
	out := &bareBook{}
	w := newWriter(excelize.NewFile())
	for _, s := range book.Sheets {
		var rows [][]any
		for _, row := range s.Rows() {
			var cells []any
			for i := range row {
				if row[i] == (export.Cell{}) {
					cells = append(cells, nil)
					continue
				}
				known := len(w.styles)
				style, err := w.looks(&row[i])
				if err != nil {
					b.Fatal(err)
				}
				if len(w.styles) > known {
					out.looks = append(out.looks, w.last)
				}
				cells = append(cells, excelize.Cell{StyleID: style, Formula: row[i].Formula, Value: row[i].Value})
				out.cells++
			}
			rows = append(rows, cells)
		}
		out.names, out.rows = append(out.names, s.Name), append(out.rows, rows)
	}
	return out
}

// write writes all cells, and packs them as the library does where nothing else is said.
func (w *bareBook) write(packed func(io.Writer) excelize.ZipWriter) error {
	f := excelize.NewFile()
	defer f.Close()
	if packed != nil {
		f.SetZipWriter(packed)
	}
	styles := newWriter(f)
	for _, look := range w.looks {
		if _, err := styles.style(styleKey{style: look.style, format: look.format}); err != nil {
			return err
		}
	}
	for i, name := range w.names {
		if _, err := f.NewSheet(name); err != nil {
			return err
		}
		stream, err := f.NewStreamWriter(name)
		if err != nil {
			return err
		}
		for r, cells := range w.rows[i] {
			at, err := excelize.CoordinatesToCellName(1, r+1)
			if err == nil {
				err = stream.SetRow(at, cells)
			}
			if err != nil {
				return err
			}
		}
		if err := stream.Flush(); err != nil {
			return err
		}
	}
	_, err := f.WriteToBuffer()
	return err
}
