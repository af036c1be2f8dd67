// Package told says in words what studies found, for whoever shows it: a terminal or a
// workbook. Tables and pictures are theirs; sentences, the decimals of figures and what
// is chosen of much stand here.
package told

import (
	"fmt"
	"math"
	"strings"

	"bankwright/engine"
	"bankwright/engine/check"
	"bankwright/engine/decl"
	"bankwright/engine/unit"
)

// Among is what is added to "the lowest cost" where one that is out has a lower one.
const Among = " of those that may be built and serve"

// Words are how a model is spoken of.
type Words struct {
	M    *engine.Model
	Name func(c check.Place) string // what an input is called
}

// InputName is an input in words: "price of oak".
func InputName(c check.Place) string {
	label := c.Quantity.Label
	if label == "" {
		label = strings.ReplaceAll(c.Quantity.Name, "_", " ")
	}
	if c.Quantity.Kind.Many {
		return label + " of " + engine.ItemAlias(c.Quantity.Kind.Items[c.Item])
	}
	return label
}

// Item is what people call an item, or the word for none.
func Item(k *check.Kind, item int) string {
	if item < 0 {
		return "none"
	}
	return engine.ItemAlias(k.Items[item])
}

// Unit is the unit of a quantity as shown; "" of what is no number.
func (w Words) Unit(q *check.Quantity) string {
	if q.Type != decl.Number {
		return ""
	}
	return q.Unit.In(w.M.Model.Currency)
}

// Show writes a value of a quantity, in base units, with its unit.
func (w Words) Show(q *check.Quantity, v float64) string {
	return q.Unit.Show(v, -1, w.M.Model.Currency)
}

// Exactly writes a value with some digits more than it has alone.
func (w Words) Exactly(q *check.Quantity, v float64, more int) string {
	return q.Unit.Show(v, unit.DecimalsFor([]float64{q.Unit.FromBase(v)})+more, w.M.Model.Currency)
}

// Size writes a share without its sign: "3.9 %".
func Size(share float64) string {
	share = math.Abs(share)
	digits := 0
	if share < 0.0995 {
		digits = 1
	}
	return unit.Format(100*share, digits) + " %"
}

// Count writes how many there are.
func Count(n int) string { return unit.Format(float64(n), 0) }

// Numbers writes values of a quantity, in base units, with decimals that they share,
// and a dash where there is none.
func (w Words) Numbers(q *check.Quantity, values []float64) []string {
	out := make([]string, len(values))
	if q.Type != decl.Number {
		for i, v := range values {
			out[i] = w.M.Text(q, v)
		}
		return out
	}
	digits := Digits(q, values)
	for i, v := range values {
		if out[i] = "-"; v == v {
			out[i] = unit.Format(q.Unit.FromBase(v), digits)
		}
	}
	return out
}

// Digits is how many decimals values of a quantity, in base units, share.
func Digits(q *check.Quantity, values []float64) int {
	if q.Decimals >= 0 {
		return q.Decimals
	}
	var shown []float64
	for _, v := range values {
		if v == v {
			shown = append(shown, q.Unit.FromBase(v))
		}
	}
	return unit.DecimalsFor(shown)
}

// PairDigits is how many decimals pairs of values share, the second of a pair behind
// its first, so that those of no pair read alike that differ: a quantity's own decimals
// may hide it. Further values may stand behind the pairs.
func PairDigits(q *check.Quantity, values []float64) int {
	digits := Digits(q, values)
	for digits < 9 && readAlike(q, values, digits) {
		digits++
	}
	return digits
}

// readAlike reports whether some figures that differ read alike.
func readAlike(q *check.Quantity, values []float64, digits int) bool {
	for i := 0; i+1 < len(values); i += 2 {
		a, b := q.Unit.FromBase(values[i]), q.Unit.FromBase(values[i+1])
		if math.Abs(a-b) > 1e-9*math.Abs(a) && unit.Format(a, digits) == unit.Format(b, digits) {
			return true
		}
	}
	return false
}

// Inputs names the inputs of an axis.
func (w Words) Inputs(a *check.Axis) string {
	name := w.Name(a.Inputs[0])
	switch n := len(a.Inputs) - 1; {
	case n == 1:
		name += ", " + w.Name(a.Inputs[1])
	case n > 1:
		name += fmt.Sprintf(" and %d more", n)
	}
	return name
}

// Scale are the values of an axis in the unit in which it is shown, at some of its
// steps, with their unit and decimals; no values where its steps have names.
func (w Words) Scale(a *check.Axis, at []int) (values []float64, name string, digits int) {
	q := a.Inputs[0].Quantity
	u := unit.Percent
	switch {
	case a.Relative:
		name = "% of given"
	case q.Type != decl.Number:
		return nil, "", 0
	default:
		u, name = q.Unit, w.Unit(q)
	}
	for _, i := range at {
		values = append(values, u.FromBase(a.Values[i]))
	}
	return values, name, Decimals(values)
}

// Steps writes values of an axis at some of its steps, and their unit.
func (w Words) Steps(a *check.Axis, at []int) (cells []string, name string) {
	values, name, digits := w.Scale(a, at)
	if values == nil {
		for _, i := range at {
			cells = append(cells, a.Written(i))
		}
		return cells, name
	}
	for _, v := range values {
		cells = append(cells, unit.Format(v, digits))
	}
	return cells, name
}

// Decimals is how many decimals values of an axis share: as many as figures do, or up
// to two more where they are not rounded then.
func Decimals(values []float64) int {
	least := unit.DecimalsFor(values)
	for d := least; d <= least+2; d++ {
		scale := math.Pow(10, float64(d))
		exact := true
		for _, v := range values {
			exact = exact && math.Abs(math.Round(v*scale)-v*scale) <= 1e-9*math.Abs(v*scale)
		}
		if exact {
			return d
		}
	}
	return least
}

// between writes a value that lies between steps of an axis.
func (w Words) between(a *check.Axis, v float64) string {
	if a.Relative {
		return unit.Percent.Show(v, 1, "") + " of given"
	}
	return w.Exactly(a.Inputs[0].Quantity, v, 1)
}

// Thinned are places of n, equally far apart and most at most, and the last of them.
func Thinned(n, most int) []int {
	stride := 1
	if n > most {
		stride = (n - 2 + max(1, most-1)) / max(1, most-1)
	}
	var out []int
	for at := 0; at < n; at += stride {
		out = append(out, at)
	}
	if out[len(out)-1] != n-1 {
		out = append(out, n-1)
	}
	return out
}

// Every says which part of so many is shown: "Every 3rd of 90 values is shown".
func Every(shown []int, n int, what string) string {
	return fmt.Sprintf("Every %s of %s %s is shown", Ordinal(shown[1]-shown[0]), Count(n), what)
}

// Ordinal writes 2nd, 3rd, 4th.
func Ordinal(n int) string {
	ending := "th"
	if tens := n / 10 % 10; tens != 1 {
		switch n % 10 {
		case 1:
			ending = "st"
		case 2:
			ending = "nd"
		case 3:
			ending = "rd"
		}
	}
	return Count(n) + ending
}

// moreChanges says how many changes are not told.
func moreChanges(n int) string {
	if n == 1 {
		return "1 more change"
	}
	return Count(n) + " more changes"
}
