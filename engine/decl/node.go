package decl

import (
	"strings"

	"bankwright/engine/diag"
)

// nodeKind is what stands at a place of a document.
type nodeKind int

const (
	tableNode nodeKind = iota
	listNode
	textNode
	numberNode
	boolNode
	dateNode
)

// node is one value of a TOML document with its place. Tables keep the order
// in which their keys stand in the file.
type node struct {
	kind  nodeKind
	key   string   // in a table; empty in a list
	keyAt diag.Pos // of the key; in a list, of the value
	at    diag.Pos // of the value; of a table with a heading, its last key there

	from, to    int // bytes of the value; of a table with a heading, of the name in it
	start, last int // bytes where the key begins, and its last part

	written string // scalars: letter by letter as in the file, quotes included
	text    string
	number  float64
	whole   bool // a number without a fraction or exponent
	truth   bool
	bad     bool // its fault has been told

	kids  []*node
	index map[string]*node // tables

	heading bool // a table that has a heading of its own
	dotted  bool // a table that came about by a dotted key
	tables  bool // a list made of [[headings]]
	lost    bool // a table of which a part was given twice and left out

	braces *node // an inline table: itself; a table that dotted keys made in one: that one
}

// get is the value of a key of a table, or nil.
func (n *node) get(key string) *node { return n.index[key] }

// add puts a value into a table or a list.
func (n *node) add(kid *node) {
	n.kids = append(n.kids, kid)
	if n.kind == tableNode {
		if n.index == nil {
			n.index = map[string]*node{}
		}
		n.index[kid.key] = kid
	}
}

// what says in words what a value is.
func (n *node) what() string {
	switch n.kind {
	case tableNode:
		return "a table"
	case listNode:
		return "a list"
	case textNode:
		return "text"
	case numberNode:
		return "a number"
	case boolNode:
		return "true or false"
	}
	return "a date"
}

// shown is the value as written, without quotes, shortened where it is long.
func (n *node) shown() string {
	const most = 60
	switch n.kind {
	case textNode:
		return shorten(n.text, most)
	case listNode:
		return "[" + shorten(joinShown(n.kids), most) + "]"
	case tableNode:
		parts := make([]string, 0, len(n.kids))
		for _, kid := range n.kids {
			parts = append(parts, kid.key+" = "+kid.quoted())
			if len(parts) > 8 {
				break
			}
		}
		return "{ " + shorten(strings.Join(parts, ", "), most) + " }"
	}
	return n.written
}

// quoted is a text between quotes, as messages show it: a character that does not print is
// replaced where it is told (see diag.Write).
func quoted(text string) string {
	return `"` + strings.NewReplacer(`\`, `\\`, `"`, `\"`).Replace(text) + `"`
}

// quoted is the value as a scenario would write it.
func (n *node) quoted() string {
	if n.kind == textNode {
		return quoted(shorten(n.text, 60))
	}
	return n.shown()
}

func joinShown(nodes []*node) string {
	parts := make([]string, 0, min(len(nodes), 33))
	for _, kid := range nodes {
		if len(parts) == 32 {
			parts = append(parts, "…")
			break
		}
		parts = append(parts, kid.quoted())
	}
	return strings.Join(parts, ", ")
}

// shorten cuts a text after at most n characters.
func shorten(s string, n int) string {
	s = strings.ReplaceAll(s, "\n", " ")
	if r := []rune(s); len(r) > n {
		return string(r[:n-1]) + "…"
	}
	return s
}
