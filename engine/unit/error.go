package unit

import (
	"strings"
	"unicode"
)

// Error tells what is wrong with a unit or a value. Offset and Len count
// characters (runes) in the text that was read.
type Error struct {
	Text        string // one sentence without a full stop
	Mend        string // what to do, in full sentences; never empty
	Offset, Len int
	Vague       bool // the mend shows what units look like, knowing nothing better

	Name   string // of the unit that there is none of; empty for other faults
	Mended string // the whole text as it should be written, if that is plain, else empty

	fix string // what to write in the place of [Offset, Offset+Len)
}

// Error is the sentence without the mend.
func (e *Error) Error() string { return e.Text }

// suggest fills in the mend from the fix: the whole text as it should be
// written, if that is plain, else the part alone.
func (e *Error) suggest(text string, read func(string) *Error) *Error {
	if e == nil || e.Mend != "" {
		return e
	}
	e.Mend = "Write " + quote(e.fix) + " here."
	if whole := e.whole(text, read); whole != "" {
		e.Mend, e.Mended = "Write "+quote(whole)+".", whole
	}
	return e
}

// whole is the text as it should be written, if it can be read with the fix and
// at most four further ones, else "".
func (e *Error) whole(text string, read func(string) *Error) string {
	for tries := 0; e.fix != "" && tries < 5; tries++ {
		text = e.apply(text)
		if e = read(text); e == nil {
			return text
		}
	}
	return ""
}

// apply is the text with the fix put in.
func (e *Error) apply(text string) string {
	r := []rune(text)
	return string(r[:e.Offset]) + e.fix + string(r[e.Offset+e.Len:])
}

// quote puts text that may be anything into a sentence.
func quote(text string) string {
	const longest = 48
	var b strings.Builder
	n := 0
	for _, r := range text {
		if n++; n > longest {
			b.WriteRune('…')
			break
		}
		switch {
		case unicode.Is(unicode.Zs, r):
			r = ' '
		case !unicode.IsPrint(r):
			r = '\ufffd'
		}
		b.WriteRune(r)
	}
	return `"` + b.String() + `"`
}
