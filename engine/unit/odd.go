package unit

import (
	"regexp"
	"strconv"
	"strings"
	"unicode"
)

// Numbers as people group and divide them; each is mended by a rewriting.
var (
	byCommas = regexp.MustCompile(`^\d{1,3}(,\d{3})+(\.\d*)?$`)                             // 1,000.5
	byPoints = regexp.MustCompile(`^\d{1,3}(\.\d{3})+,\d+$`)                                // 1.000,5
	byComma  = regexp.MustCompile(`^\d+,\d+$`)                                              // 3,5
	bySpaces = regexp.MustCompile(`^\d{1,3}([ _'’\x{a0}\x{202f}\x{2009}]\d{3})+([.]\d*)?$`) // 1 000
)

// oddNumber refuses a number, read from start to end, that goes on in a way
// that numbers here do not: with grouped digits, a decimal comma, a fraction,
// a range.
func oddNumber(in []rune, start, end int) *Error {
	if isReciprocal(in, end) {
		return nil
	}
	run := end // how far the digits and what people put between them go
	for i := end; i < len(in) && (isDigit(in[i]) || strings.ContainsRune(" ,._'’\u00a0\u202f\u2009", in[i])); i++ {
		if isDigit(in[i]) {
			run = i + 1
		}
	}
	if run > end {
		return grouped(in, start, run)
	}
	next := end
	for next < len(in) && unicode.IsSpace(in[next]) {
		next++
	}
	if next+1 >= len(in) {
		return nil
	}
	second := next + 1
	for second < len(in) && unicode.IsSpace(in[second]) {
		second++
	}
	after := skipDigits(in, second)
	if after == second {
		return nil
	}
	e := &Error{Offset: start, Len: after - start}
	written := quote(string(in[start:after]))
	switch {
	case in[next] == '/':
		e.Text = written + " is a fraction; numbers are written with a decimal point"
		above, err1 := strconv.ParseFloat(string(in[start:end]), 64)
		below, err2 := strconv.ParseFloat(string(in[second:after]), 64)
		if err1 != nil || err2 != nil || below == 0 {
			e.Mend = `Write the number with a decimal point, such as "0.5 in".`
			return e
		}
		e.fix = strconv.FormatFloat(above/below, 'g', 6, 64)
	case isMinus(in[next]) || in[next] == '–':
		e.Text = written + " is a range; one number belongs here"
		e.Mend = "Write one number."
	default:
		return nil
	}
	return e
}

// isReciprocal reports whether the unit 1/… begins behind a number: "5 1/day".
func isReciprocal(in []rune, at int) bool {
	rest := string(in[at:])
	unit, ok := strings.CutPrefix(strings.TrimLeft(rest, " "), "1/")
	return ok && rest[0] == ' ' && (unit == "" || !isDigit(rune(unit[0])))
}

// grouped is the error for a number with signs among its digits.
func grouped(in []rune, start, end int) *Error {
	text := string(in[start:end])
	e := &Error{Offset: start, Len: end - start}
	with := func(fix string) string { e.fix = fix; return quote(e.apply(string(in))) }
	switch {
	case byCommas.MatchString(text):
		e.Text = quote(text) + " is written with a comma; numbers have no thousands separators, and a point for decimals"
		plain := with(strings.ReplaceAll(text, ",", ""))
		e.Mend = "Write " + plain + "."
		if strings.Count(text, ",") == 1 && !strings.Contains(text, ".") {
			e.Mend = "Write " + plain + ", or " + with(strings.Replace(text, ",", ".", 1)) + " if the comma stands for a decimal point."
		}
	case byPoints.MatchString(text), byComma.MatchString(text):
		e.Text = quote(text) + " is written with a decimal comma; numbers have a decimal point"
		e.fix = strings.Replace(strings.ReplaceAll(text, ".", ""), ",", ".", 1)
	case bySpaces.MatchString(text):
		e.Text = quote(text) + " is grouped by thousands; numbers have no thousands separators"
		e.fix = strings.Map(func(r rune) rune {
			if isDigit(r) || r == '.' {
				return r
			}
			return -1
		}, text)
	default:
		e.Text = quote(text) + " is not one number"
		e.Mend = `Write one number and its unit, such as "1.5 in".`
	}
	return e
}
