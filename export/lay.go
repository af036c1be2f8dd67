package export

import (
	"strings"

	"bankwright/engine/check"
	"bankwright/engine/decl"
)

// layOut gives every quantity a place, and then every formula its text: a text
// may need workings and values brought from elsewhere, which get places too.
func (pl *plan) layOut() {
	for _, k := range pl.prog.Kinds {
		pl.names[k] = pl.newLine(pl.inputs, line{kind: k, only: own, label: titleOf(k), look: Head})
	}
	for _, k := range pl.prog.Kinds {
		for _, q := range k.Quantities {
			pl.put(q)
		}
	}
	pl.defineNames()
	for _, c := range pl.prog.Checks {
		pl.put(c.Result)
	}
	pl.countMissing()
	for _, k := range pl.prog.Kinds {
		section := ""
		for _, q := range k.Quantities {
			head := ""
			if q.IsRule() && q.Section != section {
				head, section = q.Section, q.Section
			}
			pl.formulas(q, head)
		}
	}
	head := map[*check.Kind]bool{}
	for _, c := range pl.prog.Checks {
		title := ""
		if !head[c.Result.Kind] {
			title = "Checks"
		}
		head[c.Result.Kind] = true
		pl.formulas(c.Result, title)
		s := &scope{pl: pl, kind: c.Result.Kind, page: pl.checks, each: own, src: checkLabel(c)}
		pl.sentences[c] = s.told(c.Message)
	}
	pl.lack()
	if k := pl.prog.Compared(); k != nil && len(k.Summary) > 0 {
		s := &scope{pl: pl, kind: k, page: pl.answer, each: own, src: "Above the comparison"}
		pl.summary = s.told(k.Summary)
	}
	pl.answerQuestions()
}

// put gives a quantity a place.
func (pl *plan) put(q *check.Quantity) {
	l := line{
		kind: q.Kind, only: own, q: q, label: labelOf(q), unit: pl.unitName(q.Unit), note: pl.noteOf(q), format: "", look: Computed,
	}
	if q.Type != decl.Number {
		l.unit, l.look = "", ComputedText
	}
	if len(q.Kind.Items) > 0 {
		l.format = pl.format(q)
	}
	switch {
	case len(q.Axes) > 0 && q.Type != decl.Set:
		pl.places[q] = pl.newLine(pl.seriesPage(q.Axes), l)
		if q.Start != nil {
			pl.places[q].page.starts = true
		}
	case q.Inverse != nil:
		pl.places[q] = pl.inverseLine(q, l)
	case q.IsRule():
		pl.places[q] = pl.newLine(pl.pageOf(q), l)
	default:
		pl.places[q] = pl.inputLine(q, l)
	}
}

func (pl *plan) noteOf(q *check.Quantity) string {
	note := strings.TrimSpace(q.Doc + " " + pl.usualNote(q))
	if q.Source != "" {
		note = strings.TrimSpace(note + " Source: " + q.Source + ".")
	}
	return strings.ReplaceAll(note, "..", ".")
}

// formulas translates the formulas of a quantity and puts its line, after those
// of its workings, into the page's order.
func (pl *plan) formulas(q *check.Quantity, head string) {
	l := pl.places[q]
	l.head = head
	pg := l.page
	first := len(pg.lines)
	switch {
	case len(q.Axes) > 0 && q.Type != decl.Set:
		pl.seriesFormulas(q, l)
		pg.lines = append(pg.lines, l)
	case q.Inverse != nil:
		if len(q.To.Items) > 0 {
			pg.lines = append(pg.lines, l)
		}
	case q.IsRule() && pl.freeze(q, l):
		pg.lines = append(pg.lines, l)
	case q.IsRule():
		s := pl.scope(q, pg, q.Formula.Text)
		t := s.fitted(q.Value, func(s *scope) text { return s.whole(q.Value, &q.Unit) })
		l.step = func(item, _ int) text {
			if l.isFrozen(item) {
				return nil
			}
			return t
		}
		pg.lines = append(pg.lines, l)
	default:
		pl.ownFormulas(q, l)
	}
	if first < len(pg.lines) && pg.lines[first] != l {
		pg.lines[first].head, l.head = l.head, ""
	}
}

// scope is where the formula of a quantity stands. Workings go in front of it.
func (pl *plan) scope(q *check.Quantity, pg *page, src string) *scope {
	return &scope{pl: pl, kind: q.Kind, axes: q.Axes, page: pg, src: src, each: own, add: func(l line) *line {
		l.kind, l.only = q.Kind, own
		l.belong(q)
		return pl.newLine(pg, l)
	}, keep: func(w *line) { pg.lines = append(pg.lines, w) }}
}

// belong names workings by the quantity that they belong to and what they find: a step of
// a function, a value of each item that an aggregate takes in, or a part of a formula that
// is too long for one cell.
func (l *line) belong(q *check.Quantity) {
	switch {
	case l.isPart:
		l.finds = "part: " + l.label
	case len(l.labels) > 0:
		l.finds = "of each"
	default:
		l.finds = "step: " + l.label
	}
	l.belongs = labelOf(q)
	l.label = l.belongs + ", " + l.finds
}

// seriesFormulas translates a series: its step, its start, and where its items
// have no more steps in use, emptiness.
func (pl *plan) seriesFormulas(q *check.Quantity, l *line) {
	if pl.freeze(q, l) {
		return
	}
	if q.Start != nil {
		s := pl.seriesScope(q, l.page, q.Quantity.Start.Text, true)
		t := s.fitted(q.Start, func(s *scope) text { return s.inUse(q, true, s.whole(q.Start, &q.Unit)) })
		l.start = func(int, int) text { return t }
	}
	if q.IsRule() {
		s := pl.seriesScope(q, l.page, q.Formula.Text, false)
		t := s.fitted(q.Value, func(s *scope) text { return s.inUse(q, false, s.whole(q.Value, &q.Unit)) })
		l.step = func(int, int) text { return t }
		return
	}
	in := pl.inputSeries(q, l)
	s := pl.seriesScope(q, l.page, "", false)
	c := &ref{to: in, item: own, which: "input", rows: func(out []span, steps []int) []span {
		n := 0
		for i, a := range q.Axes {
			n = n*a.Steps + steps[i]
		}
		return append(out, span{n, n})
	}}
	given := cell(c)
	if q.MayBeAbsent {
		given = guarded(given, []text{join(c, `=""`)})
	}
	given = s.inUse(q, false, given)
	texts := make([]text, len(q.Own))
	for i, e := range q.Own {
		texts[i] = given
		switch {
		case notLive(e):
			pl.freezeItem(l, i)
			texts[i] = nil
		case e != nil:
			src := q.GivenFor(q.Kind.Items[i]).Formula.Text
			o := pl.seriesScope(q, l.page, src, false)
			o.lift = pl.figures(q, i)
			texts[i] = o.fitted(e, func(o *scope) text { return o.inUse(q, false, o.whole(e, &q.Unit)) })
		}
	}
	l.step = func(item, _ int) text { return texts[item] }
}

// seriesScope is the scope of a series' step or start.
func (pl *plan) seriesScope(q *check.Quantity, pg *page, src string, start bool) *scope {
	s := pl.scope(q, pg, src)
	s.add = func(l line) *line {
		l.kind, l.only = q.Kind, own
		l.belong(q)
		form := l.step
		l.step = func(item, j int) text { return s.inUse(q, start, form(item, j)) }
		if start {
			l.start, l.step = l.step, nil
		}
		return pl.newLine(pg, l)
	}
	return s
}

// inUse is t, empty where the current step is beyond those that are in use.
func (s *scope) inUse(q *check.Quantity, start bool, t text) text {
	axes := q.Axes
	if start {
		axes = axes[:len(axes)-1]
	}
	for _, a := range axes {
		n := s.active(&check.Ref{Origin: check.Self, Kind: q.Kind, Target: q}, a)
		if n == nil {
			continue
		}
		l := s.pl.stepInUse(s, q.Kind, a, *n)
		t = join("IF(", cell(s.same(l)), ",", t, `,"")`)
	}
	return t
}

// stepInUse is the block of a page of series that tells whether a step of an axis
// is in use, for each item of a kind; n is how many are.
func (pl *plan) stepInUse(s *scope, k *check.Kind, a *decl.Axis, n term) *line {
	key := inUseKey{s.page, k, a}
	if l := pl.inUse[key]; l != nil {
		return l
	}
	t := join(s.count(a), "<=", n.paren(precProduct), "*(1+tolerance)")
	for _, need := range n.needs {
		t = join("IF(", need, ",FALSE,", t, ")")
	}
	form := func(int, int) text { return t }
	l := pl.newLine(s.page, line{kind: k, only: own, label: upperFirst(spaced(a.Name)) + " in use", look: ComputedText, truth: true, step: form})
	if a != s.page.axes[len(s.page.axes)-1] {
		l.start = form
	}
	pl.inUse[key] = l
	s.page.lines = append(s.page.lines, l)
	return l
}

type inUseKey struct {
	page *page
	kind *check.Kind
	axis *decl.Axis
}

// ownFormulas translates what a scenario gives as formulas in place of values.
func (pl *plan) ownFormulas(q *check.Quantity, l *line) {
	texts := map[int]text{}
	for i, e := range q.Own {
		switch {
		case e == nil:
			continue
		case notLive(e):
			pl.freezeItem(l, i)
			continue
		}
		s := pl.scope(q, pl.inputs, q.GivenFor(q.Kind.Items[i]).Formula.Text)
		s.add = func(w line) *line {
			w.kind, w.only = q.Kind, i
			return pl.newLine(pl.inputs, w)
		}
		s.keep = func(w *line) { pl.extra[q.Kind] = append(pl.extra[q.Kind], w) }
		s.lift = pl.figures(q, i)
		texts[i] = s.fitted(e, func(s *scope) text { return s.whole(e, &q.Unit) })
	}
	if len(texts) > 0 {
		l.step = func(item, _ int) text { return texts[item] }
	}
}

// figures lifts the figures of a scenario's own formula into inputs of their
// own, below the inputs of the kind.
func (pl *plan) figures(q *check.Quantity, item int) func(*check.Expr) *line {
	n := 0
	return func(e *check.Expr) *line {
		n++
		label := "Figure in the formula of " + lowerFirst(labelOf(q))
		if n > 1 {
			label += ", " + number(float64(n))
		}
		return pl.addExtra(q.Kind, line{kind: q.Kind, only: item, figureOf: q, figure: e, label: label, look: Input,
			data: func(int, int) Cell { return Cell{Value: e.Num, Style: Input} }})
	}
}

func (pl *plan) addExtra(k *check.Kind, l line) *line {
	w := pl.newLine(pl.inputs, l)
	pl.extra[k] = append(pl.extra[k], w)
	return w
}
