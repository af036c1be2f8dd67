package export

import (
	"fmt"
	"strconv"
	"strings"

	"bankwright/engine/check"
	"bankwright/engine/decl"
)

// text is a formula with its cells left open: it is made once for a quantity
// and written out for each item and step.
type text []piece

// piece is literal text, or a reference to cells.
type piece struct {
	lit string
	ref *ref
}

// Choices of items in a ref.
const (
	own = -1 // the item for which the formula is written out
	all = -2 // all items, side by side
)

// ref stands for cells of a line.
type ref struct {
	to   *line
	item int // a fixed item, own or all
	row  int // row within the line, where rows is nil
	last int // last row within the line, where it is above row: a range downward
	sub  bool
	// rows adds the rows of a series that the current steps select, as ranges.
	rows func(out []span, steps []int) []span
	// still tells that rows gives the same for all steps; which tells selections
	// of one line apart.
	still bool
	which string
	// index is the position of the item, where it has to be looked up.
	index text
	// form is what is done with each range, {r} standing for it; the results
	// are added up. Empty: the ranges stand with commas between.
	form string
}

// span is a range of rows within a line, ends included.
type span struct{ from, to int }

// spot is where a formula is written out.
type spot struct {
	page  *page
	item  int
	steps []int // of the line's axes; -1 on the last for its start
}

func lit(s string) text { return text{{lit: s}} }

// cell is the text of one reference.
func cell(r *ref) text { return text{{ref: r}} }

// join puts strings, texts and refs one after another.
func join(parts ...any) text {
	var out text
	for _, p := range parts {
		switch p := p.(type) {
		case string:
			if n := len(out); n > 0 && out[n-1].ref == nil {
				out[n-1].lit += p
			} else {
				out = append(out, piece{lit: p})
			}
		case text:
			for _, q := range p {
				if n := len(out); q.ref == nil && n > 0 && out[n-1].ref == nil {
					out[n-1].lit += q.lit
				} else {
					out = append(out, q)
				}
			}
		case *ref:
			out = append(out, piece{ref: p})
		}
	}
	return out
}

// list joins texts with commas.
func list(items []text) text {
	var out text
	for i, t := range items {
		if i > 0 {
			out = join(out, ",")
		}
		out = join(out, t)
	}
	return out
}

// at writes the formula out for a spot.
func (t text) at(s spot) string {
	if s.page == nil { // without references
		return string(t.write(nil, s))
	}
	s.page.written = t.write(s.page.written[:0], s)
	return string(s.page.written)
}

// write adds what at gives to b.
func (t text) write(b []byte, s spot) []byte {
	for i := range t {
		if p := &t[i]; p.ref == nil {
			b = append(b, p.lit...)
		} else {
			b = p.ref.write(b, s)
		}
	}
	return b
}

// key is the same for texts that always say the same.
func (t text) key() string {
	var b strings.Builder
	for _, p := range t {
		if r := p.ref; r == nil {
			b.WriteString(p.lit)
		} else {
			fmt.Fprintf(&b, "<%d %d %d %d %v %s %s>", r.to.id, r.item, r.row, r.last, r.sub, r.which+r.form, r.index.key())
		}
	}
	return b.String()
}

// refs is how many references the text has: how long it will be.
func (t text) refs() int {
	n := 0
	for _, p := range t {
		if p.ref != nil {
			n++
		}
	}
	return n
}

func (r *ref) write(b []byte, s spot) []byte {
	if r.to.name != "" && r.rows == nil && r.item != all && r.last <= r.row {
		return append(b, r.to.name...)
	}
	if r.isColumn() {
		return append(b, r.to.rangeName...)
	}
	if k := r.to.kind; k != nil && len(k.Items) == 0 && (r.to.q == nil || r.to.q.Type != decl.Reference) {
		return append(b, "NA()"...) // a kind without items has no sheet
	}
	fixed := r.rows == nil || r.still
	if r.rows == nil && r.form == "" {
		return r.indexed(b, s, span{r.row, max(r.row, r.last)}, fixed)
	}
	first := len(s.page.spans) // references may stand within one another
	if r.rows != nil {
		s.page.spans = r.rows(s.page.spans, s.steps)
	} else {
		s.page.spans = append(s.page.spans, span{r.row, max(r.row, r.last)})
	}
	spans := s.page.spans[first:]
	before, after, sum := strings.Cut(r.form, "{r}")
	separator := ","
	if sum {
		separator = "+"
	}
	bracketed := sum && len(spans) > 1
	if bracketed {
		b = append(b, '(')
	}
	for i, sp := range spans {
		if i > 0 {
			b = append(b, separator...)
		}
		b = append(b, before...)
		b = append(r.indexed(b, s, sp, fixed), after...)
	}
	if bracketed {
		b = append(b, ')')
	}
	s.page.spans = s.page.spans[:first]
	return b
}

// indexed writes one block of cells, or that of the item which is looked up.
func (r *ref) indexed(b []byte, s spot, sp span, fixed bool) []byte {
	if r.index == nil {
		return r.area(b, s, sp, fixed)
	}
	b = r.area(append(b, "INDEX("...), s, sp, fixed)
	if sp.from != sp.to || r.last > r.row {
		b = append(b, ",0"...)
	}
	return append(r.index.write(append(b, ','), s), ')')
}

// isColumn reports whether the cells are a whole column that has a name.
func (r *ref) isColumn() bool {
	return r.to.rangeName != "" && r.rows == nil && r.index == nil && r.row == 0 && r.last == r.to.rows-1 && r.form == ""
}

// isBlock reports whether the cells are all that stands in the rows of an input that
// has a name, and formulas of the page use it.
func (r *ref) isBlock(on *page) bool {
	return !on.byRow && r.to.blockName != "" && r.item == all && r.rows == nil && r.row == 0 && max(r.last, 0) == r.to.rows-1 && !r.sub
}

// as is the same cells with something done to each range.
func (r *ref) as(form string) *ref {
	c := *r
	c.form = form
	return &c
}

// area writes one block of cells.
func (r *ref) area(b []byte, s spot, sp span, fixed bool) []byte {
	l := r.to
	if r.isBlock(s.page) {
		return append(b, l.blockName...)
	}
	if l.row == 0 && l.q != nil && l.q.Type == decl.Reference {
		return append(b, `""`...) // it has no place, since there is nothing to choose
	}
	if l.page != s.page {
		b = append(append(b, l.page.quotedName()...), '!')
	}
	first, last := l.column(r.item), l.column(r.item)
	switch {
	case r.item == own:
		first = l.column(s.item)
		last = first
	case r.item == all:
		first, last = l.column(0), l.column(l.items()-1)
	}
	if r.sub {
		last = first + l.across - 1
	}
	// Formulas of series are copied downward, so what does not move with the
	// steps is held fast there.
	dollar := r.item != own
	fixed = fixed && (dollar || len(s.page.axes) > 0)
	b = corner(b, l.row+sp.from, first, fixed, dollar)
	if first != last || sp.from != sp.to || r.last > r.row {
		b = corner(append(b, ':'), l.row+sp.to, last, fixed, dollar)
	}
	return b
}

func corner(b []byte, row, col int, fixRow, fixCol bool) []byte {
	if fixCol {
		b = append(b, '$')
	}
	b = appendColumn(b, col)
	if fixRow {
		b = append(b, '$')
	}
	return strconv.AppendInt(b, int64(row), 10)
}

// line is a place for values: a row with an item in each column, several such
// rows (a set, points), or on a page of series a block of columns with a step
// in each row.
type line struct {
	id        int
	page      *page
	row       int         // of the first cell, once laid out
	col       int         // of the first item
	across    int         // columns of one item, usually 1
	rows      int         // rows of a line that is no series, usually 1
	kind      *check.Kind // whose items stand side by side; nil: one column
	only      int         // the only item that has a cell; own: all have
	name      string      // a defined name for the cell
	rangeName string      // a defined name for all its rows
	blockName string      // a defined name for the cells of all items in all its rows

	q      *check.Quantity // whose values the cells hold; nil: they are calculated from the formulas
	of     *check.Quantity // what is brought from elsewhere
	head   string          // heading above the line, if it begins a section
	group  string          // of what is brought from elsewhere: the chain of references
	label  string
	labels []string // of single rows, or of single columns
	unit   string
	note   string
	format string
	look   Style

	step  func(item, row int) text // the formula of a cell; nil: data
	start func(item, row int) text // on a page of series: of the row before the first step
	data  func(item, row int) Cell // of a cell without formula

	figureOf *check.Quantity // whose formula an input stands in
	figure   *check.Expr     // which part of it
	frozen   map[int]bool    // items whose cells hold computed values; own: all

	onComputed bool    // it follows from such cells
	belongs    string  // of workings: the label of the quantity that they belong to
	finds      string  // and what they find
	isPart     bool    // workings that stand apart because a formula is long, or has an arm without a value
	truth      bool    // what is calculated is true or false
	above      float64 // of a block: how wide what stands above it is, in characters
}

func (l *line) column(item int) int { return l.col + max(item, 0)*max(l.across, 1) }

func (l *line) items() int {
	if l.kind == nil {
		return 1
	}
	return len(l.kind.Items)
}

// has reports whether an item has a cell in the line.
func (l *line) has(item int) bool { return l.only == own || l.only == item }
