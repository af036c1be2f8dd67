package export

import (
	"slices"
	"strings"
	"testing"

	"bankwright/engine/oracle"
)

// TestPracticeCatches: each rule is broken in a workbook that keeps all of them,
// and found to be.
func TestPracticeCatches(t *testing.T) {
	oracle.OneCore(t)
	fresh := func() *practice {
		m := models(t)["loaves"]
		pl := plotBook(m, nil)
		if err := pl.book.fill(); err != nil {
			t.Fatal(err)
		}
		return practiceOf(pl)
	}
	if list := fresh().look(); len(list) > 0 {
		t.Fatal(list[0])
	}
	for _, c := range spoilt {
		p := fresh()
		p.fixture = false // nothing is let pass
		s, row, col := computedCell(p.book, c.sheet)
		c.spoil(p.book, s, row, col)
		list := p.look()
		at := slices.IndexFunc(list, func(f finding) bool { return strings.HasPrefix(f.rule, c.rule) })
		if at < 0 {
			t.Errorf("%s: %q is not found", c.what, c.rule)
		} else if c.cell && list[at].cell != cellName(row, col) && list[at].cell != cellName(row, col+1) {
			t.Errorf("%s: found at %s, not at %s", c.what, list[at].cell, cellName(row, col))
		}
	}
}

// computedCell is the first of two calculated cells side by side.
func computedCell(b *Book, sheet string) (s *Sheet, row, col int) {
	s = b.Find(sheet)
	for r := range s.Rows() {
		for c := itemCol; c < 10; c++ {
			if a, b := s.At(r+1, c), s.At(r+1, c+1); a.Style == Computed && b.Style == Computed && a.Formula != "" && b.Formula != "" {
				return s, r + 1, c
			}
		}
	}
	return s, 0, 0
}

// with is a cell with another formula.
func with(s *Sheet, row, col int, formula string) {
	c := s.At(row, col)
	c.Formula = formula
	s.Set(row, col, c)
}

var spoilt = []struct {
	rule, what, sheet string
	cell              bool // the finding names the cell
	spoil             func(b *Book, s *Sheet, row, col int)
}{
	{"inputs apart", "an input among workings", "Ovens", true, func(_ *Book, s *Sheet, row, col int) {
		s.Set(row, col, Cell{Value: 3.0, Style: Input})
	}},
	{"inputs apart", "a number typed over a formula", "Ovens", true, func(_ *Book, s *Sheet, row, col int) {
		s.Set(row, col, Cell{Value: 3.0, Style: Computed})
	}},
	{"inputs apart", "an input with a formula", "Ovens", false, func(b *Book, _ *Sheet, _, _ int) {
		b.Find("Inputs").Set(9, itemCol, Cell{Formula: "C8", Style: Input})
	}},
	{"a legend", "no legend", "Ovens", false, func(b *Book, _ *Sheet, _, _ int) {
		b.Find("Inputs").Set(2, unitCol, Cell{})
	}},
	{"nothing in a formula that may change", "a rate in a formula", "Ovens", true, func(_ *Book, s *Sheet, row, col int) {
		with(s, row, col, s.At(row, col).Formula+"*1.19")
	}},
	{"nothing in a formula that may change", "the factor of a unit as a choice", "Ovens", true, func(_ *Book, s *Sheet, row, col int) {
		with(s, row, col, "IF("+s.At(row, col).Formula+">0,1000,0)")
	}},
	{"nothing in a formula that may change", "the factor of a unit that no cell of the formula has", "Ovens", true, func(_ *Book, s *Sheet, row, col int) {
		with(s, row, col, s.At(row, col).Formula+"*3600")
	}},
	{"nothing in a formula that may change", "twice, as a figure", "Ovens", true, func(_ *Book, s *Sheet, row, col int) {
		with(s, row, col, "2*("+s.At(row, col).Formula+")")
	}},
	{"no factor that multiplies and divides", "one both ways", "Ovens", true, func(_ *Book, s *Sheet, row, col int) {
		with(s, row, col, "1000*("+s.At(row, col).Formula+")/1000")
	}},
	{"no factor that multiplies and divides", "one both ways, through a sum", "Ovens", true, func(_ *Book, s *Sheet, row, col int) {
		with(s, row, col, "MAX(C8/1000,C9*C8/1000+C10/1000,0)*1000")
	}},
	{"one formula along a row", "one item calculates otherwise", "Ovens", true, func(_ *Book, s *Sheet, row, col int) {
		with(s, row, col, "-("+s.At(row, col).Formula+")")
	}},
	{"one formula along a row", "one item reads another's cell", "Ovens", true, func(_ *Book, s *Sheet, row, col int) {
		with(s, row, col, s.At(row, col+1).Formula)
	}},
	{"one formula along a row", "a word stands where one item calculates", "Ovens", true, func(_ *Book, s *Sheet, row, col int) {
		c := s.At(row, col)
		c.Formula, c.Value = "", "none"
		s.Set(row, col, c)
	}},
	{"short formulas", "a long condition that reads other sheets", "Ovens", true, func(_ *Book, s *Sheet, row, col int) {
		with(s, row, col, "IF("+strings.Repeat("Hour!A1+", 20)+"Hour!A2,Hour!A3,Hour!A4)")
	}},
	{"one formula along a row", "one step calculates otherwise", "Hour", false, func(_ *Book, s *Sheet, _, _ int) {
		for c := 2; c < 20; c++ {
			if f := s.At(seriesRow+2, c).Formula; f != "" && s.At(seriesRow+1, c).Formula != "" {
				with(s, seriesRow+2, c, "-("+f+")")
				return
			}
		}
	}},
	{"short formulas", "a long formula", "Ovens", true, func(_ *Book, s *Sheet, row, col int) {
		with(s, row, col, "SUM("+strings.Repeat("C5,", 60)+"C6)")
	}},
	{"no error values", "an error value", "Ovens", true, func(_ *Book, s *Sheet, row, col int) {
		c := s.At(row, col)
		c.Value = "#DIV/0!"
		s.Set(row, col, c)
	}},
	{"no volatile functions", "the date of today", "Ovens", true, func(_ *Book, s *Sheet, row, col int) {
		with(s, row, col, s.At(row, col).Formula+"+0*TODAY()")
	}},
	{"no volatile functions", "a cell that is named by a text", "Ovens", true, func(_ *Book, s *Sheet, row, col int) {
		with(s, row, col, `INDIRECT("A1")`)
	}},
	{"nothing outside", "another workbook", "Ovens", true, func(_ *Book, s *Sheet, row, col int) {
		with(s, row, col, "[1]Prices!A1")
	}},
	{"nothing outside", "a sheet that is not there", "Ovens", true, func(_ *Book, s *Sheet, row, col int) {
		with(s, row, col, "'Old prices'!A1")
	}},
	{"nothing outside", "a name of another workbook", "Ovens", false, func(b *Book, _ *Sheet, _, _ int) {
		b.Names = append(b.Names, Name{"rates", "[1]Rates!$A$1"})
	}},
	{"no merged cells", "merged figures", "Ovens", true, func(_ *Book, s *Sheet, row, col int) {
		c := s.At(row, col)
		c.Span = 2
		s.Set(row, col, c)
	}},
	{"checks add up", "a table that the total leaves out", "Ovens", false, func(b *Book, _ *Sheet, _, _ int) {
		checks := b.Find("Checks")
		checks.Set(len(checks.Rows())+2, labelCol, Cell{Value: notMetInAll, Style: TotalText})
	}},
	{"a label and a unit", "no unit", "Ovens", false, func(_ *Book, s *Sheet, row, _ int) { s.Set(row, unitCol, Cell{}) }},
	{"a label and a unit", "no label", "Ovens", false, func(_ *Book, s *Sheet, row, _ int) { s.Set(row, labelCol, Cell{}) }},
	{"heads that stay", "heads that scroll away", "Ovens", false, func(_ *Book, s *Sheet, _, _ int) { s.FreezeRows = 0 }},
	{"heads that stay", "heads that are not repeated", "Ovens", false, func(_ *Book, s *Sheet, _, _ int) { s.Print.RepeatRows = 0 }},
	{"names that are safe", "a name like a cell", "Ovens", false, func(b *Book, _ *Sheet, _, _ int) {
		b.Names = append(b.Names, Name{"LOG10", "Inputs!$C$8"})
	}},
	{"names that are safe", "names that differ by case", "Ovens", false, func(b *Book, _ *Sheet, _, _ int) {
		b.Names = append(b.Names, Name{"Tolerance", "Inputs!$C$8"})
	}},
	{"a first sheet", "another first sheet", "Ovens", false, func(b *Book, _ *Sheet, _, _ int) {
		b.Sheets[0], b.Sheets[1] = b.Sheets[1], b.Sheets[0]
	}},
}
