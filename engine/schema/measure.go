package schema

import (
	"regexp"
	"strings"
	"sync"

	"bankwright/engine/decl"
	"bankwright/engine/unit"
)

// The parts of patterns of numbers with units. They say less than decl's reader: what
// is a product, ratio or power of units is not measured where a single unit will do.
const (
	digits   = `([0-9]+\.?[0-9]*|\.[0-9]+)([eE][-+−]?[0-9]+)?`
	anySign  = `[-+−]?`
	notMinus = `\+?`
	joined   = `[^\s0-9.,][^0-9.,]*[·*⋅∙×/^⁻⁰¹²³⁴⁵⁶⁷⁸⁹].*|[A-Za-z]+[23]` // kWh/day, m², m2
	raised   = `\^?[-−⁻]?[0-9⁰¹²³⁴⁵⁶⁷⁸⁹]+`
)

// ratios is the pattern of products, ratios and powers of known units, made when it is
// asked for first: other commands start without it.
var ratios = sync.OnceValue(func() string {
	name := `(` + strings.Join(quoted(unit.Names()), "|") + `|1|[A-Z]{3})`
	one := name + `(` + raised + `)?`
	more := `(\s*[·*⋅∙×/]\s*` + one + `)`
	return `/\s*` + one + more + `*|` + one + more + `+|` + name + raised
})

func quoted(names []string) []string {
	var out []string
	for _, n := range names {
		out = append(out, regexp.QuoteMeta(n))
	}
	return out
}

// bare reports whether a number without a unit says the same.
func bare(u unit.Unit) bool { return u.Dim.IsNone() && u.Mul == u.Div }

// notNegative reports whether a limit says that no value is less than zero. It stands
// in base units: what is not below 0 °C is not below 0 °F and 0 K either.
func notNegative(least *decl.Bound) bool { return least != nil && least.Value >= 0 }

// written is the pattern of a value with its unit; an equals sign begins a formula.
func written(u unit.Unit, signed bool) string {
	sign, units := notMinus, ""
	if signed {
		sign = anySign
	}
	if single := unit.Spellings(u.Dim); len(single) > 0 || u.Dim == unit.Money {
		if u.Dim == unit.Money {
			single = append(single, "[A-Z]{3}")
		}
		units = strings.Join(append(single, joined), "|")
	} else {
		units = ratios()
	}
	if bare(u) {
		return `^\s*(=|` + sign + digits + `\s*(` + units + `)?\s*$)`
	}
	return `^\s*(=|` + sign + digits + `\s*(` + units + `)\s*$)`
}

var symbolWords = strings.NewReplacer("/", "_per_", "·", "_", "²", "2", "³", "3", "^", "", "°", "deg_")

// measure is a number in any unit that measures what u measures, within limits. Those
// of a value with a unit are texts, of which no schema can tell more than the sign.
func (b *builder) measure(u unit.Unit, least, most *decl.Bound, whole bool) *node {
	signed := !notNegative(least)
	if bare(u) {
		n := &node{Type: types{"number", "string"}, Pattern: written(u, signed)}
		if whole {
			n.Type[0] = "integer"
		}
		if least != nil {
			n.Minimum = &least.Value
		}
		if most != nil {
			n.Maximum = &most.Value
		}
		return n
	}
	id := "in_" + symbolWords.Replace(u.Dim.Symbol())
	if u.Dim.IsNone() {
		id = "share"
	}
	if !signed {
		id += "_not_negative"
	}
	b.define(id, func() *node { return &node{Type: types{"string"}, Pattern: written(u, signed)} })
	return ref(id)
}
