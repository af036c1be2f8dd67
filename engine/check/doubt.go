package check

import (
	"bankwright/engine/arith"
	"bankwright/engine/decl"
	"bankwright/engine/sample"
	"bankwright/engine/unit"
)

// doubt resolves the uncertain inputs of a doubt and how they go together.
func (s *study) doubt(d *decl.Doubt) *Doubt {
	out := &Doubt{Doubt: d}
	if s.p.Compared() == nil {
		s.list.Errorf(d.At, "conflict", "Leave it out.", "the doubt `%s` asks how sure the comparison is, but these rules compare nothing", d.Name)
		return out
	}
	place := map[Place]int{}
	whole := true
	for _, u := range d.Inputs {
		in, ok := s.uncertain(u)
		if _, again := place[in.Place]; ok && again {
			s.list.Errorf(u.Input.At, "duplicate", "Give it one distribution.", "`%s` is uncertain twice", u.Input.Name)
			ok = false
		}
		if whole = whole && ok; ok {
			place[in.Place] = len(out.Inputs)
			out.Inputs = append(out.Inputs, in)
		}
	}
	if len(d.Correlated) > 0 && whole {
		out.Ties = s.ties(d, place)
	}
	return out
}

func (s *study) uncertain(d *decl.Uncertain) (Uncertain, bool) {
	u := Uncertain{Kind: d.Kind}
	var ok bool
	if u.Place, ok = s.number(d.Input, "Vary it in a sweep."); !ok {
		return u, false
	}
	u.Min, u.Max = u.Quantity.Limits()
	if d.Kind == decl.Trials {
		u.Cells, ok = s.trials(d, u.Quantity)
		return u, ok
	}
	u.Params, ok = s.params(d, u.Quantity)
	return u, ok
}

// params reads the parameters of a distribution: those that are values of the
// input keep its limits.
func (s *study) params(d *decl.Uncertain, q *Quantity) ([]float64, bool) {
	spread := d.Kind == decl.Normal || d.Kind == decl.Lognormal // the second parameter
	out, ok := make([]float64, len(d.Params)), true
	for i, v := range d.Params {
		var good bool
		switch {
		case !spread || i == 0:
			out[i], good = s.read.Number(v, q.Quantity)
		case d.Kind == decl.Normal:
			out[i], good = s.read.Difference(v, q.Quantity, "standard deviation")
		default:
			out[i], good = s.read.Share(v, "relative spread")
		}
		ok = ok && good
	}
	if !ok {
		return nil, false
	}
	if spread {
		return out, s.spread(d, q, out)
	}
	last := len(out) - 1
	for i := 1; i < last; i++ { // the most likely value may be one of the ends
		if arith.Below(out[i], out[i-1]) || arith.Below(out[last], out[i]) {
			s.list.Errorf(d.Params[i].At, "bounds", "Write the least, the most likely and the most, in this order.", "%s does not lie between %s and %s", d.Params[i].Written(), d.Params[0].Written(), d.Params[last].Written())
			return nil, false
		}
	}
	return out, s.ascending(d.Params[0], d.Params[last], out[0], out[last])
}

// spread reports whether a mean or median and its spread make a distribution.
func (s *study) spread(d *decl.Uncertain, q *Quantity, params []float64) bool {
	switch {
	case !(params[1] > 0):
		s.list.Errorf(d.Params[1].At, "bounds", "Write a value above zero, or leave the input out.", "a spread of %s is none", d.Params[1].Written())
	case d.Kind == decl.Lognormal && q.Dim.IsPoint():
		s.list.Errorf(d.Input.At, "wrong-kind", "Write normal = [\"mean\", \"deviation\"].", "`%s` is a temperature, of which a relative spread means nothing", d.Input.Name)
	case d.Kind == decl.Lognormal && !(params[0] > 0):
		s.list.Errorf(d.Params[0].At, "bounds", "Write a median above zero, or another distribution.", "a lognormal value is always above zero, and so is its median, not %s", d.Params[0].Written())
	default:
		return true
	}
	return false
}

// trials are the cells from which the distribution of a mean follows.
func (s *study) trials(d *decl.Uncertain, q *Quantity) ([]Place, bool) {
	apart := q.Dim
	if apart.IsPoint() {
		apart = unit.Difference
	}
	want := []unit.Dim{q.Dim, apart, unit.None}
	var out []Place
	for i, n := range d.Cells {
		c, ok := s.cell(n)
		switch {
		case !ok:
			return nil, false
		case c.Quantity.Type != decl.Number:
			s.list.Errorf(n.At, "wrong-kind", "Name a number.", "`%s` is no number", n.Name)
			return nil, false
		}
		if c.Quantity.Dim != want[i] {
			s.list.Errorf(n.At, "unit", "Name a quantity that is "+want[i].Describe()+".", "`%s` is %s, but %s belongs here", n.Name, c.Quantity.Dim.Describe(), want[i].Describe())
			return nil, false
		}
		out = append(out, c)
	}
	return out, true
}

// ties are the correlations of a doubt; nil where they are at fault.
func (s *study) ties(d *decl.Doubt, place map[Place]int) *sample.Correlation {
	names := make([]string, len(d.Inputs))
	for i, u := range d.Inputs {
		names[i] = u.Input.Name
	}
	var pairs []sample.Pair
	seen := map[[2]int]bool{}
	for _, c := range d.Correlated {
		pair, ok := s.pair(c, place)
		if ok && seen[pair] {
			s.list.Errorf(c.At, "duplicate", "Keep one of the two.", "how `%s` and `%s` go together is said twice", c.Inputs[0].Name, c.Inputs[1].Name)
			ok = false
		}
		if seen[pair] = true; ok {
			pairs = append(pairs, sample.Pair{A: pair[0], B: pair[1], Coefficient: c.By})
		}
	}
	if len(pairs) < len(d.Correlated) {
		return nil
	}
	ties, err := sample.Correlate(names, pairs)
	if err != nil {
		s.list.Errorf(d.Correlated[len(pairs)-1].At, "conflict", "Bring them nearer to zero.", "%s", err)
		return nil
	}
	return ties
}

// pair finds the two inputs of a correlation, the first of the doubt first.
func (s *study) pair(c decl.Correlated, place map[Place]int) (pair [2]int, ok bool) {
	for i, n := range c.Inputs {
		cell, known := s.cell(n)
		if !known {
			return pair, false
		}
		if pair[i], known = place[cell]; !known {
			s.list.Errorf(n.At, "unknown-name", "Add it to `inputs` with its distribution.", "`%s` is none of the inputs of this doubt", n.Name)
			return pair, false
		}
	}
	if pair[0] == pair[1] {
		s.list.Errorf(c.At, "duplicate", "Name two inputs.", "`%s` is correlated with itself", c.Inputs[0].Name)
		return pair, false
	}
	return [2]int{min(pair[0], pair[1]), max(pair[0], pair[1])}, true
}

// breakEven resolves where two items come to cost the same.
func (s *study) breakEven(d *decl.BreakEven) *BreakEven {
	out := &BreakEven{BreakEven: d}
	k := s.p.Compared()
	if k == nil {
		s.list.Errorf(d.At, "conflict", "Leave it out.", "the break-even `%s` is one between compared items, but these rules compare nothing", d.Name)
		return out
	}
	for i, n := range d.Between {
		item, _, err := itemOf(k, []string{n.Name})
		switch {
		case err != nil:
			s.misnamed(n, err)
		case i > 0 && len(out.Between) > 0 && out.Between[0] == item:
			s.list.Errorf(n.At, "duplicate", "Name two of them.", "`%s` cannot break even with itself", n.Name)
		}
		out.Between = append(out.Between, item)
	}
	taken := map[Place]bool{}
	var ok bool
	if out.Input, ok = s.number(d.Input, "Vary it in a sweep."); ok {
		taken[out.Input] = true
		var good bool
		out.From, ok = s.read.Number(d.From, out.Input.Quantity.Quantity)
		out.To, good = s.read.Number(d.To, out.Input.Quantity.Quantity)
		if ok && good {
			s.ascending(d.From, d.To, out.From, out.To)
		}
	}
	if d.Over != nil {
		out.Over = s.axis(d.Over, taken)
	}
	return out
}
