package decl

import (
	"cmp"
	"slices"
)

// everyItem is the text that `each` takes in place of a list: every item of the
// kind that the input refers to.
const everyItem = "all"

// later is a table of combinations that takes every item of a kind, and so
// waits until the items of that kind are known.
type later struct {
	e          *entry
	each, keep *node
	again      bool
}

// everyOf is the kind of which a value under `each` takes every item, or nil.
func (l *loader) everyOf(k *Kind, n *node) *Kind {
	if q := l.byName[k][n.key]; q != nil && n.kind == textNode && n.text == everyItem && q.Type == Reference {
		return q.Refers
	}
	return nil
}

// waits are the kinds of which `each` takes every item.
func (l *loader) waits(k *Kind, each *node) []*Kind {
	var out []*Kind
	for _, n := range each.kids {
		if of := l.everyOf(k, n); of != nil {
			out = append(out, of)
		}
	}
	return out
}

// combineLater makes the combinations that had to wait, those first whose kinds
// wait for nothing more, and puts all items back in the order of the files.
func (l *loader) combineLater() {
	if len(l.later) == 0 {
		return
	}
	for len(l.later) > 0 {
		open := map[*Kind]bool{}
		for _, w := range l.later {
			open[w.e.kind] = true
		}
		ready := func(w later) bool {
			return !slices.ContainsFunc(l.waits(w.e.kind, w.each), func(k *Kind) bool { return open[k] })
		}
		var rest []later
		for _, w := range l.later {
			if !ready(w) {
				rest = append(rest, w)
				continue
			}
			l.combine(w.e, w.each, w.keep, w.again)
		}
		if len(rest) == len(l.later) {
			l.circle(rest)
			break
		}
		l.later = rest
		l.inFileOrder() // what waits for these items takes them in this order
	}
	l.later = nil
}

// circle tells of combinations of which each waits for others.
func (l *loader) circle(rest []later) {
	for _, w := range rest {
		for _, n := range w.each.kids {
			if of := l.everyOf(w.e.kind, n); of != nil {
				l.diags.Errorf(n.at, "cycle", "Name them in a list between [ and ].",
					"\"all\" goes in a circle: which %s there are depends on these combinations", of.Plural)
				break
			}
		}
		w.e.part, l.partial[w.e.kind] = true, true
		w.e.item.Keep = l.condition(w.e, w.keep)
		l.addEntry(w.e, w.again)
	}
}

// inFileOrder sorts entries and items by the tables that they come from.
func (l *loader) inFileOrder() {
	slices.SortStableFunc(l.entries, func(a, b *entry) int { return cmp.Compare(a.place, b.place) })
	place := map[*Item]int{}
	for _, e := range l.entries {
		place[e.item] = e.place
	}
	for _, k := range l.model.Kinds {
		slices.SortStableFunc(k.Items, func(a, b *Item) int { return cmp.Compare(place[a], place[b]) })
	}
}

// every is a value under `each` for every item of the kind that q refers to; nil
// where that is at fault, which is then told.
func (l *loader) every(q *Quantity, n *node) []*node {
	switch {
	case q.Type == Set:
		l.diags.Errorf(n.at, "wrong-type", "Write a list of lists, such as [[\"…\"], [\"…\", \"…\"]].",
			"\"all\" stands for one %s after another, but `%s` names several at once", q.Refers.Name, q.Name)
		return nil
	case q.Type != Reference:
		l.diags.Errorf(n.at, "wrong-type", "Write a list of values between [ and ].",
			"\"all\" stands for every item that an input may refer to, but `%s` refers to nothing", q.Name)
		return nil
	case len(q.Refers.Items) == 0:
		if !l.unread {
			l.diags.Errorf(n.at, "missing", "Add ["+q.Refers.Name+"."+q.Refers.Name+"_1] with its values.",
				"there are no %s for `%s`", q.Refers.Plural, q.Name)
		}
		return nil
	}
	var out []*node
	for _, it := range q.Refers.Items {
		out = append(out, &node{kind: textNode, text: it.Name, written: n.written, at: n.at, keyAt: n.at})
	}
	return out
}
