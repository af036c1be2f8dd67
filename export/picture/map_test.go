package picture

import (
	"image"
	"math"
	"slices"
	"testing"

	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"
	"gonum.org/v1/plot/vg/vgimg"
)

// laid is a map that is laid out on a canvas of its size.
func laid(t *testing.T, m Map) *layout {
	t.Helper()
	if err := m.check(); err != nil {
		t.Fatal(err)
	}
	return m.lay(newGrid(&m), draw.New(vgimg.New(pictureWidth, mapHeight)))
}

// square is a map from 0 to 1 along both axes with figures of the items: the
// lowest wins, and nothing passes where all are NaN.
func square(x, y Axis, figures ...func(x, y float64) float64) Map {
	m := Map{X: x, Y: y, Items: itemNames(len(figures))}
	at := func(a Axis, i int) float64 { return float64(i) / float64(max(1, a.Len()-1)) }
	figure := func(item, point int) float64 {
		return figures[item](at(x, point%x.Len()), at(y, point/x.Len()))
	}
	for p := range x.Len() * y.Len() {
		best := -1
		for i := range figures {
			if v := figure(i, p); !math.IsNaN(v) && (best < 0 || v < figure(best, p)) {
				best = i
			}
		}
		m.Winner = append(m.Winner, best)
	}
	m.Lead = func(item, other, point int) float64 { return figure(other, point) - figure(item, point) }
	return m
}

func unitAxis(n int) Axis { return Axis{Values: steps(0, 1, n)} }

// TestAreas: areas end where the figures are equal, to a pixel, however few
// points there are; the figures are linear here, as is the interpolation.
func TestAreas(t *testing.T) {
	nan := math.NaN()
	plane := func(a, b, c float64) func(x, y float64) float64 {
		return func(x, y float64) float64 { return a*x + b*y + c }
	}
	for name, c := range map[string]struct {
		m    Map
		want func(x, y float64) (item int, edge float64) // and how far the next border is
	}{
		"upright": {square(unitAxis(3), unitAxis(2), plane(1, 0, 0), plane(0, 0, 0.3)),
			func(x, _ float64) (int, float64) { return side(x - 0.3) }},
		"lying": {square(unitAxis(2), unitAxis(5), plane(0, 2, 0), plane(0, 0, 0.9)),
			func(_, y float64) (int, float64) { return side(y - 0.45) }},
		"slanting": {square(unitAxis(4), unitAxis(4), plane(1, 1, 0), plane(0, 0, 1.1)),
			func(x, y float64) (int, float64) { return side(x + y - 1.1) }},
		"names": {square(Axis{Names: []string{"a", "b"}}, unitAxis(3), plane(0, 1, 0), plane(-0.5, 0, 0.7)),
			func(x, y float64) (int, float64) {
				if x > 0.5 { // the second name
					return side(y - 0.2)
				}
				return side(y - 0.7)
			}},
		"half-way to nothing": {square(unitAxis(5), unitAxis(2), func(x, _ float64) float64 {
			if x > 0.6 {
				return nan
			}
			return 1
		}), func(x, _ float64) (int, float64) { i, edge := side(x - 0.625); return -i, edge }},
		"falling values": {func() Map {
			m := square(unitAxis(3), unitAxis(2), plane(1, 0, 0), plane(0, 0, 0.3))
			m.X.Values = []float64{1, 0.5, 0}
			return m
		}(), func(x, _ float64) (int, float64) { return side(0.7 - x) }},
	} {
		l := laid(t, c.m)
		o := l.owners
		for y := range o.height {
			for x := range o.width {
				u, v := (float64(x)+0.5)/float64(o.width), 1-(float64(y)+0.5)/float64(o.height)
				want, edge := c.want(u, v)
				if got := o.of[y*o.width+x]; got != want && edge > 2/float64(o.height) && math.Abs(u-0.5) > 2/float64(o.width) {
					t.Fatalf("%s: at %.3f, %.3f item %d, not %d", name, u, v, got, want)
				}
			}
		}
	}
}

// side is the item below or above an edge, and how far the edge is.
func side(v float64) (int, float64) {
	if v > 0 {
		return 1, math.Abs(v)
	}
	return 0, math.Abs(v)
}

// TestMeet: without leads, or with leads that contradict the winners, areas meet
// half-way.
func TestMeet(t *testing.T) {
	nan := math.NaN()
	for _, c := range []struct{ before, after, want float64 }{
		{1, -3, 0.25}, {3, -1, 0.75}, {0, -1, 0.01}, {1, 0, 0.99}, {1, 2, 0.5}, {-1, 1, 0.5}, {nan, -1, 0.5}, {0, 0, 0.5}, {math.Inf(1), -1, 0.5},
	} {
		g := grid{m: &Map{Lead: func(_, _, point int) float64 { return []float64{c.before, c.after}[point] }}}
		if got := g.meet(0, 1, 0, 1); got != c.want {
			t.Errorf("%v and %v meet at %v, not %v", c.before, c.after, got, c.want)
		}
	}
}

// TestMeshes: every spot of a mesh belongs to one of its corners, each corner has
// its own surroundings, and both sides of a cut belong to the corners there.
func TestMeshes(t *testing.T) {
	for n := range 4 * 4 * 4 * 4 {
		m := Map{X: unitAxis(2), Y: unitAxis(2), Items: itemNames(4), Winner: []int{n % 4, n / 4 % 4, n / 16 % 4, n / 64}}
		m.Lead = func(item, other, point int) float64 {
			lead := float64(1+(item*7+other*7+point*3)%5) / 3
			if m.Winner[point] == item {
				return lead
			}
			return -lead
		}
		g := newGrid(&m)
		q := g.mesh(0, 0)
		corners := [4]spot{{0, 0}, {1, 0}, {1, 1}, {0, 1}}
		for k, c := range corners {
			if got := q.at(c); got != q.owner[k] {
				t.Fatalf("winners %v: corner %d belongs to %d", q.owner, k, got)
			}
		}
		for _, s := range []spot{{0.3, 0.4}, {0.9, 0.2}, {0.5, 0.51}, {0.05, 0.97}} {
			if !slices.Contains(q.owner[:], q.at(s)) {
				t.Fatalf("winners %v: %v belongs to %d", q.owner, s, q.at(s))
			}
		}
		for k, c := range q.cut {
			if !c {
				continue
			}
			a, b := corners[k], corners[(k+1)%4]
			before := spot{q.side[k].u + (a.u-q.side[k].u)*0.1, q.side[k].v + (a.v-q.side[k].v)*0.1}
			after := spot{q.side[k].u + (b.u-q.side[k].u)*0.1, q.side[k].v + (b.v-q.side[k].v)*0.1}
			if q.at(before) != q.owner[k] || q.at(after) != q.owner[(k+1)%4] {
				t.Fatalf("winners %v: side %d is cut elsewhere", q.owner, k)
			}
		}
	}
}

// TestNamesInAreas: a name stands where its item wins and nowhere else.
func TestNamesInAreas(t *testing.T) {
	for _, m := range []Map{planes(41, 31, 3, true), planes(6, 5, 4, true), planes(41, 31, 12, true), planes(41, 31, 30, true)} {
		l := laid(t, m)
		if len(l.names) < 4 {
			t.Errorf("only %d names", len(l.names))
		}
		for _, n := range l.names {
			o := l.owners
			box := image.Rect(int((n.box.Min.X-l.Min.X)*resolution)+1, o.height-int((n.box.Max.Y-l.Min.Y)*resolution)+1,
				int((n.box.Max.X-l.Min.X)*resolution)-1, o.height-int((n.box.Min.Y-l.Min.Y)*resolution)-1)
			wrong := 0
			for y := box.Min.Y; y < box.Max.Y; y++ {
				for x := box.Min.X; x < box.Max.X; x++ {
					if o.of[y*o.width+x] != n.item {
						wrong++
					}
				}
			}
			if wrong*50 > box.Dx()*box.Dy() { // the raster is two points wide
				t.Errorf("%d of %d pixels of the name %q belong to others", wrong, box.Dx()*box.Dy(), n.text)
			}
		}
	}
}

// TestLegend: an item whose area is too small for its name stands in the legend.
func TestLegend(t *testing.T) {
	m := square(unitAxis(101), unitAxis(2), func(x, _ float64) float64 { return x }, func(x, _ float64) float64 { return 0.49 },
		func(x, _ float64) float64 { return 1 - x })
	if l := laid(t, m); !slices.Equal(l.unnamed, []int{1}) {
		t.Errorf("in the legend: %v", l.unnamed)
	}
}

// TestManyItems: where there are more items than looks, those that win still
// look different from each other.
func TestManyItems(t *testing.T) {
	m := Map{X: unitAxis(2), Y: unitAxis(1), Items: itemNames(3 * looks), Winner: []int{3, 3 + looks}}
	styles := m.looksOf()
	if a, b := styles[3], styles[3+looks]; a.fill == b.fill && a.hatching == b.hatching {
		t.Error("two winners look alike")
	}
}

// TestBreakEvenLine: along a straight border the line is one straight piece.
func TestBreakEvenLine(t *testing.T) {
	var list []segment
	for i := range 100 {
		at := func(k int) vg.Point { return vg.Point{X: vg.Length(k), Y: vg.Length(3 * k)} }
		list = append(list, segment{i, i + 1, at(i), at(i + 1)})
	}
	list[40].from, list[40].to, list[40].start, list[40].end = list[40].to, list[40].from, list[40].end, list[40].start
	lines := chain(list)
	if len(lines) != 1 || len(lines[0]) != 2 || lines[0][1] != (vg.Point{X: 100, Y: 300}) {
		t.Errorf("%v", lines)
	}
	ring := []segment{{1, 2, vg.Point{}, vg.Point{X: 9}}, {2, 3, vg.Point{X: 9}, vg.Point{Y: 9}}, {3, 1, vg.Point{Y: 9}, vg.Point{}}}
	if lines := chain(ring); len(lines) != 1 || len(lines[0]) != 4 || lines[0][0] != lines[0][3] {
		t.Errorf("%v", lines)
	}
	star := []segment{{1, 2, vg.Point{}, vg.Point{X: 9}}, {1, 3, vg.Point{}, vg.Point{Y: 9}}, {1, 4, vg.Point{}, vg.Point{Y: -9}}}
	if lines := chain(star); len(lines) != 3 {
		t.Errorf("%v", lines)
	}
}

// TestContours: along a contour line the figure is that of its label.
func TestContours(t *testing.T) {
	figure := func(x, y float64) float64 { return x + 2*y }
	m := square(unitAxis(11), unitAxis(7), figure)
	for p := range m.Winner {
		m.Best = append(m.Best, figure(m.X.Values[p%11], m.Y.Values[p/11]))
	}
	l := laid(t, m)
	want := []string{"0.0", "0.5", "1.0", "1.5", "2.0", "2.5", "3.0"}
	size := l.Rectangle.Size()
	for i, k := range l.contours {
		if k.label != want[i] {
			t.Errorf("label %q, not %q", k.label, want[i])
		}
		for _, line := range k.lines {
			for _, p := range line {
				x, y := float64((p.X-l.Min.X)/size.X), float64((p.Y-l.Min.Y)/size.Y)
				if got := figure(x, y); math.Abs(got-0.5*float64(i)) > 1e-9 {
					t.Errorf("the line of %s runs through %v", k.label, got)
				}
			}
		}
	}
	if len(l.contours) != len(want) || len(l.contours[2].lines) != 1 || len(l.contours[2].boxes) != 1 {
		t.Errorf("%d lines, %+v", len(l.contours), l.contours[2])
	}
}
