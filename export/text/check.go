package text

import (
	"fmt"
	"io"
	"strings"

	"bankwright/engine"
	"bankwright/engine/check"
	"bankwright/engine/decl"
	"bankwright/engine/unit"
)

// Check writes what the checks find that is not met, the gravest first, then how many of
// each finding there are beside so many warnings of the files, and the cautions. Where the
// style asks for all, the finding of every check for every item stands in between.
func Check(w io.Writer, m *engine.Model, warnings int, st Style) {
	title(w, m, st)
	counts := map[string]int{}
	unmet := map[decl.Severity][]*found{}
	for _, k := range m.Kinds {
		outcomes := m.Outcomes(k)
		for _, o := range outcomes {
			counts[o.Word()]++
		}
		for sev, list := range unmetOf(k, outcomes) {
			unmet[sev] = append(unmet[sev], list...)
		}
	}
	for _, sev := range []decl.Severity{decl.Stop, decl.Unfit, decl.Caution} {
		writeFound(w, sev, unmet[sev], st)
	}
	if st.All {
		writeOutcomes(w, m, st)
	}
	fmt.Fprintln(w)
	if len(m.Model.Notices) > 0 {
		Cautions(w, m.Model.Notices, st)
		fmt.Fprintln(w)
	}
	sentence(w, st, "%s", tally(counts, warnings, st.All))
}

// unmetOf are the checks of a kind that are not met, by severity, in the order of the
// checks; what is said of several items is said once.
func unmetOf(k *check.Kind, outcomes []engine.Outcome) map[decl.Severity][]*found {
	out := map[decl.Severity][]*found{}
	byText := map[string]*found{}
	for _, o := range outcomes {
		if !o.Failed() {
			continue
		}
		f := byText[o.Check.Name+o.Text]
		if f == nil {
			f = &found{text: o.Check.Name + ": " + o.Text}
			byText[o.Check.Name+o.Text] = f
			out[o.Check.Severity] = append(out[o.Check.Severity], f)
		}
		f.items = append(f.items, engine.ItemAlias(k.Items[o.Item]))
		f.of = k
	}
	return out
}

// tally says how many warnings the files have and how many findings of each sort there
// are, the gravest first.
func tally(counts map[string]int, warnings int, all bool) string {
	part := func(n int, one, many string) string {
		if n == 1 {
			return "1 " + one
		}
		return unit.Format(float64(n), 0) + " " + many
	}
	var unmet []string
	for _, s := range [][3]string{{"stop", "stop", "stops"}, {"unfit", "unfit", "unfit"}, {"caution", "caution", "cautions"}} {
		if n := counts[s[0]]; n > 0 {
			unmet = append(unmet, part(n, s[1], s[2]))
		}
	}
	if len(unmet) == 0 {
		unmet = []string{"no check that is not met"}
	}
	s := part(warnings, "warning", "warnings") + "; " + strings.Join(unmet, ", ") + "; " +
		part(counts["pass"], "passed", "passed") + ", " + part(counts["not applicable"], "not applicable", "not applicable")
	if !all {
		s += " (see --all)"
	}
	return s + "."
}

// writeOutcomes writes the finding of every check for every item.
func writeOutcomes(w io.Writer, m *engine.Model, st Style) {
	indent := 18
	if st.Width < 60 {
		indent = 4
	}
	for _, k := range m.Kinds {
		outcomes := m.Outcomes(k)
		for item := range k.Items {
			first := true
			for _, o := range outcomes {
				if o.Item != item {
					continue
				}
				if first {
					fmt.Fprintln(w, "\n"+st.paint(bold, k.Name+" "+engine.ItemAlias(k.Items[item])))
					first = false
				}
				text := o.Text
				if text == "" {
					text = o.Check.Doc
				}
				word, code := finding(o)
				lead := padRight("  "+word, indent)
				fmt.Fprint(w, st.paint(code, lead))
				if width(lead) > indent { // a narrow terminal
					fmt.Fprint(w, "\n"+strings.Repeat(" ", indent))
				}
				fmt.Fprint(w, hang("", o.Check.Name+": "+text, indent, st.Width)[indent:])
			}
		}
	}
}

// finding is the word for an outcome and its colour.
func finding(o engine.Outcome) (word, code string) {
	switch {
	case !o.Applicable:
		code = dim
	case o.Passed:
		code = plain
	case o.Check.Severity == decl.Stop:
		code = red
	default:
		code = amber
	}
	return o.Word(), code
}
