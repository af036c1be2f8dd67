package calc

import (
	"math"

	"gonum.org/v1/gonum/mathext"
	"gonum.org/v1/gonum/stat"
)

func init() {
	functions["STDEV"] = standardDeviation
	functions["BETADIST"] = func(a []block) block {
		return ofNumbers(a, 3, func(x []float64) bool { return x[0] >= 0 && x[0] <= 1 && x[1] > 0 && x[2] > 0 },
			func(x []float64) float64 { return mathext.RegIncBeta(x[1], x[2], x[0]) })
	}
	functions["BETAINV"] = func(a []block) block {
		return ofNumbers(a, 3, func(x []float64) bool { return x[0] > 0 && x[0] <= 1 && x[1] > 0 && x[2] > 0 },
			func(x []float64) float64 { return mathext.InvRegIncBeta(x[1], x[2], x[0]) })
	}
	functions["NORMSINV"] = func(a []block) block {
		return ofNumbers(a, 1, func(x []float64) bool { return x[0] > 0 && x[0] < 1 },
			func(x []float64) float64 { return mathext.NormalQuantile(x[0]) })
	}
	functions["SIGN"] = func(a []block) block {
		return numeric(a[0], func(x float64) float64 {
			if x == 0 {
				return 0
			}
			return math.Copysign(1, x)
		})
	}
}

// standardDeviation is STDEV: of a sample, over n-1.
func standardDeviation(a []block) block {
	var list []float64
	if err := numbers(a, func(x float64) { list = append(list, x) }); err.T == Error {
		return one(err)
	}
	if len(list) < 2 {
		return one(errDiv)
	}
	return one(Num(stat.StdDev(list, nil)))
}

// ofNumbers is a function of n single numbers, #NUM! where they are not allowed.
func ofNumbers(a []block, n int, allowed func([]float64) bool, f func([]float64) float64) block {
	if len(a) != n {
		return one(errValue)
	}
	x := make([]float64, n)
	for i := range x {
		v, err := a[i].single().number()
		if err.T == Error {
			return one(err)
		}
		x[i] = v
	}
	if !allowed(x) {
		return one(errNum)
	}
	return one(Num(f(x)))
}
