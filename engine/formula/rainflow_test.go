package formula

import (
	"math"
	"slices"
	"testing"
)

// TestRainflow compares with the worked example of ASTM E1049-85 (2017),
// section 5.4.4 and figure 6, cycle by cycle (as seen in a public
// reproduction): range, mean, count, and where the cycle starts and ends.
func TestRainflow(t *testing.T) {
	history := []float64{-2, 1, -3, 5, -1, 3, -4, 4, -2}
	want := []Cycle{
		{3, -0.5, 0.5, 0, 1},
		{4, -1, 0.5, 1, 2},
		{4, 1, 1, 4, 5},
		{8, 1, 0.5, 2, 3},
		{9, 0.5, 0.5, 3, 6},
		{8, 0, 0.5, 6, 7},
		{6, 1, 0.5, 7, 8},
	}
	if got := Rainflow(history); !slices.Equal(got, want) {
		t.Errorf("got  %v\nwant %v", got, want)
	}
	slow := []float64{-2, 0, 1, 1, -3, 2, 5, 5, -1, 3, 0, -4, 4, -2, -2} // points between, and points twice
	got := Rainflow(slow)
	for i := range got {
		got[i].Start, got[i].End = 0, 0
		want[i].Start, want[i].End = 0, 0
	}
	if !slices.Equal(got, want) {
		t.Errorf("with points between: got  %v\nwant %v", got, want)
	}
}

// TestRainflowOfEqualRanges: ASTM E1049-85 (2017), section 5.4.4, step 4: a range that is
// equal to the one before it closes it. From 5 down to 2, with 4 to 2 inside, and up again
// is one whole cycle, not two halves.
func TestRainflowOfEqualRanges(t *testing.T) {
	want := []Cycle{{2, 3, 1, 2, 3}, {3, 3.5, 1, 1, 4}, {5, 2.5, 0.5, 0, 5}}
	if got := Rainflow([]float64{0, 5, 2, 4, 2, 5}); !slices.Equal(got, want) {
		t.Errorf("got  %v\nwant %v", got, want)
	}
}

// TestRainflowOfRepeating: a repeating history is counted the same wherever it
// is cut, its cycles are whole, and the damage is that of a hand count: one
// cycle of 8 with one of 3 inside, against a curve of 1000 cycles at 8 and 8000
// at 2 (so 1000·(8/3)^1.5 at 3).
func TestRainflowOfRepeating(t *testing.T) {
	history := []float64{0, 5, 2, 8, 3}
	curve := [][]float64{{2, 8}, {8000, 1000}}
	want := 1/1000.0 + 1/(1000*math.Pow(8.0/3, 1.5))
	for cut := range history {
		turned := append(append([]float64{}, history[cut:]...), history[:cut]...)
		got := apply(t, "rainflow", [][]float64{turned, curve[0], curve[1]}, 1)
		near(t, "damage", got, want, 1e-15)
	}
	near(t, "scaled", apply(t, "rainflow", [][]float64{{0, 50, 20, 80, 30}, curve[0], curve[1]}, 10), want, 1e-15)
	if v := apply(t, "rainflow", [][]float64{{1, math.NaN()}, curve[0], curve[1]}, 1); v == v {
		t.Errorf("a hole in the history gives %v, want no value", v)
	}
	if v := apply(t, "rainflow", [][]float64{{4, 4, 4}, curve[0], curve[1]}, 1); v != 0 {
		t.Errorf("a flat history does %v damage, want none", v)
	}
}
