package gridfile

import (
	"bytes"
	"encoding/csv"
	"math"
	"slices"
	"strconv"
	"strings"
	"testing"

	"bankwright/engine"
	"bankwright/engine/arith"
	"bankwright/engine/check"
	"bankwright/engine/decl"
	"bankwright/engine/eval"
)

// columns are the heads of the sweep of everything, and the cells below them.
var columns = []struct{ head, cell string }{
	{"shelf.one.finish", "shelf.one.finish"},
	{"shelf.two.fixed", "shelf.two.fixed"},
	{"shelf.one.plank", "shelf.one.plank"},
	{"plank.oak.cost (EUR/m)", "plank.oak.cost"},
	{"plank.ash.cost (EUR/m)", "plank.ash.cost"},
	{"shop.sold[2]", "shop.sold[2]"},
	{"shop.warm (°C)", "shop.warm"},
	{"shelf.one.boards", "shelf.one.boards"},
	{"plank.oak.length (cm)", "plank.oak.length"}, // the longest axis runs fastest
	{"shelf.one.saved (EUR)", "shelf.one.saved"},
	{"shelf.two.saved (EUR)", "shelf.two.saved"},
	{"shelf.one.span (cm)", "shelf.one.span"},
	{"check.within.two", "check.within.two"}, // shelf.one.boards is shown, too, but varied
	{"best", ""},
}

func records(t *testing.T, data []byte) [][]string {
	t.Helper()
	rows, err := csv.NewReader(bytes.NewReader(data)).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	return rows
}

// TestCSV: what stands in the rows of a grid is what runs of the model with these
// inputs alone give, to the last bit.
func TestCSV(t *testing.T) {
	m, g := grid(t, everything)
	rows := records(t, file(t, CSV, m, g, all))
	if len(rows) != g.Points()+1 {
		t.Fatalf("%d rows for %d points", len(rows), g.Points())
	}
	cells := make([]eval.Cell, len(columns)-1)
	for j, c := range columns {
		if rows[0][j] != c.head || len(rows[0]) != len(columns) {
			t.Errorf("the heads are %q, the %d-th is to be %q", rows[0], j+1, c.head)
		}
		if c.cell == "" {
			continue
		}
		var err error
		if cells[j], err = m.ParseCell(c.cell); err != nil {
			t.Fatal(err)
		}
	}
	machine := eval.New(m.Program)
	seen := make([]map[string]bool, len(columns))
	for point := 0; point < g.Points(); point += 61 {
		one := alone(machine, g, point)
		for j, field := range rows[point+1] {
			if seen[j] == nil {
				seen[j] = map[string]bool{}
			}
			seen[j][field] = true
			if j == len(cells) {
				if want := bestOf(m, one); field != want {
					t.Fatalf("point %d: %q is best, alone %q", point, field, want)
				}
				continue
			}
			if c := cells[j]; !agrees(m, c, field, one.At(c.Quantity, c.Item, c.Row)) {
				t.Fatalf("point %d: %s is %q, alone %v", point, columns[j].head, field, m.Text(c.Quantity, one.At(c.Quantity, c.Item, c.Row)))
			}
		}
	}
	for j, want := range map[int]int{0: 3, 1: 2, 2: 2, 3: 2, 4: 2, 5: 3, 6: 2, 7: 3, 8: 301, 12: 2, 13: 3} {
		if len(seen[j]) != want {
			t.Errorf("%s has %d values in the rows looked at, not %d", columns[j].head, len(seen[j]), want)
		}
	}
	if !seen[9][""] || !seen[13][""] {
		t.Error("no row looked at has no value, or none is best")
	}
}

// agrees tells whether a field says exactly the value of a cell.
func agrees(m *engine.Model, c eval.Cell, field string, v float64) bool {
	if v != v {
		return field == ""
	}
	switch c.Quantity.Type {
	case decl.Number:
		x, err := strconv.ParseFloat(field, 64)
		return err == nil && math.Float64bits(x) == math.Float64bits(c.Quantity.Unit.FromBase(v))
	case decl.Boolean:
		return field == strconv.FormatBool(v != 0)
	}
	return strings.TrimPrefix(field, "'") == m.Text(c.Quantity, v)
}

// bestOf is the best item of a single run: by its checks and its price.
func bestOf(m *engine.Model, r *eval.Result) string {
	shelf := m.Compared()
	price, best, name := shelf.Quantity("price"), math.NaN(), ""
	for i, it := range shelf.Items {
		passed := !slices.ContainsFunc(m.Checks, func(c *check.Check) bool { return r.At(c.Result, i, 0) == 0 })
		if v := r.At(price, i, 0); passed && (name == "" || arith.Below(v, best)) {
			best, name = v, it.Name
		}
	}
	return name
}

// TestParts: the parts of CSV are the whole, one behind the other, also where there
// are more of them than points.
func TestParts(t *testing.T) {
	for _, vary := range []string{everything, `vary = [{ input = "shop.warm", values = ["1 °C", "2 °C", "3 °C"] }]`} {
		m, g := grid(t, vary)
		want := file(t, CSV, m, g, all)
		for _, n := range []int{1, 2, 7} {
			var got []byte
			for k := 1; k <= n; k++ {
				got = append(got, file(t, CSV, m, g, Part{k, n})...)
			}
			if !bytes.Equal(got, want) {
				t.Errorf("%d parts of %d points are not the whole file", n, g.Points())
			}
		}
	}
}

func TestGuarded(t *testing.T) {
	for text, want := range map[string]string{
		"": "", "raw": "raw", "a=b": "a=b", "=1+1": "'=1+1", "+1": "'+1", "-1": "'-1", "@sum": "'@sum", "\tx": "'\tx", "\rx": "'\rx", "'=1": "'=1",
	} {
		if got := guarded(text); got != want {
			t.Errorf("%q became %q, not %q", text, got, want)
		}
	}
}

func TestNumbers(t *testing.T) {
	for _, c := range []struct {
		v    float64
		want string
	}{
		{0, "0"}, {math.Copysign(0, -1), "-0"}, {1, "1"}, {-2.5, "-2.5"}, {0.30000000000000004, "0.30000000000000004"},
		{1e6, "1000000"}, {123456789012, "123456789012"}, {1e21, "1e+21"}, {1e-6, "0.000001"}, {1e-7, "1e-07"},
		{math.MaxFloat64, "1.7976931348623157e+308"}, {math.SmallestNonzeroFloat64, "5e-324"}, {math.NaN(), ""},
	} {
		if got := string(appendNumber(nil, c.v)); got != c.want {
			t.Errorf("%v is written %s, not %s", c.v, got, c.want)
		}
	}
}
