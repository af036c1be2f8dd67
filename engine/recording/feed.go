package recording

import (
	"bufio"
	"bytes"
	"encoding/csv"
	"errors"
	"io"
)

const (
	headBytes = 1 << 16 // of the file, from which its form is recognised
	mostBytes = 1 << 20 // of a row; what is longer is no row of a recording
)

// errLong ends a file with a row longer than mostBytes.
var errLong = errors.New("row too long")

// feed hands a file to the reader of rows, and stops it where a row has no end: a
// line of many megabytes, or a quote that is never closed.
type feed struct {
	from        *bufio.Reader
	given, done int64 // bytes handed over, and up to the end of the last whole row
	last        byte
	ended       bool
}

func (f *feed) Read(p []byte) (int, error) {
	if f.given-f.done > mostBytes {
		return 0, errLong
	}
	n, err := f.from.Read(p)
	if f.given += int64(n); n > 0 {
		f.last = p[n-1]
	}
	f.ended = f.ended || err == io.EOF
	return n, err
}

// cut reports whether the row that ends at the offset is the last one and lacks
// the end of its line.
func (f *feed) cut(offset int64) bool { return f.ended && f.last != '\n' && offset == f.given }

// rows is a reader of rows over a file's text.
func rows(from io.Reader, delimiter rune) *csv.Reader {
	r := csv.NewReader(from)
	r.Comma, r.FieldsPerRecord, r.ReuseRecord = delimiter, -1, true
	return r
}

// record is a row of the head of the file.
type record struct {
	line  int
	cells []string
}

// mostRecords bounds how many rows of the head are looked at.
const mostRecords = 1000

// records are the rows of the head of a file for one delimiter, without those that
// cannot be taken apart.
func records(head []byte, delimiter rune) []record {
	r := rows(bytes.NewReader(head), delimiter)
	r.ReuseRecord = false
	var list []record
	for len(list) < mostRecords {
		cells, err := r.Read()
		if err == io.EOF {
			break
		}
		if err == nil {
			line, _ := r.FieldPos(0)
			list = append(list, record{line, cells})
		}
	}
	return list
}
