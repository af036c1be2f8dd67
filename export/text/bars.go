package text

import (
	"math"
	"strings"
)

// Bars draws values as bars on one scale, each exactly as wide as said, in
// characters, so that they can stand in a column of a table. Bars of values
// below zero go left from a zero line; what is not zero shows, however small. A
// value that is not finite has no bar. With blocks, bars are of block characters
// and end within a character: at an eighth, below zero at a half; else they are
// of '#'. Values on both sides of zero need three characters, else all is blank.
func Bars(values []float64, width int, blocks bool) []string {
	s := newBars(values, max(0, width))
	out := make([]string, len(values))
	for i, v := range values {
		out[i] = s.bar(v, blocks)
	}
	return out
}

// bars is a scale: how many characters there are left and right of zero, what a
// character is worth, and whether there is a zero line.
type bars struct {
	left, right int
	worth       float64
	line        bool
}

func newBars(values []float64, width int) bars {
	low, high := 0.0, 0.0
	for _, v := range values {
		if !math.IsInf(v, 0) && !math.IsNaN(v) {
			low, high = math.Min(low, v), math.Max(high, v)
		}
	}
	s := bars{right: width, worth: high / float64(width)}
	if low == 0 || width == 0 {
		return s
	}
	room := width - 1
	s.line = true
	share := -low / 2 / (high/2 - low/2) // halved, since the extent may be too large a number
	s.left = int(math.Round(float64(room) * share))
	if high > 0 {
		s.left = max(1, min(s.left, room-1))
	}
	s.right = room - s.left
	s.worth = -low / float64(s.left)
	if high > 0 {
		s.worth = math.Max(s.worth, high/float64(s.right))
	}
	if s.left < 1 || high > 0 && s.right < 1 {
		return bars{right: width}
	}
	return s
}

// bar is the bar of a value.
func (s bars) bar(v float64, blocks bool) string {
	below, above := 0.0, 0.0 // lengths in characters
	if s.worth > 0 && !math.IsInf(v, 0) && !math.IsNaN(v) {
		below, above = math.Max(0, -v/s.worth), math.Max(0, v/s.worth)
	}
	line := ""
	if s.line {
		line = "|"
		if blocks {
			line = "│"
		}
	}
	return padLeft(stretch(below, s.left, blocks, "█", "▐"), s.left) + line +
		padRight(stretch(above, s.right, blocks, "█", "▏", "▎", "▍", "▌", "▋", "▊", "▉"), s.right)
}

// stretch is a bar of a length in characters, most at most, its part of a
// character on the far side of zero.
func stretch(length float64, most int, blocks bool, full string, parts ...string) string {
	if length <= 0 {
		return ""
	}
	if !blocks {
		full, parts = "#", nil
	}
	steps := len(parts) + 1
	n := int(math.Round(length * float64(steps)))
	n = max(1, min(n, most*steps))
	whole := strings.Repeat(full, n/steps)
	if n%steps == 0 {
		return whole
	}
	part := parts[n%steps-1]
	if steps == 2 { // it stands left of the others
		return part + whole
	}
	return whole + part
}

// ShowsBlocks reports whether a terminal is known to show block characters: where
// its environment says UTF-8, and on Windows in its newer terminal. The text
// console of Linux has a typeface without most of them.
func ShowsBlocks(getenv func(string) string) bool {
	if term := getenv("TERM"); term == "linux" || term == "dumb" {
		return false
	}
	if getenv("WT_SESSION") != "" {
		return true
	}
	for _, name := range []string{"LC_ALL", "LC_CTYPE", "LANG"} { // the first that is set counts (POSIX.1-2017, 8.2)
		if v := strings.ToLower(getenv(name)); v != "" {
			return strings.Contains(v, "utf-8") || strings.Contains(v, "utf8")
		}
	}
	return false
}
