package picture

import (
	"fmt"
	"image"
	"image/color"
	"slices"

	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"
)

// placed is the name of an item in its area.
type placed struct {
	item int
	text string
	box  vg.Rectangle
}

const nothing = "nothing passes"

func (m *Map) nameOf(item int) string {
	if item < 0 {
		return nothing
	}
	return m.Items[item]
}

// placeNames finds room for the names of the items in their areas, two each at
// most. Items that get none go to the legend.
func (l *layout) placeNames(room *room) (names []placed, unnamed []int) {
	count := map[int]int{}
	for _, p := range room.parts() {
		const smallest = 40 // cells, into which nothing fits
		if count[p.owner] == 2 || p.size < smallest {
			continue
		}
		text := labelPen.shorten(l.m.nameOf(p.owner), 170)
		size := vg.Point{X: labelPen.width(text) + 8, Y: labelPen.size + 5}
		if box, ok := room.within(p, size); ok {
			names = append(names, placed{p.owner, text, box})
			room.take(box)
			count[p.owner]++
		}
	}
	for _, w := range present(l.m.Winner) {
		if count[w] == 0 {
			unnamed = append(unnamed, w)
		}
	}
	return names, unnamed
}

// present are the items that win somewhere in rising order, with -1 last.
func present(winner []int) []int {
	seen := map[int]bool{}
	for _, w := range winner {
		seen[w] = true
	}
	var list []int
	for w := range seen {
		if w >= 0 {
			list = append(list, w)
		}
	}
	slices.Sort(list)
	if seen[-1] {
		list = append(list, -1)
	}
	return list
}

// name writes a name into its area, on plain ground, so that neither hatching nor
// contour lines run through it.
func (l *layout) name(n placed, styles []look) {
	if n.item < 0 {
		boxed(l.Canvas, labelPen.in(dark), n.box, white, n.text)
		return
	}
	s := styles[n.item]
	boxed(l.Canvas, labelPen.in(s.text()), n.box, s.fill, n.text)
}

// colors are the colours of images: of nothing, then of each hue that of its
// area and that of its hatching.
var colors = func() color.Palette {
	p := color.Palette{white, pale}
	for i := range fills {
		p = append(p, fills[i], mixed(fills[i], lookOf(i).text(), 0.6))
	}
	return p
}()

// image is who has each pixel as an image.
func (o owners) image(styles []look) image.Image {
	img := image.NewPaletted(image.Rect(0, 0, o.width, o.height), colors)
	for y := range o.height {
		for x := range o.width {
			at := 0
			if item := o.of[y*o.width+x]; item >= 0 {
				at = 2 + 2*styles[item].hue
				if styles[item].hatching.at(x, y) {
					at++
				}
			} else if rising.at(x, y) {
				at = 1
			}
			img.Pix[y*img.Stride+x] = uint8(at)
		}
	}
	return img
}

// legendWidth is how wide a legend of items is.
func (m *Map) legendWidth(items []int) vg.Length {
	var names []string
	for _, item := range items {
		names = append(names, m.nameOf(item))
	}
	return nameWidth(names) + 40
}

// legend names the items that have no name in their areas, right of the map.
func (l *layout) legend(styles []look, right vg.Length) {
	const line = vg.Length(18)
	most := int((l.Max.Y - l.Min.Y) / line)
	x, y := l.Max.X+14, l.Max.Y-line/2
	for i, item := range l.unnamed {
		if i == most-1 && len(l.unnamed) > most {
			tickPen.write(l.Canvas, x, y, 0, fmt.Sprintf("and %d more", len(l.unnamed)-i))
			return
		}
		size := vg.Point{X: 18, Y: 12}
		box := vg.Rectangle{Min: vg.Point{X: x, Y: y - size.Y/2}, Max: vg.Point{X: x + size.X, Y: y + size.Y/2}}
		o := owners{width: int(size.X) * resolution, height: int(size.Y) * resolution}
		o.of = slices.Repeat([]int{item}, o.width*o.height)
		l.DrawImage(box, o.image(styles))
		outlineBox(l.Canvas, box)
		labelPen.write(l.Canvas, box.Max.X+6, y, 0, labelPen.shorten(l.m.nameOf(item), right-box.Max.X-6))
		y -= line
	}
}

// outlineBox draws the edge of a box.
func outlineBox(c draw.Canvas, r vg.Rectangle) {
	c.StrokeLines(draw.LineStyle{Color: dark, Width: 0.5}, []vg.Point{r.Min, {X: r.Max.X, Y: r.Min.Y}, r.Max, {X: r.Min.X, Y: r.Max.Y}, r.Min})
}
