// Package text writes a solved model for a terminal: the comparison, the
// explanation of a cell, what the rules know. It never decides anything.
package text

import (
	"strings"

	"bankwright/engine/diag"
)

// Style says how to write: the width in characters, whether to colour, whether
// everything is shown, however much it is, or only some sections, whether bars are of block characters,
// and the command that shows all cautions.
type Style struct {
	Width    int
	Color    bool
	All      bool
	Only     []string
	Blocks   bool
	Cautions string
}

// The colours mean severity, and a word always stands beside them.
const (
	plain = ""
	bold  = "\x1b[1m"
	dim   = "\x1b[2m"
	red   = "\x1b[31m"
	amber = "\x1b[33m"
	green = "\x1b[32m"
	reset = "\x1b[0m"
)

// paint colours s if the style says so.
func (st Style) paint(code, s string) string {
	if !st.Color || code == plain {
		return s
	}
	return code + s + reset
}

// paintLines colours each line of s, but not the spaces in front of it.
func (st Style) paintLines(code, s string) string {
	lines := strings.Split(s, "\n")
	for i, l := range lines {
		if text := strings.TrimLeft(l, " "); text != "" {
			lines[i] = l[:len(l)-len(text)] + st.paint(code, text)
		}
	}
	return strings.Join(lines, "\n")
}

func padLeft(s string, n int) string {
	return strings.Repeat(" ", max(0, n-width(s))) + s
}

func padRight(s string, n int) string {
	return s + strings.Repeat(" ", max(0, n-width(s)))
}

// wrap breaks text into lines of at most n characters at spaces, but not
// between a figure and its unit; a word that is longer, such as of a formula, is broken
// behind a bracket, or stands on a line of its own.
func wrap(s string, n int) []string {
	var lines, words []string
	for _, w := range strings.Fields(s) {
		if last := len(words) - 1; last >= 0 && isFigure(words[last]) {
			words[last] += " " + w
			continue
		}
		words = append(words, w)
	}
	line := ""
	for len(words) > 0 {
		w := words[0]
		words = words[1:]
		if i := strings.LastIndexByte(w[:min(n, len(w))], '(') + 1; width(w) > n && i > 0 && i < len(w) {
			words, w = append([]string{w[i:]}, words...), w[:i]
		}
		switch {
		case line == "":
			line = w
		case width(line)+1+width(w) <= n:
			line += " " + w
		default:
			lines = append(lines, line)
			line = w
		}
	}
	if line != "" {
		lines = append(lines, line)
	}
	return lines
}

// hang writes text behind a heading, further lines indented below it.
func hang(heading, s string, indent, n int) string {
	lines := wrap(s, max(20, n-indent))
	var b strings.Builder
	b.WriteString(padRight(heading, indent))
	for i, l := range lines {
		if i > 0 {
			b.WriteString(strings.Repeat(" ", indent))
		}
		b.WriteString(l + "\n")
	}
	if len(lines) == 0 {
		b.WriteString("\n")
	}
	return b.String()
}

// Fitted is a text of paragraphs and lists that is made to fit so many characters: lines
// that begin at the left edge are one paragraph; others stay lines, and what is long goes
// on below their last column.
func Fitted(s string, n int) string {
	var b strings.Builder
	paragraph := ""
	flush := func() {
		b.WriteString(strings.TrimPrefix(hang("", paragraph, 0, n), "\n"))
		paragraph = ""
	}
	for _, line := range strings.Split(strings.TrimSuffix(s, "\n"), "\n") {
		text := strings.TrimLeft(line, " ")
		if text == line && text != "" && !strings.HasSuffix(text, ":") {
			paragraph += " " + text
			continue
		}
		flush()
		if width(line) <= n {
			b.WriteString(line + "\n")
			continue
		}
		const deepest = 18 // where a column begins at most for what is long to go on below it
		indent := len(line) - len(text)
		first, rest := "", text
		if i := strings.LastIndex(text, "  "); i >= 0 {
			first, rest = strings.TrimRight(text[:i], " "), text[i+2:]
		}
		switch column := len(line) - len(rest); {
		case first == "":
			b.WriteString(strings.Repeat(" ", indent) + strings.TrimLeft(hang("", rest, indent+4, n), " "))
		case column <= deepest:
			b.WriteString(hang(padRight(line[:indent]+first, column), rest, column, n))
		default:
			b.WriteString(line[:indent] + first + "\n" + hang(strings.Repeat(" ", indent+4), rest, indent+4, n))
		}
	}
	flush()
	return b.String()
}

// alignPoints pads figures so that their decimal points stand below each other
// when they are written flush right: a figure with fewer decimals than others
// gets spaces in their place. Words are left alone.
func alignPoints(figures []string) []string {
	most := 0
	for _, f := range figures {
		most = max(most, decimals(f))
	}
	out := make([]string, len(figures))
	for i, f := range figures {
		out[i] = f
		if isFigure(f) {
			out[i] += strings.Repeat(" ", most-decimals(f))
		}
	}
	return out
}

// decimals is how many characters stand from the decimal point on.
func decimals(f string) int {
	if !isFigure(f) {
		return 0
	}
	if i := strings.IndexByte(f, '.'); i >= 0 {
		return len(f) - i
	}
	return 0
}

func isFigure(f string) bool {
	return f != "" && strings.Trim(f, "0123456789.,-") == "" && f != "-"
}

// width is how many columns of a terminal a text takes.
func width(s string) int { return diag.Width(s) }
