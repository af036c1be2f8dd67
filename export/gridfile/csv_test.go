package gridfile

import (
	"bytes"
	"encoding/csv"
	"testing"
)

func TestTry(t *testing.T) {
	m, g := grid(t, everything)
	data := file(t, CSV, m, g, Part{})
	r, err := csv.NewReader(bytes.NewReader(data)).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	for _, i := range []int{0, 1, 2, 3, 5000, 100000, len(r) - 1} {
		t.Logf("%q", r[i])
	}
	p := file(t, Parquet, m, g, Part{})
	t.Log(len(data), len(p), g.Points())
	x := file(t, XLSX, m, g, Part{})
	t.Log(len(x))
}
