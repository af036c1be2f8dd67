package text

import (
	"math"
	"strings"
	"testing"
)

func TestBars(t *testing.T) {
	nan := math.NaN()
	for _, c := range []struct {
		values []float64
		width  int
		blocks bool
		want   string
	}{
		{[]float64{8, 4, 1, 0, nan}, 8, false, "########;####    ;#       ;        ;        "},
		{[]float64{8, 4.5, 0.25, 1e-9}, 8, true, "████████;████▌   ;▎       ;▏       "},
		{[]float64{-2, 2}, 9, false, "####|    ;    |####"},
		{[]float64{-2, 1, 0.25}, 7, true, "████│  ;    │██;    │▌ "},
		{[]float64{-1.5, -2, -0.01, nan}, 5, true, " ███│;████│;   ▐│;    │"},
		{[]float64{-1.2, -2}, 5, true, " ▐██│;████│"},
		{[]float64{-1, -1}, 1, true, " ; "},
		{[]float64{-1, 1}, 2, true, "  ;  "},
		{[]float64{-1, 1}, 3, false, "#| ; |#"},
		{[]float64{0, 0}, 3, true, "   ;   "},
		{[]float64{math.MaxFloat64, -math.MaxFloat64}, 5, false, "  |##;##|  "},
		{[]float64{math.Inf(1), 2, math.Inf(-1)}, 2, false, "  ;##;  "},
		{[]float64{1, 2}, 0, true, ";"},
		{[]float64{1, 2}, -4, true, ";"},
		{nil, 5, true, ""},
	} {
		got := Bars(c.values, c.width, c.blocks)
		for _, b := range got {
			if width(b) != max(0, c.width) {
				t.Errorf("%v: %q is %d wide, not %d", c.values, b, width(b), c.width)
			}
		}
		if s := strings.Join(got, ";"); s != c.want {
			t.Errorf("%v in %d:\n%q, want\n%q", c.values, c.width, s, c.want)
		}
	}
}

func TestShowsBlocks(t *testing.T) {
	for env, want := range map[string]bool{
		"": false, "LANG=en_GB.UTF-8": true, "LANG=C": false, "LANG=de_DE.utf8": true, "LC_ALL=C LANG=en_GB.UTF-8": false,
		"LC_CTYPE=C.UTF-8": true, "TERM=linux LANG=C.UTF-8": false, "TERM=dumb LANG=C.UTF-8": false, "WT_SESSION=1": true,
	} {
		get := func(name string) string {
			for _, f := range strings.Fields(env) {
				if v, ok := strings.CutPrefix(f, name+"="); ok {
					return v
				}
			}
			return ""
		}
		if got := ShowsBlocks(get); got != want {
			t.Errorf("%q: %v", env, got)
		}
	}
}
