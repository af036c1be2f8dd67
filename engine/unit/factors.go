package unit

import (
	"math"
	"strconv"
	"sync"
)

// byName are the factors of units that were asked for, by their names.
var byName sync.Map // string to *factors

type factors struct{ mul, div []float64 }

// Factors are those by which values in the unit are multiplied and divided to be in base
// units, each as people know it: of kWh/year 1000 and 8760, where Mul and Div have
// nothing in common and are 25 and 219. They give Mul/Div but for rounding; a factor that
// changes nothing is none.
func (u Unit) Factors() (mul, div []float64) {
	if found, ok := byName.Load(u.Name); ok {
		if f := found.(*factors); f.give(u) {
			return f.mul, f.div
		}
		return bare(u.Mul), bare(u.Div) // of another unit by that name
	}
	f := factorsOf(u.Name)
	if f == nil || !f.give(u) {
		f = &factors{bare(u.Mul), bare(u.Div)}
	}
	byName.Store(u.Name, f)
	return f.mul, f.div
}

// give reports whether these are the factors of a unit.
func (f *factors) give(u Unit) bool {
	x := u.Mul / u.Div
	for _, m := range f.mul {
		x /= m
	}
	for _, d := range f.div {
		x *= d
	}
	return math.Abs(x-1) < 1e-12
}

func bare(x float64) []float64 {
	if x == 1 {
		return nil
	}
	return []float64{x}
}

// factorsOf are those of the parts of a unit; nil where it is none.
func factorsOf(name string) *factors {
	f := &factors{}
	p := &parser{in: []rune(name), out: One, met: func(u Unit, n int) {
		mul, div := u.known()
		if n < 0 {
			mul, div, n = div, mul, -n
		}
		f.mul, f.div = put(f.mul, mul, n), put(f.div, div, n)
	}}
	if _, err := p.unit(); err != nil {
		return nil
	}
	return f
}

// put adds factors of a part to the power n.
func put(to, list []float64, n int) []float64 {
	for _, x := range list {
		if n > 1 { // 15 digits, since 0.3048² is 0.09290304 and not what rounding leaves of it
			x, _ = strconv.ParseFloat(strconv.FormatFloat(math.Pow(x, float64(n)), 'g', 15, 64), 64)
		}
		to = append(to, x)
	}
	return to
}

// known are the factors of a unit that is no product. Lengths and masses of inches, feet
// and pounds have one of several digits (NIST SP 811, B.8); a month is a twelfth of a year.
func (u Unit) known() (mul, div []float64) {
	switch {
	case u.Name == "month":
		return []float64{8760}, []float64{12}
	case u.Name == "week":
		return []float64{24, 7}, nil
	case u.Name == "ms":
		return nil, []float64{3600, 1000}
	case u.Mul != 1 && math.Mod(u.Div, 1e4) == 0:
		return []float64{u.Mul / u.Div}, nil
	}
	return bare(u.Mul), bare(u.Div)
}
