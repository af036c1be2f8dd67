package sample

import (
	"errors"
	"fmt"
	"slices"
	"strings"

	"gonum.org/v1/gonum/mat"
)

// Pair says that two inputs, counted from 0, rise and fall together (or against
// each other, where the coefficient is below 0).
type Pair struct {
	A, B int
	// Coefficient, between -1 and 1, is Pearson's correlation of the normal scores
	// of both: of what each would be if it were spread normally. For inputs that
	// are normal it is their own correlation; in any case their rank correlation
	// (Spearman's) is 6/π·asin(Coefficient/2), a little nearer to 0 (Kruskal 1958).
	Coefficient float64
}

// Correlation ties inputs together by a Gaussian copula: each keeps its own
// distribution. It may be shared.
type Correlation struct {
	tied  []int     // the inputs that occur in a pair, ascending
	lower []float64 // Cholesky's factor over them, row by row, each up to its diagonal
}

// Correlate makes the correlation of inputs that are named so, for sentences, and
// of which all pairs not given are independent. The error says which pair is
// impossible, or which inputs have coefficients that contradict each other: that
// no values could have together.
func Correlate(names []string, pairs []Pair) (*Correlation, error) {
	c := &Correlation{}
	for i, p := range pairs {
		if err := p.fault(names, pairs[:i]); err != nil {
			return nil, err
		}
		c.tied = append(c.tied, p.A, p.B)
	}
	slices.Sort(c.tied)
	c.tied = slices.Compact(c.tied)
	n := len(c.tied)
	if n == 0 {
		return c, nil
	}
	m := mat.NewSymDense(n, nil)
	for i := range n {
		m.SetSym(i, i, 1)
	}
	for _, p := range pairs {
		a, _ := slices.BinarySearch(c.tied, p.A)
		b, _ := slices.BinarySearch(c.tied, p.B)
		m.SetSym(a, b, p.Coefficient)
	}
	var factor mat.Cholesky
	if !factor.Factorize(m) {
		var list []string
		for _, i := range contradiction(m) {
			list = append(list, names[c.tied[i]])
		}
		return nil, fmt.Errorf("the correlations of %s contradict each other: no values could have them all",
			strings.Join(list[:len(list)-1], ", ")+" and "+list[len(list)-1])
	}
	var l mat.TriDense
	factor.LTo(&l)
	for i := range n {
		for j := range i + 1 {
			c.lower = append(c.lower, l.At(i, j))
		}
	}
	return c, nil
}

// fault is what is wrong with a pair by itself or beside the ones before it.
func (p Pair) fault(names []string, before []Pair) error {
	if p.A < 0 || p.B < 0 || p.A >= len(names) || p.B >= len(names) {
		return errors.New("a correlation is of an input that there is not")
	}
	a, b := names[p.A], names[p.B]
	if p.A == p.B {
		return fmt.Errorf("%s is correlated with itself: a correlation is of two inputs", a)
	}
	if !(p.Coefficient > -1 && p.Coefficient < 1) {
		return fmt.Errorf("the correlation of %s and %s must be between -1 and 1, both left out, but it is %v", a, b, p.Coefficient)
	}
	for _, q := range before {
		if q.A == p.A && q.B == p.B || q.A == p.B && q.B == p.A {
			return fmt.Errorf("the correlation of %s and %s is given twice", a, b)
		}
	}
	return nil
}

// contradiction is a set of rows of a matrix that is not positive definite such
// that it would be without any one of them.
func contradiction(m *mat.SymDense) []int {
	rows := make([]int, m.SymmetricDim())
	for i := range rows {
		rows[i] = i
	}
	for i := 0; i < len(rows); {
		fewer := slices.Delete(slices.Clone(rows), i, i+1)
		part := mat.NewSymDense(len(fewer), nil)
		for a, row := range fewer {
			for b := range a + 1 {
				part.SetSym(a, b, m.At(row, fewer[b]))
			}
		}
		var factor mat.Cholesky
		if factor.Factorize(part) {
			i++
			continue
		}
		rows = fewer
	}
	return rows
}

// Apply makes independent numbers between 0 and 1 into correlated ones, in place:
// u[d][i] is input d of point i. Each input by itself is spread as before. It does
// not allocate.
func (c *Correlation) Apply(u [][]float64) {
	for _, d := range c.tied {
		for i, v := range u[d] {
			u[d][i] = NormalQuantile(v)
		}
	}
	// Row i of the factor needs the independent scores of rows up to i only: from
	// the last row upwards they are still there.
	for i := len(c.tied) - 1; i >= 0; i-- {
		row := c.lower[i*(i+1)/2:][:i+1]
		z := u[c.tied[i]]
		for k := range z {
			z[k] *= row[i]
		}
		for j := range i {
			if row[j] == 0 {
				continue
			}
			for k, v := range u[c.tied[j]] {
				z[k] += row[j] * v
			}
		}
	}
	for _, d := range c.tied {
		for i, z := range u[d] {
			u[d][i] = held(NormalCDF(z), 0x1p-53, 1-0x1p-53)
		}
	}
}
