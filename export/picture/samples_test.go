package picture

import (
	"fmt"
	"math"
	"math/rand/v2"

	"bankwright/engine/sample"
)

// The samples are what the tests draw: each kind with few and with many items,
// and what is awkward.

// hostile are names that would break a drawing or hide in it.
var hostile = []string{
	`<script>alert("1")</script>`, `a & b "quoted" 'single'`, "Grüße aus Ålesund", "Ёлка и дуб",
	"a name that is far longer than anybody would think of for an item in a table of results",
	"bad \xff\x00\u202e bytes", "電池",
}

func steps(from, to float64, n int) []float64 {
	list := make([]float64, n)
	for i := range list {
		list[i] = from + (to-from)*float64(i)/float64(max(1, n-1))
	}
	return list
}

func itemNames(n int) []string {
	var list []string
	for i := range n {
		list = append(list, fmt.Sprintf("%s_%d", []string{"oak", "ash", "elm", "fir"}[i%4], i+1))
	}
	return list
}

// planes makes a map in which each item's cost is a plane over both inputs, so
// that borders are straight lines; past a limit nothing passes.
func planes(nx, ny, items int, lead bool) Map {
	m := Map{
		Title: "Which one costs least, by price and depth?",
		X:     Axis{Title: "price of an oak, USD", Values: steps(500, 1500, nx)},
		Y:     Axis{Title: "depth, %", Values: steps(40, 100, ny)},
		Items: itemNames(items), BestTitle: "cost of the best, USD/kWh",
		Base: &Point{Name: "as given", X: 1050, Y: 80},
	}
	cost := func(item, point int) float64 {
		x, y := float64(point%nx)/float64(max(1, nx-1)), float64(point/nx)/float64(max(1, ny-1))
		angle := 2 * math.Pi * float64(item) / float64(items)
		return 0.4 + 0.1*((x-0.5)*math.Cos(angle)+(y-0.5)*math.Sin(angle)) + 0.1*x + 0.05*y*y
	}
	for p := range nx * ny {
		best := 0
		for i := range items {
			if cost(i, p) < cost(best, p) {
				best = i
			}
		}
		x, y := float64(p%nx)/float64(max(1, nx-1)), float64(p/nx)/float64(max(1, ny-1))
		if x+y > 1.75 {
			m.Winner, m.Best = append(m.Winner, -1), append(m.Best, math.NaN())
			continue
		}
		m.Winner, m.Best = append(m.Winner, best), append(m.Best, cost(best, p))
	}
	if lead {
		m.Lead = func(item, other, point int) float64 { return cost(other, point) - cost(item, point) }
	}
	return m
}

// tornado makes effects of so many inputs.
func tornado(n int) Effects {
	e := Effects{Title: "The price of an oak matters most, and can change the winner", Axis: "cost per kWh, USD", Base: 0.321, BaseName: "as given:"}
	for i := range n {
		d := 0.1 / float64(1+(i*5)%n)
		in := Effect{
			Input: []string{"price of an oak", "depth", "cycles to the end of life", "discount rate"}[i%4],
			Low:   End{Input: "50 %", Result: e.Base - d},
			High:  End{Input: "1,250 USD", Result: e.Base + 0.7*d},
		}
		switch i % 5 {
		case 1:
			in.High.Winner = "ash_2"
		case 2: // both ends on one side
			in.Low.Result = e.Base + 0.4*d
		case 3:
			in.Low, in.High = in.High, in.Low
			in.High.Winner = hostile[i%len(hostile)]
		case 4:
			in.Low.Result = math.NaN()
		}
		e.Inputs = append(e.Inputs, in)
	}
	return e
}

// bells makes distributions of so many items.
func bells(n int) Distributions {
	d := Distributions{Title: "oak_1 is cheapest in 6 of 10 cases", Axis: "cost per kWh, USD", ChanceTitle: "cheapest of those that pass every stop"}
	random := rand.New(rand.NewPCG(1, 2))
	for i, name := range itemNames(n) {
		results := make([]float64, 5000)
		for j := range results {
			results[j] = 0.3 + 0.02*float64(i) + (0.01+0.004*float64(i))*random.NormFloat64()
		}
		one := distribution(name, 0.62/float64(1+i*i), results...)
		one.Look = i
		d.Items = append(d.Items, one)
	}
	return d
}

// distribution is what is told of results.
func distribution(name string, chance float64, results ...float64) Distribution {
	var all sample.Summary
	all.Add(results)
	h := all.Histogram(40)
	return Distribution{
		Item: name, Chance: chance, Missing: all.Missing(), From: h.From, To: h.To, Bars: h.Counts,
		Low: all.Percentile(0.05), Median: all.Percentile(0.5), High: all.Percentile(0.95),
	}
}

// shares makes Sobol' indices of so many inputs.
func shares(n int) Indices {
	x := Indices{Title: "Three quarters of the doubt come from two inputs", Axis: "share of the variance of the cost per kWh"}
	for i := range n {
		v := 0.5 / float64(1+(i*3)%n)
		x.Inputs = append(x.Inputs, Index{
			Input: []string{"price of an oak", "depth", "cycles to the end of life", "discount rate"}[i%4],
			First: Estimate{0.8 * v, 0.8*v - 0.03, 0.8*v + 0.03}, Total: Estimate{v, v - 0.04, v + 0.04},
		})
	}
	return x
}

// waves makes curves of so many items.
func waves(n int) Curves {
	k := Curves{Title: "How the cost follows the price", X: Axis{Title: "price of an oak, USD", Values: steps(500, 1500, 41)}, Axis: "cost per kWh, USD",
		Base: &Point{Name: "as given: 1,050", X: 1050}}
	for i, name := range itemNames(n) {
		l := Curve{Item: name}
		for _, x := range k.X.Values {
			l.Results = append(l.Results, 0.3+0.02*float64(i)+(x-500)/1000*0.2/float64(1+i)+0.01*math.Sin(x/100+float64(i)))
		}
		k.Lines = append(k.Lines, l)
	}
	for i := 1; i < len(k.X.Values) && n > 1; i++ {
		a, b := k.Lines[0].Results, k.Lines[1].Results
		if (a[i] > b[i]) != (a[i-1] > b[i-1]) {
			k.Marks = append(k.Marks, Point{Name: "equal at " + fmt.Sprint(k.X.Values[i]) + " USD", X: k.X.Values[i], Y: a[i]})
		}
	}
	return k
}
