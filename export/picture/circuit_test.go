package picture

import (
	"bytes"
	"fmt"
	"image/png"
	"io"
	"math"
	"slices"
	"strings"
	"testing"

	"gonum.org/v1/plot/vg"
)

// ladder is a circuit of so many columns and rows, its lines leaving from two of
// them; with a bar or with links from column to column.
func ladder(columns, rows, positive, negative int, joint string) Circuit {
	k := Circuit{
		Title: "Wiring of an example", Note: "So many rows, and so many columns.", Foot: []string{"A planning drawing."},
		Columns: Repeat{columns, 6, "string"}, Rows: Repeat{rows, 6, ""}, Positive: positive, Negative: negative,
		Parts: []Part{
			{Symbol: joint, Place: Joining, Name: "joint", Label: []string{"35 mm²", "0.3 m"}},
			{Symbol: "fuse", Place: InColumn, Name: "column part", Label: []string{"80 A"}},
			{Symbol: "cells", Place: InCell, Name: "cell", Label: []string{"12.8 V, 100 Ah"}},
			{Symbol: "link", Place: Between, Name: "between"},
			{Place: Below, Name: "gives"},
			{Symbol: "fuse", Place: Positive, Name: "main", Label: []string{"200 A", "0.15 m away"}},
			{Symbol: "switch", Place: Both, Name: "switch", Label: []string{"size not given"}},
			{Symbol: "resistor", Place: Negative, Name: "shunt", Label: []string{"1 mΩ"}},
			{Symbol: "converter", Marks: "=~", Place: Across, Name: "converter", Label: []string{"5,000 W"}},
			{Symbol: "load", Place: Across, Name: "load"},
			{Symbol: "earth", Place: Across, Name: "earth"},
			{Symbol: "source", Marks: "~", Place: Across, Name: "source", Label: []string{"2,400 W into the line"}},
		},
	}
	for c := range columns {
		k.Parts[4].Values = append(k.Parts[4].Values, fmt.Sprintf("%d.25 A", 10+c))
	}
	return k
}

// circuits are samples with few and many columns and rows, and what is awkward.
func circuits(list map[string]Picture) {
	for _, n := range []int{1, 2, 3, 6, 7, 8, 16, 1_000_000} {
		list[fmt.Sprintf("circuit of %d", n)] = ladder(n, 1+n%5, 1, 1+(n-1)*(n%2), []string{barSymbol, "link"}[n%2])
	}
	list["tall circuit"] = ladder(1, 40, 1, 1, barSymbol)
	list["circuit from the middle"] = ladder(16, 2, 9, 12, "link")
	bare := ladder(1, 1, 1, 1, barSymbol)
	bare.Parts = bare.Parts[2:3]
	list["bare circuit"] = bare
	k := ladder(5, 3, 1, 5, "link")
	k.Title, k.Note, k.Foot = hostile[0], hostile[4]+hostile[5], hostile
	k.Columns.Name = strings.Repeat(hostile[4], 20)
	for i := range k.Parts {
		p := &k.Parts[i]
		p.Name = hostile[i%len(hostile)]
		p.Label = []string{hostile[(i+1)%len(hostile)], strings.Repeat("w", 400)}
	}
	k.Parts[4].Values = hostile
	list["hostile circuit"] = k
}

// TestSymbolCounts: in each cell that is drawn stands its symbol once, and all cells
// are drawn as long as there are not too many.
func TestSymbolCounts(t *testing.T) {
	for _, c := range []struct{ columns, rows, drawnColumns, drawnRows int }{
		{1, 1, 1, 1}, {1, 4, 1, 4}, {4, 1, 4, 1}, {2, 4, 2, 4}, {6, 6, 6, 6}, {7, 1, 7, 1}, {8, 1, 6, 1}, {16, 2, 6, 2}, {2, 16, 2, 6}, {400, 400, 6, 6},
	} {
		p := ladder(c.columns, c.rows, 1, 1, "link").plot()
		count := map[string]int{}
		seen := map[[2]int]bool{}
		for _, s := range p.symbols {
			if s.row > 0 && s.name == "cells" {
				if at := [2]int{s.column, s.row}; seen[at] {
					t.Errorf("%v: two symbols in cell %v", c, at)
				} else {
					seen[at] = true
				}
			}
			if s.column > 0 {
				count[s.name]++
			}
		}
		if got, want := count["cells"], c.drawnColumns*c.drawnRows; got != want {
			t.Errorf("%d by %d: %d cells are drawn, want %d", c.columns, c.rows, got, want)
		}
		if got := count["fuse"]; got != c.drawnColumns {
			t.Errorf("%d by %d: %d columns have their part, want %d", c.columns, c.rows, got, c.drawnColumns)
		}
		if !seen[[2]int{c.columns, c.rows}] {
			t.Errorf("%d by %d: the last cell is not drawn", c.columns, c.rows)
		}
	}
}

// TestTakeOff: the lines leave from the columns that they should, the positive one
// above and the negative one below, against a list made by hand.
func TestTakeOff(t *testing.T) {
	for _, c := range []struct {
		columns, positive, negative int
		up, down                    vg.Length // places from the right, in columns and gaps
	}{
		{1, 1, 1, 0, 0}, {2, 1, 1, 0, 0}, {2, 1, 2, 0, 1}, {4, 1, 4, 0, 3}, {4, 4, 4, 3, 3}, {4, 2, 3, 1, 2},
		{16, 1, 16, 0, 6}, {16, 9, 1, 6, 0}, // 1 to 5, a gap, 16; 1 to 5, a gap, 9, a gap, 16
	} {
		p := ladder(c.columns, 2, c.positive, c.negative, "link").plot()
		right := p.x[1]
		up, down := right-c.up*pitch, right-c.down*pitch
		wired := func(x, from, to vg.Length) bool {
			return slices.ContainsFunc(p.wires, func(w wire) bool {
				a, b := w.points[0], w.points[1]
				return w.width == thickWire && w.look == solid && a.X == x && b.X == x && a.Y == from && b.Y == to
			})
		}
		if !wired(up, p.high, p.top) || !wired(down, p.low, p.bottom) {
			t.Errorf("%+v: the lines do not leave at %v and %v", c, up, down)
		}
		if c.columns > 1 && (len(p.rings) < 2 || p.rings[0] != (vg.Point{X: up, Y: p.high}) || p.rings[1] != (vg.Point{X: down, Y: p.low})) {
			t.Errorf("%+v: the rings stand at %v", c, p.rings)
		}
		if p.top >= p.bottom || p.top > p.high || p.bottom < p.low {
			t.Errorf("%+v: heights %v %v %v %v", c, p.top, p.high, p.low, p.bottom)
		}
	}
}

// TestPolarity: the positive end of every cell is up and marked so, and so is that of
// every part across.
func TestPolarity(t *testing.T) {
	p := ladder(3, 2, 1, 3, "link").plot()
	near := func(at vg.Point, up vg.Length, plus bool) bool {
		return slices.ContainsFunc(p.signs, func(s sign) bool {
			return s.plus == plus && math.Abs(float64(s.at.X-at.X)) < 16 && (s.at.Y-at.Y)*up < 0 && math.Abs(float64(s.at.Y-at.Y)) < 14
		})
	}
	cells := 0
	for _, s := range p.symbols {
		if s.name != "cells" {
			continue
		}
		if cells++; s.level || !near(s.at, 1, true) || !near(s.at, -1, false) {
			t.Errorf("the cell at %v is not marked", s.at)
		}
	}
	if cells != 6 {
		t.Fatalf("%d cells", cells)
	}
	for _, s := range p.symbols {
		if s.column == 0 && !s.level && !symbols[s.name].single &&
			(!near(vg.Point{X: s.at.X, Y: p.top}, -1, true) || !near(vg.Point{X: s.at.X, Y: p.bottom}, 1, false)) {
			t.Errorf("%s is not marked", s.name)
		}
	}
}

// TestClear: no text stands on a symbol, a sign, a ring or a wire, whatever the names
// are.
func TestClear(t *testing.T) {
	list := map[string]Picture{}
	circuits(list)
	for name, c := range list {
		p := c.(Circuit).plot()
		for _, w := range p.texts {
			x := w.at.X - vg.Length(w.align)*w.pen.width(w.text)
			box := vg.Rectangle{Min: vg.Point{X: x, Y: w.at.Y - 0.4*w.pen.size}, Max: vg.Point{X: x + w.pen.width(w.text), Y: w.at.Y + 0.4*w.pen.size}}
			if box.Min.X < 0 || box.Max.X > p.width-2*margin {
				t.Errorf("%s: %q is cut", name, w.text)
			}
			for _, s := range p.symbols {
				if b := grow(vg.Rectangle{Min: s.at, Max: s.at}, 10); overlap(box, b) {
					t.Errorf("%s: %q stands on %s", name, w.text, s.name)
				}
			}
			for _, s := range p.signs {
				if b := grow(vg.Rectangle{Min: s.at, Max: s.at}, 3); overlap(box, b) {
					t.Errorf("%s: %q stands on a sign", name, w.text)
				}
			}
			for _, k := range p.wires {
				if k.look != leader && within(box, k.points[0], k.points[1]) > 0 {
					t.Errorf("%s: %q stands on a wire", name, w.text)
				}
			}
		}
	}
}

// TestCircuitImage: an image of a circuit has the resolution for print, and is the
// same every time.
func TestCircuitImage(t *testing.T) {
	k := ladder(16, 4, 1, 16, "link")
	first := drawn(t, k, PNG)
	m, err := png.Decode(bytes.NewReader(first))
	if err != nil {
		t.Fatal(err)
	}
	if w := m.Bounds().Dx(); float64(w) < printed*0.98 || float64(w) > printed+1 {
		t.Errorf("%d pixels wide, want %.0f", w, printed)
	}
	if r, g, b, _ := m.At(1, 1).RGBA(); r&g&b != 0xffff {
		t.Error("the ground is not white")
	}
	for range 5 {
		if !bytes.Equal(first, drawn(t, k, PNG)) {
			t.Fatal("two images differ")
		}
	}
}

func TestCircuitErrors(t *testing.T) {
	for want, spoil := range map[string]func(*Circuit){
		"a circuit of 0 columns and 2 rows cannot be drawn":  func(k *Circuit) { k.Columns.Count = 0 },
		"a circuit of 3 columns and -1 rows cannot be drawn": func(k *Circuit) { k.Rows.Count = -1 },
		"a line leaves column 4, but there are 3":            func(k *Circuit) { k.Negative = 4 },
		"a circuit has nothing in its cells":                 func(k *Circuit) { k.Parts = k.Parts[:2] },
		`there is no symbol "lamp"`:                          func(k *Circuit) { k.Parts[5].Symbol = "lamp" },
	} {
		k := ladder(3, 2, 1, 1, "link")
		spoil(&k)
		if err := Write(io.Discard, k, SVG); err == nil || err.Error() != want {
			t.Errorf("got %v, want %s", err, want)
		}
	}
}
