package check

import (
	"slices"
	"strings"
)

// Names that are not written in full, and those of checks.

// seek finds the quantity and the item that a path names.
func (p *Program) seek(path []string) (*Quantity, int, error) {
	k := p.Kind(path[0])
	switch {
	case k == nil && path[0] == "check":
		return p.seekCheck(path[1:])
	case k == nil:
		return p.seekHalf(path)
	}
	item, rest, err := itemOf(k, path[1:])
	if err != nil {
		return nil, 0, err
	}
	if len(rest) == 0 && k.Many {
		return nil, 0, k.noNumber(k.Items[item].Name, k.Name+"."+k.Items[item].Name)
	}
	if len(rest) > 1 && k.labelled(strings.Join(rest, ".")) != nil { // a label with points
		rest = []string{strings.Join(rest, ".")}
	}
	if len(rest) != 1 {
		return nil, 0, misnamed("A cell is named kind.item.quantity, or kind.quantity where there is one item", "%s is not the name of a cell", strings.Join(path, "."))
	}
	q, err := p.quantityOf(k, rest[0])
	return q, item, err
}

// seekCheck finds the finding of a check for an item: check.NAME.ITEM.
func (p *Program) seekCheck(path []string) (*Quantity, int, error) {
	if len(path) == 0 {
		return nil, 0, misnamed("Write check.NAME, or check.NAME.ITEM", "check alone names nothing")
	}
	c, err := p.CheckNamed(path[0])
	if err != nil {
		return nil, 0, err
	}
	k := c.Result.Kind
	if k.Many && len(path) == 1 {
		var names []string
		for _, item := range k.ItemNames() {
			names = append(names, "check."+c.Name+"."+item)
		}
		return nil, 0, misnamed("There are "+listed(names), "say for which %s", k.Name)
	}
	item, rest, err := itemOf(k, path[1:])
	if err == nil && len(rest) > 0 {
		err = misnamed("The finding of a check is named check.NAME.ITEM", "%s is not the name of a cell", "check."+strings.Join(path, "."))
	}
	return c.Result, item, err
}

// CheckNamed is the check of a name.
func (p *Program) CheckNamed(name string) (*Check, error) {
	var names []string
	for _, c := range p.Checks {
		if c.Name == name {
			return c, nil
		}
		names = append(names, c.Name)
	}
	return nil, misnamed(nearest(name, names, "check."), "there is no check %s", name)
}

// seekHalf finds what a path without its kind may mean: an item's quantity, or
// the quantity of a kind of one. Where it is not plain it tells what to write.
func (p *Program) seekHalf(path []string) (*Quantity, int, error) {
	name := path[0]
	var kinds []*Kind
	for _, k := range p.Kinds {
		if k.Many && itemNamed(k, name) >= 0 {
			kinds = append(kinds, k)
		}
	}
	if len(kinds) == 1 && len(path) == 1 {
		return nil, 0, kinds[0].noNumber(name, kinds[0].Name+"."+kinds[0].Items[itemNamed(kinds[0], name)].Name)
	}
	if len(kinds) == 1 && len(path) == 2 {
		q, err := p.quantityOf(kinds[0], path[1])
		return q, itemNamed(kinds[0], name), err
	}
	if len(kinds) > 0 {
		var full []string
		for _, k := range kinds {
			quantity := "QUANTITY"
			if len(path) == 2 {
				quantity = path[1]
			} else if k.Compare != nil {
				quantity = k.Compare.By
			}
			full = append(full, k.Name+"."+k.Items[itemNamed(k, name)].Name+"."+quantity)
		}
		return nil, 0, misnamed("Name one of its quantities, such as "+strings.Join(full, " or "), "%s is an item, not one number", name)
	}
	if whole := strings.Join(path, "."); len(path) == 1 || len(p.owners(whole)) > 0 {
		return p.seekQuantity(whole)
	}
	return nil, 0, misnamed(nearest(name, p.kindNames(), ""), "there is no kind %s", name)
}

// seekQuantity finds the cell of a quantity that is named without its kind.
func (p *Program) seekQuantity(name string) (*Quantity, int, error) {
	owners := p.owners(name)
	if len(owners) == 1 && !owners[0].Kind.Many {
		return owners[0], 0, nil
	}
	var full []string
	for _, q := range owners {
		cell := Place{Quantity: q}
		if len(q.Kind.Items) > 0 {
			full = append(full, strings.Split(p.CellName(cell), "[")[0])
		}
	}
	for _, c := range p.Checks {
		if c.Name == name && len(c.Result.Kind.Items) > 0 {
			full = append(full, p.CellName(Place{Quantity: c.Result}))
		}
	}
	if len(full) > 0 {
		return nil, 0, misnamed("Write "+strings.Join(full, " or "), "%s does not say of which item", name)
	}
	mend := nearest(name, p.kindNames(), "")
	if !strings.HasSuffix(mend, "?") {
		if near := nearestQuantity(name, p.Quantities); near != "" {
			mend = near
		}
	}
	return nil, 0, misnamed(mend, "there is no kind %s", name)
}

// owners are the quantities of a name, one for each kind that has it; where none has,
// those of a label.
func (p *Program) owners(name string) []*Quantity {
	var out []*Quantity
	for _, k := range p.Kinds {
		if q := k.Quantity(name); q != nil {
			out = append(out, q)
		}
	}
	if len(out) > 0 {
		return out
	}
	for _, k := range p.Kinds {
		if q := k.labelled(name); q != nil {
			out = append(out, q)
		}
	}
	return out
}

// IsCheck reports whether a quantity is the result of a check.
func (p *Program) IsCheck(q *Quantity) bool {
	return slices.ContainsFunc(p.Checks, func(c *Check) bool { return c.Result == q })
}

// itemNamed is the item of a name, or of a label that no other has; -1 if none.
func itemNamed(k *Kind, name string) int {
	if i := k.Item(name); i >= 0 {
		return i
	}
	found := -1
	for i, it := range k.Items {
		switch {
		case it.Label != name:
		case found >= 0:
			return -1
		default:
			found = i
		}
	}
	return found
}

func (p *Program) kindNames() []string {
	var out []string
	for _, k := range p.Kinds {
		out = append(out, k.Name)
	}
	return out
}
