package export

import (
	"fmt"
	"strings"

	"bankwright/engine/check"
	"bankwright/engine/decl"
)

// read is the cell that a reference ends at, in the unit that the cell shows.
func (s *scope) read(e *check.Expr) term {
	c := s.cells(e.Ref, nil)
	out := term{text: cell(c), prec: precAtom}
	if e.Ref.MayBeAbsent() {
		out.needs = []text{emptiness(c, e.Ref)}
	}
	return out
}

// emptiness is the condition that a cell is empty, or that a reference on the
// way to it is.
func emptiness(c *ref, r *check.Ref) text {
	if c.index != nil && hopAbsent(r.Hops) {
		return join("IF(", c.index, `="",TRUE,`, c, `="")`)
	}
	return join(c, `=""`)
}

// cells are the cells that a reference ends at: one, or with over the range of
// the steps that are collapsed.
func (s *scope) cells(r *check.Ref, over []*decl.Axis) *ref {
	c := &ref{to: s.pl.place(r.Target)}
	single := len(r.Target.Axes) == 0 && !r.Target.Type.Tabular()
	switch {
	case len(r.Hops) == 0:
		s.from(c, r)
	case single:
		c.to = s.pl.pull(r.Kind, r.Hops, r.Target)
		s.from(c, r)
	default: // a range of another kind's sheet, of which the position picks a column
		pos := &ref{to: s.pl.position(r.Kind, r.Hops)}
		s.from(pos, r)
		c.item, c.index = all, cell(pos)
	}
	s.rows(c, r, over)
	return c
}

// from chooses the item at which a reference starts.
func (s *scope) from(c *ref, r *check.Ref) {
	switch r.Origin {
	case check.One:
		c.item = 0
	case check.Fixed:
		c.item = r.Item
	case check.Each:
		c.item = s.each
	case check.AxisItem:
		c.item, c.index = all, cell(s.count(r.Axis))
	default:
		c.item = own
	}
}

// rows chooses the rows of a series or set that the current steps select.
func (s *scope) rows(c *ref, r *check.Ref, over []*decl.Axis) {
	q := r.Target
	if len(q.Axes) == 0 {
		return
	}
	c.which = fmt.Sprint(r.Prev, len(over))
	if q.Type == decl.Set {
		at := s.axis(q.Axes[0])
		if at < 0 {
			c.last = q.Axes[0].Steps - 1
			return
		}
		c.rows = func(out []span, steps []int) []span { return append(out, span{steps[at], steps[at]}) }
		return
	}
	places := make([]int, len(q.Axes)) // of q's axes in the scope's, -1: collapsed
	c.still = true
	for i, a := range q.Axes {
		places[i] = s.axis(a)
		if isOver(over, a) {
			places[i] = -1
		}
		c.still = c.still && places[i] < 0
	}
	c.rows = func(out []span, steps []int) []span { return spans(out, c.to.page, q, places, steps, r.Prev) }
}

func isOver(over []*decl.Axis, a *decl.Axis) bool {
	for _, b := range over {
		if a == b {
			return true
		}
	}
	return false
}

// axis is the place of an axis among the scope's, -1 if it is not there.
func (s *scope) axis(a *decl.Axis) int {
	for i, b := range s.page.axes {
		if a == b {
			return i
		}
	}
	return -1
}

// spans adds the rows of q on its page for the current steps, all steps of the
// collapsed axes, joined to as few ranges as possible. A row of starts between
// them does no harm where q has none: its cell is empty there.
func spans(out []span, pg *page, q *check.Quantity, places, steps []int, prev bool) []span {
	first := len(out)
	at := make([]int, len(places))
	var walk func(i int)
	walk = func(i int) {
		if i < len(places) {
			if p := places[i]; p >= 0 {
				at[i] = steps[p]
				walk(i + 1)
				return
			}
			for at[i] = 0; at[i] < q.Axes[i].Steps; at[i]++ {
				walk(i + 1)
			}
			return
		}
		row := pg.rowOf(at)
		if prev {
			row--
		}
		n := len(out)
		gap := 1
		if q.Start == nil && pg.starts && at[len(at)-1] == 0 {
			gap = 2
		}
		if n > first && row-out[n-1].to <= gap {
			out[n-1].to = row
		} else {
			out = append(out, span{row, row})
		}
	}
	walk(0)
	return out
}

// same is a line of workings at the same item and step.
func (s *scope) same(l *line) *ref {
	c := &ref{to: l, item: own}
	if len(l.page.axes) > 0 {
		c.rows = func(out []span, steps []int) []span { r := l.page.rowOf(steps); return append(out, span{r, r}) }
	}
	return c
}

// count is the number of the current step of an axis.
func (s *scope) count(a *decl.Axis) *ref {
	i := s.axis(a)
	if i < 0 {
		s.pl.fail("a step of %s is read where none is current", a.Name)
		i = 0
	}
	c := s.same(s.page.counts[i])
	c.item = 0
	return c
}

// place is where the values of a quantity lie.
func (pl *plan) place(q *check.Quantity) *line {
	if l := pl.places[q]; l != nil {
		return l
	}
	pl.fail("%s.%s has no place in the workbook", q.Kind.Name, q.Name)
	return pl.newLine(pl.inputs, line{kind: q.Kind, only: own})
}

func hopKey(k *check.Kind, hops []*check.Quantity, last string) string {
	names := []string{k.Name}
	for _, h := range hops {
		names = append(names, h.Name)
	}
	return strings.Join(append(names, last), " ")
}

func hopLabel(hops []*check.Quantity) string {
	var names []string
	for _, h := range hops {
		names = append(names, labelOf(h))
	}
	return strings.Join(names, ", ")
}

func hopAbsent(hops []*check.Quantity) bool {
	for _, h := range hops {
		if h.MayBeAbsent {
			return true
		}
	}
	return false
}

// position is the line that finds, for each item of k, which item its chain of
// references ends at.
func (pl *plan) position(k *check.Kind, hops []*check.Quantity) *line {
	key := hopKey(k, hops, "#")
	if l := pl.pulls[key]; l != nil {
		return l
	}
	n := len(hops) - 1
	src := &ref{item: own}
	if n == 0 {
		src.to = pl.place(hops[0])
	} else {
		src.to = pl.pull(k, hops[:n], hops[n])
	}
	to := hops[n].To
	found := join("MATCH(", src, ",", &ref{to: pl.names[to], item: all}, ",0)")
	note := "place of the " + strings.ReplaceAll(to.Name, "_", " ") + " among all on the sheet Inputs"
	t := join("IFERROR(", found, `,"")`)
	switch {
	case len(to.Items) == 0 && hopAbsent(hops):
		t = lit(`""`) // there is nothing to choose yet
	case len(to.Items) == 0:
		t = lit("NA()")
	case !hopAbsent(hops):
		// Formulas that must have a value go on with those of the first, of which
		// nothing is recommended or checked: see lacks.
		t = join("IFERROR(", found, ",1)")
		note += "; where it is blank or unknown, the first stands in, and the figures that follow are incomplete"
	}
	l := pl.newLine(pl.rulePage(k), line{
		kind: k, only: own, group: hopLabel(hops), label: hopLabel(hops) + ": position", look: Pulled, format: "0",
		note: note,
		step: func(int, int) text { return t },
	})
	pl.pulls[key] = l
	l.page.pulled = append(l.page.pulled, l)
	if len(to.Items) > 0 && !hopAbsent(hops) {
		pl.astray[l] = join("(", src, `<>"")*ISERROR(`, found, ")")
	}
	return l
}

// pull is the line that brings a quantity at the end of a chain of references
// to the page of the kind where it starts.
func (pl *plan) pull(k *check.Kind, hops []*check.Quantity, q *check.Quantity) *line {
	key := hopKey(k, hops, q.Name)
	if l := pl.pulls[key]; l != nil {
		return l
	}
	pos := &ref{to: pl.position(k, hops), item: own}
	src := pl.place(q)
	t := join("INDEX(", &ref{to: src, item: all}, ",", pos, ")")
	switch {
	case len(q.Kind.Items) == 0:
		t = lit("NA()")
	case q.MayBeAbsent:
		t = guarded(t, []text{join(t, `=""`)})
	}
	if hopAbsent(hops) {
		t = guarded(t, []text{join(pos, `=""`)})
	}
	l := pl.newLine(pl.rulePage(k), line{
		kind: k, only: own, group: hopLabel(hops), label: hopLabel(hops) + ": " + lowerFirst(labelOf(q)), look: pulledLook(q),
		of: q, unit: src.unit, format: src.format, step: func(int, int) text { return t },
		note: "from the sheet " + src.page.name,
	})
	pl.pulls[key] = l
	l.page.pulled = append(l.page.pulled, l)
	return l
}

func pulledLook(q *check.Quantity) Style {
	if q.Type == decl.Number {
		return Pulled
	}
	return PulledText
}
