package decl

import (
	"math"
	"regexp"
	"strconv"
	"strings"

	"bankwright/engine/unit"
)

// What messages on numbers propose to write.

// spelled is a number with its unit as a scenario writes it, with at most six
// digits where it was computed.
func (l *loader) spelled(x float64, u unit.Unit, scenario bool) string {
	if bare(u) {
		return Figure(x)
	}
	return `"` + Figure(x) + " " + strings.TrimPrefix(l.unitName(u, scenario), "1") + `"`
}

// digits is a computed number without the digits that nobody would write.
func digits(x float64, n int) float64 {
	short, err := strconv.ParseFloat(strconv.FormatFloat(x, 'g', n, 64), 64)
	if err != nil {
		return x
	}
	return short
}

// raw is a number as it is written, and its unit.
func (n *node) raw() (float64, unit.Unit, bool) {
	if n.kind == numberNode {
		return n.number, unit.One, true
	}
	x, u, err := unit.ParseValue(n.text)
	return x, u, n.kind == textNode && err == nil
}

// told is a value as written and, of a temperature that counts from absolute zero, what
// that is in the unit of its quantity.
func (n *node) told(u unit.Unit) string {
	x, written, ok := n.raw()
	as, fits := written.As(u.Dim)
	if !ok || !fits || written.Dim == as.Dim {
		return n.shown()
	}
	return n.shown() + " (" + Figure(digits(u.FromBase(as.ToBase(x)), 8)) + " " + u.Name + ")"
}

// unitless is the mend for a number without the unit that it needs. A share may
// have been meant as a part of one or in percent.
func (l *loader) unitless(n *node, u unit.Unit, scenario bool) string {
	x, _, _ := n.raw()
	plain := l.spelled(x, u, scenario)
	if u.Name != "%" || math.Abs(x) > 1 || x == 0 {
		return "Write " + plain + "."
	}
	return "Write " + l.spelled(digits(100*x, 12), u, scenario) + ", or " + plain + " if that is what is meant."
}

// misfitMend is the mend for a value that measures something else than u does.
func (l *loader) misfitMend(n *node, u, written unit.Unit, name string, scenario bool) string {
	x, _, _ := n.raw()
	if above, below, ratio := strings.Cut(u.Name, "/"); ratio { // 10 h for 10 h/day
		if part, err := unit.Parse(above); err == nil && part.Dim == written.Dim {
			return "Write \"" + strings.TrimSpace(n.shown()) + "/" + below + "\"."
		}
	}
	if written.Name == "deg" && u.Dim.IsPoint() { // an angle for a temperature
		return "Write " + l.spelled(x, u, scenario) + "."
	}
	meant := func(name string) string {
		if v, err := unit.Parse(name); err == nil && v.Dim == u.Dim {
			return l.spelled(x, v, scenario)
		}
		return ""
	}
	if s := meant(strings.Replace(written.Name, "/", "", 1)); s != "" { // kW/h for kWh
		return "Write " + s + "."
	}
	in := l.unitName(u, scenario)
	if u.Name == "" {
		return "Write a plain number."
	}
	if s := meant(written.Name + "/day"); s != "" {
		if less := meant(strings.TrimSuffix(written.Name, "h")); less != "" && isLimit(name) {
			return "Write it in " + in + ": " + less + ", if the h is one too many."
		}
		return "Write it in " + in + ", or " + s + " if that is what each day takes."
	}
	if s := meant(written.Name + "h"); s != "" { // A for Ah
		return "Write it in " + in + ": " + s + ", if the h was forgotten."
	}
	if s := meant(strings.TrimSuffix(written.Name, "h")); s != "" {
		return "Write it in " + in + ": " + s + ", if the h is one too many."
	}
	return "Write it in " + in + "."
}

// isLimit reports whether a quantity is named as a limit, which is no amount of a day.
func isLimit(name string) bool {
	return strings.HasPrefix(name, "max_") || strings.HasPrefix(name, "min_") || strings.HasSuffix(name, "_limit") || strings.HasPrefix(name, "surge_")
}

// guess is how a value that lies outside two limits may have been meant, "" where it
// has no idea.
type guess func(n *node, u unit.Unit, least, most *Bound, scenario bool) string

// likely is how a value that lies outside two limits was most likely meant, ""
// where that is not plain: the same number in the unit of its quantity, a share as
// a part of one in place of percent, or percent in place of a part of one; else what
// the first of the guesses says that has an idea.
func (l *loader) likely(n *node, u unit.Unit, least, most *Bound, scenario bool, guesses ...guess) string {
	x, written, ok := n.raw()
	if !ok {
		return ""
	}
	inside := func(x float64, in unit.Unit) bool { return isWithin(in.ToBase(x), least, most) }
	switch {
	case u.Dim.HasMoney():
	case written.Name != u.Name && inside(x, u):
		return l.spelled(x, u, scenario)
	case written.Name == "%" && u.Name == "%" && x > 0 && x <= 1 && inside(100*x, u):
		return l.spelled(digits(100*x, 12), u, scenario)
	case written.Name == "" && bare(u) && x > 1 && x <= 100 && most != nil && most.Value <= 1 && inside(x/100, u):
		return l.spelled(digits(x/100, 12), u, scenario)
	}
	for _, g := range guesses {
		if meant := g(n, u, least, most, scenario); meant != "" {
			return meant
		}
	}
	return ""
}

// prefixSlip guesses that another unit was meant, where one unit alone will do: 485 mm
// for 485 m.
func (l *loader) prefixSlip(n *node, u unit.Unit, least, most *Bound, scenario bool) (meant string) {
	x, written, ok := n.raw()
	if !ok || u.Dim.HasMoney() || written.Name != u.Name {
		return ""
	}
	for _, v := range unit.Alike(u.Dim) {
		switch {
		case v.Name == written.Name || !isWithin(v.ToBase(x), least, most):
		case meant != "":
			return ""
		default:
			meant = l.spelled(x, v, scenario)
		}
	}
	return meant
}

// isWithin reports whether a number, in base units, lies between two limits, which may be
// nil.
func isWithin(v float64, least, most *Bound) bool {
	return (least == nil || !below(v, least.Value)) && (most == nil || !below(most.Value, v))
}

// digitSlip guesses that a number has a digit too many or one too few.
func (l *loader) digitSlip(n *node, u unit.Unit, least, most *Bound, scenario bool) string {
	x, written, ok := n.raw()
	if !ok || u.Dim.IsPoint() {
		return ""
	}
	if as, fits := written.As(u.Dim); fits {
		for _, y := range []float64{x / 10, x * 10} {
			if isWithin(as.ToBase(y), least, most) {
				return l.spelled(digits(y, 12), written, scenario)
			}
		}
	}
	return ""
}

// allowed says what may be written between two limits.
func (l *loader) allowed(least, most *Bound, scenario bool) string {
	switch {
	case most == nil:
		return "of at least " + l.limit(least, scenario)
	case least == nil:
		return "of at most " + l.limit(most, scenario)
	}
	return "from " + l.limit(least, scenario) + " to " + l.limit(most, scenario)
}

// slip is a value that measures the wrong thing, or has a unit that there is not.
type slip struct {
	n     *node // what is meant to stand there
	given *node // what does
	place int   // in the diagnostics
	base  float64
	dim   unit.Dim

	number float64 // before a word that is no unit
	word   string
}

// product is the form of a rule by which a slip may be explained.
var product = regexp.MustCompile(`^\s*([a-z][a-z0-9_]*)\s*\*\s*([a-z][a-z0-9_]*)\s*$`)

// mendSlips looks for what values of the wrong dimension were meant to be, once
// all values are known.
func (l *loader) mendSlips() {
	if len(l.slips) == 0 {
		return
	}
	where := map[*node]*entry{}
	which := map[*node]*Quantity{}
	for _, e := range l.entries {
		for _, a := range e.values {
			if where[a.n] == nil {
				where[a.n], which[a.n] = e, a.q
			}
		}
	}
	for _, s := range l.slips {
		q := which[s.given]
		if q == nil {
			continue
		}
		mend := s.insteadMend(l, q, where[s.given])
		if mend == "" && s.dim != unit.None {
			mend = l.slipMend(s, q, where[s.given])
		}
		if mend != "" {
			(*l.diags)[s.place].Mend = mend
		}
	}
}

// slipMend explains a slip by a rule of the kind that is the product of two of its
// quantities: a value with the dimension of the product is divided by one factor,
// a value with that of a factor multiplied by the other. A rule that names the
// quantity itself goes before one that has its dimension.
func (l *loader) slipMend(s slip, q *Quantity, e *entry) (mend string) {
	for _, rule := range q.Kind.Quantities {
		if rule.Formula == nil || rule.Type != Number || len(rule.Over) > 0 {
			continue
		}
		m := product.FindStringSubmatch(rule.Formula.Text)
		if m == nil {
			continue
		}
		for i, name := range m[1:] {
			a, other := l.byName[q.Kind][name], l.byName[q.Kind][m[2-i]]
			if a == nil || other == nil || a == other || a.Type != Number || other.Type != Number {
				continue
			}
			divide := rule.Unit.Dim == s.dim && a.Unit.Dim == q.Unit.Dim
			if !divide && (rule.Unit.Dim != q.Unit.Dim || a.Unit.Dim != s.dim) {
				continue
			}
			found := l.swapped(s, q, other, e.item.Given[other.Name], divide)
			if a == q || rule == q {
				return found
			}
			if mend == "" {
				mend = found
			}
		}
	}
	return mend
}

// swapped is the mend by the other factor of a product.
func (l *loader) swapped(s slip, q, other *Quantity, by *Given, divide bool) string {
	written := strings.TrimSpace(s.n.shown())
	how, name := "multiplied", l.unitName(q.Unit, true)
	if divide {
		how = "divided"
	}
	if by == nil || len(by.Values) != 1 || by.Values[0] == 0 || by.Formula != nil {
		return "Write it in " + name + ": that is " + written + " " + how + " by `" + other.Name + "`."
	}
	base := s.base * by.Values[0]
	if divide {
		base = s.base / by.Values[0]
	}
	v := digits(q.Unit.FromBase(base), 6)
	value := l.spelled(v, q.Unit, true)
	mend := "At a `" + other.Name + "` of " + by.Written + ", " + written + " is " + strings.Trim(value, `"`) + ". Write " + q.Name + " = " + value
	if x, _, ok := s.n.raw(); ok && q.UsualMin != nil && !q.IsUnusual(q.Unit.ToBase(x)) && x != v {
		mend += ", or " + l.spelled(x, q.Unit, true) + " if the unit is the slip"
	}
	return mend + "."
}
