package recording

import (
	"errors"
	"strings"
	"unicode/utf8"

	"bankwright/engine/unit"
)

// cell is the text of a header's cell. What is not UTF-8 is read as ISO 8859-1, in
// which instruments write ° and µ.
func cell(s string) string {
	if !utf8.ValidString(s) {
		wide := make([]rune, len(s))
		for i := range len(s) {
			wide[i] = rune(s[i])
		}
		s = string(wide)
	}
	return strings.Join(strings.Fields(s), " ")
}

// split takes the unit off a header such as "Voltage (V)" or "I [mA]".
func split(header string) (name, symbol string) {
	for _, pair := range []string{"()", "[]"} {
		inner, ok := strings.CutSuffix(header, pair[1:])
		if i := strings.LastIndex(inner, pair[:1]); ok && i > 0 {
			return strings.TrimSpace(header[:i]), strings.TrimSpace(inner[i+1:])
		}
	}
	return header, ""
}

// find is where in a header a name stands. The nearest spelling wins: as it is,
// without the unit, without regard to upper and lower case, without both. Two cells that fit
// equally well are told.
func find(header []string, name string) (at []int) {
	name = cell(name)
	loose := func(s string) string { return strings.ToLower(strings.ReplaceAll(s, "_", " ")) }
	named := func(s string) string { n, _ := split(s); return n } // t [s] is not T [°C]
	bare := func(s string) string { return loose(named(s)) }
	for _, like := range []func(string) string{strings.TrimSpace, named, loose, bare} {
		for i, h := range header {
			if like(cell(h)) == like(name) {
				at = append(at, i)
			}
		}
		if len(at) > 0 {
			return at
		}
	}
	return nil
}

// alike reports whether two rows are headed alike in a column, whatever its unit.
func alike(a, b []string, at int) bool {
	name := func(s string) string { n, _ := split(cell(s)); return strings.ToLower(n) }
	return at < len(a) && at < len(b) && name(a[at]) == name(b[at])
}

// headed is the unit that a header names where dimension d belongs: between brackets
// at its end, or else as its last word, such as Voltage_mV, U/V or Time in s, or as
// the whole of it. A last word that does not fit is part of the name, and so is one
// behind "of", as in hour of day, and a time longer than an hour behind other words: a
// test day is more likely a name than a unit. The symbol is empty where no unit is
// named.
func headed(header string, d unit.Dim) (u unit.Unit, symbol string, err error) {
	if _, symbol = split(header); symbol != "" {
		u, err = unitOf(symbol, d)
		return u, symbol, err
	}
	const between = "/_, "
	last := header[strings.LastIndexAny(header, between)+1:]
	before := strings.TrimRight(strings.TrimSuffix(header, last), between)
	if u, err = unitOf(last, d); err != nil || last == "" {
		return unit.Unit{}, "", nil
	}
	of := strings.EqualFold(before[strings.LastIndexAny(before, between)+1:], "of")
	if of || before != "" && d == unit.Hour && u.Mul > u.Div {
		return unit.Unit{}, "", nil
	}
	return u, last, nil
}

var (
	errUnit = errors.New("not a unit")
	errDim  = errors.New("another dimension")
)

// written is the unit that a file writes so. It is not ours, so that words for units
// are taken as well, such as sec or Volts.
func written(symbol string) (unit.Unit, bool) {
	u, err := unit.Parse(symbol)
	if err != nil {
		return unit.Word(symbol)
	}
	return u, true
}

// unitOf reads a unit from a header, as it is meant where dimension d belongs.
func unitOf(symbol string, d unit.Dim) (unit.Unit, error) {
	u, ok := written(symbol)
	if !ok {
		return unit.Unit{}, errUnit
	}
	u, ok = u.As(d)
	if !ok {
		return unit.Unit{}, errDim
	}
	return u, nil
}
