package eval

import "bankwright/engine/formula"

// readied are functions that have been made ready for columns.
type readied map[readyKey]formula.Single

// readyKey is a function and the columns for which it was made ready.
type readyKey struct {
	fn     *formula.Function
	xs, ys *float64
}

// single is a registry function of one number, made ready for its columns, if it has
// any; an empty one where it is none such.
func (r *readied) single(fn *formula.Function, cols [][]float64) formula.Single {
	if fn.One.At != nil || fn.Ready == nil || len(cols[0]) == 0 || len(cols[1]) == 0 {
		return fn.One
	}
	key := readyKey{fn, &cols[0][0], &cols[1][0]}
	f := (*r)[key]
	if f.At == nil {
		if *r == nil {
			*r = readied{}
		}
		f = fn.Ready(cols[0], cols[1])
		(*r)[key] = f
	}
	return f
}
