package export

import (
	"testing"

	"bankwright/rules"
	"bankwright/scenarios"
)

// TestSheetOfSection: the rules under a heading that asks for it stand on a sheet of their
// own, behind that of their kind, live, with the names and labels of its items.
func TestSheetOfSection(t *testing.T) {
	pl := plotBook(load(t, scenarios.Files, "quarry_house.toml", rules.Files), nil)
	if err := pl.book.fill(); err != nil {
		t.Fatal(err)
	}
	var before string
	for _, s := range pl.book.Sheets {
		if s.Name == "Parts" && before != "Alternatives" {
			t.Errorf("Parts stands behind %s", before)
		}
		before = s.Name
	}
	parts, alternatives := pl.book.Find("Parts"), pl.book.Find("Alternatives")
	if parts == nil {
		t.Fatal("there is no sheet Parts")
	}
	row := func(s *Sheet, label string) int {
		for r := range s.Rows() {
			if s.At(r+1, labelCol).Value == label {
				return r + 1
			}
		}
		return 0
	}
	for _, label := range []string{"Cable lugs", "Cable of the main run", "Price of cable lugs", "Price of the parts list"} {
		r := row(parts, label)
		if r == 0 || row(alternatives, label) != 0 {
			t.Errorf("%s stands in row %d of Parts and row %d of Alternatives", label, r, row(alternatives, label))
			continue
		}
		if c := parts.At(r, itemCol); c.Formula == "" || c.Value == nil || c.Value == "" {
			t.Errorf("%s is %v, of %q", label, c.Value, c.Formula)
		}
	}
	if got := parts.At(ruleRow, itemCol+3).Value; got != "4 slate by links" {
		t.Errorf("the label of the fourth is %v", got)
	}
}
