package recording

import (
	"fmt"
	"math"
	"strings"

	"bankwright/engine/diag"
	"bankwright/engine/unit"
)

// Measure is something to compute from a recording. All measures of a Run are
// computed in one pass.
//
// A measure takes a column as straight between the values that are there, and
// uses nothing of a step that is a gap: one that is longer than the limit, or in
// which the clock started again.
type Measure interface {
	// bind looks up the columns. The error is a sentence for people.
	bind(r *Reader) (meter, error)
}

// meter takes in row by row.
type meter interface {
	add(row *Row)
	result() Result
}

// Result is what a measure found.
type Result struct {
	Value   float64  // in base units; NaN where there is none
	Dim     unit.Dim // of the value
	At      float64  // when, in hours since the first row, where the value belongs to one time; else NaN
	Rows    int      // rows that were used
	First   int      // the lines of the first and of the last of them, or of those that the value comes from (see the measure)
	Last    int
	Missing float64    // hours of the recording that are not counted, because of gaps or because there is no value; pauses of unknown length are none
	Unsure  float64    // how much larger the value may be, where memory was bounded (see Held)
	Changes [2]float64 // of a Jump
	Hidden  int        // crossings that lie in gaps, where their time is not known
	Curve   []Sample   // of Curves
}

// none is a result without value.
func none(d unit.Dim) Result { return Result{Value: math.NaN(), At: math.NaN(), Dim: d} }

// Run reads a recording to its end and computes measures of it, one result for
// each. Memory does not grow with the number of rows. Where the report is not
// usable no result has a value.
func Run(l Layout, s Source, measures ...Measure) ([]Result, *Report) {
	results := make([]Result, len(measures))
	for i := range results {
		results[i] = none(unit.None)
	}
	r, _ := Open(l, s)
	meters := make([]meter, len(measures))
	for i, m := range measures {
		var err error
		if meters[i], err = m.bind(r); err != nil {
			r.list.Errorf(diag.Pos{File: s.File}, "unknown-name", "", "%s", err)
		}
	}
	if r.list.HasErrors() {
		return results, r.Report()
	}
	for r.Next() {
		for _, m := range meters {
			m.add(&r.row)
		}
	}
	report := r.Report()
	if report.Usable() {
		for i, m := range meters {
			results[i] = m.result()
		}
	}
	return results, report
}

// column is the place of a column in the layout.
func (r *Reader) column(name string) (int, error) {
	var names []string
	for i, c := range r.layout.Columns {
		if c.Name == name {
			return i, nil
		}
		names = append(names, c.Name)
	}
	return 0, fmt.Errorf("the recording has no column %q; it has %s", name, strings.Join(names, ", "))
}

// dim is the dimension of a column.
func (r *Reader) dim(i int) unit.Dim {
	if i == r.timeIn {
		return unit.Hour
	}
	return r.layout.Columns[i].Unit.Dim
}

// track follows a column, or the product of two, from value to value.
type track struct {
	r     *Reader
	a, b  int // b is -1 for a single column
	limit int64

	rows, first, last int
	missing           sum // nanoseconds
	t                 int64
	part              int
	v                 float64
	rare              bool // the limit is not settled yet
}

// follow starts a track; the second name may be empty.
func (r *Reader) follow(name, other string) (track, error) {
	k := track{r: r, b: -1, limit: -1}
	var err error
	if k.a, err = r.column(name); err == nil && other != "" {
		k.b, err = r.column(other)
	}
	return k, err
}

// step is what a track meets at a row.
type step struct {
	v, before float64
	dt        int64
	joined    bool // there is a value before, and no gap between
}

// next takes in a row, and is false where the track has no value in it.
func (k *track) next(row *Row) (s step, ok bool) {
	v := row.Values[k.a]
	if k.b >= 0 {
		v *= row.Values[k.b]
	}
	if v != v {
		return s, false
	}
	if k.rows == 0 || k.rare {
		k.bound()
	}
	if k.rows == 0 {
		k.first = row.Line
	} else if k.part == row.Part {
		s.dt, s.before = row.Time-k.t, k.v
		s.joined = s.dt <= k.limit
	}
	if !s.joined { // k.t is 0 before the first value
		k.missing.add(float64(row.Time - k.t))
	}
	k.rows++
	k.last, k.t, k.part, k.v = row.Line, row.Time, row.Part, v
	s.v = v
	return s, true
}

// bound finds the limit of steps once the reader knows it: that of the column that
// has values more rarely.
func (k *track) bound() {
	k.limit = k.r.order.limit
	for _, c := range k.r.cols {
		if c.in == k.a || c.in == k.b {
			k.limit = max(k.limit, c.limit)
			k.rare = k.rare || c.rare
		}
	}
}

// outcome is a result with what the track knows of it.
func (k *track) outcome(value float64, d unit.Dim) Result {
	if k.rows == 0 {
		return none(d)
	}
	missing := k.missing.value() + float64(k.r.order.now-k.t+k.r.outside())
	return Result{Value: value, Dim: d, At: math.NaN(), Rows: k.rows, First: k.first, Last: k.last, Missing: missing / nanosPerHour}
}
