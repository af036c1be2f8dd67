package export

import (
	"strings"
	"testing"

	"bankwright/engine/oracle"
	"bankwright/rules"
	"bankwright/scenarios"
)

// cellSaying is a cell of a sheet with a text that begins so.
func cellSaying(t *testing.T, b *Book, sheet, begins string) [3]int {
	t.Helper()
	n := b.Sheet(sheet)
	for r, row := range b.Sheets[n].rows {
		for c, cell := range row {
			if s, ok := cell.Value.(string); ok && cell.Formula == "" && s != "" && strings.HasPrefix(strings.TrimSpace(s), begins) {
				return [3]int{n, r + 1, c + 1}
			}
		}
	}
	t.Fatalf("nothing on %s begins with %s", sheet, begins)
	return [3]int{}
}

// TestReturnedWords: words that are other than they were written are told with both, in
// whatever cell, and so is what stands where nothing stood; each once.
func TestReturnedWords(t *testing.T) {
	oracle.OneCore(t)
	m := models(t)["cabin"]
	pl := plotBook(m, study(t, m))
	beside := func(sheet, begins string, cols int) [3]int {
		at := cellSaying(t, pl.book, sheet, begins)
		return [3]int{at[0], at[1], at[2] + cols}
	}
	inputs, bank := pl.book.Sheet("Inputs"), pl.book.Sheet("Alternatives")
	usable := pl.places[pl.prog.Kind("alternative").Quantity("usable_energy")]
	price := placed(t, pl, "battery.oak.price", 0)
	for _, c := range []struct {
		at   [3]int
		data any
		want string
	}{
		{cellSaying(t, pl.book, "Answer", "- Figures are for planning"), "- All is safe.", `"- All is safe." stands where "   - Figures are for planning.`},
		{beside("Answer", "Cost per kWh", 1), "EUR/kWh", `"EUR/kWh" stands where "USD/kWh" stood`},
		{[3]int{bank, usable.row, unitCol}, "kWh", `"kWh" stands where "Wh" stood`},
		{[3]int{inputs, price[1], 10}, "Price is per dozen", `"Price is per dozen" stands where "Landed price of one battery, with freight and tax. Usually from 1 USD to 50000 USD (common practice: 5 for a battery of…" stood: a remark of the client, which is not read`},
		{[3]int{inputs, price[1], 10}, nil, `"Landed price of one battery, with freight and tax. Usually from 1 USD to 50000 USD (common practice: 5 for a battery of…" was deleted`},
		{[3]int{inputs, price[1], 14}, "per dozen?", `"per dozen?" was typed here: a remark of the client, which is not read`},
		{[3]int{bank, 5, 13}, "why?", `"why?" was typed here; it is not read`},
		{[3]int{bank, usable.row, 30}, ReturnedCell{Value: 3.0, Formula: true}, `a formula was typed here, which gives 3; it is not read`},
		{cellSaying(t, pl.book, "Sources and cautions", "Figures are for planning"), "nothing", `"nothing" stands where "Figures`},
		{cellSaying(t, pl.book, "Inputs", "calculated"), "guessed", `"guessed" stands where "calculated" stood`},
		{[3]int{inputs, 700, 2}, "overleaf", `"overleaf" was typed here: a remark`},
		{[3]int{inputs, 700, 1}, "see overleaf", "row 700 was added; it is not read"},
		{[3]int{bank, 20000, 2}, "see overleaf", `"see overleaf" was typed here; it is not read`},
	} {
		_, faults := ReadBack(m, pl.found, sentBack{pl.book, map[[3]int]any{c.at: c.data}}, "book.xlsx")
		where := "book.xlsx:" + pl.book.Sheets[c.at[0]].Name + "!" + cellName(c.at[1], c.at[2])
		if strings.HasPrefix(c.want, "row ") {
			where = "book.xlsx:Inputs"
		}
		if len(faults) != 1 || !strings.HasPrefix(faults[0].Error(), where+": warning: ") || !strings.Contains(faults[0].Summary, c.want) {
			t.Errorf("%v, want %s: %s", faults, where, c.want)
		}
	}
	many := map[[3]int]any{}
	for row := range mostRemarks + 5 {
		many[[3]int{bank, row + 10, 40}] = "x"
	}
	if _, faults := ReadBack(m, pl.found, sentBack{pl.book, many}, "book.xlsx"); len(faults) != mostRemarks+1 || !strings.Contains(faults[mostRemarks].Summary, "5 more cells of this sheet") {
		t.Errorf("%v", faults)
	}
}

// Unremarked is the workbook of an embedded scenario with what its studies found, and a
// function that holds it against what was written, saved by another program as it was:
// nothing is told of it.
func Unremarked(t *testing.T, file string) (*Book, func(book Returned)) {
	t.Helper()
	m := load(t, scenarios.Files, file, rules.Files)
	found := study(t, m)
	b, err := NewBook(m, found)
	if err != nil {
		t.Fatal(file, err)
	}
	return b, func(book Returned) {
		t.Helper()
		read, faults := ReadBack(m, found, book, file)
		if !HasStudies(book) || len(faults) > 0 || len(read.Changes) > 0 {
			t.Errorf("%s: told of what nobody did: %v %v", file, faults, read.Changes)
		}
	}
}
