package export

import (
	"math"
	"slices"
	"strconv"

	"bankwright/engine/decl"
	"bankwright/engine/unit"
)

// numberWord stands in the place of a unit beside a plain number.
const numberWord = "number"

// truthWord stands there beside what is true or false.
const truthWord = "yes or no"

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
	case l.isTruth():
		return truthWord
	case q == nil:
		if l.look == ComputedText {
			return "words"
		}
		return numberWord
	}
	switch q.Type {
	case decl.Text:
		return "words"
	case decl.Reference:
		return "name"
	case decl.Recording:
		return "file"
	}
	return numberWord
}

// isTruth reports whether the cells of a line hold truth values, where they hold anything.
func (l *line) isTruth() bool {
	of := l.q
	if of == nil {
		of = l.of
	}
	if of != nil {
		return of.Type == decl.Boolean || of.Type == decl.Set
	}
	return l.truth
}

// unitOr is the unit of a line, and of truth values that they are some.
func (l *line) unitOr() string {
	if l.unit == "" && l.isTruth() {
		return truthWord
	}
	return l.unit
}

// number is a figure as formulas write it.
func number(x float64) string {
	if a := math.Abs(x); a == 0 || a >= 1e-5 && a < 1e15 {
		return strconv.FormatFloat(x, 'f', -1, 64)
	}
	return strconv.FormatFloat(x, 'E', -1, 64)
}

// toBase is a value in unit u as a number in base units; the factors of the unit wait.
func toBase(t term, u unit.Unit) term {
	if u.Zero != 0 {
		t = t.plain()
		t.text, t.prec = join(t.paren(precSum), "-", number(u.Zero)), precSum
	}
	return t.times(factors(u))
}

// fromBase is a number in base units in unit u.
func fromBase(t term, u unit.Unit) term {
	if isNought(t) {
		t.mul, t.div = nil, nil // in any unit
	} else {
		mul, div := factors(u)
		t = t.times(div, mul)
	}
	t = t.plain()
	if u.Zero != 0 {
		t.text, t.prec = join(t.paren(precSum), "+", number(u.Zero)), precSum
	}
	return t
}

func isNought(t term) bool { return len(t.text) == 1 && t.text[0].lit == "0" }

// factors are those that lead from a unit to base units, as formulas write them: each by
// itself, as people know it, though several could be one.
func factors(u unit.Unit) (mul, div []string) {
	m, d := u.Factors()
	return asFactors(m), asFactors(d)
}

func asFactors(list []float64) (out []string) {
	for _, x := range list {
		out = append(out, factor(x))
	}
	return out
}

// times is t with more factors waiting. One that stands on both sides cancels.
func (t term) times(mul, div []string) term {
	t.mul, t.div = slices.Concat(t.mul, mul), slices.Concat(t.div, div)
	for _, f := range inBoth(t.mul, t.div) {
		t.mul, t.div = without(t.mul, f), without(t.div, f)
	}
	return t
}

// plain is t with the factors written that waited.
func (t term) plain() term {
	if len(t.mul)+len(t.div) == 0 {
		return t
	}
	t.text, t.prec = t.paren(precProduct), precProduct
	for _, f := range t.mul {
		t.text = join(t.text, "*"+f)
	}
	for _, f := range t.div {
		t.text = join(t.text, "/"+f)
	}
	t.mul, t.div = nil, nil
	return t
}

// shared writes the factors of terms that stand side by side in a sum or a comparison,
// save those that wait at each of them, which it returns at an empty term.
func shared(terms ...*term) (out term) {
	first := true
	for _, t := range terms {
		switch {
		case isNought(*t):
		case first:
			out.mul, out.div, first = t.mul, t.div, false
		default:
			out.mul, out.div = inBoth(out.mul, t.mul), inBoth(out.div, t.div)
		}
	}
	for _, t := range terms {
		for _, f := range out.mul {
			t.mul = without(t.mul, f)
		}
		for _, f := range out.div {
			t.div = without(t.div, f)
		}
		*t = t.plain()
	}
	return out
}

// inBoth are the factors that stand in both lists.
func inBoth(a, b []string) (out []string) {
	for _, f := range a {
		if i := slices.Index(b, f); i >= 0 {
			out, b = append(out, f), without(b, f)
		}
	}
	return out
}

// without is the list without one such factor.
func without(list []string, f string) []string {
	if i := slices.Index(list, f); i >= 0 {
		return slices.Delete(slices.Clone(list), i, i+1)
	}
	return list
}

// factor is a factor of a unit as formulas write it.
func factor(x float64) string {
	if x == math.Pi {
		return "PI()"
	}
	return number(x)
}

func sameScale(a, b unit.Unit) bool { return a.Mul == b.Mul && a.Div == b.Div && a.Zero == b.Zero }
