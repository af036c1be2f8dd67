package recording

import (
	"bufio"
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"math"

	"bankwright/engine/diag"
)

// Reader reads the rows of a recording one by one.
type Reader struct {
	layout Layout
	source Source
	form   Form
	header []string
	feed   *feed
	csv    *csv.Reader

	clock    clock
	timeAt   int // columns of the file from 0; date -1 where there is none
	dateAt   int
	timeIn   int // the layout
	cols     []column
	width    int // cells that a row needs, and has at most (0: any number)
	most     int
	cells    int // of the row before, and its last one
	line     int // of the row that was read last
	lastCell string
	lost     lost // since the row that was read last
	before   lost // before the first row

	since     int64 // when the stretch began, and the line of its first row
	sinceLine int

	order  order
	queue  []pending
	spare  [2][]float64 // values of this row and the row before
	turn   int
	row    Row
	primed bool
	filled bool // a row was read
	ended  bool
	closed bool

	faults faults
	report Report
	list   diag.List
}

// pending is a row whose time has no place yet.
type pending struct {
	line   int
	raw    int64
	values []float64
}

// column is what is known about a wanted column.
type column struct {
	in, at         int // in the layout and in the file
	name           string
	scaled         bool
	mul, div, zero float64
	counter        bool
	optional       bool
	limit          int64 // of the step between two of its values
	rare           bool  // too rare for that to be known from the rows read ahead: the shortest step tells it

	any       bool // a value was met; the rest is about the last one
	last      int64
	line      int
	value     float64
	stretch   int
	good, bad int
}

// Open recognises how a recording is written. With errors in the list it cannot be
// read, and the reader has no rows.
func Open(l Layout, s Source) (*Reader, diag.List) {
	text := bufio.NewReaderSize(s.Reader, headBytes)
	top, err := text.Peek(headBytes)
	h := head{layout: l, source: s, text: top, whole: err == io.EOF}
	r := &Reader{layout: l, source: s, ended: true}
	if err != nil && err != io.EOF {
		h.fail(0, "file", "Look whether the file can be opened.", "the recording cannot be read")
	} else {
		h.recognise()
	}
	if r.list = h.list; !r.list.HasErrors() {
		r.begin(&h, text)
	}
	return r, h.list
}

// begin sets the reader up for the form that was found.
func (r *Reader) begin(h *head, text *bufio.Reader) {
	if mark, err := text.Peek(3); err == nil && string(mark) == "\xef\xbb\xbf" {
		text.Discard(len(mark))
	}
	r.ended, r.form, r.header = false, h.form, h.header
	r.feed = &feed{from: text}
	r.csv = rows(bufio.NewReaderSize(r.feed, headBytes), h.form.Delimiter)
	r.timeIn, r.timeAt, r.dateAt = h.time, h.at[h.time], h.date
	r.clock = clock{form: h.form.Time, point: h.form.Decimal}
	if u := h.form.TimeUnit; u.Mul != 0 {
		r.clock.per = uint64(math.Round(nanosPerHour * u.Mul / u.Div))
	}
	r.most = len(h.header)
	r.width = max(r.timeAt, r.dateAt) + 1
	for i, c := range r.layout.Columns {
		if i == h.time || h.at[i] < 0 {
			continue
		}
		u := h.form.Columns[i].Unit
		r.width = max(r.width, h.at[i]+1)
		r.cols = append(r.cols, column{in: i, at: h.at[i], name: c.Name, counter: c.Counter, optional: c.Optional,
			mul: u.Mul, div: u.Div, zero: u.Zero, scaled: u.Mul != 1 || u.Div != 1 || u.Zero != 0, limit: forever})
	}
	for i := range r.spare {
		r.spare[i] = r.blank()
	}
	r.order = order{daily: r.form.Time == Clock || r.form.Time == HourMinute, limit: forever}
}

// blank are the values of a row that has none.
func (r *Reader) blank() []float64 {
	values := make([]float64, len(r.layout.Columns))
	for i := range values {
		values[i] = math.NaN()
	}
	return values
}

// Row is the row that Next found. Its values are good until the next call of Next.
func (r *Reader) Row() *Row { return &r.row }

// Next goes to the next row that is used, and is false where there is none.
func (r *Reader) Next() bool {
	if !r.primed {
		r.prime()
	}
	for {
		var p pending
		if len(r.queue) > 0 {
			p, r.queue = r.queue[0], r.queue[1:]
		} else if r.ended || !r.fetch(&p) {
			r.close()
			return false
		}
		if r.admit(&p) {
			return true
		}
	}
}

// fetch reads the next row whose time can be read.
func (r *Reader) fetch(p *pending) bool {
	for {
		cells, err := r.csv.Read()
		if err != nil {
			if !r.stray(err) {
				r.ended = true
				return false
			}
			continue
		}
		r.feed.done = r.csv.InputOffset()
		line, _ := r.csv.FieldPos(0)
		r.line = line
		if line < r.form.First {
			continue
		}
		if r.past(line) {
			r.ended = true
			return false
		}
		r.report.Lines++
		if r.sound(cells, line) && r.take(cells, line, p) {
			r.found()
			return true
		}
	}
}

// past reports whether a line lies behind the last that is wanted.
func (r *Reader) past(line int) bool { return r.source.LastRow > 0 && line > r.source.LastRow }

// stray tells why the file cannot be read on, and reports whether it can.
func (r *Reader) stray(err error) bool {
	var p *csv.ParseError
	at := diag.Pos{File: r.source.File}
	switch {
	case err == io.EOF:
		return false
	case errors.As(err, &p):
		r.feed.done = r.csv.InputOffset()
		if p.StartLine < r.form.First || r.past(p.StartLine) {
			return p.StartLine < r.form.First
		}
		r.report.Lines++
		if p.Line > p.StartLine && r.feed.ended && r.feed.done == r.feed.given {
			at.Line = p.StartLine
			r.list.Errorf(at, "row", "Take the quote away, or close it.", "a quote is opened and not closed until the end of the recording")
			return false
		}
		r.badQuote(p)
	case errors.Is(err, errLong):
		at.Line = r.line + 1
		r.list.Errorf(at, "limit", "Look whether the file is a recording, and whether a quote in it is not closed.",
			"a row is longer than a million characters")
		return false
	default:
		r.list.Errorf(at, "file", "Look whether the file can be opened.", "the recording cannot be read to its end")
		return false
	}
	return true
}

// badQuote tells of a row that cannot be taken apart.
func (r *Reader) badQuote(p *csv.ParseError) {
	r.lost.lines += p.Line - p.StartLine + 1
	if !r.faults.room(BadRow) {
		return
	}
	until := ""
	if p.Line > p.StartLine {
		until = fmt.Sprintf(" up to line %d", p.Line)
	}
	r.faults.tell(Fault{Kind: BadRow, Line: p.StartLine}, "", "a quote is not closed or stands inside a cell; the row is left out%s", until)
}

// take reads the values of a row.
func (r *Reader) take(cells []string, line int, p *pending) bool {
	date := ""
	if r.dateAt >= 0 {
		date = cells[r.dateAt]
	}
	t, ok := r.clock.read(cells[r.timeAt], date)
	if !ok {
		r.badTime(cells, line)
		return false
	}
	r.turn ^= 1
	p.line, p.raw, p.values = line, t, r.spare[r.turn]
	for i := range r.cols {
		c := &r.cols[i]
		v, ok := number(cells[c.at], r.form.Decimal)
		if !ok {
			r.badNumber(c, cells, line)
			v = math.NaN()
		} else if c.scaled {
			v = (v - c.zero) * c.mul / c.div
		}
		p.values[c.in] = v
	}
	return true
}

// admit places a row in time, and reports whether it is used.
func (r *Reader) admit(p *pending) bool {
	from := r.order.raw
	was := r.order.now
	found := r.order.next(p.raw)
	if found != onward && !r.step(found, from, was, p) {
		if found == behind || found == same {
			r.turn ^= 1 // the row before stays the row before
		}
		return false
	}
	row := &r.row
	row.Line, row.Time, row.Part, row.Values = p.line, r.order.now, r.order.part, p.values
	row.Values[r.timeIn] = hours(row.Time)
	if r.report.Rows++; r.report.Rows == 1 {
		r.report.FirstLine, r.sinceLine = p.line, p.line
	}
	for i := range r.cols {
		if c := &r.cols[i]; p.values[c.in] == p.values[c.in] { // no NaN
			r.heed(c, p.values[c.in])
		}
	}
	return true
}

// heed looks at a value of a column beside the one before.
func (r *Reader) heed(c *column, v float64) {
	if c.rare || !c.any || c.stretch != r.row.Stretch || r.row.Time-c.last > c.limit { // as nearly none
		r.sparse(c)
	}
	if c.any && c.counter && v < c.value {
		r.counterReset(c, v)
	}
	c.any, c.last, c.line, c.value, c.stretch = true, r.row.Time, r.row.Line, v, r.row.Stretch
	c.good++
}

// sparse looks at a value that is none of many in a row: it lowers the limit of a
// column whose steps are not known yet, and tells of silence.
func (r *Reader) sparse(c *column) {
	limit := c.limit
	if c.rare && !c.any {
		limit = r.order.limit
	} else if c.rare && r.row.Time > c.last {
		limit = max(min(limit, r.limit(r.row.Time-c.last)), r.order.limit)
		c.limit = limit
	}
	r.silence(c, limit)
}
