// Package calc evaluates the formulas that this program writes into workbooks,
// by the rules of spreadsheet programs. Every live cell so carries the value
// that the client's spreadsheet program will show, helper cells and sentences
// too, and tests can hold the translated formulas against the engine without a
// spreadsheet program.
//
// It knows the functions that our sheets use and no others.
package calc

import (
	"math"
	"strconv"
	"strings"
)

// Type is what a value is.
type Type uint8

// The types, in the order in which spreadsheet programs sort unlike values.
const (
	Empty Type = iota
	Number
	Text
	Boolean
	Error
)

// Value is the content of one cell.
type Value struct {
	T Type
	N float64 // Number; Boolean is 0 or 1
	S string  // Text; Error: its name, such as #DIV/0!
}

// The error values.
var (
	errDiv   = Value{T: Error, S: "#DIV/0!"}
	errValue = Value{T: Error, S: "#VALUE!"}
	errNum   = Value{T: Error, S: "#NUM!"}
	errNA    = Value{T: Error, S: "#N/A"}
	errRef   = Value{T: Error, S: "#REF!"}
	errName  = Value{T: Error, S: "#NAME?"}
	errCycle = Value{T: Error, S: "#CYCLE!"}
)

// Num, Str and Bool make values.
func Num(x float64) Value {
	if math.IsNaN(x) || math.IsInf(x, 0) {
		return errNum
	}
	return Value{T: Number, N: x}
}

// Str is a text value.
func Str(s string) Value { return Value{T: Text, S: s} }

// Bool is a Boolean value.
func Bool(b bool) Value {
	if b {
		return Value{T: Boolean, N: 1}
	}
	return Value{T: Boolean}
}

// Of turns plain Go data (float64, int, string, bool, nil) into a value.
func Of(v any) Value {
	switch v := v.(type) {
	case float64:
		return Num(v)
	case int:
		return Num(float64(v))
	case string:
		return Str(v)
	case bool:
		return Bool(v)
	}
	return Value{}
}

// Any is the value as plain Go data. An empty value of a formula is 0, as
// spreadsheet programs show it; an error is its name.
func (v Value) Any() any {
	switch v.T {
	case Number:
		return v.N
	case Text, Error:
		return v.S
	case Boolean:
		return v.N != 0
	}
	return 0.0
}

// number is v where a number is needed.
func (v Value) number() (float64, Value) {
	switch v.T {
	case Number, Boolean, Empty:
		return v.N, Value{}
	case Error:
		return 0, v
	}
	// Programs differ in what they make of text: never rely on it.
	return 0, errValue
}

// truth is v where a condition is needed.
func (v Value) truth() (bool, Value) {
	n, err := v.number()
	return n != 0, err
}

// text is v where text is needed.
func (v Value) text() (string, Value) {
	switch v.T {
	case Text:
		return v.S, Value{}
	case Number:
		return general(v.N), Value{}
	case Boolean:
		if v.N != 0 {
			return "TRUE", Value{}
		}
		return "FALSE", Value{}
	case Error:
		return "", v
	}
	return "", Value{}
}

// general is a number in the General format of text operations.
func general(x float64) string {
	s := strconv.FormatFloat(x, 'f', -1, 64)
	if len(s) > 15 {
		r, _ := strconv.ParseFloat(strconv.FormatFloat(x, 'g', 15, 64), 64)
		s = strconv.FormatFloat(r, 'f', -1, 64)
	}
	return s
}

// order compares values as the operators do: negative, 0 or positive.
func order(a, b Value) int {
	if a.T == Empty {
		a = zeroLike(b)
	}
	if b.T == Empty {
		b = zeroLike(a)
	}
	if a.T != b.T {
		return int(a.T) - int(b.T)
	}
	if a.T == Text {
		return strings.Compare(strings.ToLower(a.S), strings.ToLower(b.S))
	}
	switch {
	case a.N < b.N:
		return -1
	case a.N > b.N:
		return 1
	}
	return 0
}

// zeroLike is what an empty cell counts as beside v.
func zeroLike(v Value) Value {
	if v.T == Text {
		return Str("")
	}
	if v.T == Empty {
		return Value{T: Number}
	}
	return Value{T: v.T}
}

// fixed writes x with so many decimals, up to 15, and commas between thousands, as programs do
// whose language is English.
func fixed(x float64, decimals int) string {
	decimals = min(decimals, 15)
	s := Round(math.Abs(x), decimals)
	out := grouped(strconv.FormatFloat(s, 'f', max(0, decimals), 64))
	if x < 0 && s != 0 {
		out = "-" + out
	}
	return out
}

// Round rounds to decimals, halves away from zero, going by the 15 digits that
// a spreadsheet shows rather than by the binary value.
func Round(x float64, decimals int) float64 {
	p := math.Pow(10, float64(decimals))
	y := x * p
	if math.Abs(y) >= 1e15 || math.IsInf(y, 0) {
		return x
	}
	y, _ = strconv.ParseFloat(strconv.FormatFloat(y, 'g', 15, 64), 64)
	return math.Round(y) / p
}

// grouped puts commas between thousands.
func grouped(s string) string {
	whole, rest := s, ""
	if i := strings.IndexByte(s, '.'); i >= 0 {
		whole, rest = s[:i], s[i:]
	}
	var b strings.Builder
	for i, c := range whole {
		if i > 0 && (len(whole)-i)%3 == 0 {
			b.WriteByte(',')
		}
		b.WriteRune(c)
	}
	return b.String() + rest
}
