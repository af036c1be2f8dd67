package formula

import (
	"strings"
	"testing"

	"bankwright/engine/recording"
	"bankwright/engine/unit"
)

// TestRecorded: what each function of a recording finds in a small one, worked by
// hand, and its dimension. The flow rises from 0 to 4 kg/h in the first hour, stays
// for two, and falls to -2 in the last; between the fourth and the eighth hour
// nothing is recorded.
func TestRecorded(t *testing.T) {
	const text = "time [h],flow,heat,sum\n0,0,10,5\n1,4,20,7\n2,4,20,11\n3,4,20,15\n4,-2,30,16\n8,-2,30,20\n9,-2,25,21\n"
	flow, err := unit.Parse("kg/h")
	celsius, err2 := unit.Parse("°C")
	if err != nil || err2 != nil {
		t.Fatal(err, err2)
	}
	kilogram, _ := unit.Parse("kg")
	hour, _ := unit.Parse("h")
	layout := recording.Layout{Time: "time", Columns: []recording.Column{{Name: "time", Unit: hour}, {Name: "flow", Unit: flow},
		{Name: "heat", Unit: celsius}, {Name: "sum", Unit: kilogram, Counter: true}}}
	dims := map[string]unit.Dim{"flow": flow.Dim, "heat": unit.Temperature, "sum": kilogram.Dim}
	square, _ := unit.Mul(flow.Dim, kilogram.Dim)
	perKelvin, _ := unit.Div(unit.Difference, flow.Dim)
	cases := []struct {
		name    string
		columns string
		x       []float64
		dim     unit.Dim
		want    float64
	}{
		{"integral", "flow", nil, kilogram.Dim, 2 + 8 + 1 - 2},
		{"integral", "flow flow", nil, square, 8 + 32 + 10 + 4},
		{"integral_above", "flow", nil, kilogram.Dim, 2 + 8 + 4.0*4/6/2},
		{"integral_below", "flow", nil, kilogram.Dim, -2.0*2/6/2 - 2},
		{"time_mean", "flow", nil, flow.Dim, 9.0 / 5},
		{"time_mean", "heat", nil, unit.Temperature, (15 + 20 + 20 + 25 + 27.5) / 5},
		{"recorded_time", "flow", nil, unit.Hour, 5},
		{"gap_time", "flow", nil, unit.Hour, 4},
		{"recorded_share", "flow", nil, unit.None, 5.0 / 9},
		{"gap_time", "flow heat", nil, unit.Hour, 4},
		{"recorded_share", "heat flow", nil, unit.None, 5.0 / 9},
		{"restarts", "flow", nil, unit.None, 0},
		{"rows", "flow", nil, unit.None, 7},
		{"gaps", "flow", nil, unit.None, 1},
		{"highest", "heat", nil, unit.Temperature, 30},
		{"lowest", "flow", nil, flow.Dim, -2},
		{"first_value", "heat", nil, unit.Temperature, 10},
		{"last_value", "heat", nil, unit.Temperature, 25},
		{"first_time", "flow", []float64{2}, unit.Hour, 0.5},
		{"last_time", "flow", []float64{1}, unit.Hour, 3.5},
		{"held", "flow", []float64{2}, flow.Dim, 4},
		{"step_ratio", "flow heat", nil, perKelvin, 10.0 / -6},
		{"step_change", "flow", nil, flow.Dim, -6},
		{"growth", "sum", nil, kilogram.Dim, 12},
		{"growth_across_gaps", "sum", nil, kilogram.Dim, 16},
	}
	tested := map[string]bool{}
	for _, c := range cases {
		f := Lookup(c.name)
		tested[c.name] = true
		columns := strings.Fields(c.columns)
		var d []unit.Dim
		for _, name := range columns {
			d = append(d, dims[name])
		}
		switch c.name {
		case "held":
			d = append(d, unit.Hour)
		case "first_time", "last_time":
			d = append(d, dims[columns[0]])
		}
		if got, why := f.Dim(d); got != c.dim || why != "" {
			t.Errorf("%s of %s is %s (%s), want %s", c.name, c.columns, got.Describe(), why, c.dim.Describe())
		}
		results, report := recording.Run(layout, recording.Source{File: "flow.csv", Reader: strings.NewReader(text), GapSteps: 3}, f.Measure(columns, c.x))
		if !report.Usable() {
			t.Fatal(report.Problems)
		}
		if got := f.Pick(results[0], report); !(got-c.want < 1e-12 && c.want-got < 1e-12) {
			t.Errorf("%s of %s = %v, want %v", c.name, c.columns, got, c.want)
		}
		if results[0].Dim != c.dim && (f.Name == "integral" || f.Name == "time_mean" || f.Name == "step_ratio" || f.Name == "held") {
			t.Errorf("%s is said to be %s, and found to be %s", c.name, c.dim.Describe(), results[0].Dim.Describe())
		}
	}
	for _, f := range Functions {
		if f.Measure != nil && !tested[f.Name] {
			t.Errorf("%s is not tested", f.Name)
		}
	}
	for _, c := range []struct {
		name string
		d    []unit.Dim
	}{
		{"integral", []unit.Dim{unit.Temperature}},
		{"time_mean", []unit.Dim{unit.Temperature, flow.Dim}},
		{"first_time", []unit.Dim{unit.Temperature, flow.Dim}},
		{"held", []unit.Dim{flow.Dim, flow.Dim}},
	} {
		if _, why := Lookup(c.name).Dim(c.d); why == "" {
			t.Errorf("%s takes %s", c.name, c.d[0].Describe())
		}
	}
}
