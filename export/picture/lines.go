package picture

import (
	"math"
	"slices"

	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"
)

// segment is a piece of a line. Pieces whose ends have the same key hang
// together.
type segment struct {
	from, to   int
	start, end vg.Point
}

// chain joins segments to lines and leaves out points that a line does not need.
// Lines end where other than two pieces meet.
func chain(list []segment) [][]vg.Point {
	at := map[int][]int{}
	for i, s := range list {
		at[s.from] = append(at[s.from], i)
		at[s.to] = append(at[s.to], i)
	}
	used := make([]bool, len(list))
	follow := func(i, key int) []vg.Point {
		var line []vg.Point
		for {
			used[i] = true
			s := list[i]
			if s.from != key {
				s.from, s.to, s.start, s.end = s.to, s.from, s.end, s.start
			}
			if line == nil {
				line = append(line, s.start)
			}
			line, key = append(line, s.end), s.to
			next := slices.IndexFunc(at[key], func(k int) bool { return !used[k] })
			if len(at[key]) != 2 || next < 0 {
				return simplified(line)
			}
			i = at[key][next]
		}
	}
	var lines [][]vg.Point
	for i, s := range list { // open lines first, from their ends
		for _, key := range []int{s.from, s.to} {
			if len(at[key]) != 2 && !used[i] {
				lines = append(lines, follow(i, key))
			}
		}
	}
	for i, s := range list {
		if !used[i] {
			lines = append(lines, follow(i, s.from))
		}
	}
	return lines
}

// simplified is a line without the points that lie within a tenth of a point of
// it (Douglas and Peucker, 1973).
func simplified(line []vg.Point) []vg.Point {
	if len(line) < 3 {
		return line
	}
	keep := make([]bool, len(line))
	keep[0], keep[len(line)-1] = true, true
	parts := [][2]int{{0, len(line) - 1}}
	for len(parts) > 0 {
		p := parts[len(parts)-1]
		parts = parts[:len(parts)-1]
		worst, far := 0, 0.1
		for i := p[0] + 1; i < p[1]; i++ {
			if d := distance(line[i], line[p[0]], line[p[1]]); d > far {
				worst, far = i, d
			}
		}
		if worst > 0 {
			keep[worst] = true
			parts = append(parts, [2]int{p[0], worst}, [2]int{worst, p[1]})
		}
	}
	var out []vg.Point
	for i, p := range line {
		if keep[i] {
			out = append(out, p)
		}
	}
	return out
}

// distance is how far a point is from a piece of a line.
func distance(p, a, b vg.Point) float64 {
	dx, dy := float64(b.X-a.X), float64(b.Y-a.Y)
	px, py := float64(p.X-a.X), float64(p.Y-a.Y)
	t := 0.0
	if l := dx*dx + dy*dy; l > 0 {
		t = math.Max(0, math.Min(1, (px*dx+py*dy)/l))
	}
	return math.Hypot(px-t*dx, py-t*dy)
}

// Keys of the ends of segments in a net: its sides and its centres.
func (g *grid) key(i, j, what int) int { return (j*len(g.x)+i)*3 + what }

func (g *grid) sideKey(i, j, side int) int {
	switch side {
	case 0:
		return g.key(i, j, 0)
	case 1:
		return g.key(i+1, j, 1)
	case 2:
		return g.key(i, j+1, 0)
	}
	return g.key(i, j, 1)
}

// mostSegments is how many pieces of borders or of contour lines are drawn. A map
// that has more is a patchwork in which lines would hide the areas, and its file
// would be large.
const mostSegments = 60_000

// borders draws the lines between areas: thick between two that win, thin
// against where nothing passes.
func (l *layout) borders() {
	var between, against []segment
	for j := range len(l.g.y) - 1 {
		for i := range len(l.g.x) - 1 {
			q := l.g.mesh(i, j)
			if !q.mixed {
				continue
			}
			for k := range 4 {
				if !q.cut[k] {
					continue
				}
				s := segment{l.g.sideKey(i, j, k), l.g.key(i, j, 2), l.place(i, j, q.side[k]), l.place(i, j, q.centre)}
				if q.owner[k] < 0 || q.owner[(k+1)%4] < 0 {
					against = append(against, s)
				} else {
					between = append(between, s)
				}
			}
		}
		if len(between)+len(against) > mostSegments {
			return
		}
	}
	l.StrokeLines(draw.LineStyle{Color: dark, Width: 0.6}, chain(against)...)
	l.StrokeLines(draw.LineStyle{Color: black, Width: 1.5}, chain(between)...)
}

// contour is a line of equal figures and its label, if there is room for it.
type contour struct {
	lines [][]vg.Point
	label string
	boxes []vg.Rectangle
}

// findContours finds the contour lines of the best's figure, and takes the room
// of their labels.
func (l *layout) findContours(room *room) []contour {
	s := scale{min: math.Inf(1), max: math.Inf(-1)}
	s.include(l.m.Best...)
	if !(s.max > s.min) {
		return nil
	}
	levels, decimals := s.steps(6)
	var list []contour
	pieces := 0
	for _, level := range levels {
		segments := l.level(level)
		if pieces += len(segments); pieces > mostSegments/2 {
			return nil
		}
		k := contour{label: format(level, decimals), lines: chain(segments)}
		size := vg.Point{X: smallPen.width(k.label) + 4, Y: smallPen.size + 1}
		for _, line := range k.lines {
			if box, ok := room.along(line, size); ok {
				k.boxes = append(k.boxes, box)
			}
		}
		list = append(list, k)
	}
	return list
}

// level are the pieces of the contour line of a figure. Of a fine net only so
// many nodes are looked at as a line needs.
func (l *layout) level(figure float64) []segment {
	xs, ys := thinned(len(l.g.x)), thinned(len(l.g.y))
	var list []segment
	for b := range len(ys) - 1 {
		for a := range len(xs) - 1 {
			i, j, i2, j2 := xs[a], ys[b], xs[a+1], ys[b+1]
			v := [4]float64{l.m.Best[l.g.point(i, j)], l.m.Best[l.g.point(i2, j)], l.m.Best[l.g.point(i2, j2)], l.m.Best[l.g.point(i, j2)]}
			corner := [4]vg.Point{l.node(i, j), l.node(i2, j), l.node(i2, j2), l.node(i, j2)}
			keys := [4]int{l.g.key(i, j, 0), l.g.key(i2, j, 1), l.g.key(i, j2, 0), l.g.key(i, j, 1)}
			list = appendLevel(list, figure, v, corner, keys)
		}
	}
	return list
}

// appendLevel adds the pieces of a contour line in one mesh (marching squares).
func appendLevel(list []segment, figure float64, v [4]float64, corner [4]vg.Point, keys [4]int) []segment {
	if unknown := v[0] + v[1] + v[2] + v[3]; math.IsNaN(unknown) || math.IsInf(unknown, 0) {
		return list
	}
	var sides []int
	var spots [4]vg.Point
	for k := range 4 {
		a, b := v[k], v[(k+1)%4]
		if (a >= figure) != (b >= figure) {
			t := vg.Length((figure - a) / (b - a))
			spots[k] = corner[k].Add(corner[(k+1)%4].Sub(corner[k]).Scale(t))
			sides = append(sides, k)
		}
	}
	if len(sides) == 4 && (v[0] >= figure) == ((v[0]+v[1]+v[2]+v[3])/4 >= figure) {
		sides = []int{0, 1, 2, 3} // round the corners 1 and 3
	} else if len(sides) == 4 {
		sides = []int{3, 0, 1, 2}
	}
	for n := 0; n+1 < len(sides); n += 2 {
		a, b := sides[n], sides[n+1]
		list = append(list, segment{keys[a], keys[b], spots[a], spots[b]})
	}
	return list
}

func (l *layout) node(i, j int) vg.Point {
	return vg.Point{X: l.x(l.g.x[i].at), Y: l.y(l.g.y[j].at)}
}

// thinned are indices from 0 to n-1, both among them, some 200 at most.
func thinned(n int) []int {
	step := max(1, (n+199)/200)
	var list []int
	for i := 0; i < n-1; i += step {
		list = append(list, i)
	}
	return append(list, n-1)
}

// contour draws a contour line, interrupted by its labels.
func (l *layout) contour(k contour) {
	l.StrokeLines(draw.LineStyle{Color: black, Width: 0.6}, k.lines...)
	for _, box := range k.boxes {
		boxed(l.Canvas, smallPen, box, white, k.label)
	}
}
