package export

import (
	"bankwright/engine/check"
	"bankwright/engine/decl"
	"bankwright/engine/unit"
)

// short is t, worked out in a cell of its own where it is long: for texts that
// are used several times.
func (s *scope) short(e *check.Expr, t term) term {
	switch e.Op {
	case check.Literal, check.Step, check.Read:
		return t
	}
	if t.text.refs() <= 1 {
		return t
	}
	return s.lifted(e)
}

// lifted works e out in a line of its own and is that line's cell.
func (s *scope) lifted(e *check.Expr) term {
	if s.isApart(e) {
		s.fit.apart[e] = false
		defer func() { s.fit.apart[e] = true }()
	}
	inner := s.tail(e, nil)
	t := s.neededOnly(e, guarded(inner.text, s.bundled(e, s.open(inner.needs))))
	l := s.put(e, line{label: plainly(e), look: Computed, isPart: true, truth: e.Type == decl.Boolean, step: func(int, int) text { return t }})
	if e.Type == decl.Number {
		l.unit = s.pl.unitName(baseUnit(e.Dim))
	}
	out := term{text: cell(s.same(l)), prec: precAtom}
	if e.MayBeAbsent() {
		out.needs = []text{join(out.text, `=""`)}
	}
	return out
}

// work adds a line of workings with a formula, which is empty where the part
// that it serves is not needed.
func (s *scope) work(of *check.Expr, label string, t text) *line {
	t = s.neededOnly(of, t)
	return s.put(of, line{label: label, look: Computed, step: func(int, int) text { return t }})
}

// put makes a line of workings of a part of the formula; one that says the same
// is taken again.
func (s *scope) put(of *check.Expr, l line) *line {
	key := l.label
	for j := range max(l.rows, l.across, 1) {
		key += "\n" + l.step(0, j).key()
	}
	if w := s.fit.made[key]; w != nil {
		return w
	}
	w := s.add(l)
	s.fit.made[key] = w
	s.fit.lines = append(s.fit.lines, &working{line: w, of: of, path: s.path})
	return w
}

// formatWorkings gives lines that show no quantity of the rules, which have a
// value only once the book is calculated, the decimals that their values need.
func (pl *plan) formatWorkings() {
	for _, pg := range pl.pages() {
		for _, l := range pg.lines {
			if l.q != nil || l.format != "" || l.row == 0 || pg.sheet == nil {
				continue
			}
			rows, cols := l.rows, l.items()*l.across
			if len(pg.axes) > 0 {
				rows = len(pg.sheet.rows) - l.row + 1
			}
			pg.sheet.format(l.row, l.col, rows, cols)
		}
	}
}

// pages are those that workings stand on.
func (pl *plan) pages() []*page {
	return append(append([]*page{pl.writing}, pl.series...), pl.rulePages()...)
}

// format gives the numbers of a block the decimals that they need together.
func (s *Sheet) format(row, col, rows, cols int) {
	var values []float64
	each := func(f func(c *Cell)) {
		for r := row; r < row+rows && r <= len(s.rows); r++ {
			for c := col; c < col+cols && c <= len(s.rows[r-1]); c++ {
				f(&s.rows[r-1][c-1])
			}
		}
	}
	each(func(c *Cell) {
		if v, ok := c.Value.(float64); ok {
			values = append(values, v)
		}
	})
	format := decimalFormat(unit.DecimalsFor(values))
	each(func(c *Cell) {
		if _, ok := c.Value.(float64); ok && c.Format == "" {
			c.Format = format
		}
	})
}
