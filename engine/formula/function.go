package formula

import (
	"bankwright/engine/recording"
	"bankwright/engine/unit"
)

// Function is one entry of the registry: everything that any consumer needs to
// know of a function stands here, so that adding a function is adding an entry.
type Function struct {
	Name   string
	Doc    string   // one line; names the parameters
	Params []string // "[xs]" is a table column; "<history>" in front is a whole series; "{values}" is a column of a recording
	Rest   bool     // the last parameter may be repeated
	Spare  int      // so many of the last parameters may be left out

	Scales  bool // a factor above 0 of all numbers is one of the result; the spreadsheet form names each number once
	TextKey bool // the keys, and what is looked up, are texts
	ByRow   bool // it looks into no column of a table: the first may hold texts or numbers in any order
	Rising  bool // the first column must rise from row to row
	Falling bool // the first column must fall from row to row

	// Dim is the dimension rule, given the dimensions of the arguments (Any
	// fits all: see Fit). It returns a sentence where they do not fit.
	Dim func(args []unit.Dim) (unit.Dim, string)

	// Eval computes one value. Column arguments come first in cols, in order;
	// numbers in x. NaN in gives NaN out. Nothing is kept or changed.
	Eval func(cols [][]float64, x []float64) float64

	// One is Eval, of a function of a single number. Ready is Eval for columns that
	// stay, of one that takes two of them and a number: what follows from the columns
	// alone is worked out beforehand. Such functions have no Eval of their own.
	One   Single
	Ready func(xs, ys []float64) Single

	// Measure, of a function over a recording, is what is to be found in it, by
	// the names of the columns and the numbers; Pick makes the function's value of
	// what was found. Such a function has no Eval and no Result; Kept is its spreadsheet
	// form for a sheet that holds all rows of the recording.
	Measure func(columns []string, x []float64) recording.Measure
	Pick    func(found recording.Result, report *recording.Report) float64
	Kept    KeptForm

	// Steps and Result are the spreadsheet form: text in which {name} stands
	// for an argument (safe inside parentheses or between commas), {...} for
	// all arguments, {#label} for the cell of an earlier step. Each step
	// becomes a cell of its own. A function without Result cannot be live there:
	// its cell holds the computed value and is marked as computed.
	Steps  []SheetStep
	Result string

	// Counted is Result where the last number is known to be at least 1, Whole where it is
	// known to be whole as well, Positive where all numbers are known to be at least 0.
	Counted, Whole, Positive string
}

// Single is a function of a single number. What Column enters is, to the last bit, what
// At gives for each number, if it is finite, and no value (NaN) for the others; dst and
// x are apart, their lengths a multiple of arith.Together. Without Column it is worked
// out number by number. What Ready gave is for one goroutine at a time.
type Single struct {
	At     func(x float64) float64
	Column func(dst, x []float64)
}

// SheetStep is a helper cell of a function's spreadsheet form.
type SheetStep struct {
	Label string
	Text  string
}

// KeptForm is a spreadsheet form over the rows of a recording. In Text {v} stands
// for the cells of a column, or for the product of two, {time} for those of the time
// and {part} for those of a number that is the same in rows without a gap between
// them; {v1} is all but the last, {v2} all but the first, and so are the others'.
// Values and Time tell whether the result is in the unit of the values, of the time
// or of their product. Without Text there is no form.
type KeptForm struct {
	Text         string
	Values, Time bool
}

// Apply is the function's value by Eval, One or Ready, whichever it has; no value
// (NaN) among the numbers gives no value.
func (f *Function) Apply(cols [][]float64, x []float64) float64 {
	for _, v := range x {
		if v != v {
			return v
		}
	}
	switch {
	case f.One.At != nil:
		return f.One.At(x[0])
	case f.Ready != nil:
		return f.Ready(cols[0], cols[1]).At(x[0])
	}
	return f.Eval(cols, x)
}
