package decl

import (
	"strconv"
	"strings"
	"unicode/utf8"

	"bankwright/engine/diag"
)

// Limits on a scenario, combinations included.
const (
	maxItems  = 10_000
	maxValues = 5_000_000 // items times quantities of their kind
)

// entry is an item with what its table says of it.
type entry struct {
	kind   *Kind
	item   *Item
	table  *node // nil where the scenario says nothing
	values []assignment
	part   bool // what `each` varies is at fault and left out
	place  int  // of the table among all of the files
}

// assignment is a value for a quantity.
type assignment struct {
	q *Quantity
	n *node
}

func (e *entry) value(name string) *node {
	for _, a := range e.values {
		if a.q.Name == name {
			return a.n
		}
	}
	return nil
}

// assign finds the quantities that the keys of a table name.
func (l *loader) assign(e *entry, table *node) {
	for _, n := range table.kids {
		switch n.key {
		case "each", "keep":
			continue
		case "label":
			f := &fields{l: l, n: table, ok: true}
			e.item.Label = f.heading("label", MaxLabel, shortLabel)
			continue
		}
		if q := l.input(e.kind, n); q != nil {
			e.values = append(e.values, assignment{q, n})
		} else if near := l.byName[e.kind][l.near(n.key, quantityNames(e.kind))]; near != nil && e.value(near.Name) == nil {
			// Most likely this one was meant: it is not missing as well.
			e.values = append(e.values, assignment{near, &node{bad: true}})
		}
	}
}

// input is the quantity that a key names, or nil where nothing can be given
// under that name.
func (l *loader) input(k *Kind, n *node) *Quantity {
	q := l.byName[k][n.key]
	switch {
	case q == nil && l.unread:
	case q == nil && !k.Many && n.kind == tableNode:
		l.diags.Errorf(n.keyAt, "unknown-name", "Write ["+k.Name+"] and the values below it.",
			"there is only one `%s`: it takes no names, and has no quantity `%s`", k.Name, shorten(n.key, 60))
	case q == nil:
		l.diags.Errorf(n.keyAt, "unknown-name", l.nearInput(k, n.key), "`%s` is not a quantity of %s", shorten(n.key, 60), k.Name)
	case q.Computed():
		l.diags.Add(diag.Diagnostic{Code: "computed", At: n.keyAt,
			Summary: "`" + q.Name + "` is computed; it cannot be given",
			Mend:    "Leave it out, or give what it is computed from: " + q.origin() + ".",
			Related: []diag.Related{{At: q.At, Text: "computed here"}}})
	default:
		return q
	}
	return nil
}

// variation is an input that `each` varies.
type variation struct {
	q      *Quantity
	values []*node
}

// combine makes an item for every combination of the values under `each`, the
// last key running fastest.
func (l *loader) combine(e *entry, each, keep *node, again bool) {
	varied, total := l.variations(e, each)
	condition := l.condition(e, keep)
	e.item.Keep = condition // which is checked whatever the rest is

	if total == 0 || !l.room(e.kind, total, each) { // nothing to combine, or a fault: what stands beside is still read
		e.part, l.partial[e.kind] = true, true
		l.addEntry(e, again)
		return
	}
	group := make([]*entry, total)
	for i := range group {
		it := &Item{Given: map[string]*Given{}, Group: e.item.Name, Keep: condition, At: e.item.At}
		c := &entry{kind: e.kind, item: it, table: e.table, place: e.place, values: append([]assignment(nil), e.values...)}
		rest := i
		picks := make([]assignment, len(varied))
		for j := len(varied) - 1; j >= 0; j-- {
			v := varied[j]
			picks[j] = assignment{v.q, v.values[rest%len(v.values)]}
			rest /= len(v.values)
		}
		c.values = append(c.values, picks...)
		group[i] = c
	}
	l.nameGroup(e, group)
	l.groups[e.kind][e.item.Name] = group[0].item
	for _, c := range group {
		l.addEntry(c, again || !l.freeName(c))
	}
}

// condition is what combinations must meet to stay, or nil.
func (l *loader) condition(e *entry, keep *node) *Formula {
	if keep == nil {
		return nil
	}
	f := &fields{l: l, n: e.table, ok: true}
	return f.formula("keep", false)
}

// room reports whether there is room for n more items, and says so where they
// pass a limit first.
func (l *loader) room(k *Kind, n int, at *node) bool {
	full := l.count > maxItems || l.cells > maxValues
	l.count += n
	l.cells += n * len(k.Quantities)
	switch {
	case full:
		return false
	case l.count > maxItems:
		l.diags.Errorf(at.keyAt, "limit", "Vary fewer values.", "the scenario has more than 10,000 items")
	case l.cells > maxValues:
		l.diags.Errorf(at.keyAt, "limit", "Vary fewer values.", "the scenario has more than 5,000,000 values")
	default:
		return true
	}
	return false
}

// variations reads `each`; total is the number of combinations, 0 where it is
// at fault.
func (l *loader) variations(e *entry, each *node) (varied []variation, total int) {
	if each.kind != tableNode {
		l.diags.Errorf(each.at, "wrong-type", "Write each = { NAME = [1, 2] }.", "`each` is a table of lists, not %s", each.what())
		return nil, 0
	}
	total = 1
	for _, n := range each.kids {
		q := l.input(e.kind, n)
		switch {
		case q == nil:
			total = 0
			continue
		case e.value(q.Name) != nil:
			l.diags.Errorf(n.keyAt, "duplicate", "Keep one of the two.", "`%s` is given both in `each` and beside it", q.Name)
			total = 0
		case n.kind == textNode && n.text == everyItem:
			if all := l.every(q, n); len(all) > 0 {
				varied = append(varied, variation{q, all})
				total = min(total*len(all), maxItems+1)
				continue
			}
			total = 0
		case n.kind != listNode && q.Type == Reference:
			l.diags.Errorf(n.at, "wrong-type", "Write a list of names between [ and ], or \"all\" for every "+q.Refers.Name+".", "`each` takes a list of values for `%s`, not %s", q.Name, n.what())
			total = 0
		case n.kind != listNode:
			l.diags.Errorf(n.at, "wrong-type", "Write a list of values between [ and ].", "`each` takes a list of values for `%s`, not %s", q.Name, n.what())
			total = 0
		case len(n.kids) == 0:
			l.diags.Errorf(n.at, "missing", "Give at least one value.", "there are no values for `%s`", q.Name)
			total = 0
		default:
			varied = append(varied, variation{q, n.kids})
			total = min(total*len(n.kids), maxItems+1)
		}
	}
	if len(each.kids) == 0 {
		l.diags.Errorf(each.at, "missing", "Name an input with a list of values.", "`each` is empty")
		total = 0
	}
	return varied, total
}

// nameGroup names the combinations of a table: by the form that the kind
// declares where that tells them apart, else by the table's name and a number.
func (l *loader) nameGroup(e *entry, group []*entry) {
	seen := map[string]bool{}
	byForm := e.kind.NameForm != ""
	for _, c := range group {
		name, ok := fillIn(e.kind.NameForm, c)
		c.item.Name = suggestName(name)
		if !ok || c.item.Name == "" || seen[c.item.Name] {
			byForm = false
			break
		}
		seen[c.item.Name] = true
	}
	for i, c := range group {
		number := strconv.Itoa(i + 1)
		if !byForm {
			c.item.Name = e.item.Name + "_" + number
		}
		if e.item.Label == "" {
			continue
		}
		c.item.Label = e.item.Label + " " + number
		if label, ok := fillIn(e.item.Label, c); ok && label != e.item.Label {
			c.item.Label = label
		}
	}
	l.labelsFit(e, group)
}

// labelsFit refuses labels of combinations that are too long, once for all of a table.
func (l *loader) labelsFit(e *entry, group []*entry) {
	if utf8.RuneCountInString(e.item.Label) > MaxLabel {
		return // told where it was read
	}
	for _, c := range group {
		if n := utf8.RuneCountInString(c.item.Label); n > MaxLabel {
			l.diags.Errorf(e.table.get("label").at, "text", "Shorten it: values or a number go with it.",
				"the label of the combination `%s` has %d characters, and no more than %d have room", c.item.Name, n, MaxLabel)
			return
		}
	}
}

// fillIn puts values as written into a text for the names between braces. It
// is false where one has no value.
func fillIn(form string, e *entry) (string, bool) {
	ok := true
	text := placeholder.ReplaceAllStringFunc(form, func(s string) string {
		name := strings.Trim(s, "{}")
		if n := e.value(name); n != nil {
			return n.shown()
		}
		for _, q := range e.kind.Quantities {
			if q.Name == name && q.Default != nil {
				return q.Default.Written
			}
		}
		ok = false
		return s
	})
	return text, ok
}

// freeName reports whether no other item has the name of a combination.
func (l *loader) freeName(e *entry) bool {
	key := e.kind.Name + " " + e.item.Name
	first, again := l.named[key]
	if !again {
		l.named[key] = e.item.At
		return true
	}
	mend := "Give the item another name."
	if first == e.item.At {
		mend = "Give the table another name: its combinations are named after it."
	}
	l.diags.Add(diag.Diagnostic{Code: "duplicate", At: e.item.At,
		Summary: "a combination would be named `" + e.item.Name + "`, which is already given at " + placed(first, e.item.At),
		Mend:    mend,
		Related: []diag.Related{{At: first, Text: "first given here"}}})
	return false
}
