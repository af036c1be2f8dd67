package export

import (
	"slices"
	"strings"

	"bankwright/engine/unit"
)

// unitAt is the unit that a sheet says of a cell: beside its row, above its block or
// its column; one without factors where it says none.
func (p *practice) unitAt(s *Sheet, row, col int) unit.Unit {
	at := [2]int{row, col}
	if p.unitsOn != s {
		p.unitsOn, p.units = s, map[[2]int]unit.Unit{}
	}
	if _, ok := p.units[at]; !ok {
		word := p.unitSaid(s, row, col)
		u, err := unit.Parse(word)
		if err != nil {
			u = unit.One
		}
		p.units[at] = u
	}
	return p.units[at]
}

func (p *practice) unitSaid(s *Sheet, row, col int) string {
	text := func(row, col int) string { v, _ := s.At(row, col).Value.(string); return v }
	switch {
	case p.series[s.Name]:
		for row > 3 && s.At(row, 1).Style != HeadText {
			row--
		}
		for col > 1 && text(row-2, col) == "" {
			col--
		}
		word, _, _ := strings.Cut(text(row-1, col), "  ")
		return word
	case s.Name == "Tables":
		for row > 1 && s.At(row, col).Style != Head {
			row--
		}
		return text(row+1, col)
	}
	if row > s.Print.RepeatFrom && s.Print.RepeatFrom > 0 { // a recording: columns of rows
		return inBrackets(text(s.Print.RepeatRows, col))
	}
	if in := inBrackets(text(row, labelCol)); in != "" && text(row, unitCol) == numberWord {
		return in // of a point
	}
	return text(row, unitCol)
}

// inBrackets is what stands in brackets at the end of a text.
func inBrackets(s string) string {
	if i := strings.LastIndexByte(s, '('); i >= 0 && strings.HasSuffix(s, ")") {
		return s[i+1 : len(s)-1]
	}
	return ""
}

// conversions are the figures that lead from the units of a formula's cells to base
// units, and from these to the unit of the cell that it stands in, by the sign in front.
type conversions struct{ times, over, less, more []string }

func (p *practice) conversions(s *Sheet, row, col int, list []token) (c conversions) {
	into := p.unitAt(s, row, col)
	c.over, c.times = factors(into)
	if into.Zero != 0 {
		c.more = []string{number(into.Zero)}
	}
	for _, t := range list {
		to := s
		if t.kind == 'w' {
			if t, to = p.named(t.text); to == nil {
				continue
			}
		}
		if t.kind != 'r' {
			continue
		}
		if t.sheet != "" {
			to = p.book.Find(t.sheet)
		}
		if to == nil {
			continue
		}
		u := p.unitAt(to, t.from.row, t.from.col)
		mul, div := factors(u)
		both := slices.Concat(mul, div) // a divisor's work the other way
		c.times, c.over = append(c.times, both...), append(c.over, both...)
		if u.Zero != 0 {
			c.less = append(c.less, number(u.Zero))
		}
	}
	return c
}

// named are the cells of a defined name.
func (p *practice) named(name string) (token, *Sheet) {
	for _, n := range p.book.Names {
		if strings.EqualFold(n.Name, name) {
			t := tokens(n.RefersTo)[0]
			return t, p.book.Find(t.sheet)
		}
	}
	return token{}, nil
}

// allowed reports whether the figure at i is a conversion, by the sign in front of it.
func (c conversions) allowed(list []token, i int) bool {
	if i == 0 || list[i-1].kind != 'o' {
		return false
	}
	lists := map[string][]string{"*": c.times, "/": c.over, "-": c.less, "+": c.more}
	return slices.Contains(lists[list[i-1].text], list[i].text)
}

// noIdleFactors looks for figures that multiply and divide one product, and change
// nothing.
func (p *practice) noIdleFactors() {
	p.each(func(s *Sheet, r, c int, cell Cell) {
		if cell.Formula == "" {
			return
		}
		idle := idleFactors(cell.Formula)
		if len(idle) > 0 {
			p.tell(s, r, c, strings.Join(idle, ", ")+" both ways in "+cell.Formula)
		}
	})
}

// idleFactors are those of a formula.
func idleFactors(f string) []string {
	w := walk{list: tokens(f)}
	w.part(0)
	return w.idle
}

// walk goes through the parts of a formula. Each has the figures by which all of it is
// multiplied and divided.
type walk struct {
	list []token
	at   int
	idle []string
}

func (w *walk) is(signs string) bool {
	return w.at < len(w.list) && w.list[w.at].kind == 'o' && strings.Contains(signs, w.list[w.at].text)
}

// levels are the signs of operators, the weakest first.
var levels = []string{"<>=", "&", "+-", "*/", "^"}

func (w *walk) part(level int) term {
	if level == len(levels) {
		return w.atom()
	}
	out := w.part(level + 1)
	for w.is(levels[level]) {
		sign := w.list[w.at].text
		for w.at++; level == 0 && w.is(levels[0]); w.at++ {
		}
		next := w.part(level + 1)
		switch sign {
		case "*":
			out = w.product(out, next.mul, next.div)
		case "/":
			out = w.product(out, next.div, next.mul)
		case "+", "-":
			out = shared(&out, &next)
		default:
			out = term{}
		}
	}
	return out
}

func (w *walk) product(t term, mul, div []string) term {
	t.mul, t.div = slices.Concat(t.mul, mul), slices.Concat(t.div, div)
	if both := inBoth(t.mul, t.div); len(both) > 0 {
		w.idle = append(w.idle, both...)
		return term{}
	}
	return t
}

// keeping are functions whose value has the factor that all their arguments have.
var keeping = map[string]bool{"": true, "MIN": true, "MAX": true, "ABS": true, "SUM": true, "AVERAGE": true}

func (w *walk) atom() term {
	for w.is("-+") {
		w.at++
	}
	if w.at >= len(w.list) {
		return term{}
	}
	t := w.list[w.at]
	switch {
	case t.kind == 'n':
		w.at++
		if t.text == "0" {
			return term{text: lit("0")}
		}
		if t.text == "1" {
			return term{}
		}
		return term{mul: []string{t.text}}
	case t.kind == 'f' || w.is("("):
		if t.kind == 'f' {
			w.at++
		} else {
			t.text = ""
		}
		return w.arguments(t.text)
	}
	for w.at++; w.is(":"); w.at += 2 { // a block of cells
	}
	return term{}
}

func (w *walk) arguments(function string) term {
	var args []*term
	for w.at++; !w.is(")") && w.at < len(w.list); {
		if w.is(",") {
			w.at++
			continue
		}
		before := w.at
		t := w.part(0)
		args = append(args, &t)
		if w.at == before {
			w.at++ // no part of a formula that is known
		}
	}
	w.at++
	switch {
	case function == "PI":
		return term{mul: []string{"PI()"}}
	case function == "IF" && len(args) == 3:
		return shared(args[1:]...)
	case !keeping[function] || len(args) == 0:
		return term{}
	}
	return shared(args...)
}
