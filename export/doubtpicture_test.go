package export

import (
	"math"
	"testing"

	"bankwright/engine"
	"bankwright/engine/check"
	"bankwright/engine/decl"
	"bankwright/engine/oracle"
	"bankwright/engine/sample"
	"bankwright/engine/sweep"
	"bankwright/export/picture"
)

// TestDoubtPicture: a picture tells of all draws, however many they are: half of them
// have no figure, and of the others one in a hundred lies outside the bars.
func TestDoubtPicture(t *testing.T) {
	oracle.OneCore(t)
	m := loadBoards(t)
	for _, draws := range []int{400, 8192, 1 << 20} {
		f := engine.FoundDoubt{Doubt: &check.Doubt{Doubt: &decl.Doubt{}}, Found: &sweep.Doubted{Samples: draws}}
		values := make([]float64, draws)
		for i := range values {
			if values[i] = math.NaN(); i%2 == 0 {
				values[i] = float64(i) / float64(draws-2)
			}
		}
		for range m.Compared().Items {
			figure := sample.NewReplicates(sweep.Replicates)
			for r := range sweep.Replicates {
				figure.Of(r).Add(values[draws/sweep.Replicates*r : draws/sweep.Replicates*(r+1)])
			}
			f.Found.Items = append(f.Found.Items, sweep.ItemDoubt{Figure: figure, Best: sample.Estimate{Value: 0.5}})
		}
		d := DoubtPicture(m, f).(picture.Distributions).Items[0]
		within := 0
		for _, n := range d.Bars {
			within += n
		}
		if outside := draws/2 - within; d.Missing != draws/2 || outside > draws/200+2 || outside < draws/200-2 || len(d.Bars) < 12 || len(d.Bars) > 80 {
			t.Errorf("of %d draws %d have none, and %d lie outside %d bars", draws, d.Missing, outside, len(d.Bars))
		}
		for _, c := range [][2]float64{{d.From, 0.005}, {d.Low, 0.05}, {d.Median, 0.5}, {d.High, 0.95}, {d.To, 0.995}} {
			if math.Abs(c[0]-c[1]) > 1e-9 {
				t.Errorf("of %d draws the share %v lies below %v", draws, c[1], c[0])
			}
		}
	}
}
