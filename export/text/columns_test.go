package text

import (
	"math"
	"strings"
	"testing"
)

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

// TestWriteColumns: decimal points stand below each other, and names that leave no room
// for a figure are cut.
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

// TestParted: a table that is too wide goes on below, with its first column again and all
// of its figures; units stay with theirs.
func TestParted(t *testing.T) {
	columns := []tableColumn{
		{head: "item", left: true, cells: []string{"oak", "a long name"}}, {head: "low", cells: []string{"1,234.5", "2"}}, {left: true, cells: []string{"W", "EUR"}},
		{head: "high", unit: "EUR", cells: []string{"9", "12,345"}}, {head: "mean", cells: []string{"5", "6"}},
	}
	for n, want := range map[int]string{
		60: "item             low         high  mean\n                              EUR\noak          1,234.5  W         9     5\na long name      2    EUR  12,345     6\n",
		28: "item             low\noak          1,234.5  W\na long name      2    EUR\n\nitem           high  mean\n                EUR\noak               9     5\na long name  12,345     6\n",
		18: "item      low\noak   1,234.5  W\na l…      2    EUR\n\nitem          high\n               EUR\noak              9\na long na…  12,345\n\nitem         mean\noak             5\na long name     6\n",
	} {
		var b strings.Builder
		if writeColumns(&b, columns, Style{Width: n}); b.String() != want {
			t.Errorf("in %d:\n%s\nwant\n%s", n, b.String(), want)
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
