// Package gridfile writes the points of a grid as rows of a table, one after the
// other, to CSV, Parquet or XLSX: for any number of points in bounded memory, whole
// or in parts that several machines write.
package gridfile

import (
	"context"
	"fmt"
	"io"
	"path/filepath"
	"strconv"
	"strings"

	"bankwright/engine/check"
	"bankwright/engine/sweep"
)

// Format is a form of files.
type Format string

// The formats, as the ends of file names.
const (
	CSV     Format = ".csv"
	Parquet Format = ".parquet"
	XLSX    Format = ".xlsx"
)

// FormatOf is the format that the end of a file's name asks for, in capitals or not.
// The error says what there is.
func FormatOf(path string) (Format, error) {
	ending := filepath.Ext(path)
	switch f := Format(strings.ToLower(ending)); f {
	case CSV, Parquet, XLSX:
		return f, nil
	}
	return "", fmt.Errorf("the name of a file of points ends in %s, %s or %s, not in %q", CSV, Parquet, XLSX, ending)
}

// Part is the K-th of N parts of a grid, K counting from 1; 1/1 is all of it.
type Part struct{ K, N int }

// ParsePart reads a part as it is written: 3/8 is the third of eight.
func ParsePart(s string) (Part, error) {
	left, right, _ := strings.Cut(s, "/")
	k, err := strconv.Atoi(left)
	n, err2 := strconv.Atoi(right)
	if err != nil || err2 != nil || k < 1 || n < k {
		return Part{}, fmt.Errorf("%q is no part; the third of eight is written 3/8", s)
	}
	return Part{k, n}, nil
}

// String is the part as ParsePart reads it.
func (p Part) String() string { return fmt.Sprintf("%d/%d", p.K, p.N) }

// Write writes the points of a part of a grid as a table in a format: a column for
// each varied input, then one for each cell that the grid shows and is not varied,
// then `best`, the name of the best item, where the rules compare any. Numbers are in
// the units in which their quantities are declared, exactly but for XLSX, which keeps
// 15 digits; what has no value is empty. Points come in the grid's order, its last
// axis runs fastest. The same grid gives the same bytes.
//
// The parts of CSV, one behind the other, are the whole file, since only the first has
// the head; the parts of Parquet are files with the same columns.
//
// The error says what a format has no room for, before anything is written, or is that
// of the writer or of the context.
func Write(ctx context.Context, w io.Writer, f Format, p *check.Program, g *sweep.Grid, part Part) error {
	from, to := g.Part(part.K, part.N)
	t := newTable(p, g)
	run := func(each func(n int) error) error {
		return g.Run(ctx, from, to, func(r *sweep.Run) error {
			t.fill(r)
			return each(r.N)
		})
	}
	switch f {
	case CSV:
		return writeCSV(w, t, part.K == 1, run)
	case Parquet:
		return writeParquet(w, t, to-from, run)
	case XLSX:
		return writeXLSX(w, t, p.Model.Title, to-from, run)
	}
	return fmt.Errorf("there is no format %q", string(f))
}
