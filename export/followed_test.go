package export

import (
	"math"
	"testing"

	"bankwright/engine/sweep"
)

// TestFollowed: a crossing that comes in below others does not take the place of the
// first of them, and one that ends leaves a gap.
func TestFollowed(t *testing.T) {
	up := func(at float64) sweep.Crossing {
		return sweep.Crossing{At: at, Before: sweep.Lower, After: sweep.Higher}
	}
	down := func(at float64) sweep.Crossing {
		return sweep.Crossing{At: at, Before: sweep.Higher, After: sweep.Lower}
	}
	nan := math.NaN()
	got := followed([]sweep.Tie{
		{Crossings: []sweep.Crossing{up(5)}},
		{Crossings: []sweep.Crossing{up(1), down(2), up(5.5)}},
		{Crossings: []sweep.Crossing{up(6)}},
		{},
		{Crossings: []sweep.Crossing{up(6)}},
	})
	want := [][]float64{{5, 5.5, 6, nan, nan}, {nan, 1, nan, nan, nan}, {nan, 2, nan, nan, nan}, {nan, nan, nan, nan, 6}}
	if len(got) != len(want) {
		t.Fatalf("%v, want %v", got, want)
	}
	for i := range want {
		for j := range want[i] {
			if got[i][j] != want[i][j] && !(math.IsNaN(got[i][j]) && math.IsNaN(want[i][j])) {
				t.Errorf("line %d: %v, want %v", i, got[i], want[i])
				break
			}
		}
	}
}
