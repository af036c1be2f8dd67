package picture

import (
	"fmt"
	"image/color"

	"gonum.org/v1/plot/vg"
)

var (
	white = rgb(0xffffff)
	black = rgb(0x000000)
	dark  = rgb(0x404040)
	grey  = rgb(0x8c8c8c)
	pale  = rgb(0xd9d9d9)
)

func rgb(v uint32) color.NRGBA {
	return color.NRGBA{R: uint8(v >> 16), G: uint8(v >> 8), B: uint8(v), A: 0xff}
}

// mixed is a colour with a share of another.
func mixed(a, b color.NRGBA, share float64) color.NRGBA {
	mix := func(a, b uint8) uint8 { return uint8(float64(a)*(1-share) + float64(b)*share + 0.5) }
	return color.NRGBA{R: mix(a.R, b.R), G: mix(a.G, b.G), B: mix(a.B, b.B), A: 0xff}
}

// The hues are those of Okabe and Ito ("Color Universal Design", 2008), which
// colour-blind readers can tell apart. For areas some are lightened, so that
// their lightness differs by at least 6 of 100 (CIE L*), the first four by at
// least 7, and they stay apart in grey; for lines on white some are darkened.
var fills = [Hues]color.NRGBA{
	rgb(0xe69f00), // orange
	rgb(0x0072b2), // blue
	rgb(0xf5eb7a), // yellow
	rgb(0x2dab84), // green
	rgb(0xacdaf5), // sky blue
	rgb(0xd55e00), // vermilion
	rgb(0xe0b3cc), // reddish purple
}

// Hues is how many colours areas have before they are used again.
const Hues = 7

// Area is the colour of an area by its hue, and that of texts upon it, as RRGGBB.
func Area(hue int) (ground, letters string) {
	l := lookOf(hue)
	return hex(l.fill), hex(l.text())
}

// Line is how the line of an item is drawn where a program draws it with dashes and marks
// of its own: its colour as RRGGBB, the number of its dashes and that of its mark.
func Line(item int) (ink string, dash, mark int) {
	return hex(lookOf(item).ink), item % Dashes, item % Marks
}

// How many dashes and marks there are before they are used again: no item has those of
// another in the same colour until all have been used.
const (
	Dashes = 11
	Marks  = 9
)

// Neutral is the colour of the only series of a chart, where that is nobody's, as RRGGBB.
func Neutral() string { return hex(rgb(0x595959)) }

// Shade is the colour of an area that is no item, as RRGGBB: of a part of a figure, or of
// what a chart counts. None is like that of an item.
func Shade(n int) string { return hex(shades[n%len(shades)]) }

// shades are of the schemes of Tol ("Colour Schemes", SRON/EPS/TN/09-002, 2021; from
// memory), black and grey: dark and pale in turn, since they touch each other.
var shades = [...]color.NRGBA{
	rgb(0x332288), // indigo
	rgb(0x999933), // olive
	rgb(0x882255), // wine
	rgb(0xdddddd), // pale grey
	rgb(0x666633), // dark yellow
	rgb(0xeeeebb), // pale yellow
	rgb(0x000000), // black
	rgb(0x777777), // grey
}

func hex(c color.NRGBA) string { return fmt.Sprintf("%02X%02X%02X", c.R, c.G, c.B) }

var inks = []color.NRGBA{
	rgb(0xc98a00),
	rgb(0x0072b2),
	rgb(0x8f8500),
	rgb(0x00805d),
	rgb(0x3b9bd6),
	rgb(0xc85500),
	rgb(0xb0568a),
}

// dashes tell lines apart in grey, beside their labels.
var dashes = [Dashes][]vg.Length{nil, {7, 3}, {2.5, 2}, {9, 3, 2.5, 3}, {4, 2}, {12, 3}, {7, 2, 2.5, 2, 2.5, 2}, {2.5, 4}, {12, 3, 4, 3}, {6, 6}, {4, 2, 12, 2}}

// hatching is how an area is hatched once the colours are used up.
type hatching int

const (
	noHatching hatching = iota
	rising
	falling
	level
	hatchings // how many there are
)

// at reports whether a pixel is part of the hatching's lines.
func (h hatching) at(x, y int) bool {
	const period, thick = 14, 2
	switch h {
	case rising:
		return (x+y)%period < thick
	case falling:
		return (x-y+1<<20*period)%period < thick
	case level:
		return y%period < thick
	}
	return false
}

// look is how an item is drawn in every picture.
type look struct {
	hue       int
	fill, ink color.NRGBA
	dash      []vg.Length
	hatching  hatching
}

// looks is how many items can be told apart by colour and hatching.
var looks = len(fills) * int(hatchings)

// lookOf is the look of an item; from the looks-th on they repeat.
func lookOf(item int) look {
	n := len(fills)
	return look{
		hue:  item % n,
		fill: fills[item%n], ink: inks[item%n],
		dash:     dashes[item%len(dashes)],
		hatching: hatching(item / n % int(hatchings)),
	}
}

// text is the colour in which texts on the area can be read.
func (l look) text() color.NRGBA {
	if l.fill == fills[1] {
		return white
	}
	return black
}
