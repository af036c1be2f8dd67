package engine

import (
	"slices"

	"bankwright/engine/decl"
	"bankwright/engine/eval"
)

// Unjudged are checks that would forbid an item and do not apply, since what
// they need is not given.
type Unjudged struct {
	Missing string   // the input that is not given: "house.slope"
	Checks  []string // the checks that need it, for any item that is shown in full
}

// Unjudged are the forbidding checks that do not apply to the items shown in
// full, by the first input that each lacks, in the order of the rules.
func (m *Model) Unjudged(c *Comparison) []Unjudged {
	var out []Unjudged
	place := map[string]int{}
	for _, s := range c.Ranked {
		if !s.Full {
			continue
		}
		for _, o := range c.Of(s.Item) {
			if o.Applicable || o.Check.Severity != decl.Stop {
				continue
			}
			cause := m.Result.Why(eval.Cell{Quantity: o.Check.Result, Item: s.Item})
			if cause.Reason != eval.Absent || cause.Cell.Quantity.IsRule() {
				continue
			}
			name := cause.Cell.Quantity.Kind.Name + "." + cause.Cell.Quantity.Name
			i, known := place[name]
			if !known {
				i = len(out)
				place[name] = i
				out = append(out, Unjudged{Missing: name})
			}
			if !slices.Contains(out[i].Checks, o.Check.Name) {
				out[i].Checks = append(out[i].Checks, o.Check.Name)
			}
		}
	}
	return out
}
