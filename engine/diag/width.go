package diag

import (
	"strings"
	"unicode"
)

const tabStop = 4

// shown is text as it may go to a terminal, and for each of its characters the
// column at which it begins; one more column tells where the text ends. Tabs
// become spaces, control characters their pictures (U+2400 …), and marks that
// turn or hide text U+FFFD, so that no file can write to the terminal.
func shown(text string) (string, []int) {
	var b strings.Builder
	var columns []int
	at := 0
	for _, r := range text {
		columns = append(columns, at)
		switch {
		case r == '\t':
			n := tabStop - at%tabStop
			b.WriteString(strings.Repeat(" ", n))
			at += n
			continue
		case r == '\ufeff': // byte order mark: it has no width
			continue
		default:
			r = harmless(r)
		}
		b.WriteRune(r)
		at += width(r)
	}
	return b.String(), append(columns, at)
}

// clean is a sentence with harmless characters only, on one line.
func clean(text string) string {
	return strings.Map(func(r rune) rune {
		if unicode.IsSpace(r) && r != '\u00a0' {
			return ' '
		}
		return harmless(r)
	}, text)
}

// harmless replaces a character that would not print as itself.
func harmless(r rune) rune {
	switch {
	case r < 0x20:
		return 0x2400 + r
	case r == 0x7f:
		return 0x2421
	case unicode.IsControl(r), unicode.Is(unicode.Cf, r), r == '\u2028', r == '\u2029':
		return '\ufffd'
	}
	return r
}

// Upright is a text without the marks that turn the direction of all that follows until
// another mark ends it: embeddings, overrides and isolates. Where the end is missing, or
// is cut off, they would turn what stands behind the text as well. Letters that are
// written from right to left need none. Source: Unicode Standard Annex 9, Unicode
// Bidirectional Algorithm, 2.1 to 2.5.
func Upright(text string) string {
	turning := func(r rune) bool { return r >= 0x202a && r <= 0x202e || r >= 0x2066 && r <= 0x2069 }
	if strings.IndexFunc(text, turning) < 0 {
		return text
	}
	return strings.Map(func(r rune) rune {
		if turning(r) {
			return -1
		}
		return r
	}, text)
}

// Width is how many columns of a terminal a text takes.
func Width(s string) int {
	n := 0
	for _, r := range s {
		n += width(r)
	}
	return n
}

// width is how many columns a character takes. Source of the wide ranges:
// Unicode Standard Annex 11, East Asian Width, in blocks.
func width(r rune) int {
	if r < 0x300 { // below the first combining mark
		return 1
	}
	if unicode.In(r, unicode.Mn, unicode.Me) {
		return 0
	}
	for _, w := range wide {
		if r >= w[0] && r <= w[1] {
			return 2
		}
	}
	return 1
}

var wide = [][2]rune{
	{0x1100, 0x115f}, {0x2e80, 0x303e}, {0x3041, 0xa4cf}, {0xa960, 0xa97c}, {0xac00, 0xd7a3},
	{0xf900, 0xfaff}, {0xfe30, 0xfe6f}, {0xff00, 0xff60}, {0xffe0, 0xffe6},
	{0x1f300, 0x1f64f}, {0x1f680, 0x1f6ff}, {0x1f900, 0x1faff}, {0x20000, 0x3fffd},
}
