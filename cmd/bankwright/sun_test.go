package main

import (
	"fmt"
	"math"
	"testing"

	"bankwright/engine"
)

// aPlace is the least of a scenario: a battery that nobody charges. What is
// appended belongs to [site] until another table begins.
const aPlace = `title = "A place in the sun"
currency = "EUR"

[battery.any]
capacity              = "100 Ah"
nominal_voltage       = "12.8 V"
price                 = "300 EUR"
max_discharge_current = "100 A"
cycle_life            = { depth = ["80 %"], cycles = [4000] }

[load.lamp]
power  = "10 W"
supply = "dc"

[alternative.any]
battery = "any"

[site]
`

// stepsOf are the values of a series over one axis in the unit of its quantity,
// which must be the one that is named.
func stepsOf(t testing.TB, m *engine.Model, name, unit string) []float64 {
	t.Helper()
	first, err := m.ParseCell(name + "[1]")
	if err != nil {
		t.Fatal(err)
	}
	q := first.Quantity
	if len(q.Axes) != 1 || q.Unit.Name != unit {
		t.Fatalf("%s runs over %d axes in %s, want one in %s", name, len(q.Axes), q.Unit.Name, unit)
	}
	out := make([]float64, q.Axes[0].Steps)
	for i := range out {
		c, err := m.ParseCell(fmt.Sprintf("%s[%d]", name, i+1))
		if err != nil {
			t.Fatal(err)
		}
		out[i] = q.Unit.FromBase(m.Result.At(q, c.Item, c.Row))
	}
	return out
}

// kleinRatio is the beam ratio of a slope that faces the equator, by Klein's
// closed form (Duffie and Beckman, equation 2.19.3a, from memory); angles in
// degrees.
func kleinRatio(latitude, tilt, declination float64) float64 {
	rad := math.Pi / 180
	phi, d := math.Abs(latitude)*rad, declination*rad
	if latitude < 0 {
		d = -d
	}
	ws := math.Acos(-math.Tan(phi) * math.Tan(d))
	seen := math.Min(ws, math.Acos(max(-1, min(1, -math.Tan(phi-tilt*rad)*math.Tan(d)))))
	track := func(latitude, w float64) float64 {
		return math.Cos(latitude)*math.Cos(d)*math.Sin(w) + w*math.Sin(latitude)*math.Sin(d)
	}
	return track(phi-tilt*rad, seen) / track(phi, ws)
}

// TestBeamRatio holds the sum over 24 parts of the daylight against Klein's
// closed form for slopes that face the equator, north and south of it.
func TestBeamRatio(t *testing.T) {
	t.Parallel()
	worst := 0.0
	for _, latitude := range []float64{60, 43, 20, -10, -35, -55} {
		text := aPlace + fmt.Sprintf("latitude = \"%v deg\"\n", latitude)
		for _, tilt := range []int{15, 30, 60, 90} {
			text += fmt.Sprintf("[source.slope_%d]\ntilt = \"%d deg\"\n", tilt, tilt)
		}
		m := solvedText(t, text)
		declination := stepsOf(t, m, "site.declination", "deg")
		for _, tilt := range []int{15, 30, 60, 90} {
			for i, got := range stepsOf(t, m, fmt.Sprintf("source.slope_%d.beam_ratio", tilt), "") {
				want := kleinRatio(latitude, float64(tilt), declination[i])
				worst = max(worst, math.Abs(got-want))
				if !(math.Abs(got-want) <= 0.01) {
					t.Errorf("latitude %v, slope %d°, month %d: %.4f, by the closed form %.4f", latitude, tilt, i+1, got, want)
				}
			}
		}
	}
	t.Logf("furthest from the closed form: %.5f", worst)
}

// TestMirror: what holds in the north holds half a year later in the south, an
// array that looks west mirrors one that looks east, one at azimuth 180 looks
// away from the equator, and whatever lies flat gets the sun of level ground.
func TestMirror(t *testing.T) {
	t.Parallel()
	const arrays = `
horizontal_irradiation = "4 kWh/m²/day"
[source.equator]
tilt = "35 deg"
[source.west]
tilt    = "35 deg"
azimuth = "60 deg"
[source.east]
tilt    = "35 deg"
azimuth = "-60 deg"
[source.away]
tilt    = "35 deg"
azimuth = "180 deg"
[source.flat]
`
	north := solvedText(t, aPlace+"latitude = \"40 deg\"\nmean_day = [20, 50, 80, 110, 140, 170, 10, 40, 70, 100, 130, 160]"+arrays)
	south := solvedText(t, aPlace+"latitude = \"-40 deg\"\nmean_day = [202.5, 232.5, 262.5, 292.5, 322.5, 352.5, 192.5, 222.5, 252.5, 282.5, 312.5, 342.5]"+arrays)
	hours := func(m *engine.Model, name string) []float64 {
		return stepsOf(t, m, "source."+name+".beam_ratio", "")
	}
	for _, name := range []string{"equator", "west", "east", "away", "flat"} {
		other := hours(south, name)
		for i, got := range hours(north, name) {
			agree(t, "north and south, "+name, other[i], got, 1e-9)
		}
	}
	west, east, equator, away := hours(north, "west"), hours(north, "east"), hours(north, "equator"), hours(north, "away")
	flat := stepsOf(t, north, "source.flat.peak_hours", "h/day")
	for i := range west {
		agree(t, "west and east", west[i], east[i], 1e-9)
		agree(t, "flat", flat[i], 4, 1e-12)
	}
	// Day 20 in the north: low sun from the equator's side.
	if !(equator[0] > west[0] && west[0] > away[0]) {
		t.Errorf("in winter %v to the equator, %v to the west, %v away from it", equator[0], west[0], away[0])
	}
}

// TestGivenHours: peak sun hours that are given win over those computed, level
// sun needs no latitude, and without either there is no figure.
func TestGivenHours(t *testing.T) {
	t.Parallel()
	const site = "latitude = \"40 deg\"\nhorizontal_irradiation = \"4 kWh/m²/day\"\n"
	const slope = "[source.slope]\ntilt = \"30 deg\"\n"
	hours := func(text string) float64 {
		return stepsOf(t, solvedText(t, aPlace+text), "source.slope.peak_hours", "h/day")[0]
	}
	agree(t, "given", hours(site+slope+"sun_hours = \"3.2 h/day\"\n"), 3.2, 1e-12)
	agree(t, "given without a place", hours(slope+"sun_hours = \"3.2 h/day\"\n"), 3.2, 1e-12)
	agree(t, "level sun without a latitude", hours("horizontal_irradiation = \"4 kWh/m²/day\"\n[source.slope]\n"), 4, 1e-12)
	if computed := hours(site + slope); !(computed > 4) {
		t.Errorf("computed for a slope in January: %v hours, want more than on level ground", computed)
	}
	if v := hours(slope); !math.IsNaN(v) {
		t.Errorf("with nothing given there are %v hours", v)
	}
}

// TestExtremes: from polar circle to polar circle, for every slope, in months
// without any sun as well, everything that is computed has a value.
func TestExtremes(t *testing.T) {
	t.Parallel()
	const north = `"0 kWh/m²/day", "0.1 kWh/m²/day", "2 kWh/m²/day", "4 kWh/m²/day", "6 kWh/m²/day", "7 kWh/m²/day"`
	const south = `"6 kWh/m²/day", "5 kWh/m²/day", "3 kWh/m²/day", "1 kWh/m²/day", "0.1 kWh/m²/day", "0 kWh/m²/day"`
	for _, latitude := range []float64{66, 23.45, 0, -0.001, -66} {
		sun := north + ", " + south
		if latitude < 0 {
			sun = south + ", " + north
		}
		m := solvedText(t, aPlace+fmt.Sprintf("latitude = \"%v deg\"\nhorizontal_irradiation = [%s]\n", latitude, sun)+`
[source.wall]
tilt    = "90 deg"
azimuth = "180 deg"
[source.roof]
tilt    = "20 deg"
azimuth = "-90 deg"
`)
		for _, name := range []string{"wall", "roof"} {
			for i, v := range stepsOf(t, m, "source."+name+".peak_hours", "h/day") {
				if !(v >= 0 && v < 12) {
					t.Errorf("latitude %v, %s, month %d: %v peak sun hours", latitude, name, i+1, v)
				}
			}
		}
	}
}
