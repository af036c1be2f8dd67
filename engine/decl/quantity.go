package decl

import (
	"slices"
	"strings"

	"bankwright/engine/unit"
)

// headed is what quantities stand under, carried on from the one before.
type headed struct{ section, sheet string }

// declareQuantity reads [KIND.NAME].
func (l *loader) declareQuantity(r *ruleSet, k *Kind, n *node, under *headed) {
	f := l.fields(n, "a quantity")
	if f == nil || !l.nameOK(n.key, n.keyAt, itemKeys) || !l.unique("the quantity", k.Name+"."+n.key, n.keyAt) {
		return
	}
	q := &Quantity{Kind: k, Name: n.key, At: n.keyAt, Unit: unit.One}
	l.describe(f, q, under)
	q.Formula = f.formula("formula", false)
	if q.Formula != nil && q.Doc == "" && !r.inline {
		f.fault(n.keyAt, "missing", "Add doc = \"…\" with one sentence that says what it is.", "the rule `%s` has no `doc`", q.Name)
	}
	q.Optional = f.truth("optional")
	l.typed(r, f, q)
	l.series(f, q)
	l.together(f, q)
	l.add(q)
	if f.ok {
		l.limits(r, f, q)
	}
	if d := n.get("default"); d != nil && f.ok {
		if q.Default = l.given(d, q, r.inline); q.Default != nil {
			q.Default.Default = true
		} else {
			f.ok = false
		}
	}
	if !f.ok {
		l.broken[q] = true
		q.Unit = unit.Unit{Dim: unit.Any, Mul: 1, Div: 1}
	}
}

func (l *loader) add(q *Quantity) {
	q.Kind.Quantities = append(q.Kind.Quantities, q)
	l.byName[q.Kind][q.Name] = q
}

// describe reads what is for people alone.
func (l *loader) describe(f *fields, q *Quantity, under *headed) {
	q.Doc, q.Source, q.Label = f.text("doc", false), f.text("source", false), f.text("label", false)
	if q.Label == "" {
		q.Label = words(q.Name)
	}
	if f.has("section") {
		*under = headed{f.text("section", false), f.text("sheet", false)}
	} else if f.has("sheet") {
		f.fault(f.n.get("sheet").at, "missing", "Give a `section` as well.", "a sheet of its own belongs to a section")
	}
	q.Section, q.Sheet = under.section, under.sheet
	q.Decimals = f.integer("decimals", 0, 15, -1)
}

// typed reads what the values of a quantity are.
func (l *loader) typed(r *ruleSet, f *fields, q *Quantity) {
	name := f.text("type", false)
	switch {
	case f.has("inverse"):
		l.inverted(f, q)
	case f.has("refers"):
		q.Type = Reference
		if f.truth("set") {
			q.Type = Set
		}
		q.Refers = l.refers(f)
		f.clash("`refers`", "type", "unit", "choices", "columns", "rows", "over", "formula", "min", "max", "usual", "usual_in", "usual_by", "whole", "otherwise", "decimals")
	case f.has("recording"):
		l.recorded(r, f, q)
	case f.has("columns"):
		q.Type = Points
		q.Columns = l.columns(r, f, f.n.get("columns"), false)
		q.MaxRows = f.integer("rows", 1, maxPointRows, defaultPointRows)
		f.clash("`columns`", "type", "unit", "choices", "over", "formula", "min", "max", "usual", "usual_in", "usual_by", "whole", "otherwise", "decimals")
	case name == "boolean":
		q.Type = Boolean
		f.clash("the type boolean", "unit", "choices", "min", "max", "usual", "usual_in", "usual_by", "whole", "otherwise", "decimals")
	case name == "text", name == "" && f.has("choices"):
		q.Type = Text
		q.Choices = l.choices(f)
		f.clash("text", "unit", "over", "min", "max", "usual", "usual_in", "usual_by", "whole", "otherwise", "decimals")
	case name == "" || name == "number":
		q.Type = Number
		q.Unit = l.unitOf(r, f, f.n.get("unit"))
		f.clash("a number", "choices")
	default:
		f.fault(f.n.get("type").at, "choice", "Write \"boolean\" or \"text\"; leave it out for a number.",
			"`%s` is not a type", shorten(name, 60))
	}
	if q.Type != Points {
		f.clash("a quantity without columns", "rows")
	}
	if q.Type != Set && q.Type != Reference && !f.has("inverse") {
		f.clash("a quantity that refers to nothing", "set")
	}
}

// Rows of an item's own table: what may be asked for, and what is laid out
// where the rules do not say.
const (
	maxPointRows     = 1000
	defaultPointRows = 10
)

func (l *loader) refers(f *fields) *Kind {
	name := f.text("refers", true)
	k := l.kinds[name]
	switch n := f.n.get("refers"); {
	case name == "":
	case k == nil && l.unread:
		f.ok = false
	case k == nil:
		f.fault(n.at, "unknown-kind", l.didYouMean(name, l.kindNames()), "there is no kind `%s`", shorten(name, 60))
	case !k.Many:
		f.fault(n.at, "reference", "Formulas reach it by its name.", "`%s` has only one item, so that there is nothing to choose", name)
	}
	return k
}

func (l *loader) choices(f *fields) []string {
	var out []string
	seen := map[string]bool{}
	for _, n := range f.texts("choices", false) {
		if seen[n.text] {
			f.fault(n.at, "duplicate", "Leave it out.", "the choice `%s` is given twice", shorten(n.text, 60))
		}
		seen[n.text] = true
		out = append(out, n.text)
	}
	if n := f.n.get("choices"); n != nil && len(out) == 0 && f.ok {
		f.fault(n.at, "missing", "Name at least one, or leave `choices` out.", "`choices` is empty")
	}
	return out
}

// unitOf reads a unit of the rules; without one a quantity is a plain number.
func (l *loader) unitOf(r *ruleSet, f *fields, n *node) unit.Unit {
	if n == nil {
		return unit.One
	}
	if !f.kind(n, textNode, "is a unit between quotes", "Put it between quotes.") {
		return unit.One
	}
	u, err := unit.Parse(n.text)
	if n.text == "" {
		u, err = unit.One, nil
	}
	if err != nil {
		at, text, mend := unitFault(n, err)
		f.fault(at, "unit", mend, "%s", text)
		return unit.One
	}
	if !l.currencyFits(n, u, r.inline) {
		f.ok = false
	}
	return u
}

// maxAxes is how many axes a series may nest.
const maxAxes = 3

// series reads what a quantity runs over.
func (l *loader) series(f *fields, q *Quantity) {
	over := f.n.get("over")
	steps := 1
	for i, n := range f.texts("over", true) {
		a := l.axis(n)
		if a == nil {
			f.ok = false
			continue
		}
		if slices.Contains(q.Over, a) {
			f.fault(n.at, "duplicate", "Name two different axes.", "`%s` cannot run over the same axis twice", q.Name)
			continue
		}
		if i == maxAxes {
			f.fault(n.at, "length", "Name three axes at most.", "a series runs over at most three axes")
			break
		}
		if steps *= max(a.Steps, 1); steps > maxSteps {
			f.fault(over.at, "limit", "Use fewer steps.", "`%s` would have more than 100,000 steps", q.Name)
		}
		q.Over = append(q.Over, a)
	}
	if over != nil && len(q.Over) == 0 && f.ok {
		f.fault(over.at, "missing", "Name an axis, or leave `over` out.", "`over` is empty")
	}
	q.Start = f.formula("start", false)
	if start := f.n.get("start"); start != nil && (q.Formula == nil || over == nil) {
		f.fault(start.keyAt, "conflict", "Leave it out, or give the rule `over` and `formula`.",
			"`start` belongs to a rule that runs over an axis")
	}
}

// together judges keys that go together or do not.
func (l *loader) together(f *fields, q *Quantity) {
	if q.Formula != nil {
		f.clash("`formula`", "default", "optional", "unless")
	}
	if q.Optional {
		f.clash("`optional`", "default", "unless")
	}
	if n := f.n.get("unless"); n != nil && f.text("unless", true) != "" {
		f.clash("`unless`", "default")
		q.Optional = true
		l.unless[q] = n
	}
	if n := f.n.get("instead"); n != nil && f.kind(n, tableNode, "is a table", "Write { X = \"other / 1 h\" }.") {
		if l.instead[q] = n; q.Type != Number {
			f.fault(n.keyAt, "conflict", "Leave it out.", "`instead` is for numbers")
		}
	}
	q.Otherwise = f.text("otherwise", false)
	if strings.ContainsAny(q.Otherwise, "{}") {
		f.fault(f.n.get("otherwise").at, "text", "Leave the braces out, or let a check say it.", "values are not filled in where `otherwise` speaks of limits")
	}
	if n := f.n.get("otherwise"); n != nil && !f.has("min") && !f.has("max") && !f.has("whole") {
		f.fault(n.keyAt, "conflict", "Leave it out, or give the limits.", "`otherwise` speaks of limits, and there are none")
	}
}
