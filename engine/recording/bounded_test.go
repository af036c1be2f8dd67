package recording

import (
	"math"
	"math/rand/v2"
	"testing"
)

// feedHeld gives values, one a second, to a meter with so much memory.
func feedHeld(values []float64, seconds int64, most int) Result {
	r := &Reader{layout: Layout{Columns: []Column{{Name: "x"}}}, timeIn: -1, order: order{limit: forever}}
	m, _ := Held{Of: "x", For: float64(seconds) / 3600}.bind(r)
	h := m.(*held)
	h.most = most
	for i, v := range values {
		h.add(&Row{Line: i + 1, Time: int64(i) * second, Values: []float64{v}})
	}
	return h.result()
}

// With little memory the value is never too large and at most Unsure too small;
// what rises slowly without end is the worst that there is.
func TestHeldBounded(t *testing.T) {
	r := rand.New(rand.NewPCG(5, 6))
	for trial := range 200 {
		values := make([]float64, 3000)
		for i := range values {
			values[i] = float64(i)/100 + r.Float64()*float64(trial%7)/7
			if trial%3 == 0 {
				values[i] = 30*math.Sin(float64(i)/500) + r.Float64()/10
			}
		}
		for i := range values { // what counts is how far they lie apart, not from zero
			values[i] += float64(trial%4) * 500
		}
		hold := int64(1 + r.IntN(2500))
		full, bounded := feedHeld(values, hold, 1<<20), feedHeld(values, hold, 64)
		if full.Unsure != 0 || full.Last-full.First != int(hold) {
			t.Errorf("%+v in %d s", full, hold)
		}
		if short := full.Value - bounded.Value; short < 0 || short > bounded.Unsure {
			t.Errorf("trial %d: %v, bounded %v ± %v", trial, full.Value, bounded.Value, bounded.Unsure)
		}
		if run := bounded.Last - bounded.First; run < int(hold) {
			t.Errorf("the run from %d to %d is too short for %d s", bounded.First, bounded.Last, hold)
		}
		if limit := 4. * 60 / 64; bounded.Unsure > limit { // four grains in 64 of what the values span
			t.Errorf("trial %d: unsure by %v", trial, bounded.Unsure)
		}
	}
}

func TestOrder(t *testing.T) {
	for _, c := range []struct {
		name  string
		daily bool
		raw   []int64 // seconds
		want  []place
		end   int64 // seconds on the axis
	}{
		{"onward", false, []int64{5, 6, 7}, []place{onward, onward, onward}, 2},
		{"gap", false, []int64{0, 1, 100}, []place{onward, onward, beyond}, 100},
		{"swapped", false, []int64{0, 1, 3, 2, 4}, []place{onward, onward, onward, behind, onward}, 4},
		{"again", false, []int64{10, 11, 100, 3, 4}, []place{onward, onward, beyond, again, onward}, 91},
		{"midnight", true, []int64{86398, 86399, 0, 1}, []place{onward, onward, midnight, onward}, 3},
		{"a gap over midnight", true, []int64{82800, 82801, 3600}, []place{onward, onward, midnightGap}, 7200},
		{"two midnights", true, []int64{86399, 0, 86399, 0}, []place{onward, midnight, beyond, midnight}, 86402 - 1},
		{"a stopwatch starts again", true, []int64{0, 1, 50000, 0}, []place{onward, onward, beyond, again}, 50000},
		{"beyond a day", true, []int64{86399, 86400, 86401, 1}, []place{onward, onward, onward, again}, 2},
		{"no clock", false, []int64{86398, 86399, 0}, []place{onward, onward, again}, 1},
		{"twice", false, []int64{4, 4, 5}, []place{onward, same, onward}, 1},
	} {
		o := order{daily: c.daily, limit: 5 * second}
		for i, raw := range c.raw {
			if got := o.next(raw * second); got != c.want[i] {
				t.Errorf("%s: step %d is %d, want %d", c.name, i, got, c.want[i])
			}
		}
		if o.now != c.end*second {
			t.Errorf("%s: ends at %d s, want %d", c.name, o.now/second, c.end)
		}
	}
}

// Every place of the axis counts: without a limit, a step back is a row out of order.
func TestOrderWithoutLimit(t *testing.T) {
	o := order{limit: forever}
	for i, want := range []place{onward, behind, onward} {
		if got := o.next([]int64{5, 1, 6}[i]); got != want {
			t.Errorf("step %d is %d, want %d", i, got, want)
		}
	}
}
