package picture

import (
	"math"
	"slices"
	"sort"

	"gonum.org/v1/plot/vg"
)

// grid is the map's points as nodes of a net, in rising order along both axes.
// An axis of names has two nodes for each, at the edges of its band, and so has
// an axis of one number: a mesh of the net that lies between two bands has no
// width.
type grid struct {
	m              *Map
	x, y           []node
	xScale, yScale scale
}

// node is where a point of an axis stands.
type node struct {
	at    float64
	point int
}

func newGrid(m *Map) *grid {
	g := &grid{m: m, xScale: scaleOf(m.X), yScale: scaleOf(m.Y)}
	g.x, g.y = nodes(m.X, g.xScale), nodes(m.Y, g.yScale)
	return g
}

func nodes(a Axis, s scale) []node {
	var list []node
	for i := range a.Names {
		list = append(list, node{float64(i) - 0.5, i}, node{float64(i) + 0.5, i})
	}
	for i, v := range a.Values {
		list = append(list, node{v, i})
	}
	slices.SortStableFunc(list, func(a, b node) int {
		switch {
		case a.at < b.at:
			return -1
		case a.at > b.at:
			return 1
		}
		return 0
	})
	if list[0].at == list[len(list)-1].at {
		list = []node{{s.min, list[0].point}, {s.max, list[0].point}}
	}
	return list
}

// winner is who wins at a node.
func (g *grid) winner(i, j int) int { return g.m.Winner[g.point(i, j)] }

func (g *grid) point(i, j int) int { return g.y[j].point*g.m.X.Len() + g.x[i].point }

// spot is a place in a mesh, from 0 to 1 along both sides.
type spot struct{ u, v float64 }

// mesh is how a mesh of the net is shared out: from a centre, lines run to a spot on
// each side, and a corner's winner has what lies between the two beside it.
// Corners and sides go round from the lower left and the lower one.
type mesh struct {
	owner  [4]int
	cut    [4]bool // sides whose ends have different winners
	side   [4]spot
	centre spot
	mixed  bool
}

// mesh shares out the mesh whose lower left node is (i, j).
func (g *grid) mesh(i, j int) mesh {
	q := mesh{owner: [4]int{g.winner(i, j), g.winner(i+1, j), g.winner(i+1, j+1), g.winner(i, j+1)}}
	w := q.owner
	q.mixed = w[0] != w[1] || w[1] != w[2] || w[2] != w[3]
	if !q.mixed {
		return q
	}
	// A side is followed from its lower or left node, so that the meshes on both
	// sides of it find the same spot.
	at := [4]float64{
		g.meet(w[0], w[1], g.point(i, j), g.point(i+1, j)),
		g.meet(w[1], w[2], g.point(i+1, j), g.point(i+1, j+1)),
		g.meet(w[3], w[2], g.point(i, j+1), g.point(i+1, j+1)),
		g.meet(w[0], w[3], g.point(i, j), g.point(i, j+1)),
	}
	q.side = [4]spot{{at[0], 0}, {1, at[1]}, {at[2], 1}, {0, at[3]}}
	n := 0.0
	for k := range q.side {
		q.cut[k] = w[k] != w[(k+1)%4]
		if q.cut[k] {
			q.centre.u, q.centre.v, n = q.centre.u+q.side[k].u, q.centre.v+q.side[k].v, n+1
		}
	}
	q.centre.u, q.centre.v = q.centre.u/n, q.centre.v/n
	return q
}

// meet is where between two points their winners are equal: by linear
// interpolation of the lead, half-way where that is not known.
func (g *grid) meet(a, b, from, to int) float64 {
	if a == b || a < 0 || b < 0 || g.m.Lead == nil {
		return 0.5
	}
	before, after := g.m.Lead(a, b, from), g.m.Lead(a, b, to)
	t := before / (before - after)
	if !(before >= 0 && after <= 0) || math.IsNaN(t) {
		return 0.5
	}
	return math.Max(0.01, math.Min(0.99, t))
}

// at is who has a spot of a mesh.
func (q *mesh) at(s spot) int {
	if !q.mixed {
		return q.owner[0]
	}
	p := spot{s.u - q.centre.u, s.v - q.centre.v}
	for k := range 4 {
		a, b := q.side[(k+3)%4], q.side[k]
		a, b = spot{a.u - q.centre.u, a.v - q.centre.v}, spot{b.u - q.centre.u, b.v - q.centre.v}
		if turn(a, b) >= 0 {
			if turn(a, p) >= 0 && turn(p, b) >= 0 {
				return q.owner[k]
			}
		} else if !(turn(b, p) > 0 && turn(p, a) > 0) {
			return q.owner[k]
		}
	}
	return q.owner[0]
}

// turn is above zero where b lies to the left of a.
func turn(a, b spot) float64 { return a.u*b.v - a.v*b.u }

// owners is who has each pixel of a map, rows from the top.
type owners struct {
	width, height int
	of            []int
}

// resolution is how many pixels of an area's image a point has.
const resolution = 2

// own finds who has each pixel.
func (l *layout) own() owners {
	size := l.Rectangle.Size()
	o := owners{width: int(size.X * resolution), height: int(size.Y * resolution)}
	o.of = make([]int, o.width*o.height)
	columns, us := pixels(l.g.x, o.width)
	rows, vs := pixels(l.g.y, o.height)
	for y := range o.height {
		j, v := rows[o.height-1-y], vs[o.height-1-y]
		last, q := -1, mesh{}
		for x := range o.width {
			if columns[x] != last {
				last = columns[x]
				q = l.g.mesh(last, j)
			}
			o.of[y*o.width+x] = q.at(spot{us[x], v})
		}
	}
	return o
}

// pixels are, for the middle of each of n pixels along an axis, the mesh that it
// lies in and how far.
func pixels(list []node, n int) (meshes []int, within []float64) {
	low, high := list[0].at, list[len(list)-1].at
	for k := range n {
		at := low + (high-low)*(float64(k)+0.5)/float64(n)
		i := sort.Search(len(list), func(i int) bool { return list[i].at > at }) - 1
		i = max(0, min(i, len(list)-2))
		meshes = append(meshes, i)
		within = append(within, (at-list[i].at)/(list[i+1].at-list[i].at))
	}
	return meshes, within
}

// place is where a spot of a mesh stands in the picture.
func (l *layout) place(i, j int, s spot) vg.Point {
	x, y := l.g.x, l.g.y
	return vg.Point{
		X: l.x(x[i].at + s.u*(x[i+1].at-x[i].at)),
		Y: l.y(y[j].at + s.v*(y[j+1].at-y[j].at)),
	}
}
