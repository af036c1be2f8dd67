package xlsx

import (
	"archive/zip"
	"bytes"
	"io"
	"strings"
	"testing"

	"bankwright/export"
	"bankwright/export/picture"
)

// drawing is a book with a chart of each kind, the second sheet of two with a name
// that formulas have to quote.
func drawing() *export.Book {
	s := &export.Sheet{Name: "Rows & 'more' it", Widths: []float64{44, 12}}
	s.Set(1, 1, export.Cell{Value: "=1+1"})
	s.Set(1, 2, export.Cell{Value: "heat"})
	for row := 2; row < 6; row++ {
		s.Set(row, 1, export.Cell{Value: float64(row)})
		s.Set(row, 2, export.Cell{Value: float64(row * row)})
	}
	low := 0.0
	cells := func(col int) export.Range {
		return export.Range{Sheet: s.Name, Row: 2, Col: col, ToRow: 5, ToColumn: col}
	}
	name := func(col int) export.Range { return export.Range{Sheet: s.Name, Row: 1, Col: col} }
	for i, kind := range []export.ChartKind{export.ScatterChart, export.LineChart, export.BarChart, export.StackedChart} {
		s.Charts = append(s.Charts, export.Chart{Kind: kind, Title: "=HYPERLINK(\"x\") <b>", Row: 8 + 20*i, Col: 1, Width: 480, Height: 280,
			X: export.Axis{Title: "time (h)"}, Y: export.Axis{Title: "=SUM(A1)", Min: &low, Format: "0.0"},
			Series: []export.Series{{Name: name(1), X: cells(1), Y: cells(2)}, {Name: name(2), X: cells(1), Y: cells(1)}}})
	}
	return &export.Book{Title: "Drawing", Sheets: []*export.Sheet{{Name: "First"}, s}}
}

// partsOf are the parts of a file by name.
func partsOf(t *testing.T, data []byte) map[string]string {
	t.Helper()
	z, err := zip.NewReader(bytes.NewReader(data), int64(len(data)))
	if err != nil {
		t.Fatal(err)
	}
	out := map[string]string{}
	for _, f := range z.File {
		r, err := f.Open()
		if err != nil {
			t.Fatal(err)
		}
		text, err := io.ReadAll(r)
		if err != nil {
			t.Fatal(err)
		}
		out[f.Name] = string(text)
	}
	return out
}

// TestCharts: charts of all kinds stand on their sheet, draw its cells, and hold what
// looks like a formula as a text.
func TestCharts(t *testing.T) {
	data, err := Bytes(drawing())
	if err != nil {
		t.Fatal(err)
	}
	again, err := Bytes(drawing())
	if err != nil || !bytes.Equal(data, again) {
		t.Errorf("the same charts give other bytes (%v)", err)
	}
	parts := partsOf(t, data)
	if !strings.Contains(parts["xl/worksheets/sheet2.xml"], "<drawing ") || strings.Contains(parts["xl/worksheets/sheet1.xml"], "<drawing ") {
		t.Error("the charts are not on the second sheet alone")
	}
	// The library counts some 8 pixels a character: the first two columns are 448 wide.
	if d := parts["xl/drawings/drawing1.xml"]; strings.Count(d, "<xdr:to><xdr:col>2</xdr:col>") != 4 {
		t.Errorf("charts do not end in the third column: %s", d)
	}
	for i, kind := range []string{"<c:scatterChart>", "<c:lineChart>", "<c:barChart>", `<c:grouping val="stacked">`} {
		chart := parts["xl/charts/chart"+string(rune('1'+i))+".xml"]
		for _, want := range []string{strings.ReplaceAll(kind, "c:", ""), `<t>=HYPERLINK(`, `&lt;b&gt;</t>`, "<t>=SUM(A1)</t>", "<f>&#39;Rows &amp; &#39;&#39;more&#39;&#39; it&#39;!$B$2:$B$5</f>",
			"<f>&#39;Rows &amp; &#39;&#39;more&#39;&#39; it&#39;!$A$1</f>", `val="` + ink + `"`} {
			if !strings.Contains(strings.NewReplacer("c:", "", "a:", "").Replace(chart), want) {
				t.Errorf("chart %d lacks %s: %.3000s", i+1, want, chart)
			}
		}
		if strings.Contains(chart, "<c:f>=") || strings.Contains(chart, "<f>=") {
			t.Errorf("chart %d has a formula that is no range", i+1)
		}
	}
}

// TestColours: a series of an item is drawn in the colour and dashes that the item has
// in pictures, in every kind of chart; what is nobody's in none of these.
func TestColours(t *testing.T) {
	b := drawing()
	for i := range b.Sheets[1].Charts {
		b.Sheets[1].Charts[i].Series[1].Item = 4
	}
	data, err := Bytes(b)
	if err != nil {
		t.Fatal(err)
	}
	parts := partsOf(t, data)
	ink, _, _ := picture.Line(3)
	for i := range b.Sheets[1].Charts {
		chart := parts["xl/charts/chart"+string(rune('1'+i))+".xml"]
		list := strings.Split(chart, "<c:ser>")
		if len(list) < 3 {
			list = strings.Split(chart, "<ser>")
		}
		if len(list) != 3 || !strings.Contains(list[2], `val="`+ink+`"`) || strings.Contains(list[1], `val="`+ink+`"`) {
			t.Errorf("chart %d is not drawn in %s alone where its second series is", i+1, ink)
		}
		for item := range picture.Hues {
			ground, _ := picture.Area(item)
			line, _, _ := picture.Line(item)
			if strings.Contains(list[1], `val="`+ground+`"`) || strings.Contains(list[1], `val="`+line+`"`) {
				t.Errorf("chart %d: a series of nobody is drawn as item %d", i+1, item)
			}
		}
		if c := b.Sheets[1].Charts[i]; c.Kind == export.ScatterChart && !strings.Contains(list[2], `val="sysDash"`) && !strings.Contains(list[2], `val="dashDot"`) {
			t.Errorf("chart %d has no dashes of item 4: %s", i+1, list[2])
		}
	}
}

// TestNeutral: the only series of a chart has a colour that neither a part nor an item has.
func TestNeutral(t *testing.T) {
	b := drawing()
	b.Sheets[1].Charts = b.Sheets[1].Charts[2:3]
	b.Sheets[1].Charts[0].Series = b.Sheets[1].Charts[0].Series[:1]
	data, err := Bytes(b)
	if err != nil {
		t.Fatal(err)
	}
	if chart := partsOf(t, data)["xl/charts/chart1.xml"]; !strings.Contains(chart, `val="`+picture.Neutral()+`"`) || strings.Contains(chart, `val="`+picture.Shade(0)+`"`) {
		t.Errorf("it is drawn so: %.2000s", chart)
	}
}

// TestChartValues: a chart holds the values of the cells that it refers to, for programs
// that calculate nothing: numbers as heights whatever else stands among them, names as
// texts, what stands along the axis as both; and no blank cell has a point.
func TestChartValues(t *testing.T) {
	b := drawing()
	s := b.Sheets[1]
	s.Set(3, 1, export.Cell{Value: "a < b"})
	s.Set(4, 1, export.Cell{})
	s.Set(4, 2, export.Cell{Value: "no number"})
	s.Set(2, 2, export.Cell{Value: 0.25, Format: `0.0" & "`})
	data, err := Bytes(b)
	if err != nil {
		t.Fatal(err)
	}
	parts := partsOf(t, data)
	for i := range s.Charts {
		chart := parts["xl/charts/chart"+string(rune('1'+i))+".xml"]
		for _, want := range []string{
			`<strCache><ptCount val="1"></ptCount><pt idx="0"><v>heat</v></pt></strCache></strRef></tx>`,
			`<strCache><ptCount val="4"></ptCount><pt idx="0"><v>2</v></pt><pt idx="1"><v>a &lt; b</v></pt><pt idx="3"><v>5</v></pt></strCache></strRef>`,
			`<numCache><formatCode>0.0&#34; &amp; &#34;</formatCode><ptCount val="4"></ptCount><pt idx="0"><v>0.25</v></pt><pt idx="1"><v>9</v></pt><pt idx="3"><v>25</v></pt></numCache></numRef>`,
			`<numCache><formatCode>General</formatCode><ptCount val="4"></ptCount><pt idx="0"><v>2</v></pt><pt idx="3"><v>5</v></pt></numCache></numRef>`,
		} {
			if !strings.Contains(chart, want) {
				t.Errorf("chart %d lacks %s: %.4000s", i+1, want, chart)
			}
		}
		if strings.Contains(chart, "<numCache><formatCode></formatCode></numCache>") {
			t.Errorf("chart %d has a reference without values", i+1)
		}
	}
}
