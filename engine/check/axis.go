package check

import (
	"math"
	"slices"

	"bankwright/engine/arith"
	"bankwright/engine/decl"
	"bankwright/engine/unit"
)

// axis resolves a varied input; nil where it is at fault. taken are the cells
// that are varied already, to which its own are added.
func (s *study) axis(v *decl.Vary, taken map[Place]bool) *Axis {
	a := &Axis{Relative: v.Scaled}
	for _, n := range v.Inputs {
		c, ok := s.input(n)
		if !ok || v.Scaled && !s.scalable(n, c) {
			continue
		}
		if taken[c] {
			s.list.Errorf(n.At, "duplicate", "Vary it once.", "`%s` is varied twice", n.Name)
			continue
		}
		taken[c] = true
		a.Inputs = append(a.Inputs, c)
	}
	if len(a.Inputs) < len(v.Inputs) || len(a.Inputs) == 0 {
		return nil
	}
	var ok bool
	switch q := a.Inputs[0].Quantity; {
	case !v.Scaled && q.Type != decl.Number:
		a.Values, a.names, ok = s.choices(v, q)
	case v.Values != nil:
		a.Values, ok = s.listed(v, q)
	default:
		a.Values, ok = s.stretch(v, q)
	}
	if !ok || !s.room(v, len(a.Values)) {
		return nil
	}
	a.written = s.written(v, a.Inputs[0].Quantity, a.Values)
	return a
}

// room counts the values of axes and tells where there are too many.
func (s *study) room(v *decl.Vary, n int) bool {
	fits := s.left >= 0
	if s.left -= n; fits && s.left < 0 {
		s.list.Errorf(v.At, "limit", "Take fewer values of each input.", "inputs are varied over more than %s values", unit.Format(maxAxisValues, 0))
	}
	return s.left >= 0
}

// scalable reports whether an input can be multiplied by factors.
func (s *study) scalable(n decl.Named, c Place) bool {
	q := c.Quantity
	switch {
	case q.Type != decl.Number:
		s.list.Errorf(n.At, "wrong-kind", "Vary it by values = […] on its own.", "`%s` is no number and cannot be multiplied", n.Name)
	case q.Whole:
		s.list.Errorf(n.At, "wrong-kind", "Vary it by values = […] on its own.", "`%s` is a whole number, and parts of it are none", n.Name)
	case q.Dim.IsPoint():
		s.list.Errorf(n.At, "wrong-kind", "Vary it by from and to, or values = […].", "`%s` is a temperature, of which a share means nothing", n.Name)
	case q.GivenFor(q.Kind.Items[c.Item]) == nil:
		s.list.Errorf(n.At, "missing", "Give it a value, or vary it by values = […].", "`%s` is not given, so that there is nothing to multiply", n.Name)
	default:
		return true
	}
	return false
}

// value is a value of an axis: of the input, or a factor.
func (s *study) value(v *decl.Vary, written *decl.Value, q *Quantity) (float64, bool) {
	if !v.Scaled {
		return s.read.Number(written, q.Quantity)
	}
	x, ok := s.read.Share(written, "factor")
	if ok && x < 0 {
		s.list.Errorf(written.At, "bounds", "Write a share, such as \"80 %\".", "an input cannot be multiplied by %s, which is below zero", written.Written())
		return x, false
	}
	return x, ok
}

// mostWrong is of how many values of an axis is found what is wrong with them.
const mostWrong = 1000

// listed are the values of a list of numbers.
func (s *study) listed(v *decl.Vary, q *Quantity) (out []float64, ok bool) {
	ok = true
	seen := map[float64]bool{}
	wrong := 0
	for _, written := range v.Values {
		if wrong == mostWrong {
			break
		}
		x, good := s.value(v, written, q)
		if good && seen[x] {
			s.list.Errorf(written.At, "duplicate", "Leave it out.", "the value %s is listed twice", written.Written())
			good = false
		}
		seen[x] = true
		if !good {
			ok = false
			wrong++
		}
		out = append(out, x)
	}
	return out, ok
}

// choices are the values of a list of texts, references or truths.
func (s *study) choices(v *decl.Vary, q *Quantity) (values []float64, written []string, ok bool) {
	if v.Values == nil {
		s.list.Errorf(v.At, "wrong-kind", "Write values = […].", "`%s` is no number, so that nothing lies between two values", v.Inputs[0].Name)
		return nil, nil, false
	}
	ok = true
	for _, w := range v.Values {
		x, text, good := s.read.Choice(w, q.Quantity)
		switch {
		case !good:
		case q.Type == decl.Text:
			x = float64(slices.Index(s.p.Texts, text))
		case q.Type == decl.Reference:
			x = float64(q.To.Item(text))
		default:
			text = []string{"no", "yes"}[int(x)]
		}
		if good && slices.Contains(values, x) {
			s.list.Errorf(w.At, "duplicate", "Leave it out.", "the value %s is listed twice", w.Written())
			good = false
		}
		if ok = ok && good; good {
			values, written = append(values, x), append(written, text)
		}
	}
	return values, written, ok
}

// stretch are the values from one end to the other.
func (s *study) stretch(v *decl.Vary, q *Quantity) ([]float64, bool) {
	from, ok := s.value(v, v.From, q)
	to, good := s.value(v, v.To, q)
	if !ok || !good || !s.ascending(v.From, v.To, from, to) {
		return nil, false
	}
	points := v.Points
	last := to
	if v.Step != nil {
		if points, last, ok = s.steps(v, q, from, to); !ok {
			return nil, false
		}
	}
	if s.left < points { // room tells
		return make([]float64, 0), s.room(v, points)
	}
	out := make([]float64, points)
	for i := range out {
		n := float64(points - 1)
		x := (from*(n-float64(i)) + last*float64(i)) / n
		switch {
		case i == 0:
			x = from
		case i == points-1:
			x = last
		case math.IsInf(x, 0) || math.IsNaN(x):
			x = from*(1-float64(i)/n) + last*(float64(i)/n)
		}
		if q.Whole && !v.Scaled && !decl.IsWhole(x) {
			s.list.Errorf(v.At, "bounds", "Write step = 1, or points so that every value is whole.", "`%s` must be a whole number, but %d values from %s to %s are not all whole", v.Inputs[0].Name, points, v.From.Written(), v.To.Written())
			return nil, false
		}
		if out[i] = x; q.Whole && !v.Scaled {
			out[i] = math.Round(x)
		}
	}
	return out, true
}

// ascending reports whether one value lies below the next.
func (s *study) ascending(low, high *decl.Value, from, to float64) bool {
	if math.IsInf(to-from, 0) {
		s.list.Errorf(high.At, "bounds", "Write ends that lie closer together.", "the way from %s to %s is too long to be a number", low.Written(), high.Written())
		return false
	}
	if arith.Below(from, to) {
		return true
	}
	mend := "Let the two change places."
	if !arith.Below(to, from) {
		mend = "Write a larger value."
	}
	s.list.Errorf(high.At, "bounds", mend, "%s does not lie above %s", high.Written(), low.Written())
	return false
}

// steps counts the values that a step gives, and where the last of them lies.
func (s *study) steps(v *decl.Vary, q *Quantity, from, to float64) (points int, last float64, ok bool) {
	var step float64
	if v.Scaled {
		step, ok = s.read.Share(v.Step, "step")
	} else {
		step, ok = s.read.Difference(v.Step, q.Quantity, "step")
	}
	if !ok {
		return 0, 0, false
	}
	n := math.Floor((to - from) / step * (1 + 1e-12))
	switch {
	case !(step > 0):
		s.list.Errorf(v.Step.At, "bounds", "Write a step above zero.", "the step %s leads nowhere", v.Step.Written())
		return 0, 0, false
	case n < 1:
		s.list.Errorf(v.Step.At, "bounds", "Write a smaller step.", "the step %s is longer than the way from %s to %s", v.Step.Written(), v.From.Written(), v.To.Written())
		return 0, 0, false
	case n >= decl.MaxPoints || math.IsNaN(n):
		s.list.Errorf(v.Step.At, "limit", "Write a larger step.", "the step %s gives more than %s values", v.Step.Written(), unit.Format(decl.MaxPoints, 0))
		return 0, 0, false
	}
	if last = from + n*step; !arith.Below(last, to) {
		last = to
	}
	return int(n) + 1, last, true
}

// written writes the numbers of an axis with as many decimals as tell apart those that
// lie evenly.
func (s *study) written(v *decl.Vary, q *Quantity, values []float64) func(x float64) string {
	u, currency := q.Unit, s.p.Model.Currency
	if v.Scaled {
		u = unit.Percent
	}
	const enough = 200 // of steps that lie evenly, to see how far apart they are
	var some []float64
	for _, x := range values[:min(enough, len(values))] {
		some = append(some, u.FromBase(x))
	}
	decimals := unit.DecimalsFor(append(some, u.FromBase(values[len(values)-1])))
	return func(x float64) string { return u.Show(x, decimals, currency) }
}
