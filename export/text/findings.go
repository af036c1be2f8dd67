package text

import (
	"fmt"
	"io"
	"strings"

	"bankwright/engine"
	"bankwright/engine/check"
	"bankwright/engine/decl"
)

// found is a sentence and the items that it is true of.
type found struct {
	items []string
	of    *check.Kind // nil: all their names are said
	text  string
}

// who names the items, or says that it is all of them.
func (f found) who() string {
	if n := len(f.items); f.of != nil && n > fewItems && n == len(f.of.Items) {
		return fmt.Sprintf("all %d %s", n, f.of.Plural)
	}
	return strings.Join(f.items, ", ")
}

// fewItems is how many items are named even where they are all.
const fewItems = 2

// writeFindings lists those of the checks that are not met which are wanted, the gravest
// first, what is said of several items said once.
func writeFindings(w io.Writer, c *engine.Comparison, want func(engine.Outcome) bool, st Style) {
	for _, sev := range []decl.Severity{decl.Stop, decl.Unfit, decl.Caution} {
		writeFound(w, sev, findings(c, sev, want), st)
	}
}

// writeFound lists findings of one severity, with an empty line above them.
func writeFound(w io.Writer, sev decl.Severity, list []*found, st Style) {
	code := map[decl.Severity]string{decl.Stop: red, decl.Unfit: amber, decl.Caution: plain}[sev]
	if len(list) > 0 {
		fmt.Fprintln(w)
	}
	for _, f := range list {
		word := padRight(sev.String(), 9)
		line := hang(word, f.who()+": "+f.text, 9, st.Width)
		fmt.Fprint(w, st.paint(code, word)+line[len(word):])
	}
}

// writeUnjudged names the checks that would forbid an item and could not be
// judged, by what is not given: what nobody has looked at has not passed.
func writeUnjudged(w io.Writer, m *engine.Model, c *engine.Comparison, st Style) {
	var parts []string
	for _, u := range m.Unjudged(c) {
		parts = append(parts, u.Missing+" ("+strings.Join(u.Checks, ", ")+")")
	}
	if len(parts) > 0 {
		text := "Checks for a " + decl.Stop.String() + " that wait for an input which nobody has given: " + strings.Join(parts, ", ") + "."
		fmt.Fprint(w, "\n"+hang(padRight("open", 9), text, 9, st.Width))
	}
}

// findings are the unmet checks of a severity that are wanted, in ranked order of the
// items.
func findings(c *engine.Comparison, sev decl.Severity, want func(engine.Outcome) bool) []*found {
	var list []*found
	byText := map[string]*found{}
	for _, s := range c.Ranked {
		for _, o := range c.Of(s.Item) {
			if !o.Failed() || o.Check.Severity != sev || !want(o) {
				continue
			}
			f := byText[o.Text]
			if f == nil {
				f = &found{text: o.Text, of: c.Kind}
				byText[o.Text] = f
				list = append(list, f)
			}
			f.items = append(f.items, engine.ItemAlias(c.Kind.Items[o.Item]))
		}
	}
	return list
}
