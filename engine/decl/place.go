package decl

import (
	"strings"
	"unicode/utf8"

	"bankwright/engine/diag"
)

// span is a stretch of a text that stands letter by letter in the file: from
// its character number `from` to the end of a line. Len counts the characters
// up to there.
type span struct {
	from int
	at   diag.Pos
}

// spans tells where the characters of a text stand. It is nil where the file
// writes them with escapes, so that counting would mislead.
func (n *node) spans() []span {
	if len(n.written) < 2 {
		return nil
	}
	quote, width := n.written[:1], 1
	if len(n.written) >= 6 && strings.HasPrefix(n.written, strings.Repeat(quote, 3)) {
		width = 3
	}
	body := n.written[width : len(n.written)-width]
	if quote == `"` && strings.Contains(body, `\`) {
		return nil
	}
	at := diag.Pos{File: n.at.File, Line: n.at.Line, Col: n.at.Col + width}
	if width == 3 {
		// A line end just behind the opening quotes does not belong to the text.
		if rest, ok := cutLineEnd(body); ok {
			body, at.Line, at.Col = rest, at.Line+1, 1
		}
	}
	written, text := strings.Split(body, "\n"), strings.Split(n.text, "\n")
	if len(written) != len(text) {
		return nil
	}
	spans := make([]span, len(text))
	from := 0
	for i, line := range text {
		if strings.TrimSuffix(written[i], "\r") != line {
			return nil
		}
		at.Len = utf8.RuneCountInString(line)
		spans[i] = span{from, at}
		from += at.Len + 1
		at.Line, at.Col = at.Line+1, 1
	}
	return spans
}

func cutLineEnd(s string) (string, bool) {
	if rest, ok := strings.CutPrefix(s, "\n"); ok {
		return rest, true
	}
	return strings.CutPrefix(s, "\r\n")
}

// place is where length characters of a text from number offset stand, or
// whole where that is not known.
func place(spans []span, whole diag.Pos, offset, length int) diag.Pos {
	for i := len(spans) - 1; i >= 0; i-- {
		s := spans[i]
		if offset < s.from {
			continue
		}
		at := s.at
		in := min(offset-s.from, s.at.Len)
		at.Col += in
		at.Len = min(max(length, 0), s.at.Len-in)
		return at
	}
	return whole
}

// part is the place of a part of a text value; offset and length count
// characters.
func (n *node) part(offset, length int) diag.Pos {
	if n.kind != textNode {
		return n.at
	}
	return place(n.spans(), n.at, offset, length)
}
