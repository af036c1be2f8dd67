package export

import (
	"bankwright/engine/check"
)

// answerQuestions makes the sentences that answer questions about the items
// that are compared.
func (pl *plan) answerQuestions() {
	for _, q := range pl.questions() {
		s := &scope{pl: pl, kind: q.Kind, page: pl.answer, each: own, src: upperFirst(spaced(q.Name))}
		pl.answers[q] = s.told(q.Sentence)
	}
}

// questions are those about the kind that is compared.
func (pl *plan) questions() []*check.Question {
	var out []*check.Question
	for _, q := range pl.prog.Questions {
		if q.Kind == pl.prog.Compared() && len(q.Kind.Items) > 0 {
			out = append(out, q)
		}
	}
	return out
}

// answerWidth is how many characters of columns an answer takes.
const answerWidth = 146

const questionsName = "Questions"

// answerOf is the formula of the answer to a question about an item.
func (w *workings) answerOf(q *check.Question, item int, pg *page) string {
	return w.pl.unless(w.k, w.pl.answers[q], noValue).at(spot{page: pg, item: item})
}

// drawQuestions draws the sheet of the questions that people ask, with a live answer
// for each item.
func (w *workings) drawQuestions() {
	pl, list := w.pl, w.pl.questions()
	if len(list) == 0 {
		return
	}
	pg := &page{name: questionsName, title: "What people ask, and the answers"}
	s := pl.head(pg)
	pl.asked = s
	s.Widths = []float64{labelWidth, answerWidth}
	s.FreezeRows, s.Print.RepeatRows = 3, 3
	taken := 0 // lines of the page
	row, room := 4, rowsOnPage(labelWidth+answerWidth)-3
	for _, q := range list {
		lines := 2*len(w.k.Items) + 2
		if taken += lines; taken > room && taken > lines { // a question stays with its answers
			s.Breaks, taken = append(s.Breaks, row), lines
		}
		s.text(row, labelCol, q.Ask, Section)
		row++
		for i := range w.k.Items {
			s.Set(row, labelCol, Cell{Formula: workingsName + "!" + w.itemName(i), Style: Label})
			s.Set(row, unitCol, Cell{Formula: w.answerOf(q, i, pg), Style: Words, Lines: 2})
			row++
		}
		s.fold(row-len(w.k.Items), row-1)
		row++
	}
}

// itemName is the formula of what people call an item: its name in the head of
// the workings.
func (w *workings) itemName(i int) string {
	return columnName(itemCol+i) + "$" + number(float64(w.rows.head))
}
