package decl

import (
	"regexp"
	"strings"

	"bankwright/engine/unit"
)

// Instead is what a spelling that is no unit means as a value of a quantity: a factor,
// in base units, times another quantity of the kind, if one is named.
type Instead struct {
	By     *Quantity
	Factor float64
}

// insteadForm is NAME, or NAME * VALUE or NAME / VALUE.
var insteadForm = regexp.MustCompile(`^([a-z][a-z0-9_]*)\s*(?:([*/])\s*(.+))?$`)

// resolveInstead reads what is meant by spellings that are no units, once all
// quantities are known.
func (l *loader) resolveInstead() {
	for q, n := range l.instead {
		for _, kid := range n.kids {
			if kid.bad || l.broken[q] {
				continue
			}
			if _, err := unit.Parse(kid.key); err == nil {
				l.diags.Errorf(kid.keyAt, "conflict", "Leave it out.", "`%s` is a unit already", kid.key)
				continue
			}
			if kid.kind != textNode {
				l.diags.Errorf(kid.at, "wrong-type", "Write a quantity and a value between quotes: \"other / 1 h\".", "`%s` is what a spelling means, not %s", kid.key, kid.what())
				continue
			}
			if in, ok := l.insteadOf(q, kid); ok {
				if q.Instead == nil {
					q.Instead = map[string]Instead{}
				}
				q.Instead[strings.ToLower(kid.key)] = in
			}
		}
	}
}

// insteadOf reads what one spelling means.
func (l *loader) insteadOf(q *Quantity, n *node) (in Instead, ok bool) {
	in.Factor = 1
	dim, value, divide := unit.None, n.text, false
	if m := insteadForm.FindStringSubmatch(strings.TrimSpace(n.text)); m != nil {
		in.By = l.byName[q.Kind][m[1]]
		if in.By == nil || in.By.Type != Number || len(in.By.Over) > 0 {
			l.diags.Errorf(n.at, "unknown-name", l.nearQuantity(q.Kind, m[1]), "`%s` is not a number of %s", m[1], q.Kind.Name)
			return in, false
		}
		dim, value, divide = in.By.Unit.Dim, m[3], m[2] == "/"
	}
	fits := true
	if value != "" {
		x, u, err := unit.ParseValue(value)
		if err != nil || x <= 0 {
			l.diags.Errorf(n.at, "number", "Write one such as \"other / 1 h\".", "`%s` is not a value above 0 with its unit", shorten(value, 60))
			return in, false
		}
		if in.Factor = u.ToBase(x); divide {
			in.Factor = 1 / in.Factor
			dim, fits = unit.Div(dim, u.Dim)
		} else {
			dim, fits = unit.Mul(dim, u.Dim)
		}
	}
	if fits {
		_, fits = unit.Fit(dim, q.Unit.Dim)
	}
	if !fits {
		l.diags.Errorf(n.at, "unit", "Multiply or divide by a value that makes it fit.", "`%s` is %s, but this is another quantity", q.Name, q.Unit.Dim.Describe())
	}
	return in, fits
}

// insteadMend is the mend for a spelling of which the rules say what it means here, ""
// where they say nothing.
func (s slip) insteadMend(l *loader, q *Quantity, e *entry) string {
	in, ok := q.Instead[strings.ToLower(s.word)]
	if !ok {
		return ""
	}
	written := strings.TrimSpace(s.n.shown())
	base := s.number * in.Factor
	at := ""
	if in.By != nil {
		by := e.item.Given[in.By.Name]
		if by == nil || by.Formula != nil || len(by.Values) != 1 {
			return "Write it in " + l.unitName(q.Unit, true) + ": " + written + " stands for so many times `" + in.By.Name + "`."
		}
		base *= by.Values[0]
		at = "At a `" + in.By.Name + "` of " + by.Written + ", "
	}
	value := l.spelled(digits(q.Unit.FromBase(base), 6), q.Unit, true)
	if at == "" {
		return "Write " + q.Name + " = " + value + "."
	}
	return at + written + " is " + strings.Trim(value, `"`) + ". Write " + q.Name + " = " + value + "."
}
