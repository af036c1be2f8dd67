package decl

import "strings"

// Facts says in a few words each what values of a quantity are: the unit or the names
// that it takes, the axes, the limits and, of an input, what holds where it is left out.
func (q *Quantity) Facts() []string {
	var facts []string
	add := func(parts ...string) { facts = append(facts, strings.Join(parts, "")) }
	switch q.Type {
	case Number:
		if q.Unit.Name != "" {
			add("in ", q.Unit.Name)
		}
	case Boolean:
		add("true or false")
	case Text:
		if len(q.Choices) > 0 {
			add("one of ", strings.Join(q.Choices, ", "))
		}
	case Reference:
		add("the name of one ", q.Refers.Name)
	case Set:
		add("a list of ", q.Refers.Plural)
	case Points:
		add("a table of ", columnsWithUnits(q.Columns))
	case Recording:
		add("a recording of ", columnsWithUnits(q.Columns))
	}
	for i, a := range q.Over {
		if i == 0 {
			add("over ", a.Name)
		} else {
			facts[len(facts)-1] += " and " + a.Name
		}
	}
	if q.Whole {
		add("a whole number")
	}
	if q.Min != nil {
		add("at least ", q.Min.Written)
	}
	if q.Max != nil {
		add("at most ", q.Max.Written)
	}
	if q.UsualMin != nil && q.UsualMax != nil {
		add("usually ", q.UsualMin.Written, " to ", q.UsualMax.Written)
	}
	switch {
	case q.Computed():
	case q.Default != nil && q.Type == Set && len(q.Default.Texts) == 0:
		add("none if left out")
	case q.Default != nil:
		add(q.Default.Written, " if left out")
	case q.Unless != nil:
		add("must be given unless ", q.Unless.Name, " is")
	case q.Optional:
		add("may be left out")
	default:
		add("must be given")
	}
	return facts
}

// columnsWithUnits are the names of columns with their units.
func columnsWithUnits(columns []Column) string {
	var out []string
	for _, c := range columns {
		name := c.Name
		if c.Unit.Name != "" {
			name += " (" + c.Unit.Name + ")"
		}
		out = append(out, name)
	}
	return strings.Join(out, ", ")
}
