package picture

import (
	"bytes"
	"image"
	"image/color"
	"image/png"
	"testing"

	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"
	"gonum.org/v1/plot/vg/vgimg"
)

// TestPaper: drawings in grey look as the plot library draws them in colours. Letters are
// rounded to other 64ths of a dot, and circles have other corners.
func TestPaper(t *testing.T) {
	list := map[string]Picture{}
	circuits(list)
	for name, p := range list {
		s, err := p.prepare()
		if err != nil {
			t.Fatal(err)
		}
		s.dpi = dpi
		compare(t, name, s, newHead(s))
	}
	lines := sketch{width: 300, height: 400, draw: func(c draw.Canvas) {
		for i, dashes := range [][]vg.Length{nil, {2, 3}, {7}, {5, 2, 1, 4}} {
			low := vg.Length(10 + 20*i)
			c.StrokeLines(draw.LineStyle{Color: color.Gray{Y: uint8(40 * i)}, Width: vg.Length(1 + i), Dashes: dashes},
				[]vg.Point{{X: low, Y: low}, {X: 200, Y: low + 3}, {X: 280 - low, Y: 390}, {X: low, Y: 150}})
		}
		c.FillPolygon(grey, []vg.Point{{X: 250, Y: 5}, {X: 290, Y: 395}, {X: 205, Y: 200}})
		ring(c, vg.Point{X: 60, Y: 300}, 40)
	}}
	compare(t, "lines", lines, head{})
}

// compare fails where the drawing in grey is another than that in colours.
func compare(t *testing.T, name string, s sketch, head head) {
	t.Helper()
	width, height := s.width, s.height+head.height
	colours := sized{vgimg.NewWith(vgimg.UseWH(width, height), vgimg.UseDPI(dpi)), width, height}
	paint(colours, s, head, false)
	want := colours.Image()
	var b bytes.Buffer
	if err := writeGrey(&b, s, head); err != nil {
		t.Fatal(err)
	}
	got, err := png.Decode(&b)
	if err != nil {
		t.Fatal(err)
	}
	if got.Bounds() != want.Bounds() {
		t.Fatalf("%s: %v, not %v", name, got.Bounds(), want.Bounds())
	}
	inked, differ := 0, 0
	for y := range want.Bounds().Dy() {
		for x := range want.Bounds().Dx() {
			a, b := shadeAt(want, x, y), shadeAt(got, x, y)
			if a < 255 {
				inked++
			}
			switch d := max(a-b, b-a); {
			case d > 80:
				t.Fatalf("%s: the dot %d, %d is %d of 255, not %d", name, x, y, b, a)
			case d > 17:
				differ++
			}
		}
	}
	if inked == 0 || differ > inked/50 {
		t.Errorf("%s: of %d dots with ink %d differ", name, inked, differ)
	}
}

// sized is a canvas whose size is not rounded to whole dots.
type sized struct {
	*vgimg.Canvas
	width, height vg.Length
}

func (s sized) Size() (width, height vg.Length) { return s.width, s.height }

// shadeAt is how light a dot is, of 255.
func shadeAt(in image.Image, x, y int) int {
	r, g, b, _ := in.At(x, y).RGBA()
	return int(r>>8+g>>8+b>>8) / 3
}
