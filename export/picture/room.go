package picture

import (
	"cmp"
	"image"
	"slices"

	"gonum.org/v1/plot/vg"
)

// room is who has each cell of a coarse raster over a map, and which cells have
// been taken by texts.
type room struct {
	bounds        vg.Rectangle
	width, height int
	owner         []int // rows from below
	taken         []bool
}

// cell is the side of a cell, in points.
const cell = vg.Length(2)

func newRoom(bounds vg.Rectangle, o owners) *room {
	step := int(cell * resolution)
	r := &room{bounds: bounds, width: o.width / step, height: o.height / step}
	r.taken = make([]bool, r.width*r.height)
	for y := range r.height {
		for x := range r.width {
			r.owner = append(r.owner, o.of[(o.height-1-y*step-step/2)*o.width+x*step+step/2])
		}
	}
	return r
}

// cells are the cells that a box touches.
func (r *room) cells(box vg.Rectangle) image.Rectangle {
	at := func(v vg.Length) int { return int(v / cell) }
	return image.Rect(at(box.Min.X-r.bounds.Min.X), at(box.Min.Y-r.bounds.Min.Y),
		at(box.Max.X-r.bounds.Min.X)+1, at(box.Max.Y-r.bounds.Min.Y)+1)
}

func (r *room) take(box vg.Rectangle) {
	c := r.cells(box).Intersect(image.Rect(0, 0, r.width, r.height))
	for y := c.Min.Y; y < c.Max.Y; y++ {
		for x := c.Min.X; x < c.Max.X; x++ {
			r.taken[y*r.width+x] = true
		}
	}
}

// free reports whether a box is within the map and touches no text.
func (r *room) free(box vg.Rectangle) bool {
	c := r.cells(box)
	if !c.In(image.Rect(0, 0, r.width, r.height)) {
		return false
	}
	for y := c.Min.Y; y < c.Max.Y; y++ {
		if slices.Contains(r.taken[y*r.width+c.Min.X:y*r.width+c.Max.X], true) {
			return false
		}
	}
	return true
}

// along finds room for a label on a line, as near its middle as can be. A short
// line gets none.
func (r *room) along(line []vg.Point, size vg.Point) (vg.Rectangle, bool) {
	length := vg.Length(0)
	var spots []vg.Point
	var from []vg.Length
	for i := 1; i < len(line); i++ {
		piece := line[i].Sub(line[i-1])
		l := vg.Length(distance(line[i], line[i-1], line[i-1]))
		for k := vg.Length(0); k < l; k += 4 {
			spots = append(spots, line[i-1].Add(piece.Scale(k/l)))
			from = append(from, length+k)
		}
		length += l
	}
	if length < 3*size.X {
		return vg.Rectangle{}, false
	}
	for n := range spots {
		k := len(spots)/2 + (n+1)/2*(1-n%2*2)
		if k < 0 || k >= len(spots) || from[k] < size.X || length-from[k] < size.X {
			continue
		}
		box := vg.Rectangle{Min: spots[k].Sub(size.Scale(0.5)), Max: spots[k].Add(size.Scale(0.5))}
		if r.free(grow(box, 2)) {
			r.take(box)
			return box, true
		}
	}
	return vg.Rectangle{}, false
}

// part is a connected area of one owner.
type part struct {
	owner, size int
	cells       []int
}

// parts are the connected areas, the largest first.
func (r *room) parts() []part {
	seen := make([]bool, len(r.owner))
	var list []part
	for start := range r.owner {
		if seen[start] {
			continue
		}
		p := part{owner: r.owner[start], cells: []int{start}}
		seen[start] = true
		for k := 0; k < len(p.cells); k++ {
			c := p.cells[k]
			x := c % r.width
			for _, next := range []struct {
				at int
				ok bool
			}{{c - 1, x > 0}, {c + 1, x < r.width-1}, {c - r.width, c >= r.width}, {c + r.width, c+r.width < len(r.owner)}} {
				if next.ok && !seen[next.at] && r.owner[next.at] == p.owner {
					seen[next.at] = true
					p.cells = append(p.cells, next.at)
				}
			}
		}
		p.size = len(p.cells)
		list = append(list, p)
	}
	slices.SortStableFunc(list, func(a, b part) int { return cmp.Compare(b.size, a.size) })
	return list
}

// within finds room for a box of a size in an area: where it could be largest,
// so that it stands in the widest place.
func (r *room) within(p part, size vg.Point) (vg.Rectangle, bool) {
	// sums[y][x] is how many cells are free below and left of a corner.
	stride := r.width + 1
	sums := make([]int, stride*(r.height+1))
	inside := make([]bool, len(r.owner))
	for _, c := range p.cells {
		inside[c] = !r.taken[c]
	}
	for y := range r.height {
		row := 0
		for x := range r.width {
			if inside[y*r.width+x] {
				row++
			}
			sums[(y+1)*stride+x+1] = sums[y*stride+x+1] + row
		}
	}
	for factor := vg.Length(6); factor >= 0.99; factor *= 0.85 {
		w, h := int(size.X*factor/cell)+1, int(size.Y*factor/cell)+1
		var found []image.Point
		for y := 0; y+h <= r.height; y++ {
			for x := 0; x+w <= r.width; x++ {
				if sums[(y+h)*stride+x+w]-sums[y*stride+x+w]-sums[(y+h)*stride+x]+sums[y*stride+x] == w*h {
					found = append(found, image.Pt(2*x+w, 2*y+h)) // twice the middle
				}
			}
		}
		if len(found) > 0 {
			m := middling(found)
			middle := r.bounds.Min.Add(vg.Point{X: vg.Length(m.X) * cell / 2, Y: vg.Length(m.Y) * cell / 2})
			return vg.Rectangle{Min: middle.Sub(size.Scale(0.5)), Max: middle.Add(size.Scale(0.5))}, true
		}
	}
	return vg.Rectangle{}, false
}

// middling is the point next to the mean of all.
func middling(list []image.Point) image.Point {
	var sum image.Point
	for _, p := range list {
		sum = sum.Add(p)
	}
	mean := sum.Div(len(list))
	return slices.MinFunc(list, func(a, b image.Point) int {
		d := func(p image.Point) int { q := p.Sub(mean); return q.X*q.X + q.Y*q.Y }
		return cmp.Compare(d(a), d(b))
	})
}
