package export

import (
	"bankwright/engine/check"
)

// Not every function has a spreadsheet form. A quantity whose formula calls one
// that has none is no live formula: its cells hold what the engine computed, in
// a look of their own and under a heading that says so, and what depends on it
// is live on that value. The sheet Computed shows the inputs that it reaches,
// live and as they were, and says whether they are still the same.

const (
	computedName = "Computed"
	computedWord = " (computed)"
	computedNote = "Computed, not live: see the sheet " + computedName + "."
)

// computed is a quantity with cells that are not live.
type computed struct {
	line *line
	item int   // the only item of which the cell is not live; own: all are
	some []int // those that are not live, where item is own; nil: all
}

// cells are those that are not live.
func (c computed) cells() []influenceCell {
	if c.item != own {
		return []influenceCell{{c.line.q, c.item}}
	}
	if c.some != nil {
		out := make([]influenceCell, len(c.some))
		for i, item := range c.some {
			out[i] = influenceCell{c.line.q, item}
		}
		return out
	}
	out := make([]influenceCell, c.line.items())
	for i := range out {
		out[i] = influenceCell{c.line.q, i}
	}
	return out
}

// notLive reports whether an expression calls a function that has no
// spreadsheet form.
func notLive(e *check.Expr) bool {
	found := false
	e.Walk(func(e *check.Expr) { found = found || e.Op == check.Call && !e.Fn.Live() })
	return found
}

// freeze marks a rule whose formulas cannot be live, and reports whether that is
// so for all items. Where it is for a recording, items without one stay live.
func (pl *plan) freeze(q *check.Quantity, l *line) bool {
	if !notLive(q.Value) && !notLive(q.Start) {
		return false
	}
	if some, only := pl.recorded(q); only {
		pl.freezeSome(l, some)
		return false
	}
	pl.freezeItem(l, own)
	l.label += computedWord
	return true
}

// freezeItem marks the cells of an item, own for all, as computed.
func (pl *plan) freezeItem(l *line, item int) {
	if l.frozen == nil {
		l.frozen = map[int]bool{}
		l.note = computedNote + " " + l.note
	}
	l.frozen[item] = true
	pl.computed = append(pl.computed, computed{line: l, item: item})
}

// isFrozen reports whether an item's cells hold computed values.
func (l *line) isFrozen(item int) bool { return l.frozen[own] || l.frozen[item] }

// frozenCell is a cell with the value that the engine computed. Where there is
// none it gives the empty text, as a live formula does.
func (l *line) frozenCell(pl *plan, item, storage int) Cell {
	c := Cell{Value: pl.content(l.q, item, storage), Style: Frozen, Format: l.format}
	if l.look == ComputedText || l.look == InputText {
		c.Style = FrozenText
	}
	if c.Value == nil {
		c.Formula, c.Value = `""`, ""
	}
	return c
}
