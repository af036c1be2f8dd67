package formula

import (
	"math"

	"bankwright/engine/arith"
	"bankwright/engine/unit"
)

// Functions is the registry, in the order in which it is documented. The
// aggregates (sum, count, any, all, mean, first, last, len) and prev are forms
// of the language and not in it.
var Functions = append([]*Function{
	{
		Name: "min", Scales: true, Doc: "the smallest of several values", Params: []string{"a", "b"}, Rest: true,
		Dim: alike, Eval: func(_ [][]float64, x []float64) float64 { return extreme(x, -1) },
		Result: "MIN({...})",
	},
	{
		Name: "max", Scales: true, Doc: "the largest of several values", Params: []string{"a", "b"}, Rest: true,
		Dim: alike, Eval: func(_ [][]float64, x []float64) float64 { return extreme(x, 1) },
		Result: "MAX({...})",
	},
	{
		Name: "clamp", Scales: true, Doc: "x, but not below low nor above high", Params: []string{"x", "low", "high"},
		Dim: alike, Eval: func(_ [][]float64, x []float64) float64 {
			return extreme([]float64{extreme(x[:2], 1), x[2]}, -1)
		},
		Result: "MIN(MAX({x},{low}),{high})",
	},
	{
		Name: "abs", Scales: true, Doc: "x without its sign", Params: []string{"x"},
		Dim: alike, One: Single{At: func(x float64) float64 {
			if x < 0 {
				return -x
			}
			return x
		}},
		Result: "ABS({x})",
	},
	{
		Name: "ceil", Doc: "the least whole number not below x", Params: []string{"x"},
		Dim: plain, One: Single{arith.Ceil, arith.Ceils},
		// The tolerance is subtracted first; -INT(-x) is the ceiling of any sign.
		Result: "-INT(-({x}-tolerance*MAX(1,ABS({x}))))",
	},
	{
		Name: "floor", Doc: "the greatest whole number not above x", Params: []string{"x"},
		Dim: plain, One: Single{arith.Floor, arith.Floors},
		Result: "INT({x}+tolerance*MAX(1,ABS({x})))", Positive: "INT({x}*(1+tolerance))",
	},
	{
		Name: "round", Doc: "the whole number nearest to x, halves away from zero", Params: []string{"x"},
		Dim: plain, One: Single{At: math.Round},
		Result: "ROUND({x},0)",
	},
	{
		Name: "sqrt", Doc: "the square root of x", Params: []string{"x"},
		Dim: func(d []unit.Dim) (unit.Dim, string) {
			if r, ok := unit.Root(d[0], 2); ok {
				return r, ""
			}
			return unit.Any, "the square root of " + d[0].Describe() + " is not a quantity"
		},
		One:    Single{At: math.Sqrt},
		Result: "SQRT({x})",
	},
	{
		Name: "exp", Doc: "e to the power x", Params: []string{"x"},
		Dim: plain, One: Single{math.Exp, arith.Exps},
		Result: "EXP({x})",
	},
	{
		Name: "ln", Doc: "the natural logarithm of x", Params: []string{"x"},
		Dim: plain, One: Single{At: func(x float64) float64 {
			if x <= 0 {
				return math.NaN()
			}
			return math.Log(x)
		}, Column: arith.Logs},
		Result: "LN({x})",
	},
	{
		Name: "sin", Doc: "the sine of the angle x", Params: []string{"x"},
		Dim: plain, One: Single{At: math.Sin},
		Result: "SIN({x})",
	},
	{
		Name: "cos", Doc: "the cosine of the angle x", Params: []string{"x"},
		Dim: plain, One: Single{At: math.Cos},
		Result: "COS({x})",
	},
	{
		Name: "tan", Doc: "the tangent of the angle x", Params: []string{"x"},
		Dim: plain, One: Single{At: math.Tan},
		Result: "TAN({x})",
	},
	{
		Name: "acos", Doc: "the angle between 0 and 180 degrees whose cosine is x", Params: []string{"x"},
		Dim: plain, One: Single{At: math.Acos},
		Result: "ACOS({x})",
	},
	{
		Name: "discount", Doc: "what a payment after that many years is worth now at a rate a year", Params: []string{"rate", "years"},
		Dim: plain, Eval: func(_ [][]float64, x []float64) float64 { return math.Pow(1+x[0], -x[1]) },
		Result: "(1+{rate})^(-({years}))",
	},
	{
		Name: "annuity", Doc: "what 1 at the end of each of that many years is worth now at a rate a year", Params: []string{"rate", "years"},
		Dim: plain, Eval: func(_ [][]float64, x []float64) float64 {
			if x[0] == 0 {
				return x[1]
			}
			return -math.Expm1(-x[1]*math.Log1p(x[0])) / x[0]
		},
		Result: "-PV({rate},{years},1)",
	},
	{
		Name: "lookup", Doc: "the value in the row whose key is x", Params: []string{"[keys]", "[values]", "x"},
		Dim: fromColumns, Eval: func(cols [][]float64, x []float64) float64 {
			for i, k := range cols[0] {
				if k == x[0] || arith.Near(k, x[0]) {
					return cols[1][i]
				}
			}
			return math.NaN()
		},
		Steps: []SheetStep{
			{"low", "{x}-tolerance*ABS({x})"},
			{"high", "{x}+tolerance*ABS({x})"},
			{"line", "SUMPRODUCT(ISNUMBER({keys})*({keys}>={#low})*({keys}<={#high})*ROW({keys}))"},
		},
		Result: "IF({#line}=0,NA(),INDEX({values},{#line}-SUMPRODUCT(MIN(ROW({keys})))+1))",
	},
	{
		Name: "lookup_name", Doc: "the value in the row whose key is the text x", Params: []string{"[keys]", "[values]", "x"}, TextKey: true,
		Dim: fromColumns, Eval: func(cols [][]float64, x []float64) float64 {
			for i, k := range cols[0] {
				if k == x[0] {
					return cols[1][i]
				}
			}
			return math.NaN()
		},
		Result: "INDEX({values},MATCH({x},{keys},0))",
	},
	{
		Name: "at_least", Doc: "the smallest entry of a rising column that is not below x", Params: []string{"[sizes]", "x"}, Rising: true,
		Dim: alike, Eval: func(cols [][]float64, x []float64) float64 {
			for _, v := range cols[0] {
				if arith.AtMost(x[0], v) {
					return v
				}
			}
			return math.NaN()
		},
		Result: `SMALL({sizes},1+COUNTIF({sizes},"<"&{x}-tolerance*ABS({x}))+0*{x})`,
	},
	{
		Name: "row_at_least", Doc: "the row of the smallest entry of a rising column that is not below x; one beyond the last where all are below", Params: []string{"[sizes]", "x"}, Rising: true,
		Dim: counted, Eval: func(cols [][]float64, x []float64) float64 {
			if x[0] != x[0] {
				return math.NaN()
			}
			row := 1
			for _, v := range cols[0] {
				if arith.AtMost(x[0], v) {
					break
				}
				row++
			}
			return float64(row)
		},
		Result: `1+COUNTIF({sizes},"<"&{x}-tolerance*ABS({x}))+0*{x}`,
	},
	{
		Name: "entry", Doc: "the entry of a column of a table in row n, counted from 1; what n has behind the point does not count", Params: []string{"[values]", "n"}, ByRow: true,
		Dim: numbered, Eval: func(cols [][]float64, x []float64) float64 {
			if n := arith.Floor(x[0]); x[0] >= 1 && n <= float64(len(cols[0])) {
				return cols[0][int(n)-1]
			}
			return math.NaN()
		},
		Result: "INDEX({values},INT({n}*(1+tolerance))/({n}>=1))", Counted: "INDEX({values},INT({n}*(1+tolerance)))", Whole: "INDEX({values},{n})",
	},
	{
		Name: "last_entry", Doc: "the last entry of a column", Params: []string{"[values]"},
		Dim: alike, Eval: func(cols [][]float64, _ []float64) float64 {
			if n := len(cols[0]); n > 0 {
				return cols[0][n-1]
			}
			return math.NaN()
		},
		Result: "INDEX({values},COUNT({values}))",
	},
	{
		Name: "at_most", Doc: "the largest entry of a falling column that is not above x", Params: []string{"[sizes]", "x"}, Falling: true,
		Dim: alike, Eval: func(cols [][]float64, x []float64) float64 {
			for _, v := range cols[0] {
				if arith.AtMost(v, x[0]) {
					return v
				}
			}
			return math.NaN()
		},
		Result: `LARGE({sizes},1+COUNTIF({sizes},">"&{x}+tolerance*ABS({x}))+0*{x})`,
	},
	{
		Name: "rainflow", Params: []string{"<history>", "[ranges]", "[cycles]", "scale"}, Rising: true,
		Doc: "share of a life that one turn of a repeating history takes: its rainflow cycles, divided by scale, against a curve of cycles on log-log paper",
		Dim: func(d []unit.Dim) (unit.Dim, string) {
			share, ok := unit.Div(d[0], d[3])
			if _, fits := unit.Fit(share, d[1]); !ok || !fits {
				return unit.None, "the history divided by scale is not like the ranges of the curve"
			}
			return unit.None, ""
		},
		Eval: damage,
	},
	{
		Name: "interpolate", Doc: "y at x on straight lines between points, held at the ends", Params: []string{"[xs]", "[ys]", "x"}, Rising: true,
		Dim: fromColumns, Ready: straight,
		Steps:  pointSteps("(MAX({x},{#lower})-{#lower})/({#upper}-{#lower})"),
		Result: "{#from}+{#way}*(INDEX({ys},{#next})-{#from})",
	},
	{
		Name: "interpolate_log", Doc: "y at x on lines that are straight on log-log paper, held at the ends", Params: []string{"[xs]", "[ys]", "x"}, Rising: true,
		Dim: fromColumns, Ready: straightLog,
		Steps:  pointSteps("LN(MAX({x},{#lower})/{#lower})/LN({#upper}/{#lower})"),
		Result: "{#from}*(INDEX({ys},{#next})/{#from})^{#way}",
	},
}, append(statistics, recorded...)...)

// Some programs count no cell where a condition is an error value, others give that
// value; what is added to a count makes it the error value everywhere.

// pointSteps finds the two points around x, of which the second is the first again beyond the
// last of them, and by way how much of the way between them x has gone.
func pointSteps(way string) []SheetStep {
	return []SheetStep{
		{"row", "MAX(1,COUNTIF({xs},\"<=\"&{x}+tolerance*ABS({x})))+0*{x}"},
		{"next", "MIN({#row}+1,COUNT({xs}))"},
		{"lower", "INDEX({xs},{#row})"},
		{"upper", "INDEX({xs},{#next})"},
		{"way", "IF({#next}={#row},0,MIN(1," + way + "))"},
		{"from", "INDEX({ys},{#row})"},
	}
}

var byName = func() map[string]*Function {
	m := map[string]*Function{}
	for _, f := range Functions {
		m[f.Name] = f
	}
	return m
}()

// Lookup finds a function by name, nil if there is none.
func Lookup(name string) *Function { return byName[name] }

// History reports whether the first parameter is a whole series.
func (f *Function) History() bool { return len(f.Params) > 0 && f.Params[0][0] == '<' }

// Live reports whether the function has a spreadsheet form.
func (f *Function) Live() bool { return f.Result != "" }

// Columns is how many of the parameters are lists of values, a history, table
// columns or columns of a recording; they come first.
func (f *Function) Columns() int {
	n := 0
	for _, p := range f.Params {
		if p[0] == '[' || p[0] == '<' || p[0] == '{' {
			n++
		}
	}
	return n
}

// alike: all arguments have one dimension, and so has the result.
func alike(d []unit.Dim) (unit.Dim, string) {
	out := unit.Any
	for _, a := range d {
		fit, ok := unit.Fit(out, a)
		if !ok {
			return unit.Any, "one is " + out.Describe() + ", another " + a.Describe()
		}
		out = fit
	}
	return out, ""
}

// plain: numbers without a unit in and out.
func plain(d []unit.Dim) (unit.Dim, string) {
	for _, a := range d {
		if _, ok := unit.Fit(unit.None, a); !ok {
			return unit.None, "it takes numbers without a unit, not " + a.Describe()
		}
	}
	return unit.None, ""
}

// fromColumns: keys, values, x: x is like the keys, the result like the values.
func fromColumns(d []unit.Dim) (unit.Dim, string) {
	if _, ok := unit.Fit(d[0], d[2]); !ok {
		return d[1], "the column holds " + d[0].Describe() + ", but what is looked up is " + d[2].Describe()
	}
	return d[1], ""
}

// counted: what is looked for is like the entries, the result a plain number.
func counted(d []unit.Dim) (unit.Dim, string) {
	_, why := alike(d)
	return unit.None, why
}

// numbered: the row is a plain number, the result like the values.
func numbered(d []unit.Dim) (unit.Dim, string) {
	_, why := plain(d[1:])
	return d[0], why
}

// extreme is the largest (sign 1) or smallest (sign -1) of x; NaN where any is.
func extreme(x []float64, sign float64) float64 {
	m := x[0]
	for _, v := range x {
		if v != v {
			return v
		}
		if sign*v > sign*m {
			m = v
		}
	}
	return m
}
