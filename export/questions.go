package export

import (
	"bankwright/engine/check"
)

// answerQuestions makes the sentences that answer questions about the items
// that are compared.
func (pl *plan) answerQuestions() {
	for _, q := range pl.questions() {
		s := &scope{pl: pl, kind: q.Kind, page: pl.answer, each: own}
		pl.answers[q] = pl.told(q.Sentence, s.sentence(q.Sentence))
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

// answerWidth is how many characters of columns an answer takes at least, as
// far as the sheet goes.
const answerWidth = 100

// questions puts the questions that people ask with a live answer for each
// item.
func (a *answer) questions() {
	list := a.pl.questions()
	if len(list) == 0 {
		return
	}
	span, width := 0, 0.0
	for col := unitCol; col <= len(a.s.Widths) && width < answerWidth; col++ {
		span, width = span+1, width+a.s.Widths[col-1]
	}
	a.s.text(a.row, labelCol, "Questions", Section)
	a.row++
	for _, q := range list {
		a.lines(q.Ask, Section)
		for i := range a.k.Items {
			at := spot{page: a.page, item: i}
			a.s.Set(a.row, labelCol, Cell{Formula: a.itemName(i), Style: Label})
			a.s.Set(a.row, unitCol, Cell{Formula: a.pl.unless(a.k, a.pl.answers[q], noValue).at(at), Style: Words, Span: span})
			a.row++
		}
	}
	a.row++
}

// itemName is the formula of what people call an item: its name in the head of
// the comparison.
func (a *answer) itemName(i int) string {
	return columnName(itemCol+i) + "$" + number(float64(a.rows.head))
}

// computed says whether figures that are not live still fit the inputs.
func (a *answer) computed() {
	if a.pl.stale == "" {
		return
	}
	a.s.Set(a.row, labelCol, Cell{Formula: a.pl.stale, Style: Alert})
	a.row++
}
