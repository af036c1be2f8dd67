package export

import (
	"io"
	"math"

	"bankwright/engine"
	"bankwright/engine/check"
	"bankwright/engine/decl"
	"bankwright/engine/eval"
	"bankwright/engine/sample"
	"bankwright/engine/sweep"
	"bankwright/engine/unit"
)

// StudiesJSON writes all that was found, values in their declared units. What has no
// value is null.
func StudiesJSON(w io.Writer, m *engine.Model, s *engine.Studies) error {
	o := object{{"scenario", m.Model.Title}, {"currency", m.Model.Currency}}
	if k := m.Compared(); k != nil {
		best := sweep.None
		if b, ok := m.Compare().Best(); ok {
			best = b.Item
		}
		by := k.Quantity(k.Compare.By)
		o = append(o, member{"decides", by.Name}, member{"unit", by.Unit.In(m.Model.Currency)}, member{"best", itemOrNull(k, best)})
	}
	sweeps, doubts, ties := []object{}, []object{}, []object{}
	for _, f := range s.Sweeps {
		sweeps = append(sweeps, sweepObject(m, f))
	}
	for _, f := range s.Doubts {
		doubts = append(doubts, doubtObject(m, f))
	}
	for _, f := range s.BreakEvens {
		ties = append(ties, breakEvenObject(m, f))
	}
	var matters any
	if s.Effects != nil {
		matters = effectsObject(m, s.Effects, s.Share)
	}
	return writeJSON(w, append(o, member{"sweeps", sweeps}, member{"doubts", doubts}, member{"break_evens", ties}, member{"matters", matters}))
}

// finite is a value as JSON has it: null where there is none.
func finite(v float64) any {
	if math.IsNaN(v) || math.IsInf(v, 0) {
		return nil
	}
	return v
}

// in is a value of a quantity in its declared unit; null where there is none.
func in(q *check.Quantity, v float64) any {
	switch {
	case v != v:
		return nil
	case q.Type == decl.Boolean:
		return v != 0
	}
	return finite(q.Unit.FromBase(v))
}

func itemOrNull(k *check.Kind, item int) any {
	if item < 0 {
		return nil
	}
	return k.Items[item].Name
}

// quantityUnit is the unit of a quantity, null where it is no number.
func quantityUnit(m *engine.Model, q *check.Quantity) any {
	if q.Type != decl.Number {
		return nil
	}
	return q.Unit.In(m.Model.Currency)
}

func axisObject(m *engine.Model, a *check.Axis) object {
	var names []string
	for _, c := range a.Inputs {
		names = append(names, m.CellName(c))
	}
	q := a.Inputs[0].Quantity
	o := object{{"inputs", names}, {"unit", quantityUnit(m, q)}, {"factors", a.Relative}}
	values := make([]any, a.Steps())
	for i := range values {
		switch {
		case a.Relative:
			values[i] = a.Values[i]
		case q.Type == decl.Text || q.Type == decl.Reference:
			values[i] = a.Written(i)
		default:
			values[i] = in(q, a.Values[i])
		}
	}
	if a.Relative {
		o[1].value = nil
	}
	return append(o, member{"values", values})
}

func sweepObject(m *engine.Model, f engine.FoundSweep) object {
	t := f.Table
	var axes []object
	for _, a := range t.Axes {
		axes = append(axes, axisObject(m, a))
	}
	o := object{{"name", f.Name}, {"title", f.Title}, {"axes", axes}, {"points", t.Points()}}
	wins, best, figures, cells := []object{}, any(nil), any(nil), []object{}
	if t.Judge != nil {
		for i, it := range t.Judge.Kind.Items {
			wins = append(wins, object{{"name", it.Name}, {"points", t.Wins[i]}})
		}
	}
	if t.Kept && t.Judge != nil {
		names := make([]any, t.Points())
		for i, b := range t.Best {
			names[i] = itemOrNull(t.Judge.Kind, int(b))
		}
		var all []object
		for item, it := range t.Judge.Kind.Items {
			all = append(all, object{{"name", it.Name}, {"values", along(t, func(p int) any { return in(t.Judge.By, t.Figure(item, p)) })},
				{"passes", along(t, func(p int) any { return t.Passed(item, p) })}})
		}
		best, figures = names, all
	}
	for k, c := range t.Beside {
		cell := object{{"cell", m.CellName(c)}, {"unit", quantityUnit(m, c.Quantity)}, {"least", in(c.Quantity, t.Low[k])}, {"most", in(c.Quantity, t.High[k])}, {"values", nil}}
		if t.Kept {
			cell[4].value = along(t, func(p int) any { return in(c.Quantity, t.Value(k, p)) })
		}
		cells = append(cells, cell)
	}
	return append(o, member{"wins", wins}, member{"best", best}, member{"figures", figures}, member{"cells", cells})
}

func along(t *sweep.Table, f func(point int) any) []any {
	out := make([]any, t.Points())
	for i := range out {
		out[i] = f(i)
	}
	return out
}

// estimate is a figure with its bounds.
func estimate(e sample.Estimate, u unit.Unit) object {
	return object{{"value", finite(u.FromBase(e.Value))}, {"low", finite(u.FromBase(e.Low))}, {"high", finite(u.FromBase(e.High))}}
}

// share is a share with its bounds, as a number from 0 to 1.
func share(e sample.Estimate) object {
	return object{{"value", finite(e.Value)}, {"low", finite(e.Low)}, {"high", finite(e.High)}}
}

func doubtObject(m *engine.Model, f engine.FoundDoubt) object {
	k := m.Compared()
	by := k.Quantity(k.Compare.By)
	inputs, correlated, items := []object{}, []object{}, []object{}
	for _, u := range f.Inputs {
		inputs = append(inputs, uncertainObject(m, u))
	}
	for _, c := range f.Correlated {
		correlated = append(correlated, object{{"inputs", []string{c.Inputs[0].Name, c.Inputs[1].Name}}, {"by", c.By}})
	}
	for i, it := range f.Found.Items {
		items = append(items, object{{"name", k.Items[i].Name}, {"best", share(it.Best)}, {"passes", share(it.Passes)},
			{"mean", estimate(it.Figure.Mean(), by.Unit)}, {"p5", estimate(it.Figure.Percentile(0.05), by.Unit)},
			{"p50", estimate(it.Figure.Percentile(0.5), by.Unit)}, {"p95", estimate(it.Figure.Percentile(0.95), by.Unit)}})
	}
	var shares any
	if f.Found.Shares != nil {
		var list []object
		for i, s := range f.Found.Shares {
			list = append(list, object{{"input", m.CellName(f.Inputs[i].Place)},
				{"figure", object{{"first", share(s.First)}, {"total", share(s.Total)}}},
				{"lead", object{{"first", share(s.LeadFirst)}, {"total", share(s.LeadTotal)}}}})
		}
		shares = list
	}
	return object{{"name", f.Name}, {"title", f.Title}, {"samples", f.Found.Samples}, {"seed", f.Seed}, {"inputs", inputs}, {"correlated", correlated},
		{"items", items}, {"none", share(f.Found.None)}, {"winner", k.Items[f.Found.Winner].Name}, {"shares", shares}, {"no_shares", f.Found.Unclear}}
}

// uncertainObject is an input with its distribution, whose parameters are in the
// input's unit; a relative spread is a share.
func uncertainObject(m *engine.Model, u check.Uncertain) object {
	parameters := []any{}
	for i, v := range u.Params {
		switch {
		case i == 1 && u.Kind == decl.Lognormal:
			parameters = append(parameters, v)
		case i == 1 && u.Kind == decl.Normal: // a difference: of temperatures, too
			parameters = append(parameters, finite(u.Quantity.Unit.FromBase(v)-u.Quantity.Unit.FromBase(0)))
		default:
			parameters = append(parameters, in(u.Quantity, v))
		}
	}
	for _, c := range u.Cells {
		parameters = append(parameters, in(c.Quantity, m.Result.At(c.Quantity, c.Item, c.Row)))
	}
	return object{{"cell", m.CellName(u.Place)}, {"unit", quantityUnit(m, u.Quantity)}, {"distribution", u.Kind.String()}, {"parameters", parameters}}
}

func breakEvenObject(m *engine.Model, f engine.FoundBreakEven) object {
	k := m.Compared()
	q := f.Input.Quantity
	first := f.Ties[0]
	var over any
	if f.Over != nil {
		over = axisObject(m, f.Over)
	}
	rows := []object{}
	for _, t := range f.Ties {
		crossings := []object{}
		for i, c := range t.Crossings {
			crossings = append(crossings, object{{"at", in(q, c.At)}, {"how", howTied(c)}, {"below", ahead(k, t, c.Before)}, {"above", ahead(k, t, c.After)}, {"figure", in(k.Quantity(k.Compare.By), t.At[i])}})
		}
		rows = append(rows, object{{"crossings", crossings}, {"more", t.Cut}, {"gap_from", finite(t.Ends[0])}, {"gap_to", finite(t.Ends[1])}})
	}
	return object{{"name", f.Name}, {"title", f.Title}, {"between", []string{k.Items[first.A].Name, k.Items[first.B].Name}},
		{"input", m.CellName(f.Input)}, {"unit", quantityUnit(m, q)}, {"given", in(q, m.Result.At(q, f.Input.Item, f.Input.Row))},
		{"from", in(q, first.From)}, {"to", in(q, first.To)}, {"looked_at", first.Looked}, {"over", over}, {"rows", rows}}
}

// howTied says in a word what happens at a crossing.
func howTied(c sweep.Crossing) string {
	switch {
	case c.Touch:
		return "touch"
	case c.Before == sweep.NoFigure || c.After == sweep.NoFigure:
		return "no figure"
	case c.After == sweep.Level:
		return "level from"
	case c.Before == sweep.Level:
		return "level to"
	case c.Jump:
		return "jump"
	}
	return "level"
}

// ahead is who has the better figure by an outcome of a tie; null where one has none, or
// both are level.
func ahead(k *check.Kind, t sweep.Tie, outcome int) any {
	switch {
	case outcome == sweep.NoFigure, outcome == sweep.Level:
		return nil
	case (outcome < 0) == k.Compare.Lowest:
		return k.Items[t.A].Name
	}
	return k.Items[t.B].Name
}

func effectsObject(m *engine.Model, e *sweep.Effects, by float64) object {
	k := m.Compared()
	q := k.Quantity(k.Compare.By)
	inputs := []object{}
	for _, x := range e.All {
		c := x.Cell.Quantity
		inputs = append(inputs, object{{"cell", m.CellName(eval.Cell(x.Cell))}, {"unit", quantityUnit(m, c)},
			{"low", in(c, x.Low)}, {"given", in(c, x.Base)}, {"high", in(c, x.High)},
			{"figure_low", in(q, x.FigureLow)}, {"figure_high", in(q, x.FigureHigh)},
			{"lead_low", in(q, x.LeadLow)}, {"lead_high", in(q, x.LeadHigh)},
			{"best_low", itemOrNull(k, x.BestLow)}, {"best_high", itemOrNull(k, x.BestHigh)}})
	}
	return object{{"by", by}, {"winner", k.Items[e.Winner].Name}, {"figure", in(q, e.Figure)}, {"lead", in(q, e.Lead)}, {"inputs", inputs}}
}
