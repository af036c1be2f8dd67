package decl

import (
	"cmp"
	"slices"
	"strings"
)

// inline is what becomes of an inline table: which of its values it loses, and what
// it comes to hold besides. All of it is known before a byte changes, since the commas
// go by what stays.
type inline struct {
	lost  map[*node]bool
	added []string // key = value
}

// setInline leaves the value n of an input out of a table between braces, or out of
// one that dotted keys made there, or adds one; false where that cannot be written.
func (d *document) setInline(t, n *node, q *Quantity, v Revision) bool {
	in := d.inline[t.braces]
	if in == nil {
		in = &inline{lost: map[*node]bool{}}
		if d.inline == nil {
			d.inline = map[*node]*inline{}
		}
		d.inline[t.braces] = in
	}
	switch {
	case v.Absent && n.dotted:
		for _, e := range entries(n) {
			in.lost[e] = true
		}
		return true
	case v.Absent:
		in.lost[n] = true
		return true
	}
	prefix := ""
	if t != t.braces { // { a.period = …, a.rate = … }
		i := slices.IndexFunc(t.kids, func(kid *node) bool { return !kid.dotted })
		if i < 0 {
			return false
		}
		prefix = string(d.data[t.kids[i].start:t.kids[i].last])
	}
	in.added = append(in.added, prefix+q.Name+" = "+d.value(q, v))
	return true
}

// entries are the values of a table between braces as commas part them, those that
// stand under dotted keys among them.
func entries(t *node) (out []*node) {
	for _, kid := range t.kids {
		if kid.dotted {
			out = append(out, entries(kid)...)
		} else {
			out = append(out, kid)
		}
	}
	slices.SortFunc(out, func(a, b *node) int { return cmp.Compare(a.start, b.start) })
	return out
}

// edits are those of the table t. A value goes with the comma before it, or with the
// one behind where no value stays before it.
func (in *inline) edits(t *node) (out []edit) {
	all, added := entries(t), strings.Join(in.added, ", ")
	first := slices.IndexFunc(all, func(n *node) bool { return !in.lost[n] })
	switch {
	case len(all) == 0:
		return []edit{{t.from + 1, t.to - 1, " " + added + " "}}
	case first < 0:
		return []edit{{all[0].start, all[len(all)-1].to, added}}
	}
	for i, n := range all {
		switch {
		case !in.lost[n]:
		case i < first:
			out = append(out, edit{n.start, all[i+1].start, ""})
		default:
			out = append(out, edit{all[i-1].to, n.to, ""})
		}
	}
	if added != "" {
		end := all[len(all)-1].to
		out = append(out, edit{end, end, ", " + added})
	}
	return out
}
