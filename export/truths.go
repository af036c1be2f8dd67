package export

import (
	"strings"

	"bankwright/engine/decl"
)

// Lines of workings hold what parts of formulas give. Whether that is a truth value is
// told by the formula: so what stands there is said to be "yes or no" even where as yet
// none has a value.

// isTruth reports whether the cells of a line hold truth values, where they hold anything.
func (l *line) isTruth() bool {
	of := l.q
	if of == nil {
		of = l.of
	}
	if of != nil {
		return of.Type == decl.Boolean || of.Type == decl.Set
	}
	if l.truth == 0 {
		l.truth = -1 // a line that reads itself tells nothing
		if l.step != nil && l.step(0, 0).isTruth() {
			l.truth = 1
		}
	}
	return l.truth > 0
}

// unitOr is the unit of a line, and of truth values that they are some.
func (l *line) unitOr() string {
	if l.unit == "" && l.isTruth() {
		return truthWord
	}
	return l.unit
}

// Marks that stand for cells while a formula is looked at.
const (
	truthMark = "TRUE"
	otherMark = "x"
)

// isTruth reports whether a formula gives a truth value or nothing.
func (t text) isTruth() bool {
	var b strings.Builder
	for _, p := range t {
		switch {
		case p.ref == nil:
			b.WriteString(p.lit)
		case p.ref.form == "" && p.ref.to.isTruth():
			b.WriteString(truthMark)
		default:
			b.WriteString(otherMark)
		}
	}
	return givesTruth(b.String())
}

// tellers are functions that give truth values.
var tellers = map[string]bool{"AND": true, "OR": true, "NOT": true, "ISNUMBER": true, "ISTEXT": true, "ISERROR": true, "ISBLANK": true, "EXACT": true, "XOR": true}

// givesTruth reports whether what a formula is made of last is a comparison, a function
// that tells or, in each branch that is not empty, one of these.
func givesTruth(f string) bool {
	for strings.HasPrefix(f, "(") && closing(f, 0) == len(f)-1 {
		f = f[1 : len(f)-1]
	}
	if f == "TRUE" || f == "FALSE" {
		return true
	}
	open := strings.IndexByte(f, '(')
	if open > 0 && isWord(f[:open]) && closing(f, open) == len(f)-1 {
		args := parts(f[open+1 : len(f)-1])
		switch name := f[:open]; {
		case tellers[name]:
			return true
		case name == "IF" && len(args) == 3:
			return eachTells(args[1:])
		case name == "IFERROR" && len(args) == 2:
			return eachTells(args)
		case name == "INDEX":
			return givesTruth(args[0])
		}
		return false
	}
	return compares(f)
}

// eachTells reports whether each branch gives a truth value or nothing, and some one does.
func eachTells(branches []string) (some bool) {
	for _, b := range branches {
		switch {
		case b == `""` || b == "NA()" || b == absent:
		case givesTruth(b):
			some = true
		default:
			return false
		}
	}
	return some
}

func isWord(s string) bool {
	for i := range len(s) {
		if (s[i] < 'A' || s[i] > 'Z') && (s[i] < '0' || s[i] > '9') && s[i] != '.' {
			return false
		}
	}
	return true
}

// each calls f with each sign of a formula that is in no text, and how deep in brackets
// it stands, an opening one counting as within; it ends when f says so.
func eachSign(s string, f func(i, depth int) bool) {
	depth, quoted := 0, false
	for i := range len(s) {
		switch {
		case s[i] == '"':
			quoted = !quoted
			continue
		case quoted:
			continue
		case s[i] == '(':
			depth++
		}
		if !f(i, depth) {
			return
		}
		if s[i] == ')' {
			depth--
		}
	}
}

// closing is where the bracket that opens at a place closes, -1 if nowhere.
func closing(s string, open int) (at int) {
	at = -1
	eachSign(s[open:], func(i, depth int) bool {
		if depth == 1 && s[open+i] == ')' {
			at = open + i
		}
		return at < 0
	})
	return at
}

// parts are the arguments of a function.
func parts(s string) (out []string) {
	from := 0
	eachSign(s, func(i, depth int) bool {
		if depth == 0 && s[i] == ',' {
			out, from = append(out, s[from:i]), i+1
		}
		return true
	})
	return append(out, s[from:])
}

// compares reports whether a comparison stands outside of all brackets.
func compares(s string) (found bool) {
	eachSign(s, func(i, depth int) bool {
		found = depth == 0 && strings.IndexByte("<>=", s[i]) >= 0
		return !found
	})
	return found
}
