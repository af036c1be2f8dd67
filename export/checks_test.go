package export

import "testing"

// TestChecksHead: the head of what is not met stands at the first of its lists, below
// all tables, and is what is repeated on paper.
func TestChecksHead(t *testing.T) {
	for name, m := range models(t) {
		pl := plotBook(m, nil)
		s := pl.book.Find("Checks")
		if s == nil {
			continue
		}
		tables, lists := 0, 0
		for r := range s.Rows() {
			row := r + 1
			switch {
			case plainText(s.At(row, checkSeverityCol)) == "if not met":
				if tables++; lists > 0 {
					t.Errorf("%s: a table at row %d, below a list", name, row)
				}
			case plainText(s.At(row, labelCol)) == "What is not met, in words":
				if plainText(s.At(row, unmetStateCol)) != "result" || plainText(s.At(row, unmetWordsCol)) != "in words" {
					t.Errorf("%s: a list at row %d without a head", name, row)
				}
				if lists++; lists == 1 && (s.Print.RepeatFrom != row || s.Print.RepeatRows != row) {
					t.Errorf("%s: rows %d to %d are repeated on paper, not %d", name, s.Print.RepeatFrom, s.Print.RepeatRows, row)
				}
			}
		}
		if tables != lists || s.FreezeRows >= checkRow {
			t.Errorf("%s: %d tables, %d lists, %d rows that stay in sight", name, tables, lists, s.FreezeRows)
		}
	}
}

// TestFigureLabels: each row of the sheet Figures says what it is of.
func TestFigureLabels(t *testing.T) {
	for name, m := range models(t) {
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
