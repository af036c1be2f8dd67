package told

import (
	"cmp"
	"fmt"
	"math"
	"strconv"

	"bankwright/engine"
	"bankwright/engine/check"
	"bankwright/engine/decl"
	"bankwright/engine/sample"
	"bankwright/engine/unit"
)

// Doubt says what was found while inputs were uncertain.
type Doubt struct {
	Words
	F     engine.FoundDoubt
	K     *check.Kind
	By    *check.Quantity // what decides
	Order []int           // items, those that are likeliest best first, then as they rank
}

// NewDoubt is what is said of a doubt.
func NewDoubt(w Words, f engine.FoundDoubt) *Doubt {
	d := &Doubt{Words: w, F: f, K: w.M.Compared()}
	d.By = d.K.Quantity(d.K.Compare.By)
	d.Order = ranked(w.M, func(a, b int) int { return cmp.Compare(f.Found.Items[b].Best.Value, f.Found.Items[a].Best.Value) })
	return d
}

// Together says which inputs go together.
func (d *Doubt) Together() (out []string) {
	for i, c := range d.F.Correlated {
		out = append(out, fmt.Sprintf("%s and %s go together, with a correlation of %s.", d.correlated(i, 0), d.correlated(i, 1), strconv.FormatFloat(c.By, 'g', -1, 64)))
	}
	return out
}

// correlated is one of two inputs that go together.
func (d *Doubt) correlated(i, which int) string {
	name := d.F.Correlated[i].Inputs[which].Name
	if c, err := d.M.ParseCell(name); err == nil {
		return d.Name(c)
	}
	return name
}

// Spread says how an input is spread.
func (w Words) Spread(u check.Uncertain) string {
	q := u.Quantity
	if u.Kind == decl.Trials {
		return fmt.Sprintf("the mean of %s trials, %s with a deviation of %s", w.M.CellText(u.Cells[2]), w.M.CellText(u.Cells[0]), w.M.CellText(u.Cells[1]))
	}
	p := u.Params
	digits := 0
	for _, v := range p[:min(len(p), 3)] {
		if u.Kind != decl.Lognormal && (u.Kind != decl.Normal || v == p[0]) {
			digits = max(digits, unit.DecimalsFor([]float64{q.Unit.FromBase(v)}))
		}
	}
	show := func(v float64) string { return q.Unit.Show(v, digits, w.M.Model.Currency) }
	switch u.Kind {
	case decl.Triangular:
		return fmt.Sprintf("from %s to %s, most likely %s", show(p[0]), show(p[2]), show(p[1]))
	case decl.Uniform:
		return fmt.Sprintf("from %s to %s, all alike", show(p[0]), show(p[1]))
	case decl.Normal:
		return fmt.Sprintf("normal around %s, with a deviation of %s", w.Show(q, p[0]), w.deviation(q, p[1]))
	}
	return fmt.Sprintf("lognormal around %s, with a spread of %s %%", w.Show(q, p[0]), unit.Format(100*p[1], -1))
}

// deviation writes a difference of values of a quantity; of temperatures in K.
func (w Words) deviation(q *check.Quantity, v float64) string {
	if q.Dim.IsPoint() {
		return unit.Format(v, -1) + " K"
	}
	return w.Show(q, v)
}

// Percentiles are the shares of draws below which figures are told.
var Percentiles = []float64{0.05, 0.5, 0.95}

// Heads explains the table of items.
func (d *Doubt) Heads() string {
	return fmt.Sprintf("Best in and passes in: of all draws, being the best that passes all checks, and passing them. 5 %%, 50 %%, 95 %%: the %s below which so many draws lie.", d.By.Label)
}

// Chance writes a probability in percent, so that next to none does not read as none.
func Chance(v float64) string {
	switch {
	case v != v:
		return "-"
	case v > 0 && v < 0.0005:
		return "< 0.1"
	case v < 1 && v >= 0.9995:
		return "> 99.9"
	}
	return unit.Format(100*v, 1)
}

// HalfWidth is how far an estimate may be out to either side; NaN where that is not
// known.
func HalfWidth(e sample.Estimate) float64 { return math.Max(e.High-e.Value, e.Value-e.Low) }

// GiveOrTake is half the width of the bounds of a probability, in percent.
func GiveOrTake(e sample.Estimate) string {
	half := 100 * HalfWidth(e)
	if half != half {
		return "-"
	}
	return unit.Format(half, max(1, min(2, -int(math.Floor(math.Log10(math.Max(half, 0.01)))))))
}

// Sure says how sure it is that the likeliest is best.
func (d *Doubt) Sure() string {
	f := d.F.Found
	first := f.Items[d.Order[0]].Best
	if first.Value == 0 {
		return fmt.Sprintf("In none of %s draws does any pass all checks.", Count(f.Samples))
	}
	s := fmt.Sprintf("%s is best in %s %% of %s draws, give or take %s", Item(d.K, d.Order[0]), Chance(first.Value), Count(f.Samples), GiveOrTake(first))
	const most = 3
	for i, item := range d.Order[1:] {
		v := f.Items[item].Best.Value
		if v == 0 || i == most {
			break
		}
		s += fmt.Sprintf("; %s in %s %%", Item(d.K, item), Chance(v))
	}
	if v := f.None.Value; v > 0 {
		s += fmt.Sprintf("; in %s %% none passes all checks", Chance(v))
	}
	return s + "."
}

// NoShares says why shares are not told; "" where they are, or nothing is to say.
func (d *Doubt) NoShares() string {
	if d.F.Found.Shares != nil || d.F.Found.Unclear == "" {
		return ""
	}
	return "Which input makes it uncertain is not told: " + d.F.Found.Unclear + "."
}

// SharesTitle is the title of the shares of variance.
func (d *Doubt) SharesTitle() string {
	return "Where the uncertainty of " + Item(d.K, d.F.Found.Winner) + " comes from"
}

// SharesHeads explains the table of shares.
const SharesHeads = "Shares of the variance of its figure and of its lead over the next, with all others, and alone: what would go if the input were known."

// NoLead says in how many draws there is no lead, "" where there always is.
func (d *Doubt) NoLead() string {
	lead := d.F.Found.Lead.Pooled()
	if lead.Missing() == 0 {
		return ""
	}
	return fmt.Sprintf("In %s of %s draws there is no lead: in them %s or all others fail a check or have no figure, and which input is to blame for that these shares do not tell.",
		Count(lead.Missing()), Count(d.F.Found.Samples), Item(d.K, d.F.Found.Winner))
}
