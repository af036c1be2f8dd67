package export

import (
	"fmt"

	"bankwright/engine/check"
	"bankwright/engine/decl"
)

// A workbook lets people blank what the engine insists on. A blank cell counts
// as 0 in formulas, so a figure would come out that nobody should trust. Here
// it is counted what is missing, on the page of inputs for each item, and on
// the pages of rules for each item together with all that it needs.

// required reports whether an input's cells must be filled.
func required(q *check.Quantity) bool { return q != nil && !q.IsRule() && !q.MayBeAbsent }

// instead is the input that may be given in place of q, nil where there is none.
func instead(q *check.Quantity) *check.Quantity {
	if q == nil || q.IsRule() || q.Unless == nil {
		return nil
	}
	return q.Kind.Quantity(q.Unless.Name)
}

// wanted reports whether an input's cells must be filled, if only where another
// input is blank.
func wanted(q *check.Quantity) bool { return required(q) || instead(q) != nil }

// countMissing gives every kind with required inputs a line that counts, for
// each item, those that are blank.
func (pl *plan) countMissing() {
	for _, k := range pl.prog.Kinds {
		needed := false
		for _, q := range k.Quantities {
			if len(k.Items) > 0 && q.Type == decl.Points && !q.IsRule() {
				pl.pointsOf(q)
			}
			needed = needed || wanted(q)
		}
		if !needed || len(k.Items) == 0 {
			continue
		}
		pl.missing[k] = pl.newLine(pl.inputs, line{kind: k, only: own, label: "Inputs missing", look: Computed, format: "0"})
	}
}

// blankTerms count the blank cells among an item's required inputs, those that
// stand below each other together; rows must have their places. A blank cell that
// stands for an error value elsewhere does no harm to the others.
func (pl *plan) blankTerms(k *check.Kind) []text {
	var out []text
	var first, last *line
	flush := func() {
		if first != nil {
			out = append(out, join("COUNTBLANK(", &ref{to: first, item: own, last: last.row + last.rows - 1 - first.row}, ")"))
		}
		first = nil
	}
	for _, l := range pl.inputsOf(k) {
		switch {
		case instead(l.q) != nil:
			flush()
			for r := range l.rows {
				out = append(out, join("COUNTBLANK(", &ref{to: l, item: own, row: r}, ")*COUNTBLANK(", &ref{to: pl.insteadLine(l.q), item: own, row: r}, ")"))
			}
		case !required(l.q) || l.rows == 0:
			flush()
		case l.q.Type == decl.Points:
			flush()
			out = append(out, join("COUNTBLANK(", &ref{to: pl.pointsOf(l.q).sorted[0], item: own}, ")"))
		case first == nil || l.row != last.row+last.rows:
			flush()
			first, last = l, l
		default:
			last = l
		}
	}
	flush()
	return out
}

// sum gives a line the sum of terms; where they are too many for one formula, its
// first row adds up the rows below, which hold as many together as can be.
func (pl *plan) sum(l *line, terms []text) {
	var parts []text
	for _, t := range terms {
		if n := len(parts); n > 0 && parts[n-1].length(l.page)+t.length(l.page) < longestFormula {
			parts[n-1] = join(parts[n-1], "+", t)
		} else {
			parts = append(parts, t)
		}
	}
	if len(parts) == 0 {
		parts = []text{lit("0")}
	}
	if len(parts) == 1 {
		l.step = func(int, int) text { return parts[0] }
		return
	}
	l.rows = 1 + len(parts)
	l.labels = []string{"in all"}
	for i := range parts {
		l.labels = append(l.labels, "part "+number(float64(i+1)))
	}
	l.step = func(_, r int) text {
		if r > 0 {
			return parts[r-1]
		}
		return join("SUM(", &ref{to: l, item: own, row: 1, last: len(parts)}, ")")
	}
}

// insteadLine is where the input stands that may be given in place of q.
func (pl *plan) insteadLine(q *check.Quantity) *line {
	for _, l := range pl.inputsOf(q.Kind) {
		if l.q == instead(q) {
			return l
		}
	}
	pl.fail("%s.%s has no place on the sheet Inputs", q.Kind.Name, q.Unless.Name)
	return pl.place(q)
}

// way leads from an item to where an input is read: an origin and references.
type way struct {
	every bool // all items of the kind
	from  check.Origin
	kind  *check.Kind
	item  int
	hops  []*check.Quantity
}

// along is where a reference of a formula leads that stands at the end of w.
func (w way) along(r *check.Ref) way {
	switch r.Origin {
	case check.One, check.Fixed:
		w = way{from: r.Origin, kind: r.Kind, item: r.Item}
	case check.Each, check.AxisItem:
		w = way{every: true, kind: r.Kind}
	}
	for _, h := range r.Hops {
		if w.every {
			w.kind = h.To
			continue
		}
		w.hops = append(append([]*check.Quantity(nil), w.hops...), h)
	}
	return w
}

func (w way) key() string { return fmt.Sprint(w.every, w.from, w.item) + hopKey(w.kind, w.hops, "") }

// ways are the ways from an item of k to the wanted inputs that quantities of
// k need, in order of discovery.
func (pl *plan) ways(k *check.Kind, roots []*check.Quantity) []way {
	var out []way
	seen, found := map[string]bool{}, map[string]bool{}
	var visit func(q *check.Quantity, w way)
	visit = func(q *check.Quantity, w way) {
		key := w.key()
		if at := fmt.Sprint(q.Index, key); seen[at] {
			return
		} else {
			seen[at] = true
		}
		if wanted(q) && pl.missing[q.Kind] != nil && !found[key] {
			found[key] = true
			out = append(out, w)
		}
		eachRef(q, func(r *check.Ref) {
			to := w.along(r)
			visit(r.Target, to)
			for i, h := range r.Hops {
				part := *r
				part.Hops = r.Hops[:i]
				visit(h, w.along(&part))
			}
		})
	}
	for _, q := range roots {
		visit(q, way{from: check.Self, kind: k})
	}
	return out
}

// eachRef calls f for every reference that the value of q follows from.
func eachRef(q *check.Quantity, f func(*check.Ref)) {
	visit := func(e *check.Expr) {
		if e.Ref != nil {
			f(e.Ref)
		}
		if e.Fold != nil && e.Fold.Set != nil {
			f(e.Fold.Set)
		}
	}
	if q.Inverse != nil {
		f(&check.Ref{Origin: check.Each, Kind: q.To, Target: q.Inverse})
	}
	q.Value.Walk(visit)
	q.Start.Walk(visit)
	for _, o := range q.Own {
		o.Walk(visit)
	}
	for _, a := range q.Axes {
		q.Kind.Active[a].Walk(visit)
	}
}

// lack gives the kinds that are compared or checked a line that counts what is
// missing of all that an item needs.
func (pl *plan) lack() {
	for _, k := range pl.prog.Kinds {
		if len(k.Items) == 0 {
			continue
		}
		var roots []*check.Quantity
		for _, c := range pl.checksOf(k) {
			roots = append(roots, c.Result)
		}
		if k == pl.prog.Compared() {
			for _, name := range k.Compare.Show {
				roots = append(roots, k.Quantity(name))
			}
			roots = append(roots, k.Quantity(k.Compare.By))
		}
		pg := pl.rulePage(k)
		terms := pl.lacks(pl.ways(k, roots))
		if len(terms) == 0 {
			continue
		}
		pl.lacking[k] = pl.newLine(pg, line{kind: k, only: own, head: "Inputs", label: "Inputs missing, own and needed", look: Computed, format: "0",
			note: "how many inputs are blank that must not be, here and in what is referred to; 0 where all is well"})
		pl.sum(pl.lacking[k], terms)
		pg.lines = append(pg.lines, pl.lacking[k])
	}
}

// lacks are how much is missing along ways.
func (pl *plan) lacks(ways []way) []text {
	var out []text
	looked := map[*line]bool{}
	for _, w := range ways {
		at := own
		switch w.from {
		case check.One:
			at = 0
		case check.Fixed:
			at = w.item
		}
		switch n := len(w.hops); {
		case w.every:
			out = append(out, join("SUM(", &ref{to: pl.missing[w.kind], item: all}, ")"))
		case n == 0:
			out = append(out, cell(&ref{to: pl.missing[w.kind], item: at}))
		default:
			row, position := &ref{to: pl.missing[w.hops[n-1].To], item: all}, pl.position(w.kind, w.hops)
			out = append(out, join("IFERROR(INDEX(", row, ",", &ref{to: position, item: at}, "),0)"))
			if t := pl.astray[position]; t != nil && at == own && !looked[position] {
				looked[position] = true
				out = append(out, t)
			}
		}
	}
	return out
}

// unless is t for an item of which nothing is missing, and other where
// something is or where t is an error value.
func (pl *plan) unless(k *check.Kind, t text, other string) text {
	t = join("IFERROR(", t, ","+other+")")
	if l := pl.lacking[k]; l != nil {
		t = join("IF(", &ref{to: l, item: own}, ">0,"+other+",", t, ")")
	}
	return t
}

// warn repeats on a sheet what the first says is missing, in a row of its head that is
// free. The cell is no link: openpyxl reads the target of one as the value of a cell
// whose own is empty.
func (pl *plan) warn(s *Sheet) {
	if pl.warning == "" {
		return
	}
	for row := warnRow; row <= lastWarnRow; row++ {
		if s.At(row, labelCol) == (Cell{}) {
			s.Set(row, labelCol, Cell{Formula: pl.warning, Style: Alert})
			return
		}
	}
}

// Rows below the title of a sheet and what it says of itself, of which one is free.
const (
	warnRow     = 3
	lastWarnRow = 4
)
