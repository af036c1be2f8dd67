package export

import "bankwright/engine/decl"

// numberWord stands in the place of a unit beside a plain number.
const numberWord = "number"

// unitWord is what stands beside a line in the column of units: its unit, or
// what else its cells hold.
func unitWord(l *line) string {
	q := l.q
	if q == nil {
		q = l.of
	}
	switch {
	case l.unit != "":
		return l.unit
	case q == nil:
		if l.look == ComputedText {
			return "words"
		}
		return numberWord
	}
	switch q.Type {
	case decl.Boolean, decl.Set:
		return "yes or no"
	case decl.Text:
		return "words"
	case decl.Reference:
		return "name"
	case decl.Recording:
		return "file"
	}
	return numberWord
}
