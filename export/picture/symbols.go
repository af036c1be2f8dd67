package picture

import (
	"maps"
	"math"
	"slices"

	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"
)

// Symbols are the symbols of parts of a circuit, after IEC 60617, from memory.
func Symbols() []string { return slices.Sorted(maps.Keys(symbols)) }

// barSymbol is that of a bar, which as a joint takes the place of all wires there.
const barSymbol = "bar"

// symbol is how a symbol is drawn; u runs along its line, from plus to minus, and v
// across.
type symbol struct {
	single bool // it has one terminal
	draw   func(k ink, marks string)
}

var symbols = map[string]symbol{
	// Primary or secondary cells: the long line is the positive pole.
	"cells": {draw: func(k ink, _ string) {
		k.blank(7.5, 7)
		for _, u := range []vg.Length{-7.5, 2.5} {
			k.stroke(1, at{u, -10}, at{u, 10})
			k.stroke(2.6, at{u + 5, -5}, at{u + 5, 5})
		}
	}},
	"fuse": {draw: func(k ink, _ string) {
		k.box(10, 4)
		k.stroke(1, at{-10, 0}, at{10, 0})
	}},
	"switch": {draw: func(k ink, _ string) {
		k.blank(9, 4)
		k.stroke(1.4, at{-9, 0}, at{8, -8})
		k.dot(-9)
		k.dot(9)
	}},
	"resistor": {draw: func(k ink, _ string) { k.box(10, 4) }},
	"link":     {draw: func(k ink, _ string) { k.stroke(1, at{2.5, -5}, at{-2.5, 5}) }},
	barSymbol:  {draw: func(k ink, _ string) { k.stroke(4.5, at{-14, 0}, at{14, 0}) }},
	"converter": {draw: func(k ink, marks string) {
		k.box(14, 14)
		k.stroke(1, at{-14, 14}, at{14, -14})
		k.mark(marks, 0, -6.5)
		k.mark(marks, 1, 6.5)
	}},
	"load": {draw: func(k ink, _ string) {
		k.circle(12)
		d := vg.Length(12 / math.Sqrt2)
		k.stroke(1, at{-d, -d}, at{d, d})
		k.stroke(1, at{-d, d}, at{d, -d})
	}},
	"source": {draw: func(k ink, marks string) {
		k.circle(13)
		k.mark(marks, 0, 0)
	}},
	"earth": {single: true, draw: func(k ink, _ string) {
		for _, u := range []vg.Length{0, 3, 6} {
			k.stroke(1.2, at{u, u - 9}, at{u, 9 - u})
		}
	}},
}

// draw draws what has been placed: wires, symbols upon them, then signs and texts.
func (p *plan) draw(c draw.Canvas) {
	point := func(q vg.Point) vg.Point { return vg.Point{X: c.Min.X + q.X, Y: c.Max.Y - q.Y} }
	for _, w := range p.wires {
		style := draw.LineStyle{Color: black, Width: w.width}
		switch w.look {
		case broken:
			style.Dashes = []vg.Length{2, 3}
		case leader:
			style.Color = grey
		}
		line := make([]vg.Point, len(w.points))
		for i, q := range w.points {
			line[i] = point(q)
		}
		c.StrokeLines(style, line)
	}
	for _, s := range p.symbols {
		ink{c, point(s.at), s.level}.symbol(s)
	}
	for _, d := range p.dots {
		disc(c, point(d), 2.4, black)
	}
	for _, r := range p.rings {
		ring(c, point(r), 4.5)
	}
	for _, s := range p.signs {
		ink{c, point(s.at), true}.sign(s.plus)
	}
	for _, w := range p.texts {
		at := point(w.at)
		w.pen.write(c, at.X, at.Y, w.align, w.text)
	}
}

// ink draws around a point, along a line that runs from left to right or from above.
type ink struct {
	c     draw.Canvas
	at    vg.Point
	level bool
}

type at struct{ u, v vg.Length }

func (k ink) point(p at) vg.Point {
	if k.level {
		return vg.Point{X: k.at.X + p.u, Y: k.at.Y - p.v}
	}
	return vg.Point{X: k.at.X + p.v, Y: k.at.Y - p.u}
}

func (k ink) symbol(s placedSymbol) { symbols[s.name].draw(k, s.marks) }

func (k ink) stroke(width vg.Length, points ...at) {
	line := make([]vg.Point, len(points))
	for i, p := range points {
		line[i] = k.point(p)
	}
	k.c.StrokeLines(draw.LineStyle{Color: black, Width: width}, line)
}

// blank takes away what has been drawn of a line.
func (k ink) blank(u, v vg.Length) {
	k.c.FillPolygon(white, []vg.Point{k.point(at{-u, -v}), k.point(at{u, -v}), k.point(at{u, v}), k.point(at{-u, v})})
}

func (k ink) box(u, v vg.Length) {
	k.blank(u, v)
	k.stroke(1, at{-u, -v}, at{u, -v}, at{u, v}, at{-u, v}, at{-u, -v}, at{u, -v})
}

// dot is a terminal on the line.
func (k ink) dot(u vg.Length) { disc(k.c, k.point(at{u, 0}), 1.8, black) }

func (k ink) circle(radius vg.Length) { ring(k.c, k.at, radius) }

// ring draws a circle that is white within.
func ring(c draw.Canvas, at vg.Point, radius vg.Length) {
	disc(c, at, radius, black)
	disc(c, at, radius-1.2, white)
}

// mark draws one of the marks of a symbol, so far from its middle up and to the left
// or down and to the right: = for direct current, ~ for alternating current.
func (k ink) mark(marks string, n int, off vg.Length) {
	if n >= len(marks) {
		return
	}
	k = ink{k.c, vg.Point{X: k.at.X + off, Y: k.at.Y - off}, true}
	switch marks[n] {
	case '=':
		k.stroke(1, at{-4, -1.5}, at{4, -1.5})
		k.stroke(1, at{-4, 1.5}, at{4, 1.5})
	case '~':
		var wave []at
		for i := range 17 {
			u := vg.Length(i)/2 - 4
			wave = append(wave, at{u, -2.5 * vg.Length(math.Sin(float64(u)*math.Pi/4))})
		}
		k.stroke(1, wave...)
	}
}

// sign draws a plus or a minus.
func (k ink) sign(plus bool) {
	k.stroke(1.1, at{-2.8, 0}, at{2.8, 0})
	if plus {
		k.stroke(1.1, at{0, -2.8}, at{0, 2.8})
	}
}
