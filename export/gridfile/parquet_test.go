package gridfile

import (
	"bytes"
	"math"
	"strconv"
	"strings"
	"testing"

	"github.com/parquet-go/parquet-go"
)

func openParquet(t *testing.T, data []byte) *parquet.File {
	t.Helper()
	f, err := parquet.OpenFile(bytes.NewReader(data), int64(len(data)))
	if err != nil {
		t.Fatal(err)
	}
	return f
}

// rowsOf are the rows of the row groups of a file.
func rowsOf(t *testing.T, f *parquet.File) (out []parquet.Row) {
	t.Helper()
	for _, group := range f.RowGroups() {
		rows := group.Rows()
		buf := make([]parquet.Row, group.NumRows())
		for n := 0; n < len(buf); {
			got, err := rows.ReadRows(buf[n:])
			if n += got; got == 0 {
				t.Fatal(err)
			}
		}
		for _, r := range buf {
			out = append(out, r.Clone())
		}
		rows.Close()
	}
	return out
}

// TestParquet: what a reader of Parquet finds is what stands in the CSV, to the last
// bit, as numbers, truths and texts, in the same order of columns.
func TestParquet(t *testing.T) {
	m, g := grid(t, everything)
	part := Part{7, 11}
	f := openParquet(t, file(t, Parquet, m, g, part))
	want := records(t, append([]byte(strings.Repeat(",", len(columns)-1)+"\n"), file(t, CSV, m, g, part)...))[1:]
	kinds := []string{"STRING", "BOOLEAN", "STRING", "DOUBLE", "DOUBLE", "DOUBLE", "DOUBLE", "DOUBLE", "DOUBLE", "DOUBLE", "DOUBLE", "DOUBLE", "BOOLEAN", "STRING"}
	for j, field := range f.Schema().Fields() {
		name, unit, _ := strings.Cut(strings.TrimSuffix(columns[j].head, ")"), " (")
		if field.Name() != name || field.Type().String() != kinds[j] || field.Optional() != (j >= 9) {
			t.Errorf("column %d is %s %s, optional %v", j, field.Name(), field.Type(), field.Optional())
		}
		if got, _ := f.Lookup(name); got != unit {
			t.Errorf("the unit of %s is %q, not %q", name, got, unit)
		}
	}
	rows := rowsOf(t, f)
	if len(rows) != len(want) {
		t.Fatalf("%d rows, not %d", len(rows), len(want))
	}
	for i, row := range rows {
		for j, v := range row {
			if !same(v, want[i][j]) {
				t.Fatalf("row %d: %s is %v, in CSV %s", i, columns[j].head, v, want[i][j])
			}
		}
	}
	for j, chunk := range f.RowGroups()[0].ColumnChunks() {
		if kinds[j] != "STRING" {
			continue
		}
		pages := chunk.Pages()
		page, err := pages.ReadPage()
		if err != nil || page.Dictionary() == nil {
			t.Errorf("%s has no dictionary: %v", columns[j].head, err)
		}
		parquet.Release(page)
		pages.Close()
	}
}

// same tells whether a value is what a field of CSV says.
func same(v parquet.Value, field string) bool {
	switch {
	case v.IsNull():
		return field == ""
	case v.Kind() == parquet.Double:
		x, err := strconv.ParseFloat(field, 64)
		return err == nil && math.Float64bits(x) == math.Float64bits(v.Double())
	case v.Kind() == parquet.Boolean:
		return field == strconv.FormatBool(v.Boolean())
	}
	return strings.TrimPrefix(field, "'") == string(v.ByteArray())
}

// TestBeyondUnit: an input that is beyond all numbers in the unit of its column has no
// value there, as in CSV.
func TestBeyondUnit(t *testing.T) {
	const huge = `vary = [{ input = "plank.oak.length", values = ["1 m", "1e307 m"] }]`
	m, g := grid(t, huge)
	if rows := records(t, file(t, CSV, m, g, all)); rows[1][0] != "100" || rows[2][0] != "" {
		t.Errorf("CSV has %q and %q", rows[1][0], rows[2][0])
	}
	for _, part := range []Part{all, {2, 2}} {
		rows := rowsOf(t, openParquet(t, file(t, Parquet, m, g, part)))
		if last := rows[len(rows)-1][0]; !last.IsNull() {
			t.Errorf("part %v of the Parquet file has %v", part, last)
		}
	}
}

// TestRowGroups: row groups are no larger than the memory for them, the parts of a grid
// have the same columns, and an empty part is a file, too.
func TestRowGroups(t *testing.T) {
	m, g := grid(t, long)
	from, to := g.Part(2, 4)
	f := openParquet(t, file(t, Parquet, m, g, Part{2, 4}))
	rows, n := 0, len(f.Schema().Fields())
	for _, group := range f.RowGroups() {
		rows += int(group.NumRows())
		if values := int(group.NumRows()) * n; values > groupValues+256*n {
			t.Errorf("a row group has %d values", values)
		}
	}
	if rows != to-from || len(f.RowGroups()) != 2 {
		t.Errorf("%d rows in %d row groups, not %d in 2", rows, len(f.RowGroups()), to-from)
	}
	m, g = grid(t, `vary = [{ input = "shop.warm", values = ["1 °C", "2 °C"] }]`)
	full, empty := openParquet(t, file(t, Parquet, m, g, Part{1, 3})), openParquet(t, file(t, Parquet, m, g, Part{3, 3}))
	if full.NumRows() != 1 || empty.NumRows() != 0 || full.Schema().String() != empty.Schema().String() {
		t.Errorf("%d rows of %v, %d rows of %v", full.NumRows(), full.Schema(), empty.NumRows(), empty.Schema())
	}
}
