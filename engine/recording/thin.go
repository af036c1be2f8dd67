package recording

import (
	"container/heap"
	"math"
)

// thin takes samples away until at most n are left: again and again the one without
// which the line is off by the least, in the way of Visvalingam and Whyatt (Line
// generalisation by repeated elimination of points, 1993), but by height in place
// of area, with what is lost already carried along. The first and the last sample,
// the smallest and the largest stay.
func thin(list []*sample, n int) []*sample {
	if len(list) <= n {
		return list
	}
	h := newChain(list)
	for left := len(list); left > n && len(h.order) > 0; left-- {
		heap.Pop(h)
		h.take(h.gone)
	}
	kept := make([]*sample, 0, n)
	for i := 0; i >= 0; i = h.links[i].next {
		kept = append(kept, h.list[i])
	}
	return kept
}

// link is a sample between its neighbours; -1 is none.
type link struct {
	before, next int
	lost         float64 // how far what was taken away behind it may be from the line
	cost         float64 // how far that would be without it
	at           int     // its place in the order; -1 once it is taken away, or if it stays
}

// chain is a list of samples, and an order of those that may go by what that costs.
type chain struct {
	list  []*sample
	links []link
	order []int
	gone  int // the sample that went last
}

func newChain(list []*sample) *chain {
	h := &chain{list: list, links: make([]link, len(list))}
	low, top := 0, 0
	for i, s := range list {
		if s.v < list[low].v {
			low = i
		}
		if s.v > list[top].v {
			top = i
		}
		h.links[i] = link{before: i - 1, next: i + 1, at: -1}
	}
	h.links[len(list)-1].next = -1
	for i := 1; i < len(list)-1; i++ {
		if i != low && i != top {
			h.price(i)
			h.links[i].at = len(h.order)
			h.order = append(h.order, i)
		}
	}
	heap.Init(h)
	return h
}

// price finds what taking a sample away costs.
func (h *chain) price(i int) {
	k := &h.links[i]
	a, s, b := h.list[k.before], h.list[i], h.list[k.next]
	line := a.v
	if b.Time > a.Time {
		line += (b.v - a.v) * (s.Time - a.Time) / (b.Time - a.Time)
	}
	k.cost = math.Abs(s.v-line) + max(h.links[k.before].lost, k.lost)
}

// take takes a sample away.
func (h *chain) take(i int) {
	k := h.links[i]
	h.links[k.before].next, h.links[k.next].before = k.next, k.before
	h.links[k.before].lost = k.cost
	for _, j := range []int{k.before, k.next} {
		if at := h.links[j].at; at >= 0 {
			h.price(j)
			heap.Fix(h, at)
		}
	}
}

func (h *chain) Len() int           { return len(h.order) }
func (h *chain) Less(i, j int) bool { return h.links[h.order[i]].cost < h.links[h.order[j]].cost }

func (h *chain) Swap(i, j int) {
	h.order[i], h.order[j] = h.order[j], h.order[i]
	h.links[h.order[i]].at, h.links[h.order[j]].at = i, j
}

// Push is not used: nothing comes back.
func (h *chain) Push(any) {}

// Pop is that of heap.Interface, but puts what goes into a field of its own, since a
// number costs memory as any value.
func (h *chain) Pop() any {
	n := len(h.order) - 1
	h.gone = h.order[n]
	h.order = h.order[:n]
	h.links[h.gone].at = -1
	return nil
}
