package export

import (
	"bankwright/engine/check"
)

// answerQuestions makes the sentences that answer questions about the items
// that are compared.
func (pl *plan) answerQuestions() {
	for _, q := range pl.questions() {
		s := &scope{pl: pl, kind: q.Kind, page: pl.answer, each: own}
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

// answerWidth is how many characters of columns an answer takes at least, as
// far as the sheet goes.
const answerWidth = 100

// Of more than mostAnswered items the first sheet answers only for the best, so
// many places; a sheet of its own answers for all.
const (
	mostAnswered   = 4
	placesAnswered = 3
	questionsName  = "Questions"
)

// questions puts the questions that people ask with a live answer for each
// item, or for the best.
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
	var rows []int
	if len(a.k.Items) > mostAnswered {
		rows = a.pl.drawQuestions(a, list)
		a.s.Set(a.row, labelCol, Cell{Value: "For the best places; for all on the sheet " + questionsName, Style: Link, Link: questionsName + "!A1"})
		a.row++
	}
	put := func(name, words string, lines int) {
		a.s.Set(a.row, labelCol, Cell{Formula: name, Style: Label})
		a.s.Set(a.row, unitCol, Cell{Formula: words, Style: Words, Span: span, Lines: lines})
		a.row++
	}
	for n, q := range list {
		a.lines(q.Ask, Section)
		if rows == nil {
			for i := range a.k.Items {
				put(a.itemName(i), a.answerOf(q, i, a.page), 0)
			}
			continue
		}
		cells := questionsName + "!$B$" + number(float64(rows[n])) + ":$B$" + number(float64(rows[n]+len(a.k.Items)-1))
		top := a.row
		for range placesAnswered {
			at := "MATCH(ROWS(A$" + number(float64(top)) + ":A" + number(float64(a.row)) + ")," + a.span(a.rows.rank) + ",0)"
			put("IFERROR(INDEX("+a.span(a.rows.head)+","+at+`),"")`, "IFERROR(INDEX("+cells+","+at+`),"")`, 2)
		}
	}
	a.row++
}

// answerOf is the formula of the answer to a question about an item.
func (a *answer) answerOf(q *check.Question, item int, pg *page) string {
	return a.pl.unless(a.k, a.pl.answers[q], noValue).at(spot{page: pg, item: item})
}

// drawQuestions draws the sheet of all answers, and returns the row of the first
// answer to each question.
func (pl *plan) drawQuestions(a *answer, list []*check.Question) []int {
	pg := &page{name: questionsName, title: questionsName}
	s := pl.head(pg)
	pl.asked = s
	s.Widths = []float64{labelWidth, answerWidth}
	s.FreezeRows, s.Print.RepeatRows = 3, 3
	row := 4
	var first []int
	for _, q := range list {
		s.text(row, labelCol, q.Ask, Section)
		row++
		first = append(first, row)
		for i := range a.k.Items {
			s.Set(row, labelCol, Cell{Formula: "Answer!" + a.itemName(i), Style: Label})
			s.Set(row, unitCol, Cell{Formula: a.answerOf(q, i, pg), Style: Words, Lines: 2})
			row++
		}
		row++
	}
	return first
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
