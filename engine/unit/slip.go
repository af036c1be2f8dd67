package unit

import (
	"maps"
	"slices"
	"strings"
	"unicode"

	"bankwright/engine/diag"
)

// slips are words and signs that people write for units, in lower case and
// without spaces, hyphens and final stops.
var slips = map[string]string{
	"hour": "h", "hours": "h", "hr": "h", "hrs": "h",
	"minute": "min", "minutes": "min", "mins": "min",
	"second": "s", "seconds": "s", "sec": "s", "secs": "s", "millisecond": "ms", "milliseconds": "ms",
	"d": "day", "daily": "day", "wk": "week", "wks": "week", "mo": "month", "mth": "month",
	"mths": "month", "y": "year", "yr": "year", "yrs": "year", "annum": "year", "pa": "year",
	"volt": "V", "volts": "V", "vdc": "V", "vac": "V", "millivolt": "mV", "millivolts": "mV",
	"amp": "A", "amps": "A", "ampere": "A", "amperes": "A", "milliamp": "mA", "milliamps": "mA",
	"amphour": "Ah", "amphours": "Ah", "amperehour": "Ah", "amperehours": "Ah", "amphr": "Ah",
	"milliamphours": "mAh",
	"watt":          "W", "watts": "W", "wp": "W", "kilowatt": "kW", "kilowatts": "kW", "kwp": "kW",
	"megawatt": "MW", "megawatts": "MW", "watthour": "Wh", "watthours": "Wh", "whr": "Wh",
	"kilowatthour": "kWh", "kilowatthours": "kWh", "kwhr": "kWh", "kwhrs": "kWh",
	"ohms": "ohm", "milliohm": "mohm", "milliohms": "mohm", "mohms": "mohm",
	"microohm": "µohm", "microohms": "µohm",
	"meter": "m", "meters": "m", "metre": "m", "metres": "m",
	"millimeter": "mm", "millimeters": "mm", "millimetre": "mm", "millimetres": "mm",
	"centimeter": "cm", "centimeters": "cm", "centimetre": "cm", "centimetres": "cm",
	"kilometer": "km", "kilometers": "km", "kilometre": "km", "kilometres": "km",
	"foot": "ft", "feet": "ft", "'": "ft", "′": "ft",
	"inch": "in", "inches": "in", `"`: "in", "″": "in", "''": "in",
	"sqm": "m²", "squaremeters": "m²", "squaremetres": "m²", "sqmm": "mm²", "sqft": "ft²",
	"squarefeet": "ft²", "cubicmeters": "m³", "cubicmetres": "m³", "cbm": "m³",
	"liter": "L", "liters": "L", "litre": "L", "litres": "L",
	"gram": "g", "grams": "g", "gramme": "g", "grammes": "g",
	"kilo": "kg", "kilos": "kg", "kgs": "kg", "kilogram": "kg", "kilograms": "kg",
	"pound": "lb", "pounds": "lb", "lbs": "lb",
	"c": "°C", "celsius": "°C", "centigrade": "°C", "degrees": "°C", "degreescelsius": "°C", "°": "°C",
	"f": "°F", "fahrenheit": "°F", "degreesfahrenheit": "°F", "kelvin": "K", "kelvins": "K", "°k": "K",
	"percent": "%", "pct": "%",
	"€": "EUR", "euro": "EUR", "euros": "EUR", "£": "GBP", "dollar": "USD", "dollars": "USD", "$": "USD", "us$": "USD",
}

// plainNames are the spellings of units that a mend may propose, unitNames
// those of units and currencies.
var (
	plainNames = slices.Sorted(maps.Keys(unitTable))
	unitNames  = append(slices.Clone(plainNames), Currencies()...)
	slipWords  = slices.Sorted(maps.Keys(slips))
)

// known is the right spelling of what is a unit, or plainly meant as one.
func known(name string) string {
	if u, ok := lookUp(name); ok {
		return u.Name
	}
	if s := slip(name); s != "" {
		return s
	}
	if s := diag.Nearest(name, unitNames); strings.EqualFold(s, name) {
		u, _ := lookUp(s) // letters of the wrong case
		return u.Name
	}
	return ""
}

// slip is the unit that a word or a sign among the slips stands for, or "".
func slip(name string) string {
	folded := strings.ToLower(lookalikes.Replace(name))
	return slips[strings.NewReplacer("-", "", " ", "").Replace(strings.TrimRight(folded, "."))]
}

// Word is the unit that a word or an abbreviation plainly means which is no symbol,
// such as "sec" or "Volts". A single small letter means none.
func Word(name string) (Unit, bool) {
	if len(name) == 1 && strings.ToUpper(name) != name {
		return Unit{}, false
	}
	u, err := Parse(slip(name))
	return u, err == nil
}

// near is the unit that a name is most likely to mean, or "".
func near(name string) string {
	if s := known(name); s != "" {
		return s
	}
	candidates := plainNames
	if len(name) == 3 && strings.ToUpper(name) == name {
		candidates = unitNames // may be a currency
	}
	found := diag.Nearest(name, candidates)
	if found == "" && len(name) > 4 { // a misspelt word, such as "percnt"
		found = slips[diag.Nearest(name, slipWords)]
	}
	u, _ := lookUp(found)
	return u.Name
}

// unknown is the error for a name that is no unit.
func (p *parser) unknown(name string, start int) *Error {
	if name == "" {
		return p.noName()
	}
	n := len([]rune(name))
	text := "there is no unit " + quote(name)
	p.space()
	if end := p.nameEnd(); end > p.at { // "deg C", "per cent"
		if fix := known(name + string(p.in[p.at:end])); fix != "" {
			return p.fail(start, end-start, "there is no unit "+quote(string(p.in[start:end])), fix)
		}
	}
	if latin, say := diag.Latin(name); say != "" {
		if _, ok := lookUp(latin); ok {
			e := p.failMend(start, n, text+": "+strings.ToLower(say[:1])+say[1:], "Write "+quote(latin)+".")
			e.Name = name
			return e
		}
	}
	if fix := near(name); fix != "" {
		e := p.fail(start, n, text, fix)
		e.Name = name
		return e
	}
	e := p.failMend(start, n, text,
		`Units are written like "V", "Ah", "kWh", "kg", "mm²", "°C", "%", "ohm/km" or "USD/kWh".`)
	e.Vague, e.Name = true, name
	return e
}

// letters are abbreviations that mean a unit only where it is known what is measured:
// the year as "a", from annus (NIST SP 811, 8.1).
var letters = map[string]string{"a": "year", "m": "month", "w": "week"}

// Meant is the unit of dimension d that a name which is none most likely means, or "".
func Meant(name string, d Dim) string {
	for _, s := range []string{slip(name), letters[name], diag.Nearest(name, Spellings(d))} {
		if u, ok := lookUp(s); ok && u.Dim == d {
			return u.Name
		}
	}
	return ""
}

// noName is the error for a place where a unit should begin and does not.
func (p *parser) noName() *Error {
	switch {
	case p.at == len(p.in):
		return p.failMend(0, len(p.in), "a unit is missing at the end", "Name the unit, or leave the sign before it out.")
	case p.in[p.at] == '/' && p.parts == 0:
		return p.fail(p.at, 1, "a unit is missing before the /", "1/")
	case p.in[p.at] == '(' || p.in[p.at] == ')':
		return p.failMend(p.at, 1, "a unit has no parentheses",
			`Write each part that divides behind a / of its own, such as "USD/kWh/year".`)
	case isDigit(p.in[p.at]):
		return p.failMend(p.at, 1, "a number stands where a unit belongs",
			`Write the unit alone, such as "kWh"; a power goes behind its unit, such as "m²".`)
	}
	return p.failMend(p.at, 1, "a unit is missing before "+quote(string(p.in[p.at])), "Name the unit, or leave the sign out.")
}

// joined is the error for two units side by side without a sign between.
func (p *parser) joined() *Error {
	start := p.at // back to the beginning of the part before
	for start > 0 && unicode.IsSpace(p.in[start-1]) {
		start--
	}
	gap := start
	for start > 0 && p.in[start-1] != '/' && !isProduct(p.in[start-1]) && !unicode.IsSpace(p.in[start-1]) {
		start--
	}
	end := p.nameEnd()
	first, second := string(p.in[start:gap]), string(p.in[p.at:end])
	text := quote(string(p.in[start:])) + " is not one unit"
	if end == p.at { // a digit, a parenthesis, a sign
		if isDigit(p.in[p.at]) || p.in[p.at] == '(' || p.in[p.at] == ')' {
			return p.noName()
		}
		return p.failMend(p.at, 1, quote(string(p.in[p.at]))+" does not belong in a unit", `Write a power as in "m²", "m2" or "m^2".`)
	}
	if s := known(first + second); s != "" {
		return p.fail(start, end-start, text, s)
	}
	if a := known(first); a != "" && a == known(second) {
		return p.fail(start, end-start, quote(second)+" is written twice", a)
	}
	if strings.EqualFold(second, "per") || second == "a" {
		for end < len(p.in) && unicode.IsSpace(p.in[end]) {
			end++
		}
		return p.fail(gap, end-gap, text, "/")
	}
	return p.fail(gap, p.at-gap, text, "·")
}
