package diag

import (
	"bytes"
	"unicode/utf8"
)

// lines are the lines of a file, found once for all messages about it.
type lines struct {
	text   []byte
	begins []int // of each line; the last one without an end may be empty
}

func newLines(text []byte) *lines {
	l := &lines{text: text, begins: []int{0}}
	for i, b := range text {
		if b == '\n' {
			l.begins = append(l.begins, i+1)
		}
	}
	return l
}

// line is a line, counted from 1, without its end; false where there is none.
func (l *lines) line(n int) ([]byte, bool) {
	if n > len(l.begins) || l.begins[n-1] == len(l.text) {
		return nil, false
	}
	rest := l.text[l.begins[n-1]:]
	if n < len(l.begins) {
		rest = l.text[l.begins[n-1] : l.begins[n]-1]
	}
	return bytes.TrimSuffix(rest, []byte{'\r'}), true
}

// beside is how many characters on each side of a place are looked at in a long line: more
// than are shown. So a message costs the same whether a line is long or very long.
const beside = 4 * lineWidth

// window is the part of a line around a place, and the place in it.
func window(line []byte, at Pos) ([]byte, Pos) {
	if len(line) <= 3*beside {
		return line, at
	}
	skip := max(0, at.Col-1-beside)
	from, skipped := characters(line, skip)
	if skipped < skip || from == len(line) { // it lies behind the end
		skip = max(0, skipped-beside)
		from, _ = characters(line, skip)
	}
	if at.Col > 0 {
		at.Col -= skip
	}
	at.Len = min(at.Len, beside)
	to, _ := characters(line[from:], 3*beside)
	return line[from:][:to], at
}

// characters is the place behind so many characters of a text, and how many there are up
// to it: fewer where the text ends before.
func characters(text []byte, n int) (place, count int) {
	for place < len(text) && count < n {
		if text[place] < utf8.RuneSelf {
			place++
		} else {
			_, size := utf8.DecodeRune(text[place:])
			place += size
		}
		count++
	}
	return place, count
}
