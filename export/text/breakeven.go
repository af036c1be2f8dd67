package text

import (
	"fmt"
	"io"
	"math"
	"strings"

	"bankwright/engine"
	"bankwright/engine/check"
	"bankwright/engine/sweep"
	"bankwright/engine/unit"
)

// BreakEven writes where two items have the same figure: in sentences, or over a
// second input as a table.
func BreakEven(w io.Writer, m *engine.Model, b *check.BreakEven, ties []sweep.Tie, st Style) {
	heading(w, b.Title, "break-even "+b.Name, st)
	x := tied{m: m, b: b, st: st, w: w, k: m.Compared()}
	if v := x.given(); v == v && (b.Over != nil || len(ties[0].Crossings) == 0) {
		sentence(w, st, "%s is %s as given.", m.CellName(b.Input), m.Text(b.Input.Quantity, v))
	}
	if b.Over != nil {
		x.table(ties)
	} else {
		x.sentences(ties[0])
	}
	x.checks(ties[0])
}

// tied writes a break-even.
type tied struct {
	m  *engine.Model
	b  *check.BreakEven
	st Style
	w  io.Writer
	k  *check.Kind
}

// given is the input where nothing is moved.
func (x *tied) given() float64 {
	return x.m.Result.At(x.b.Input.Quantity, x.b.Input.Item, x.b.Input.Row)
}

// better is who has the better figure by an outcome of a tie: -1 where the figure of
// A is the lower.
func (x *tied) better(t sweep.Tie, outcome int) string {
	switch {
	case outcome == sweep.NoFigure:
		return "none"
	case outcome == sweep.Level:
		return "level"
	case (outcome < 0) == x.k.Compare.Lowest:
		return itemName(x.k, t.A)
	}
	return itemName(x.k, t.B)
}

// more is how many digits more than usual are told of a break-even.
const more = 4

// sentences says where two tie, or that they do not, and where it was looked.
func (x *tied) sentences(t sweep.Tie) {
	for _, s := range x.turns(t) {
		sentence(x.w, x.st, "%s", s)
	}
	if len(t.Crossings) > 0 {
		x.looked(t)
	}
}

// turns are a sentence for each place where two tie, or one that says that they do
// not.
func (x *tied) turns(t sweep.Tie) (out []string) {
	a, b := itemName(x.k, t.A), itemName(x.k, t.B)
	if len(t.Crossings) == 0 {
		return []string{x.absence(t)}
	}
	for i := 0; i < len(t.Crossings); i++ {
		c := t.Crossings[i]
		if c.After == sweep.Level && c.Before != sweep.NoFigure && i+1 < len(t.Crossings) && t.Crossings[i+1].Before == sweep.Level {
			i++
			out = append(out, fmt.Sprintf("%s and %s are level from %s = %s to %s. Below it %s is better, above it %s.", a, b, x.m.CellName(x.b.Input), exactly(x.m, x.b.Input.Quantity, c.At, more), exactly(x.m, x.b.Input.Quantity, t.Crossings[i].At, more), x.better(t, c.Before), x.better(t, t.Crossings[i].After)))
			continue
		}
		out = append(out, x.crossing(t, i))
	}
	return out
}

// Turns says in sentences where two items have the same figure; over a second input,
// at the first and the last of its values at which they do.
func Turns(m *engine.Model, b *check.BreakEven, ties []sweep.Tie) []string {
	x := tied{m: m, b: b, k: m.Compared()}
	if b.Over == nil {
		return x.turns(ties[0])
	}
	var at []int
	for i, t := range ties {
		if len(t.Crossings) > 0 {
			at = append(at, i)
		}
	}
	values, _ := steps(m, b.Over, thinned(b.Over.Steps(), b.Over.Steps()))
	who, over := itemName(x.k, ties[0].A)+" and "+itemName(x.k, ties[0].B), inputs(m, b.Over)
	if len(at) == 0 {
		return []string{fmt.Sprintf("%s are level nowhere from %s to %s, at none of %d values of %s.", who, m.Text(b.Input.Quantity, ties[0].From), m.Text(b.Input.Quantity, ties[0].To), len(ties), over)}
	}
	level := func(i int) string { return exactly(m, b.Input.Quantity, ties[i].Crossings[0].At, more) }
	first, last := at[0], at[len(at)-1]
	s := fmt.Sprintf("%s are level at %s = %s where %s is %s", who, m.CellName(b.Input), level(first), over, x.step(values, first))
	if last != first {
		s += fmt.Sprintf(", and at %s where it is %s", level(last), x.step(values, last))
	}
	if n := len(ties) - len(at); n > 0 {
		s += fmt.Sprintf("; at %d of %d values nowhere", n, len(ties))
	}
	return []string{s + "."}
}

// step is a value of the second input with its unit.
func (x *tied) step(values []string, i int) string {
	_, unit := steps(x.m, x.b.Over, nil)
	return strings.TrimSpace(values[i] + " " + unit)
}

// looked says at how many values it was looked, and whether all of them are told.
func (x *tied) looked(t sweep.Tie) {
	q := x.b.Input.Quantity
	x.cut(t.Cut)
	sentence(x.w, x.st, "%s values from %s to %s were looked at, and more where it turns.", unit.Format(float64(t.Looked), 0), x.m.Text(q, t.From), x.m.Text(q, t.To))
}

// cut says that not all crossings are told.
func (x *tied) cut(more bool) {
	if more {
		sentence(x.w, x.st, "There are more of these: not all of them are followed. Ask for a shorter range.")
	}
}

// where names the input at a value, and how far that is from what is given.
func (x *tied) where(at float64) string {
	return fmt.Sprintf("%s = %s%s", x.m.CellName(x.b.Input), exactly(x.m, x.b.Input.Quantity, at, more), x.away(at))
}

// crossing says what happens at a crossing.
func (x *tied) crossing(t sweep.Tie, i int) string {
	c, by := t.Crossings[i], x.k.Quantity(x.k.Compare.By)
	a, b, where := itemName(x.k, t.A), itemName(x.k, t.B), x.where(c.At)
	switch {
	case c.Touch:
		return fmt.Sprintf("%s and %s touch at %s, without changing places: %s is better on both sides.", a, b, where, x.better(t, c.Before))
	case c.Before == sweep.NoFigure || c.After == sweep.NoFigure:
		return fmt.Sprintf("At %s one of the two loses or gains its figure: better is %s below and %s above.", where, x.better(t, c.Before), x.better(t, c.After))
	case c.Before == sweep.Level && c.At == t.From:
		return fmt.Sprintf("%s and %s are level at %s, where the range begins. Above it %s is better.", a, b, where, x.better(t, c.After))
	case c.After == sweep.Level && c.At == t.To:
		return fmt.Sprintf("%s and %s are level at %s, where the range ends. Below it %s is better.", a, b, where, x.better(t, c.Before))
	case c.Before == sweep.Level:
		return fmt.Sprintf("%s and %s are level up to %s. Above it %s is better.", a, b, where, x.better(t, c.After))
	case c.After == sweep.Level:
		return fmt.Sprintf("%s and %s are level from %s on. Below it %s is better.", a, b, where, x.better(t, c.Before))
	case c.Jump:
		return fmt.Sprintf("%s and %s change places by a jump at %s. Below it %s is better, above it %s. Nowhere are they level.", a, b, where, x.better(t, c.Before), x.better(t, c.After))
	}
	return fmt.Sprintf("%s and %s are level at %s. Below it %s is better, above it %s. Both have a %s of %s there.", a, b, where, x.better(t, c.Before), x.better(t, c.After), by.Label, x.m.Text(by, t.At[i]))
}

// away is how far a value is from that given, in parentheses.
func (x *tied) away(v float64) string {
	if d := x.distance(v); d == d {
		side := "above"
		if d < 0 {
			side = "below"
		}
		return fmt.Sprintf(", %s %s the %s given", size(d), side, x.m.Text(x.b.Input.Quantity, x.given()))
	}
	return ""
}

// distance is by which share a value is above that given; NaN where nothing is.
func (x *tied) distance(v float64) float64 {
	g := x.given()
	if g == 0 || x.b.Input.Quantity.Dim.IsPoint() {
		return math.NaN()
	}
	return (v - g) / math.Abs(g)
}

// absence says that two do not tie, and by how much they differ at the ends.
func (x *tied) absence(t sweep.Tie) string {
	q := x.b.Input.Quantity
	a, b := itemName(x.k, t.A), itemName(x.k, t.B)
	s := fmt.Sprintf("%s and %s are level nowhere from %s to %s; %s values were looked at", a, b, x.m.Text(q, t.From), x.m.Text(q, t.To), unit.Format(float64(t.Looked), 0))
	low, high := t.Ends[0], t.Ends[1]
	if low == 0 && high == 0 {
		return strings.Replace(s, "level nowhere", "level everywhere", 1) + "."
	}
	if low != low || high != high {
		return s + ". One of them has no figure there."
	}
	who := x.better(t, -1)
	if low > 0 {
		who = x.better(t, 1)
	}
	return s + fmt.Sprintf(". %s stays better, by %s of the larger figure at %s and %s at %s.", who, size(low), x.m.Text(q, t.From), size(high), x.m.Text(q, t.To))
}

// table writes a row for each crossing at each value of the second input.
func (x *tied) table(ties []sweep.Tie) {
	over := x.b.Over
	q := x.b.Input.Quantity
	sentence(x.w, x.st, "Where %s and %s are level, between %s and %s:", itemName(x.k, ties[0].A), itemName(x.k, ties[0].B), x.m.Text(q, ties[0].From), x.m.Text(q, ties[0].To))
	fmt.Fprintln(x.w)
	at := thinned(over.Steps(), over.Steps())
	if !x.st.All {
		at = thinned(over.Steps(), mostRows)
	}
	cells, name := steps(x.m, over, at)
	first := tableColumn{head: inputs(x.m, over), unit: name, left: name == ""}
	level, far := tableColumn{head: "level at", unit: unitIn(x.m, q)}, tableColumn{head: "from given", unit: "%"}
	below, above, note := tableColumn{head: "better below", left: true}, tableColumn{head: "and above", left: true}, tableColumn{left: true}
	add := func(step, at, distance, under, over, remark string) {
		first.cells, level.cells, far.cells = append(first.cells, step), append(level.cells, at), append(far.cells, distance)
		below.cells, above.cells, note.cells = append(below.cells, under), append(above.cells, over), append(note.cells, remark)
	}
	digits := 0
	for _, t := range ties {
		for _, c := range t.Crossings {
			digits = max(digits, unit.DecimalsFor([]float64{q.Unit.FromBase(c.At)})+more)
		}
	}
	cut := false
	for i, step := range at {
		t := ties[step]
		cut = cut || t.Cut
		if len(t.Crossings) == 0 {
			who := x.always(t)
			add(cells[i], "-", "-", who, who, "")
		}
		for j, c := range t.Crossings {
			label := cells[i]
			if j > 0 {
				label = ""
			}
			distance := "-"
			if d := x.distance(c.At); d == d {
				distance = unit.Format(100*d, 1)
			}
			add(label, unit.Format(q.Unit.FromBase(c.At), digits), distance, x.better(t, c.Before), x.better(t, c.After), remark(c))
		}
	}
	writeColumns(x.w, fitted([]tableColumn{first, level, far, below, above, note}, x.st.Width), x.st)
	if len(at) < over.Steps() {
		sentence(x.w, x.st, "%s", every(at, over.Steps()))
	}
	x.cut(cut)
	sentence(x.w, x.st, "At each, %s values were looked at, and more where it turns.", unit.Format(float64(ties[0].Looked), 0))
}

// always is who is better where two do not tie.
func (x *tied) always(t sweep.Tie) string {
	switch {
	case t.Ends[0] != t.Ends[0]:
		return "none"
	case t.Ends[0] == 0:
		return x.better(t, sweep.Level)
	case t.Ends[0] < 0:
		return x.better(t, -1)
	}
	return x.better(t, 1)
}

// remark says what is special about a crossing.
func remark(c sweep.Crossing) string {
	switch {
	case c.Touch:
		return "touch"
	case c.Jump:
		return "jump"
	}
	return ""
}

// checks names items that do not pass all checks, since a break-even compares
// figures alone.
func (x *tied) checks(t sweep.Tie) {
	var out []string
	for _, s := range x.m.Compare().Ranked {
		if (s.Item == t.A || s.Item == t.B) && !s.Eligible && s.Figure == s.Figure {
			out = append(out, itemName(x.k, s.Item))
		}
	}
	if len(out) > 0 {
		sentence(x.w, x.st, "Figures alone are compared: as things are given, %s does not pass all checks.", strings.Join(out, " or "))
	}
}
