package export

import "strings"

// pieces are a sentence in at most as many characters as a formula may have:
// where it is longer, parts of it stand in rows of the sheet Figures.
func (s *scope) pieces(parts []text) text {
	length := 0
	for _, p := range parts {
		length += p.length(s.page) + 1
	}
	if length <= mostWords {
		return listed(parts)
	}
	var out []text
	var piece []text
	f := *s
	f.page = s.pl.writing
	flush := func() {
		if len(piece) > 0 {
			t := listed(piece)
			l := f.figureLine(line{label: s.src + ": words, part " + number(float64(len(out)+1)), look: ComputedText, step: func(int, int) text { return t }})
			out = append(out, cell(&ref{to: l, item: own}))
			piece = nil
		}
	}
	size := 0
	for _, p := range parts {
		n := p.length(f.page) + 1
		if size+n > longestFormula-len(`IFERROR(,"")`) {
			flush()
			size = 0
		}
		piece, size = append(piece, p), size+n
	}
	flush()
	return listed(out)
}

// mostWords is how much of a formula words may take beside what asks for them.
const mostWords = 90

// listed joins parts of a sentence.
func listed(parts []text) text {
	var out text
	for i, p := range parts {
		if i > 0 {
			out = join(out, "&")
		}
		out = join(out, p)
	}
	if out == nil {
		return lit(`""`)
	}
	return out
}

// wordsOf are words of a sentence, in parts that a formula can hold.
func wordsOf(s string) []text {
	var out []text
	for len(s) > mostPart {
		n := strings.LastIndexByte(s[:mostPart], ' ') + 1
		if n == 0 {
			break
		}
		out = append(out, lit(quoteText(s[:n])))
		s = s[n:]
	}
	return append(out, lit(quoteText(s)))
}
