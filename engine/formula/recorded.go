package formula

import (
	"bankwright/engine/recording"
	"bankwright/engine/unit"
)

// recorded are the registry's functions of a recording. They count nothing
// across a gap; see package recording for what each does to the last detail.
// Times are in hours since the first row.
var recorded = []*Function{
	integral("integral", "the integral over time of a column, or of the product of two", KeptForm{keptArea, true, true}, recording.Whole),
	integral("integral_above", "the integral over time of a column, or of the product of two, where it is above 0", KeptForm{}, recording.Positive),
	integral("integral_below", "the integral over time of a column, or of the product of two, where it is below 0", KeptForm{}, recording.Negative),
	{
		Name: "time_mean", Params: []string{"{values}", "{times}"}, Spare: 1,
		Doc: "the mean over time of a column, or of the product of two",
		Dim: func(d []unit.Dim) (unit.Dim, string) {
			if len(d) == 1 {
				return d[0], ""
			}
			return product(d)
		},
		Measure: func(c []string, _ []float64) recording.Measure {
			return recording.Mean{Of: c[0], Times: second(c)}
		},
		Pick: found,
		Kept: KeptForm{keptArea + "/" + keptTime, true, false},
	},
	{
		Name: "recorded_time", Params: []string{"{values}"}, Doc: "the time that a column covers, without its gaps",
		Dim: time, Measure: duration, Pick: found,
		Kept: KeptForm{keptTime, false, true},
	},
	{
		Name: "gap_time", Params: []string{"{values}", "{others}"}, Spare: 1, Doc: "the time of the recording in which a column, or one of two, has no values",
		Dim: time, Measure: duration,
		Pick: func(r recording.Result, _ *recording.Report) float64 { return r.Missing },
		Kept: KeptForm{keptSpan + "-" + keptTime, false, true},
	},
	{
		Name: "recorded_share", Params: []string{"{values}", "{others}"}, Spare: 1, Doc: "the share of the time of the recording in which a column, or both of two, have values",
		Dim: pure, Measure: duration,
		Pick: func(r recording.Result, _ *recording.Report) float64 { return r.Value / (r.Value + r.Missing) },
		Kept: KeptForm{keptTime + "/" + keptSpan, false, false},
	},
	{
		Name: "rows", Params: []string{"{values}"}, Doc: "how many rows have a value of a column",
		Dim: pure, Measure: duration,
		Pick: func(r recording.Result, _ *recording.Report) float64 { return float64(r.Rows) },
		Kept: KeptForm{"COUNT({v})", false, false},
	},
	{
		Name: "gaps", Params: []string{"{values}"}, Doc: "how many gaps the recording has of which a column is named",
		Dim: pure, Measure: duration,
		Pick: func(_ recording.Result, r *recording.Report) float64 { return float64(r.Count[recording.Gap]) },
		Kept: KeptForm{"MAX({part})-MIN({part})", false, false},
	},
	{
		Name: "restarts", Params: []string{"{values}"}, Doc: "how often the clock of the recording of which a column is named starts again or goes back",
		Dim: pure, Measure: duration,
		Pick: func(_ recording.Result, r *recording.Report) float64 {
			return float64(r.Count[recording.Reset] + r.Count[recording.Backward])
		},
	},
	{
		Name: "highest", Params: []string{"{values}"}, Doc: "the largest value of a column", Dim: itself, Pick: found,
		Measure: func(c []string, _ []float64) recording.Measure { return recording.Max{Of: c[0]} },
		Kept:    KeptForm{"MAX({v})", true, false},
	},
	{
		Name: "lowest", Params: []string{"{values}"}, Doc: "the smallest value of a column", Dim: itself, Pick: found,
		Measure: func(c []string, _ []float64) recording.Measure { return recording.Min{Of: c[0]} },
		Kept:    KeptForm{"MIN({v})", true, false},
	},
	{
		Name: "first_value", Params: []string{"{values}"}, Doc: "the first value of a column", Dim: itself, Pick: found,
		Measure: func(c []string, _ []float64) recording.Measure { return recording.First{Of: c[0]} },
		Kept:    KeptForm{"INDEX({v},1)", true, false},
	},
	{
		Name: "last_value", Params: []string{"{values}"}, Doc: "the last value of a column", Dim: itself, Pick: found,
		Measure: func(c []string, _ []float64) recording.Measure { return recording.Last{Of: c[0]} },
		Kept:    KeptForm{"INDEX({v},ROWS({v}))", true, false},
	},
	{
		Name: "first_time", Params: []string{"{values}", "level"}, Doc: "when a column first crosses a level, since the first row", Dim: crossing, Pick: found,
		Measure: func(c []string, x []float64) recording.Measure { return recording.Crossing{Of: c[0], Level: x[0]} },
	},
	{
		Name: "last_time", Params: []string{"{values}", "level"}, Doc: "when a column last crosses a level, since the first row", Dim: crossing, Pick: found,
		Measure: func(c []string, x []float64) recording.Measure {
			return recording.Crossing{Of: c[0], Level: x[0], Last: true}
		},
	},
	{
		Name: "held", Params: []string{"{values}", "time"}, Doc: "the largest value that a column did not fall below for a time",
		Dim: func(d []unit.Dim) (unit.Dim, string) {
			if _, ok := unit.Fit(d[1], unit.Hour); !ok {
				return d[0], "it takes a time, not " + d[1].Describe()
			}
			return d[0], ""
		},
		Measure: func(c []string, x []float64) recording.Measure { return recording.Held{Of: c[0], For: x[0]} },
		Pick:    found,
	},
	{
		Name: "step_ratio", Params: []string{"{values}", "{response}"}, Doc: "the change of the second column by that of the first, where the first changes most between two rows",
		Dim: func(d []unit.Dim) (unit.Dim, string) {
			ratio, ok := unit.Div(difference(d[1]), difference(d[0]))
			if !ok {
				return unit.None, "the ratio of " + d[1].Describe() + " to " + d[0].Describe() + " has no unit"
			}
			return ratio, ""
		},
		Measure: func(c []string, _ []float64) recording.Measure { return recording.Jump{Of: c[0], Response: c[1]} },
		Pick:    found,
	},
	{
		Name: "step_change", Params: []string{"{values}"}, Doc: "the largest change of a column between two rows", Dim: change,
		Measure: func(c []string, _ []float64) recording.Measure { return recording.Jump{Of: c[0], Response: c[0]} },
		Pick: func(r recording.Result, _ *recording.Report) float64 {
			if r.Value != r.Value {
				return r.Value
			}
			return r.Changes[0]
		},
	},
	{
		Name: "growth", Params: []string{"{values}"}, Doc: "by how much a counter grew, without its gaps and resets", Dim: change, Pick: found,
		Measure: func(c []string, _ []float64) recording.Measure { return recording.Growth{Of: c[0]} },
	},
	{
		Name: "growth_across_gaps", Params: []string{"{values}"}, Doc: "by how much a counter grew, in gaps as well, without its resets", Dim: change, Pick: found,
		Measure: func(c []string, _ []float64) recording.Measure {
			return recording.Growth{Of: c[0], AcrossGaps: true}
		},
	},
}

// The spreadsheet forms of what is summed over the steps between rows that are no
// gaps: the trapezoidal rule, and the time.
const (
	keptArea = "SUMPRODUCT(({part2}={part1})*({time2}-{time1})*({v2}+{v1}))/2"
	keptTime = "SUMPRODUCT(({part2}={part1})*({time2}-{time1}))"
	keptSpan = "(MAX({time})-MIN({time}))"
)

// integral is a function that integrates a part of a column.
func integral(name, doc string, kept KeptForm, part recording.Part) *Function {
	return &Function{
		Name: name, Params: []string{"{values}", "{times}"}, Spare: 1, Doc: doc,
		Dim: func(d []unit.Dim) (unit.Dim, string) { return product(append([]unit.Dim{unit.Hour}, d...)) },
		Measure: func(c []string, _ []float64) recording.Measure {
			return recording.Integral{Of: c[0], Times: second(c), Part: part}
		},
		Pick: found, Kept: kept,
	}
}

// found is the measure's own value.
func found(r recording.Result, _ *recording.Report) float64 { return r.Value }

func duration(c []string, _ []float64) recording.Measure {
	return recording.Duration{Of: c[0], With: second(c)}
}

// second is the second of two columns, nothing where there is one.
func second(c []string) string {
	if len(c) < 2 {
		return ""
	}
	return c[1]
}

// product is the dimension of a product.
func product(d []unit.Dim) (unit.Dim, string) {
	out := unit.None
	for _, a := range d {
		p, ok := unit.Mul(out, a)
		if !ok {
			return unit.Any, a.Describe() + " cannot be multiplied; take its mean over time"
		}
		out = p
	}
	return out, ""
}

func itself(d []unit.Dim) (unit.Dim, string) { return d[0], "" }
func time([]unit.Dim) (unit.Dim, string)     { return unit.Hour, "" }
func pure([]unit.Dim) (unit.Dim, string)     { return unit.None, "" }
func change(d []unit.Dim) (unit.Dim, string) { return difference(d[0]), "" }

// difference is the dimension of a difference of two such values.
func difference(d unit.Dim) unit.Dim {
	out, _ := unit.Sub(d, d)
	return out
}

// crossing: a column and a level of it give a time.
func crossing(d []unit.Dim) (unit.Dim, string) {
	if _, ok := unit.Fit(d[0], d[1]); !ok {
		return unit.Hour, "the column is " + d[0].Describe() + ", but the level is " + d[1].Describe()
	}
	return unit.Hour, ""
}
