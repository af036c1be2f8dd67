package xlsx

import (
	"bytes"
	"image/png"
	"math"

	"github.com/xuri/excelize/v2"

	"bankwright/export"
	"bankwright/export/picture"
)

var chartTypes = map[export.ChartKind]excelize.ChartType{
	export.ScatterChart: excelize.Scatter, export.LineChart: excelize.Line,
	export.BarChart: excelize.Bar, export.StackedChart: excelize.BarStacked, export.LyingChart: excelize.Bar,
}

// Dashes of lines by their numbers, as package picture draws them, and marks.
var (
	dashes = [picture.Dashes]excelize.LineDashType{excelize.LineDashSolid, excelize.LineDashDash, excelize.LineDashSysDot, excelize.LineDashSashDot, excelize.LineDashSysDash,
		excelize.LineDashLgDash, excelize.LineDashSysDashDotDot, excelize.LineDashDot, excelize.LineDashLgDashDot, excelize.LineDashSysDashDot, excelize.LineDashLgDashDotDot}
	symbols = [picture.Marks]string{"circle", "square", "triangle", "diamond", "x", "plus", "star", "dash", "dot"}
)

// upon puts charts and pictures on a sheet, before its stream is flushed. Where one
// ends is counted in cells, by widths that the stream keeps to itself.
func (w *writer) upon(s *export.Sheet) error {
	if len(s.Charts)+len(s.Pictures) == 0 {
		return nil
	}
	for i, width := range s.Widths {
		col, err := excelize.ColumnNumberToName(i + 1)
		if err == nil && width > 0 {
			err = w.f.SetColWidth(s.Name, col, col, width)
		}
		if err != nil {
			return err
		}
	}
	for i, h := range s.Heights {
		if err := w.f.SetRowHeight(s.Name, i+1, h); err != nil {
			return err
		}
	}
	for _, c := range s.Charts {
		at, err := excelize.CoordinatesToCellName(c.Col, c.Row)
		if err != nil {
			return err
		}
		cover(s, &c)
		err = w.f.AddChart(s.Name, at, chart(c))
		if err == nil {
			err = w.chartPart(c)
		}
		if err != nil {
			return err
		}
	}
	for _, p := range s.Pictures {
		if err := w.picture(s.Name, p); err != nil {
			return err
		}
	}
	return nil
}

// cover gives a chart the size of the cells that it covers, in the pixels of the
// library, which counts 8 for a character and 4 for 3.4 points. Programs count some 7 and
// 5 more a column: by these it ends in the last one, whose width it must not pass, since
// a page would then have one column more.
func cover(s *export.Sheet, c *export.Chart) {
	if c.ToRow == 0 {
		return
	}
	const gap = 6
	c.Width, c.Height = int(s.Widths[c.ToCol-1]*7)+5-gap, -gap
	for _, w := range s.Widths[c.Col-1 : c.ToCol-1] {
		c.Width += int(w*8 + 0.5)
	}
	for _, h := range s.Heights[c.Row-1 : c.ToRow] {
		c.Height += int(math.Ceil(4 / 3.4 * h))
	}
}

// longestAlt is how much is told of a picture to who cannot see it: readers of the
// format cut longer texts.
const longestAlt = 1000

// picture puts a picture on a sheet. It keeps its size where columns are made wider.
func (w *writer) picture(sheet string, p export.Picture) error {
	at, err := excelize.CoordinatesToCellName(p.Col, p.Row)
	if err != nil {
		return err
	}
	size, err := png.DecodeConfig(bytes.NewReader(p.PNG))
	if err != nil {
		return err
	}
	scale := float64(p.Width) / float64(size.Width)
	return w.f.AddPictureFromBytes(sheet, at, &excelize.Picture{Extension: ".png", File: p.PNG, Format: &excelize.GraphicOptions{
		AltText: cut(clean(p.Text), longestAlt), ScaleX: scale, ScaleY: scale, Positioning: "oneCell", LockAspectRatio: true,
	}})
}

// chart is a chart as the library takes it: dark letters on white, thin pale lines
// across, no colours but those of the series.
func chart(c export.Chart) *excelize.Chart {
	no := false
	out := &excelize.Chart{
		Type: chartTypes[c.Kind], Title: words(c.Title, 11, true), VaryColors: &no, ShowBlanksAs: "gap",
		Dimension: excelize.ChartDimension{Width: uint(c.Width), Height: uint(c.Height)},
		XAxis:     axis(c.X), YAxis: axis(c.Y),
		Legend: excelize.ChartLegend{Position: "none"},
		Border: excelize.LineOptions{Type: excelize.LineSolid, Fill: fill(rule), Width: 0.75},
		Format: excelize.GraphicOptions{AltText: clean(c.Title)},
	}
	out.YAxis.MajorGridLines = true
	if c.Kind != export.ScatterChart && c.Kind != export.LineChart {
		out.XAxis.TickLabelSkip = 1 // each bar has its name
	}
	if c.Tight {
		out.XAxis.Font, out.YAxis.Font = *letters(tight, false), *letters(tight, false)
	}
	if c.Kind == export.LyingChart {
		gap, over := uint(40), 100
		out.GapWidth, out.Overlap = &gap, &over
		out.XAxis.ReverseOrder, out.YAxis.TickLabelPosition = true, excelize.ChartTickLabelHigh // below, since all stands upside down
	}
	if len(c.Series) > 1 {
		out.Legend = excelize.ChartLegend{Position: "bottom", Font: letters(out.XAxis.Font.Size, false)}
	}
	switch c.Kind {
	case export.StackedChart:
		out.Legend.Position = "right" // below it would take the bars' height, and names beside them would touch
		lie(out)
	case export.BarChart:
		out.PlotArea.ShowVal = len(c.Series) == 1
		lie(out)
	}
	for i, s := range c.Series {
		out.Series = append(out.Series, series(c, i, s))
	}
	return out
}

// series is a series of a chart: in the look of its item, else in a colour that no item
// has.
func series(c export.Chart, i int, s export.Series) excelize.ChartSeries {
	ink, dash, mark := picture.Shade(i), i, i
	if c.Kind == export.ScatterChart || c.Kind == export.LineChart {
		ink = picture.Shade(2 * i) // the dark ones
	}
	if len(c.Series) == 1 {
		ink = picture.Neutral()
	}
	if s.Item > 0 {
		ink, dash, mark = picture.Line(s.Item - 1)
	}
	hue := fill(ink)
	out := excelize.ChartSeries{
		Name: s.Name.String(), Categories: s.X.String(), Values: s.Y.String(), Fill: hue,
		Line:   excelize.LineOptions{Type: excelize.LineSolid, Fill: hue, Width: 1.5, Dash: dashes[dash%len(dashes)]},
		Marker: excelize.ChartMarker{Symbol: "none", Fill: hue, Border: excelize.LineOptions{Type: excelize.LineSolid, Fill: hue}},
	}
	if c.Kind == export.BarChart {
		out.DataLabel.Font = *letters(small, false)
	}
	if c.Marked {
		out.Marker.Symbol, out.Marker.Size = symbols[mark%len(symbols)], 5
	}
	return out
}

// lie turns the axes of a chart whose bars lie: the first is on top, and what they count
// stands below them.
func lie(c *excelize.Chart) {
	gap := uint(40)
	c.XAxis.ReverseOrder, c.YAxis.TickLabelPosition, c.GapWidth = true, excelize.ChartTickLabelHigh, &gap
}

func axis(a export.Axis) excelize.ChartAxis {
	return excelize.ChartAxis{
		Title: words(a.Title, small, false), Font: *letters(small, false), Minimum: a.Min, Maximum: a.Max, MajorUnit: a.Step,
		NumFmt:            excelize.ChartNumFmt{CustomNumFmt: a.Format, SourceLinked: a.Format == ""},
		TickLabelPosition: excelize.ChartTickLabelLow, // not across the curve where that goes below 0
	}
}

// words are a text of a chart, which is no formula whatever it begins with.
func words(s string, size float64, bold bool) excelize.ChartTitle {
	if s = clean(s); s == "" {
		return excelize.ChartTitle{}
	}
	return excelize.ChartTitle{Paragraph: []excelize.RichTextRun{{Text: s, Font: letters(size, bold)}}}
}

// Sizes of the letters of a chart beside those of its title.
const (
	small = 10
	tight = 8
)

func letters(size float64, bold bool) *excelize.Font {
	return &excelize.Font{Family: font, Size: size, Bold: bold, Color: ink}
}
