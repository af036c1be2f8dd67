package decl

import (
	"fmt"
	"slices"
	"strings"
	"unicode/utf8"

	"bankwright/engine/diag"
)

// fields reads the keys of one table whose keys are fixed.
type fields struct {
	l    *loader
	n    *node
	what string // what the table declares, for messages: "a kind"
	ok   bool   // no fault so far
}

// fields checks that a value is a table and that all of its keys are known: those of
// keysOf, and the names that are its own. It is nil where the value is no table.
func (l *loader) fields(n *node, what string, own ...string) *fields {
	if n.bad {
		return nil
	}
	if n.kind != tableNode {
		l.diags.Errorf(n.at, "wrong-type", "Write its keys between { and }, or under a heading between [ and ].", "%s is declared by a table, not by %s", what, n.what())
		return nil
	}
	f := &fields{l: l, n: n, what: what, ok: true}
	for _, kid := range n.kids {
		if !slices.Contains(keysOf[what], kid.key) && !slices.Contains(own, kid.key) {
			f.ok = false
			l.diags.Errorf(kid.keyAt, "unknown-key", l.didYouMean(kid.key, append(slices.Clone(keysOf[what]), own...)), "`%s` is not a key of %s", kid.key, what)
		}
	}
	return f
}

// fault reports an error and remembers that there was one.
func (f *fields) fault(at diag.Pos, code, mend, format string, args ...any) {
	f.ok = false
	f.l.diags.Errorf(at, code, mend, format, args...)
}

// has reports whether a key is given.
func (f *fields) has(key string) bool { return f.n.get(key) != nil }

// text is the text of a key; where it must be given, a missing one is an error.
func (f *fields) text(key string, must bool) string {
	n := f.n.get(key)
	if n == nil {
		if must {
			f.missing(key)
		}
		return ""
	}
	if !f.kind(n, textNode, "is text", "Put it between quotes.") {
		return ""
	}
	if must && strings.TrimSpace(n.text) == "" {
		f.fault(n.at, "missing", "Write something between the quotes.", "`%s` is empty", key)
	}
	return strings.TrimSpace(n.text)
}

// Longest texts of a scenario, in characters: they stand in headings and in sentences,
// which have so much room.
const (
	MaxTitle = 200
	MaxLabel = 60
)

// heading is the text of a key that may be left out, of at most so many characters.
func (f *fields) heading(key string, most int, mend string) string {
	text := f.text(key, false)
	if n := utf8.RuneCountInString(text); n > most {
		f.fault(f.n.get(key).at, "text", mend, "`%s` has %d characters, and no more than %d have room", key, n, most)
	}
	return text
}

// title is the text of a heading for people.
func (f *fields) title(key string) string {
	return f.heading(key, MaxTitle, "Shorten it; a longer story has room in `about`, at the top of the scenario.")
}

const shortLabel = "Shorten it to what tells the item apart; a remark may stand behind # in a line of its own."

func (f *fields) missing(key string) {
	f.fault(f.n.keyAt, "missing", fmt.Sprintf("Add %s = \"…\".", key), "%s needs `%s`", f.what, key)
}

// kind checks what a value is.
func (f *fields) kind(n *node, kind nodeKind, is, mend string) bool {
	if n.bad {
		f.ok = false
		return false
	}
	if n.kind != kind {
		f.fault(n.at, "wrong-type", mend, "`%s` %s, not %s", n.key, is, n.what())
		return false
	}
	return true
}

// truth is a key that is true or false; false where it is not given.
func (f *fields) truth(key string) bool {
	n := f.n.get(key)
	return n != nil && f.kind(n, boolNode, "is true or false", "Write true or false, without quotes.") && n.truth
}

// integer is a whole number between two limits, or the fallback.
func (f *fields) integer(key string, low, high, fallback int) int {
	n := f.n.get(key)
	if n == nil || !f.kind(n, numberNode, "is a whole number", "Write a number without quotes.") {
		return fallback
	}
	if !n.whole || n.number < float64(low) || n.number > float64(high) {
		f.fault(n.at, "bounds", "Write a whole number in that range.", "`%s` is a whole number from %d to %d, not %s", key, low, high, n.written)
		return fallback
	}
	return int(n.number)
}

// texts are the entries of a list of texts, those at fault left out. A single text counts as a list of
// one where that is allowed.
func (f *fields) texts(key string, single bool) []*node {
	n := f.n.get(key)
	if n == nil || n.bad {
		return nil
	}
	if single && n.kind == textNode {
		return []*node{n}
	}
	if !f.kind(n, listNode, "is a list of texts", `Write ["…", "…"].`) {
		return nil
	}
	var out []*node
	for _, kid := range n.kids {
		switch {
		case kid.bad:
			f.ok = false
		case kid.kind != textNode:
			f.fault(kid.at, "wrong-type", "Put it between quotes.", "`%s` is a list of texts, and this is %s", key, kid.what())
		default:
			out = append(out, kid)
		}
	}
	return out
}

// formula is the formula of a key, or nil.
func (f *fields) formula(key string, must bool) *Formula {
	n := f.n.get(key)
	if n == nil {
		if must {
			f.missing(key)
		}
		return nil
	}
	if !f.kind(n, textNode, "is a formula between quotes", "Put it between quotes.") {
		return nil
	}
	out := n.formula()
	if out.Text == "" {
		f.fault(n.at, "missing", "Write a formula between the quotes.", "the formula is empty")
		return nil
	}
	return out
}

// clash reports keys that do not go together with another.
func (f *fields) clash(because string, keys ...string) {
	for _, key := range keys {
		if n := f.n.get(key); n != nil {
			f.fault(n.keyAt, "conflict", "Leave one of them out.", "`%s` does not go with %s", key, because)
		}
	}
}

// plain are the texts of nodes.
func plain(nodes []*node) []string {
	var out []string
	for _, n := range nodes {
		out = append(out, n.text)
	}
	return out
}
