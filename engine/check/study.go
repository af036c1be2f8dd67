package check

import (
	"errors"
	"slices"
	"strings"

	"bankwright/engine/decl"
	"bankwright/engine/diag"
	"bankwright/engine/sample"
	"bankwright/engine/unit"
)

// Sweep is a checked sweep.
type Sweep struct {
	*decl.Sweep
	Axes []*Axis // at least one; no cell is on two of them
	Show []Place // single numbers and truths; every item where a quantity is named
}

// Axis is an input that is varied, or several that are scaled together.
type Axis struct {
	Inputs []Place
	// Values are those that each of the inputs takes, by step, in base units; a text is
	// its index in Program.Texts, a reference the index of the item, a truth 0 or 1.
	// They must not be changed.
	Values []float64
	// Relative tells that Values are factors, by which the inputs' values at the
	// base point are multiplied: whether these stay within their limits is known
	// only then.
	Relative bool

	names   []string               // of steps that are no numbers
	written func(x float64) string // a step that is a number
}

// Steps is how many values an axis has.
func (a *Axis) Steps() int { return len(a.Values) }

// Written names a step: in the declared unit of the input, or in percent, with as many
// decimals as tell numbers apart that lie evenly.
func (a *Axis) Written(step int) string {
	if a.names != nil {
		return a.names[step]
	}
	return a.written(a.Values[step])
}

// Doubt is a checked doubt.
type Doubt struct {
	*decl.Doubt
	Inputs []Uncertain
	// Ties are the correlations of the normal variables from which the inputs are
	// drawn (a Gaussian copula), by input; nil where all are independent.
	Ties *sample.Correlation
}

// Uncertain is an input of a doubt with its distribution: see decl.DistKind for
// the parameters, which are in base units where they have a unit.
type Uncertain struct {
	Place
	Kind     decl.DistKind
	Params   []float64 // none for trials
	Cells    []Place   // trials: mean, deviation and count, read at the base point
	Min, Max float64   // limits of the quantity, beyond which nothing is possible; infinite where it has none
}

// BreakEven is a checked break-even.
type BreakEven struct {
	*decl.BreakEven
	Between  []int // two items of the compared kind; nil: the best and the next
	Input    Place // a number
	From, To float64
	Over     *Axis // nil: one value; else one for each step
}

// Limits of what studies may ask for together.
const (
	maxAxisValues = 2_000_000 // on all axes
	maxGrid       = 1e11      // combinations of one sweep: hours of work on one machine
)

// study resolves what the scenario, or a user behind a flag, wants varied.
type study struct {
	p     *Program
	read  *decl.Reader
	list  *diag.List
	names map[decl.Named]Place
	left  int // values that axes may still take
}

func newStudy(p *Program, list *diag.List) *study {
	return &study{p: p, read: decl.NewReader(p.Model, list), list: list, names: map[decl.Named]Place{}, left: maxAxisValues}
}

// studies resolves the sweeps, doubts and break-evens of the scenario.
func (c *checker) studies() {
	m := c.prog.Model
	if len(m.Sweeps)+len(m.Doubts)+len(m.BreakEvens) == 0 {
		return
	}
	s := newStudy(c.prog, &c.list)
	for _, d := range m.Sweeps {
		c.prog.Sweeps = append(c.prog.Sweeps, s.sweep(d))
	}
	for _, d := range m.Doubts {
		c.prog.Doubts = append(c.prog.Doubts, s.doubt(d))
	}
	for _, d := range m.BreakEvens {
		c.prog.BreakEvens = append(c.prog.BreakEvens, s.breakEven(d))
	}
}

func (s *study) sweep(d *decl.Sweep) *Sweep {
	out := &Sweep{Sweep: d, Show: s.shown(d)}
	taken := map[Place]bool{}
	grid := 1.0
	for _, v := range d.Vary {
		if a := s.axis(v, taken); a != nil {
			out.Axes = append(out.Axes, a)
			grid *= float64(a.Steps())
		}
	}
	if grid > maxGrid {
		s.list.Errorf(d.At, "limit", "Take fewer values of each.", "the sweep `%s` has %s combinations, more than %s", d.Name, unit.Format(grid, 0), unit.Format(maxGrid, 0))
	}
	return out
}

// shown are the cells that a sweep shows: by default what decides the comparison.
func (s *study) shown(d *decl.Sweep) (out []Place) {
	k := s.p.Compared()
	if len(d.Show) == 0 {
		if k == nil {
			s.list.Errorf(d.At, "missing", "Add show = [\"…\"].", "the rules compare nothing, so that the sweep `%s` must say what to show", d.Name)
			return nil
		}
		return everyItem(k, k.Quantity(k.Compare.By))
	}
	seen := map[Place]bool{}
	for _, n := range d.Show {
		cells, ok := s.show(n)
		if !ok {
			continue
		}
		if slices.ContainsFunc(cells, func(c Place) bool { return seen[c] }) {
			s.list.Errorf(n.At, "duplicate", "Leave it out.", "`%s` is shown already", n.Name)
		}
		for _, c := range cells {
			seen[c] = true
		}
		out = append(out, cells...)
	}
	return out
}

func everyItem(k *Kind, q *Quantity) (out []Place) {
	for i := range k.Items {
		out = append(out, Place{Quantity: q, Item: i})
	}
	return out
}

// show are the cells that an entry of `show` names.
func (s *study) show(n decl.Named) ([]Place, bool) {
	k := s.p.Compared()
	var q *Quantity
	if k != nil {
		name, inKind := strings.CutPrefix(n.Name, k.Name+".")
		q = k.Quantity(name)
		if q == nil && inKind && !strings.Contains(name, ".") && itemNamed(k, name) < 0 {
			_, err := s.p.quantityOf(k, name)
			s.misnamed(n, err)
			return nil, false
		}
		if q != nil && !inKind && len(s.p.owners(name)) > 1 {
			q = nil
		}
	}
	cell := Place{Quantity: q}
	if q == nil {
		var ok bool
		if cell, ok = s.cell(n); !ok {
			return nil, false
		}
	}
	switch {
	case cell.Quantity.Type != decl.Number && cell.Quantity.Type != decl.Boolean:
		s.list.Errorf(n.At, "wrong-kind", "Show a number, or what is true or false.", "`%s` cannot be shown: it is no number", n.Name)
		return nil, false
	case q == nil:
		return []Place{cell}, true
	case len(q.Axes) > 0:
		s.list.Errorf(n.At, "series", "Name one step of one item, such as "+s.p.stepExample(Place{Quantity: q})+".", "`%s` is a series", n.Name)
		return nil, false
	}
	return everyItem(k, q), true
}

// misnamed tells of a name that means nothing.
func (s *study) misnamed(n decl.Named, err error) {
	var e *Misnamed
	if !errors.As(err, &e) {
		return
	}
	mend := e.Mend
	switch {
	case mend == "":
		mend = "The command rules lists what there is."
	case !strings.HasSuffix(mend, "?") && !strings.HasSuffix(mend, "."):
		mend += "."
	}
	s.list.Errorf(n.At, "unknown-name", mend, "%s", e.Summary)
}

// cell is the cell of a name; of a series, a step must be named.
func (s *study) cell(n decl.Named) (Place, bool) {
	if c, ok := s.names[n]; ok {
		return c, c.Quantity != nil
	}
	c, err := s.p.ParseCell(n.Name)
	switch {
	case err != nil:
		s.misnamed(n, err)
		c = Place{}
	case c.Quantity.Type == decl.Set || strings.HasSuffix(n.Name, "]") || len(c.Quantity.Axes) == 0:
	default:
		s.list.Errorf(n.At, "series", "Name one of its steps, such as "+s.p.stepExample(c)+".", "`%s` is a series", n.Name)
		c = Place{}
	}
	s.names[n] = c // what is told is told once
	return c, c.Quantity != nil
}

// stepExample names the first step of the series that a cell belongs to.
func (p *Program) stepExample(c Place) string {
	if c.Quantity.Kind.Many && len(c.Quantity.Kind.Items) == 0 || c.Quantity.Rows() == 0 {
		return c.Quantity.Name + "[1]"
	}
	c.Row = c.Quantity.Row(make([]int, len(c.Quantity.Axes))...)
	return p.CellName(c)
}

// input is the cell of an input that can be varied.
func (s *study) input(n decl.Named) (Place, bool) {
	c, ok := s.cell(n)
	if !ok {
		return Place{}, false
	}
	q := c.Quantity
	switch {
	case s.p.IsCheck(q):
		s.list.Errorf(n.At, "computed", s.follows(c), "`%s` is the finding of a check and cannot be varied", n.Name)
	case q.IsRule():
		s.list.Errorf(n.At, "computed", s.follows(c), "`%s` is computed and cannot be varied", n.Name)
	case q.Type == decl.Set:
		s.list.Errorf(n.At, "wrong-kind", "Vary a number, a truth, a choice or a reference.", "`%s` is a set of %s and cannot be varied", n.Name, q.To.Plural)
	case q.Type.Tabular():
		s.list.Errorf(n.At, "wrong-kind", "Vary a number, a truth, a choice or a reference.", "`%s` is a table, not one value, and cannot be varied", n.Name)
	case q.Type == decl.Text && len(q.Choices) == 0:
		s.list.Errorf(n.At, "wrong-kind", "Vary a number, a truth, a choice or a reference.", "`%s` is any text and has no choices to vary", n.Name)
	default:
		return c, true
	}
	return Place{}, false
}

// number is the cell of an input that takes any number between its limits.
func (s *study) number(n decl.Named, mend string) (Place, bool) {
	c, ok := s.input(n)
	switch {
	case !ok:
		return c, false
	case c.Quantity.Type != decl.Number:
		s.list.Errorf(n.At, "wrong-kind", mend, "`%s` is no number", n.Name)
	case c.Quantity.Whole:
		s.list.Errorf(n.At, "wrong-kind", mend, "`%s` is a whole number and takes none between", n.Name)
	default:
		return c, true
	}
	return c, false
}

// follows names inputs from which a computed cell follows, the nearest first.
func (s *study) follows(c Place) string {
	const most = 3
	var names []string
	seen := map[*Quantity]bool{c.Quantity: true}
	for queue := []*Quantity{c.Quantity}; len(queue) > 0 && len(names) < most; queue = queue[1:] {
		read := func(e *Expr) {
			if e.Ref == nil || e.Ref.Target == nil || seen[e.Ref.Target] {
				return
			}
			q := e.Ref.Target
			seen[q] = true
			switch {
			case q.IsRule():
				queue = append(queue, q)
			case q.Type == decl.Number && len(names) < most && len(q.Kind.Items) > 0 && !q.Kind.Constants():
				names = append(names, q.Kind.Name+"."+q.Name)
			}
		}
		queue[0].Value.Walk(read)
	}
	if len(names) == 0 {
		return "Vary what it follows from."
	}
	return "Vary what it follows from, such as " + strings.Join(names, ", ") + "."
}

// NamedByStudies are the items of a kind that the scenario's studies name: one
// of their cells, a value that an input takes, or one of two that break even.
func (p *Program) NamedByStudies(k *Kind) map[int]bool {
	out := map[int]bool{}
	cell := func(c Place) {
		if c.Quantity.Kind == k {
			out[c.Item] = true
		}
	}
	axis := func(a *Axis) {
		for _, c := range a.Inputs {
			cell(c)
			if c.Quantity.To == k {
				for _, item := range a.Values {
					out[int(item)] = true
				}
			}
		}
	}
	for _, s := range p.Sweeps {
		for _, a := range s.Axes {
			axis(a)
		}
		for _, n := range s.Sweep.Show {
			if c, err := p.ParseCell(n.Name); err == nil {
				cell(c)
			}
		}
	}
	for _, d := range p.Doubts {
		for _, u := range d.Inputs {
			cell(u.Place)
			for _, c := range u.Cells {
				cell(c)
			}
		}
	}
	for _, b := range p.BreakEvens {
		cell(b.Input)
		for _, item := range b.Between {
			out[item] = true
		}
		if b.Over != nil {
			axis(b.Over)
		}
	}
	return out
}
