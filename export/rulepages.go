package export

import "bankwright/engine/check"

// Rules stand on a page for each kind, and on further ones for sections that ask for them.

// rulePage is the page of a kind's rules.
func (pl *plan) rulePage(k *check.Kind) *page {
	if pg := pl.rules[k]; pg != nil {
		return pg
	}
	pg := &page{name: pl.sheetName(titleOf(k)), title: titleOf(k), lead: k.Doc, kind: k}
	pl.rules[k] = pg
	return pg
}

// pageOf is the page of a rule: that of its kind, or one that its section has of its own.
func (pl *plan) pageOf(q *check.Quantity) *page {
	if q.Sheet == "" {
		return pl.rulePage(q.Kind)
	}
	pl.rulePage(q.Kind) // it comes before
	for _, pg := range pl.apart[q.Kind] {
		if pg.title == q.Sheet {
			return pg
		}
	}
	pg := &page{name: pl.sheetName(q.Sheet), title: q.Sheet, lead: titleOf(q.Kind) + ", continued: what the rules have under " + q.Section + ".", kind: q.Kind}
	pl.apart[q.Kind] = append(pl.apart[q.Kind], pg)
	return pg
}

// rulePages are the pages of rules, in the order of their kinds.
func (pl *plan) rulePages() (out []*page) {
	for _, k := range pl.prog.Kinds {
		if pg := pl.rules[k]; pg != nil {
			out = append(append(out, pg), pl.apart[k]...)
		}
	}
	return out
}
