package text

import (
	"math"
	"strings"

	"bankwright/engine"
	"bankwright/engine/check"
	"bankwright/engine/sweep"
	"bankwright/engine/unit"
	"bankwright/export/told"
)

// Margins says in a sentence how far the inputs that the rules watch may move
// before another item is best than the one that is spoken of; nothing where none is
// watched.
func Margins(m *engine.Model, c *engine.Comparison, who string) string {
	var turns, still []string
	for _, x := range m.Margins(c) {
		name := told.InputName(x.Cell)
		for _, side := range []struct {
			turn sweep.Turn
			verb string
		}{{x.Above, "rises to"}, {x.Below, "falls to"}} {
			if side.turn.Found {
				turns = append(turns, "the "+name+" "+side.verb+" "+threeDigits(m, x.Cell.Quantity, side.turn.At)+
					" ("+moved(side.turn.At/x.Base-1)+"), where "+winner(c, side.turn.Best))
			}
		}
		if !x.Above.Found && !x.Below.Found {
			still = append(still, "the "+name+" changes nothing from "+threeDigits(m, x.Cell.Quantity, x.From)+" to "+threeDigits(m, x.Cell.Quantity, x.To))
		}
	}
	var parts []string
	if len(turns) > 0 {
		parts = append(parts, who+" stays best until "+strings.Join(turns, ", or until ")+".")
	}
	if len(still) > 0 {
		s := strings.Join(still, ", and ")
		parts = append(parts, strings.ToUpper(s[:1])+s[1:]+".")
	}
	return strings.Join(parts, " ")
}

// moved is by which share an input moved, its sign at the figure: "+7.6 %".
func moved(share float64) string { return strings.Replace(percent(share), " ", "", 1) }

func winner(c *engine.Comparison, item int) string {
	if item == sweep.None {
		return "none passes"
	}
	return engine.ItemAlias(c.Kind.Items[item]) + " is best"
}

// threeDigits is a value with its unit, rounded to three digits or to whole ones.
func threeDigits(m *engine.Model, q *check.Quantity, v float64) string {
	shown := q.Unit.FromBase(v)
	digits := 0
	if shown != 0 {
		digits = max(0, 2-int(math.Floor(math.Log10(math.Abs(shown)))))
	}
	text := unit.Format(shown, digits)
	if strings.Contains(text, ".") {
		text = strings.TrimSuffix(strings.TrimRight(text, "0"), ".")
	}
	return strings.TrimSpace(text + " " + q.Unit.In(m.Model.Currency))
}
