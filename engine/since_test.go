package engine_test

import (
	"fmt"
	"slices"
	"testing"
)

// TestSince: what is told to be other than before, of inputs, of what is computed from
// them, of items and of checks; and what is not.
func TestSince(t *testing.T) {
	const more = `
[rules.shelf.double]
unit    = "kg"
formula = "load * 2"
doc     = "x"
[rules.shelf.marks]
over     = "mark"
optional = true
[rules.shelf.wood]
type    = "text"
default = "oak"
[rules.axis.mark]
steps = 3
`
	text := func(items string) string { return fmt.Sprintf(shelves, "") + more + items }
	for _, c := range []struct {
		name, before, now string
		want              []string
	}{
		{"nothing", shelf("a", 1, 1, ""), shelf("a", 1, 1, ""), nil},
		{"an input, and what follows", shelf("a", 1, 1, ""), shelf("a", 1, 3, ""), []string{"shelf.a.load: 1 to 3", "shelf.a.double: 2 to 6"}},
		{"given now", "[shelf.a]\nprice = \"1 EUR\"\n", shelf("a", 1, 3, ""), []string{"shelf.a.load: - to 3", "shelf.a.double: - to 6"}},
		{"no longer given", shelf("a", 1, 3, ""), "[shelf.a]\nprice = \"1 EUR\"\n", []string{"shelf.a.load: 3 to -", "shelf.a.double: 6 to -"}},
		{"a text", shelf("a", 1, 1, ""), shelf("a", 1, 1, "wood = \"ash\""), []string{"shelf.a.wood: oak to ash"}},
		{"a series", shelf("a", 1, 1, "marks = [1, 2, 3]"), shelf("a", 1, 1, "marks = [1, 4, 5]"), []string{"shelf.a.marks[2]: 2 to 4 and 1 more"}},
		{"a finding", shelf("a", 1, 1, ""), shelf("a", 1, 1, "sound = false"), []string{"shelf.a.sound: yes to no", "check.broken.a: pass to stop"}},
		{"by hardly anything", shelf("a", 1, 1, ""), shelf("a", 1.000001, 1, ""), []string{"shelf.a.price: 1.000000 to 1.000001"}},
		{"by rounding", shelf("a", 1, 0.3, "tall = 2"), shelf("a", 1, 0.3, "tall = \"= 1 + 1\""), nil},
		{"an item more", shelf("a", 1, 1, ""), shelf("a", 1, 1, "") + shelf("b", 1, 1, ""), []string{"shelf.b: - to new"}},
		{"an item less", shelf("a", 1, 1, "") + shelf("b", 1, 1, ""), shelf("b", 1, 1, ""), []string{"shelf.a: there to gone"}},
	} {
		var got []string
		for _, m := range loadText(t, text(c.now)).Since(loadText(t, text(c.before))) {
			line := m.Name + ": " + m.Before + " to " + m.Now
			if m.Steps > 0 {
				line += fmt.Sprintf(" and %d more", m.Steps)
			}
			got = append(got, line)
		}
		if !slices.Equal(got, c.want) {
			t.Errorf("%s: %q, want %q", c.name, got, c.want)
		}
	}
}
