package export

import (
	"strings"
	"testing"

	"bankwright/engine/check"
	"bankwright/engine/decl"
)

func TestSheetNames(t *testing.T) {
	pl := &plan{rules: map[*check.Kind]*page{}, prog: &check.Program{}}
	for _, c := range []struct{ title, want string }{
		{"Ways to heat", "Ways to heat"},
		{"inputs", "inputs 2"}, // differs from a sheet of ours by case only
		{"History", "History 2"},
		{"A/B: what?", "A B  what"},
		{"'quoted'", "quoted"},
		{"", "Sheet"},
		{strings.Repeat("long ", 20), "long long long long long long l"},
		{strings.Repeat("long ", 21), "long long long long long lo 2"},
	} {
		got := pl.sheetName(c.title)
		if got != c.want {
			t.Errorf("%q became %q, want %q", c.title, got, c.want)
		}
		k := &check.Kind{Kind: &decl.Kind{}}
		pl.prog.Kinds = append(pl.prog.Kinds, k)
		pl.rules[k] = &page{name: got}
	}
}

// TestNames: what a spreadsheet would read as a cell, or as something of its
// own, is no name.
func TestNames(t *testing.T) {
	for _, s := range []string{"A1", "xfd1048576", "R1C1", "r", "C", "rc", "R2", "c15", "R1C", "true", "False", "LOG10"} {
		if !looksLikeCell(s) {
			t.Errorf("%s would be read as a cell", s)
		}
	}
	for _, s := range []string{"site_depth", "rate", "hour_length", "abcd1", "row", "x_1"} {
		if looksLikeCell(s) {
			t.Errorf("%s is a good name", s)
		}
	}
}

func TestQuotes(t *testing.T) {
	for _, c := range []struct{ name, want string }{
		{"Inputs", "Inputs"}, {"Ways to heat", "'Ways to heat'"}, {"Bob's", "'Bob''s'"}, {"AB12", "'AB12'"}, {"R1C1", "'R1C1'"}, {"2nd", "'2nd'"}, {"Größe", "'Größe'"},
	} {
		if got := quoteSheet(c.name); got != c.want {
			t.Errorf("%s is written %s, want %s", c.name, got, c.want)
		}
	}
	if got := quoteText(`say "so"`); got != `"say ""so"""` {
		t.Errorf("quotes: %s", got)
	}
	if got := quoteText(strings.Repeat("x", 300)); strings.Count(got, `"&"`) != 1 || len(got) != 305 {
		t.Errorf("a long text: %s", got)
	}
}

func TestColumns(t *testing.T) {
	for n, want := range map[int]string{1: "A", 26: "Z", 27: "AA", 52: "AZ", 702: "ZZ", 703: "AAA", 16384: "XFD"} {
		if got := columnName(n); got != want {
			t.Errorf("column %d is %s, want %s", n, got, want)
		}
	}
}
