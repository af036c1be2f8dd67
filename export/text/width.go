package text

import "unicode"

// width is how many columns of a terminal a text takes.
func width(s string) int {
	n := 0
	for _, r := range s {
		n += runeWidth(r)
	}
	return n
}

// runeWidth is how many columns a character takes. Source of the wide ranges:
// Unicode Standard Annex 11, East Asian Width, in blocks.
func runeWidth(r rune) int {
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
