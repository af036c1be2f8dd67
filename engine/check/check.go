package check

import (
	"bankwright/engine/decl"
	"bankwright/engine/diag"
	"bankwright/engine/formula"
)

// Resolve gives a model its meaning. The program is nil where the diagnostics
// have errors. Formulas with faults are ordered with the names in them that
// could be resolved, so that circles are told beside the other faults.
func Resolve(m *decl.Model) (*Program, diag.List) {
	c := &checker{
		prog:   &Program{Model: m, Axes: m.Axes},
		kinds:  map[*decl.Kind]*Kind{},
		texts:  map[string]int{},
		byName: map[string]*Kind{},
		faulty: map[*Expr]bool{},
	}
	c.build()
	c.formulas()
	c.checks()
	c.questions()
	c.drawings()
	c.comparison()
	c.studies()
	c.order()
	c.amount()
	if c.list.HasErrors() {
		return nil, c.list
	}
	c.absence()
	return c.prog, c.list
}

// checker carries the program that is being built.
type checker struct {
	prog   *Program
	list   diag.List
	kinds  map[*decl.Kind]*Kind
	byName map[string]*Kind // by kind name
	texts  map[string]int
	reads  []*Expr        // what the formula under way reads
	faulty map[*Expr]bool // what stands in the place of a formula with faults: see rule
}

// text interns a text.
func (c *checker) text(s string) float64 {
	i, ok := c.texts[s]
	if !ok {
		i = len(c.prog.Texts)
		c.texts[s] = i
		c.prog.Texts = append(c.prog.Texts, s)
	}
	return float64(i)
}

// build lays out kinds and quantities, so that formulas can refer to any.
func (c *checker) build() {
	for _, dk := range c.prog.Model.Kinds {
		k := &Kind{Kind: dk, Index: len(c.prog.Kinds), Active: map[*decl.Axis]*Expr{}}
		c.prog.Kinds = append(c.prog.Kinds, k)
		c.kinds[dk] = k
		c.byName[dk.Name] = k
		for _, dq := range dk.Quantities {
			q := c.add(dq, k)
			k.Quantities = append(k.Quantities, q)
			for _, choice := range dq.Choices {
				c.text(choice)
			}
		}
	}
	for _, q := range c.prog.Quantities {
		if q.Refers != nil {
			q.To = c.kinds[q.Refers]
		}
		if q.Type == decl.Set && q.Refers != nil {
			q.Axes = []*decl.Axis{c.kindAxis(q.Refers)}
		}
		if q.Quantity.Inverse != nil {
			q.Inverse = q.To.Quantity(q.Quantity.Inverse.Name)
		}
		c.internGiven(q)
	}
	for _, t := range c.prog.Model.Tables {
		for _, row := range t.Rows {
			for i, col := range t.Columns {
				if col.Text {
					c.text(row.Texts[i])
				}
			}
		}
	}
}

// add makes a place for a quantity's values.
func (c *checker) add(dq *decl.Quantity, k *Kind) *Quantity {
	q := &Quantity{Quantity: dq, Index: len(c.prog.Quantities), Kind: k, Dim: dq.Unit.Dim, Axes: dq.Over}
	q.Own = make([]*Expr, len(k.Items))
	c.prog.Quantities = append(c.prog.Quantities, q)
	return q
}

// internGiven makes every text that a file gives known.
func (c *checker) internGiven(q *Quantity) {
	if q.Type != decl.Text {
		return
	}
	for _, it := range q.Kind.Items {
		if g := q.GivenFor(it); g != nil {
			for _, s := range g.Texts {
				c.text(s)
			}
		}
	}
}

// GivenFor is what a file says of q for an item of its kind, or the default;
// nil where neither is there.
func (q *Quantity) GivenFor(it *decl.Item) *decl.Given {
	if g := it.Given[q.Name]; g != nil {
		return g
	}
	return q.Default
}

// OwnFormula is the formula that stands in place of an item's value: the
// scenario's or the default's, or the condition of a combination; nil where
// there is none.
func (q *Quantity) OwnFormula(item int) *decl.Formula {
	it := q.Kind.Items[item]
	if q == q.Kind.Keep {
		return it.Keep
	}
	if g := q.GivenFor(it); g != nil {
		return g.Formula
	}
	return nil
}

// SourceOf is the text that e, one of q's formulas, was read from.
func (q *Quantity) SourceOf(e *Expr) *decl.Formula {
	switch e {
	case q.Value:
		return q.Formula
	case q.Start:
		return q.Quantity.Start
	}
	for i, own := range q.Own {
		if own == e {
			return q.OwnFormula(i)
		}
	}
	return nil
}

// kindAxis is the axis over the items of a kind.
func (c *checker) kindAxis(k *decl.Kind) *decl.Axis {
	for _, a := range c.prog.Axes {
		if a.Kind == k {
			return a
		}
	}
	a := &decl.Axis{Name: k.Name, Title: k.Title, Doc: k.Doc, Kind: k, Steps: len(k.Items), At: k.At}
	c.prog.Axes = append(c.prog.Axes, a)
	return a
}

// formulas resolves the formulas of all quantities.
func (c *checker) formulas() {
	for _, q := range c.prog.Quantities {
		s := &scope{c: c, kind: q.Kind, axes: q.Axes, item: -1}
		if q.Formula != nil {
			q.Value = s.rule(q.Formula, q)
		}
		if q.Quantity.Start != nil {
			c.start(q)
		}
		for i, it := range q.Kind.Items {
			if q.Formula != nil {
				break
			}
			if g := q.GivenFor(it); g != nil && g.Formula != nil {
				own := &scope{c: c, kind: q.Kind, axes: q.Axes, item: i}
				q.Own[i] = own.rule(g.Formula, q)
			}
		}
	}
	c.active()
	c.keeps()
}

// start resolves what a series has before the first step of its last axis.
func (c *checker) start(q *Quantity) {
	if len(q.Axes) == 0 {
		c.list.Errorf(q.Quantity.Start.At, "series", "Say what it runs over, or leave start out.", "%s has a start but is no series", q.Name)
		return
	}
	s := &scope{c: c, kind: q.Kind, axes: q.Axes[:len(q.Axes)-1], item: -1}
	q.Start = s.rule(q.Quantity.Start, q)
}

// active resolves how many steps of an axis each item uses, for every kind
// that has a series over it.
func (c *checker) active() {
	faulty := map[*decl.Formula]bool{} // told once, however many series there are
	for _, q := range c.prog.Quantities {
		for _, a := range q.Axes {
			if a.Active == nil || q.Kind.Active[a] != nil || faulty[a.Active] {
				continue
			}
			s := &scope{c: c, kind: q.Kind, item: -1}
			e := s.formula(a.Active, nil)
			if e != nil && (e.Op != Read || e.Type != decl.Number || !e.Dim.IsNone() || len(e.Ref.Hops) > 0) {
				c.list.Errorf(a.Active.At, "series", "Name a quantity without a unit, of the item itself or of a kind of one.", "the steps in use of %s must be a plain count", a.Name)
				e = nil
			}
			if faulty[a.Active] = e == nil; e != nil {
				q.Kind.Active[a] = e
			}
		}
	}
}

// keeps gives each kind with conditional combinations a Boolean that tells
// which of them stay.
func (c *checker) keeps() {
	faulty := map[*decl.Formula]bool{} // combinations share one condition: its faults are told once
	for _, k := range c.prog.Kinds {
		for i, it := range k.Items {
			if it.Keep == nil || faulty[it.Keep] {
				continue
			}
			if k.Keep == nil {
				k.Keep = c.add(&decl.Quantity{Kind: k.Kind, Name: "keep", Label: "keep", Type: decl.Boolean, At: it.Keep.At}, k)
			}
			s := &scope{c: c, kind: k, item: i}
			k.Keep.Own[i] = s.rule(it.Keep, k.Keep)
			faulty[it.Keep] = c.faulty[k.Keep.Own[i]]
		}
	}
}

// checks resolves conditions and sentences.
func (c *checker) checks() {
	for _, dc := range c.prog.Model.Checks {
		k := c.kinds[dc.Of]
		if k == nil {
			continue
		}
		q := c.add(&decl.Quantity{Kind: dc.Of, Name: dc.Name, Label: dc.Name, Doc: dc.Doc, Source: dc.Source, Type: decl.Boolean, Formula: dc.Require, At: dc.At}, k)
		s := &scope{c: c, kind: k, item: -1}
		q.Value = s.rule(dc.Require, q)
		c.prog.Checks = append(c.prog.Checks, &Check{Check: dc, Result: q, Message: s.sentence(dc.Otherwise, dc.OtherwiseAt)})
	}
}

// questions resolves the sentences that answer questions.
func (c *checker) questions() {
	for _, dq := range c.prog.Model.Questions {
		if k := c.kinds[dq.Of]; k != nil {
			s := &scope{c: c, kind: k, item: -1}
			c.prog.Questions = append(c.prog.Questions, &Question{Question: dq, Kind: k, Sentence: s.sentence(dq.Answer, dq.AnswerAt)})
		}
	}
}

// comparison checks what the compared kind says of its comparison.
func (c *checker) comparison() {
	for _, k := range c.prog.Kinds {
		if k.Compare == nil {
			continue
		}
		by := k.Quantity(k.Compare.By)
		switch {
		case by == nil:
			c.list.Errorf(k.Compare.At, "unknown-name", oneOf(k.Compare.By, "It has ", k.QuantityNames()), "%s has no quantity %s to compare by", k.Name, k.Compare.By)
		case by.Type != decl.Number || len(by.Axes) > 0:
			c.list.Errorf(k.Compare.At, "wrong-kind", "Compare by a single number.", "%s cannot decide the comparison: it is not a single number", by.Name)
		}
		for _, name := range k.Compare.Show {
			if q := k.Quantity(name); q == nil {
				c.list.Errorf(k.Compare.At, "unknown-name", oneOf(name, "It has ", k.QuantityNames()), "%s has no quantity %s to show", k.Name, name)
			} else if len(q.Axes) > 0 || q.Type.Tabular() {
				c.list.Errorf(k.Compare.At, "series", "Show a quantity with one value.", "%s is a series and cannot be shown side by side", name)
			}
		}
		c.shortlisting(k)
		c.charting(k)
		s := &scope{c: c, kind: k, item: -1}
		k.Summary = s.sentence(k.Compare.Summary, k.Compare.At)
		for _, path := range k.Compare.Watch {
			c.watch(k, path, s)
		}
	}
}

// watch resolves the path to an input of which it is said how far it may move.
func (c *checker) watch(k *Kind, path string, s *scope) {
	s.f = &decl.Formula{Text: path, At: k.Compare.At}
	e := s.formula(s.f, nil)
	if e == nil {
		return
	}
	if e.Op != Read {
		c.list.Errorf(k.Compare.At, "wrong-kind", "Write the path to an input.", "`watch` names inputs, and %s is none", path)
		return
	}
	switch q := e.Ref.Target; {
	case q.IsRule():
		c.list.Errorf(k.Compare.At, "wrong-kind", "Name what it follows from.", "%s cannot be watched: it is computed", path)
	case q.Type != decl.Number || len(q.Axes) > 0:
		c.list.Errorf(k.Compare.At, "wrong-kind", "Name a single number.", "%s cannot be watched: it is not a single number", path)
	case q.Whole: // it is moved by shares of itself
		c.list.Errorf(k.Compare.At, "wrong-kind", "Name a number that may have any value.", "%s cannot be watched: it is a whole number and takes none between", path)
	case q.Dim.IsPoint():
		c.list.Errorf(k.Compare.At, "wrong-kind", "Name another input.", "%s cannot be watched: it is a temperature, of which a share means nothing", path)
	default:
		k.Watch = append(k.Watch, e)
	}
}

// problem reports what is wrong with a part of a formula.
func (c *checker) problem(f *decl.Formula, at formula.Span, code, mend, format string, args ...any) {
	c.list.Errorf(f.Pos(at.Start, at.Len), code, mend, format, args...)
}
