package unit

import (
	"strconv"
	"strings"
)

// composed are the units that stand for products of base units, in the order
// in which they are preferred.
var composed = []struct {
	symbol string
	dim    Dim
}{
	{"", None},
	{"Wh", Dim{exp: [bases]int8{volt: 1, ampere: 1, hour: 1}}},
	{"W", Dim{exp: [bases]int8{volt: 1, ampere: 1}}},
	{"Ah", Dim{exp: [bases]int8{ampere: 1, hour: 1}}},
	{"ohm", Dim{exp: [bases]int8{volt: 1, ampere: -1}}},
}

// baseSymbols are written in this order.
var baseSymbols = []struct {
	place  int
	symbol string
}{{money, "money"}, {kilogram, "kg"}, {volt, "V"}, {ampere, "A"}, {metre, "m"}, {kelvin, "K"}, {hour, "h"}}

// phrases name the dimensions that have a name, by their symbol.
var phrases = map[string]string{
	"V":           "a voltage",
	"A":           "a current",
	"h":           "a time",
	"m":           "a length",
	"kg":          "a mass",
	"K":           "a temperature difference",
	"°C":          "a temperature",
	"Ah":          "a charge",
	"W":           "a power",
	"Wh":          "an energy",
	"ohm":         "a resistance",
	"1/ohm":       "a conductance",
	"ohm/m":       "a resistance per length",
	"ohm·m":       "a resistivity",
	"m²":          "an area",
	"m³":          "a volume",
	"kg/m²":       "a mass per area",
	"kg/m³":       "a density",
	"A/m²":        "a current density",
	"W/m²":        "a power per area",
	"Wh/m²":       "an energy per area",
	"Wh/m³":       "an energy per volume",
	"Wh/kg":       "an energy per mass",
	"W/K":         "a heat loss",
	"m/h":         "a speed",
	"1/h":         "a rate",
	"money/Wh":    "a price of energy",
	"money/Ah":    "a price per charge",
	"money/W":     "a price per power",
	"money/h":     "a cost per time",
	"money/m":     "a price per length",
	"money/m²":    "a price per area",
	"money/m³":    "a price per volume",
	"money/kg":    "a price per mass",
	"money/kg/h":  "a cost per mass and time",
	"money/Wh/h":  "a cost per energy and time",
	"money/m²/h":  "a cost per area and time",
	"money/Wh/m²": "a price of energy per area",
}

// Describe is a phrase for what a value of the dimension is, such as
// "a charge (Ah)", "money" or "a number without unit".
func (d Dim) Describe() string {
	switch d {
	case Any:
		return "any quantity"
	case None:
		return "a number without unit"
	case Money:
		return "money"
	}
	symbol := d.Symbol()
	if phrase, ok := phrases[symbol]; ok {
		return phrase + " (" + symbol + ")"
	}
	return "a quantity in " + symbol
}

// String is the symbol, or a word where there is none.
func (d Dim) String() string {
	switch d {
	case Any:
		return "any"
	case None:
		return "1"
	}
	return d.Symbol()
}

// Symbol is the unit in which values of the dimension are kept, with as few
// parts as possible: "Wh", "money/Wh". It is empty for None and Any.
func (d Dim) Symbol() string {
	if d.any {
		return ""
	}
	if d.point {
		return "°C"
	}
	best, fewest := "", 2*bases
	for _, over := range composed {
		for _, under := range composed {
			text, parts, ok := d.spell(over.symbol, over.dim, under.symbol, under.dim)
			if ok && parts < fewest {
				best, fewest = text, parts
			}
		}
	}
	return best
}

// spell writes d as over, under and what base units remain.
func (d Dim) spell(over string, overDim Dim, under string, underDim Dim) (text string, parts int, ok bool) {
	rest, ok1 := Div(d, overDim)
	rest, ok2 := Mul(rest, underDim)
	if !ok1 || !ok2 {
		return "", 0, false
	}
	var above, below []string
	if over != "" {
		above = append(above, over)
	}
	if under != "" {
		below = append(below, under)
	}
	for _, b := range baseSymbols {
		switch n := int(rest.exp[b.place]); {
		case n > 0:
			above = append(above, b.symbol+power(n))
		case n < 0:
			below = append(below, b.symbol+power(-n))
		}
	}
	parts = len(above) + len(below)
	if len(above) == 0 && len(below) > 0 {
		above = []string{"1"}
	}
	return strings.Join(append([]string{strings.Join(above, "·")}, below...), "/"), parts, true
}

// power is an exponent as units write it.
func power(n int) string {
	switch n {
	case 1:
		return ""
	case 2:
		return "²"
	case 3:
		return "³"
	}
	return "^" + strconv.Itoa(n)
}
