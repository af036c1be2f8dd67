package check

import (
	"bankwright/engine/decl"
	"bankwright/engine/unit"
)

// Drawing is a checked drawing.
type Drawing struct {
	*decl.Drawing
	Kind               *Kind
	Note, Foot         [][]Part // lines below the title, and at the bottom
	Columns, Rows      *Expr    // how many; nil: one
	Positive, Negative *Expr    // the columns from which the lines leave; nil: the first
	Parts              []*DrawnPart
}

// DrawnPart is a checked part of a drawing. When and Label are read for an item of
// Kind: the drawing's, or that of Is.
type DrawnPart struct {
	*decl.Part
	Kind  *Kind
	Is    *Quantity  // a reference or set: the part is the item that it names; nil: none
	Axis  *decl.Axis // of a row below: current in When and Label; else nil
	When  *Expr
	Label [][]Part
}

// drawings resolves the names of drawings.
func (c *checker) drawings() {
	for _, dd := range c.prog.Model.Drawings {
		k := c.kinds[dd.Of]
		if k == nil {
			continue
		}
		s := &scope{c: c, kind: k, item: -1}
		d := &Drawing{Drawing: dd, Kind: k, Note: s.lines(dd.Note), Foot: s.lines(dd.Foot)}
		d.Columns, d.Rows = s.plain(dd.Columns.Count), s.plain(dd.Rows.Count)
		d.Positive, d.Negative = s.plain(dd.Positive), s.plain(dd.Negative)
		for _, p := range dd.Parts {
			d.Parts = append(d.Parts, c.part(d, p))
		}
		c.prog.Drawings = append(c.prog.Drawings, d)
	}
}

// part resolves the names of a part of a drawing.
func (c *checker) part(d *Drawing, dp *decl.Part) *DrawnPart {
	p := &DrawnPart{Part: dp, Kind: d.Kind}
	if dp.Place == decl.Below {
		if p.Axis = d.Along; d.Along == nil {
			c.list.Errorf(dp.At, "series", "Add along = \"…\" to `columns`, the axis whose steps they are.", "%s is a row of values by column, but the columns are no steps of an axis", dp.Key)
		}
	}
	if dp.Is != "" {
		q := d.Kind.Quantity(dp.Is)
		switch {
		case q == nil:
			c.list.Errorf(dp.IsAt, "unknown-name", oneOf(dp.Is, "It has ", d.Kind.QuantityNames()), "%s has no quantity %s", d.Kind.Name, dp.Is)
			return p
		case q.Type != decl.Reference && q.Type != decl.Set || q.To == nil:
			c.list.Errorf(dp.IsAt, "wrong-kind", "Name a reference or a set.", "%s names no item: it is %s", q.Name, typePhrase(q.Type))
			return p
		case q.Type == decl.Set && dp.Place != decl.Across:
			c.list.Errorf(dp.IsAt, "wrong-kind", "Name a reference, or write at = \""+decl.Across.String()+"\".", "%s is a set, and several items can only be drawn across", q.Name)
			return p
		}
		p.Is, p.Kind = q, q.To
	}
	s := &scope{c: c, kind: p.Kind, item: -1}
	if p.Axis != nil {
		s.axes = []*decl.Axis{p.Axis}
	}
	p.Label = s.lines(dp.Label)
	if dp.When != nil {
		if e := s.formula(dp.When, nil); e != nil && e.Type != decl.Boolean && e.Type != unknownType {
			c.problem(dp.When, e.At, "wrong-kind", typeMend(decl.Boolean, e), "`when` is a condition, but this gives %s", valuePhrase(e))
		} else {
			p.When = e
		}
	}
	return p
}

// lines reads texts with {paths} in them.
func (s *scope) lines(list []decl.Told) [][]Part {
	var out [][]Part
	for _, t := range list {
		out = append(out, s.sentence(t.Text, t.At))
	}
	return out
}

// plain reads a formula that gives a number without a unit; nil where there is none.
func (s *scope) plain(f *decl.Formula) *Expr {
	if f == nil {
		return nil
	}
	e := s.formula(f, nil)
	if e == nil || e.Type == unknownType {
		return nil
	}
	if _, ok := unit.Fit(unit.None, e.Dim); e.Type != decl.Number || !ok {
		s.c.problem(s.f, e.At, "wrong-kind", "Name a quantity without a unit.", "a plain count is wanted, but this gives %s", valuePhrase(e))
		return nil
	}
	return e
}

// Walk calls f for every part of every formula and line of a drawing.
func (d *Drawing) Walk(f func(*Expr)) {
	lines := func(list [][]Part) {
		for _, l := range list {
			for _, p := range l {
				p.Read.Walk(f)
			}
		}
	}
	lines(d.Note)
	lines(d.Foot)
	for _, e := range []*Expr{d.Columns, d.Rows, d.Positive, d.Negative} {
		e.Walk(f)
	}
	for _, p := range d.Parts {
		p.When.Walk(f)
		lines(p.Label)
	}
}
