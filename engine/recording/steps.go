package recording

import (
	"math"
	"time"

	"bankwright/engine/diag"
)

// step tells what is odd about the time of a row, and reports whether it is used.
// from is the time of the row before as the file has it, was the same on the axis.
func (r *Reader) step(found place, from, was int64, p *pending) bool {
	f := Fault{Line: p.line, Before: hours(was), After: hours(was + p.raw - from)}
	if found != behind && found != same {
		f.After = hours(r.order.now)
	}
	a, b := r.moment(from), r.moment(p.raw)
	if found == again || found == beyond || found == midnightGap {
		r.quiet()
		r.since, r.sinceLine = r.order.now, p.line
	}
	switch found {
	case behind:
		if f.Kind = Backward; r.faults.room(Backward) {
			r.faults.tell(f, "", "the time goes back from %s to %s; the row is left out", a, b)
		}
		return false
	case same:
		return r.repeated(f, p, a)
	case again:
		r.row.Stretch++
		if f.Kind = Reset; r.faults.room(Reset) {
			r.faults.tell(f, r.summer(from-p.raw), "the time starts again at %s after %s; how long the pause was is not known, and nothing is counted across it", b, a)
		}
		return true
	}
	if found == midnight || found == midnightGap {
		g := f
		if g.Kind = Rollover; r.faults.room(Rollover) {
			r.faults.tell(g, "", "the clock goes from %s to %s; this is read as the next day", a, b)
		}
	}
	if found == beyond || found == midnightGap {
		missing := r.order.now - was
		r.row.Stretch++
		r.report.Missing += hours(missing)
		if f.Kind = Gap; r.faults.room(Gap) {
			r.faults.tell(f, "", "nothing was recorded for %s, from %s to %s; nothing is counted across it", span(missing), a, b)
		}
	}
	return true
}

// summer hints at the end of summer time, where a clock on the wall is set back by
// an hour.
func (r *Reader) summer(back int64) string {
	if r.clock.zoned < 0 && back <= hour && back > hour-10*minute {
		return "If the clock was set back by an hour, record with a zone or in UTC."
	}
	return ""
}

// repeated tells of a row with the time of the row before; it is used unless all
// of it is the same.
func (r *Reader) repeated(f Fault, p *pending, at string) bool {
	same := true
	for i := range r.cols {
		v, w := p.values[r.cols[i].in], r.row.Values[r.cols[i].in]
		same = same && (v == w || v != v && w != w)
	}
	f.After = f.Before
	if f.Kind = RepeatedTime; same {
		f.Kind = RepeatedRow
	}
	if r.faults.room(f.Kind) {
		if same {
			r.faults.tell(f, "", "the row says the same as the row before, at %s; it is left out", at)
		} else {
			r.faults.tell(f, "", "the time %s is that of the row before, with other values; both are kept", at)
		}
	}
	return !same
}

// silence tells of a column that had no value for longer than a limit, up to the
// row: since its value before, or since the stretch began.
func (r *Reader) silence(c *column, limit int64) {
	from, line := r.since, r.sinceLine
	if c.any && c.stretch == r.row.Stretch {
		from, line = c.last, c.line
	}
	if r.row.Time-from > limit && r.faults.room(Silence) {
		r.faults.tell(Fault{Kind: Silence, Line: r.row.Line, Column: c.name, Before: hours(from), After: hours(r.row.Time)}, "",
			"%s has no value for %s, from line %d up to this line; nothing is counted there", c.name, span(r.row.Time-from), line)
	}
}

// quiet tells of columns that had no value up to the end of a stretch.
func (r *Reader) quiet() {
	for i := range r.cols {
		if c := &r.cols[i]; c.any {
			r.silence(c, c.limit)
		}
	}
}

// close tells what is known only at the end.
func (r *Reader) close() {
	if !r.closed && r.report.Rows > 0 {
		r.quiet()
	}
	r.closed = true
}

// counterReset tells of a counter that falls.
func (r *Reader) counterReset(c *column, v float64) {
	if r.faults.room(CounterReset) {
		u := r.layout.Columns[c.in].Unit
		r.faults.tell(Fault{Kind: CounterReset, Line: r.row.Line, Column: c.name, Before: c.value, After: v}, "",
			"the counter %s falls from %s to %s, so it was reset; what it lost is not counted", c.name,
			u.Show(c.value, -1, ""), u.Show(v, -1, ""))
	}
}

// Report says what was read so far; it is complete when Next was false.
func (r *Reader) Report() *Report {
	rep := r.report
	rep.File, rep.Form = r.source.File, r.form
	if rep.Rows > 0 {
		rep.LastLine, rep.Span, rep.Stretches = r.row.Line, hours(r.order.now)+hours(r.outside()), r.row.Stretch+1
		rep.Missing += hours(r.outside())
		switch r.form.Time {
		case YearFirst, DayFirst, MonthFirst:
			rep.Start = time.Unix(0, r.order.first).UTC()
		}
	}
	rep.Count = map[Kind]int{}
	for k := range kinds {
		rep.Faults = append(rep.Faults, r.faults.list[k]...)
		if n := r.faults.count[k]; n > 0 {
			rep.Count[k] = n
		}
	}
	rep.Problems = append(rep.Problems, r.list...)
	if r.primed && r.ended && !r.list.HasErrors() {
		r.judge(&rep)
	}
	rep.Problems = append(rep.Problems, r.faults.diagnostics(r.source.File)...)
	return &rep
}

// judge tells what makes a recording useless as a whole.
func (r *Reader) judge(rep *Report) {
	n := &r.faults.count
	fail := func(code, mend, format string, args ...any) {
		rep.Problems.Errorf(diag.Pos{File: r.source.File}, code, mend, format, args...)
	}
	switch {
	case 2*n[Backward] > rep.Lines:
		fail("clock", "Sort its rows by time.", "%d of %d rows are earlier than the row before", n[Backward], rep.Lines)
	case 2*(n[BadTime]+n[BadRow]) > rep.Lines:
		fail("row", "Look whether the form of the times and the columns are those that are meant.",
			"%d of %d rows cannot be read", n[BadTime]+n[BadRow], rep.Lines)
	case rep.Rows == 0:
		fail("missing", "Look whether the recording was saved.", "the recording has no row that can be used")
	default:
		for i := range r.cols {
			c := &r.cols[i]
			if !c.optional && c.bad >= max(1, c.good) {
				fail("number", "Look whether the column and the decimal sign are those that are meant.",
					"%d of %d values of %s are not numbers", c.bad, c.bad+c.good, c.name)
			} else if !c.optional && c.good == 0 {
				fail("missing", "Look whether the column is the one that is meant.", "the recording has no value of %s", c.name)
			}
		}
	}
	if rep.Stretches > 1 && 2*n[Gap] > rep.Rows {
		fail("gap", "Say which step of time is a gap.", "most steps of time are longer than the limit of %s; the interval of the recording changes",
			span(int64(math.Round(rep.Limit*nanosPerHour))))
	}
}
