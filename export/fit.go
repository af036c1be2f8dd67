package export

import (
	"bankwright/engine/check"
	"bankwright/engine/decl"
)

// longestFormula is how long a formula may be, so that it can be read in one go. A
// longer one is taken apart: what it repeats or nests stands in lines of
// workings of its own.
const longestFormula = 150

// fitting is a formula that is being made to fit: it is translated, measured, and
// translated again with one more of its parts in a line of its own.
type fitting struct {
	apart  map[*check.Expr]bool  // parts that stand in lines of their own
	bundle map[*check.Expr]bool  // parts whose missing values are looked at in a line of their own
	tight  map[*check.Expr]bool  // parts whose way there is looked at in a line of its own
	sizes  map[*check.Expr]int   // how long parts are, as translated last
	needs  map[*check.Expr]int   // how long the conditions are of what is missing of them
	lines  []*working            // in order
	made   map[string]*line      // by what they say
	lifts  map[*check.Expr]*line // figures of a scenario's own formula
}

// working is a line of workings that is not yet on its page.
type working struct {
	line *line
	of   *check.Expr // what it works out, or nil
	path []guard
}

// fitted is the formula of e, as finish completes it, in at most longestFormula
// characters where its parts can be told apart.
func (s *scope) fitted(e *check.Expr, finish func(s *scope) text) text {
	f := &fitting{apart: map[*check.Expr]bool{}, bundle: map[*check.Expr]bool{}, tight: map[*check.Expr]bool{}, lifts: map[*check.Expr]*line{}}
	t := *s
	t.fit = f
	for {
		f.sizes, f.needs, f.lines, f.made = map[*check.Expr]int{}, map[*check.Expr]int{}, nil, map[string]*line{}
		out := finish(&t)
		if !f.shorten(s, e, out) {
			for _, w := range f.lines {
				s.keep(w.line)
			}
			return out
		}
	}
}

// shorten looks for the first formula that is too long, and decides what of it
// will stand apart; false where nothing is left to do.
func (f *fitting) shorten(s *scope, e *check.Expr, out text) bool {
	for _, w := range f.lines {
		if s.lengthOf(w.line) <= longestFormula {
			continue
		}
		roots := []*check.Expr{w.of}
		for _, g := range w.path {
			roots = append(roots, g.of)
		}
		if f.part(roots, w.of) {
			return true
		}
		if w.of != nil && len(w.path) > 0 && !f.tight[w.of] {
			f.tight[w.of] = true
			return true
		}
	}
	return out.length(s.page) > longestFormula && f.part([]*check.Expr{e}, e)
}

// lengthOf is the length of the longest formula of a line of workings.
func (s *scope) lengthOf(l *line) int {
	most := 0
	for j := range max(l.rows, l.across) {
		for _, form := range []func(int, int) text{l.step, l.start} {
			if form != nil {
				most = max(most, form(0, j).length(l.page))
			}
		}
	}
	return most
}

// Sizes of parts, in characters.
const (
	leastPart = 15  // a shorter one is not worth a line
	mostPart  = 110 // a longer one will have to be taken apart itself
)

// part chooses a part of roots that will stand apart: the longest that fits, or
// else the shortest that does not. What is missing goes before.
func (f *fitting) part(roots []*check.Expr, whole *check.Expr) bool {
	for _, r := range roots {
		if !f.bundle[r] && f.needs[r] > mostNeedsText {
			f.bundle[r] = true
			return true
		}
	}
	var best *check.Expr
	better := func(e *check.Expr) bool {
		switch n, old := f.sizes[e], f.sizes[best]; {
		case n < leastPart || f.apart[e]:
			return false
		case best == nil:
			return true
		case old > mostPart:
			return n < old
		default:
			return n > old && n <= mostPart
		}
	}
	var walk func(e *check.Expr)
	walk = func(e *check.Expr) {
		if e == nil {
			return
		}
		if e != whole && divisible(e) && better(e) {
			best = e
		}
		if f.apart[e] && e != whole {
			return
		}
		for _, a := range e.Args {
			walk(a)
		}
	}
	for _, r := range roots {
		walk(r)
	}
	if best == nil {
		return false
	}
	f.apart[best] = true
	return true
}

// divisible reports whether a part can stand in a line of its own.
func divisible(e *check.Expr) bool {
	switch e.Op {
	case check.Literal:
		return e.Type == decl.Text
	case check.Nothing, check.Step, check.Column:
		return false
	}
	return e.Type == decl.Number || e.Type == decl.Boolean || e.Type == decl.Text
}

// isApart reports whether a part stands in a line of its own.
func (s *scope) isApart(e *check.Expr) bool { return s.fit != nil && s.fit.apart[e] }

// measured notes how long a part is, and the conditions of what is missing.
func (s *scope) measured(e *check.Expr, t term) term {
	if s.fit != nil {
		s.fit.sizes[e] = t.text.length(s.page)
		s.fit.needs[e] = 0
		for _, x := range t.needs {
			s.fit.needs[e] += x.length(s.page) + len(`IF(,"",)`)
		}
	}
	return t
}

// mostNeedsText is how many characters the conditions of missing values may take
// before they stand in a line of their own.
const mostNeedsText = 50

// bundled is needs in a line of workings of their own, if e is to have one.
func (s *scope) bundled(e *check.Expr, needs []text) []text {
	if s.fit == nil || !s.fit.bundle[e] {
		return needs
	}
	alone := func(t text) text {
		l := s.work(e, "whether a value is missing", t)
		l.look, l.truth = ComputedText, true
		return cell(s.same(l))
	}
	short := make([]text, len(needs))
	for i, t := range needs {
		if short[i] = t; t.length(s.page) > mostNeedsText {
			short[i] = alone(t)
		}
	}
	for len(short) > 1 {
		n, size := 1, short[0].length(s.page)
		for n < len(short) && size < mostPart-mostNeedsText {
			size += short[n].length(s.page) + len("IF(,TRUE,)")
			n++
		}
		t := short[n-1]
		for i := n - 2; i >= 0; i-- {
			t = join("IF(", short[i], ",TRUE,", t, ")")
		}
		short = append([]text{alone(t)}, short[n:]...)
	}
	return short
}

// neededOnly is t, empty where the part that it serves is not needed.
func (s *scope) neededOnly(of *check.Expr, t text) text {
	out := t
	for i := len(s.path) - 1; i >= 0; i-- {
		g := s.path[i]
		if g.not {
			out = join("IF(", g.cond.text, `,"",`, out, ")")
		} else {
			out = join("IF(", g.cond.text, ",", out, `,"")`)
		}
		out = guarded(out, g.cond.needs)
	}
	if len(s.path) > 1 && out.length(s.page) > longestFormula || len(s.path) > 0 && s.fit.tight[of] {
		return join("IF(", s.needed(of, len(s.path)), ",", t, `,"")`)
	}
	return out
}

// needed is a cell that tells whether the first n conditions on the way hold.
func (s *scope) needed(of *check.Expr, n int) text {
	g := s.path[n-1]
	t := g.cond.text
	if g.not {
		t = join("NOT(", t, ")")
	}
	for i := len(g.cond.needs) - 1; i >= 0; i-- {
		t = join("IF(", g.cond.needs[i], ",FALSE,", t, ")")
	}
	if n > 1 {
		t = join("IF(", s.needed(of, n-1), ",", t, ",FALSE)")
	}
	outer := *s
	outer.path = s.path[:n]
	l := outer.put(nil, line{label: "whether it is needed", look: ComputedText, truth: true, step: func(int, int) text { return t }})
	return cell(s.same(l))
}

// length is about how long the formula will be; places are not known yet, and
// taken to be far down and to the right.
func (t text) length(pg *page) int {
	n := 0
	for _, p := range t {
		if p.ref == nil {
			n += len(p.lit)
		} else {
			n += p.ref.length(pg)
		}
	}
	return n
}

func (r *ref) length(pg *page) int {
	if r.to.name != "" && r.rows == nil && r.item != all && r.last <= r.row {
		return len(r.to.name)
	}
	if r.isColumn() {
		return len(r.to.rangeName)
	}
	l := r.to
	one := len(columnName(itemCol+l.items()-1)) + len("999")
	switch len(l.page.axes) {
	case 0:
	case 1:
		one = len("AA999")
	default:
		one = len("AAA999")
	}
	if r.item != own {
		one++
	}
	if r.rows == nil || r.still {
		one++
	}
	if r.isBlock(pg) {
		n := len(l.blockName) + max(0, len(r.form)-len("{r}"))
		if r.index != nil {
			n += len("INDEX(,0,)") + r.index.length(pg)
		}
		return n
	}
	n, spans := one, 1
	if r.rows != nil {
		list := r.rows(nil, make([]int, len(pg.axes)))
		if spans = len(list); spans > 0 && list[0].from != list[0].to {
			n = 2*one + 1
		}
	}
	if r.last > r.row || r.item == all && l.items() > 1 || r.sub {
		n = 2*one + 1
	}
	if l.page != pg {
		n += len(l.page.quotedName()) + 1
	}
	if r.index != nil {
		n += len("INDEX(,0,)") + r.index.length(pg)
	}
	n += max(0, len(r.form)-len("{r}"))
	return n*spans + spans - 1
}
