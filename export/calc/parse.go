package calc

import (
	"errors"
	"fmt"
	"strconv"
	"strings"
)

// node is a part of a parsed formula.
type node struct {
	op    byte // 'v' value, 'r' area, 'n' defined name, 'f' function, 'u' minus, or a binary operator
	value Value
	area  area
	name  string
	first *node // of the operands or arguments
	next  *node // beside it
}

// list is the operands or arguments.
func (n *node) list() []*node {
	var room [3]*node
	out := room[:0]
	for a := n.first; a != nil; a = a.next {
		out = append(out, a)
	}
	return out
}

// nodes is room for nodes, in the order in which they are made.
type nodes struct {
	rooms [][]node
	used  int
}

const nodesInRoom = 256

// take makes a node.
func (r *nodes) take(n node) *node {
	if r.used == nodesInRoom*len(r.rooms) {
		r.rooms = append(r.rooms, make([]node, nodesInRoom))
	}
	at := &r.rooms[r.used/nodesInRoom][r.used%nodesInRoom]
	r.used++
	*at = n
	return at
}

// area is a block of cells. Rows and columns count from 1, ends included.
type area struct {
	sheet            int32
	row, col         int32
	lastRow, lastCol int32
}

func (a area) rows() int { return int(a.lastRow - a.row + 1) }
func (a area) cols() int { return int(a.lastCol - a.col + 1) }

// Precedence of binary operators, the weakest first. '{' is <=, '}' is >=, '#' is <>.
const (
	comparing = 1 + iota
	joining
	adding
	multiplying
	raising
)

// parser reads one formula, standing on a sheet.
type parser struct {
	src   string
	pos   int
	sheet int
	find  func(sheet string) int
	nodes *nodes
}

var errSyntax = errors.New("the formula cannot be read")

// parse reads a formula without a leading equals sign.
func parse(src string, sheet int, find func(string) int) (*node, error) {
	p := &parser{src: src, sheet: sheet, find: find, nodes: &nodes{}}
	return p.all()
}

// all reads the whole formula.
func (p *parser) all() (*node, error) {
	n, err := p.operation(comparing)
	if err == nil && p.pos < len(p.src) {
		err = fmt.Errorf("%w at character %d: %s", errSyntax, p.pos+1, p.src)
	}
	return n, err
}

func (p *parser) space() {
	for p.pos < len(p.src) && (p.src[p.pos] == ' ' || p.src[p.pos] == '\n') {
		p.pos++
	}
}

func (p *parser) peek() byte {
	p.space()
	if p.pos < len(p.src) {
		return p.src[p.pos]
	}
	return 0
}

// operator is the binary operator that is next, its length and its precedence, which is
// 0 where there is none.
func (p *parser) operator() (op byte, length, precedence int) {
	switch c := p.peek(); c {
	case '=':
		return c, 1, comparing
	case '<', '>':
		switch rest := p.src[p.pos+1:]; {
		case rest != "" && rest[0] == '=':
			return c + '{' - '<', 2, comparing
		case c == '<' && rest != "" && rest[0] == '>':
			return '#', 2, comparing
		}
		return c, 1, comparing
	case '&':
		return c, 1, joining
	case '+', '-':
		return c, 1, adding
	case '*', '/':
		return c, 1, multiplying
	case '^':
		return c, 1, raising
	}
	return 0, 0, 0
}

// operation reads operands joined by operators of at least a precedence, which go from
// left to right.
func (p *parser) operation(least int) (*node, error) {
	n, err := p.signed()
	for err == nil {
		op, length, precedence := p.operator()
		if precedence < least || precedence == 0 {
			break
		}
		p.pos += length
		var b *node
		if b, err = p.operation(precedence + 1); err == nil {
			n.next = b
			n = p.nodes.take(node{op: op, first: n})
		}
	}
	return n, err
}

// signed reads a sign, which binds tighter than a power in spreadsheets.
func (p *parser) signed() (*node, error) {
	switch p.peek() {
	case '-':
		p.pos++
		n, err := p.signed()
		return p.nodes.take(node{op: 'u', first: n}), err
	case '+':
		p.pos++
		return p.signed()
	}
	return p.atom()
}

func (p *parser) atom() (*node, error) {
	c := p.peek()
	switch {
	case c == '(':
		p.pos++
		n, err := p.operation(comparing)
		if err == nil && p.peek() != ')' {
			err = errSyntax
		}
		p.pos++
		return n, err
	case c == '"':
		return p.quoted()
	case c >= '0' && c <= '9' || c == '.':
		return p.number()
	case c == '\'':
		end := strings.Index(p.src[p.pos+1:], "'!")
		if end < 0 {
			return nil, errSyntax
		}
		name := strings.ReplaceAll(p.src[p.pos+1:p.pos+1+end], "''", "'")
		p.pos += end + 3
		return p.reference(p.find(name))
	}
	return p.word()
}

func (p *parser) quoted() (*node, error) {
	from := p.pos + 1
	doubled := false
	for i := from; i < len(p.src); i++ {
		if p.src[i] != '"' {
			continue
		}
		if i+1 < len(p.src) && p.src[i+1] == '"' {
			doubled = true
			i++
			continue
		}
		p.pos = i + 1
		s := p.src[from:i]
		if doubled {
			s = strings.ReplaceAll(s, `""`, `"`)
		}
		return p.nodes.take(node{op: 'v', value: Str(s)}), nil
	}
	return nil, errSyntax
}

func (p *parser) number() (*node, error) {
	end := p.pos
	for end < len(p.src) {
		c := p.src[end]
		sign := (c == '+' || c == '-') && (p.src[end-1] == 'E' || p.src[end-1] == 'e')
		if !(c >= '0' && c <= '9' || c == '.' || c == 'E' || c == 'e' || sign) {
			break
		}
		end++
	}
	x, err := strconv.ParseFloat(p.src[p.pos:end], 64)
	if p.pos = end; end < len(p.src) && p.src[end] == '%' {
		x, p.pos = x/100, end+1
	}
	return p.nodes.take(node{op: 'v', value: Num(x)}), err
}

func isWord(c byte) bool {
	return c == '_' || c == '$' || c == '.' || c >= '0' && c <= '9' || c >= 'A' && c <= 'Z' || c >= 'a' && c <= 'z'
}

// word reads a function call, a sheet's name, a reference, TRUE, FALSE or a
// defined name.
func (p *parser) word() (*node, error) {
	start := p.pos
	for p.pos < len(p.src) && isWord(p.src[p.pos]) {
		p.pos++
	}
	w := p.src[start:p.pos]
	if w == "" {
		return nil, errSyntax
	}
	if p.pos < len(p.src) {
		switch p.src[p.pos] {
		case '(':
			p.pos++
			return p.call(w)
		case '!':
			p.pos++
			return p.reference(p.find(w))
		}
	}
	switch w {
	case "TRUE", "FALSE":
		return p.nodes.take(node{op: 'v', value: Bool(w == "TRUE")}), nil
	}
	if row, col, ok := cellName(w); ok {
		return p.area(p.sheet, row, col)
	}
	return p.nodes.take(node{op: 'n', name: w}), nil
}

// call reads the arguments of a function; a missing one is an empty value.
func (p *parser) call(name string) (*node, error) {
	n := p.nodes.take(node{op: 'f', name: name})
	if p.peek() == ')' {
		p.pos++
		return n, nil
	}
	for last := &n.first; ; {
		var a *node
		if c := p.peek(); c == ',' || c == ')' {
			a = p.nodes.take(node{op: 'v'})
		} else {
			var err error
			if a, err = p.operation(comparing); err != nil {
				return nil, err
			}
		}
		*last, last = a, &a.next
		c := p.peek()
		p.pos++
		if c == ')' {
			return n, nil
		}
		if c != ',' {
			return nil, errSyntax
		}
	}
}

// reference reads A1 or A1:B2.
func (p *parser) reference(sheet int) (*node, error) {
	row, col, ok := p.cell()
	if !ok {
		return nil, errSyntax
	}
	return p.area(sheet, row, col)
}

// area reads what may follow the first cell of a reference.
func (p *parser) area(sheet, row, col int) (*node, error) {
	lastRow, lastCol := row, col
	if p.pos < len(p.src) && p.src[p.pos] == ':' {
		p.pos++
		var ok bool
		if lastRow, lastCol, ok = p.cell(); !ok {
			return nil, errSyntax
		}
	}
	return p.nodes.take(node{op: 'r', area: area{int32(sheet), int32(row), int32(col), int32(lastRow), int32(lastCol)}}), nil
}

func (p *parser) cell() (row, col int, ok bool) {
	start := p.pos
	for p.pos < len(p.src) && isWord(p.src[p.pos]) {
		p.pos++
	}
	return cellName(p.src[start:p.pos])
}

// mostRows is how many rows a sheet can have.
const mostRows = 1 << 20

// cellName reads a cell's name with or without dollar signs.
func cellName(s string) (row, col int, ok bool) {
	s = strings.TrimPrefix(s, "$")
	i := 0
	for ; i < len(s) && s[i] >= 'A' && s[i] <= 'Z'; i++ {
		col = col*26 + int(s[i]-'A') + 1
	}
	if i == 0 || i > 3 {
		return 0, 0, false
	}
	s = strings.TrimPrefix(s[i:], "$")
	row, err := strconv.Atoi(s)
	return row, col, err == nil && row > 0 && row <= mostRows && s[0] != '+'
}
