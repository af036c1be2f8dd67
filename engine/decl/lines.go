package decl

import (
	"bytes"
	"sort"
	"unicode/utf8"

	"bankwright/engine/diag"
)

// lines turns byte offsets of a file into lines and columns.
type lines struct {
	name   string
	data   []byte
	starts []int // offset of the first byte of each line

	// The place that was asked for last: files are walked forwards, so that
	// a long line is not counted from its beginning each time.
	line, off, col int
}

func newLines(name string, data []byte) *lines {
	l := &lines{name: name, data: data, starts: []int{0}, line: -1}
	for i := 0; ; {
		n := bytes.IndexByte(data[i:], '\n')
		if n < 0 {
			return l
		}
		i += n + 1
		l.starts = append(l.starts, i)
	}
}

// pos is the place of length bytes at an offset. What runs over several lines
// is marked up to the end of its first.
func (l *lines) pos(offset, length int) diag.Pos {
	offset = min(max(offset, 0), len(l.data))
	line := sort.SearchInts(l.starts, offset+1) - 1
	from, col := l.starts[line], 1
	if l.line == line && l.off <= offset {
		from, col = l.off, l.col
	}
	col += utf8.RuneCount(l.data[from:offset])
	l.line, l.off, l.col = line, offset, col
	return diag.Pos{File: l.name, Line: line + 1, Col: col, Len: l.width(offset, offset+length)}
}

// width is the number of characters between two bytes, up to the line's end.
func (l *lines) width(from, to int) int {
	text := l.data[from:min(max(from, to), len(l.data))]
	if n := bytes.IndexAny(text, "\r\n"); n >= 0 {
		text = text[:n]
	}
	return utf8.RuneCount(text)
}
