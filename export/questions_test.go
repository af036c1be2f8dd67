package export

import (
	"fmt"
	"strings"
	"testing"
	"testing/fstest"

	"bankwright/export/calc"
)

// asked are questions about crates: one with an optional value, one that is of
// another kind and so has no place on the first sheet.
const asked = `
[rules.kind.shelf]
many = "shelves"
[rules.shelf.width]
default = 1
[rules.crate.weight]
unit = "kg"
optional = true
[rules.question.sum]
of = "crate"
ask = "What do its two parts come to, and does that hold for every crate that stands beside it in the same room of the same house?"
answer = "They come to {total}, which is {a} and {b}; sound: {sound}; it weighs {weight}. This is said in so many words that it takes more than one line of a page that is as wide as a hand."
[rules.question.shelf]
of = "shelf"
ask = "How wide?"
answer = "{width} wide."
`

// TestQuestions: each question of the compared kind stands on a sheet of its own
// with a sentence for each item, which follows the inputs.
func TestQuestions(t *testing.T) {
	for _, more := range []int{0, 30} {
		text := strings.Replace(crates, "BEST", "lowest", 1) + asked + "[shelf.one]\n"
		for i := range more {
			text += fmt.Sprintf("[crate.more_%d]\na = %d\nb = 1\nweight = \"2 kg\"\n", i, i+2)
		}
		m := load(t, fstest.MapFS{"crates.toml": {Data: []byte(text)}}, "crates.toml", nil)
		pl := plotBook(m, nil)
		if pl.fault != nil {
			t.Fatal(pl.fault)
		}
		if err := pl.book.fill(); err != nil {
			t.Fatal(err)
		}
		k := pl.prog.Compared() // of many, only the shortlist is live
		got := answersOf(t, pl, calc.New(live{Book: pl.book}))
		if len(got) != len(k.Items) {
			t.Fatalf("%d answers for %d items: %v", len(got), len(k.Items), got)
		}
		for i, it := range k.Items {
			want := itemLabel(it) + ": " + m.Sentence(m.Questions[0].Sentence, m.Compared().Item(it.Name))
			if got[i] != want {
				t.Errorf("the sheet answers %q, the engine %q", got[i], want)
			}
		}
		a := pl.places[k.Quantity("a")]
		changed := map[[3]int]any{{pl.book.Sheet("Inputs"), a.row, a.column(1)}: 7.0}
		got = answersOf(t, pl, calc.New(live{Book: pl.book, changed: changed}))
		if !strings.HasPrefix(got[1], "second: They come to 7, which is 7 and 0; sound: yes; it weighs no value.") {
			t.Errorf("after a change the sheet answers %q", got[1])
		}
	}
}

// answersOf are the answers on the sheet of questions, with whom they are about.
func answersOf(t *testing.T, pl *plan, run *calc.Book) []string {
	t.Helper()
	if pl.asked == nil || pl.book.Find(questionsName) != pl.asked {
		t.Fatal("there is no sheet of questions")
	}
	var out []string
	n := pl.book.Sheet(questionsName)
	for r, row := range pl.asked.Rows() {
		if len(row) >= unitCol && row[unitCol-1].Style == Words {
			out = append(out, run.Cell(n, r+1, labelCol).S+": "+run.Cell(n, r+1, unitCol).S)
		}
	}
	return out
}
