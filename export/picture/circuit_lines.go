package picture

import (
	"fmt"
	"slices"

	"gonum.org/v1/plot/vg"
)

// Measures of what stands beside the columns, in points.
const (
	slot        = vg.Length(78) // of a part in a line, at most
	narrow      = vg.Length(50) // at least
	acrossWidth = vg.Length(74) // of the label of a part across
	halfSymbol  = vg.Length(16) // of a symbol
)

// roomAbove is how far below the top the positive line runs, so that the labels of
// its parts have room above it.
func (p *plan) roomAbove() vg.Length {
	lines := 0
	for _, part := range p.of(Positive, Both) {
		lines = max(lines, len(label(part, slot)))
	}
	return lineHeight*vg.Length(lines) + halfSymbol + 2
}

// join draws what joins the columns above and below.
func (p *plan) join() {
	if p.k.Columns.Count == 1 {
		return
	}
	first := p.x[1]
	for _, y := range []vg.Length{p.high, p.low} {
		for _, part := range p.of(Joining) {
			if part.Symbol == barSymbol {
				p.wires = append(p.wires, wire{[]vg.Point{{X: p.left - 10, Y: y}, {X: first + 10, Y: y}}, 4.5, solid})
			}
		}
		for i := 1; i < len(p.shown); i++ {
			from, to := p.shown[i-1], p.shown[i]
			w := wire{[]vg.Point{{X: p.x[from], Y: y}, {X: p.x[to], Y: y}}, thickWire, solid}
			if to > from+1 {
				w.look = broken
			}
			p.wires = append(p.wires, w)
			for _, part := range p.of(Joining) {
				if part.Symbol != barSymbol && w.look == solid {
					p.put(part, vg.Point{X: (p.x[from] + p.x[to]) / 2, Y: y}, true, from, 0)
				}
			}
		}
	}
	p.gaps()
}

// gaps says how many columns are left out between two that are drawn.
func (p *plan) gaps() {
	for i := 1; i < len(p.shown); i++ {
		from, to := p.shown[i-1], p.shown[i]
		if left := to - from - 1; left > 0 {
			x, y := (p.x[from]+p.x[to])/2, (p.high+p.low)/2
			for n, s := range more(left) {
				p.texts = append(p.texts, words{linePen, vg.Point{X: x, Y: y + lineHeight*vg.Length(n-1)}, 0.5, linePen.shorten(s, pitch-2)})
			}
		}
	}
}

// columnWires draws the wire of each column, and those by which the two lines leave.
func (p *plan) columnWires() {
	for _, c := range p.shown {
		x := p.x[c]
		y := p.high
		for i, r := range p.rows[1:] { // not where rows are left out
			if r == p.rows[i]+1 {
				continue
			}
			for _, s := range p.symbols {
				if s.column == c && s.row == p.rows[i] {
					p.wires = append(p.wires, wire{[]vg.Point{{X: x, Y: y}, {X: x, Y: s.at.Y + cellHeight/2}}, thinWire, solid})
				}
				if s.column == c && s.row == r && s.name == p.of(InCell)[0].Symbol {
					y = s.at.Y - cellHeight/2
				}
			}
		}
		p.wires = append(p.wires, wire{[]vg.Point{{X: x, Y: y}, {X: x, Y: p.low}}, thinWire, solid})
		if p.k.Columns.Count > 1 {
			p.dots = append(p.dots, vg.Point{X: x, Y: p.high}, vg.Point{X: x, Y: p.low})
		}
	}
	up, down := p.x[p.k.Positive], p.x[p.k.Negative]
	p.wires = append(p.wires, wire{[]vg.Point{{X: up, Y: p.high}, {X: up, Y: p.top}}, thickWire, solid}, wire{[]vg.Point{{X: down, Y: p.low}, {X: down, Y: p.bottom}}, thickWire, solid})
	if p.k.Columns.Count > 1 {
		p.signs = append(p.signs, sign{vg.Point{X: up + 10, Y: p.top + 10}, true}, sign{vg.Point{X: down + 10, Y: p.bottom - 10}, false})
		p.rings = append(p.rings, vg.Point{X: up, Y: p.high}, vg.Point{X: down, Y: p.low})
	}
}

// lines draws the two lines from the columns to the right, with what is in them and
// what goes across.
func (p *plan) lines(x vg.Length) {
	x += 10
	end, last := x, -1
	for i, part := range p.k.Parts {
		switch part.Place {
		case Positive, Negative, Both:
			text := label(part, slot)
			w := max(narrow, widest(text)) + 8
			p.inLine(part, text, x+w/2)
			x += w
			end, last = x, -1
		case Across:
			text := label(part, acrossWidth)
			p.across(part, text, x+halfSymbol)
			end, last = x+halfSymbol, i
			x += max(2*halfSymbol, halfSymbol+5+widest(text)) + 8
		}
	}
	for _, from := range []vg.Point{{X: p.x[p.k.Positive], Y: p.top}, {X: p.x[p.k.Negative], Y: p.bottom}} {
		p.wires = append(p.wires, wire{[]vg.Point{from, {X: end, Y: from.Y}}, thickWire, solid})
		for _, w := range p.wires { // where the last one across ends, the lines turn
			if q := w.points[0]; w.look == solid && len(w.points) == 2 && q.Y == from.Y && w.points[1].X == q.X && q.X > p.x[1] && q.X < end {
				p.dots = append(p.dots, q)
			}
		}
		if last < 0 {
			p.rings = append(p.rings, vg.Point{X: end, Y: from.Y})
		}
	}
	p.width = max(x, end+halfSymbol) + 2*margin
	p.width = max(p.width, pictureWidth)
}

// widest is how wide lines become.
func widest(text []words) vg.Length {
	w := vg.Length(0)
	for _, l := range text {
		w = max(w, l.pen.width(l.text))
	}
	return w
}

// inLine draws a part in one of the lines or in both, its label away from the other.
func (p *plan) inLine(part Part, text []words, x vg.Length) {
	n := vg.Length(len(text))
	if part.Place != Negative {
		p.put(part, vg.Point{X: x, Y: p.top}, true, 0, 0)
		p.write(text, x, p.top-halfSymbol-lineHeight*(n-0.5), 0.5)
	}
	if part.Place != Positive {
		p.put(part, vg.Point{X: x, Y: p.bottom}, true, 0, 0)
	}
	if part.Place == Negative {
		p.write(text, x, p.bottom+halfSymbol+lineHeight/2, 0.5)
		p.height = max(p.height, p.bottom+halfSymbol+lineHeight*n+4)
	}
}

// across draws a part from one line to the other, its label at the right of its wire.
func (p *plan) across(part Part, text []words, x vg.Length) {
	most := 0 // lines: all symbols across stand at one height
	for _, other := range p.of(Across) {
		most = max(most, len(label(other, acrossWidth)))
	}
	y := (p.top+p.bottom)/2 - lineHeight*vg.Length(most)/2
	if symbols[part.Symbol].single {
		p.wires = append(p.wires, wire{[]vg.Point{{X: x, Y: p.bottom}, {X: x, Y: y}}, thinWire, solid})
	} else {
		p.wires = append(p.wires, wire{[]vg.Point{{X: x, Y: p.top}, {X: x, Y: y}}, thinWire, solid}, wire{[]vg.Point{{X: x, Y: p.bottom}, {X: x, Y: y}}, thinWire, solid})
		p.signs = append(p.signs, sign{vg.Point{X: x + 8, Y: p.top + 9}, true}, sign{vg.Point{X: x + 8, Y: p.bottom - 9}, false})
	}
	p.put(part, vg.Point{X: x, Y: y}, false, 0, 0)
	p.write(text, x+5, y+halfSymbol+3+lineHeight/2, 0)
}

// write writes lines below each other from a height on.
func (p *plan) write(text []words, x, y vg.Length, align float64) {
	for i, w := range text {
		w.at, w.align = vg.Point{X: x, Y: y + lineHeight*vg.Length(i)}, align
		p.texts = append(p.texts, w)
	}
}

// below writes the numbers of the columns and the values below them, and returns
// where that ends.
func (p *plan) below() vg.Length {
	y := p.bottom + 16
	row := func(name string, value func(column int) string) {
		p.texts = append(p.texts, words{linePen, vg.Point{X: sideMargin - 26, Y: y}, 1, linePen.shorten(name, sideMargin-26)})
		for _, c := range p.shown {
			p.texts = append(p.texts, words{linePen, vg.Point{X: p.x[c], Y: y}, 0.5, linePen.shorten(value(c), pitch-2)})
		}
		y += lineHeight + 1
	}
	if p.k.Columns.Count > 1 {
		row(p.k.Columns.Name, func(c int) string { return fmt.Sprint(c) })
	}
	for _, part := range p.of(Below) {
		if slices.ContainsFunc(part.Values, func(s string) bool { return s != "" }) {
			row(part.Name, func(c int) string {
				if c > len(part.Values) {
					return ""
				}
				return part.Values[c-1]
			})
		}
	}
	return y
}

// foot writes the sentences at the bottom.
func (p *plan) foot() {
	y := p.height + 6
	for _, s := range p.k.Foot {
		for _, l := range smallPen.wrap(s, p.width-2*margin, 3) {
			p.texts = append(p.texts, words{smallPen, vg.Point{Y: y + lineHeight/2}, 0, l})
			y += lineHeight
		}
	}
	p.height = y + 2*margin
}
