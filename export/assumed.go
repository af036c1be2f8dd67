package export

import (
	"slices"

	"bankwright/engine/check"
	"bankwright/engine/decl"
	"bankwright/engine/unit"
)

// Of inputs that were assumed the first sheet shows so many, of prices among them so
// many.
const (
	mostAssumptions = 7
	mostPrices      = 2
)

// chosenInputs are inputs of one-kinds to show on the first sheet: those that
// the comparison's summary names or that are watched, then those that the deciding
// figure depends on, what the scenario gives first.
func (a *answer) chosenInputs() []*check.Quantity {
	var candidates, named, given, other []*check.Quantity
	for _, part := range a.k.Summary {
		if part.Read != nil {
			candidates = append(candidates, part.Read.Ref.Target)
		}
	}
	for _, e := range a.k.Watch {
		candidates = append(candidates, e.Ref.Target)
	}
	asked := len(candidates)
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
		case i < asked:
			named = append(named, q)
		case q.Kind.Items[0].Given[q.Name] != nil:
			given = append(given, q)
		default:
			other = append(other, q)
		}
	}
	return append(append(named, given...), other...)
}

// assumptions are rows of chosen inputs, each with a link to its cell.
func (a *answer) assumptions() []func(row int) {
	out := a.prices()
	list := a.chosenInputs()
	for _, q := range list[:min(len(list), mostAssumptions-len(out))] {
		l := a.pl.places[q]
		form := cell(&ref{to: l, item: 0}).at(spot{page: a.page})
		form = "IFERROR(IF(" + form + `="",` + noValue + "," + form + ")," + noValue + ")"
		out = append(out, a.assumed(l, l, l.label, Cell{Formula: form, Style: pulledLook(q), Format: l.format, Typed: true}))
	}
	return out
}

// assumed is the row of an input that leads to where it is typed, or to the label of the
// row where there is one for each of several items; the line is where its value is taken
// from.
func (a *answer) assumed(typed, l *line, label string, c Cell) func(row int) {
	col := typed.col
	if typed.items() > 1 {
		col = labelCol // which of them is best may change
	}
	return func(row int) {
		a.s.Set(row, labelCol, Cell{Value: label, Style: Link, Link: quoteSheet(typed.page.name) + "!" + cellName(typed.row, col)})
		a.unitOf(row, l)
		a.s.Set(row, itemCol, c)
	}
}

// prices are rows of what the best pays for what it refers to: the prices that the
// formulas bring to the sheet of the kind, those that are watched first.
func (a *answer) prices() []func(row int) {
	pg := a.pl.rules[a.k]
	if pg == nil {
		return nil
	}
	watched := func(l *line) bool {
		return slices.ContainsFunc(a.k.Watch, func(e *check.Expr) bool { return e.Ref.Target == l.of })
	}
	var list []*line
	for _, l := range pg.pulled {
		if l.of != nil && !l.of.IsRule() && l.of.Type == decl.Number && (l.of.Dim == unit.Money || watched(l)) {
			list = append(list, l)
		}
	}
	slices.SortStableFunc(list, func(x, y *line) int { return btoi(watched(y)) - btoi(watched(x)) })
	best := workingsName + "!" + a.figureAt(a.work.rows.best)
	var out []func(row int)
	for _, l := range list[:min(len(list), mostPrices)] {
		n := number(float64(l.row))
		cells := quoteSheet(pg.name) + "!$" + columnName(l.col) + "$" + n + ":$" + columnName(l.col+len(a.k.Items)-1) + "$" + n
		value := "INDEX(" + cells + "," + best + ")"
		out = append(out, a.assumed(a.pl.places[l.of], l, l.label+" (of the best)", Cell{Formula: "IFERROR(IF(" + value + `="",` + noValue + "," + value + ")," + noValue + ")", Style: Pulled, Format: l.format, Typed: true}))
	}
	return out
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
