package export

import "bankwright/engine/check"

// recordingLine is the place of a recording: its file's name, and how many of its
// rows were used. No formula follows them, since a workbook cannot read the file;
// the sheet Computed tells where they were changed.
func (pl *plan) recordingLine(q *check.Quantity, l line) *line {
	l.rows, l.look, l.unit = 2, InputText, ""
	l.labels = []string{labelOf(q) + ": file", labelOf(q) + ": rows used"}
	l.data = func(item, row int) Cell {
		c := Cell{Style: InputText}
		rec := pl.res.RecordingOf(q, item)
		switch {
		case rec == nil:
		case row == 0:
			c.Value = rec.Name
		default:
			c.Value = number(float64(rec.Report().Rows))
			if k := pl.kept[influenceCell{q, item}]; k != nil {
				c.Style, c.Link = Link, quoteSheet(k.page.name)+"!A1"
			}
		}
		return c
	}
	in := pl.newLine(pl.inputs, l)
	pl.inputs.lines = append(pl.inputs.lines, in)
	return in
}

// recorded are the items of a rule whose cells follow a recording; only tells that
// the formula would be live without it, and that it is the item's own.
func (pl *plan) recorded(q *check.Quantity) (items []int, only bool) {
	has := make([]bool, len(q.Kind.Items))
	only = len(q.Axes) == 0
	q.Value.Walk(func(e *check.Expr) {
		if e.Op != check.Call || e.Fn.Live() {
			return
		}
		if e.Fn.Measure == nil {
			only = false
			return
		}
		r := e.Args[0].Ref
		own := r.Origin == check.Self && len(r.Hops) == 0
		any := false
		for item := range r.Target.Kind.Items {
			given := pl.res.RecordingOf(r.Target, item) != nil
			if live, _ := pl.liveAsk(e, item); live != nil {
				continue
			}
			any = any || given
			if own {
				has[item] = has[item] || given
			}
		}
		only = only && (own || !any)
	})
	for item, given := range has {
		if given {
			items = append(items, item)
		}
	}
	return items, only
}

// freezeSome marks the cells of some items as computed for their recordings.
func (pl *plan) freezeSome(l *line, items []int) {
	if len(items) == 0 {
		return
	}
	l.frozen = map[int]bool{}
	for _, item := range items {
		l.frozen[item] = true
	}
	l.label += computedWord
	l.note = "What was found in a recording and cannot be worked out in cells is computed, not live: see the sheet " + computedName + ". " + l.note
	pl.computed = append(pl.computed, computed{l, own, items})
}

// found is what a function of a recording gives: what the recording's own sheet says,
// where that is live, and nothing where there is no recording. One that is typed in
// later cannot be read, and gives no value.
func (s *scope) found(e *check.Expr) term {
	r := e.Args[0].Ref
	out := term{text: lit("NA()"), prec: precAtom, needs: []text{emptiness(s.cells(r, nil), r)}}
	if l, u := s.brought(e); l != nil {
		x := toBase(term{text: cell(&ref{to: l, item: own}), prec: precAtom}, u)
		x.needs = out.needs
		return x
	}
	return out
}
