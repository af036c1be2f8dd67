package export

import (
	"math"
	"testing"

	"bankwright/engine/check"
	"bankwright/export/calc"
)

// TestUnusual: beside an input that is possible and outside what is usual stands a word,
// beside one at the end of what is usual none, as the engine judges them; of computed
// figures so many are counted as the engine finds.
func TestUnusual(t *testing.T) {
	inputs, figures := 0, 0
	for name, m := range models(t) {
		pl := plotBook(m, nil)
		limits := pl.book.Sheet(limitsName)
		run := calc.New(live{Book: pl.book})
		for row := 1; row <= len(pl.limits.sheet.Rows()); row++ {
			for _, q := range m.Quantities {
				if at := pl.places[q]; !hasUsual(q) || !q.IsRule() || at == nil || pl.limits.sheet.At(row, labelCol).Link != quoteSheet(at.page.name)+"!"+cellName(at.row, at.col) {
					continue
				}
				want := 0
				for i := range q.Kind.Items {
					v := m.Result.At(q, i, 0)
					want += btoi(v == v && v != 0 && q.IsUnusual(v))
				}
				figures++
				if got := run.Cell(limits, row, unusualCol); got.N != float64(want) {
					t.Errorf("%s: %s has %v unusual figures, want %d", name, q.Name, got, want)
				}
			}
		}
		for _, q := range m.Quantities {
			if l := pl.places[q]; hasUsual(q) && !q.IsRule() && l.page == pl.inputs && l.row > 0 && len(q.Kind.Items) > 0 {
				inputs += unusualInput(t, pl, q, l)
			}
		}
	}
	if inputs == 0 || figures == 0 {
		t.Errorf("%d inputs and %d figures were looked at", inputs, figures)
	}
}

// unusualInput sets an input of the first item to the ends of what is usual, and beyond.
func unusualInput(t *testing.T, pl *plan, q *check.Quantity, l *line) (looked int) {
	t.Helper()
	sheet, limits := pl.book.Sheet("Inputs"), pl.book.Sheet(limitsName)
	low, high := q.UsualMin.Value, q.UsualMax.Value
	width := high - low
	least, most := q.Limits()
	for _, v := range []float64{low, high, low + width/2, low - width/4, high + width/4} {
		if v < least || v > most || q.Whole && v != math.Trunc(v) {
			continue
		}
		changed := map[[3]int]any{}
		for i := range q.Kind.Items { // so that no other is unusual
			changed[[3]int{sheet, l.row, l.col + i}] = q.Unit.FromBase(low + width/2)
		}
		changed[[3]int{sheet, l.row, l.col}] = q.Unit.FromBase(v)
		want := ""
		if q.IsUnusual(v) {
			want = unusualWord
		}
		run := calc.New(live{Book: pl.book, changed: changed})
		if got := run.Cell(limits, l.row, stateCol).S; got != want && !q.Whole {
			t.Errorf("%s.%s at %g: %q stands there, want %q", q.Kind.Name, q.Name, v, got, want)
		}
		if all := run.Cell(limits, pl.unusualRow, unusualCol).N; want != "" && all < 1 {
			t.Errorf("%s.%s at %g: in all there are %g", q.Kind.Name, q.Name, v, all)
		}
		looked++
	}
	return looked
}

// TestInputsOrder: the sheet of inputs begins with what is owned or bought; what is compared
// comes behind it, and the rules' constants last. Its fourth row leads to each block.
func TestInputsOrder(t *testing.T) {
	pl := plotBook(models(t)["cabin"], nil)
	compared := pl.prog.Compared()
	last := 0
	for _, k := range pl.inputKinds() {
		if row := pl.names[k].row; row > 0 && row < last {
			t.Errorf("%s stands above what it follows", titleOf(k))
		} else if row > 0 {
			last = row
		}
	}
	for _, k := range pl.prog.Kinds {
		row := pl.names[k].row
		if row == 0 {
			continue
		}
		if k.Many && k != compared && row > pl.names[compared].row || k.Constants() && row != last {
			t.Errorf("%s stands in row %d, %s in row %d, the last block in row %d", titleOf(k), row, titleOf(compared), pl.names[compared].row, last)
		}
		found := false
		for col := unitCol; col <= len(pl.inputs.sheet.Widths); col++ {
			c := pl.inputs.sheet.At(jumpRow, col)
			found = found || c.Value == titleOf(k) && c.Link == "Inputs!"+cellName(row-1, labelCol) && pl.inputs.sheet.At(row-1, labelCol).Value == titleOf(k)
		}
		if !found {
			t.Errorf("nothing leads to %s", titleOf(k))
		}
	}
}
