package export

import (
	"bankwright/engine/check"
	"bankwright/engine/decl"
	"bankwright/engine/unit"
)

// mostAssumptions is how many inputs the first sheet shows.
const mostAssumptions = 10

// chosenInputs are inputs of one-kinds to show on the first sheet: those that
// the comparison's summary names, then those that the deciding figure depends
// on, what the scenario gives first.
func (a *answer) chosenInputs() []*check.Quantity {
	var candidates, named, given, other []*check.Quantity
	for _, part := range a.k.Summary {
		if part.Read != nil {
			candidates = append(candidates, part.Read.Ref.Target)
		}
	}
	summary := len(candidates)
	seen := map[*check.Quantity]bool{}
	for i, q := range append(candidates, reached(a.by)...) {
		if seen[q] {
			continue
		}
		seen[q] = true
		l := a.pl.places[q]
		if q.Kind.Many || q.Kind.Name == "constant" || q.IsRule() || l.row == 0 || l.page != a.pl.inputs || l.rows != 1 {
			continue
		}
		switch {
		case i < summary:
			named = append(named, q)
		case q.Kind.Items[0].Given[q.Name] != nil:
			given = append(given, q)
		default:
			other = append(other, q)
		}
	}
	list := append(append(named, given...), other...)
	return list[:min(len(list), mostAssumptions)]
}

// assumptions shows chosen inputs, each with a link to its cell.
func (a *answer) assumptions() {
	if a.by == nil {
		return
	}
	list := a.chosenInputs()
	if len(list) == 0 {
		return
	}
	a.s.text(a.row, labelCol, "What was assumed", Section)
	a.row++
	for _, q := range list {
		l := a.pl.places[q]
		link := "Inputs!" + cellName(l.row, l.col)
		a.s.Set(a.row, labelCol, Cell{Value: l.label, Style: Link, Link: link})
		a.unitOf(a.row, l)
		form := cell(&ref{to: l, item: 0}).at(spot{page: a.page})
		form = "IFERROR(IF(" + form + `="",` + noValue + "," + form + ")," + noValue + ")"
		a.s.Set(a.row, itemCol, Cell{Formula: form, Style: pulledLook(q), Format: l.format, Typed: true})
		a.row++
	}
	a.prices()
	a.row++
}

// prices shows what each compared item pays for what it refers to: the prices
// that its formulas bring to its sheet.
func (a *answer) prices() {
	pg := a.pl.rules[a.k]
	if pg == nil {
		return
	}
	for _, l := range pg.pulled {
		if l.of == nil || l.of.IsRule() || l.of.Type != decl.Number || l.of.Dim != unit.Money {
			continue
		}
		a.s.Set(a.row, labelCol, Cell{Value: l.label, Style: Link, Link: quoteSheet(pg.name) + "!" + cellName(l.row, l.col)})
		a.unitOf(a.row, l)
		for i := range a.k.Items {
			t := cell(&ref{to: l, item: own})
			t = a.pl.unless(a.k, join("IF(", t, `="",`, noValue, ",", t, ")"), noValue)
			a.s.Set(a.row, itemCol+i, Cell{Formula: t.at(spot{page: a.page, item: i}), Style: Pulled, Format: l.format, Typed: true})
		}
		a.row++
	}
}

// reached is every quantity that q's formula needs, in order of discovery.
func reached(q *check.Quantity) []*check.Quantity {
	seen := map[*check.Quantity]bool{q: true}
	queue := []*check.Quantity{q}
	add := func(t *check.Quantity) {
		if t != nil && !seen[t] {
			seen[t] = true
			queue = append(queue, t)
		}
	}
	for n := 0; n < len(queue); n++ {
		visit := func(e *check.Expr) {
			if e.Ref != nil {
				add(e.Ref.Target)
				for _, h := range e.Ref.Hops {
					add(h)
				}
			}
			if e.Fold != nil && e.Fold.Set != nil {
				add(e.Fold.Set.Target)
			}
		}
		queue[n].Value.Walk(visit)
		queue[n].Start.Walk(visit)
		for _, o := range queue[n].Own {
			o.Walk(visit)
		}
	}
	return queue[1:]
}
