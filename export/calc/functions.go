package calc

import (
	"math"
	"sort"
	"strconv"
	"strings"
)

// ifError is the first argument, the second where that is an error value.
func (b *Book) ifError(args []*node) block {
	if len(args) != 2 {
		return one(errValue)
	}
	if x := b.eval(args[0]); x.single().T != Error {
		return x
	}
	return b.eval(args[1])
}

// ifElse is IF, which works out one of its arms only.
func (b *Book) ifElse(args []*node) block {
	if len(args) != 3 {
		return one(errValue)
	}
	k := b.eval(args[0])
	c, err := k.single().truth()
	switch {
	case err.T == Error:
		return one(err)
	case c:
		return b.eval(args[1])
	}
	return b.eval(args[2])
}

// columnLetters is the name of a column, from 1.
func columnLetters(n int) (name string) {
	for ; n > 0; n = (n - 1) / 26 {
		name = string(rune('A'+(n-1)%26)) + name
	}
	return name
}

// functions are those whose arguments are all evaluated first.
var functions map[string]func(args []block) block

func init() { // they lead back to what calls them
	functions = map[string]func(args []block) block{
		"AND": func(a []block) block { return logical(a, true) },
		"OR":  func(a []block) block { return logical(a, false) },
		"NOT": func(a []block) block {
			v, err := a[0].single().truth()
			if err.T == Error {
				return one(err)
			}
			return one(Bool(!v))
		},
		"NA":       func([]block) block { return one(errNA) },
		"ISERROR":  func(a []block) block { return unary(a[0], func(v Value) Value { return Bool(v.T == Error) }) },
		"ISNUMBER": func(a []block) block { return unary(a[0], func(v Value) Value { return Bool(v.T == Number) }) },
		"EXACT": func(a []block) block {
			s, e := a[0].single().text()
			t, f := a[1].single().text()
			if e.T == Error || f.T == Error {
				return one(errValue)
			}
			return one(Bool(s == t))
		},
		"FIXED": func(a []block) block {
			x, e := a[0].single().number()
			n, f := a[1].single().number()
			if e.T == Error || f.T == Error {
				return one(errValue)
			}
			return one(Str(fixed(x, int(n))))
		},
		"LEN": func(a []block) block {
			s, e := a[0].single().text()
			if e.T == Error {
				return one(e)
			}
			return one(Num(float64(len([]rune(s)))))
		},
		"SUBSTITUTE": func(a []block) block {
			s, e := a[0].single().text()
			old, f := a[1].single().text()
			now, g := a[2].single().text()
			if e.T == Error || f.T == Error || g.T == Error {
				return one(errValue)
			}
			return one(Str(strings.ReplaceAll(s, old, now)))
		},
		"ADDRESS": func(a []block) block {
			r, e := a[0].single().number()
			c, f := a[1].single().number()
			if e.T == Error || f.T == Error || r < 1 || c < 1 {
				return one(errValue)
			}
			return one(Str("$" + columnLetters(int(c)) + "$" + strconv.Itoa(int(r))))
		},
		"LEFT": func(a []block) block { // of characters, where some programs count those beyond the first plane twice
			s, e := a[0].single().text()
			n, f := a[1].single().number()
			if e.T == Error || f.T == Error || n < 0 {
				return one(errValue)
			}
			r := []rune(s)
			return one(Str(string(r[:min(len(r), int(n))])))
		},

		"SUM":     func(a []block) block { return total(a, func(sum float64, _ int) Value { return Num(sum) }) },
		"AVERAGE": func(a []block) block { return total(a, mean) },
		"MIN":     func(a []block) block { return extreme(a, -1) },
		"MAX":     func(a []block) block { return extreme(a, 1) },
		"COUNT":   func(a []block) block { return one(Num(count(a, func(v Value) bool { return v.T == Number }))) },
		"COUNTA":  func(a []block) block { return one(Num(count(a, func(v Value) bool { return v.T != Empty }))) },
		"COUNTBLANK": func(a []block) block {
			return one(Num(count(a, func(v Value) bool { return v.T == Empty || v.T == Text && v.S == "" })))
		},
		"SMALL": func(a []block) block { return ranked(a, 1) },
		"LARGE": func(a []block) block { return ranked(a, -1) },
		"COUNTIF": func(a []block) block {
			return unary(a[1], func(v Value) Value { return Num(count(a[:1], criterion(v))) })
		},
		"SUMIF":     func(a []block) block { return sumIf(a, func(sum float64, _ int) Value { return Num(sum) }) },
		"AVERAGEIF": func(a []block) block { return sumIf(a, mean) },
		"COUNTIFS":  func(a []block) block { return countIfs(a) },

		"SUMPRODUCT": sumProduct,
		"MMULT":      matrixProduct,
		"INDEX":      index,
		"MATCH":      match,
		"ROW": func(a []block) block {
			if !a[0].isArea {
				return one(errValue)
			}
			k := a[0].area
			return block{rows: k.rows(), cols: 1, from: func(r, _ int) Value { return Num(float64(int(k.row) + r)) }}
		},
		"COLUMN": func(a []block) block {
			if !a[0].isArea {
				return one(errValue)
			}
			k := a[0].area
			return block{rows: 1, cols: k.cols(), from: func(_, c int) Value { return Num(float64(int(k.col) + c)) }}
		},
		"PI":      func(a []block) block { return one(Num(math.Pi)) },
		"ROWS":    func(a []block) block { return one(Num(float64(a[0].rows))) },
		"COLUMNS": func(a []block) block { return one(Num(float64(a[0].cols))) },

		"ABS":   func(a []block) block { return numeric(a[0], math.Abs) },
		"SQRT":  func(a []block) block { return numeric(a[0], math.Sqrt) },
		"EXP":   func(a []block) block { return numeric(a[0], math.Exp) },
		"INT":   func(a []block) block { return numeric(a[0], math.Floor) },
		"LOG10": func(a []block) block { return numeric(a[0], math.Log10) },
		"LN":    func(a []block) block { return numeric(a[0], math.Log) },
		"SIN":   func(a []block) block { return numeric(a[0], math.Sin) },
		"COS":   func(a []block) block { return numeric(a[0], math.Cos) },
		"TAN":   func(a []block) block { return numeric(a[0], math.Tan) },
		"ACOS":  func(a []block) block { return numeric(a[0], math.Acos) },
		"ROUND": func(a []block) block { return round(a) },
		"PV":    presentValue,
	}
}

// unary applies f to every value.
func unary(k block, f func(Value) Value) block {
	if k.rows == 1 && k.cols == 1 {
		return one(f(k.at(0, 0)))
	}
	return lift(k, one(Value{}), func(v, _ Value) Value { return f(v) })
}

// numeric applies f to every number.
func numeric(k block, f func(float64) float64) block {
	return unary(k, func(v Value) Value {
		x, err := v.number()
		if err.T == Error {
			return err
		}
		return Num(f(x))
	})
}

func mean(sum float64, n int) Value {
	if n == 0 {
		return errDiv
	}
	return Num(sum / float64(n))
}

// logical is AND (unit true) or OR (unit false). Text and empty cells in areas
// are passed over; where nothing is left it is an error.
func logical(args []block, unit bool) block {
	found, out := false, unit
	var fault Value
	for i := range args {
		a := &args[i]
		a.each(func(v Value) {
			if v.T == Error && fault.T != Error {
				fault = v
			}
			if a.isArea && (v.T == Text || v.T == Empty) {
				return
			}
			c, err := v.truth()
			if err.T == Error {
				fault = err
				return
			}
			found = true
			if c != unit {
				out = c
			}
		})
	}
	if fault.T == Error {
		return one(fault)
	}
	if !found {
		return one(errValue)
	}
	return one(Bool(out))
}

// numbers calls f for the numbers among the arguments, as SUM takes them:
// text, Booleans and empty cells of areas are passed over.
func numbers(args []block, f func(float64)) (fault Value) {
	for i := range args {
		a := &args[i]
		a.each(func(v Value) {
			switch {
			case v.T == Error:
				if fault.T != Error {
					fault = v
				}
			case v.T == Number, v.T == Boolean && !a.isArea:
				f(v.N)
			case v.T == Text && !a.isArea:
				fault = errValue
			}
		})
	}
	return fault
}

func total(args []block, done func(sum float64, n int) Value) block {
	sum, n := 0.0, 0
	if err := numbers(args, func(x float64) { sum += x; n++ }); err.T == Error {
		return one(err)
	}
	return one(done(sum, n))
}

// extreme is MAX (sign 1) or MIN (sign -1); 0 where there is no number.
func extreme(args []block, sign float64) block {
	m, n := 0.0, 0
	err := numbers(args, func(x float64) {
		if n == 0 || sign*x > sign*m {
			m = x
		}
		n++
	})
	if err.T == Error {
		return one(err)
	}
	return one(Num(m))
}

// ranked is SMALL(block, n), the n-th of the numbers from the smallest up, and with sign -1 LARGE,
// from the largest down.
func ranked(a []block, sign float64) block {
	n, err := a[1].single().number()
	if err.T == Error {
		return one(err)
	}
	var list []float64
	if err := numbers(a[:1], func(x float64) { list = append(list, sign*x) }); err.T == Error {
		return one(err)
	}
	if i := int(n); i < 1 || i > len(list) {
		return one(errNum)
	}
	sort.Float64s(list)
	return one(Num(sign * list[int(n)-1]))
}

func count(args []block, want func(Value) bool) float64 {
	n := 0
	for i := range args {
		a := &args[i]
		a.each(func(v Value) {
			if want(v) {
				n++
			}
		})
	}
	return float64(n)
}

// sumProduct multiplies blocks value by value and adds up. Values of areas
// that are no numbers count as 0, as in the programs.
func sumProduct(args []block) block {
	sum := 0.0
	for r := 0; r < args[0].rows; r++ {
		for c := 0; c < args[0].cols; c++ {
			p := 1.0
			for i := range args {
				a := &args[i]
				if a.rows != args[0].rows || a.cols != args[0].cols {
					return one(errValue)
				}
				v := a.at(r, c)
				if v.T == Error {
					return one(v)
				}
				if v.T != Number {
					v.N = 0
				}
				p *= v.N
			}
			sum += p
		}
	}
	return one(Num(sum))
}

func matrixProduct(args []block) block {
	a, b := args[0], args[1]
	if a.cols != b.rows {
		return one(errValue)
	}
	out := make([]Value, a.rows*b.cols)
	for r := range a.rows {
		for c := range b.cols {
			sum := 0.0
			for k := range a.cols {
				x, y := a.at(r, k), b.at(k, c)
				if x.T != Number || y.T != Number {
					return one(errValue)
				}
				sum += x.N * y.N
			}
			out[r*b.cols+c] = Num(sum)
		}
	}
	return array(a.rows, b.cols, out)
}

func round(a []block) block {
	d, err := a[1].single().number()
	if err.T == Error {
		return one(err)
	}
	return numeric(a[0], func(x float64) float64 {
		if x < 0 {
			return -Round(-x, int(d))
		}
		return Round(x, int(d))
	})
}

// presentValue is PV(rate, periods, payment).
func presentValue(a []block) block {
	var x [3]float64
	for i := range x {
		v, err := a[i].single().number()
		if err.T == Error {
			return one(err)
		}
		x[i] = v
	}
	if x[0] == 0 {
		return one(Num(-x[2] * x[1]))
	}
	return one(Num(x[2] * math.Expm1(-x[1]*math.Log1p(x[0])) / x[0]))
}
