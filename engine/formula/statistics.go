package formula

import (
	"math"

	"gonum.org/v1/gonum/mathext"
	"gonum.org/v1/gonum/stat"
)

// statistics are the registry's functions of probability. Shares are from 0 to
// 1 and always from below: the interval that holds 95 % in its middle ends at
// the share 97.5 %. Spreadsheets have Student's distribution for whole degrees
// of freedom only; the beta distribution, of which it is a part (Abramowitz and
// Stegun, 26.7.1), takes any.
var statistics = []*Function{
	{
		Name: "t_quantile", Params: []string{"share", "freedom"},
		Doc: "the t below which that share of Student's t distribution lies (one-sided), with any number of degrees of freedom above 0",
		Dim: plain, Eval: func(_ [][]float64, x []float64) float64 { return studentQuantile(x[0], x[1]) },
		Steps: []SheetStep{
			{"inner", "IF({share}=0.5,0/({freedom}>0),BETAINV(ABS(2*{share}-1),0.5,{freedom}/2))"},
			{"outer", "IF({share}=0.5,1,BETAINV(2*MIN({share},1-{share}),{freedom}/2,0.5))"},
		},
		Result: "SIGN({share}-0.5)*SQRT({freedom}*IF({#inner}<0.5,{#inner}/(1-{#inner}),(1-{#outer})/{#outer}))",
	},
	{
		Name: "t_probability", Params: []string{"t", "freedom"},
		Doc: "the share of Student's t distribution that lies below t (one-sided), with any number of degrees of freedom above 0",
		Dim: plain, Eval: func(_ [][]float64, x []float64) float64 { return studentShare(x[0], x[1]) },
		Steps: []SheetStep{
			{"tail", "IF({t}^2<4,0.5-BETADIST({t}^2/({freedom}+{t}^2),0.5,{freedom}/2)/2,BETADIST({freedom}/({freedom}+{t}^2),{freedom}/2,0.5)/2)"},
		},
		Result: "IF({t}<0,{#tail},1-{#tail})",
	},
	{
		Name: "normal_quantile", Params: []string{"share"},
		Doc: "how many standard deviations above the mean that share of the normal distribution lies below",
		Dim: plain, Eval: func(_ [][]float64, x []float64) float64 {
			if !(x[0] > 0 && x[0] < 1) {
				return math.NaN()
			}
			return mathext.NormalQuantile(x[0])
		},
		Result: "NORMSINV({share})",
	},
}

// studentQuantile is the t below which a share of Student's distribution lies;
// NaN unless the share is between 0 and 1 and the degrees of freedom above 0.
// It is right to ten digits for shares from 1e-6 to 1-1e-6 and up to 1e5
// degrees of freedom. y = t²/(freedom+t²) has a beta distribution; of y and 1-y that is used which
// is the smaller, since 1 less a number near to 1 has lost its digits.
func studentQuantile(share, freedom float64) float64 {
	if !(share > 0 && share < 1 && freedom > 0) {
		return math.NaN()
	}
	if share == 0.5 {
		return 0
	}
	odds := 0.0 // t²/freedom
	if y := mathext.InvRegIncBeta(0.5, freedom/2, math.Abs(2*share-1)); y < 0.5 {
		odds = y / (1 - y)
	} else {
		rest := mathext.InvRegIncBeta(freedom/2, 0.5, 2*math.Min(share, 1-share))
		odds = (1 - rest) / rest
	}
	return math.Copysign(math.Sqrt(freedom*odds), share-0.5)
}

// studentShare is the share of Student's distribution below t; NaN unless the
// degrees of freedom are above 0.
func studentShare(t, freedom float64) float64 {
	if !(freedom > 0) {
		return math.NaN()
	}
	tail := 0.0
	if square := t * t; square < 4 { // see studentQuantile
		tail = 0.5 - mathext.RegIncBeta(0.5, freedom/2, square/(freedom+square))/2
	} else {
		tail = mathext.RegIncBeta(freedom/2, 0.5, freedom/(freedom+square)) / 2
	}
	if t < 0 {
		return tail
	}
	return 1 - tail
}

// Deviation is the standard deviation of a sample, over n-1; NaN of fewer than
// two values, which have no spread. It goes over the values twice and corrects
// the second pass for the rounding of the mean (Chan, Golub and LeVeque, 1983).
func Deviation(x []float64) float64 {
	if len(x) < 2 {
		return math.NaN()
	}
	return stat.StdDev(x, nil)
}
