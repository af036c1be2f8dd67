package recording

import (
	"slices"
)

// headRows is how many rows are read ahead, to find the median step of time.
const headRows = 1024

// defaultSteps is how many median steps make a gap, where the source does not say.
const defaultSteps = 5

// prime reads the first rows ahead and sets the limits of steps.
func (r *Reader) prime() {
	r.primed = true
	if r.ended {
		return
	}
	n := len(r.layout.Columns)
	slab := make([]float64, 0, headRows*n)
	for len(r.queue) < headRows {
		var p pending
		if !r.fetch(&p) {
			break
		}
		slab = append(slab, p.values...)
		p.values = slab[len(slab)-n : len(slab) : len(slab)]
		r.queue = append(r.queue, p)
	}
	r.limits()
}

// limits sets the longest step that is no gap, for rows and for each column.
func (r *Reader) limits() {
	all := func(*pending) bool { return true }
	step := median(r.queue, all)
	r.report.Step = hours(step)
	r.order.limit = r.limit(step)
	for i := range r.cols {
		c := &r.cols[i]
		own := median(r.queue, func(p *pending) bool { v := p.values[c.in]; return v == v })
		if c.rare = own == 0 && len(r.queue) == headRows; c.rare {
			own = r.queue[headRows-1].raw - r.queue[0].raw
		}
		c.limit = max(r.limit(own), r.order.limit)
	}
	if r.order.limit != forever {
		r.report.Limit = hours(r.order.limit)
	}
}

// limit is the longest step that is no gap, by the median step.
func (r *Reader) limit(step int64) int64 {
	times := r.source.GapSteps
	if times <= 0 {
		times = defaultSteps
	}
	switch limit := float64(step) * times; {
	case r.source.Gap > 0:
		return int64(r.source.Gap)
	case step <= 0 || limit >= forever:
		return forever
	default:
		return int64(limit)
	}
}

// median is the lower median of the steps forward between those rows that count,
// 0 where there are none.
func median(list []pending, counts func(*pending) bool) int64 {
	var steps []int64
	before := -1
	for i := range list {
		if !counts(&list[i]) {
			continue
		}
		if before >= 0 && list[i].raw > list[before].raw {
			steps = append(steps, list[i].raw-list[before].raw)
		}
		before = i
	}
	if len(steps) == 0 {
		return 0
	}
	slices.Sort(steps)
	return steps[(len(steps)-1)/2]
}
