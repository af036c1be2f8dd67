package decl

import (
	"errors"
	"regexp"
	"strings"

	"bankwright/engine/unit"
)

// unreadable reports a number with its unit that cannot be read. What is proposed suits
// the quantity, whose unit is u; what the rules say of a spelling, or a product of
// quantities, may explain it better once all values are known.
func (l *loader) unreadable(n *node, err error, u unit.Unit, name string, scenario bool) {
	at, text, mend := unitFault(n, err)
	var e *unit.Error
	if !errors.As(err, &e) {
		l.diags.Errorf(at, "unit", mend, "%s", text)
		return
	}
	if formula := l.formulaMeant(n.text); formula != "" && scenario {
		l.diags.Errorf(n.at, "unit", "Begin a formula with =: \""+formula+"\".", "`%s` takes a number, and this is a formula without its =", name)
		return
	}
	s := slip{n: n, given: n, place: len(*l.diags), word: e.Name}
	if x, _, err := unit.ParseValue(strings.TrimSuffix(strings.TrimSpace(n.text), e.Name)); e.Name != "" && err == nil {
		s.number = x
	} else {
		s.word = ""
	}
	mend = l.suited(n, &s, e, u, name, scenario)
	l.diags.Errorf(at, "unit", mend, "%s", text)
	if s.word != "" || s.dim != unit.None {
		l.slips = append(l.slips, s)
	}
}

// suited is a mend that proposes no unit that measures something else. Where what was
// written is plain and does so, it tells of that, and the slip is told its value.
func (l *loader) suited(n *node, s *slip, e *unit.Error, u unit.Unit, name string, scenario bool) string {
	if u.Dim.IsAny() {
		return e.Mend
	}
	if angle := unit.Angle(n.text); angle != "" && u.Name == "deg" {
		return "Write \"" + angle + "\"."
	}
	x, v, err := unit.ParseValue(e.Mended)
	plain := e.Mended != "" && err == nil
	if _, fits := v.As(u.Dim); plain && (fits || v.Name == "") {
		return e.Mend
	}
	if s.word != "" {
		if spelling := unit.Meant(s.word, u.Dim); spelling != "" {
			return "Write \"" + Figure(s.number) + " " + spelling + "\"."
		}
		if bare(u) {
			return "Write " + Figure(s.number) + ", without a unit."
		}
	}
	if plain && len([]rune(s.word)) != 1 { // a letter alone may mean anything
		meant := *n
		meant.text = e.Mended
		s.n, s.base, s.dim = &meant, v.ToBase(x), v.Dim
		return l.misfitMend(&meant, u, v, name, scenario)
	}
	if (e.Vague || plain) && !bare(u) {
		return "Write a number and its unit, such as \"5 " + l.unitName(u, scenario) + "\"."
	}
	return e.Mend
}

// named is a name in a formula, also one behind points.
var named = regexp.MustCompile(`[a-z][a-z0-9_]*(?:\.[a-z][a-z0-9_]*)*`)

// formulaMeant is a text as the formula that it was meant to be, "" where it names no
// quantity or has no sign of an operation and is no name alone.
func (l *loader) formulaMeant(text string) string {
	text = strings.TrimSpace(text)
	names := named.FindAllString(text, -1)
	if len(text) > 1000 || len(names) == 0 || names[0] != text && !strings.ContainsAny(text, "*+/-()") {
		return ""
	}
	for _, name := range names {
		last := name[strings.LastIndexByte(name, '.')+1:]
		for _, of := range l.byName {
			if len(last) > 2 && of[last] != nil {
				return "= " + text
			}
		}
	}
	return ""
}
