package recording

import "math"

// lost is what was left out between two rows: how many lines, and their first and last
// time as far as that can be read.
type lost struct {
	lines       int
	timed       bool
	first, last int64 // as the file has them
}

// lose counts the lines of a row that is left out, if it is one: its time or another
// wanted cell begins as values do, unlike the words below the rows of a recording.
func (r *Reader) lose(cells []string, lines int) {
	has := func(i int) bool { return i >= 0 && i < len(cells) && valued(cells[i]) }
	row := has(r.timeAt)
	for i := range r.cols {
		row = row || has(r.cols[i].at)
	}
	if !row {
		return
	}
	r.lost.lines += lines
	if !has(r.timeAt) || r.dateAt >= 0 && !has(r.dateAt) {
		return
	}
	date := ""
	if r.dateAt >= 0 {
		date = cells[r.dateAt]
	}
	k := r.clock // a copy: what is left out does not settle whether times have a zone
	t, ok := k.read(cells[r.timeAt], date)
	if !ok && t == 0 { // a time with a zone among such without is known all the same
		return
	}
	if !r.lost.timed {
		r.lost.timed, r.lost.first, r.lost.last = true, t, t
	}
	r.lost.first, r.lost.last = min(r.lost.first, t), max(r.lost.last, t)
}

// found goes on behind a row that was read.
func (r *Reader) found() {
	if r.lost.lines > 0 {
		if !r.filled {
			r.before = r.lost
		}
		r.lost = lost{}
	}
	r.filled = true
}

// mostOutside keeps sums of times within their numbers.
const mostOutside = int64(1) << 60

// outside is for how long rows were left out before the first row and behind the last
// one, in nanoseconds: by their times, but at least the median step for each line.
func (r *Reader) outside() int64 {
	step := int64(math.Round(r.report.Step * nanosPerHour))
	before, behind := int64(r.before.lines)*step, int64(r.lost.lines)*step
	if r.before.timed {
		before = max(before, r.order.first-r.before.first)
	}
	if r.lost.timed {
		behind = max(behind, r.lost.last-r.order.raw)
	}
	return min(before, mostOutside) + min(behind, mostOutside)
}
