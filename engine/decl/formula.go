package decl

import (
	"strings"
	"unicode/utf8"

	"bankwright/engine/diag"
)

// formula is the formula that a text value holds, with or without a leading
// equals sign.
func (n *node) formula() *Formula {
	text := strings.TrimLeft(n.text, " \t\r\n")
	if isFormula(text) {
		text = strings.TrimLeft(text[1:], " \t\r\n")
	}
	shift := utf8.RuneCountInString(n.text) - utf8.RuneCountInString(text)
	return &Formula{Text: strings.TrimRight(text, " \t\r\n"), At: n.at, spans: n.spans(), shift: shift}
}

// isFormula reports whether a text value of a scenario is a formula.
func isFormula(text string) bool {
	return strings.HasPrefix(text, "=") && !strings.HasPrefix(text, "==")
}

func (f *Formula) pos(offset, length int) diag.Pos {
	return place(f.spans, f.At, offset+f.shift, length)
}
