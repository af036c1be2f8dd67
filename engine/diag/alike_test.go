package diag

import (
	"slices"
	"testing"
)

func TestAlike(t *testing.T) {
	names := []string{"first_cost", "yearly_cost", "cost", "price", "cost_of_first_year", "year"}
	for _, c := range []struct {
		name string
		most int
		want []string
	}{
		{"cost_first", 2, []string{"first_cost", "cost_of_first_year"}}, // both words
		{"cost_per_shelf", 6, []string{"cost", "first_cost", "yearly_cost", "cost_of_first_year"}},
		{"Yearly-Cost", 1, []string{"yearly_cost"}},
		{"of", 6, nil}, // too short to say anything
		{"", 6, nil},
		{"weight", 6, nil},
		{"COFY", 6, []string{"cost_of_first_year"}}, // initials
		{"c", 6, nil},
		{"cost_p", 6, []string{"cost", "first_cost", "yearly_cost", "cost_of_first_year"}},
	} {
		if got := Alike(c.name, names, c.most); !slices.Equal(got, c.want) {
			t.Errorf("%q: %q, want %q", c.name, got, c.want)
		}
	}
}
