package arith

import (
	"math"
	"testing"
)

// TestTolerance: what differs by rounding alone is equal, and neither below nor above;
// what can be told apart is not equal. Of 0.1 + 0.2 the nearest number is
// 0.30000000000000004.
func TestTolerance(t *testing.T) {
	for _, c := range []struct {
		a, b        float64
		near, below bool // of a to b
	}{
		{0.3, 0.1 + 0.2, true, false},
		{0.1 + 0.2, 0.3, true, false},
		{-0.3, -0.1 - 0.2, true, false},
		{1e15, 1e15 + 1, true, false},
		{1, 1 + 1e-11, false, true},
		{1 + 1e-11, 1, false, false},
		{-2, -1, false, true},
		{0, math.SmallestNonzeroFloat64, false, true},
		{0, 0, true, false},
		{math.NaN(), 1, false, false},
		{1, math.NaN(), false, false},
	} {
		if Near(c.a, c.b) != c.near || Below(c.a, c.b) != c.below || AtMost(c.a, c.b) != (c.near || c.below) {
			t.Errorf("%v and %v: near %t, below %t, at most %t", c.a, c.b, Near(c.a, c.b), Below(c.a, c.b), AtMost(c.a, c.b))
		}
	}
}

// TestWholes: three times 0.1 by 10 is 3 and not 4; what is further away counts.
func TestWholes(t *testing.T) {
	for _, c := range []struct{ x, floor, ceil float64 }{
		{(0.1 + 0.2) * 10, 3, 3},
		{0.29999999999999999 * 10, 3, 3},
		{3 - 1e-14, 3, 3},
		{3 + 1e-9, 3, 4},
		{3 - 1e-9, 2, 3},
		{-2.5, -3, -2},
		{-3 + 1e-14, -3, -3},
		{0, 0, 0},
		{4e12 + 0.5, 4e12, 4e12 + 1},
	} {
		if Floor(c.x) != c.floor || Ceil(c.x) != c.ceil {
			t.Errorf("%v: from %v to %v, want %v to %v", c.x, Floor(c.x), Ceil(c.x), c.floor, c.ceil)
		}
	}
}
