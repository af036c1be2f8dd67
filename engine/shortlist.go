package engine

import (
	"cmp"
	"slices"

	"bankwright/engine/arith"
	"bankwright/engine/check"
	"bankwright/engine/decl"
	"bankwright/engine/diag"
)

// shorten decides which items are shown in full: all, where there are no more
// than twice as many as the rules ask for; else the best of those that no check
// forbids and those that the scenario names. Where every item is forbidden the
// first ones stand for them, so that it can be seen why.
func (m *Model) shorten(c *Comparison) {
	most := c.Kind.Compare.Shortlist
	all := most <= 0 || len(c.Ranked) <= 2*most
	stopped := !slices.ContainsFunc(c.Ranked, func(s Standing) bool { return !s.Stopped })
	named := map[string]bool{}
	for _, p := range m.Model.Shortlist {
		named[p.Name] = true
	}
	for i := range c.Ranked {
		s := &c.Ranked[i]
		s.Full = all || named[c.Kind.Items[s.Item].Name]
		if (stopped || !s.Stopped) && most > 0 {
			s.Full = true
			most--
		}
	}
}

// Full are the items that are shown in full, in ranked order.
func (c *Comparison) Full() []Standing { return c.which(true) }

// Rest are the items that one table is enough for, in ranked order.
func (c *Comparison) Rest() []Standing { return c.which(false) }

func (c *Comparison) which(full bool) (out []Standing) {
	for _, s := range c.Ranked {
		if s.Full == full {
			out = append(out, s)
		}
	}
	return out
}

// Frontier are the items on the frontier that the rules ask for, the one with
// the least of the lowest-is-best quantity first; nil where none is asked for.
func (c *Comparison) Frontier() []Standing {
	if c.Kind.Compare.Frontier == nil {
		return nil
	}
	low := c.Kind.Quantity(c.Kind.Compare.Frontier.Lowest)
	var out []Standing
	for _, s := range c.Ranked {
		if s.Frontier {
			out = append(out, s)
		}
	}
	slices.SortStableFunc(out, func(a, b Standing) int { return cmp.Compare(c.at(low, a.Item), c.at(low, b.Item)) })
	return out
}

// point is an item's place between the two quantities of a frontier.
type point struct {
	ranked    int // place in Comparison.Ranked
	low, high float64
}

// beats reports whether p is at least as good as o in both and better in one.
func (p point) beats(o point) bool {
	return arith.AtMost(p.low, o.low) && arith.AtMost(o.high, p.high) &&
		(arith.Below(p.low, o.low) || arith.Below(o.high, p.high))
}

// findFrontier marks the items, of those that no check forbids and that have
// both figures, that no other one beats (the Pareto frontier: Pareto, Manuale
// di economia politica, 1906). Equal ones are on it together.
func (c *Comparison) findFrontier() {
	f := c.Kind.Compare.Frontier
	if f == nil {
		return
	}
	low, high := c.Kind.Quantity(f.Lowest), c.Kind.Quantity(f.Highest)
	var points []point
	for i, s := range c.Ranked {
		p := point{i, c.at(low, s.Item), c.at(high, s.Item)}
		if !s.Stopped && p.low == p.low && p.high == p.high {
			points = append(points, p)
		}
	}
	slices.SortStableFunc(points, func(a, b point) int {
		return cmp.Or(cmp.Compare(a.low, b.low), cmp.Compare(b.high, a.high))
	})
	// In this order nearly all are beaten by one that stands before them; what
	// the tolerance lets a later one beat is left to a second pass.
	front := unbeaten(points, true)
	for _, p := range unbeaten(front, false) {
		c.Ranked[p.ranked].Frontier = true
	}
}

// unbeaten are the points that none beats: of those kept so far, or of all.
func unbeaten(points []point, before bool) (out []point) {
	for _, p := range points {
		by := points
		if before {
			by = out
		}
		if !slices.ContainsFunc(by, func(o point) bool { return o.beats(p) }) {
			out = append(out, p)
		}
	}
	return out
}

// Stops are the checks that forbid items of a list, each with how many items it
// is the first to forbid, in the order of the rules.
func (c *Comparison) Stops(list []Standing) (checks []*check.Check, counts []int) {
	for _, s := range list {
		for _, o := range c.Of(s.Item) {
			if !o.Failed() || o.Check.Severity != decl.Stop {
				continue
			}
			i := slices.Index(checks, o.Check)
			if i < 0 {
				i = len(checks)
				checks, counts = append(checks, o.Check), append(counts, 0)
			}
			counts[i]++
			break
		}
	}
	return checks, counts
}

// Gravest is the finding that speaks most against an item: of the checks that
// it fails, the first of the gravest severity; nil where it passes all.
func (c *Comparison) Gravest(item int) *Outcome {
	var worst *Outcome
	list := c.Of(item)
	for i := range list {
		if o := &list[i]; o.Failed() && (worst == nil || o.Check.Severity < worst.Check.Severity) {
			worst = o
		}
	}
	return worst
}

// lostPicks tells of items that the scenario wants shown in full and that are
// not there, since a condition left them out.
func (m *Model) lostPicks() (list diag.List) {
	k := m.Compared()
	for _, p := range m.Model.Shortlist {
		if k != nil && k.Item(p.Name) < 0 {
			list.Errorf(p.At, "conflict", "Take it off the list, or loosen the condition.", "`%s` is to be shown in full, but `keep` leaves it out", p.Name)
		}
	}
	return list
}
