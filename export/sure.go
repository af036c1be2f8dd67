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

// What a study found takes so many lines at most. The page is divided as if it took so
// many each time: when a workbook comes back it is not known what they found.
const (
	mostLines  = 4
	studyLines = 3
)

// studied is what a study found, in words; none where it was not run.
type studied struct{ name, study, title, words string }

// tellStudies are the doubts and the break-evens of the scenario, and what was found.
func (pl *plan) tellStudies() []studied {
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
		out = append(out, studied{d.Name, "doubt " + d.Name, d.Title, doubts[d.Name]})
	}
	for _, b := range m.BreakEvens {
		out = append(out, studied{b.Name, "break-even " + b.Name, b.Title, ties[b.Name]})
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

// howSure says below the recommendation in how many draws it stays so, which is computed
// when the workbook is written, and whether its inputs have changed since.
func (a *answer) howSure() {
	const title = "How sure it is"
	defer a.bold(a.row)
	list := a.pl.tellStudies()
	switch {
	case len(a.pl.whole().Doubts) == 0:
		words := "Nobody has said how uncertain the inputs are."
		if a.pl.found != nil {
			words += " Which of them matter most stands on the sheet " + sweepsName + "."
		}
		a.said(title, Cell{Value: words, Style: Note}, "")
	case list[0].words == "" && !a.pl.blind:
		a.said(title, Cell{Value: notComputed + list[0].name, Style: Note}, "")
	default:
		words := list[0].words
		if list[0].title != "" {
			words += " In doubt: " + strings.TrimSuffix(list[0].title, ".") + "."
		}
		a.frozen(title, words, list[0].study, sameWords)
	}
}

// bold makes the label of a row one that stands out.
func (a *answer) bold(row int) {
	c := a.s.At(row, labelCol)
	c.Style = Section
	a.s.Set(row, labelCol, c)
}

// sure says what would change the answer.
func (a *answer) sure() {
	m := a.pl.whole()
	a.since()
	if c := m.Compare(); c != nil {
		if best, ok := c.Best(); ok {
			if words := wording.Margins(m, c, engine.ItemAlias(c.Kind.Items[best.Item])); words != "" {
				a.frozen("One input moved alone", words, movedAlone, "")
			}
		}
	}
	list := a.pl.tellStudies()
	for _, st := range list[min(len(m.Doubts), 1):min(len(list), mostStudied)] {
		if st.words == "" && !a.pl.blind {
			a.said(st.title, Cell{Value: notComputed + st.name, Style: Note}, "")
			continue
		}
		a.frozen(st.title, st.words, st.study, "")
	}
	a.next(0.4)
}

// since is the head of what studies found: whether the inputs that they reach have changed.
func (a *answer) since() {
	a.s.text(a.row, labelCol, "What would change it", Section)
	a.pl.studiesRow = a.row
	is, ok := a.pl.studied[""]
	if !ok && !a.pl.blind {
		a.next(1)
		return
	}
	at, last := itemCol+3, len(a.s.Widths)
	a.s.text(a.row, itemCol+1, "inputs since then:", Note)
	words := `""`
	if ok {
		words = is.words()
	}
	a.s.Set(a.row, at, Cell{Formula: words, Style: Alert, Span: int16(last - at + 1)})
	cell := cellName(a.row, at)
	a.s.Marks = append(a.s.Marks, Mark{cell + ":" + cell, unchanged, Passed})
	a.nextOf(float64(len(wrap(changed+": "+a.pl.longest, a.wide(at, last)*9/10))), 1) // bold letters
}

// Words before what was found with other inputs.
const (
	beforeWords  = "As computed before "
	changedWords = " was changed: "
	sameWords    = "Computed, inputs unchanged: "
	writtenWords = "As this workbook was written: " // where nothing tells whether inputs have changed
	notComputed  = "Not computed here; the command: bankwright sweep "
)

// frozen says what was computed when the workbook was written, and that it was so before
// an input was changed that it follows from; as long as none was, other words may stand
// before it. The words stand in the workings.
func (a *answer) frozen(title, words, study, same string) {
	is, ok := a.pl.studied[study]
	if !ok && !a.pl.blind {
		a.said(title, Cell{Value: writtenWords + words, Style: FrozenWords}, "")
		return
	}
	form := a.store(title, words)
	if ok {
		form = "IF(" + is.state + `="` + unchanged + `",` + quoteText(same) + "," + quoteText(beforeWords) + "&" + is.which + "&" + quoteText(changedWords) + ")&" + form
	}
	a.said(title, Cell{Formula: form, Style: FrozenWords}, beforeWords+a.pl.longest+changedWords+words)
}

// store keeps what was found in the workings, and gives the cell.
func (a *answer) store(title, words string) string {
	w := a.work
	if w.rows.found == 0 {
		w.s.text(w.row+1, labelCol, "What studies found, as the first sheet tells it", Section)
		w.row += 2
		w.rows.found = w.row
	}
	last := len(w.s.Widths)
	wide := 0.0
	for _, x := range w.s.Widths[itemCol-1:] {
		wide += x
	}
	w.s.text(w.row, labelCol, title, Label)
	w.s.text(w.row, unitCol, "words", Unit)
	w.s.Set(w.row, itemCol, Cell{Value: words, Style: Words, Span: int16(last - itemCol + 1), Lines: int16(len(wrap(words, int(wide))))})
	w.row++
	return workingsName + "!" + w.figureAt(w.row-1)
}

// said puts words beside what they are about, with room for the longest that they may be.
func (a *answer) said(title string, c Cell, longest string) {
	lines := len(wrap(title, a.wide(labelCol, labelCol)))
	a.s.Set(a.row, labelCol, Cell{Value: title, Style: Label, Lines: int16(lines)})
	if text, ok := c.Value.(string); ok {
		longest = text
	}
	more := len(wrap(longest, a.wide(unitCol, len(a.s.Widths))))
	c.Span, c.Lines = int16(len(a.s.Widths)-1), int16(more)
	a.s.Set(a.row, unitCol, c)
	a.nextOf(float64(min(max(lines, more), mostLines)), studyLines)
}

// leadToStudies leads from the first sheet to that of the studies, where there is one.
func (pl *plan) leadToStudies() {
	if pl.book.Find(sweepsName) == nil || pl.studiesRow == 0 {
		return
	}
	pl.answer.sheet.Set(pl.studiesRow, unitCol, Cell{Value: "All of it: sheet " + sweepsName, Style: Link, Link: sweepsName + "!A1"})
}
