package told

import (
	"fmt"
	"math"
	"strings"

	"bankwright/engine"
	"bankwright/engine/check"
	"bankwright/engine/sweep"
	"bankwright/engine/unit"
)

// Tie says where two items have the same figure.
type Tie struct {
	Words
	F engine.FoundBreakEven
	K *check.Kind
	// More is how many digits more than usual are told of where they are level.
	More int
}

// NewTie is what is said of a break-even, where its value is asked for.
func NewTie(w Words, f engine.FoundBreakEven) *Tie {
	return &Tie{Words: w, F: f, K: w.M.Compared(), More: 4}
}

// given is the input where nothing is moved.
func (x *Tie) given() float64 {
	return x.M.Result.At(x.F.Input.Quantity, x.F.Input.Item, x.F.Input.Row)
}

// Given says what the input is where nothing is moved, unless other sentences do; "" if
// it is not given.
func (x *Tie) Given() string {
	v := x.given()
	if v != v || x.F.Over == nil && len(x.F.Ties[0].Crossings) > 0 {
		return ""
	}
	return fmt.Sprintf("%s is %s as given.", x.Name(x.F.Input), x.M.Text(x.F.Input.Quantity, v))
}

// Better is who has the better figure by an outcome of a tie: -1 where the figure of A
// is the lower.
func (x *Tie) Better(t sweep.Tie, outcome int) string {
	switch {
	case outcome == sweep.NoFigure:
		return "none"
	case outcome == sweep.Level:
		return "level"
	case (outcome < 0) == x.K.Compare.Lowest:
		return Item(x.K, t.A)
	}
	return Item(x.K, t.B)
}

// Sentences say where two tie, or that they do not, and where it was looked.
func (x *Tie) Sentences(t sweep.Tie) []string {
	if len(t.Crossings) == 0 {
		return x.turns(t)
	}
	return append(x.turns(t), x.Looked(t)...)
}

// Turns say where two have the same figure; over a second input, at the first and the
// last of its values at which they do.
func (x *Tie) Turns() []string {
	ties, over := x.F.Ties, x.F.Over
	if over == nil {
		return x.turns(ties[0])
	}
	var at []int
	for i, t := range ties {
		if len(t.Crossings) > 0 {
			at = append(at, i)
		}
	}
	values, in := x.Steps(over, Thinned(over.Steps(), over.Steps()))
	step := func(i int) string { return strings.TrimSpace(values[i] + " " + in) }
	who, along, q := Item(x.K, ties[0].A)+" and "+Item(x.K, ties[0].B), x.Inputs(over), x.F.Input.Quantity
	if len(at) == 0 {
		return []string{fmt.Sprintf("%s are level nowhere from %s to %s, at none of %d values of %s.", who, x.M.Text(q, ties[0].From), x.M.Text(q, ties[0].To), len(ties), along)}
	}
	level := func(i int) string { return x.Exactly(q, ties[i].Crossings[0].At, x.More) }
	first, last := at[0], at[len(at)-1]
	s := fmt.Sprintf("%s are level at %s = %s where %s is %s", who, x.Name(x.F.Input), level(first), along, step(first))
	if last != first {
		s += fmt.Sprintf(", and at %s where it is %s", level(last), step(last))
	}
	if n := len(ties) - len(at); n > 0 {
		s += fmt.Sprintf("; at %d of %d values nowhere", n, len(ties))
	}
	return []string{s + "."}
}

// turns are a sentence for each place where two tie, or one that says that they do not.
func (x *Tie) turns(t sweep.Tie) (out []string) {
	if len(t.Crossings) == 0 {
		return []string{x.absence(t)}
	}
	a, b, q := Item(x.K, t.A), Item(x.K, t.B), x.F.Input.Quantity
	for i := 0; i < len(t.Crossings); i++ {
		c := t.Crossings[i]
		if c.After == sweep.Level && c.Before != sweep.NoFigure && i+1 < len(t.Crossings) && t.Crossings[i+1].Before == sweep.Level {
			i++
			out = append(out, fmt.Sprintf("%s and %s are level from %s = %s to %s. Below it %s is better, above it %s.", a, b, x.Name(x.F.Input), x.Exactly(q, c.At, x.More), x.Exactly(q, t.Crossings[i].At, x.More), x.Better(t, c.Before), x.Better(t, t.Crossings[i].After)))
			continue
		}
		out = append(out, x.crossing(t, i))
	}
	return out
}

// Looked says at how many values it was looked, and whether not all crossings are told.
func (x *Tie) Looked(t sweep.Tie) (out []string) {
	if t.Cut {
		out = append(out, Cut)
	}
	q := x.F.Input.Quantity
	return append(out, fmt.Sprintf("%s values from %s to %s were looked at, and more where it turns.", Count(t.Looked), x.M.Text(q, t.From), x.M.Text(q, t.To)))
}

// Cut says that not all crossings are told.
const Cut = "There are more of these: not all of them are followed. Ask for a shorter range."

// where names the input at a value, and how far that is from what is given.
func (x *Tie) where(at float64) string {
	return fmt.Sprintf("%s = %s%s", x.Name(x.F.Input), x.Exactly(x.F.Input.Quantity, at, x.More), x.away(at))
}

// crossing says what happens at a crossing.
func (x *Tie) crossing(t sweep.Tie, i int) string {
	c, by := t.Crossings[i], x.K.Quantity(x.K.Compare.By)
	a, b, where := Item(x.K, t.A), Item(x.K, t.B), x.where(c.At)
	switch {
	case c.Touch:
		return fmt.Sprintf("%s and %s touch at %s, without changing places: %s is better on both sides.", a, b, where, x.Better(t, c.Before))
	case c.Before == sweep.NoFigure || c.After == sweep.NoFigure:
		return fmt.Sprintf("At %s one of the two loses or gains its figure: better is %s below and %s above.", where, x.Better(t, c.Before), x.Better(t, c.After))
	case c.Before == sweep.Level && c.At == t.From:
		return fmt.Sprintf("%s and %s are level at %s, where the range begins. Above it %s is better.", a, b, where, x.Better(t, c.After))
	case c.After == sweep.Level && c.At == t.To:
		return fmt.Sprintf("%s and %s are level at %s, where the range ends. Below it %s is better.", a, b, where, x.Better(t, c.Before))
	case c.Before == sweep.Level:
		return fmt.Sprintf("%s and %s are level up to %s. Above it %s is better.", a, b, where, x.Better(t, c.After))
	case c.After == sweep.Level:
		return fmt.Sprintf("%s and %s are level from %s on. Below it %s is better.", a, b, where, x.Better(t, c.Before))
	case c.Jump:
		return fmt.Sprintf("%s and %s change places by a jump at %s. Below it %s is better, above it %s. Nowhere are they level.", a, b, where, x.Better(t, c.Before), x.Better(t, c.After))
	}
	return fmt.Sprintf("%s and %s are level at %s. Below it %s is better, above it %s. Both have a %s of %s there.", a, b, where, x.Better(t, c.Before), x.Better(t, c.After), by.Label, x.M.Text(by, t.At[i]))
}

// away is how far a value is from that given, in parentheses.
func (x *Tie) away(v float64) string {
	if d := x.Distance(v); d == d {
		side := "above"
		if d < 0 {
			side = "below"
		}
		return fmt.Sprintf(", %s %s the %s given", Size(d), side, x.M.Text(x.F.Input.Quantity, x.given()))
	}
	return ""
}

// Distance is by which share a value is above that given; NaN where nothing is.
func (x *Tie) Distance(v float64) float64 {
	g := x.given()
	if g == 0 || x.F.Input.Quantity.Dim.IsPoint() {
		return math.NaN()
	}
	return (v - g) / math.Abs(g)
}

// absence says that two do not tie, and by how much they differ at the ends.
func (x *Tie) absence(t sweep.Tie) string {
	q := x.F.Input.Quantity
	a, b := Item(x.K, t.A), Item(x.K, t.B)
	s := fmt.Sprintf("%s and %s are level nowhere from %s to %s; %s values were looked at", a, b, x.M.Text(q, t.From), x.M.Text(q, t.To), Count(t.Looked))
	low, high := t.Ends[0], t.Ends[1]
	if low == 0 && high == 0 {
		return strings.Replace(s, "level nowhere", "level everywhere", 1) + "."
	}
	if low != low || high != high {
		return s + ". One of them has no figure there."
	}
	who := x.Better(t, -1)
	if low > 0 {
		who = x.Better(t, 1)
	}
	return s + fmt.Sprintf(". %s stays better, by %s of the larger figure at %s and %s at %s.", who, Size(low), x.M.Text(q, t.From), Size(high), x.M.Text(q, t.To))
}

// Lead says what a table over a second input shows.
func (x *Tie) Lead() string {
	t, q := x.F.Ties[0], x.F.Input.Quantity
	return fmt.Sprintf("Where %s and %s are level, between %s and %s:", Item(x.K, t.A), Item(x.K, t.B), x.M.Text(q, t.From), x.M.Text(q, t.To))
}

// EachLooked says at how many values it was looked for each of a second input.
func (x *Tie) EachLooked() string {
	return fmt.Sprintf("At each, %s values were looked at, and more where it turns.", Count(x.F.Ties[0].Looked))
}

// Digits is how many decimals are told of where two tie, in the unit of the input.
func (x *Tie) Digits() int {
	digits, q := 0, x.F.Input.Quantity
	for _, t := range x.F.Ties {
		for _, c := range t.Crossings {
			digits = max(digits, unit.DecimalsFor([]float64{q.Unit.FromBase(c.At)})+x.More)
		}
	}
	return digits
}

// Always is who is better where two do not tie.
func (x *Tie) Always(t sweep.Tie) string {
	switch {
	case t.Ends[0] != t.Ends[0]:
		return "none"
	case t.Ends[0] == 0:
		return x.Better(t, sweep.Level)
	case t.Ends[0] < 0:
		return x.Better(t, -1)
	}
	return x.Better(t, 1)
}

// Remark says in a word what is special about a crossing.
func Remark(c sweep.Crossing) string {
	switch {
	case c.Touch:
		return "touch"
	case c.Jump:
		return "jump"
	}
	return ""
}

// Checks names items that do not pass all checks, since a break-even compares figures
// alone; "" where both do.
func (x *Tie) Checks() string {
	t := x.F.Ties[0]
	var out []string
	for _, s := range x.M.Compare().Ranked {
		if (s.Item == t.A || s.Item == t.B) && !s.Eligible && s.Figure == s.Figure {
			out = append(out, Item(x.K, s.Item))
		}
	}
	if len(out) == 0 {
		return ""
	}
	return fmt.Sprintf("Figures alone are compared: as things are given, %s does not pass all checks.", strings.Join(out, " or "))
}
