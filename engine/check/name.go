package check

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"bankwright/engine/decl"
	"bankwright/engine/diag"
)

// Place is one cell of the model: a quantity of an item, at one of its rows.
type Place struct {
	Quantity *Quantity
	Item     int
	Row      int
}

// Misnamed is the error for a text that means nothing here, with what to do.
type Misnamed struct {
	Summary string // one sentence without a full stop
	Mend    string // may be empty
}

// Error is both sentences.
func (e *Misnamed) Error() string {
	text := e.Summary
	if e.Mend != "" {
		text += ". " + strings.TrimSuffix(e.Mend, ".")
		if strings.HasSuffix(e.Mend, "?") {
			return text
		}
	}
	return text + "."
}

func misnamed(mend, format string, args ...any) error {
	return &Misnamed{Summary: fmt.Sprintf(format, args...), Mend: mend}
}

// ParseCell finds the cell of a name such as "shelf.oak.price" or
// "shelf.oak.stock[3]", or "check.narrow.oak" for the finding of a check; a
// series without a step means its first. An item and a quantity may be named by
// their labels, and the kind left out where that is plain.
func (p *Program) ParseCell(name string) (Place, error) {
	path, step, hasStep := strings.Cut(name, "[")
	if hasStep {
		var closed bool
		if step, closed = strings.CutSuffix(step, "]"); !closed {
			return Place{}, misnamed("Write the step between brackets: "+path+"[1]", "%s is not the name of a cell", name)
		}
	}
	q, item, err := p.seek(pathOf(path))
	if err != nil {
		return Place{}, err
	}
	c := Place{Quantity: q, Item: item}
	if q.Start != nil {
		c.Row = 1
	}
	if hasStep {
		c.Row, err = p.stepOf(q, step)
	}
	return c, err
}

// CellName is the name of a cell on the command line: kind.item.quantity, or
// kind.quantity where there is one item, and [step] or [step,step], counted
// from 1, behind a series (0 is the start). The finding of a check is
// check.name.item.
func (p *Program) CellName(c Place) string {
	q := c.Quantity
	if p.IsCheck(q) {
		if q.Kind.Many {
			return "check." + q.Name + "." + q.Kind.Items[c.Item].Name
		}
		return "check." + q.Name
	}
	s := q.Kind.Name + "."
	if q.Kind.Many {
		s += q.Kind.Items[c.Item].Name + "."
	}
	s += q.Name
	if len(q.Axes) == 0 {
		return s
	}
	var steps []string
	for i, n := range q.StepsOf(c.Row) {
		if k := q.Axes[i].Kind; k != nil && n >= 0 {
			steps = append(steps, k.Items[n].Name)
		} else {
			steps = append(steps, strconv.Itoa(n+1))
		}
	}
	return s + "[" + strings.Join(steps, ",") + "]"
}

// itemOf takes the item's name off a path, where the kind has many.
func itemOf(k *Kind, path []string) (item int, rest []string, err error) {
	if !k.Many {
		return 0, path, nil
	}
	names := k.ItemNames()
	switch {
	case len(names) == 0:
		return 0, nil, misnamed("", "the scenario has no %s", k.Name)
	case len(path) == 0:
		return 0, nil, misnamed("There are "+listed(names), "say which %s", k.Name)
	}
	if item = itemNamed(k, path[0]); item < 0 {
		if slices.Contains(k.Dropped, path[0]) {
			return 0, nil, misnamed("Name another one, or loosen the condition", "there is no %s named %s, since `keep` leaves it out", k.Name, path[0])
		}
		return 0, nil, misnamed(nearest(path[0], names, ""), "there is no %s named %s", k.Name, path[0])
	}
	return item, path[1:], nil
}

// nearest asks for the name that was perhaps meant, or lists those that there
// are; lead stands before each in full.
func nearest(name string, names []string, lead string) string {
	if near := diag.Nearest(name, names); near != "" {
		return diag.Meant(name, near, lead+near)
	}
	const few = 6 // of a longer list only what resembles it is told
	if alike := diag.Alike(name, names, few); len(names) > few && len(alike) > 0 {
		for i := range alike {
			alike[i] = lead + alike[i]
		}
		return "Did you mean " + either(alike) + "?"
	}
	if len(names) == 0 {
		return ""
	}
	return "There are " + listed(names)
}

// either joins names by "or".
func either(names []string) string {
	last := len(names) - 1
	if last == 0 {
		return names[0]
	}
	return strings.Join(names[:last], ", ") + " or " + names[last]
}

// mostListed is how many names are listed in full.
const mostListed = 12

// listed joins names, the first dozen of many.
func listed(names []string) string {
	if len(names) <= mostListed {
		return strings.Join(names, ", ")
	}
	return fmt.Sprintf("%s and %d more", strings.Join(names[:mostListed], ", "), len(names)-mostListed)
}

// quantityOf is the quantity of a kind that a name or a label means. Where other kinds
// have one of that name, it says so.
func (p *Program) quantityOf(k *Kind, name string) (*Quantity, error) {
	if q := k.Quantity(name); q != nil {
		return q, nil
	}
	if q := k.labelled(name); q != nil {
		return q, nil
	}
	mend := nearestQuantity(name, k.Quantities)
	if mend == "" {
		mend = listsAll(k)
	}
	var cells []string
	for _, q := range p.owners(name) {
		cell := q.Kind.Name + "."
		if q.Kind.Many {
			cell += "NAME."
		}
		cells = append(cells, cell+q.Name)
	}
	if len(cells) > 0 {
		mend = "It belongs to another kind: " + either(cells)
		if near := diag.Nearest(name, k.QuantityNames()); near != "" {
			mend += "; or did you mean " + near + "?"
		}
	}
	return nil, misnamed(mend, "%s has no quantity %s", k.Name, name)
}

// stepOf is the row of the step that is written behind a series: a number from
// 1 for each axis (0 for a start), or an item's name or label on an axis over items.
func (p *Program) stepOf(q *Quantity, text string) (int, error) {
	if len(q.Axes) == 0 {
		return 0, misnamed("Leave the step out", "%s is one value, not a series", q.Name)
	}
	words := strings.Split(text, ",")
	if len(words) != len(q.Axes) {
		return 0, misnamed("Write a step for each of its axes, as in "+q.Name+"[1"+strings.Repeat(",1", len(q.Axes)-1)+"]", "%s runs over %d axes", q.Name, len(q.Axes))
	}
	steps := make([]int, len(words))
	for i, w := range words {
		a, w := q.Axes[i], strings.TrimSpace(w)
		low := 1
		if q.Start != nil && i == len(words)-1 {
			low = 0
		}
		n, err := strconv.Atoi(w)
		if err != nil && a.Kind != nil {
			if item := itemNamed(p.Kind(a.Kind.Name), w); item >= 0 {
				n, err = item+1, nil
			}
		}
		if err != nil || n < low || n > a.Steps {
			return 0, misnamed(p.stepsOf(a, low), "%s has no step %q", q.Name, w)
		}
		steps[i] = n - 1
	}
	return q.Row(steps...), nil
}

// stepsOf says which steps an axis has.
func (p *Program) stepsOf(a *decl.Axis, low int) string {
	if a.Kind == nil {
		return fmt.Sprintf("The steps of %s run from %d to %d", a.Name, low, a.Steps)
	}
	return "There are " + listed(p.Kind(a.Kind.Name).ItemNames())
}

// ParseQuantity finds the quantity of a name such as "shelf.price", or "price"
// where only one kind has it; a cell's name is understood as well.
func (p *Program) ParseQuantity(name string) (*Quantity, error) {
	parts := pathOf(name)
	if k := p.Kind(parts[0]); k != nil && len(parts) == 2 {
		return p.quantityOf(k, parts[1])
	}
	if owners := p.owners(strings.Join(parts, ".")); len(owners) == 1 {
		return owners[0], nil
	} else if len(owners) > 1 {
		var full []string
		for _, q := range owners {
			full = append(full, q.Kind.Name+"."+q.Name)
		}
		return nil, misnamed("Write "+strings.Join(full, " or "), "%s belongs to several kinds", name)
	}
	c, err := p.ParseCell(name)
	return c.Quantity, err
}
