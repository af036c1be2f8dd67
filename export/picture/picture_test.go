package picture

import (
	"bytes"
	"encoding/xml"
	"errors"
	"image"
	"image/color"
	"image/png"
	"io"
	"math"
	"math/rand/v2"
	"strings"
	"sync"
	"testing"

	"gonum.org/v1/plot/font"
	"gonum.org/v1/plot/vg"

	"bankwright/engine/oracle"
)

// samples are pictures of every kind, with few and many items and what is
// awkward.
func samples() map[string]Picture {
	list := map[string]Picture{
		"map": planes(41, 31, 3, true), "coarse map": planes(6, 5, 4, true), "map without leads": planes(12, 9, 4, false),
		"map of 12": planes(41, 31, 12, true), "map of 30": planes(41, 31, 30, true), "fine map": planes(300, 200, 8, true),
		"map of a column": planes(1, 6, 3, true), "map of a row": planes(7, 1, 3, true), "map of a point": planes(1, 1, 1, false),
		"effect": tornado(1), "effects": tornado(5), "many effects": tornado(14),
		"distribution": bells(1), "distributions": bells(3), "many distributions": bells(12),
		"index": shares(1), "indices": shares(4), "many indices": shares(12),
		"curve": waves(1), "curves": waves(3), "many curves": waves(12),
	}
	names := planes(4, 6, 5, true)
	names.X, names.Base.X = Axis{Title: "layout", Names: []string{"1S1P", "1S3P", "two in series", "four"}}, 1
	list["map of names"] = names
	left := waves(3)
	left.Base.X = 500
	list["curves from the base on"] = left
	crossed := square(unitAxis(11), unitAxis(11), func(x, y float64) float64 { return x + y })
	for p := range crossed.Winner {
		crossed.Best = append(crossed.Best, crossed.X.Values[p%11]+crossed.Y.Values[p/11])
	}
	list["map with a contour line through a name"] = crossed
	odd(list)
	circuits(list)
	return list
}

// odd adds pictures with values that are missing or alike and hostile names.
func odd(list map[string]Picture) {
	nan := math.NaN()
	m := planes(30, 20, 7, true)
	m.Items, m.Title, m.X.Title = hostile, hostile[0]+hostile[1], hostile[4]+hostile[4]
	m.Best[7], m.Best[100] = nan, math.Inf(1)
	list["hostile map"] = m

	e := tornado(7)
	for i := range e.Inputs {
		e.Inputs[i].Input, e.Inputs[i].High.Winner = hostile[i], hostile[(i+4)%7]
	}
	e.Inputs[5].Low.Result, e.Inputs[5].High.Result = nan, math.Inf(1)
	e.Inputs[6].Low.Result, e.Inputs[6].High.Result = e.Base, e.Base
	list["hostile effects"] = e

	b := bells(7)
	b.Items[0], b.Items[1] = distribution("", 0.5, 0.3, 0.3), distribution("", nan)
	b.Items[2] = distribution("", 0.5, 0.3, nan, 0.4, 1e6, math.Inf(-1))
	for i := range b.Items {
		b.Items[i].Item = hostile[i]
	}
	list["hostile distributions"] = b
	list["distributions of one value"] = Distributions{Items: []Distribution{distribution("a", 1, 5, 5, 5), distribution("b", 0, 5)}}

	x := shares(7)
	for i := range x.Inputs {
		x.Inputs[i].Input = hostile[i]
	}
	x.Inputs[0].First, x.Inputs[1].Total, x.Inputs[2].First.Low = Estimate{-0.02, -0.06, 0.02}, Estimate{nan, nan, nan}, nan
	list["hostile indices"] = x

	k := waves(7)
	for i := range k.Lines {
		k.Lines[i].Item = hostile[i]
	}
	k.Lines[0].Results[3], k.Lines[1].Results[40] = nan, nan
	for i := range k.Lines[2].Results {
		k.Lines[2].Results[i] = nan
	}
	list["hostile curves"] = k
	list["curve of a point"] = Curves{X: Axis{Values: []float64{0}}, Lines: []Curve{{Item: "a", Results: []float64{0}}}}
	list["curves of names"] = Curves{X: Axis{Title: "layout", Names: hostile}, Lines: []Curve{{Item: "a", Results: []float64{1, 2, nan, 4, 5, 6, 7}}}}
	list["curves of nothing"] = Curves{X: Axis{Values: []float64{1, 1, 1}}, Lines: []Curve{{Item: "a", Results: []float64{nan, nan, nan}}}}
}

func drawn(t *testing.T, p Picture, f Format) []byte {
	t.Helper()
	var b bytes.Buffer
	if err := Write(&b, p, f); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

func TestSameBytes(t *testing.T) {
	oracle.OneCore(t)
	again := samples()
	for name, p := range samples() {
		formats := []Format{SVG}
		if strings.HasPrefix(name, "hostile") { // one of each kind, since images take long
			formats = append(formats, PNG)
		}
		for _, f := range formats {
			if !bytes.Equal(drawn(t, p, f), drawn(t, again[name], f)) {
				t.Errorf("%s: two %s of the same data differ", name, f)
			}
		}
	}
}

// TestDrawnAtOnce: several pictures may be drawn at the same time, those that share the
// memory of others among them; each has the bytes that it has alone.
func TestDrawnAtOnce(t *testing.T) {
	list := map[string]Picture{"map": planes(6, 5, 4, true), "effects": tornado(5)}
	circuits(list)
	for _, name := range []string{"map", "effects", "circuit of 3"} {
		alone := map[Format][]byte{SVG: drawn(t, list[name], SVG), PNG: drawn(t, list[name], PNG)}
		var work sync.WaitGroup
		for _, f := range []Format{SVG, PNG, PNG} {
			work.Go(func() {
				var b bytes.Buffer
				if err := Write(&b, list[name], f); err != nil || !bytes.Equal(b.Bytes(), alone[f]) {
					t.Errorf("%s: another picture than alone (%v)", name, err)
				}
			})
		}
		work.Wait()
	}
}

// TestDrawings: every drawing is well-formed XML that runs and loads nothing,
// and its description says what is written in it.
func TestDrawings(t *testing.T) {
	oracle.OneCore(t)
	for name, p := range samples() {
		out := drawn(t, p, SVG)
		decoder := xml.NewDecoder(bytes.NewReader(out))
		for {
			token, err := decoder.Token()
			if err == io.EOF {
				break
			}
			if err != nil {
				t.Errorf("%s: %v", name, err)
				break
			}
			start, ok := token.(xml.StartElement)
			if !ok {
				continue
			}
			if !strings.Contains(" svg title desc g path text image ", " "+start.Name.Local+" ") {
				t.Errorf("%s has an element %s", name, start.Name.Local)
			}
			for _, a := range start.Attr {
				if a.Name.Local == "href" && !strings.HasPrefix(a.Value, "data:image/png;base64,") || strings.HasPrefix(a.Name.Local, "on") {
					t.Errorf("%s: attribute %s = %.40s", name, a.Name.Local, a.Value)
				}
			}
		}
	}
}

// texts are what is written in a picture.
func texts(t *testing.T, p Picture) string {
	t.Helper()
	var svg struct {
		Title string `xml:"title"`
		Desc  string `xml:"desc"`
	}
	if err := xml.Unmarshal(drawn(t, p, SVG), &svg); err != nil {
		t.Fatal(err)
	}
	return "\n" + svg.Desc + "\n"
}

func TestTexts(t *testing.T) {
	list := samples()
	for name, want := range map[string]string{
		"map":               "Which one costs least, by price and depth?|Thin lines: cost of the best, USD/kWh.|price of an oak, USD|depth, %|1,000|80|oak_1|ash_2|elm_3|nothing passes|as given|0.40",
		"map of 12":         "oak_1|ash_2|elm_3|fir_4|oak_5|ash_6|elm_7|fir_8|oak_9|ash_10|elm_11|fir_12",
		"map of names":      "1S1P|1S3P|two in series|four|layout|oak_5",
		"map of a column":   "500|depth, %|40",
		"hostile map":       hostile[0] + "|" + hostile[1] + "|" + hostile[2] + "|" + hostile[3] + "|" + hostile[6] + "|bad \ufffd bytes",
		"effects":           "price of an oak|50 %|1,250 USD|1,250 USD: ash_2 wins|50 %: no value|as given: 0.321|cost per kWh, USD|input at its low end",
		"distributions":     "oak_1|in 62 of 100 cases|0.300|9 in 10 from 0.284 to 0.316|cheapest of those that|cost per kWh, USD",
		"hostile effects":   hostile[0] + "|1,250 USD: " + hostile[2] + " wins",
		"indices":           "price of an oak|0.50|0.40|with all others (total)|alone (first order)",
		"curves":            "oak_1|ash_2|elm_3|equal at 725 USD|as given: 1,050|1,400|0.35",
		"curves of names":   hostile[0] + "|" + hostile[3],
		"hostile curves":    hostile[0] + "|" + hostile[6],
		"hostile indices":   "no value|-0.02|" + hostile[1],
		"distribution":      "oak_1",
		"curves of nothing": "1",
		"circuit of 16":     "Wiring of an example|So many rows, and so many columns.|joint|35 mm²|cell|12.8 V, 100 Ah|string|16|25.25 A|10 more|main|0.15 m away|size not given|5,000 W|A planning drawing.",
		"hostile circuit":   hostile[0] + "|" + hostile[6],
	} {
		got := texts(t, list[name])
		for _, w := range strings.Split(want, "|") {
			if !strings.Contains(got, "\n"+w+"\n") {
				t.Errorf("%s: nowhere is written %q, but\n%s", name, w, got)
			}
		}
	}
}

// sheet is a canvas that remembers where texts stand.
type sheet struct {
	width, height vg.Length
	turned        []bool
	texts         map[string][]vg.Rectangle
	out           []vg.Rectangle
}

func (s *sheet) Size() (w, h vg.Length)              { return s.width, s.height }
func (s *sheet) SetLineWidth(vg.Length)              {}
func (s *sheet) SetLineDash([]vg.Length, vg.Length)  {}
func (s *sheet) SetColor(color.Color)                {}
func (s *sheet) Translate(vg.Point)                  {}
func (s *sheet) Scale(x, y float64)                  {}
func (s *sheet) Push()                               { s.turned = append(s.turned, s.turned[len(s.turned)-1]) }
func (s *sheet) Pop()                                { s.turned = s.turned[:len(s.turned)-1] }
func (s *sheet) Rotate(float64)                      { s.turned[len(s.turned)-1] = true }
func (s *sheet) DrawImage(vg.Rectangle, image.Image) {}
func (s *sheet) Stroke(p vg.Path)                    { s.Fill(p) }

func (s *sheet) Fill(p vg.Path) {
	if s.turned[len(s.turned)-1] {
		return
	}
	for _, c := range p {
		if c.Type != vg.CloseComp && (c.Pos.X < -0.01 || c.Pos.X > s.width+0.01 || c.Pos.Y < -0.01 || c.Pos.Y > s.height+0.01) {
			s.out = append(s.out, vg.Rectangle{Min: c.Pos})
		}
	}
}

func (s *sheet) FillString(f font.Face, at vg.Point, text string) {
	if !s.turned[len(s.turned)-1] {
		box := vg.Rectangle{Min: at, Max: at.Add(vg.Point{X: f.Width(text), Y: 0.7 * f.Font.Size})}
		s.texts[text] = append(s.texts[text], box)
	}
}

// TestRoom: nothing is drawn beyond the edges, no text is cut by them, and no
// text stands on another.
func TestRoom(t *testing.T) {
	oracle.OneCore(t)
	for name, p := range samples() {
		k, err := p.prepare()
		if err != nil {
			t.Fatal(err)
		}
		head := newHead(k)
		s := &sheet{width: k.width, height: k.height + head.height, turned: []bool{false}, texts: map[string][]vg.Rectangle{}}
		paintOn(s, k, head)
		if len(s.out) > 0 {
			t.Errorf("%s: drawn beyond the edges: %v", name, s.out[0])
		}
		type written struct {
			text string
			box  vg.Rectangle
		}
		var all []written
		for text, boxes := range s.texts {
			for _, b := range boxes {
				all = append(all, written{text, b})
			}
		}
		if len(all) < 2 {
			t.Errorf("%s: only %d texts", name, len(all))
		}
		for i, a := range all {
			if a.box.Min.X < 0 || a.box.Max.X > s.width || a.box.Min.Y < 0 || a.box.Max.Y > s.height {
				t.Errorf("%s: %q is cut: %v", name, a.text, a.box)
			}
			for _, b := range all[:i] {
				if overlap(a.box, b.box) {
					t.Errorf("%s: %q and %q stand on each other: %v, %v", name, a.text, b.text, a.box, b.box)
				}
			}
		}
	}
}

func TestImages(t *testing.T) {
	m, err := png.Decode(bytes.NewReader(drawn(t, tornado(5), PNG)))
	if err != nil {
		t.Fatal(err)
	}
	if w := m.Bounds().Dx(); w != int(pictureWidth*dpi/72) {
		t.Errorf("%d pixels wide", w)
	}
	if r, g, b, a := m.At(1, 1).RGBA(); r&g&b&a != 0xffff {
		t.Error("the ground is not white")
	}
}

// TestLargeMaps: neither many points nor a patchwork makes a large drawing.
func TestLargeMaps(t *testing.T) {
	oracle.OneCore(t)
	const most = 2_000_000
	m := planes(1000, 1000, 8, true)
	if n := len(drawn(t, m, SVG)); n > most/4 {
		t.Errorf("a map of a million points has %d bytes", n)
	}
	random := rand.New(rand.NewPCG(1, 2))
	for i := range m.Winner {
		m.Winner[i] = random.IntN(8) - 1
		m.Best[i] = random.Float64()
	}
	if n := len(drawn(t, m, SVG)); n > most {
		t.Errorf("a patchwork of a million points has %d bytes", n)
	}
}

func TestFormatOf(t *testing.T) {
	for name, want := range map[string]Format{"a.svg": SVG, "/b.c/A.PNG": PNG} {
		if got, err := FormatOf(name); got != want || err != nil {
			t.Errorf("%s: %q, %v", name, got, err)
		}
	}
	const possible = "; a picture's file ends in .svg (drawing, stays sharp at any size) or .png (image)"
	for name, want := range map[string]string{
		"a.jpg": `".jpg" cannot be written` + possible, "svg": `the name "svg" has no ending` + possible, "a.": `the name "a." has no ending` + possible,
	} {
		if _, err := FormatOf(name); err == nil || err.Error() != want {
			t.Errorf("%s: %v", name, err)
		}
	}
}

func TestErrors(t *testing.T) {
	axis := Axis{Title: "price", Values: []float64{1, 2}}
	nan := math.NaN()
	for want, p := range map[string]Picture{
		`the axis "price" has no points`:                                       Map{X: Axis{Title: "price"}, Y: axis},
		`the axis "depth" has both numbers and names`:                          Map{X: axis, Y: Axis{Title: "depth", Values: []float64{1}, Names: []string{"a"}}},
		`point 2 of the axis "depth" is no number`:                             Map{X: axis, Y: Axis{Title: "depth", Values: []float64{1, nan}}},
		`a map of 2 by 2 points has 3 winners, not 4`:                          Map{X: axis, Y: axis, Winner: []int{0, 0, 0}},
		`a map of 2 by 2 points has 1 figures of the best, not 4`:              Map{X: axis, Y: axis, Items: []string{"a"}, Winner: make([]int, 4), Best: []float64{1}},
		`point 2 of the map is won by item 2 of 1`:                             Map{X: axis, Y: axis, Items: []string{"a"}, Winner: []int{0, 1, 0, 0}},
		`there are no inputs whose effects could be drawn`:                     Effects{},
		`effects cannot be drawn: with the inputs as given there is no result`: Effects{Base: nan, Inputs: make([]Effect, 1)},
		`there are no inputs whose shares could be drawn`:                      Indices{},
		`there are no items whose results could be drawn`:                      Distributions{},
		`"a" has 3 results along 2 points`:                                     Curves{X: axis, Lines: []Curve{{Item: "a", Results: make([]float64, 3)}}},
	} {
		if err := Write(io.Discard, p, SVG); err == nil || err.Error() != want {
			t.Errorf("got %v, want %s", err, want)
		}
	}
	if err := Write(failing{}, tornado(1), PNG); err == nil {
		t.Error("a writer's failure is not told")
	}
	if err := Write(failing{}, tornado(1), SVG); err == nil {
		t.Error("a writer's failure is not told")
	}
	if err := Write(io.Discard, tornado(1), "gif"); err == nil || err.Error() != "a picture is written as SVG or as PNG" {
		t.Error(err)
	}
}

type failing struct{}

func (failing) Write([]byte) (int, error) { return 0, errors.New("full") }
