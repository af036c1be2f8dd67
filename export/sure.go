package export

import (
	"strings"

	"bankwright/engine"
	wording "bankwright/export/text"
	"bankwright/export/told"
)

// How sure an answer is follows from studies, which a spreadsheet cannot run: the first
// sheet says in words, which are not live, what they found.

// mostStudied is how many studies the first sheet tells of.
const mostStudied = 3

// studied is what a study found, in words; none where it was not run.
type studied struct{ name, title, words string }

// studied are the doubts and the break-evens of the scenario, and what was found.
func (pl *plan) studied() []studied {
	m := pl.whole()
	w := told.Words{M: m, Name: told.InputName}
	doubts, ties := map[string]string{}, map[string]string{}
	if pl.found != nil {
		for _, f := range pl.found.Doubts {
			doubts[f.Name] = told.NewDoubt(w, f).Sure()
		}
		for _, f := range pl.found.BreakEvens {
			x := told.NewTie(w, f)
			x.More = 0
			ties[f.Name] = strings.Join(x.Turns(), " ")
		}
	}
	var out []studied
	for _, d := range m.Doubts {
		out = append(out, studied{d.Name, d.Title, doubts[d.Name]})
	}
	for _, b := range m.BreakEvens {
		out = append(out, studied{b.Name, b.Title, ties[b.Name]})
	}
	return out
}

// whole is the model with all its items, also where only some go through the book.
func (pl *plan) whole() *engine.Model {
	if pl.catalogue != nil {
		return pl.catalogue.m
	}
	return pl.model
}

// sure says what would change the answer, and how sure it is.
func (a *answer) sure() {
	m := a.pl.whole()
	a.s.text(a.row, labelCol, "What would change it", Section)
	a.pl.studiesRow = a.row
	if a.pl.stale != "" {
		a.s.Set(a.row, itemCol+2, Cell{Formula: "IF(" + a.stale + `="","",` + a.stale + ")", Style: Alert})
	}
	a.next(1)
	if c := m.Compare(); c != nil {
		if best, ok := c.Best(); ok {
			if words := wording.Margins(m, c, engine.ItemAlias(c.Kind.Items[best.Item])); words != "" {
				a.frozen("One input moved alone", words)
			}
		}
	}
	list := a.pl.studied()
	for _, st := range list[:min(len(list), mostStudied)] {
		if st.words == "" {
			a.said(st.title, Cell{Value: "Not computed here; the command: bankwright sweep " + st.name, Style: Note})
			continue
		}
		a.frozen(st.title, st.words)
	}
	if len(list) == 0 {
		words := "Nobody has said how uncertain the inputs are."
		if a.pl.found != nil {
			words += " Which of them matter most stands on the sheet " + sweepsName + "."
		}
		a.said("How sure it is", Cell{Value: words, Style: Note})
	}
	a.next(0.4)
}

// frozen says what was computed when the workbook was written.
func (a *answer) frozen(title, words string) { a.said(title, Cell{Value: words, Style: FrozenWords}) }

// said puts words beside what they are about.
func (a *answer) said(title string, c Cell) {
	lines := len(wrap(title, a.wide(labelCol, labelCol)))
	a.s.Set(a.row, labelCol, Cell{Value: title, Style: Label, Lines: int16(lines)})
	more := len(wrap(c.Value.(string), a.wide(unitCol, len(a.s.Widths))))
	c.Span, c.Lines = int16(len(a.s.Widths)-1), int16(more)
	a.s.Set(a.row, unitCol, c)
	a.next(float64(min(max(lines, more), 4)))
}

// leadToStudies leads from the first sheet to that of the studies, where there is one.
func (pl *plan) leadToStudies() {
	if pl.book.Find(sweepsName) == nil || pl.studiesRow == 0 {
		return
	}
	pl.answer.sheet.Set(pl.studiesRow, unitCol, Cell{Value: "All of it: sheet " + sweepsName, Style: Link, Link: sweepsName + "!A1"})
}
