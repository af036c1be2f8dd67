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
	args  []*node
}

// area is a block of cells. Rows and columns count from 1, ends included.
type area struct {
	sheet            int
	row, col         int
	lastRow, lastCol int
}

func (a area) rows() int { return a.lastRow - a.row + 1 }
func (a area) cols() int { return a.lastCol - a.col + 1 }

// Binary operators by precedence, the weakest first. '{' is <=, '}' is >=, '#'
// is <>.
const (
	comparisons = "=<>{}#"
	sums        = "+-"
	products    = "*/"
)

// parser reads one formula, standing on a sheet.
type parser struct {
	src   string
	pos   int
	sheet int
	find  func(sheet string) int
}

var errSyntax = errors.New("the formula cannot be read")

// parse reads a formula without a leading equals sign.
func parse(src string, sheet int, find func(string) int) (n *node, err error) {
	p := &parser{src: src, sheet: sheet, find: find}
	n, err = p.comparison()
	if err == nil && p.pos < len(p.src) {
		err = fmt.Errorf("%w at character %d: %s", errSyntax, p.pos+1, src)
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

// operator takes one of the operators in set, 0 if none is next.
func (p *parser) operator(set string) byte {
	c := p.peek()
	if c == 0 {
		return 0
	}
	n := 1
	if p.pos+1 < len(p.src) {
		switch p.src[p.pos : p.pos+2] {
		case "<=":
			c, n = '{', 2
		case ">=":
			c, n = '}', 2
		case "<>":
			c, n = '#', 2
		}
	}
	if strings.IndexByte(set, c) < 0 {
		return 0
	}
	p.pos += n
	return c
}

// left reads operands joined by left-associative operators.
func (p *parser) left(set string, next func() (*node, error)) (*node, error) {
	n, err := next()
	for err == nil {
		op := p.operator(set)
		if op == 0 {
			break
		}
		var b *node
		if b, err = next(); err == nil {
			n = &node{op: op, args: []*node{n, b}}
		}
	}
	return n, err
}

func (p *parser) comparison() (*node, error) { return p.left(comparisons, p.joined) }
func (p *parser) joined() (*node, error)     { return p.left("&", p.sum) }
func (p *parser) sum() (*node, error)        { return p.left(sums, p.product) }
func (p *parser) product() (*node, error)    { return p.left(products, p.power) }
func (p *parser) power() (*node, error)      { return p.left("^", p.signed) }

// signed reads a sign, which binds tighter than a power in spreadsheets.
func (p *parser) signed() (*node, error) {
	switch p.peek() {
	case '-':
		p.pos++
		n, err := p.signed()
		return &node{op: 'u', args: []*node{n}}, err
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
		n, err := p.comparison()
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
	var b strings.Builder
	for i := p.pos + 1; i < len(p.src); i++ {
		if p.src[i] != '"' {
			b.WriteByte(p.src[i])
			continue
		}
		if i+1 < len(p.src) && p.src[i+1] == '"' {
			b.WriteByte('"')
			i++
			continue
		}
		p.pos = i + 1
		return &node{op: 'v', value: Str(b.String())}, nil
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
	p.pos = end
	return &node{op: 'v', value: Num(x)}, err
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
		return &node{op: 'v', value: Bool(w == "TRUE")}, nil
	}
	if _, _, ok := cellName(w); ok {
		p.pos = start
		return p.reference(p.sheet)
	}
	return &node{op: 'n', name: w}, nil
}

// call reads the arguments of a function; a missing one is an empty value.
func (p *parser) call(name string) (*node, error) {
	n := &node{op: 'f', name: name}
	if p.peek() == ')' {
		p.pos++
		return n, nil
	}
	for {
		a := &node{op: 'v'}
		if c := p.peek(); c != ',' && c != ')' {
			var err error
			if a, err = p.comparison(); err != nil {
				return nil, err
			}
		}
		n.args = append(n.args, a)
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
	a := area{sheet: sheet, row: row, col: col, lastRow: row, lastCol: col}
	if p.pos < len(p.src) && p.src[p.pos] == ':' {
		p.pos++
		if a.lastRow, a.lastCol, ok = p.cell(); !ok {
			return nil, errSyntax
		}
	}
	return &node{op: 'r', area: a}, nil
}

func (p *parser) cell() (row, col int, ok bool) {
	start := p.pos
	for p.pos < len(p.src) && isWord(p.src[p.pos]) {
		p.pos++
	}
	return cellName(p.src[start:p.pos])
}

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
	return row, col, err == nil && row > 0 && s[0] != '+'
}
