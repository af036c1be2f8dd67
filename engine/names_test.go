package engine_test

import (
	"errors"
	"strings"
	"testing"

	"bankwright/engine/check"
)

// saidOf is what is wrong with a name and how to mend it.
func saidOf(err error) string {
	var m *check.Misnamed
	if errors.As(err, &m) {
		return m.Summary + " / " + m.Mend
	}
	return ""
}

// TestParseQuantity: a quantity by its kind, by its name alone where that is plain, by
// the name of a cell; and what is said of any other.
func TestParseQuantity(t *testing.T) {
	m := load(t, "testdata/good", "market_garden.toml")
	for _, c := range []struct{ name, want, fault string }{
		{"crop.price", "crop.price", ""},
		{"harvest", "bed.harvest", ""},
		{"bed.south.rain[2]", "bed.rain", ""},
		{"reserve", "", "Write crop.reserve or bed.reserve"},
		{"crop.prize", "", "price"},
		{"harvset", "", "harvest"},
	} {
		q, err := m.ParseQuantity(c.name)
		got := ""
		if q != nil {
			got = q.Kind.Name + "." + q.Name
		}
		if got != c.want || (err == nil) != (c.fault == "") || err != nil && !strings.Contains(saidOf(err), c.fault) {
			t.Errorf("%s: %q, %v", c.name, got, saidOf(err))
		}
	}
}

// TestMisnamed: what is said of names that are none of a cell.
func TestMisnamed(t *testing.T) {
	m := load(t, "testdata/good", "market_garden.toml")
	for name, want := range map[string]string{
		"bed.south":             "south is an item, not one number / Name one of its quantities, such as bed.south.harvest, bed.south.profit or bed.south.profit_share; `bankwright rules bed` lists what there is",
		"south":                 "south is an item, not one number / Name one of its quantities, such as bed.south.harvest, bed.south.profit or bed.south.profit_share; `bankwright rules bed` lists what there is",
		"bed.south.rain[2":      "bed.south.rain[2 is not the name of a cell / Write the step between brackets: bed.south.rain[1]",
		"bed.south.rain[9]":     "rain has no step \"9\" / The steps of quarter run from 1 to 4",
		"bed.south.rain[x]":     "rain has no step \"x\" / The steps of quarter run from 1 to 4",
		"bed.south.beside[oak]": "beside has no step \"oak\" / There are leek, rhubarb, chive",
		"bed.nowhere.rows":      "there is no bed named nowhere / There are north, south, leek_2",
		"bed.south.rowz":        "bed has no quantity rowz / Did you mean rows?",
		"beds.south.rows":       "there is no kind beds / Did you mean bed?",
		"bed.south.rows[1]":     "rows is one value, not a series / Leave the step out",
		"check.narrow.south":    "there is no check narrow / There are cold, wide",
		"constant.hectar":       "constant has no quantity hectar / Did you mean hectare?",
	} {
		if _, err := m.ParseCell(name); saidOf(err) != want {
			t.Errorf("%q: %q", name, saidOf(err))
		}
	}
}
