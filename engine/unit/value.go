package unit

import (
	"math"
	"strconv"
	"strings"
	"unicode"
)

// ParseValue reads a number with its unit, such as "80 lb", "0.31 USD/kWh",
// "80%", "-5 °C" or "12", and gives the number as written (not in base units).
// A number without unit has the unit One. The error is an *Error.
func ParseValue(s string) (v float64, u Unit, err error) {
	v, u, e := parseValue(s)
	if e != nil {
		return 0, Unit{}, e.suggest(s, func(s string) *Error { _, _, e := parseValue(s); return e })
	}
	return v, u, nil
}

// Fixed is a value as ParseValue reads it: the text itself, or mended where what is
// meant is plain ("5 KG" is "5 kg"); "" where it is not.
func Fixed(s string) string {
	read := func(s string) *Error { _, _, e := parseValue(s); return e }
	e := read(s)
	if e == nil {
		return s
	}
	return e.whole(s, read)
}

func parseValue(s string) (float64, Unit, *Error) {
	in := []rune(s)
	start := 0
	for start < len(in) && unicode.IsSpace(in[start]) {
		start++
	}
	v, at, err := number(in, start)
	if err != nil {
		return 0, Unit{}, err
	}
	u, err := unitBehind(in, at)
	if err != nil {
		return 0, Unit{}, err
	}
	if math.IsInf(u.ToBase(v), 0) {
		return 0, Unit{}, tooLarge(start, at)
	}
	return v, u, nil
}

func tooLarge(start, end int) *Error {
	return &Error{Text: "the number is too large", Offset: start, Len: end - start,
		Mend: "Write a smaller number; nothing real is above 1e300."}
}

// unitBehind reads the unit that follows a number; "/h" behind a number is 1/h.
func unitBehind(in []rune, at int) (Unit, *Error) {
	for at < len(in) && unicode.IsSpace(in[at]) {
		at++
	}
	if at == len(in) {
		return One, nil
	}
	text, shift := string(in[at:]), at
	if in[at] == '/' {
		text, shift = "1"+text, at-1
	}
	u, err := parseUnit(text)
	if err != nil {
		err.Offset = max(err.Offset+shift, at)
		err.Len = min(err.Len, len(in)-err.Offset)
	}
	return u, err
}

// number reads a number that begins at start and tells where it ends.
func number(in []rune, start int) (v float64, end int, err *Error) {
	i := start
	negative := false
	if i < len(in) && (isMinus(in[i]) || in[i] == '+') {
		negative = in[i] != '+'
		i++
	}
	digits := i
	i = skipDigits(in, i)
	whole := i - digits
	if i < len(in) && in[i] == '.' {
		i = skipDigits(in, i+1)
	}
	if whole == 0 && i <= digits+1 {
		return 0, 0, noNumber(in, start)
	}
	if j := i; j < len(in) && (in[j] == 'e' || in[j] == 'E') {
		if j++; j < len(in) && (isMinus(in[j]) || in[j] == '+') {
			j++
		}
		if k := skipDigits(in, j); k > j {
			i = k
		}
	}
	if err := oddNumber(in, digits, i); err != nil {
		return 0, 0, err
	}
	text := strings.ReplaceAll(string(in[digits:i]), "−", "-")
	v, bad := strconv.ParseFloat(text, 64)
	if bad != nil || math.IsInf(v, 0) {
		return 0, 0, tooLarge(start, i)
	}
	if negative && v != 0 {
		v = -v
	}
	return v, i, nil
}

func skipDigits(in []rune, i int) int {
	for i < len(in) && isDigit(in[i]) {
		i++
	}
	return i
}

// noNumber is the error for a text that does not begin with a number.
func noNumber(in []rune, start int) *Error {
	text := strings.TrimSpace(string(in[start:]))
	e := &Error{Offset: start, Len: len([]rune(text)), Text: quote(text) + " does not begin with a number"}
	plain := strings.ToLower(strings.TrimLeft(text, "+-−"))
	e.Mend, e.Vague = `Write a number and its unit, such as "5 kg".`, true
	switch {
	case text == "":
		e.Text, e.Offset, e.Len = "nothing is written", 0, len(in)
		return e
	case plain == "inf" || plain == "infinity" || plain == "nan" || plain == "∞":
		e.Text = quote(text) + " is not a number that can be reckoned with"
		e.Mend, e.Vague = "Write an ordinary number.", false
		return e
	}
	if strings.ContainsFunc(text, isDigit) {
		if fix := unitInFront(text); fix != "" {
			e.Text, e.Mend, e.fix, e.Vague = "the unit stands before the number", "", fix, false
		}
		return e
	}
	if u := known(text); u != "" {
		e.Text = "the number is missing before " + quote(text)
		e.Mend, e.Vague = "Write a number before the unit, such as "+quote("5 "+u)+".", false
	}
	return e
}

// unitInFront puts the unit of "USD 5", "-€5" or "USD 5/kWh" behind its number;
// it is "" where the text is something else.
func unitInFront(text string) string {
	first := strings.IndexFunc(text, isDigit)
	name := strings.TrimSpace(text[:first])
	sign := ""
	if bare := strings.TrimSpace(strings.Trim(name, "-−")); bare != name {
		name, sign = bare, "-"
	}
	u := known(name)
	if name == "" || u == "" {
		return ""
	}
	last := strings.LastIndexFunc(text, isDigit)
	if slash := strings.Index(text, "/"); slash > first {
		last = strings.LastIndexFunc(text[:slash], isDigit)
	}
	return sign + text[first:last+1] + " " + u + strings.TrimSpace(text[last+1:])
}
