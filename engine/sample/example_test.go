package sample_test

import (
	"fmt"

	"bankwright/engine/sample"
)

// Two sides of a box are known roughly and tend to be large together; what is its
// area, and how likely is it to be above 9?
func Example() {
	width, err := sample.Normal(3, 0.2)
	if err != nil {
		fmt.Println(err)
		return
	}
	height, err := sample.Triangular(2, 2.5, 3.5)
	if err != nil {
		fmt.Println(err)
		return
	}
	ties, err := sample.Correlate([]string{"width", "height"}, []sample.Pair{{A: 0, B: 1, Coefficient: 0.6}})
	if err != nil {
		fmt.Println(err)
		return
	}
	const replicates, points, block = 16, 1024, 256
	areas, large := sample.NewReplicates(replicates), sample.NewEvents(replicates)
	u := [][]float64{make([]float64, block), make([]float64, block)}
	area, above := make([]float64, block), make([]float64, block)
	for r := range replicates { // each could run on a core of its own
		plan, err := sample.NewSobol(len(u), sample.Seed(1, r))
		if err != nil {
			fmt.Println(err)
			return
		}
		for first := uint64(0); first < points; first += block {
			plan.Fill(u, first)
			ties.Apply(u)
			sample.Transform(width, u[0])
			sample.Transform(height, u[1])
			for i := range area {
				area[i], above[i] = u[0][i]*u[1][i], 0
				if area[i] > 9 {
					above[i] = 1
				}
			}
			areas.Of(r).Add(area)
			large.Add(r, above)
		}
	}
	mean, p := areas.Mean(), large.Probability()
	fmt.Printf("area %.4f, between %.4f and %.4f\n", mean.Value, mean.Low, mean.High)
	fmt.Printf("above 9: %.2f %%, between %.2f and %.2f\n", 100*p.Value, 100*p.Low, 100*p.High)
	// Output:
	// area 8.0369, between 8.0367 and 8.0372
	// above 9: 23.59 %, between 23.47 and 23.71
}
