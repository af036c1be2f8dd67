package text

import (
	"bytes"
	"fmt"
	"io"
	"slices"
	"strings"

	"bankwright/engine"
	"bankwright/engine/check"
	"bankwright/engine/diag"
	"bankwright/engine/eval"
)

// section is a part of what Compare writes. It is given the items that are shown in
// full, and all.
type section struct {
	name  string
	write func(w io.Writer, m *engine.Model, c, every *engine.Comparison, st Style)
}

// sections are all parts, in their order.
var sections = []section{
	{"figures", func(w io.Writer, m *engine.Model, c, _ *engine.Comparison, st Style) {
		writeBlocks(w, c, rows(m, c), st)
	}},
	{"verdict", writeVerdict},
	{"checks", writeChecks},
	{"others", func(w io.Writer, m *engine.Model, c, every *engine.Comparison, st Style) {
		if len(c.Ranked) < len(every.Ranked) {
			writeFrontier(w, every, st)
			writeRest(w, m, every, st)
		}
	}},
	{"open", func(w io.Writer, m *engine.Model, c, _ *engine.Comparison, st Style) { writeUnjudged(w, m, c, st) }},
	{"questions", func(w io.Writer, m *engine.Model, c, _ *engine.Comparison, st Style) { writeAnswers(w, m, c, st) }},
	{"cautions", func(w io.Writer, m *engine.Model, _, _ *engine.Comparison, st Style) { writeNotices(w, m, st) }},
}

func writeVerdict(w io.Writer, m *engine.Model, c, every *engine.Comparison, st Style) {
	sentences(w, st, Verdict(m, c), toName(c), Margins(m, every, "It"))
}

// toName says what to write where there is nothing to compare, else nothing.
func toName(c *engine.Comparison) string {
	if len(c.Kind.Items) > 0 {
		return ""
	}
	var needed []string
	for _, q := range c.Kind.Quantities {
		if summary(q) == "required" {
			needed = append(needed, q.Name+" = …")
		}
	}
	with := ""
	if len(needed) > 0 {
		with = " with " + strings.Join(needed, ", ")
	}
	return fmt.Sprintf("Name at least one: [%s.NAME]%s. bankwright new writes a scenario to begin with.", c.Kind.Name, with)
}

func writeChecks(w io.Writer, _ *engine.Model, c, _ *engine.Comparison, st Style) {
	var b bytes.Buffer
	writeFindings(&b, c, engine.Outcome.Failed, st)
	if b.Len() == 0 && st.Only != nil {
		sentence(&b, st, "All checks that apply are met.")
	}
	w.Write(b.Bytes())
}

// writeSection writes a section with an empty line above it; nothing of an empty one.
func writeSection(w io.Writer, write func(io.Writer)) {
	var b bytes.Buffer
	write(&b)
	if text := strings.Trim(b.String(), "\n"); text != "" {
		fmt.Fprintf(w, "\n%s\n", text)
	}
}

// Parts are the names of the parts of what Compare writes.
func Parts() (out []string) {
	for _, s := range sections {
		out = append(out, s.name)
	}
	return out
}

// Sections are the names of what Compare can write alone: its own parts, and sections
// of the compared kind's quantities.
func Sections(k *check.Kind) []string {
	out := Parts()
	for _, q := range k.Quantities {
		if q.Section != "" && !slices.Contains(out, q.Section) {
			out = append(out, q.Section)
		}
	}
	return out
}

// Section finds a section by its name, in large or small letters. The error says what
// there is.
func Section(k *check.Kind, name string) (string, error) {
	all := Sections(k)
	i := slices.IndexFunc(all, func(s string) bool { return strings.EqualFold(s, name) })
	if i >= 0 {
		return all[i], nil
	}
	if near := diag.Nearest(name, all); near != "" {
		return "", fmt.Errorf("there is no section %q; did you mean %q?", name, near)
	}
	return "", fmt.Errorf("there is no section %q; there are %s. --only may be repeated, or names several with commas between them", name, strings.Join(all, ", "))
}

// mostCell is how wide a cell of the table of a section is at most.
const mostCell = 16

// writeQuantities writes the quantities of a section side by side; of a series, and of
// what is told in words, it says how to see it.
func writeQuantities(w io.Writer, m *engine.Model, c *engine.Comparison, section string, st Style) {
	list := []row{heads(c)}
	var apart, empty []string
	why := ""
	for _, q := range c.Kind.Quantities {
		switch {
		case q.Section != section || m.IsCheck(q) || q.Type.Tabular() || len(c.Ranked) == 0:
		case len(q.Axes) > 0:
			apart = append(apart, q.Name)
		default:
			r := figures(m, c, q)
			if !slices.ContainsFunc(r.cells, func(s string) bool { return s != "-" }) {
				if empty = append(empty, q.Label); why == "" {
					why = m.WhyMissing(eval.Cell{Quantity: q, Item: c.Ranked[0].Item})
				}
				continue
			}
			if widest(r.cells) > mostCell {
				apart = append(apart, q.Name)
				continue
			}
			list = append(list, r)
		}
	}
	fmt.Fprintln(w, st.paint(bold, section))
	if len(list) > 1 {
		writeBlocks(w, c, list, st)
	}
	if len(empty) > 0 {
		sentence(w, st, "Without a value, since %s: %s.", why, strings.Join(empty, "; "))
	}
	if len(apart) > 0 {
		example := c.Kind.Name + "." + c.Kind.Items[c.Ranked[0].Item].Name + "." + apart[0]
		sentence(w, st, "Step by step, or in words: %s. See bankwright explain %s.", strings.Join(apart, ", "), example)
	}
}
