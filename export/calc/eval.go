package calc

import "math"

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
	src  Source
	done map[area]Value
}

// New is a calculation of src.
func New(src Source) *Book { return &Book{src: src, done: map[area]Value{}} }

func cellArea(sheet, row, col int) area { return area{sheet, row, col, row, col} }

// Cell is the value of a cell. A cell that needs itself is an error value.
func (b *Book) Cell(sheet, row, col int) Value {
	key := cellArea(sheet, row, col)
	if v, ok := b.done[key]; ok {
		return v
	}
	text, data := b.src.Cell(sheet, row, col)
	if text == "" {
		return Of(data)
	}
	b.done[key] = errCycle
	v := b.formula(text, sheet)
	b.done[key] = v
	return v
}

// formula is the value of a formula on a sheet.
func (b *Book) formula(text string, sheet int) Value {
	n, err := parse(text, sheet, b.src.Sheet)
	if err != nil {
		return errName
	}
	v := b.eval(n).single()
	if v.T == Empty {
		v = Value{T: Number}
	}
	return v
}

// block is a value with rows and columns: of an area, or computed.
type block struct {
	rows, cols int
	at         func(row, col int) Value // from 0
	area       area                     // where it lies, if it lies anywhere
	isArea     bool
}

func one(v Value) block {
	return block{rows: 1, cols: 1, at: func(int, int) Value { return v }}
}

// single is the value where one is wanted. More than one is an error here:
// programs differ in what they do then.
func (k block) single() Value {
	if k.rows != 1 || k.cols != 1 {
		return errValue
	}
	return k.at(0, 0)
}

// each calls f for every value, row by row.
func (k block) each(f func(Value)) {
	for r := 0; r < k.rows; r++ {
		for c := 0; c < k.cols; c++ {
			f(k.at(r, c))
		}
	}
}

func (b *Book) of(a area) block {
	return block{rows: a.rows(), cols: a.cols(), area: a, isArea: true, at: func(r, c int) Value {
		return b.Cell(a.sheet, a.row+r, a.col+c)
	}}
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
		if f, ok := lazy[n.name]; ok {
			return f(b, n.args)
		}
		f, ok := functions[n.name]
		if !ok {
			return one(errName)
		}
		args := make([]block, len(n.args))
		for i, a := range n.args {
			args[i] = b.eval(a)
		}
		return f(args)
	case 'u':
		return lift(b.eval(n.args[0]), one(Num(0)), func(x, _ Value) Value {
			v, err := x.number()
			if err.T == Error {
				return err
			}
			return Num(-v)
		})
	}
	return lift(b.eval(n.args[0]), b.eval(n.args[1]), binary(n.op))
}

func (b *Book) named(name string) block {
	to, ok := b.src.Name(name)
	if !ok {
		return one(errName)
	}
	n, err := parse(to, -1, b.src.Sheet)
	if err != nil || n.op != 'r' {
		return one(errName)
	}
	return b.eval(n)
}

// lift applies f to single values, or value by value to blocks.
func lift(x, y block, f func(a, b Value) Value) block {
	if x.rows == 1 && x.cols == 1 && y.rows == 1 && y.cols == 1 {
		return one(f(x.at(0, 0), y.at(0, 0)))
	}
	rows, cols := max(x.rows, y.rows), max(x.cols, y.cols)
	pick := func(k block, r, c int) Value {
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
			out[r*cols+c] = f(pick(x, r, c), pick(y, r, c))
		}
	}
	return array(rows, cols, out)
}

func array(rows, cols int, v []Value) block {
	return block{rows: rows, cols: cols, at: func(r, c int) Value { return v[r*cols+c] }}
}

// binary is the operator as a function of two values.
func binary(op byte) func(a, b Value) Value {
	return func(a, b Value) Value {
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
