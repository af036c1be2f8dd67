package text

import (
	"fmt"
	"io"
	"strings"

	"bankwright/engine"
	"bankwright/engine/decl"
)

// Check writes the finding of every check for every item, then how many of
// each there are, then the cautions.
func Check(w io.Writer, m *engine.Model, st Style) {
	title(w, m, st)
	counts := map[string]int{}
	for _, k := range m.Kinds {
		outcomes := m.Outcomes(k)
		for item := range k.Items {
			first := true
			for _, o := range outcomes {
				if o.Item != item {
					continue
				}
				word, code := finding(o)
				counts[word]++
				if first {
					fmt.Fprintln(w, "\n"+st.paint(bold, k.Name+" "+engine.ItemAlias(k.Items[item])))
					first = false
				}
				text := o.Text
				if text == "" {
					text = o.Check.Doc
				}
				line := hang(padRight("  "+word, 18), o.Check.Name+": "+text, 18, st.Width)
				fmt.Fprint(w, st.paint(code, line[:18])+line[18:])
			}
		}
	}
	tally := ""
	for _, word := range []string{"stop", "unfit", "caution", "pass", "not applicable"} {
		part := fmt.Sprintf("%s %d", word, counts[word])
		switch last := tally[strings.LastIndexByte(tally, '\n')+1:]; {
		case tally == "":
		case width(last)+3+width(part) <= st.Width:
			tally += "   "
		default:
			tally += "\n"
		}
		tally += part
	}
	fmt.Fprintf(w, "\n%s\n\n", tally)
	Cautions(w, m.Model.Notices, st)
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
