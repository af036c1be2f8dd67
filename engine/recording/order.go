package recording

import "math"

// order puts the times of rows on one axis that never goes back.
type order struct {
	daily   bool // a clock without date, which may pass midnight
	limit   int64
	started bool
	first   int64 // as the file has it
	raw     int64 // of the row before, as the file has it
	shift   int64 // what has been added since
	now     int64 // of the row before, on the axis
	part    int
}

// forever is the limit of steps where none is known.
const forever = math.MaxInt64

// place is what is found about the time of a row.
type place int

const (
	onward      place = iota
	same              // as the row before
	beyond            // after a gap
	midnight          // a day was added
	midnightGap       // a day was added, and there is still a gap
	again             // the time starts again
	behind            // earlier than the row before: the row is not placed
)

// next places a row. A step back by at most the limit is a row out of order. A
// longer one is a clock without date that passes midnight if it goes back by more
// than 12 hours within the day and is no stopwatch, and else a clock that was set back or started
// again; how long the pause was is not known then, and counts as none.
func (o *order) next(raw int64) place {
	if !o.started {
		o.started, o.first, o.raw, o.shift = true, raw, raw, -raw
		return onward
	}
	step := raw - o.raw
	switch {
	case step == 0:
		return same
	case step > 0:
		o.raw, o.now = raw, raw+o.shift
		if step > o.limit {
			return beyond
		}
		return onward
	}
	if o.daily && o.raw < day && -step > 12*hour && (step+day <= o.limit || !o.stopwatch(raw)) {
		o.shift += day
		o.raw, o.now = raw, raw+o.shift
		if step+day > o.limit {
			return midnightGap
		}
		return midnight
	}
	if o.limit == forever || -step <= o.limit {
		return behind
	}
	o.part++
	o.raw, o.shift = raw, o.now-raw
	return again
}

// stopwatch reports whether a clock seems to count from the start of a recording
// and to be started again: both times it begins at 0.
func (o *order) stopwatch(raw int64) bool { return o.first <= o.limit && raw <= o.limit }
