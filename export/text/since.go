package text

import (
	"fmt"
	"io"
	"slices"
	"strings"

	"bankwright/engine"
	"bankwright/engine/unit"
)

// mostMoved is how many cells Since shows unless the style asks for all.
const mostMoved = 40

// Since writes what is other than in an earlier model of the scenario, cell by cell:
// what was changed, the figures that are compared, what checks find; then who is best.
// All other cells are counted, and how says how to see them, or they are shown where the
// style asks for all.
func Since(w io.Writer, m, before *engine.Model, how string, st Style) {
	all := m.Since(before)
	if len(all) == 0 {
		fmt.Fprintln(w, "No number is other than before.")
		return
	}
	list := all
	if !st.All {
		list = slices.DeleteFunc(slices.Clone(all), func(c engine.Moved) bool { return !leading(m, c, st) })
		list = list[:min(len(list), mostMoved)]
	}
	slices.SortStableFunc(list, func(a, b engine.Moved) int { return rank(a) - rank(b) })
	writeMoved(w, list, st)
	if more := len(all) - len(list); more > 0 {
		word := "cells are"
		if more == 1 {
			word = "cell is"
		}
		sentence(w, st, "%s more %s other than before%s.", unit.Format(float64(more), 0), word, how)
	}
	if m.Compared() == nil || st.Only != nil && !slices.Contains(st.Only, "verdict") {
		return
	}
	c := m.Compare()
	if st.Only != nil {
		fmt.Fprintln(w)
		sentence(w, st, "%s", Verdict(m, c))
		return
	}
	writeFindings(w, c, func(o engine.Outcome) bool {
		return slices.ContainsFunc(all, func(x engine.Moved) bool {
			return x.Check && x.Cell.Quantity == o.Check.Result && x.Cell.Item == o.Item
		})
	}, st)
	fmt.Fprintln(w)
	sentence(w, st, "%s", Verdict(m, c))
}

// leading reports whether a cell is shown in any case: what was changed, what is compared
// and what checks find; where the style asks for some sections, what these show.
func leading(m *engine.Model, c engine.Moved, st Style) bool {
	k, q := m.Compared(), c.Cell.Quantity // q is nil where an item came or went
	wanted := func(section string) bool { return st.Only == nil || slices.Contains(st.Only, section) }
	switch compared := k != nil && q != nil && q.Kind == k; {
	case c.Input:
		return true
	case c.Check:
		return wanted("checks")
	case compared && slices.Contains(shown(k), q.Name) && wanted("figures"):
		return true
	default:
		return compared && q.Section != "" && slices.Contains(st.Only, q.Section)
	}
}

// rank puts inputs first and findings last.
func rank(c engine.Moved) int {
	switch {
	case c.Input:
		return 0
	case c.Check:
		return 2
	}
	return 1
}

// AsBefore names studies that found what they had found before.
func AsBefore(w io.Writer, studies []string, st Style) {
	if len(studies) > 0 {
		fmt.Fprintln(w)
		sentence(w, st, "As before: %s.", strings.Join(studies, ", "))
	}
}

// writeMoved writes a line for each cell, or two where one would be too long.
func writeMoved(w io.Writer, list []engine.Moved, st Style) {
	var names, before, now, units []string
	for _, c := range list {
		u := c.Unit
		if c.Steps > 0 {
			u = strings.TrimSpace(fmt.Sprintf("%s, and %d more", u, c.Steps))
		}
		names, before, now, units = append(names, c.Name), append(before, c.Before), append(now, c.Now), append(units, u)
	}
	before, now = alignPoints(before), alignPoints(now)
	fits := func(first, second, third, i int) bool { return first+2+second+4+third+2+width(units[i]) <= st.Width }
	first, second, third := 0, 0, 0
	for i, name := range names { // columns are as wide as the rows need that fit alone
		if fits(width(name), width(before[i]), width(now[i]), i) {
			first, second, third = max(first, width(name)), max(second, width(before[i])), max(third, width(now[i]))
		}
	}
	for i, name := range names {
		head, was, is := max(first, width(name)), max(second, width(before[i])), max(third, width(now[i]))
		values := padLeft(before[i], was) + " -> " + padLeft(now[i], is) + "  " + units[i]
		if fits(head, was, is, i) {
			fmt.Fprintln(w, strings.TrimRight(padRight(name, head)+"  "+values, " "))
			continue
		}
		fmt.Fprintln(w, name)
		indent := 4
		if first+2+width(values) <= st.Width {
			indent = first + 2 // below the values of the others
		}
		fmt.Fprint(w, hang(strings.Repeat(" ", indent), values, indent, st.Width))
	}
}
