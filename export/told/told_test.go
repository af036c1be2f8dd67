package told

import (
	"fmt"
	"testing"
)

func TestThinned(t *testing.T) {
	for _, c := range []struct {
		n, most int
		want    string
	}{
		{3, 30, "[0 1 2]"}, {1, 30, "[0]"}, {10, 5, "[0 3 6 9]"}, {11, 5, "[0 3 6 9 10]"}, {9, 2, "[0 8]"}, {2, 2, "[0 1]"},
	} {
		if got := fmt.Sprint(Thinned(c.n, c.most)); got != c.want {
			t.Errorf("%d of %d: %s, want %s", c.most, c.n, got, c.want)
		}
	}
	for n := 1; n < 200; n++ {
		for most := 2; most < 40; most++ {
			at := Thinned(n, most)
			if len(at) > most+1 || at[0] != 0 || at[len(at)-1] != n-1 {
				t.Fatalf("%d of %d: %v", most, n, at)
			}
		}
	}
}

func TestOrdinal(t *testing.T) {
	for n, want := range map[int]string{1: "1st", 2: "2nd", 3: "3rd", 4: "4th", 11: "11th", 12: "12th", 21: "21st", 113: "113th", 1002: "1,002nd"} {
		if got := Ordinal(n); got != want {
			t.Errorf("%d: %s", n, got)
		}
	}
}

func TestDecimals(t *testing.T) {
	for _, c := range []struct {
		values []float64
		want   int
	}{{[]float64{50, 51.5, 53}, 1}, {[]float64{800, 845.4545454545, 891}, 0}, {[]float64{1, 2}, 0}, {nil, 0}} {
		if got := Decimals(c.values); got != c.want {
			t.Errorf("%v: %d decimals, want %d", c.values, got, c.want)
		}
	}
}
