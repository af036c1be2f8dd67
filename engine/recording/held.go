package recording

import "math"

// Held is the largest value that a column held for at least a time: the largest of
// the smallest values in runs of rows, without gap, whose first and last row are
// that far apart. It is NaN where no run is that long. At is the start of the first
// run that reaches it, First and Last are the lines of its ends.
//
// Memory is bounded: of runs of more than some hundred thousand rows less is
// remembered than there is. The value is then never too large, and at most by
// Unsure too small, and At and First may lie a few rows before the run.
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
}

// starts are rows that a run may start with, from the head on: every one, or every
// second or fourth ... where there are too many.
type starts struct {
	rows  []struct{ t, line int64 }
	head  int
	every int
	count int
}

func (s *starts) clear() { s.rows, s.head, s.every, s.count = s.rows[:0], 0, 1, 0 }

func (s *starts) add(t int64, line, most int) {
	if s.count++; (s.count-1)%s.every != 0 {
		return
	}
	s.rows = append(s.rows, struct{ t, line int64 }{t, int64(line)})
	if len(s.rows) < most {
		return
	}
	s.rows = append(s.rows[:0], s.rows[s.head:]...)
	s.head = 0
	if n := len(s.rows); 2*n >= most {
		for i := range (n + 1) / 2 {
			s.rows[i] = s.rows[2*i]
		}
		s.rows = s.rows[:(n+1)/2]
		s.every, s.count = 2*s.every, (n+1)%2*s.every+1
	}
}

// latest goes to the latest row that is not after t.
func (s *starts) latest(t int64) {
	for s.head+1 < len(s.rows) && s.rows[s.head+1].t <= t {
		s.head++
	}
}

// held keeps marks that rise in time and value, as the sliding minimum does
// (Lemire, Streaming maximum-minimum filter using no more than three comparisons
// per element, 2006): a value takes away all marks that are not below it.
type held struct {
	track
	least int64 // nanoseconds
	most  int
	marks []mark // from front on
	front int
	begin int64 // of the stretch
	starts

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
		m.marks, m.front, m.begin = m.marks[:0], 0, row.Time
		m.starts.clear()
	} else if n := len(m.marks); m.marks[n-1].after == forever {
		m.marks[n-1].after = row.Time
	}
	n := len(m.marks)
	for n > m.front && m.marks[n-1].v >= s.v {
		n--
	}
	m.marks = append(m.marks[:n], mark{t: row.Time, after: forever, v: s.v})
	m.starts.add(row.Time, row.Line, m.most)
	if until := row.Time - m.least; until >= m.begin { // the latest start of a run that ends here
		for m.marks[m.front].after <= until {
			m.front++
		}
		m.starts.latest(until)
		if k := &m.marks[m.front]; !m.found || k.v > m.value {
			run := m.starts.rows[m.starts.head]
			m.found, m.value, m.at, m.from, m.to = true, k.v, run.t, int(run.line), row.Line
		}
	}
	if len(m.marks) >= m.most {
		m.tidy()
	}
}

// tidy makes room: it forgets the marks before the front and, where that is not
// enough, merges neighbours, at the smallest of their values. Those are merged
// whose values differ by at most a grain, which is so chosen that half of the room
// is free afterwards: two groups side by side differ by more, so there are at most
// twice as many groups as grains between the smallest and the largest value.
func (m *held) tidy() {
	m.marks = append(m.marks[:0], m.marks[m.front:]...)
	m.front = 0
	n := len(m.marks)
	if 2*n < m.most {
		return
	}
	grain := 4 * (m.marks[n-1].v - m.marks[0].v) / float64(m.most)
	kept := m.marks[:1]
	for _, next := range m.marks[1:] {
		k := &kept[len(kept)-1]
		if loss := next.v + next.loss - k.v; loss <= grain {
			k.t, k.after, k.loss = next.t, next.after, loss
			m.loss = max(m.loss, loss)
		} else {
			kept = append(kept, next)
		}
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
