package recording

import "math"

// Held is the largest value that a column held for at least a time: the largest of
// the smallest values in runs of rows, without gap, whose first and last row are
// that far apart. It is NaN where no run is that long. At is the start of the run
// that reaches it first, at the latest; First is the line of the smallest value in
// that run, Last the line with which the run is long enough.
//
// Memory is bounded by merging what a long run has to remember; the value is then
// never too large, and at most by Unsure too small.
type Held struct {
	Of  string
	For float64 // hours
}

// mostKept bounds what is remembered of a run.
const mostKept = 1 << 17

// mark remembers that v is the smallest value from its row on, and from any row
// after the mark before.
type mark struct {
	t, after int64 // of its row, and of the row that follows
	v, loss  float64
	line     int
}

// held keeps marks that rise in time and value, as the sliding minimum does
// (Lemire, Streaming maximum-minimum filter using no more than three comparisons
// per element, 2006): a value takes away all marks that are not below it.
type held struct {
	track
	least int64 // nanoseconds
	most  int
	marks []mark // from head on
	head  int
	start int64 // of the stretch

	found    bool
	value    float64
	at       int64
	from, to int
	loss     float64
}

func (h Held) bind(r *Reader) (meter, error) {
	m := &held{least: int64(math.Round(h.For * nanosPerHour)), most: mostKept}
	var err error
	m.track, err = r.follow(h.Of, "")
	return m, err
}

func (m *held) add(row *Row) {
	s, ok := m.next(row)
	if !ok {
		return
	}
	if !s.joined {
		m.marks, m.head, m.start = m.marks[:0], 0, row.Time
	} else if n := len(m.marks); m.marks[n-1].after == forever {
		m.marks[n-1].after = row.Time
	}
	n := len(m.marks)
	for n > m.head && m.marks[n-1].v >= s.v {
		n--
	}
	m.marks = append(m.marks[:n], mark{t: row.Time, after: forever, v: s.v, line: row.Line})
	if until := row.Time - m.least; until >= m.start { // the latest start of a run that ends here
		for m.marks[m.head].after <= until {
			m.head++
		}
		if k := &m.marks[m.head]; !m.found || k.v > m.value {
			m.found, m.value, m.at, m.from, m.to = true, k.v, until, k.line, row.Line
		}
	}
	if len(m.marks) >= m.most {
		m.tidy()
	}
}

// tidy makes room: it forgets the marks before the head and, where that is not
// enough, merges each mark with the next, at the smaller of their values.
func (m *held) tidy() {
	m.marks = append(m.marks[:0], m.marks[m.head:]...)
	m.head = 0
	if 2*len(m.marks) < m.most {
		return
	}
	kept := m.marks[:0]
	for i := 0; i < len(m.marks); i += 2 {
		k := m.marks[i]
		if i+1 < len(m.marks) {
			next := m.marks[i+1]
			k.t, k.after, k.loss = next.t, next.after, max(k.loss, next.v+next.loss-k.v)
			m.loss = max(m.loss, k.loss)
		}
		kept = append(kept, k)
	}
	m.marks = kept
}

func (m *held) result() Result {
	res := m.outcome(math.NaN(), m.r.dim(m.a))
	if m.found {
		res.Value, res.At, res.First, res.Last, res.Unsure = m.value, hours(m.at), m.from, m.to, m.loss
	}
	return res
}
