package text

import (
	"fmt"
	"math"
	"strings"
	"testing"
)

func TestThinned(t *testing.T) {
	for _, c := range []struct {
		n, most int
		want    string
	}{
		{3, 30, "[0 1 2]"}, {1, 30, "[0]"}, {10, 5, "[0 3 6 9]"}, {11, 5, "[0 3 6 9 10]"}, {9, 2, "[0 8]"}, {2, 2, "[0 1]"},
	} {
		if got := fmt.Sprint(thinned(c.n, c.most)); got != c.want {
			t.Errorf("%d of %d: %s, want %s", c.most, c.n, got, c.want)
		}
	}
	for n := 1; n < 200; n++ {
		for most := 2; most < 40; most++ {
			at := thinned(n, most)
			if len(at) > most+1 || at[0] != 0 || at[len(at)-1] != n-1 {
				t.Fatalf("%d of %d: %v", most, n, at)
			}
		}
	}
}

func TestOrdinal(t *testing.T) {
	for n, want := range map[int]string{1: "1st", 2: "2nd", 3: "3rd", 4: "4th", 11: "11th", 12: "12th", 21: "21st", 113: "113th", 1002: "1,002nd"} {
		if got := ordinal(n); got != want {
			t.Errorf("%d: %s", n, got)
		}
	}
}

// TestTornado: a bar to both sides of the base, whichever end lies where; ends on one
// side make one bar, and an end without a value none.
func TestTornado(t *testing.T) {
	nan := math.NaN()
	got := tornado([][2]float64{{-4, 4}, {4, -4}, {-2, nan}, {1, 4}, {nan, nan}}, 9, true)
	if s := strings.Join(got, ";"); s != "████│████;████│████;  ██│    ;    │████;    │    " {
		t.Errorf("%s", s)
	}
	if s := strings.Join(tornado([][2]float64{{2, 4}}, 4, false), ";"); s != "####" {
		t.Errorf("%s", s)
	}
}

func TestBrokenName(t *testing.T) {
	for _, c := range []struct {
		name string
		n    int
		want string
	}{
		{"shelf.oak.price", 15, "shelf.oak.price"}, {"shelf.oak.price", 12, "shelf.oak.|  price"}, {"shelf.oak.price", 7, "shelf.|  oak.|  price"},
		{"three of oak", 9, "three of |  oak"}, {"x", 0, "x"},
	} {
		if got := strings.Join(brokenName(c.name, c.n), "|"); got != c.want {
			t.Errorf("%s in %d: %q, want %q", c.name, c.n, got, c.want)
		}
	}
}

// TestWriteColumns: decimal points stand below each other, and a line that does not
// fit is cut.
func TestWriteColumns(t *testing.T) {
	var b strings.Builder
	columns := []tableColumn{{head: "item", left: true, cells: []string{"a", "long name"}}, {head: "cost", unit: "EUR", cells: []string{"1.5", "12"}}}
	writeColumns(&b, columns, Style{Width: 80})
	if got := b.String(); got != "item       cost\n            EUR\na           1.5\nlong name  12\n" {
		t.Errorf("%q", got)
	}
	b.Reset()
	writeColumns(&b, columns, Style{Width: 8})
	for _, line := range strings.Split(b.String(), "\n") {
		if width(line) > 8 {
			t.Errorf("%q is too long", line)
		}
	}
}

func TestScaleLine(t *testing.T) {
	for _, c := range []struct {
		names []string
		room  int
		want  string
	}{
		{[]string{"1", "2", "3"}, 9, "1   3"}, {[]string{"800", "900", "1,000", "1,100"}, 20, "800   1,100"}, {[]string{"long"}, 3, ""},
	} {
		if got := scaleLine(c.names, c.room); got != c.want {
			t.Errorf("%v: %q, want %q", c.names, got, c.want)
		}
	}
}

func TestDecimalsOf(t *testing.T) {
	for _, c := range []struct {
		values []float64
		want   int
	}{{[]float64{50, 51.5, 53}, 1}, {[]float64{800, 845.4545454545, 891}, 0}, {[]float64{1, 2}, 0}, {nil, 0}} {
		if got := decimalsOf(c.values); got != c.want {
			t.Errorf("%v: %d decimals, want %d", c.values, got, c.want)
		}
	}
}
