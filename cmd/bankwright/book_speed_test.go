package main

import (
	"context"
	"math"
	"testing"
	"time"

	"bankwright/engine"
	"bankwright/engine/oracle"
	"bankwright/export"
	"bankwright/export/xlsx"
)

// BenchmarkBook tells what the workbook of the default scenario takes, in milliseconds of
// processor time, the least of all runs for each part: reading and computing, the
// studies, laying out with formulas and pictures, and writing the file.
func BenchmarkBook(b *testing.B) {
	var (
		m     *engine.Model
		found *engine.Studies
		book  *export.Book
		err   error
	)
	parts := []struct {
		name string
		run  func()
	}{
		{"load", func() { m, _, _ = engine.Load(sources("")) }},
		{"studies", func() { found, err = m.Study(context.Background()) }},
		{"lay-out", func() { book, err = export.NewBook(m, found) }},
		{"write", func() { _, err = xlsx.Bytes(book) }},
	}
	least := make([]time.Duration, len(parts))
	for i := range least {
		least[i] = math.MaxInt64
	}
	for b.Loop() {
		for i, p := range parts {
			before := oracle.Processor()
			if p.run(); err != nil {
				b.Fatal(err)
			}
			least[i] = min(least[i], oracle.Processor()-before)
		}
	}
	all := time.Duration(0)
	for i, p := range parts {
		all += least[i]
		b.ReportMetric(float64(least[i].Microseconds())/1000, p.name+"-cpu-ms")
	}
	b.ReportMetric(float64(all.Microseconds())/1000, "cpu-ms")
	b.ReportMetric(0, "ns/op")
}
