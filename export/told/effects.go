package told

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"bankwright/engine/check"
	"bankwright/engine/eval"
	"bankwright/engine/sweep"
	"bankwright/engine/unit"
)

// Effects says what each input does to the figure of the winner when it alone is moved.
type Effects struct {
	Words
	E      *sweep.Effects
	K      *check.Kind
	By     *check.Quantity // what decides
	Moving int             // how many inputs move the figure; they stand first
}

// NewEffects is what is said of effects.
func NewEffects(w Words, e *sweep.Effects) *Effects {
	k := w.M.Compared()
	x := &Effects{Words: w, E: e, K: k, By: k.Quantity(k.Compare.By)}
	if x.Moving = slices.IndexFunc(e.All, func(e sweep.Effect) bool { return e.Swing() == 0 }); x.Moving < 0 {
		x.Moving = len(e.All)
	}
	return x
}

// Moved says how inputs were moved, by a share.
func Moved(share float64) string {
	return "each input alone, " + unit.Format(100*share, -1) + " % down and up"
}

// Base says what the figure is with nothing moved, and whether nothing moves it. False
// where there is no figure, or nothing more to tell of what moves it.
func (x *Effects) Base() ([]string, bool) {
	winner := Item(x.K, x.E.Winner)
	if x.E.Figure != x.E.Figure {
		return []string{fmt.Sprintf("%s has no %s, so that nothing can be said of what moves it.", winner, x.By.Label)}, false
	}
	out := []string{fmt.Sprintf("With nothing moved the %s of %s is %s.", x.By.Label, winner, x.M.Text(x.By, x.E.Figure))}
	if x.Moving == 0 {
		out = append(out, fmt.Sprintf("None of the %s inputs moves it.", Count(len(x.E.All))))
	}
	return out, x.Moving > 0
}

// Digits is how many decimals figures at both ends share.
func (x *Effects) Digits(shown []sweep.Effect) int {
	var figures []float64
	for _, e := range shown {
		low, high := e.Figures()
		figures = append(figures, low, high)
	}
	return PairDigits(x.By, append(figures, x.E.Figure))
}

// EndDigits is how many decimals both ends of a range share.
func EndDigits(e sweep.Effect) int {
	u := e.Cell.Quantity.Unit
	return unit.DecimalsFor([]float64{u.FromBase(e.Low), u.FromBase(e.High)})
}

// Others says who is best where it is not the winner, behind a mark.
func (x *Effects) Others(shown []sweep.Effect) string {
	seen := map[int]bool{}
	var names []string
	for _, e := range shown {
		for _, best := range []int{e.BestLow, e.BestHigh} {
			if best == x.E.Winner || seen[best] || best == sweep.None && x.E.Best != sweep.None {
				continue // where all fail the table says so
			}
			if seen[best] = true; best != sweep.None {
				names = append(names, Item(x.K, best))
			}
		}
	}
	switch {
	case len(seen) == 1 && seen[sweep.None]:
		return "* There none passes all checks."
	case len(names) == 1 && !seen[sweep.None]:
		return fmt.Sprintf("* There %s is best.", names[0])
	case len(names) == 1:
		return fmt.Sprintf("* There %s is best, or none passes all checks.", names[0])
	case len(names) > 1:
		return fmt.Sprintf("* There another is best: %s.", strings.Join(x.turning(shown), ", "))
	}
	return ""
}

// at names an input at a value.
func (x *Effects) at(e sweep.Effect, v float64) string {
	return x.Name(e.Cell) + " = " + x.Show(e.Cell.Quantity, v)
}

// AllFail stands in place of a figure where none passes its checks.
const AllFail = "all fail"

// AllFailing says of which inputs a move has all fail, and what the winner fails; such a
// move has no effect on the figure. At one of both ends is enough.
func (x *Effects) AllFailing() (out []string) {
	const most = 3
	more := 0
	for _, e := range x.E.All {
		low, high := e.AllFail()
		if !low && !high {
			continue
		}
		at, figure := e.Low, e.FigureLow
		if !low {
			at, figure = e.High, e.FigureHigh
		}
		if figure != figure { // that is told of each
			continue
		}
		if len(out) == most {
			more++
			continue
		}
		said := "At " + x.at(e, at) + " all fail"
		if o := x.M.With(e.Cell, at).Compare().Gravest(x.E.Winner); o != nil && o.Failed() {
			said += ": " + strings.TrimSuffix(o.Text, ".")
		}
		out = append(out, said+".")
	}
	if more > 0 {
		out = append(out, fmt.Sprintf("So they do by moves of %s more.", Count(more)))
	}
	return out
}

// turning names the best at each end where it is another than the winner.
func (x *Effects) turning(shown []sweep.Effect) (out []string) {
	for _, e := range shown {
		for i, best := range []int{e.BestLow, e.BestHigh} {
			if best != x.E.Winner && best != sweep.None {
				out = append(out, Item(x.K, best)+" at "+x.at(e, []float64{e.Low, e.High}[i]))
			}
		}
	}
	return out
}

// Rest says what the inputs behind those shown do, "" where there are none; how says
// in words how to see those that move the figure.
func (x *Effects) Rest(shown int, how func(more int) string) string {
	still := 0
	for _, e := range x.E.All[x.Moving:] {
		if low, high := e.AllFail(); !low && !high {
			still++
		}
	}
	more := x.Moving - shown
	text := ""
	if more > 0 {
		swing := x.Show(x.By, x.E.All[shown].Swing())
		text = fmt.Sprintf("%s more move it by %s or less%s", Count(more), swing, how(more))
		if more == 1 {
			text = "1 more moves it by " + swing + how(more)
		}
	}
	if still > 0 {
		if text != "" {
			text += ", and "
		}
		if still == 1 {
			text += "1 does not move it"
		} else {
			text += Count(still) + " do not move it"
		}
	}
	if text != "" {
		text += "."
	}
	return text
}

// Hidden names inputs behind those shown by which another becomes best; "" where there
// are none.
func (x *Effects) Hidden(shown int) string {
	var turn []sweep.Effect
	for _, e := range x.E.All[shown:] {
		if len(x.turning([]sweep.Effect{e})) > 0 && e.FigureLow == e.FigureLow && e.FigureHigh == e.FigureHigh {
			turn = append(turn, e)
		}
	}
	const most = 3
	parts := x.turning(turn[:min(most, len(turn))])
	if n := len(turn) - most; n > 0 {
		parts = append(parts, "and by "+unit.Counted(n, "more input", "more inputs"))
	}
	if len(parts) == 0 {
		return ""
	}
	return "Among them another becomes best: " + strings.Join(parts, ", ") + "."
}

// Lead says what moves the lead of the winner most; "" where these are the inputs shown
// first, in the same order.
func (x *Effects) Lead(shown []sweep.Effect) string {
	const most = 3
	if x.E.Lead != x.E.Lead {
		return ""
	}
	by := slices.Clone(x.E.All)
	slices.SortStableFunc(by, func(a, b sweep.Effect) int { return cmp.Compare(b.LeadSwing(x.E.Lead), a.LeadSwing(x.E.Lead)) })
	by = by[:min(most, len(by))]
	same := true
	var parts []string
	for i, e := range by {
		if e.LeadSwing(x.E.Lead) == 0 {
			break
		}
		same = same && i < len(shown) && shown[i].Cell == e.Cell
		parts = append(parts, x.Name(e.Cell)+" ("+x.Show(x.By, e.LeadSwing(x.E.Lead))+")")
	}
	if same || len(parts) == 0 {
		return ""
	}
	return fmt.Sprintf("Its lead of %s over the next is moved most by %s.", x.Show(x.By, x.E.Lead), strings.Join(parts, ", "))
}

// Gone says at which ends there is no figure, and why.
func (x *Effects) Gone() (out []string) {
	const most = 3
	for _, e := range x.E.All {
		for i, v := range []float64{e.FigureLow, e.FigureHigh} {
			if v == v {
				continue
			}
			if len(out) == most {
				return append(out, "Further ends have no figure either.")
			}
			at := []float64{e.Low, e.High}[i]
			why := x.M.With(e.Cell, at).WhyMissing(eval.Cell{Quantity: x.By, Item: x.E.Winner})
			out = append(out, "At "+x.at(e, at)+" there is no figure: "+why+".")
		}
	}
	return out
}
