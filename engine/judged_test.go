package engine_test

import (
	"fmt"
	"math"
	"strings"
	"testing"
)

// TestLag: by which share of the best figure the others are behind it, whatever sign it
// has; and before it, where one that may not be best has a better figure.
func TestLag(t *testing.T) {
	for _, c := range []struct {
		name, order, items string
		lags               []float64 // of a, b, c ...
		beaten             bool
	}{
		{"lowest is best", "lowest", shelf("a", 100, 1, "") + shelf("b", 125, 1, "") + shelf("c", 200, 1, ""), []float64{0, 0.25, 1}, false},
		{"highest is best", "highest", shelf("a", 100, 1, "") + shelf("b", 150, 1, "") + shelf("c", 200, 1, ""), []float64{-0.5, -0.25, 0}, false},
		{"below zero", "lowest", shelf("a", -100, 1, "") + shelf("b", -75, 1, "") + shelf("c", 100, 1, ""), []float64{0, 0.25, 2}, false},
		{"one that is not fit is before it", "lowest", shelf("a", 50, 1, "tall = 0") + shelf("b", 100, 1, ""), []float64{-0.5, 0}, true},
		{"one that is not fit is level", "lowest", shelf("a", 100, 1, "tall = 0") + shelf("b", 100, 1, ""), []float64{0, 0}, false},
		{"one without figure", "lowest", "[shelf.a]\n" + shelf("b", 100, 1, ""), []float64{math.NaN(), 0}, false},
		{"the best costs nothing", "lowest", shelf("a", 0, 1, "") + shelf("b", 10, 1, ""), []float64{math.NaN(), math.Inf(1)}, false},
		{"no best", "lowest", shelf("a", 10, 1, "tall = 0") + shelf("b", 20, 1, "tall = 0"), []float64{math.NaN(), math.NaN()}, false},
	} {
		text := strings.Replace(fmt.Sprintf(shelves, ""), `best = "lowest"`, `best = "`+c.order+`"`, 1)
		got := loadText(t, text+c.items).Compare()
		for _, s := range got.Ranked {
			if lag, want := got.Lag(s), c.lags[s.Item]; !(math.Abs(lag-want) <= 1e-12) && lag != want && !(lag != lag && want != want) {
				t.Errorf("%s: %s is behind by %v, want %v", c.name, got.Kind.Items[s.Item].Name, lag, want)
			}
		}
		if got.Beaten() != c.beaten {
			t.Errorf("%s: beaten %t", c.name, got.Beaten())
		}
	}
}

// TestUnjudged: what is not given that a check which forbids would need, of the items that
// are shown in full; not what any other check would need, nor what a rule leaves out.
func TestUnjudged(t *testing.T) {
	text := fmt.Sprintf(shelves, "") + `
[rules.shelf.depth]
unit     = "m"
optional = true
[rules.shelf.width]
unit     = "m"
optional = true
[rules.shelf.area]
unit    = "m²"
formula = "depth * width"
doc     = "x"
[rules.shelf.half]
unit    = "m"
formula = "tall > 1 ? depth : absent"
doc     = "x"
[rules.check.deep]
of        = "shelf"
severity  = "stop"
require   = "depth < width"
otherwise = "It is deep."
[rules.check.large]
of        = "shelf"
severity  = "stop"
require   = "area > area - area"
otherwise = "It is large."
[rules.check.halved]
of        = "shelf"
severity  = "stop"
require   = "half < 2 * half"
otherwise = "It is not halved."
[rules.check.heavy]
of        = "shelf"
severity  = "unfit"
require   = "load < 2 * load"
otherwise = "It is heavy."
`
	both := "depth = \"1 m\"\nwidth = \"2 m\""
	bare := "[shelf.d]\nprice = \"5 EUR\"\n[shelf.e]\nprice = \"6 EUR\"\n"
	for _, c := range []struct{ name, items, want string }{
		{"all is given", shelf("a", 1, 1, both), ""},
		{"one is not", shelf("a", 1, 1, both) + shelf("b", 2, 1, "depth = \"1 m\""), "shelf.width deep large"},
		{"one is not of one and the other of the other", shelf("a", 1, 1, "width = \"2 m\"") + shelf("b", 2, 1, "depth = \"1 m\""), "shelf.depth deep large; shelf.width deep large"},
		{"those that are not shown in full do not count", shelf("a", 1, 1, both) + shelf("b", 2, 1, both) + shelf("c", 3, 1, both) + bare, ""},
	} {
		m := loadText(t, text+c.items)
		var got []string
		for _, u := range m.Unjudged(m.Compare()) {
			got = append(got, u.Missing+" "+strings.Join(u.Checks, " "))
		}
		if told := strings.Join(got, "; "); told != c.want {
			t.Errorf("%s: %q, want %q", c.name, told, c.want)
		}
	}
}
