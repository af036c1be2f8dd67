package picture

import (
	"fmt"
	"math"
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
