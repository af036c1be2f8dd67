package decl

import (
	"errors"
	"math"
	"strings"

	"bankwright/engine/diag"
	"bankwright/engine/unit"
)

// number reads a number in any unit that measures what u measures, and gives
// it in base units. Without a unit it may stand only where u is none. name is
// the quantity's, for messages.
func (l *loader) number(n *node, u unit.Unit, name string, scenario bool) (float64, bool) {
	if n.bad {
		return 0, false
	}
	v, written, ok := l.measure(n, u, name, scenario)
	if !ok {
		return 0, false
	}
	if written.Name == "" && !bare(u) {
		l.diags.Errorf(n.at, "unit", l.unitless(n, u, scenario), "`%s` needs a unit", name)
		return 0, false
	}
	if !l.currencyFits(n, written, scenario) {
		return 0, false
	}
	as, fits := written.As(u.Dim)
	if !fits {
		l.misfit(n, u, written, v, name, scenario)
		return 0, false
	}
	base := as.ToBase(v)
	if math.IsInf(base, 0) || math.IsNaN(base) {
		l.diags.Errorf(n.at, "number", "Write a smaller number.", "the number is too large")
		return 0, false
	}
	return base, true
}

// measure reads a number and the unit behind it.
func (l *loader) measure(n *node, u unit.Unit, name string, scenario bool) (float64, unit.Unit, bool) {
	switch n.kind {
	case numberNode:
		return n.number, unit.One, true
	case textNode:
		v, written, err := unit.ParseValue(n.text)
		if err != nil {
			l.unreadable(n, err, u, name, scenario)
			return 0, unit.One, false
		}
		return v, written, true
	}
	mend := "Write a number."
	if !bare(u) {
		mend = "Write a number with its unit between quotes: \"1 " + l.unitName(u, scenario) + "\"."
	}
	single := "a number"
	if n.kind == listNode {
		single = "a single value"
	}
	l.diags.Errorf(n.at, "wrong-type", mend, "`%s` takes %s, not %s", name, single, n.what())
	return 0, unit.One, false
}

// unitName is the name of a unit as a scenario, which counts in a currency, or
// rules, which count in money, write it.
func (l *loader) unitName(u unit.Unit, scenario bool) string {
	if !scenario {
		return u.Name
	}
	return u.In(l.model.Currency)
}

// limit is a limit of the rules as written, in the currency of a scenario.
func (l *loader) limit(b *Bound, scenario bool) string {
	if !scenario {
		return b.Written
	}
	return unit.InCurrency(b.Written, l.model.Currency)
}

// bare reports whether a number without a unit says the same as one in u.
func bare(u unit.Unit) bool { return u.Dim.IsNone() && u.Mul == u.Div || u.Dim.IsAny() }

// misfit reports a value that measures something else, and keeps in mind that
// a better mend may be found when all values are known.
func (l *loader) misfit(n *node, u, written unit.Unit, v float64, name string, scenario bool) {
	is := u.Dim.Describe()
	if u.Dim.IsNone() && u.Name != "" { // a share of the day, a percentage
		is = "in " + u.Name
	}
	l.diags.Errorf(n.at, "unit", l.misfitMend(n, u, written, name, scenario), "`%s` is %s, but %s is %s",
		name, is, strings.TrimSpace(n.shown()), written.Dim.Describe())
	l.slips = append(l.slips, slip{n: n, given: n, place: len(*l.diags) - 1, base: written.ToBase(v), dim: written.Dim})
}

// unitFault is the place, sentence and mend of an error in a text.
func unitFault(n *node, err error) (at diag.Pos, text, mend string) {
	var e *unit.Error
	if !errors.As(err, &e) {
		return n.at, "the value cannot be read", "Write a number with its unit."
	}
	at = n.part(e.Offset, max(e.Len, 1))
	if at.Len == 0 {
		at = n.at
	}
	return at, e.Text, e.Mend
}

// currencyFits reports whether a value counts in the right money: that of the
// scenario, or the rules' own word for it.
func (l *loader) currencyFits(n *node, u unit.Unit, scenario bool) bool {
	switch {
	case u.Currency == "" || u.Currency == l.model.Currency && scenario:
		return true
	case !scenario:
		l.diags.Errorf(n.at, "currency", "Write money in its place; the scenario says which currency that is.",
			"rules count in money, not in %s", u.Currency)
	case l.model.Currency == "":
		return true // which is told by itself
	default:
		l.diags.Errorf(n.at, "currency", "Write the amount in "+l.model.Currency+".",
			"this scenario counts in %s, not in %s", l.model.Currency, u.Currency)
	}
	return false
}

// tolerance within which a value counts as equal to a limit: 12 digits, as in
// all comparisons of the engine.
const tolerance = 1e-12

func below(a, b float64) bool { return a < b && b-a > tolerance*max(math.Abs(a), math.Abs(b)) }

// IsWhole reports whether a number is whole within the tolerance of all
// comparisons.
func IsWhole(v float64) bool {
	return math.Abs(v-math.Round(v)) <= tolerance*max(1, math.Abs(v))
}

// inBounds reports whether a value keeps the limits of its quantity. Outside
// the usual range it warns.
func (l *loader) inBounds(n *node, q *Quantity, v float64, scenario bool) bool {
	if !l.possible(n, q, v, scenario) {
		return false
	}
	if scenario && q.IsUnusual(v) {
		mend := "Is that what you mean?"
		meant := l.likely(n, q.Unit, q.UsualMin, q.UsualMax, scenario, l.digitSlip, l.prefixSlip)
		if meant != "" && !(q.Whole && strings.Contains(meant, ".")) {
			mend = "Did you mean " + meant + "?"
		}
		l.diags.Add(diag.Diagnostic{Code: "unusual", Severity: diag.Warning, At: n.at,
			Summary: "`" + q.Name + "` is " + n.told(q.Unit) + ", where " + l.limit(q.UsualMin, scenario) + " to " + l.limit(q.UsualMax, scenario) + " is usual",
			Mend:    mend,
			Related: []diag.Related{q.UsualPlace()}})
	}
	return true
}

// UsualPlace is where the usual range of a quantity is declared, with its source.
func (q *Quantity) UsualPlace() diag.Related {
	text := "the usual range stands here"
	if q.UsualSource != "" {
		text += " (" + q.UsualSource + ")"
	}
	return diag.Related{At: q.At, Text: text}
}

// IsUnusual reports whether a number, in base units, lies outside the usual range of
// its quantity.
func (q *Quantity) IsUnusual(v float64) bool {
	return q.UsualMin != nil && q.UsualMax != nil && (below(v, q.UsualMin.Value) || below(q.UsualMax.Value, v))
}

// possible reports whether a value keeps the hard limits of its quantity.
func (l *loader) possible(n *node, q *Quantity, v float64, scenario bool) bool {
	if q.Whole && !IsWhole(v) {
		l.diags.Errorf(n.at, "bounds", "Write "+Figure(math.Floor(v))+" or "+Figure(math.Ceil(v))+".",
			"`%s` must be a whole number, not %s", q.Name, n.shown())
		return false
	}
	return l.between(n, q.Name, q.Unit, q.At, v, q.Min, q.Max, scenario)
}

// between reports whether a value lies between two limits, which are declared
// at a place and may be nil.
func (l *loader) between(n *node, name string, u unit.Unit, declared diag.Pos, v float64, least, most *Bound, scenario bool) bool {
	text := ""
	switch {
	case least != nil && below(v, least.Value):
		text = "less than the least allowed, " + l.limit(least, scenario)
	case most != nil && below(most.Value, v):
		text = "more than the most allowed, " + l.limit(most, scenario)
	default:
		return true
	}
	mend := "Write a value " + l.allowed(least, most, scenario) + "."
	if meant := l.likely(n, u, least, most, scenario, l.prefixSlip); meant != "" {
		mend = "Write " + meant + " if that is what you mean, or a value " + l.allowed(least, most, scenario) + "."
	}
	l.diags.Add(diag.Diagnostic{Code: "bounds", At: n.at,
		Summary: "`" + name + "` is " + n.told(u) + ", " + text,
		Mend:    mend,
		Related: []diag.Related{{At: declared, Text: "the limit stands here"}}})
	return false
}
