package export

import (
	"testing"

	"bankwright/engine/oracle"
)

// TestChecksHead: the table of what is compared stands last, and its head is what is
// repeated on paper; each table has its sentences on their sheet.
func TestChecksHead(t *testing.T) {
	oracle.OneCore(t)
	for name, m := range eachModel(t) {
		pl := plotBook(m, nil)
		s, words := pl.book.Find("Checks"), pl.book.Find(unmetName)
		tables, lists, head := 0, 0, 0
		for r := range s.Rows() {
			if plainText(s.At(r+1, checkSeverityCol)) == "if not met" {
				tables, head = tables+1, r+1
			}
		}
		if (words == nil) != (tables == 0) {
			t.Errorf("%s: %d tables, sentences: %v", name, tables, words != nil)
		}
		if tables == 0 {
			continue
		}
		for r := range words.Rows() {
			lists += btoi(words.At(r+1, labelCol).Style == Heading)
		}
		if tables != lists || s.FreezeRows >= checkRow {
			t.Errorf("%s: %d tables, %d lists, %d rows that stay in sight", name, tables, lists, s.FreezeRows)
		}
		if s.Print.RepeatFrom != head || s.Print.RepeatRows != head {
			t.Errorf("%s: rows %d to %d are repeated on paper, not %d", name, s.Print.RepeatFrom, s.Print.RepeatRows, head)
		}
		if k := pl.prog.Compared(); k != nil && len(pl.checksOf(k)) > 0 && plainText(s.At(head-1, labelCol)) != titleOf(k) {
			t.Errorf("%s: the last table is of %q", name, plainText(s.At(head-1, labelCol)))
		}
	}
}

// TestFigureLabels: each row of the sheet Figures says what it is of.
func TestFigureLabels(t *testing.T) {
	oracle.OneCore(t)
	for name, m := range eachModel(t) {
		s := plotBook(m, nil).book.Find(figuresName)
		if s == nil {
			continue
		}
		for r := range s.Rows() {
			switch label := plainText(s.At(r+1, labelCol)); {
			case len(label) > 0 && label[0] == ':', label == "decimals", len(label) > 5 && label[:5] == "words":
				t.Errorf("%s: row %d is called %q", name, r+1, label)
			}
		}
	}
}

// TestContents: each sheet stands in the contents with a link and with words that no other has.
func TestContents(t *testing.T) {
	oracle.OneCore(t)
	for _, name := range []string{"cabin", "greenhouse", "bench"} {
		b := plotBook(models(t)[name], study(t, models(t)[name])).book
		if b.Sheets[1].Name != contentsName {
			t.Fatalf("%s: the second sheet is %s", name, b.Sheets[1].Name)
		}
		said := map[any]string{}
		for r := range b.Sheets[1].Rows() {
			if c := b.Sheets[1].At(r+1, 1); c.Link != "" {
				said[c.Value] = plainText(b.Sheets[1].At(r+1, 2))
			}
		}
		twice := map[string]string{}
		for _, s := range b.Sheets {
			if words := said[s.Name]; s.Name != contentsName && len(words) < 5 {
				t.Errorf("%s: of the sheet %s it says %q", name, s.Name, words)
			} else if other := twice[words]; other != "" {
				t.Errorf("%s: of the sheets %s and %s it says the same: %s", name, other, s.Name, words)
			} else {
				twice[words] = s.Name
			}
		}
	}
}
