package recording_test

import (
	"math"
	"math/rand/v2"
	"os"
	"strings"
	"testing"

	"bankwright/engine/recording"
)

// The curve of a knee, which falls by 65 W, stays within 0.1 % of that from the curve
// of all rows.
func TestCurveShape(t *testing.T) {
	var points []point
	for i := range 36001 {
		at := float64(i) / 36000
		points = append(points, point{float64(i), 20, 100 - 5*at - 60*math.Exp((at-1)*40)})
	}
	curve := measured(t, written(points), recording.Curves{Points: 500})[0].Curve
	most := 0.
	for i, k := 0, 0; i < len(points); i++ {
		for k+2 < len(curve) && curve[k+1].Line-2 < i {
			k++
		}
		a, b := curve[k], curve[k+1]
		at := float64(i-(a.Line-2)) / float64(b.Line-a.Line)
		most = max(most, math.Abs(a.Values[2]+at*(b.Values[2]-a.Values[2])-points[i].power))
	}
	if most > .001*65 {
		t.Errorf("a row of %d is off by %v W", len(points), most)
	}
}

// What is small is kept whole, and the integral over what is kept is exact.
func TestCurveWhole(t *testing.T) {
	points := walk(rand.New(rand.NewPCG(9, 1)), 400)
	m := measured(t, written(points), recording.Curves{Points: 500}, recording.Integral{Of: "power"})
	if int(m[0].Value) != m[0].Rows {
		t.Fatalf("%v of %d rows", m[0].Value, m[0].Rows)
	}
	area := 0.
	for i, s := range m[0].Curve[1:] {
		q := m[0].Curve[i]
		area += (s.Values[2] + q.Values[2]) / 2 * (s.Time - q.Time)
	}
	near(t, "the integral over the curve", area, m[1].Value, 1e-12)
}

// The curves of several columns: all rows where there are few, else no more than were
// asked for, with each column's extremes, each row once and in order.
func TestCurves(t *testing.T) {
	points := walk(rand.New(rand.NewPCG(3, 1)), 3000)
	points[700].temperature, points[2001].power = 500, -9000
	points[1500].t += 3000 // a gap, and rows out of even steps
	for i := range points[1501:] {
		points[1501+i].t += 3000
	}
	for _, rows := range []int{1, 2, 499, 500, 501, 3000} {
		m := measured(t, written(points[:rows]), recording.Curves{Points: 500},
			recording.Min{Of: "power"}, recording.Max{Of: "power"}, recording.Min{Of: "temperature"}, recording.Max{Of: "temperature"})
		curve := m[0].Curve
		if m[0].Rows != rows || float64(len(curve)) != m[0].Value || len(curve) > 500 || rows <= 500 && len(curve) != rows || rows > 500 && len(curve) < 250 {
			t.Errorf("%d of %d rows", len(curve), rows)
		}
		lows, tops := []float64{math.Inf(1), math.Inf(1)}, []float64{math.Inf(-1), math.Inf(-1)}
		for i, s := range curve {
			p := points[s.Line-2]
			if s.Values[1] != p.temperature || s.Values[2] != p.power || i > 0 && s.Line <= curve[i-1].Line || (s.Stretch == 1) != (s.Line-2 >= 1500) {
				t.Fatalf("%d rows: %+v is not %+v", rows, s, p)
			}
			for k, v := range []float64{p.power, p.temperature} {
				lows[k], tops[k] = min(lows[k], v), max(tops[k], v)
			}
		}
		for k := range lows {
			if lows[k] != m[1+2*k].Value || tops[k] != m[2+2*k].Value {
				t.Errorf("%d rows: from %v to %v, want %v to %v", rows, lows[k], tops[k], m[1+2*k].Value, m[2+2*k].Value)
			}
		}
	}
	results, report := recording.Run(greenhouse, recording.Source{Reader: strings.NewReader(written(points))}, recording.Curves{Points: 7})
	if report.Usable() || results[0].Curve != nil {
		t.Error("curves of three points each were made")
	}
}

// A step of some rows is kept with the rows on both its sides, also where the values on
// both sides of a gap beside it lie further apart: nothing is drawn across a gap.
func TestCurveStepBesideGap(t *testing.T) {
	var points []point
	for i := range 10_000 {
		at, power := float64(i), 0.
		if i >= 5000 {
			at, power = at+1000, 50
		}
		if i >= 5020 && i < 5400 {
			power = 10
		}
		points = append(points, point{at, 20, power})
	}
	kept := map[int]bool{}
	for _, s := range measured(t, written(points), recording.Curves{Points: 100})[0].Curve {
		kept[s.Line-2] = true
	}
	for _, row := range []int{4999, 5000, 5019, 5020} {
		if !kept[row] {
			t.Errorf("row %d is left out of %v", row, kept)
		}
	}
}

// Of a log with noise, steps, a gap and a knee 500 rows draw every column: no row that
// is left out is further from the line than 0.7 % of the column's span, but for the
// temperature, whose noise is a tenth of it. Rows at both ends of the gap are kept.
func TestCurvesOfLog(t *testing.T) {
	file, err := os.ReadFile("../../scenarios/logs/capacity.csv")
	if err != nil {
		t.Fatal(err)
	}
	layout := recording.Layout{Time: "Time", Columns: []recording.Column{{Name: "Time", Unit: must("h")}, {Name: "Voltage", Unit: must("V")},
		{Name: "Current", Unit: must("A")}, {Name: "Temp", Unit: must("°C")}, {Name: "Energy", Unit: must("Wh"), Counter: true}}}
	results, report := recording.Run(layout, recording.Source{Reader: strings.NewReader(string(file))}, recording.Curves{Points: 5000}, recording.Curves{Points: 500})
	if !report.Usable() {
		t.Fatal(told(report.Problems))
	}
	all, kept := results[0].Curve, results[1].Curve
	if len(all) != report.Rows || len(kept) > 500 {
		t.Fatalf("%d and %d of %d rows", len(all), len(kept), report.Rows)
	}
	for column, name := range []string{"", "voltage", "current", "temperature", "energy"} {
		if name == "" {
			continue
		}
		low, top, most, k := math.Inf(1), math.Inf(-1), 0., 0
		for _, s := range all {
			for k+2 < len(kept) && kept[k+1].Line < s.Line {
				k++
			}
			a, b := kept[k], kept[k+1]
			low, top = min(low, s.Values[column]), max(top, s.Values[column])
			if a.Stretch == b.Stretch {
				at := (s.Time - a.Time) / (b.Time - a.Time)
				most = max(most, math.Abs(a.Values[column]+at*(b.Values[column]-a.Values[column])-s.Values[column]))
			} else if s.Line != a.Line && s.Line != b.Line {
				t.Errorf("line %d lies where two stretches of the curve are apart", s.Line)
			}
		}
		if share := most / (top - low); share > map[string]float64{"temperature": 0.12}[name] && share > 0.007 {
			t.Errorf("%s: a row is off by %.2f %% of the span", name, 100*share)
		}
	}
}
