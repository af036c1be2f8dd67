package picture

import (
	"image/color"
	"math"
	"slices"
	"strings"
	"testing"

	"gonum.org/v1/plot/vg"
)

// luminance is the relative luminance of a colour (IEC 61966-2-1).
func luminance(c color.NRGBA) float64 {
	linear := func(v uint8) float64 {
		s := float64(v) / 255
		if s <= 0.04045 {
			return s / 12.92
		}
		return math.Pow((s+0.055)/1.055, 2.4)
	}
	return 0.2126*linear(c.R) + 0.7152*linear(c.G) + 0.0722*linear(c.B)
}

// lightness is L* of CIE 1976, from 0 to 100.
func lightness(c color.NRGBA) float64 { return 116*math.Cbrt(luminance(c)) - 16 }

// TestGrey: the colours of areas stay apart in grey, and texts on them have the
// contrast that WCAG 2.1 asks for, 4.5 to 1 (criterion 1.4.3).
func TestGrey(t *testing.T) {
	for i, a := range fills {
		for k, b := range fills[:i] {
			least := 6.0
			if i < 4 {
				least = 7
			}
			if d := math.Abs(lightness(a) - lightness(b)); d < least {
				t.Errorf("colours %d and %d differ by %.1f in lightness", k, i, d)
			}
		}
		l := lookOf(i)
		light, dark := luminance(l.text()), luminance(l.fill)
		if light < dark {
			light, dark = dark, light
		}
		if contrast := (light + 0.05) / (dark + 0.05); contrast < 4.5 {
			t.Errorf("text on colour %d has a contrast of %.1f", i, contrast)
		}
	}
	seen := map[[2]int]bool{}
	for i := range looks {
		l := lookOf(i)
		at := [2]int{l.hue, int(l.hatching)}
		if seen[at] {
			t.Errorf("item %d looks like another", i)
		}
		seen[at] = true
	}
}

// TestHatchings: each hatching covers part of an area, and no two are alike.
func TestHatchings(t *testing.T) {
	images := map[string]bool{}
	for h := range hatchings {
		var b strings.Builder
		for y := range 28 {
			for x := range 28 {
				b.WriteByte("01"[map[bool]int{true: 1}[h.at(x, y)]])
			}
		}
		if n := strings.Count(b.String(), "1"); (n == 0) != (h == noHatching) || n > 28*28/3 {
			t.Errorf("hatching %d covers %d of %d pixels", h, n, 28*28)
		}
		images[b.String()] = true
	}
	if len(images) != int(hatchings) {
		t.Error("two hatchings are alike")
	}
}

func TestSteps(t *testing.T) {
	for _, c := range []struct {
		min, max float64
		most     int
		want     string
	}{
		{0, 10, 5, "0 2 4 6 8 10"}, {500, 1500, 5, "600 800 1,000 1,200 1,400"}, {0.3, 0.5, 4, "0.30 0.35 0.40 0.45 0.50"},
		{-1, 1, 4, "-1.0 -0.5 0.0 0.5 1.0"}, {1e6, 3e6, 2, "1,000,000 2,000,000 3,000,000"}, {1e-9, 3e-9, 3, "1e-9 2e-9 3e-9"},
		{-1e18, 1e18, 2, "-1e18 0 1e18"},
	} {
		values, decimals := scale{min: c.min, max: c.max}.steps(c.most)
		var got []string
		for _, v := range values {
			got = append(got, format(v, decimals))
		}
		if s := strings.Join(got, " "); s != c.want {
			t.Errorf("%v to %v: %s, want %s", c.min, c.max, s, c.want)
		}
	}
}

func TestWidened(t *testing.T) {
	for _, c := range [][]float64{{}, {0}, {5}, {-5, -5}, {1e300}, {math.NaN()}, {3, 3 * (1 + 1e-12)}} {
		s := scale{min: math.Inf(1), max: math.Inf(-1)}
		s.include(c...)
		if s = s.widened(); !(s.max > s.min) || math.IsInf(s.max-s.min, 0) {
			t.Errorf("%v: %v to %v", c, s.min, s.max)
		}
	}
}

// TestFit: with the room that is made for them, tags end within the width.
func TestFit(t *testing.T) {
	tags := []tag{{at: 1, width: 120}, {at: 0, width: 90, left: true}, {at: 0.9, width: 150}}
	s := scale{min: 0, max: 1}.fit(400, tags)
	for _, g := range tags {
		x := float64(400) * (g.at - s.min) / (s.max - s.min)
		end := x + float64(g.width)
		if g.left {
			end = x - float64(g.width)
		}
		if end < -0.5 || end > 400.5 {
			t.Errorf("the tag at %v ends at %.1f of 400", g.at, end)
		}
	}
}

func TestWords(t *testing.T) {
	for in, want := range map[string]string{
		"a\tb\nc": "a b c", " a ": "a", "\xffa": "\ufffda", "\u202eabc": "abc", "\x00\x1b[31m": "[31m", "電池 é": "電池 é", "\ufffe": "",
	} {
		if got := clean(in); got != want {
			t.Errorf("%q becomes %q, want %q", in, got, want)
		}
	}
	long := strings.Repeat("word ", 50)
	if s := labelPen.shorten(long, 100); labelPen.width(s) > 100 || !strings.HasSuffix(s, "…") || labelPen.width(s) < 80 {
		t.Errorf("%q is %v wide", s, labelPen.width(s))
	}
	if s := labelPen.shorten("short", 100); s != "short" {
		t.Error(s)
	}
	lines := labelPen.wrap(long, 100, 3)
	if len(lines) != 3 || !strings.HasSuffix(lines[2], "…") || strings.Contains(lines[0]+lines[1], "…") {
		t.Errorf("%q", lines)
	}
	if lines := labelPen.wrap("", 100, 3); lines != nil {
		t.Errorf("%q", lines)
	}
}

func TestChance(t *testing.T) {
	for p, want := range map[float64]string{
		0: "in no case", 0.004: "in fewer than 1 of 100", 0.01: "in 1 of 100 cases", 0.615: "in 62 of 100 cases",
		0.99: "in 99 of 100 cases", 0.995: "in more than 99 of 100", 1: "in every case",
	} {
		if got := chance(p); got != want {
			t.Errorf("%v: %q, want %q", p, got, want)
		}
	}
}

func TestApart(t *testing.T) {
	for _, ys := range [][]vg.Length{{5, 5, 5, 5}, {0, 1, 99, 100}, {50, 51, 52, 90}, {100, 100}, {7}, {}, slices.Repeat([]vg.Length{3}, 40)} {
		apart(ys, 10, 0, 100)
		gap := min(10, 100/vg.Length(max(1, len(ys)-1)))
		for i, y := range ys {
			if y < -0.1 || y > 100.1 || i > 0 && y-ys[i-1] < gap-0.1 {
				t.Errorf("%v", ys)
				break
			}
		}
	}
}

// TestReach: the largest move is on top, and an input without a result last.
func TestReach(t *testing.T) {
	nan := math.NaN()
	e := Effects{Base: 10, Inputs: []Effect{
		{Input: "none", Low: End{Result: nan}, High: End{Result: nan}},
		{Input: "small", Low: End{Result: 9}, High: End{Result: 11}},
		{Input: "one side", Low: End{Result: 12}, High: End{Result: 13}},
		{Input: "half", Low: End{Result: nan}, High: End{Result: 15}},
	}}
	got := texts(t, e)
	last := -1
	for _, name := range []string{"half", "one side", "small", "none"} {
		at := strings.Index(got, "\n"+name+"\n")
		if at < last {
			t.Errorf("%s stands too high in\n%s", name, got)
		}
		last = at
	}
}

// seen is a colour in linear light as somebody sees it: whose eyes lack nothing, or the
// medium or the long wavelengths (Machado, Oliveira and Fernandes, 2009, full severity;
// matrices from memory).
func seen(c color.NRGBA, eyes [9]float64) (out [3]float64) {
	var in [3]float64
	for i, v := range []uint8{c.R, c.G, c.B} {
		in[i] = float64(v) / 255
		if in[i] <= 0.04045 {
			in[i] /= 12.92
		} else {
			in[i] = math.Pow((in[i]+0.055)/1.055, 2.4)
		}
	}
	for i := range out {
		out[i] = max(0, min(1, eyes[3*i]*in[0]+eyes[3*i+1]*in[1]+eyes[3*i+2]*in[2]))
	}
	return out
}

// lab is a colour of linear light as CIE L*a*b* of 1976, under D65.
func lab(c [3]float64) (out [3]float64) {
	f := func(x float64) float64 {
		if x > 0.008856 {
			return math.Cbrt(x)
		}
		return 7.787*x + 16.0/116
	}
	x := f((0.4124*c[0] + 0.3576*c[1] + 0.1805*c[2]) / 0.9505)
	y := f(0.2126*c[0] + 0.7152*c[1] + 0.0722*c[2])
	z := f((0.0193*c[0] + 0.1192*c[1] + 0.9505*c[2]) / 1.089)
	return [3]float64{116*y - 16, 500 * (x - y), 200 * (y - z)}
}

// TestShades: what is no item has colours that no item has, whoever looks; those that
// touch differ in grey as well.
func TestShades(t *testing.T) {
	eyes := map[string][9]float64{
		"all":          {1, 0, 0, 0, 1, 0, 0, 0, 1},
		"deuteranopia": {0.367322, 0.860646, -0.227968, 0.280085, 0.672501, 0.047413, -0.011820, 0.042940, 0.968881},
		"protanopia":   {0.152286, 1.052583, -0.204868, 0.114503, 0.786281, 0.099216, -0.003882, -0.048116, 1.051998},
	}
	apart := func(a, b color.NRGBA, eyes [9]float64) float64 {
		x, y := lab(seen(a, eyes)), lab(seen(b, eyes))
		return math.Sqrt((x[0]-y[0])*(x[0]-y[0]) + (x[1]-y[1])*(x[1]-y[1]) + (x[2]-y[2])*(x[2]-y[2]))
	}
	for i, a := range shades {
		for n, b := range fills {
			for who, e := range eyes {
				least := 10.0
				if who == "all" {
					least = 20
				}
				if d := apart(a, b, e); d < least {
					t.Errorf("%s: shade %d and the colour of item %d differ by %.0f", who, i, n, d)
				}
			}
		}
		for k, b := range shades[:i] {
			for who, e := range eyes {
				if d := apart(a, b, e); d < 10 {
					t.Errorf("%s: shades %d and %d differ by %.0f", who, k, i, d)
				}
			}
		}
		if next := shades[(i+1)%len(shades)]; math.Abs(lightness(a)-lightness(next)) < 25 {
			t.Errorf("shades %d and %d differ by %.0f in lightness", i, i+1, math.Abs(lightness(a)-lightness(next)))
		}
	}
}

// TestLine: as many items as there are dashes differ in them, and twice as many in dash,
// mark or colour.
func TestLine(t *testing.T) {
	known := map[[3]any]bool{}
	for item := range 5 * Dashes {
		ink, dash, mark := Line(item)
		if key := [3]any{ink, dash, mark}; known[key] {
			t.Errorf("item %d is drawn as another", item)
		} else {
			known[key] = true
		}
		if item < Hues && ink != hex(inks[item]) {
			t.Errorf("item %d is drawn in %s", item, ink)
		}
	}
}
