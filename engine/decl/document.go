package decl

import (
	"bytes"
	"fmt"
	"strconv"
	"strings"

	"github.com/pelletier/go-toml/v2/unstable"

	"bankwright/engine/diag"
)

// parse reads a TOML document into a tree with the place of every key and
// value. It is nil where the file cannot be used at all.
//
// Two libraries share the work: one tells where each key and value stands, the
// other reads the values and judges the syntax. The first knows nothing of
// keys given twice; these are found here, so that all of them are told, and
// taken out of what the second gets to read.
func parse(name string, data []byte, diags *diag.List) *node {
	return parseFile(name, data, false, diags)
}

// parseFile is parse. Of known files the syntax is right (a test reads them by both
// libraries): where they hold nothing but plain values, the first has read these
// already.
func parseFile(name string, data []byte, known bool, diags *diag.List) *node {
	if !bounded(name, data, diags) {
		return nil
	}
	b := builder{lines: newLines(name, data), data: data, diags: diags, plainly: true}
	b.root = &node{kind: tableNode, at: diag.Pos{File: name}, keyAt: diag.Pos{File: name}, heading: true}
	b.current = b.root
	if message, offset := b.walk(); message != "" {
		if !syntaxFaults(b.lines, data, diags) {
			diags.Errorf(b.lines.pos(offset, 1), "syntax", lookAround, "the file cannot be read from here on")
		}
		return nil
	}
	if known && b.plainly && len(b.edits) == 0 || b.decode() {
		return b.root
	}
	return nil
}

// builder makes the tree of one document.
type builder struct {
	lines         *lines
	data          []byte
	diags         *diag.List
	root, current *node

	plainly bool // the values of all nodes are those that the first library tells

	edits  []edit // keys given twice, renamed for the second library
	filler string // what their new names begin with
}

// edit replaces bytes [from, to) of the document.
type edit struct {
	from, to int
	text     string
}

// keyPart is one part of a dotted key.
type keyPart struct {
	name     string
	from, to int // bytes
}

// walk builds the tree. Where the syntax is wrong it returns a message and the
// byte offset.
func (b *builder) walk() (message string, offset int) {
	var p unstable.Parser
	p.Reset(b.data)
	for p.NextExpression() {
		e := p.Expression()
		switch e.Kind {
		case unstable.Table, unstable.ArrayTable:
			b.heading(keyParts(e), e.Kind == unstable.ArrayTable)
		case unstable.KeyValue:
			b.keyValue(b.current, e)
		}
	}
	err := p.Error()
	if err == nil {
		return "", 0
	}
	if pe, ok := err.(*unstable.ParserError); ok {
		return pe.Message, int(p.Range(pe.Highlight).Offset)
	}
	return "unreadable", 0
}

func keyParts(e *unstable.Node) []keyPart {
	var parts []keyPart
	for it := e.Key(); it.Next(); {
		k := it.Node()
		from := int(k.Raw.Offset)
		parts = append(parts, keyPart{string(k.Data), from, from + int(k.Raw.Length)})
	}
	return parts
}

func (b *builder) keyPos(k keyPart) diag.Pos { return b.lines.pos(k.from, k.to-k.from) }

// heading opens the table of [a.b] or the next entry of [[a.b]].
func (b *builder) heading(parts []keyPart, entry bool) {
	last := parts[len(parts)-1]
	t, ok := b.descend(b.root, parts, false)
	if !ok {
		b.current = &node{kind: tableNode}
		return
	}
	at := b.keyPos(last)
	fresh := &node{kind: tableNode, key: last.name, keyAt: at, at: at, heading: true, from: parts[0].from, to: last.to}
	old := t.get(last.name)
	switch {
	case old == nil && entry:
		t.add(&node{kind: listNode, key: last.name, keyAt: at, at: at, tables: true, kids: []*node{fresh}})
	case old == nil:
		t.add(fresh)
	case entry && old.kind == listNode && old.tables:
		old.add(fresh)
	case !entry && old.kind == tableNode && !old.heading && !old.dotted && old.braces == nil:
		old.heading, old.keyAt, old.at, old.from, old.to = true, at, at, fresh.from, fresh.to
		fresh = old
	default:
		b.twice(parts, len(parts)-1, old)
		t.lost = true
		fresh = &node{kind: tableNode}
	}
	b.current = fresh
}

// descend goes from a table to the one in which the last part of a key stands,
// making the tables on the way.
func (b *builder) descend(t *node, parts []keyPart, dotted bool) (*node, bool) {
	for i, k := range parts[:len(parts)-1] {
		next := t.get(k.name)
		if next == nil {
			at := b.keyPos(k)
			next = &node{kind: tableNode, key: k.name, keyAt: at, at: at, dotted: dotted}
			t.add(next)
		}
		if next.kind == listNode && next.tables && !dotted {
			next = next.kids[len(next.kids)-1]
		}
		if next.kind != tableNode || next.braces != nil || dotted && next.heading {
			b.twice(parts, i, next)
			return nil, false
		}
		t = next
	}
	return t, true
}

// twice reports a key that was given before as old, and renames it in what is
// decoded.
func (b *builder) twice(parts []keyPart, i int, old *node) {
	names := make([]string, i+1)
	for j := range names {
		names[j] = parts[j].name
	}
	at := b.keyPos(parts[i])
	b.diags.Add(diag.Diagnostic{
		Code: "duplicate", At: at,
		Summary: fmt.Sprintf("`%s` is already given at line %d", strings.Join(names, "."), old.keyAt.Line),
		Mend:    "Keep one of the two, or give one another name.",
		Related: []diag.Related{{At: old.keyAt, Text: "first given here"}},
	})
	for b.filler == "" || bytes.Contains(b.data, []byte(b.filler)) && len(b.edits) == 0 {
		b.filler += "again "
	}
	b.edits = append(b.edits, edit{parts[0].from, parts[len(parts)-1].to, fmt.Sprintf(`"%s%d"`, b.filler, len(b.edits))})
}

// keyValue puts `key = value` into a table and returns the place behind it.
func (b *builder) keyValue(t *node, e *unstable.Node) int {
	parts := keyParts(e)
	last := parts[len(parts)-1]
	at := b.keyPos(last)
	in, ok := b.descend(t, parts, true)
	if ok {
		if old := in.get(last.name); old != nil {
			b.twice(parts, len(parts)-1, old)
			ok = false
		}
	}
	equals := b.skipBlanks(last.to)
	n, end := b.value(e.Value(), b.skipBlanks(equals+1))
	n.key, n.keyAt, n.start, n.last = last.name, at, parts[0].from, last.from
	if ok {
		in.add(n)
	}
	return end
}

// value makes the tree of the value that starts at a byte offset, and returns
// the offset behind it.
func (b *builder) value(v *unstable.Node, start int) (*node, int) {
	n := &node{at: b.lines.pos(start, int(v.Raw.Length)), from: start}
	n.keyAt = n.at
	end := start + int(v.Raw.Length)
	switch v.Kind {
	case unstable.Array, unstable.InlineTable:
		end = b.inside(n, v, start+1)
		n.at.Len = b.lines.width(start, end)
		n.keyAt, n.to = n.at, end
		return n, end
	case unstable.String:
		n.kind = textNode
	case unstable.Bool:
		n.kind = boolNode
	case unstable.Integer, unstable.Float:
		n.kind, n.whole = numberNode, v.Kind == unstable.Integer
	default:
		n.kind = dateNode
	}
	n.written, n.to = string(b.data[start:end]), end
	b.plainly = b.plain(n, v.Data) && b.plainly
	return n, end
}

// plain enters a value as the first library tells it: a text without control
// characters, a truth or a number of digits and one point at most. Others it leaves.
func (b *builder) plain(n *node, told []byte) bool {
	switch n.kind {
	case textNode:
		n.text = asText(string(told))
		i, _ := controlAt(n.text)
		return i < 0
	case boolNode:
		n.truth = n.written == "true"
		return true
	case numberNode:
		digits := strings.TrimPrefix(n.written, "-")
		whole, rest, point := strings.Cut(digits, ".")
		if len(digits) > 15 || !areDigits(whole) || len(whole) > 1 && whole[0] == '0' || point != areDigits(rest) {
			return false
		}
		var err error
		n.number, err = strconv.ParseFloat(n.written, 64)
		return err == nil && (n.number != 0 || n.written[0] != '-') // less than zero there is no zero to the other
	}
	return false
}

func areDigits(s string) bool { return s != "" && strings.Trim(s, "0123456789") == "" }

// inside reads the entries of a list or an inline table from behind its
// opening bracket, and returns the offset behind the closing one.
func (b *builder) inside(n *node, v *unstable.Node, off int) int {
	if v.Kind == unstable.InlineTable {
		n.kind = tableNode
		for it := v.Children(); it.Next(); {
			off = b.keyValue(n, it.Node())
		}
		n.close(n)
		return b.skipGaps(off) + 1
	}
	n.kind = listNode
	for it := v.Children(); it.Next(); {
		var kid *node
		kid, off = b.value(it.Node(), b.skipGaps(off))
		n.kids = append(n.kids, kid)
	}
	return b.skipGaps(off) + 1
}

// close marks an inline table, and the tables that dotted keys made in it, as
// complete.
func (n *node) close(braces *node) {
	n.braces = braces
	for _, kid := range n.kids {
		if kid.kind == tableNode && kid.braces == nil {
			kid.close(braces)
		}
	}
}

func (b *builder) skipBlanks(i int) int {
	for i < len(b.data) && (b.data[i] == ' ' || b.data[i] == '\t') {
		i++
	}
	return i
}

// skipGaps is the next place that is not a blank, a line end, a comma or a
// comment.
func (b *builder) skipGaps(i int) int {
	for i < len(b.data) {
		switch b.data[i] {
		case ' ', '\t', '\r', '\n', ',':
			i++
		case '#':
			n := bytes.IndexByte(b.data[i:], '\n')
			if n < 0 {
				return len(b.data)
			}
			i += n
		default:
			return i
		}
	}
	return i
}
