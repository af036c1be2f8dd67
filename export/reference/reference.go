// Package reference writes what rules declare as a page of Markdown, for people who want
// to know what can be said and what follows from it.
package reference

import (
	"fmt"
	"io"
	"strconv"
	"strings"

	"bankwright/engine/decl"
)

// Write writes what rules declare as a page of Markdown, for people: kinds with
// their quantities by section and their checks, then what else rules hold.
func Write(w io.Writer, m *decl.Model) error {
	p := &page{}
	p.line("# What the rules know")
	p.paragraph("What can be said of each thing, what follows from it, and who says so. Of an input it says what it takes and what holds where it is left out; of what is computed, the formula. `bankwright rules NAME` tells of one of them, `bankwright explain CELL` how a number came about. Written by `bankwright rules --reference`.")
	p.contents(m)
	for _, k := range m.Kinds {
		p.kind(m, k)
	}
	p.axes(m.Axes)
	p.tables(m.Tables)
	if len(m.Questions) > 0 {
		p.heading(2, "Questions")
		for _, q := range m.Questions {
			p.entry(q.Name, q.Ask, "of "+q.Of.Name, q.Answer, "", q.At.File)
		}
	}
	if len(m.Notices) > 0 {
		p.heading(2, "Cautions")
		for _, n := range m.Notices {
			p.entry(n.Name, n.Text, "", "", n.Source, n.At.File)
		}
	}
	_, err := io.WriteString(w, p.String())
	return err
}

// page is a page of Markdown.
type page struct{ strings.Builder }

func (p *page) line(text string)      { p.WriteString(text + "\n") }
func (p *page) paragraph(text string) { p.line("\n" + plainText(text)) }
func (p *page) heading(level int, title string) {
	p.line("\n" + strings.Repeat("#", level) + " " + title)
}

// contents lists the kinds and what else there is, with links.
func (p *page) contents(m *decl.Model) {
	p.line("")
	for _, k := range m.Kinds {
		given := 0
		for _, q := range k.Quantities {
			if !q.Computed() {
				given++
			}
		}
		p.line(fmt.Sprintf("- [%s](#%s): %d given, %d computed", k.Title, anchor(k.Title), given, len(k.Quantities)-given))
	}
	for _, s := range []struct {
		title string
		n     int
	}{{"Axes", len(m.Axes)}, {"Tables", len(m.Tables)}, {"Questions", len(m.Questions)}, {"Cautions", len(m.Notices)}} {
		if s.n > 0 {
			p.line(fmt.Sprintf("- [%s](#%s): %d", s.title, anchor(s.title), s.n))
		}
	}
}

// kind is one kind: its quantities by section, and its checks.
func (p *page) kind(m *decl.Model, k *decl.Kind) {
	p.heading(2, k.Title)
	if k.Many {
		p.paragraph(k.Doc + " Written `[" + k.Name + ".NAME]`, in formulas `" + k.Plural + "`.")
	} else {
		p.paragraph(k.Doc + " Written `[" + k.Name + "]`.")
	}
	var sections []string
	of := map[string][]*decl.Quantity{}
	for _, q := range k.Quantities {
		if of[q.Section] == nil {
			sections = append(sections, q.Section)
		}
		of[q.Section] = append(of[q.Section], q)
	}
	for _, s := range sections {
		if s != "" {
			p.heading(3, k.Title+": "+s)
		}
		p.line("")
		for _, q := range of[s] {
			p.quantity(q)
		}
	}
	first := true
	for _, c := range m.Checks {
		if c.Of != k {
			continue
		}
		if first {
			first = false
			p.heading(3, k.Title+": checks")
			p.line("")
		}
		p.entry("check."+c.Name, c.Doc, c.Severity.String(), "Requires `"+oneLine(c.Require.Text)+"`; where that is not so: “"+plainText(c.Otherwise)+"”", c.Source, c.At.File)
	}
}

// quantity is one quantity of a kind.
func (p *page) quantity(q *decl.Quantity) {
	how := ""
	switch {
	case q.Formula != nil:
		how = "`= " + oneLine(q.Formula.Text) + "`"
		if q.Start != nil {
			how += ", before the first step `" + oneLine(q.Start.Text) + "`"
		}
	case q.Inverse != nil:
		how = "every " + q.Refers.Name + " whose `" + q.Inverse.Name + "` it is"
	}
	p.entry(q.Name, q.Doc, strings.Join(q.Facts(), ", "), how, q.Source, q.At.File)
}

// entry is one entry of a list: what it is, what it takes, how it comes about, who says
// so, and where.
func (p *page) entry(name, doc, takes, how, source, file string) {
	p.line("- **" + name + "** " + plainText(doc))
	if takes != "" {
		p.line("  " + plainText(strings.ToUpper(takes[:1])+takes[1:]) + ".")
	}
	if how != "" {
		p.line("  " + how)
	}
	from := file
	if source != "" {
		from = source + "; " + file
	}
	p.line("  <sub>" + plainText(from) + "</sub>")
}

// axes lists what series run over.
func (p *page) axes(axes []*decl.Axis) {
	if len(axes) == 0 {
		return
	}
	p.heading(2, "Axes")
	p.line("")
	for _, a := range axes {
		takes := strconv.Itoa(a.Steps) + " steps"
		switch {
		case a.Kind != nil:
			takes = "one step for each " + a.Kind.Name
		case a.Active != nil:
			takes = "up to " + takes + ", as many as " + a.Active.Text
		case len(a.Labels) > 0:
			takes = strings.Join(a.Labels, ", ")
		}
		p.entry(a.Name, a.Doc, takes, "", "", a.At.File)
	}
}

// tables lists published values, by their columns.
func (p *page) tables(tables []*decl.Table) {
	if len(tables) == 0 {
		return
	}
	p.heading(2, "Tables")
	p.line("")
	for _, t := range tables {
		var columns []string
		for _, c := range t.Columns {
			unit := c.Unit.Name
			if c.Text {
				unit = "text"
			}
			if unit != "" {
				unit = " (" + unit + ")"
			}
			columns = append(columns, c.Name+unit)
		}
		p.entry(t.Name, t.Doc, fmt.Sprintf("%d rows of %s", len(t.Rows), strings.Join(columns, ", ")), "", t.Source, t.At.File)
	}
}

// oneLine is a text without its line ends.
func oneLine(text string) string { return strings.Join(strings.Fields(text), " ") }

// plainText is a text in which no character is a sign of Markdown's, but for what
// stands between backquotes.
func plainText(text string) string {
	parts := strings.Split(oneLine(text), "`")
	for i := range parts {
		if i%2 == 0 {
			parts[i] = markdownSigns.Replace(parts[i])
		}
	}
	return strings.Join(parts, "`")
}

var markdownSigns = strings.NewReplacer(`\`, `\\`, "*", `\*`, "_", `\_`, "<", "&lt;", "[", `\[`, "]", `\]`)

// anchor is the name by which Markdown links to a heading.
func anchor(title string) string { return strings.ReplaceAll(strings.ToLower(title), " ", "-") }
