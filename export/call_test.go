package export

import (
	"math"
	"slices"
	"testing"

	"bankwright/engine/arith"
	"bankwright/engine/formula"
	"bankwright/export/calc"
)

// TestRegistry holds the spreadsheet form of every function against its code,
// at ties and ends as well: each argument in a cell, each step in a cell.
func TestRegistry(t *testing.T) {
	rising := [][]float64{{0.5, 0.8, 1}, {8000, 4500, 3300}}
	numbers := []float64{-2, -0.5, 0, 0.3, 0.5, 0.65, 0.8 * (1 + 1e-15), 0.8, 1, 1 + 1e-13, 2, 3, 4.5}
	for _, f := range formula.Functions {
		if !f.Live() {
			continue // its cells are marked as computed; see TestComputed
		}
		if f.TextKey {
			continue // its form is a plain INDEX and MATCH; see TestRecalculated
		}
		columns := rising
		if f.Falling {
			columns = [][]float64{{1, 0.8, 0.5}}
		}
		n := len(f.Params) - f.Columns()
		for _, a := range numbers {
			for _, b := range numbers {
				x := []float64{a, b, 1.5}[:n]
				if f.Name == "discount" && a <= -1 {
					continue // a rate of -100 % or less has no meaning
				}
				want := f.Apply(columns[:f.Columns()], x)
				for _, form := range formsFor(f, x) {
					got := inSheet(f, form, columns, x)
					switch {
					case want != want || math.IsInf(want, 0):
						if got.T != calc.Error {
							t.Errorf("%s%v: no result, but %s gives %v", f.Name, x, form, got)
						}
					case !same(got, calc.Num(want)):
						t.Errorf("%s%v = %v, %s gives %v", f.Name, x, want, form, got)
					}
				}
				if n <= 1 {
					break
				}
			}
		}
	}
}

// formsFor are the spreadsheet forms that hold for numbers.
func formsFor(f *formula.Function, x []float64) []string {
	forms := []string{f.Result}
	if f.Positive != "" && !slices.ContainsFunc(x, func(v float64) bool { return v < 0 }) {
		forms = append(forms, f.Positive)
	}
	if f.Counted != "" && x[len(x)-1] >= 1 {
		forms = append(forms, f.Counted)
	}
	return forms
}

// inSheet works a function out by one of its spreadsheet forms.
func inSheet(f *formula.Function, form string, columns [][]float64, x []float64) calc.Value {
	s := &Sheet{Name: "S"}
	args := map[string]term{}
	last := 4 // points of an item: one cell is empty
	if f.ByRow {
		last = 3 // a table of the rules
	}
	var all []text
	for i, p := range f.Params {
		col := i + 1
		at := lit(cellName(1, col))
		if i < f.Columns() {
			p = p[1 : len(p)-1]
			for r, v := range columns[i] {
				s.Set(r+1, col, Cell{Value: v})
			}
			at = lit("$" + cellName(1, col) + ":$" + cellName(last, col))
		} else {
			s.Set(1, col, Cell{Value: x[i-f.Columns()]})
			all = append(all, at)
		}
		args[p] = term{text: at, prec: precAtom}
	}
	args["..."] = term{text: list(all), prec: precAny}
	for i, st := range f.Steps {
		s.Set(6+i, 1, Cell{Formula: substitute(st.Text, args).at(spot{})})
		args["#"+st.Label] = term{text: lit(cellName(6+i, 1)), prec: precAtom}
	}
	s.Set(20, 1, Cell{Formula: substitute(form, args).at(spot{})})
	tolerance := &Sheet{Name: "T"}
	tolerance.Set(1, 1, Cell{Value: arith.Tolerance})
	b := &Book{Sheets: []*Sheet{s, tolerance}, Names: []Name{{"tolerance", "T!$A$1"}}}
	return calc.New(b).Cell(0, 20, 1)
}
