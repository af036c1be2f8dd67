package unit

import (
	"strings"
	"unicode"
)

// mostParts is how many units can be joined into one.
const mostParts = 8

// Parse reads a unit such as "kWh", "ft²", "ohm/km" or "USD/kWh". The error is
// an *Error.
//
// Units are joined by · (or *) and /, all products before the first /; every
// part behind a / divides. A power is written m², m2 or m^2.
func Parse(s string) (Unit, error) {
	u, err := parseUnit(s)
	if err != nil {
		return Unit{}, err.suggest(s, func(s string) *Error { _, err := parseUnit(s); return err })
	}
	return u, nil
}

// parser reads a unit from left to right.
type parser struct {
	in  []rune
	at  int
	out Unit

	name  strings.Builder
	parts int
	first Unit   // the first part, which stands for itself when it is alone
	money string // the currency met so far, "money" for the scenario's

	met func(u Unit, n int) // is told each part and its power; nil: nobody
}

func parseUnit(s string) (Unit, *Error) {
	return (&parser{in: []rune(s), out: One}).unit()
}

// unit reads all of it.
func (p *parser) unit() (Unit, *Error) {
	p.space()
	if p.at == len(p.in) {
		return Unit{}, &Error{Text: "no unit is written",
			Mend: `Name a unit such as "kg", or leave it out for a number without unit.`, Len: len(p.in)}
	}
	if err := p.part(1); err != nil {
		return Unit{}, err
	}
	divided := false
	for p.space(); p.at < len(p.in); p.space() {
		switch op := p.in[p.at]; {
		case op == '/':
			divided = true
			p.name.WriteRune('/')
		case !isProduct(op):
			return Unit{}, p.joined()
		case p.at+1 < len(p.in) && op == '*' && p.in[p.at+1] == '*':
			return Unit{}, p.fail(p.at, 2, "a power in a unit is written with ^", "^")
		case divided:
			return Unit{}, p.fail(p.at, 1, "it is not plain whether what follows the product sign multiplies or divides; products come before the first /", "/")
		default:
			p.name.WriteRune('·')
		}
		p.at++
		p.space()
		n := 1
		if divided {
			n = -1
		}
		if err := p.part(n); err != nil {
			return Unit{}, err
		}
	}
	return p.finish(), nil
}

// finish is the unit that was read.
func (p *parser) finish() Unit {
	if p.out.Name = p.name.String(); p.parts == 1 && p.first.Mul != 0 {
		p.out = p.first
	}
	if p.out.Name == "1" {
		return One
	}
	if p.money != "money" {
		p.out.Currency = p.money
	}
	return p.out
}

// part reads a name with its power and multiplies the result by it to the
// power sign.
func (p *parser) part(sign int) *Error {
	start := p.at
	p.at = p.nameEnd()
	name := string(p.in[start:p.at])
	if name == "" && p.at < len(p.in) && p.in[p.at] == '1' {
		p.at++
		name = "1"
	}
	u, ok := lookUp(name)
	if !ok {
		return p.unknown(name, start)
	}
	n, err := p.power()
	if err != nil {
		return err
	}
	if err := p.currency(u, name, start); err != nil {
		return err
	}
	if p.met != nil {
		p.met(u, sign*n)
	}
	next, ok := p.out.compound(u, sign*n)
	if p.parts++; !ok || p.parts > mostParts {
		return p.failMend(0, len(p.in), "the unit is too long",
			"Join at most 8 units with small powers.")
	}
	p.out = next
	if p.parts == 1 && n == 1 {
		p.first = u
	}
	p.name.WriteString(u.Name + power(n))
	return nil
}

// nameEnd is where the name at p.at ends.
func (p *parser) nameEnd() int {
	i := p.at
	for ; i < len(p.in); i++ {
		r := p.in[i]
		if r == '/' || isProduct(r) || r == '^' || r == '(' || r == ')' || unicode.IsSpace(r) || isDigit(r) {
			break
		}
		if n, _ := superscript(r); n >= 0 || r == '⁻' {
			break
		}
	}
	return i
}

// power reads an exponent from -9 to 9, which is 1 where none is written.
func (p *parser) power() (int, *Error) {
	start, sign, n, digits := p.at, 1, 0, 0
	if p.at < len(p.in) && p.in[p.at] == '^' {
		p.at++
	}
	if p.at < len(p.in) && (p.in[p.at] == '⁻' || p.at > start && isMinus(p.in[p.at])) {
		sign = -1
		p.at++
	}
	for ; p.at < len(p.in); p.at++ {
		r := p.in[p.at]
		d, super := superscript(r)
		if isDigit(r) {
			d, super = int(r-'0'), true
		}
		if !super {
			break
		}
		if digits++; digits < 4 {
			n = 10*n + d
		}
	}
	if p.at == start {
		return 1, nil
	}
	if n == 0 || n > 9 {
		return 0, p.failMend(start, p.at-start, "the power of a unit is a whole number from 1 to 9",
			`Write the power as in "m²", "m2" or "m^2".`)
	}
	return sign * n, nil
}

// currency notes the currency of a part and refuses a second one.
func (p *parser) currency(u Unit, name string, start int) *Error {
	if !u.Dim.HasMoney() {
		return nil
	}
	code := u.Currency
	if code == "" {
		code = "money"
	}
	if p.money != "" && p.money != code {
		return p.failMend(start, len([]rune(name)), "one unit holds two currencies, "+p.money+" and "+code,
			"Write one currency; amounts in another must be converted first.")
	}
	p.money = code
	return nil
}

func (p *parser) space() {
	for p.at < len(p.in) && unicode.IsSpace(p.in[p.at]) {
		p.at++
	}
}

// fail is an error that a replacement mends; failMend one that a sentence does.
func (p *parser) fail(at, n int, text, fix string) *Error {
	return &Error{Text: text, Offset: at, Len: n, fix: fix}
}

func (p *parser) failMend(at, n int, text, mend string) *Error {
	return &Error{Text: text, Offset: at, Len: n, Mend: mend}
}

// lookUp finds a unit or a currency by its spelling, signs that look alike
// being the same.
func lookUp(name string) (Unit, bool) {
	name = lookalikes.Replace(name)
	if u, ok := unitTable[name]; ok {
		return u, true
	}
	if currencies[name] {
		return Unit{Name: name, Dim: Money, Mul: 1, Div: 1, Currency: name}, true
	}
	if rest, ok := strings.CutPrefix(name, "u"); ok {
		u, ok := unitTable["µ"+rest]
		return u, ok
	}
	return Unit{}, false
}

var lookalikes = strings.NewReplacer("μ", "µ", "\u2126", "Ω", "º", "°", "˚", "°", "℃", "°C", "℉", "°F")

func isProduct(r rune) bool { return strings.ContainsRune("*·⋅∙×", r) }
func isDigit(r rune) bool   { return r >= '0' && r <= '9' }
func isMinus(r rune) bool   { return r == '-' || r == '−' }

// superscript is the value of a raised digit, or -1.
func superscript(r rune) (int, bool) {
	for i, s := range []rune("⁰¹²³⁴⁵⁶⁷⁸⁹") {
		if r == s {
			return i, true
		}
	}
	return -1, false
}
