package export

import (
	"strings"
	"testing"

	"bankwright/engine/oracle"
	"bankwright/export/calc"
)

// TestNotPossible: what is pasted past the limits is named on the first sheet,
// which then recommends nothing; what lies on a limit is possible.
func TestNotPossible(t *testing.T) {
	oracle.OneCore(t)
	m := models(t)["cabin"]
	pl := plotBook(m, nil)
	for _, c := range []struct {
		kind, quantity string
		item           int
		value          any
		want           string // "": it is possible
	}{
		{"site", "study_period", 0, 45.0, "Study period"},
		{"site", "study_period", 0, 40.0, ""},
		{"site", "study_period", 0, "long", "Study period"},
		{"site", "discount_rate", 0, -1.0, "Real discount rate"},
		{"load", "count", 1, 1.5, "Count"},
		{"load", "count", 1, -1.0, "Count"},
		{"load", "count", 1, "many", "Count"},
		{"load", "count", 1, 0.0, ""},
		{"load", "supply", 1, "gas", "Supply"},
		{"load", "supply", 1, "dc", ""},
		{"alternative", "battery", 2, "elm", "Battery"},
		{"alternative", "battery", 2, "oak", ""},
		{"alternative", "inverter", 2, "foo", "Inverter"},
		{"site", "dwelling", 0, "perhaps", "Dwelling"},
	} {
		k := m.Kind(c.kind)
		q := k.Quantity(c.quantity)
		if q == nil {
			t.Fatalf("no %s.%s", c.kind, c.quantity)
		}
		l := pl.places[q]
		run := calc.New(live{Book: pl.book, changed: map[[3]int]any{{pl.book.Sheet("Inputs"), l.row, l.column(c.item)}: c.value}})
		places, sentence := answerOf(pl.book, run)
		whose := " (" + titleOf(k) + ")"
		if k.Many {
			whose = " of " + itemLabel(k.Items[c.item])
		}
		switch {
		case c.want == "" && strings.HasPrefix(sentence, "Not possible"):
			t.Errorf("%s = %v: %q", c.quantity, c.value, sentence)
		case c.want != "" && (sentence != "Not possible: "+l.label+whose+" (sheet Inputs)." || strings.Trim(strings.Join(places, ""), "-") != ""):
			t.Errorf("%s = %v: %q, places %v", c.quantity, c.value, sentence, places)
		}
	}
}
