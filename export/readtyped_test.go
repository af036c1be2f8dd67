package export

import (
	"slices"
	"strings"
	"testing"

	"bankwright/engine/diag"
	"bankwright/engine/oracle"
)

// TestTypedFormulas: of a formula that was typed into the cell of an input the value is
// taken, of whatever sort it is, and that is told.
func TestTypedFormulas(t *testing.T) {
	oracle.OneCore(t)
	pl := plotBook(models(t)["cabin"], nil)
	for _, c := range []struct {
		cell  string
		value ReturnedCell
		want  string
	}{
		{"battery.oak.mass", ReturnedCell{Value: 29.0}, "its value 29 is taken"},
		{"site.depth_of_discharge", ReturnedCell{Value: 0.7, Percent: true}, "its value 70 % is taken"},
		{"alternative.six_ash.battery", ReturnedCell{Value: "oak"}, `its value "oak" is taken`},
		{"load.pump.essential", ReturnedCell{Value: false}, "its value FALSE is taken"},
		{"battery.oak.cycle_life", ReturnedCell{Value: 45.0}, "its value 45 is taken"},
	} {
		c.value.Formula = true
		read, faults := readBack(pl, sentBack{pl.book, map[[3]int]any{placed(t, pl, c.cell, 0): c.value}}, "book.xlsx")
		if len(faults) != 1 || faults[0].Severity != diag.Warning || !strings.Contains(faults[0].Summary, c.want) || len(read.Changes) != 1 {
			t.Errorf("%s: %v %v, want %s", c.cell, faults, read.Changes, c.want)
		}
	}
}

// TestTruthsAsFormulas: programs that store truths as formulas are not told of it, and
// what is not as it was is a change.
func TestTruthsAsFormulas(t *testing.T) {
	oracle.OneCore(t)
	pl := plotBook(models(t)["cabin"], nil)
	at := placed(t, pl, "load.pump.essential", 0)
	for value, changes := range map[bool]int{true: 0, false: 1} {
		read, faults := readBack(pl, sentBack{pl.book, map[[3]int]any{at: ReturnedCell{Value: value, Formula: true, Truth: true}}}, "book.xlsx")
		if len(faults) > 0 || len(read.Changes) != changes {
			t.Errorf("%v: %v %v", value, faults, read.Changes)
		}
	}
}

// TestNumbersAsText: a number is suggested only where the text can be no other one.
func TestNumbersAsText(t *testing.T) {
	oracle.OneCore(t)
	pl := plotBook(models(t)["cabin"], nil)
	at := placed(t, pl, "battery.oak.price", 0)
	for text, want := range map[string]string{
		"1,050": "Type 1050:", "1,050.5 USD": "Type 1050.5:", "1 050": "Type 1050:", "1'234'567": "Type 1234567:", "1100 USD": "Type 1100:", "-1,050": "Type -1050:",
		"0,5": "Type a value,", "1,05": "Type a value,", "1,0500": "Type a value,", "0,500": "Type a value,", "1,050,5": "Type a value,", "5 6": "Type a value,", "about 5": "Type a value,",
	} {
		_, faults := readBack(pl, sentBack{pl.book, map[[3]int]any{at: text}}, "book.xlsx")
		if len(faults) != 1 || !strings.HasPrefix(faults[0].Mend, want) {
			t.Errorf("%q: %v, want %s", text, faults, want)
		}
	}
}

// TestAlike: what a program stores otherwise than it was written was not typed over.
func TestAlike(t *testing.T) {
	long := strings.Repeat("word ", 9000)
	for _, c := range []struct {
		a, b any
		want bool
	}{
		{0.1 + 0.2, 0.3, true}, {0.3, 0.3001, false}, {true, 1.0, true}, {false, 1.0, false}, {true, nil, false},
		{long, long[:32000] + " (cut)", true}, {long, "word", false}, {"", nil, true}, {nil, "x", false}, {"1", 1.0, false},
	} {
		if alike(c.a, c.b) != c.want || alike(c.b, c.a) != c.want {
			t.Errorf("%.20v and %.20v are alike: %v", c.a, c.b, !c.want)
		}
	}
}

// TestFrozenOverwritten: a value that was computed in the place of a formula is told of
// where it was typed over.
func TestFrozenOverwritten(t *testing.T) {
	oracle.OneCore(t)
	pl := plotBook(models(t)["cabin"], nil)
	n := 0
	for sheet, s := range pl.book.Sheets {
		for r, row := range s.rows {
			c := slices.IndexFunc(row, func(c Cell) bool { _, ok := c.Value.(float64); return ok && c.Style == Frozen && c.Formula == "" })
			if c < 0 || r%20 > 0 { // a few of them
				continue
			}
			n++
			_, faults := readBack(pl, sentBack{pl.book, map[[3]int]any{{sheet, r + 1, c + 1}: 12345.0}}, "book.xlsx")
			want := s.Name + "!" + cellName(r+1, c+1) + ": warning: the computed value was overwritten by 12345"
			if len(faults) != 1 || !strings.Contains(faults[0].Error(), want) {
				t.Errorf("%v, want %s", faults, want)
			}
		}
	}
	if n == 0 {
		t.Error("nothing is computed")
	}
}

// leadOf is the cell of the first sheet that says who is best.
func leadOf(t *testing.T, b *Book) [3]int {
	for r := range b.Sheets[0].rows {
		if c := b.Sheets[0].At(r+1, labelCol); c.Style == Lead && c.Formula != "" {
			return [3]int{0, r + 1, labelCol}
		}
	}
	t.Fatal("nobody says who is best")
	return [3]int{}
}

// reordered is a workbook whose sheets stand in another order.
type reordered struct{ sentBack }

func (b reordered) Sheets() []string {
	names := b.sentBack.Sheets()
	names[2], names[3] = names[3], names[2]
	return names
}

// TestReorderedSheets: another order of sheets is told, and changes nothing.
func TestReorderedSheets(t *testing.T) {
	oracle.OneCore(t)
	pl := plotBook(models(t)["cabin"], nil)
	price := placed(t, pl, "battery.oak.price", 0)
	read, faults := readBack(pl, reordered{sentBack{pl.book, map[[3]int]any{price: 1100.0}}}, "book.xlsx")
	if len(faults) != 1 || !strings.Contains(faults[0].Error(), "warning: the sheets stand in another order: Alternatives where Inputs stood") || len(read.Changes) != 1 {
		t.Errorf("%v %v", faults, read.Changes)
	}
}

// TestQuoted: a text is quoted in full where it has room, and says where it is cut.
func TestQuoted(t *testing.T) {
	name := "logs/2026-03-02_discharge_of_the_first_battery_that_was_delivered.csv"
	for text, want := range map[string]string{name: `"` + name + `"`, strings.Repeat("é", 121): `"` + strings.Repeat("é", 119) + `…"`} {
		if got := content(ReturnedCell{Value: text}); got != want {
			t.Errorf("%s, want %s", got, want)
		}
	}
}
