package engine

import (
	"sort"

	"bankwright/engine/arith"
	"bankwright/engine/check"
	"bankwright/engine/decl"
)

// Outcome is what a check found for one item.
type Outcome struct {
	Check      *check.Check
	Item       int
	Applicable bool // false: what it needs was not given
	Passed     bool
	Text       string // the sentence with its values, where it did not pass
}

// Failed reports whether the check applies and is not met.
func (o Outcome) Failed() bool { return o.Applicable && !o.Passed }

// Word says what a check found in one word: the severity where it is not met.
func (o Outcome) Word() string {
	switch {
	case !o.Applicable:
		return "not applicable"
	case o.Passed:
		return "pass"
	}
	return o.Check.Severity.String()
}

// Outcomes are the findings of all checks of a kind, check by check.
func (m *Model) Outcomes(k *check.Kind) []Outcome {
	var out []Outcome
	for _, c := range m.Checks {
		if c.Result.Kind != k {
			continue
		}
		for item := range k.Items {
			v := m.Result.At(c.Result, item, 0)
			o := Outcome{Check: c, Item: item, Applicable: v == v, Passed: v == 1}
			if v == 0 {
				o.Text = m.Sentence(c.Message, item)
			}
			out = append(out, o)
		}
	}
	return out
}

// Standing is the place of one item in the comparison.
type Standing struct {
	Item     int
	Figure   float64 // the deciding quantity, base units; NaN where it has none
	Stopped  bool    // fails a check that forbids it
	Unfit    bool    // fails a check that it would not serve
	Eligible bool    // may be best
	Full     bool    // is shown in full; one table is enough for the others
	Frontier bool    // on the frontier that the rules ask for
}

// Comparison is the ranking of the compared kind's items.
type Comparison struct {
	Kind     *check.Kind
	By       *check.Quantity
	Ranked   []Standing // eligible ones first, best first; equals in the scenario's order
	Outcomes []Outcome  // of all items, item by item

	at    func(q *check.Quantity, item int) float64 // the first value of a quantity
	first []int                                     // where the outcomes of an item begin
}

// Of are the outcomes of one item, check by check.
func (c *Comparison) Of(item int) []Outcome { return c.Outcomes[c.first[item]:c.first[item+1]] }

// Compare ranks the items of the compared kind; nil where the rules compare
// none. Figures that are equal within the tolerance share a place, and the
// scenario's order decides.
func (m *Model) Compare() *Comparison {
	k := m.Compared()
	if k == nil {
		return nil
	}
	c := &Comparison{Kind: k, By: k.Quantity(k.Compare.By), Outcomes: m.Outcomes(k)}
	c.at = func(q *check.Quantity, item int) float64 { return m.Result.At(q, item, 0) }
	sort.SliceStable(c.Outcomes, func(i, j int) bool { return c.Outcomes[i].Item < c.Outcomes[j].Item })
	for item := 0; item <= len(k.Items); item++ {
		c.first = append(c.first, item*len(c.Outcomes)/max(len(k.Items), 1))
	}
	for item := range k.Items {
		s := Standing{Item: item, Figure: m.Result.At(c.By, item, 0)}
		for _, o := range c.Of(item) {
			if !o.Failed() {
				continue
			}
			s.Stopped = s.Stopped || o.Check.Severity == decl.Stop
			s.Unfit = s.Unfit || o.Check.Severity == decl.Unfit
		}
		s.Eligible = !s.Stopped && !s.Unfit && s.Figure == s.Figure
		c.Ranked = append(c.Ranked, s)
	}
	sort.SliceStable(c.Ranked, func(i, j int) bool { return c.before(c.Ranked[i], c.Ranked[j]) })
	c.findFrontier()
	m.shorten(c)
	return c
}

// before orders two standings.
func (c *Comparison) before(a, b Standing) bool {
	if a.Eligible != b.Eligible {
		return a.Eligible
	}
	if a.Figure != a.Figure || b.Figure != b.Figure {
		return a.Figure == a.Figure && b.Figure != b.Figure
	}
	if c.Kind.Compare.Lowest {
		return arith.Below(a.Figure, b.Figure)
	}
	return arith.Below(b.Figure, a.Figure)
}

// Best is the winner; false where nothing is eligible.
func (c *Comparison) Best() (Standing, bool) {
	if len(c.Ranked) == 0 || !c.Ranked[0].Eligible {
		return Standing{}, false
	}
	return c.Ranked[0], true
}

// Beaten reports whether an item that may not be best has a better figure than the best.
func (c *Comparison) Beaten() bool {
	best, ok := c.Best()
	for _, s := range c.Ranked {
		if ok && !s.Eligible && s.Figure == s.Figure {
			s.Eligible = true
			if c.before(s, best) {
				return true
			}
		}
	}
	return false
}

// Lag is by how much of the best figure an item is behind it; NaN where there
// is no best.
func (c *Comparison) Lag(s Standing) float64 {
	best, ok := c.Best()
	if !ok {
		return nan()
	}
	return (s.Figure - best.Figure) / abs(best.Figure)
}

// Level reports whether an item's figure equals the best within the tolerance.
func (c *Comparison) Level(s Standing) bool {
	best, ok := c.Best()
	return ok && (s.Figure == best.Figure || arith.Near(s.Figure, best.Figure))
}

func abs(x float64) float64 {
	if x < 0 {
		return -x
	}
	return x
}

// ItemAlias is what people call an item: its label, or its name.
func ItemAlias(it *decl.Item) string {
	if it.Label != "" {
		return it.Label
	}
	return it.Name
}
