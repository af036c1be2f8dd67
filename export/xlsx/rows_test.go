package xlsx

import (
	"bytes"
	"math"
	"math/rand/v2"
	"strconv"
	"strings"
	"testing"

	"github.com/xuri/excelize/v2"

	"bankwright/export"
)

// TestRows: cells are written byte for byte as the library writes them, but for quotes.
func TestRows(t *testing.T) {
	r := rand.New(rand.NewPCG(1, 2))
	odd := []string{"", " ", "a", "<&>", `"it's"`, "\n", "two\nlines ", "\ttab", "_x0041_", "_x005F_x0041_", "_x00", "_x00g1_", "é–日😀", "\xff", "\uFFFE", "=A1", "\r"}
	text := func() string {
		s := ""
		for range r.IntN(4) {
			s += odd[r.IntN(len(odd))]
		}
		return s
	}
	number := func() float64 {
		switch r.IntN(4) {
		case 0:
			return []float64{0, math.Copysign(0, -1), 1, -12, 1e15, 1e21, 1e-300, 0.1, 123456789012345678, 0.999999999999999999, 999999999999999.9}[r.IntN(11)]
		case 1:
			return math.Round(r.NormFloat64()*1e6) / 1e3
		}
		return r.NormFloat64() * math.Pow(10, float64(r.IntN(60)-30))
	}
	f := excelize.NewFile()
	defer f.Close()
	stream, err := f.NewStreamWriter("Sheet1")
	if err != nil {
		t.Fatal(err)
	}
	var want []byte
	for row := 1; row <= 2000; row++ {
		want = append(strconv.AppendInt(append(want, `<row r="`...), int64(row), 10), `">`...)
		var cells []any
		for col := range 1 + r.IntN(40) {
			c := export.Cell{Value: []any{nil, text(), number(), r.IntN(2) == 0}[r.IntN(4)]}
			if r.IntN(2) == 0 {
				c.Formula = "1&" + text()
			}
			theirs := excelize.Cell{Formula: c.Formula, Value: c.Value}
			switch v := c.Value.(type) {
			case string:
				theirs.Value = clean(v)
			case float64:
				theirs.Value, _ = strconv.ParseFloat(strconv.FormatFloat(v, 'g', 15, 64), 64)
			}
			cells = append(cells, theirs)
			if want, err = appendCell(want, &c, col, strconv.AppendInt(nil, int64(row), 10), 0); err != nil {
				t.Fatal(err)
			}
		}
		want = append(want, "</row>"...)
		if err := stream.SetRow("A"+strconv.Itoa(row), cells); err != nil {
			t.Fatal(err)
		}
	}
	if err := stream.Flush(); err != nil {
		t.Fatal(err)
	}
	var file bytes.Buffer
	if err := f.Write(&file); err != nil {
		t.Fatal(err)
	}
	_, sheet, _ := strings.Cut(partsOf(t, file.Bytes())["xl/worksheets/sheet1.xml"], begun)
	got, _, _ := strings.Cut(sheet, "</sheetData>")
	got = strings.NewReplacer("&#34;", `"`, "&#39;", "'").Replace(got) // which need not be written so
	theirs, ours := strings.SplitAfter(got, "</c>"), strings.SplitAfter(string(want), "</c>")
	for i := range min(len(theirs), len(ours)) {
		if ours[i] != theirs[i] {
			t.Fatalf("written %q, by the library %q", ours[i], theirs[i])
		}
	}
	if len(ours) != len(theirs) {
		t.Errorf("%d cells, by the library %d", len(ours), len(theirs))
	}
}
