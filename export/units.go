package export

import (
	"math"
	"strconv"

	"bankwright/engine/decl"
	"bankwright/engine/unit"
)

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

// number is a figure as formulas write it.
func number(x float64) string {
	if a := math.Abs(x); a == 0 || a >= 1e-5 && a < 1e15 {
		return strconv.FormatFloat(x, 'f', -1, 64)
	}
	return strconv.FormatFloat(x, 'E', -1, 64)
}

// toBase is a value in unit u as a number in base units.
func toBase(t term, u unit.Unit) (text, int) {
	out, prec := t.text, t.prec
	if u.Zero != 0 {
		out, prec = join(t.paren(precSum), "-", number(u.Zero)), precSum
	}
	t = term{out, prec, nil}
	if u.Mul != 1 {
		t = term{join(t.paren(precProduct), "*", factor(u.Mul)), precProduct, nil}
	}
	if u.Div != 1 {
		t = term{join(t.paren(precProduct), "/", number(u.Div)), precProduct, nil}
	}
	return t.text, t.prec
}

// fromBase is a number in base units in unit u.
func fromBase(t term, u unit.Unit) (text, int) {
	if u.Zero == 0 && len(t.text) == 1 && t.text[0].lit == "0" {
		return t.text, t.prec // in any unit
	}
	if u.Div != 1 {
		t = term{join(t.paren(precProduct), "*", number(u.Div)), precProduct, nil}
	}
	if u.Mul != 1 {
		t = term{join(t.paren(precProduct), "/", factor(u.Mul)), precProduct, nil}
	}
	if u.Zero != 0 {
		t = term{join(t.paren(precSum), "+", number(u.Zero)), precSum, nil}
	}
	return t.text, t.prec
}

// factor is a factor of a unit as formulas write it.
func factor(x float64) string {
	if x == math.Pi {
		return "PI()"
	}
	return number(x)
}

func sameScale(a, b unit.Unit) bool { return a.Mul == b.Mul && a.Div == b.Div && a.Zero == b.Zero }
