package formula

import (
	"errors"
	"fmt"
	"regexp"
	"strings"
	"unicode/utf8"

	"github.com/expr-lang/expr/file"

	"bankwright/engine/unit"
)

// howFormulasRead is the mend where nothing better is known.
const howFormulasRead = "Formulas use + - * / **, comparisons, and/or/not, ?:, ?? and functions, with one of these signs between two values."

var (
	tokenText  = regexp.MustCompile(`^unexpected token (\w+)(?:\((.*)\))?$`)
	eachDirect = regexp.MustCompile(`\b(min|max|mean|deviation)\(\s*([\w.]+)\s*,\s*[^)]*\.`)
	withUnit   = regexp.MustCompile(`(?:^|[^\w.])((?:\d+\.?\d*|\.\d+)(?:[eE][+-]?\d+)?\s*([^\s\d()+\-*<>=!?:&|,;#.'"\[\]{}]+\d?(?:/[^\s\d()+\-*<>=!?:&|,;#.'"\[\]{}/]+)*))`)
	fewArgs    = regexp.MustCompile(`^expected at least (\d+) arguments?$`)
	dangling   = regexp.MustCompile(`([-+*/%^<>=!?:&|,]+|\b(?:and|or|not))\s*$`)
)

// syntaxProblem rewords an error of expr's parser.
func syntaxProblem(src string, err error) *Problem {
	length := utf8.RuneCountInString(src)
	var e *file.Error
	if !errors.As(err, &e) {
		return &Problem{Span{0, length}, "the formula cannot be read", howFormulasRead}
	}
	at := Span{e.From, max(1, e.To-e.From)}
	if p := unitProblem(src, at); p != nil {
		return p
	}
	if f := eachDirect.FindStringSubmatch(src); f != nil {
		return &Problem{at, f[1] + " over items is written with map", fmt.Sprintf("Write %s(map(%s, ...)).", f[1], f[2])}
	}
	m := tokenText.FindStringSubmatch(e.Message)
	switch {
	case m != nil && m[1] == "EOF":
		text, mend := endsEarly(src)
		return &Problem{Span{max(0, length-1), 1}, text, mend}
	case m != nil && m[2] != "":
		return &Problem{at, m[2] + " is not expected here", tokenMend(m[2])}
	case strings.HasPrefix(e.Message, "unrecognized character"):
		sign := string([]rune(src)[min(at.Start, length-1)])
		return &Problem{at, "the sign " + sign + " has no meaning in a formula", "Leave it out; values with units are given outside formulas, by name."}
	case strings.HasPrefix(e.Message, "literal not terminated"):
		return &Problem{at, "a text is not closed", "Write the closing quote."}
	case strings.Contains(e.Message, "number syntax"), strings.Contains(e.Message, "literal"):
		return &Problem{at, "this number cannot be read", "Write it like 12, 0.5 or 2e3, with a sign before what follows."}
	case fewArgs.MatchString(e.Message):
		return &Problem{at, "the function is given too little", "Write what it works on between the brackets, such as sum(name) or count(items, .name > 0)."}
	}
	return &Problem{at, "the formula cannot be read here", howFormulasRead}
}

// unitProblem tells of a value with its unit at or just before a place.
func unitProblem(src string, at Span) *Problem {
	for _, m := range withUnit.FindAllStringSubmatchIndex(src, -1) {
		from, end := m[2], m[3]
		_, err := unit.Parse(src[m[4]:m[5]])
		if head, _, ratio := strings.Cut(src[m[4]:m[5]], "/"); err != nil && ratio { // 5 kg/count
			end = m[4] + len(head)
			_, err = unit.Parse(head)
		}
		span := Span{utf8.RuneCountInString(src[:from]), utf8.RuneCountInString(src[from:end])}
		if err != nil || at.Start < span.Start || at.Start > span.Start+span.Len {
			continue
		}
		value := src[from:end]
		return &Problem{span, value + " is a value with a unit, which a formula cannot hold", Naming(value)}
	}
	return nil
}

// Naming is the mend for a value with a unit that is written into a formula.
func Naming(value string) string {
	return "Give the value a name and write that here: a quantity, or [constant.NAME] with value = \"" + value + "\"."
}

// endsEarly says what is missing at the end of a formula.
func endsEarly(src string) (text, mend string) {
	src = strings.TrimSpace(src)
	open := strings.Count(src, "(") - strings.Count(src, ")")
	text, mend = "the formula ends too early: something is missing at its end", "Write what is missing, or leave out what waits for it."
	if sign := dangling.FindString(src); sign != "" {
		sign = strings.TrimSpace(sign)
		text = "the formula ends too early: nothing stands behind " + sign
		mend = "Write a name or a number behind " + sign + ", or leave it out."
	} else if strings.Count(src, "?") > strings.Count(src, ":")+2*strings.Count(src, "??") {
		text = "the formula ends too early: ? has no :"
		mend = "Write condition ? value : other value."
	} else if open > 0 {
		text = "the formula ends too early: a bracket is not closed"
		mend = "Write the closing )."
	}
	return text, mend
}

// tokenMend is the mend for a sign or word where none like it can stand.
func tokenMend(token string) string {
	switch token {
	case `"="`:
		return "Write == to compare; a formula does not assign."
	case `"."`:
		return "A name with a dot in front belongs inside sum, count, any, all or map."
	case `","`:
		return "Write decimals with a point."
	case `"%"`:
		return "Write shares as values with the unit %, outside formulas."
	case `")"`, `"]"`, `"}"`:
		return "Leave it out, or write what is missing before it."
	case `"then"`, `"else"`:
		return "Write condition ? value : other value."
	}
	return howFormulasRead
}
