package decl

import (
	"bytes"
	"math"
	"slices"
	"strconv"
	"strings"
	"unicode/utf8"

	"bankwright/engine/unit"
)

// document is a file of which some values are to be changed in their place.
type document struct {
	file   *File
	root   *node
	data   []byte
	money  string // the scenario's currency
	edits  []edit
	inline map[*node]*inline // tables between braces
	fresh  []fresh           // tables that the file does not have
}

// fresh is a table that is added at the end, with its lines.
type fresh struct{ heading, lines string }

// text is the document with its changes.
func (d *document) text() string {
	edits := d.edits
	for t, in := range d.inline {
		edits = append(edits, in.edits(t)...)
	}
	out := apply(d.data, 0, len(d.data), edits)
	for _, f := range d.fresh {
		out = strings.TrimRight(out, "\r\n") + d.newLine() + d.newLine() + f.heading + d.newLine() + f.lines
	}
	return out
}

// changed reports whether anything is to be changed.
func (d *document) changed() bool { return len(d.edits)+len(d.inline)+len(d.fresh) > 0 }

// set is how a table comes to have another value for an input, but for what setInline
// takes note of; false where that cannot be written. The table is nil where the
// document has none.
func (d *document) set(t *node, k *Kind, v Revision) ([]edit, bool) {
	i := slices.IndexFunc(k.Quantities, func(q *Quantity) bool { return q.Name == v.Quantity })
	if i < 0 {
		return nil, false
	}
	q := k.Quantities[i]
	var n *node
	if t != nil {
		n = t.get(q.Name)
	}
	switch {
	case v.Absent && n == nil:
		return nil, true
	case n != nil && !v.Absent:
		return d.replace(n, q, v), true
	case t != nil && t.braces != nil:
		return nil, d.setInline(t, n, q, v)
	case v.Absent:
		return d.commentOut(n), true
	case t == nil || t.kind == tableNode && !t.heading && !t.dotted:
		d.append(k, v, q.Name+" = "+d.value(q, v)+d.newLine())
		return nil, true
	}
	return d.insert(t, q.Name, d.value(q, v))
}

// append adds a line to a table at the end of the document.
func (d *document) append(k *Kind, v Revision, line string) {
	heading := "[" + k.Name + "]"
	if k.Many {
		heading = "[" + k.Name + "." + v.Item + "]"
	}
	for i := range d.fresh {
		if d.fresh[i].heading == heading {
			d.fresh[i].lines += line
			return
		}
	}
	d.fresh = append(d.fresh, fresh{heading, line})
}

// replace puts a value in the place of another. Of a list of as many values only
// those that changed are touched, so that the others stay as they were written.
func (d *document) replace(n *node, q *Quantity, v Revision) []edit {
	if q.Type == Points && n.kind == tableNode && v.Formula == "" {
		var edits []edit
		for i, c := range q.Columns {
			if kid := n.get(c.Name); kid != nil {
				edits = append(edits, edit{kid.from, kid.to, d.column(c, v.Points[i])})
			}
		}
		return edits
	}
	if steps := leaves(n); n.kind == listNode && len(v.Values) == len(steps) && len(v.Values) > 1 && !slices.ContainsFunc(v.Values, math.IsNaN) {
		var edits []edit
		for i, x := range v.Values {
			if v.Changed[i] {
				edits = append(edits, edit{steps[i].from, steps[i].to, d.single(q, x)})
			}
		}
		return edits
	}
	return []edit{{n.from, n.to, d.value(q, v)}}
}

// leaves are the single values of a list and of the lists in it.
func leaves(n *node) []*node {
	if n.kind != listNode {
		return []*node{n}
	}
	var out []*node
	for _, kid := range n.kids {
		out = append(out, leaves(kid)...)
	}
	return out
}

// insert adds a key to a table that the document has, behind its last one.
func (d *document) insert(t *node, key, value string) ([]edit, bool) {
	last, at := d.body(t)
	if last == nil {
		return []edit{{at, at, d.newLine() + key + " = " + value}}, t.heading
	}
	prefix := ""
	if !t.heading { // site.period = …, site.rate = …
		if t.get(last.key) != last {
			return nil, false
		}
		prefix = string(d.data[last.start:last.last])
	}
	equals := last.last + bytes.IndexByte(d.data[last.last:last.from], '=')
	width := utf8.RuneCount(d.data[last.start:equals]) - 1 // where the signs stand below each other
	line := prefix + key
	line += strings.Repeat(" ", max(0, width-utf8.RuneCountInString(line)))
	indent := d.data[d.lineStart(last.start):last.start]
	return []edit{{at, at, d.newLine() + string(indent) + line + " = " + value}}, true
}

// newLine is how the document ends its lines: as it ends the first.
func (d *document) newLine() string {
	if n := bytes.IndexByte(d.data, '\n'); n > 0 && d.data[n-1] == '\r' {
		return "\r\n"
	}
	return "\n"
}

// body is the last value that stands below the heading of a table, nil where none
// does, and the end of its line.
func (d *document) body(t *node) (last *node, end int) {
	var look func(n *node)
	look = func(n *node) {
		for _, kid := range n.kids {
			switch {
			case kid.heading || kid.tables:
			case kid.kind == tableNode && kid.braces == nil:
				look(kid)
			case last == nil || kid.to > last.to:
				last = kid
			}
		}
	}
	if look(t); last == nil {
		return nil, d.lineEnd(t.to)
	}
	return last, d.lineEnd(last.to)
}

// dropLines leaves out the lines of some keys of a table, with the line end before
// them.
func (d *document) dropLines(t *node, keys ...string) []edit {
	var out []edit
	drop := func(n *node) {
		out = append(out, edit{d.lineEnd(d.lineStart(n.start) - 1), d.lineEnd(n.to), ""})
	}
	for _, key := range keys {
		n := t.get(key)
		switch {
		case n == nil:
		case n.dotted:
			for _, kid := range n.kids {
				drop(kid)
			}
		default:
			drop(n)
		}
	}
	return out
}

// commentOut makes comments of the lines of a key, and of all that stands below its
// heading where it has one.
func (d *document) commentOut(n *node) []edit {
	var out []edit
	lines := func(from, to int) {
		for at := d.lineStart(from); at < to; at = d.nextLine(at) {
			out = append(out, edit{at, at, "# "})
		}
	}
	if n.kind != tableNode || n.braces != nil {
		lines(n.start, n.to)
		return out
	}
	if n.heading {
		lines(n.from, n.to)
	}
	for _, kid := range n.kids {
		out = append(out, d.commentOut(kid)...)
	}
	return out
}

func (d *document) lineStart(at int) int { return bytes.LastIndexByte(d.data[:at], '\n') + 1 }

// nextLine is where the line after the one at a place begins, or the end.
func (d *document) nextLine(at int) int {
	if n := bytes.IndexByte(d.data[at:], '\n'); n >= 0 {
		return at + n + 1
	}
	return len(d.data)
}

// lineEnd is where the line at a place ends, before the signs that end it.
func (d *document) lineEnd(at int) int {
	if n := bytes.IndexByte(d.data[at:], '\n'); n >= 0 {
		at += n
		if at > 0 && d.data[at-1] == '\r' {
			at--
		}
		return at
	}
	return len(d.data)
}

// value is a value as a scenario writes it.
func (d *document) value(q *Quantity, v Revision) string {
	switch {
	case v.Formula != "":
		return quoteTOML("= " + v.Formula)
	case q.Type == Text, q.Type == Reference:
		return quoteTOML(v.Texts[0])
	case q.Type == Set:
		names := make([]string, len(v.Texts))
		for i, s := range v.Texts {
			names[i] = quoteTOML(s)
		}
		return "[" + strings.Join(names, ", ") + "]"
	case q.Type == Points:
		var columns []string
		for i, c := range q.Columns {
			columns = append(columns, c.Name+" = "+d.column(c, v.Points[i]))
		}
		return "{ " + strings.Join(columns, ", ") + " }"
	}
	return d.steps(q, q.Over, v.Values)
}

// column is a list of the values of a table's column.
func (d *document) column(c Column, values []float64) string {
	out := make([]string, len(values))
	for i, x := range values {
		out[i] = d.number(c.Unit, x)
	}
	return "[" + strings.Join(out, ", ") + "]"
}

// steps is the values of a series: a list for each axis, or one value for all. Steps
// at the end that have none are left out.
func (d *document) steps(q *Quantity, axes []*Axis, values []float64) string {
	if !slices.ContainsFunc(values, func(x float64) bool { return x != values[0] }) {
		return d.single(q, values[0])
	}
	inner := len(values) / axes[0].Steps
	for len(values) > inner && !slices.ContainsFunc(values[len(values)-inner:], func(x float64) bool { return x == x }) {
		values = values[:len(values)-inner]
	}
	var out []string
	for ; len(values) > 0; values = values[inner:] {
		out = append(out, d.steps(q, axes[1:], values[:inner]))
	}
	return "[" + strings.Join(out, ", ") + "]"
}

func (d *document) single(q *Quantity, x float64) string {
	if q.Type == Boolean {
		return strconv.FormatBool(x != 0)
	}
	return d.number(q.Unit, x)
}

// number is a number with its unit, as a scenario writes it.
func (d *document) number(u unit.Unit, x float64) string {
	if bare(u) {
		return Figure(x)
	}
	return quoteTOML(Figure(x) + " " + strings.TrimPrefix(u.In(d.money), "1"))
}

// Figure is a number with all its digits and no more, as files and formulas write it.
func Figure(x float64) string {
	if size := math.Abs(x); x != 0 && (size < 1e-6 || size >= 1e15) {
		return strconv.FormatFloat(x, 'e', -1, 64)
	}
	return strconv.FormatFloat(x+0, 'f', -1, 64) // +0: no negative zero
}

// quoteTOML is a text between quotes. (TOML 1.0.0, basic strings.)
func quoteTOML(s string) string {
	var b strings.Builder
	b.WriteByte('"')
	for _, r := range s {
		switch {
		case r == '"' || r == '\\':
			b.WriteByte('\\')
			b.WriteRune(r)
		case r == '\n':
			b.WriteString(`\n`)
		case r == '\t':
			b.WriteString(`\t`)
		case r < ' ' || r == 0x7f:
			b.WriteString(`\u00` + strconv.FormatInt(int64(r)+0x100, 16)[1:])
		default:
			b.WriteRune(r)
		}
	}
	b.WriteByte('"')
	return b.String()
}
