package engine

import (
	"context"

	"bankwright/engine/sweep"
)

// watchedReach is how far an input that is watched is moved, where no limit of its
// own comes first: to a tenth, and to ten times.
const watchedReach = 10

// Margins tells how far each input that the rules watch may move before another
// item is best than the one of the comparison; none where nothing is best, or where
// the model is too large for an answer at once.
func (m *Model) Margins(c *Comparison) []sweep.Margin {
	best, ok := c.Best()
	if !ok || len(c.Kind.Items) < 2 {
		return nil
	}
	var ranges []sweep.Range
	for _, e := range c.Kind.Watch {
		cell, ok := m.Result.Target(e, best.Item)
		if !ok {
			continue
		}
		v := m.Result.At(cell.Quantity, cell.Item, cell.Row)
		if !(v > 0) {
			continue
		}
		ranges = append(ranges, sweep.Range{Cell: cell, Low: v / watchedReach, High: v * watchedReach}.Within())
	}
	all, err := sweep.Margins(context.Background(), m.Program, m.Result, best.Item, ranges)
	if err != nil { // nothing interrupts it, and a few values can always be counted
		return nil
	}
	var out []sweep.Margin
	for _, x := range all {
		if !x.Heavy {
			out = append(out, x)
		}
	}
	return out
}
