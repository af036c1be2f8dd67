package picture

import (
	"errors"
	"fmt"
	"math"
	"slices"

	"bankwright/engine/unit"

	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"
)

// Distributions shows how a result of several items spreads: a row each with the
// outline of its histogram, all on one axis, its median and where nine in ten
// results lie, and beside it how likely something is. Each outline is as high as
// its row, whatever the others are.
type Distributions struct {
	Title, Note string
	Axis        string // the result, with its unit
	ChanceTitle string // what Chance is the chance of; nothing where there is none
	Items       []Distribution
}

// Distribution is the results of an item.
type Distribution struct {
	Item    string
	Results []float64 // in any order, NaN where there is none
	Chance  float64   // from 0 to 1, NaN where it is not known
}

const (
	spreadHeight = vg.Length(52)
	chanceWidth  = vg.Length(120)
)

func (d Distributions) prepare() (sketch, error) {
	if len(d.Items) == 0 {
		return sketch{}, errors.New("there are no items whose results could be drawn")
	}
	var list []spread
	for i, item := range d.Items {
		list = append(list, newSpread(i, item))
	}
	s, beyond := shared(list)
	s.title = d.Axis
	switch {
	case beyond == 1:
		d.Note = join(d.Note, "One of the results lies beyond the edges of the picture.")
	case beyond > 1:
		d.Note = join(d.Note, fmt.Sprintf("%s of the results lie beyond the edges of the picture.", unit.Format(float64(beyond), 0)))
	}
	height := spreadHeight*vg.Length(len(d.Items)) + axisHeight + keyHeight + 2*margin + 20
	paint := func(c draw.Canvas) { d.draw(c, list, s.widened()) }
	return sketch{title: d.Title, note: d.Note, width: pictureWidth, height: height, draw: paint}, nil
}

// spread is the results of an item, sorted, and their quantiles.
type spread struct {
	Distribution
	look
	missing           int
	low, median, high float64 // 5, 50 and 95 %
}

func newSpread(at int, d Distribution) spread {
	s := spread{Distribution: d, look: lookOf(at)}
	s.Results = slices.DeleteFunc(slices.Clone(d.Results), func(v float64) bool { return !isNumber(v) })
	s.missing = len(d.Results) - len(s.Results)
	slices.Sort(s.Results)
	s.low, s.median, s.high = quantile(s.Results, 0.05), quantile(s.Results, 0.5), quantile(s.Results, 0.95)
	return s
}

// quantile is a quantile of sorted values, interpolated between two as
// spreadsheets' PERCENTILE does (Hyndman and Fan 1996, definition 7); NaN of
// none.
func quantile(sorted []float64, share float64) float64 {
	if len(sorted) == 0 {
		return math.NaN()
	}
	at := share * float64(len(sorted)-1)
	i := min(int(at), len(sorted)-1)
	next := min(i+1, len(sorted)-1)
	return sorted[i] + (at-float64(i))*(sorted[next]-sorted[i])
}

// shared is the axis of all and how many results lie beyond it: those of long
// tails, which would press everything else together.
func shared(list []spread) (s scale, beyond int) {
	core := scale{min: math.Inf(1), max: math.Inf(-1)}
	for _, d := range list {
		core.include(quantile(d.Results, 0.005), quantile(d.Results, 0.995))
	}
	s = core
	room := 0.5 * (core.max - core.min)
	for _, d := range list {
		for _, v := range d.Results {
			if v < core.min-room || v > core.max+room {
				beyond++
			} else {
				s.include(v)
			}
		}
	}
	return s, beyond
}

// bins counts results in steps across a scale: as wide as Freedman and Diaconis
// (1981) advise, 12 to 80 of them.
func (d spread) bins(s scale) []float64 {
	n := 80
	between := quantile(d.Results, 0.75) - quantile(d.Results, 0.25)
	if width := 2 * between / math.Cbrt(float64(len(d.Results))); width > 0 {
		n = int(math.Max(12, math.Min(80, (s.max-s.min)/width)))
	}
	counts := make([]float64, n)
	for _, v := range d.Results {
		if v >= s.min && v <= s.max {
			counts[min(n-1, int(float64(n)*(v-s.min)/(s.max-s.min)))]++
		}
	}
	return counts
}

func (d Distributions) draw(c draw.Canvas, list []spread, s scale) {
	decimals := spreadDecimals(list)
	names := vg.Length(0)
	for _, item := range list {
		names = max(names, labelPen.width(item.Item), smallPen.width(item.range90(decimals)))
	}
	column := vg.Length(0)
	if d.ChanceTitle != "" {
		column = chanceWidth
	}
	left := draw.Crop(c, 0, -column, 0, 0)
	r := newRows(left, len(list), min(names, mostNames), keyHeight, s)
	r.axes()
	step := (r.Max.Y - r.Min.Y) / vg.Length(len(list))
	for row, item := range list {
		base := r.Max.Y - step*vg.Length(row+1) + 17
		r.spread(item, s, base, step-23)
		labelPen.write(c, r.right, base+step/2-8, 1, labelPen.shorten(item.Item, mostNames))
		smallPen.write(c, r.right, base+step/2-21, 1, smallPen.shorten(item.range90(decimals), mostNames))
		if isNumber(item.median) {
			r.median(item, base, decimals)
		}
		if column > 0 {
			labelPen.write(c, r.Max.X+14, base+step/2-12, 0, chance(item.Chance))
		}
	}
	if column > 0 {
		lines := tickPen.wrap(d.ChanceTitle, column-10, 3)
		for i, l := range lines {
			tickPen.write(c, r.Max.X+14, r.Max.Y+11*vg.Length(len(lines)-1-i)+6, 0, l)
		}
	}
}

// spreadDecimals are the decimals that the figures of all rows share.
func spreadDecimals(list []spread) int {
	var values []float64
	for _, item := range list {
		values = append(values, item.low, item.median, item.high)
	}
	return unit.DecimalsFor(values)
}

// range90 says where nine in ten results lie, and how many there are not.
func (d spread) range90(decimals int) string {
	if len(d.Results) == 0 {
		return unit.Format(math.NaN(), 0)
	}
	text := fmt.Sprintf("9 in 10 from %s to %s", unit.Format(d.low, decimals), unit.Format(d.high, decimals))
	if d.missing > 0 {
		text += fmt.Sprintf(", %s without", unit.Format(float64(d.missing), 0))
	}
	return text
}

// spread draws the outline of a histogram on its base line.
func (r rows) spread(d spread, s scale, base, height vg.Length) {
	r.StrokeLine2(draw.LineStyle{Color: pale, Width: 0.5}, r.Min.X, base, r.Max.X, base)
	if len(d.Results) == 0 {
		return
	}
	counts := d.bins(s)
	most := slices.Max(counts)
	if most == 0 {
		return
	}
	width := (r.Max.X - r.Min.X) / vg.Length(len(counts))
	first := slices.IndexFunc(counts, func(v float64) bool { return v > 0 })
	x := r.Min.X + width*vg.Length(first)
	line := []vg.Point{{X: x, Y: base}}
	end := len(counts)
	for counts[end-1] == 0 {
		end--
	}
	for _, n := range counts[first:end] {
		y := base + height*vg.Length(n/most)
		line = append(line, vg.Point{X: x, Y: y}, vg.Point{X: x + width, Y: y})
		x += width
	}
	line = append(line, vg.Point{X: x, Y: base})
	r.FillPolygon(d.fill, line)
	r.StrokeLines(draw.LineStyle{Color: d.ink, Width: 1.2}, line)
}

// median marks the median and where nine in ten results lie.
func (r rows) median(d spread, base vg.Length, decimals int) {
	low, high, at := r.x(d.low), r.x(d.high), r.x(d.median)
	r.StrokeLine2(draw.LineStyle{Color: black, Width: 2}, max(low, r.Min.X), base, min(high, r.Max.X), base)
	dot(r.Canvas, vg.Point{X: at, Y: base}, 3, black)
	text := unit.Format(d.median, decimals)
	half := smallPen.width(text) / 2
	smallPen.in(black).write(r.Canvas, max(r.Min.X+half, min(at, r.Max.X-half)), base-9, 0.5, text)
}

// chance says a probability in words.
func chance(p float64) string {
	switch {
	case math.IsNaN(p):
		return unit.Format(p, 0)
	case p <= 0:
		return "in no case"
	case p < 0.01:
		return "in fewer than 1 of 100"
	case p >= 1:
		return "in every case"
	case p > 0.99:
		return "in more than 99 of 100"
	}
	return fmt.Sprintf("in %s of 100 cases", unit.Format(100*p, 0))
}
