package main

import (
	"math"
	"math/rand/v2"
	"reflect"
	"testing"

	"bankwright/cmd/bankwright/straight"
	"bankwright/engine"
	"bankwright/engine/check"
	"bankwright/engine/decl"
	"bankwright/engine/eval"
	"bankwright/engine/oracle"
)

// straightField is the field of a cell in the straight Go.
func straightField(s *straight.Model, c eval.Cell) reflect.Value {
	v := reflect.ValueOf(s).Elem().FieldByName(exported(c.Quantity.Kind.Name))
	if c.Quantity.Kind.Many {
		v = v.Index(c.Item)
	}
	v = v.FieldByName(field(c.Quantity))
	steps := c.Quantity.StepsOf(c.Row)
	for i, at := range steps {
		if i == len(steps)-1 && c.Quantity.Start != nil {
			at++
		}
		v = v.Index(at)
	}
	return v
}

// newStraight is the straight Go with what a model gives.
func newStraight(m *engine.Model, o *outline) *straight.Model {
	s := new(straight.Model)
	for q := range o.need {
		if q.Value != nil || len(q.Kind.Items) == 0 {
			continue
		}
		for item := range q.Kind.Items {
			if q.Type == decl.Points {
				kind := reflect.ValueOf(s).Elem().FieldByName(exported(q.Kind.Name))
				if q.Kind.Many {
					kind = kind.Index(item)
				}
				if points := m.Result.PointsOf(q, item); points != nil {
					for i, c := range q.Columns {
						kind.FieldByName(field(q) + exported(c.Name)).Set(reflect.ValueOf(points[i]))
					}
				}
				continue
			}
			for row := range q.Rows() {
				c := eval.Cell{Quantity: q, Item: item, Row: row}
				put(straightField(s, c), m.Result.At(q, item, row))
			}
		}
	}
	return s
}

// put enters a value as its field has it.
func put(to reflect.Value, v float64) {
	switch {
	case to.Kind() == reflect.Bool:
		to.SetBool(v == 1)
	case to.Kind() == reflect.Float64:
		to.SetFloat(v)
	case v != v:
		to.SetInt(-1)
	default:
		to.SetInt(int64(v))
	}
}

// taken is the value of a field.
func taken(from reflect.Value) float64 {
	switch {
	case from.Kind() == reflect.Float64:
		return from.Float()
	case from.Kind() == reflect.Bool && from.Bool():
		return 1
	case from.Kind() == reflect.Bool:
		return 0
	case from.Int() < 0:
		return math.NaN()
	}
	return float64(from.Int())
}

// straightAxis is everyInput, as far as the straight Go has fields for it, and these.
func straightAxis(m *engine.Model, o *outline, s *straight.Model, points int) (axis eval.Axis, to []*float64, values [][]float64) {
	every := everyInput(m, points, rand.New(rand.NewPCG(7, 8)))
	values = make([][]float64, len(every.Inputs))
	for i := range values {
		values[i] = make([]float64, points)
	}
	every.Fill(values, 0)
	n := 0
	for i, c := range every.Inputs {
		if o.need[c.Quantity] {
			axis.Inputs, values[n] = append(axis.Inputs, c), values[i]
			to = append(to, straightField(s, c).Addr().Interface().(*float64))
			n++
		}
	}
	values = values[:n]
	axis.Steps, axis.Fill = points, eval.Values(values...)
	return axis, to, values
}

// TestStraightIsTheModel: every value that the straight Go keeps is to the last bit
// that of the engine, at random points of every input.
func TestStraightIsTheModel(t *testing.T) {
	oracle.OneCore(t)
	m := modelOf(t, "")
	o := newOutline(m, straightWanted(m))
	s := newStraight(m, o)
	const points = 25
	axis, to, values := straightAxis(m, o, s, points)
	s.Fix()
	machine := eval.New(m.Program)
	held, present := 0, 0
	for i := range points {
		var changes []eval.Change
		for j, c := range axis.Inputs {
			if i > 0 { // the first is the scenario itself
				*to[j] = values[j][i]
			}
			changes = append(changes, eval.Change{Quantity: c.Quantity, Item: c.Item, Row: c.Row, Value: *to[j]})
		}
		s.Run()
		result := machine.Run(changes...)
		for _, q := range m.Quantities {
			if !o.need[q] || q.Value == nil || !o.stored[q] {
				continue
			}
			n, with := sameCells(t, m, result, s, q)
			held, present = held+n, present+with
		}
	}
	formulas, all := 0, 0
	for q := range o.need {
		if q.Value != nil && cells(q) > 0 {
			formulas++
			all += cells(q)
		}
	}
	if held < 50_000 || present < held/10 {
		t.Errorf("only %d values were held against the engine's, %d of them present", held, present)
	}
	t.Logf("%d numbers varied, %d formulas of %d cells; %d values at %d points equal, %d of them present", len(to), formulas, all, held, points, present)
}

// sameCells holds the values of a quantity against the engine's and counts them.
func sameCells(t *testing.T, m *engine.Model, r *eval.Result, s *straight.Model, q *check.Quantity) (held, present int) {
	t.Helper()
	for item := range q.Kind.Items {
		for row := range q.Rows() {
			if !stepsInUse(r, q, item, row) {
				continue
			}
			c := eval.Cell{Quantity: q, Item: item, Row: row}
			ours, engines := taken(straightField(s, c)), r.At(q, item, row)
			if math.Float64bits(ours) != math.Float64bits(engines) && !(ours != ours && engines != engines) {
				t.Fatalf("%s = %v, by the engine %v", m.CellName(c), ours, engines)
			}
			if held++; engines == engines {
				present++
			}
		}
	}
	return held, present
}

// stepsInUse reports whether a row of an item is within the steps in use.
func stepsInUse(r *eval.Result, q *check.Quantity, item, row int) bool {
	for i, at := range q.StepsOf(row) {
		if at >= r.Active(q.Kind, q.Axes[i], item) {
			return false
		}
	}
	return true
}
