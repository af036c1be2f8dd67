package decl

import (
	"bankwright/engine/diag"
)

// Limits and default of how many items of a comparison are shown in full.
const (
	defaultShortlist = 6
	maxShortlist     = 200
)

// Frontier names two quantities that pull against each other: of the items that
// may be built, those matter of which no other is at least as good in both and
// better in one.
type Frontier struct {
	Lowest  string // the quantity of which little is good
	Highest string // the quantity of which much is good
	At      diag.Pos
}

// Named is a name that a scenario writes down, with its place.
type Named struct {
	Name string
	At   diag.Pos
}

// shortlisting reads what `compare` says of many items.
func (l *loader) shortlisting(c *Compare, f *fields) {
	c.Shortlist = f.integer("shortlist", 1, maxShortlist, defaultShortlist)
	c.Table = plain(f.texts("table", false))
	n := f.n.get("frontier")
	if n == nil {
		return
	}
	in := l.fields(n, "`frontier`")
	if in == nil {
		return
	}
	front := &Frontier{Lowest: in.text("lowest", true), Highest: in.text("highest", true), At: n.keyAt}
	if front.Lowest != "" && front.Lowest == front.Highest {
		in.fault(n.keyAt, "duplicate", "Name two quantities that pull against each other.", "`frontier` names `%s` twice", front.Lowest)
	}
	if in.ok {
		c.Frontier = front
	}
}

// readShortlist reads which items the scenario wants shown in full, once all
// items are known.
func (l *loader) readShortlist() {
	if l.header == nil || l.header.get("shortlist") == nil {
		return
	}
	f := &fields{l: l, n: l.header, what: "a scenario", ok: true}
	var compared *Kind
	for _, k := range l.model.Kinds {
		if k.Compare != nil && compared == nil {
			compared = k
		}
	}
	if compared == nil {
		if !l.unread {
			l.diags.Errorf(l.header.get("shortlist").keyAt, "conflict", "Leave it out.", "`shortlist` names items to compare, but these rules compare nothing")
		}
		return
	}
	seen := map[string]bool{}
	for _, n := range f.texts("shortlist", true) {
		switch {
		case seen[n.text]:
			l.diags.Errorf(n.at, "duplicate", "Leave it out.", "`%s` is named twice", shorten(n.text, 60))
		case l.isItem(n, compared):
			l.model.Shortlist = append(l.model.Shortlist, Named{n.text, n.at})
		}
		seen[n.text] = true
	}
}
