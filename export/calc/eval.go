package calc

import (
	"math"
	"slices"
)

// Source is the workbook that is calculated. Rows and columns count from 1.
type Source interface {
	// Sheet is the number of the sheet of that name, -1 if there is none.
	Sheet(name string) int
	// Cell is what a cell holds: a formula (without =), else plain data.
	Cell(sheet, row, col int) (formula string, data any)
	// Name is the cell or range that a defined name stands for.
	Name(name string) (refersTo string, ok bool)
}

// Book calculates the cells of a source, each once.
type Book struct {
	src    Source
	done   [][][]Value // by sheet, row and column from 1; Empty: not calculated
	sheets map[string]int
	names  map[string]area // what defined names stand for; without rows: nothing
	nodes  nodes           // of the formulas that are being calculated
	args   []block         // of their functions
}

// New is a calculation of src.
func New(src Source) *Book {
	return &Book{src: src, sheets: map[string]int{}, names: map[string]area{}}
}

// Cell is the value of a cell. A cell that needs itself is an error value.
func (b *Book) Cell(sheet, row, col int) Value {
	if sheet < len(b.done) && row < len(b.done[sheet]) && col < len(b.done[sheet][row]) {
		if v := b.done[sheet][row][col]; v.T != Empty {
			return v
		}
	}
	text, data := b.src.Cell(sheet, row, col)
	if text == "" {
		return Of(data)
	}
	b.keep(sheet, row, col, errCycle)
	v := b.formula(text, sheet)
	b.keep(sheet, row, col, v)
	return v
}

// keep keeps the value of a formula, which is never Empty.
func (b *Book) keep(sheet, row, col int, v Value) {
	b.done = long(b.done, sheet)
	b.done[sheet] = long(b.done[sheet], row)
	list := b.done[sheet][row]
	if col >= cap(list) && row > 0 { // it will be about as wide as the one above
		list = slices.Grow(list, max(col+1, len(b.done[sheet][row-1]))-len(list))
	}
	list = long(list, col)
	list[col], b.done[sheet][row] = v, list
}

// long is a list that has a place i.
func long[T any](list []T, i int) []T {
	if i < len(list) {
		return list
	}
	return append(list, make([]T, i+1-len(list))...)
}

// sheet is the number of a sheet by name, -1 if there is none.
func (b *Book) sheet(name string) int {
	n, ok := b.sheets[name]
	if !ok {
		n = b.src.Sheet(name)
		b.sheets[name] = n
	}
	return n
}

// formula is the value of a formula on a sheet.
func (b *Book) formula(text string, sheet int) Value {
	from := b.nodes.used
	v := errName
	p := parser{src: text, sheet: sheet, find: b.sheet, nodes: &b.nodes}
	if n, err := p.all(); err == nil {
		k := b.eval(n)
		if v = k.single(); v.T == Empty {
			v = Value{T: Number}
		}
	}
	b.nodes.used = from
	return v
}

// block is a value with rows and columns: a single one, an area of the book, or what
// was computed.
type block struct {
	rows, cols int
	value      Value
	area       area                     // where it lies, if it lies anywhere
	book       *Book                    // of an area
	from       func(row, col int) Value // computed: from 0
	isArea     bool
}

func one(v Value) block { return block{rows: 1, cols: 1, value: v} }

// at is the value at a place, from 0.
func (k *block) at(row, col int) Value {
	switch {
	case k.book != nil:
		return k.book.Cell(int(k.area.sheet), int(k.area.row)+row, int(k.area.col)+col)
	case k.from != nil:
		return k.from(row, col)
	}
	return k.value
}

// single is the value where one is wanted. More than one is an error here:
// programs differ in what they do then.
func (k *block) single() Value {
	if k.rows != 1 || k.cols != 1 {
		return errValue
	}
	return k.at(0, 0)
}

// each calls f for every value, row by row.
func (k *block) each(f func(Value)) {
	for r := 0; r < k.rows; r++ {
		for c := 0; c < k.cols; c++ {
			f(k.at(r, c))
		}
	}
}

func (b *Book) of(a area) block {
	return block{rows: a.rows(), cols: a.cols(), area: a, isArea: true, book: b}
}

func (b *Book) eval(n *node) block {
	switch n.op {
	case 'v':
		return one(n.value)
	case 'r':
		if n.area.sheet < 0 {
			return one(errRef)
		}
		return b.of(n.area)
	case 'n':
		return b.named(n.name)
	case 'f':
		return b.call(n)
	case 'u':
		return numeric(b.eval(n.first), func(x float64) float64 { return -x })
	}
	x, y := b.eval(n.first), b.eval(n.first.next)
	if x.rows == 1 && x.cols == 1 && y.rows == 1 && y.cols == 1 {
		return one(operate(n.op, x.at(0, 0), y.at(0, 0)))
	}
	return lift(x, y, func(a, b Value) Value { return operate(n.op, a, b) })
}

// call is the value of a function.
func (b *Book) call(n *node) block {
	switch n.name {
	case "IF":
		return b.ifElse(n.list())
	case "IFERROR":
		return b.ifError(n.list())
	}
	f, ok := functions[n.name]
	if !ok {
		return one(errName)
	}
	from := len(b.args)
	for a := n.first; a != nil; a = a.next {
		b.args = append(b.args, b.eval(a)) // what it needs for that is given back by then
	}
	out := f(b.args[from:len(b.args):len(b.args)])
	b.args = b.args[:from]
	return out
}

func (b *Book) named(name string) block {
	a, ok := b.names[name]
	if !ok {
		if to, ok := b.src.Name(name); ok {
			if n, err := parse(to, -1, b.sheet); err == nil && n.op == 'r' {
				a = n.area
			}
		}
		b.names[name] = a
	}
	switch {
	case a == area{}:
		return one(errName)
	case a.sheet < 0:
		return one(errRef)
	}
	return b.of(a)
}

// lift applies f to single values, or value by value to blocks.
func lift(x, y block, f func(a, b Value) Value) block {
	rows, cols := max(x.rows, y.rows), max(x.cols, y.cols)
	pick := func(k *block, r, c int) Value {
		if k.rows == 1 {
			r = 0
		}
		if k.cols == 1 {
			c = 0
		}
		if r >= k.rows || c >= k.cols {
			return errNA
		}
		return k.at(r, c)
	}
	out := make([]Value, rows*cols)
	for r := range rows {
		for c := range cols {
			out[r*cols+c] = f(pick(&x, r, c), pick(&y, r, c))
		}
	}
	return array(rows, cols, out)
}

func array(rows, cols int, v []Value) block {
	return block{rows: rows, cols: cols, from: func(r, c int) Value { return v[r*cols+c] }}
}

// operate applies an operator to two values.
func operate(op byte, a, b Value) Value {
	if a.T == Error {
		return a
	}
	if b.T == Error {
		return b
	}
	switch op {
	case '&':
		s, _ := a.text()
		t, _ := b.text()
		return Str(s + t)
	case '=':
		return Bool(order(a, b) == 0)
	case '#':
		return Bool(order(a, b) != 0)
	case '<':
		return Bool(order(a, b) < 0)
	case '{':
		return Bool(order(a, b) <= 0)
	case '>':
		return Bool(order(a, b) > 0)
	case '}':
		return Bool(order(a, b) >= 0)
	}
	x, err := a.number()
	if err.T == Error {
		return err
	}
	y, err := b.number()
	if err.T == Error {
		return err
	}
	return arithmetic(op, x, y)
}

func arithmetic(op byte, x, y float64) Value {
	switch op {
	case '+':
		return Num(x + y)
	case '-':
		return Num(x - y)
	case '*':
		return Num(x * y)
	case '/':
		if y == 0 {
			return errDiv
		}
		return Num(x / y)
	}
	if x == 0 && y < 0 {
		return errDiv
	}
	return Num(math.Pow(x, y))
}
