package check

import (
	"math"

	"bankwright/engine/decl"
)

// Rows is how many rows the values of q are stored in: one where q is no
// series; else a row for each step and, where q has a start, one more in front
// of the first step of each run of the last axis, so that the step before is
// always the row above.
func (q *Quantity) Rows() int {
	n := 1
	for _, a := range q.Axes {
		n *= a.Steps
	}
	if q.Start != nil {
		n += n / max(1, q.last().Steps)
	}
	return n
}

func (q *Quantity) last() *decl.Axis { return q.Axes[len(q.Axes)-1] }

// Row is the row of a step, given a step number (from 0) for each axis of q.
// With -1 on the last axis it is the row of the start.
func (q *Quantity) Row(steps ...int) int {
	if len(q.Axes) == 0 {
		return 0
	}
	outer := 0
	n := len(q.Axes) - 1
	for i, a := range q.Axes[:n] {
		outer = outer*a.Steps + steps[i]
	}
	if q.Start != nil {
		return outer*(q.last().Steps+1) + steps[n] + 1
	}
	return outer*q.last().Steps + steps[n]
}

// EachStep calls f for every step of q in order (once with no steps where q is
// no series). The slice is reused.
func (q *Quantity) EachStep(f func(steps []int, row int)) {
	eachStep(q.Axes, func(steps []int) { f(steps, q.Row(steps...)) })
}

// eachStep counts through the axes, the last fastest.
func eachStep(axes []*decl.Axis, f func(steps []int)) {
	for _, a := range axes {
		if a.Steps == 0 {
			return
		}
	}
	steps := make([]int, len(axes))
	for {
		f(steps)
		i := len(axes) - 1
		for ; i >= 0; i-- {
			if steps[i]++; steps[i] < axes[i].Steps {
				break
			}
			steps[i] = 0
		}
		if i < 0 {
			return
		}
	}
}

// HasAxis reports whether q runs over a.
func (q *Quantity) HasAxis(a *decl.Axis) bool { return hasAxis(q.Axes, a) }

func hasAxis(axes []*decl.Axis, a *decl.Axis) bool {
	for _, b := range axes {
		if a == b {
			return true
		}
	}
	return false
}

// IsRule reports whether q is computed by the rules: by a formula, or as the
// inverse of a reference.
func (q *Quantity) IsRule() bool { return q.Computed() }

// Limits are the least and the most that a number may be, infinite where the rules
// set none.
func (q *Quantity) Limits() (least, most float64) {
	least, most = math.Inf(-1), math.Inf(1)
	if q.Min != nil {
		least = q.Min.Value
	}
	if q.Max != nil {
		most = q.Max.Value
	}
	return least, most
}

// Quantity finds a quantity of k by name, nil if there is none.
func (k *Kind) Quantity(name string) *Quantity {
	for _, q := range k.Quantities {
		if q.Name == name {
			return q
		}
	}
	return nil
}

// Item finds the index of an item of k by name, -1 if there is none.
func (k *Kind) Item(name string) int {
	for i, it := range k.Items {
		if it.Name == name {
			return i
		}
	}
	return -1
}

// Kind finds a kind by name, nil if there is none.
func (p *Program) Kind(name string) *Kind {
	for _, k := range p.Kinds {
		if k.Name == name {
			return k
		}
	}
	return nil
}

// Compared is the kind whose items are compared, nil if the rules compare none.
func (p *Program) Compared() *Kind {
	for _, k := range p.Kinds {
		if k.Compare != nil {
			return k
		}
	}
	return nil
}

// Walk calls f for e and every expression below it, parents first.
func (e *Expr) Walk(f func(*Expr)) {
	if e == nil {
		return
	}
	f(e)
	for _, a := range e.Args {
		a.Walk(f)
	}
}

// StepsOf is the inverse of Row: the step on each axis, -1 on the last for a
// row that holds a start.
func (q *Quantity) StepsOf(row int) []int {
	steps := make([]int, len(q.Axes))
	shift := 0
	if q.Start != nil {
		shift = 1
	}
	for i := len(q.Axes) - 1; i >= 0; i-- {
		n := q.Axes[i].Steps + shift
		steps[i] = row%n - shift
		row /= n
		shift = 0
	}
	return steps
}
