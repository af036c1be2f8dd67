package recording

import (
	"container/heap"
	"math"
	"math/rand/v2"
	"testing"
)

// TestThinBow: of a bow, on which every sample alone is nearly on the line between its
// neighbours, samples stay over all of it: what was taken away already counts. Chords of
// equal lengths would be off by an eighth of the square of these lengths, by the half of
// the second derivative.
func TestThinBow(t *testing.T) {
	const n, kept = 2049, 17
	list := make([]*sample, n)
	for i := range list {
		x := float64(i) / (n - 1)
		list[i] = &sample{Sample: Sample{Time: x}, v: x * x}
	}
	out := thin(list, kept)
	if len(out) != kept || out[0] != list[0] || out[kept-1] != list[n-1] {
		t.Fatalf("%d samples are left", len(out))
	}
	most := 0.
	for i, b := range out[1:] {
		a := out[i]
		most = math.Max(most, (b.Time-a.Time)*(b.Time-a.Time)/4)
	}
	if best := 1. / (kept - 1) / (kept - 1) / 4; most > 4*best {
		t.Errorf("the curve is off by %v, by chords of equal lengths %v", most, best)
	}
}

// TestThinLoss: no sample that was taken away lies further from the line than is known to
// be lost there, however many went before it.
func TestThinLoss(t *testing.T) {
	r := rand.New(rand.NewPCG(5, 8))
	for range 50 {
		list := make([]*sample, 200)
		v := 0.
		for i := range list {
			v += r.NormFloat64()
			list[i] = &sample{Sample: Sample{Time: float64(i)}, v: v}
		}
		h := newChain(list)
		for len(h.order) > 5 {
			heap.Pop(h)
			h.take(h.gone)
		}
		for i := 0; h.links[i].next >= 0; i = h.links[i].next {
			a, b := list[i], list[h.links[i].next]
			for _, s := range list[i+1 : h.links[i].next] {
				off := math.Abs(a.v + (b.v-a.v)*(s.Time-a.Time)/(b.Time-a.Time) - s.v)
				if lost := h.links[i].lost; off > lost*(1+1e-12) {
					t.Fatalf("at %v a sample is off by %v, and %v is said to be lost", s.Time, off, lost)
				}
			}
		}
	}
}
