package recording

import (
	"fmt"
	"math"
	"strconv"
	"strings"
	"time"
	"unicode/utf8"

	"bankwright/engine/diag"
)

// clip is a cell as a message shows it.
func clip(s string) string {
	s = strings.ToValidUTF8(s, "?")
	if utf8.RuneCountInString(s) > 40 {
		s = string([]rune(s)[:40]) + "…"
	}
	return strconv.Quote(s)
}

// moment is a time as the file writes it.
func (r *Reader) moment(raw int64) string {
	switch r.form.Time {
	case YearFirst, DayFirst, MonthFirst:
		return time.Unix(0, raw).UTC().Format("2006-01-02 15:04:05.999999999")
	case Number:
		return strings.TrimSpace(strconv.FormatFloat(float64(raw)/float64(r.clock.per), 'g', 15, 64) + " " + r.form.TimeUnit.String())
	}
	return span(raw)
}

// span is a stretch of time as h:mm:ss.
func span(nanos int64) string {
	s := fmt.Sprintf("%d:%02d:%02d", nanos/hour, nanos%hour/minute, nanos%minute/second)
	if part := nanos % second; part != 0 {
		s += strings.TrimRight(fmt.Sprintf(".%09d", part), "0")
	}
	return s
}

// sound looks at a row as a whole: its cells, quotes and end.
func (r *Reader) sound(cells []string, line int) bool {
	n := len(cells)
	end, _ := r.csv.FieldPos(n - 1)
	if end == line && strings.IndexByte(cells[n-1], '\n') < 0 {
		// one line, as nearly all
	} else if end += strings.Count(cells[n-1], "\n"); r.faults.room(SpreadRow) {
		r.faults.tell(Fault{Kind: SpreadRow, Line: line}, "Look whether a quote in it is not closed.",
			"the lines up to %d are one row, because of a quote", end)
	}
	if r.feed.ended && r.feed.cut(r.csv.InputOffset()) && r.short(cells) {
		r.lose(cells, 1)
		if r.faults.room(Cut) {
			r.faults.tell(Fault{Kind: Cut, Line: line}, "", "the last line is not whole; it is left out")
		}
		return false
	}
	if n < r.width || r.most > 0 && n > r.most && !blank(cells[r.most:]) {
		if blank(cells) || r.secondHeader(cells, line) {
			return false
		}
		r.lose(cells, end-line+1)
		if r.faults.room(BadRow) {
			r.faults.tell(Fault{Kind: BadRow, Line: line}, "", "the row has %s; it is left out", r.amount(n))
		}
		return false
	}
	r.cells, r.lastCell = n, cells[n-1]
	return true
}

// blank reports whether cells have nothing in them.
func blank(cells []string) bool {
	for _, c := range cells {
		if trim(c) != "" {
			return false
		}
	}
	return true
}

// amount says how many cells a row has and how many it should have.
func (r *Reader) amount(n int) string {
	if n > r.most {
		return fmt.Sprintf("%d cells, and the header %d", n, r.most)
	}
	cells := "cells"
	if n == 1 {
		cells = "cell"
	}
	return fmt.Sprintf("%d %s, and a column that is needed is the %s", n, cells, ordinal(r.width))
}

// ordinal is 1st, 2nd, 3rd ...
func ordinal(n int) string {
	end := "th"
	if n/10%10 != 1 {
		switch n % 10 {
		case 1:
			end = "st"
		case 2:
			end = "nd"
		case 3:
			end = "rd"
		}
	}
	return strconv.Itoa(n) + end
}

// short reports whether the last row, which lacks the end of its line, also lacks
// something else: cells, or digits of a number that ends it.
func (r *Reader) short(cells []string) bool {
	if n := len(cells); n != r.cells {
		return r.cells > 0 && n < r.cells
	}
	last := cells[len(cells)-1]
	_, p, _, ok := scan(trim(last), r.form.Decimal)
	_, q, _, was := scan(trim(r.lastCell), r.form.Decimal)
	switch {
	case !ok || !was:
		return was
	case p != q:
		return p < q
	}
	return p == 0 && len(last) < len(r.lastCell)
}

// badTime tells of a row whose time cannot be read, or of a header in the middle.
func (r *Reader) badTime(cells []string, line int) {
	if blank(cells) {
		return // nothing is lost
	}
	if r.secondHeader(cells, line) {
		return
	}
	r.lose(cells, 1)
	if r.faults.room(BadTime) {
		f := r.cellFault(BadTime, r.timeAt, cells, line)
		f.Column = r.layout.Time
		if trim(cells[r.timeAt]) == "" {
			r.faults.tell(f, "", "the row has no time; it is left out")
			return
		}
		r.faults.tell(f, "", "%s is no time of the form %s as in the other rows; the row is left out",
			clip(cells[r.timeAt]), r.form.Time)
	}
}

// secondHeader tells of a header in the middle, and reports whether a row is one: its
// time is headed as that of the first.
func (r *Reader) secondHeader(cells []string, line int) bool {
	if !alike(cells, r.header, r.timeAt) {
		return false
	}
	same := len(cells) >= r.width && (len(cells) <= r.most || blank(cells[r.most:]))
	for i := range r.cols {
		at := r.cols[i].at
		same = same && cell(cells[at]) == cell(r.header[at])
	}
	if !same {
		r.list.Errorf(diag.Pos{File: r.source.File, Line: line}, "conflict", "Make two recordings of it.",
			"a second header names other columns or units than that in line %d", r.form.Header)
	} else if r.faults.room(SecondHeader) {
		r.faults.tell(Fault{Kind: SecondHeader, Line: line}, "", "the header stands again; it is left out")
	}
	return true
}

// badNumber tells of a cell that is no number.
func (r *Reader) badNumber(c *column, cells []string, line int) {
	if trim(cells[c.at]) == "" {
		if r.faults.room(NoNumber) && r.faults.count[NoNumber] == 1 {
			r.faults.tell(r.cellFault(NoNumber, c.at, cells, line), "", "%s is empty", c.name)
		}
		return
	}
	c.bad++
	if r.faults.room(BadNumber) {
		f := r.cellFault(BadNumber, c.at, cells, line)
		f.Column = c.name
		r.faults.tell(f, "", "%s is no number; %s has no value here", clip(cells[c.at]), c.name)
	}
}

// cellFault is a fault of a cell. The reader of rows counts bytes, people count
// characters.
func (r *Reader) cellFault(k Kind, at int, cells []string, line int) Fault {
	_, col := r.csv.FieldPos(at)
	for _, c := range cells[:at] {
		col -= len(c) - utf8.RuneCountInString(c)
	}
	return Fault{Kind: k, Line: line, Col: col, Len: max(1, utf8.RuneCountInString(cells[at])),
		Before: math.NaN(), After: math.NaN()}
}
