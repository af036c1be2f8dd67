package diag

import (
	"math/rand/v2"
	"testing"
)

func TestNearest(t *testing.T) {
	names := []string{"capacity", "nominal_voltage", "price", "mass", "shelf_depth", "heat_loss", "heat_gain", "V", "A", "Ah", "Wh", "kWh", "mW", "MW", "in", "h"}
	for _, c := range []struct{ name, want string }{
		{"capacity", "capacity"},
		{"capacty", "capacity"},
		{"capactiy", "capacity"},
		{"Capacity", "capacity"},
		{"nominal-voltage", "nominal_voltage"},
		{"nominal voltage", "nominal_voltage"},
		{"nominalvoltage", "nominal_voltage"},
		{"prise", "price"},
		{"heat_los", "heat_loss"},
		{"heat_losse", "heat_loss"},
		{"heat_gian", "heat_gain"},
		{"shelf", ""},
		{"temperature", ""},
		{"v", "V"},
		{"B", ""},
		{"hA", "Ah"},
		{"Bh", ""}, // Ah and Wh are both half away
		{"KWH", "kWh"},
		{"Mw", "MW"},
		{"mw", "mW"},
		{"", ""},
	} {
		if got := Nearest(c.name, names); got != c.want {
			t.Errorf("Nearest(%q) = %q, want %q", c.name, got, c.want)
		}
	}
	if got := Nearest("price", nil); got != "" {
		t.Errorf("without candidates: %q", got)
	}
	if got := Nearest("price", []string{""}); got != "" {
		t.Errorf("with an empty candidate: %q", got)
	}
}

// The order of the candidates does not matter.
func TestNearestOrder(t *testing.T) {
	names := []string{"rated_a", "rated_b", "rated_c", "rated_d", "Rated_A", "RATED_A"}
	random := rand.New(rand.NewPCG(1, 2))
	for _, name := range []string{"rated_x", "rated_A", "rate_a", "RATED_a"} {
		want := Nearest(name, names)
		for range 50 {
			random.Shuffle(len(names), func(i, j int) { names[i], names[j] = names[j], names[i] })
			if got := Nearest(name, names); got != want {
				t.Fatalf("Nearest(%q, %q) = %q, in another order %q", name, names, got, want)
			}
		}
	}
}

// The distance against its definition by recursion.
// Source of the recursion: optimal string alignment, as in E. Ukkonen,
// Algorithms for approximate string matching (1985), with swaps.
func TestDistance(t *testing.T) {
	var plain func(a, b []rune) int
	plain = func(a, b []rune) int {
		if len(a) == 0 || len(b) == 0 {
			return edit * (len(a) + len(b))
		}
		n, m := len(a)-1, len(b)-1
		d := plain(a[:n], b[:m])
		if a[n] != b[m] {
			d += edit
		}
		d = min(d, plain(a[:n], b)+edit, plain(a, b[:m])+edit)
		if n > 0 && m > 0 && a[n] == b[m-1] && a[n-1] == b[m] {
			d = min(d, plain(a[:n-1], b[:m-1])+swap)
		}
		return d
	}
	random := rand.New(rand.NewPCG(5, 6))
	word := func() []rune {
		w := make([]rune, random.IntN(6))
		for i := range w {
			w[i] = 'a' + rune(random.IntN(3))
		}
		return w
	}
	for range 500 {
		a, b := word(), word()
		if got, want := distance(a, b), plain(a, b); got != want {
			t.Fatalf("distance(%q, %q) = %d, want %d", string(a), string(b), got, want)
		}
	}
}
