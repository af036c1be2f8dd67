package export

import (
	"strings"

	"bankwright/engine/check"
	"bankwright/engine/decl"
)

const sourcesName = "Sources and cautions"

// sourceHead is the row of heads of the sheet of sources.
const sourceHead = 3

// drawSources draws what every figure rests on: the formulas as the rules say
// them, what they mean and where they come from. Each source stands once, below.
func (pl *plan) drawSources() *Sheet {
	s := pl.head(&page{name: sourcesName, title: sourcesName, lead: "Every rule as it is written in the rules files; the sources that the numbers stand for are listed below them."})
	s.FreezeRows, s.Print.RepeatRows, s.Print.Small = sourceHead, sourceHead, true
	s.Widths = []float64{12, 28, 10, 46, 66, 8}
	for i, h := range []string{"belongs to", "name", "unit", "formula", "meaning", "source"} {
		s.text(sourceHead, i+1, h, HeadText)
	}
	row := sourceHead + 1
	numbers := map[string]int{}
	var sources []string
	add := func(source string, texts ...string) {
		for i, t := range texts {
			if t != "" {
				s.text(row, i+1, t, Remark)
			}
		}
		if source != "" {
			if numbers[source] == 0 {
				sources = append(sources, source)
				numbers[source] = len(sources)
			}
			s.Set(row, 6, Cell{Value: float64(numbers[source]), Style: Remark})
		}
		row++
	}
	for _, n := range pl.prog.Model.Notices {
		add(n.Source, "caution", n.Name, "", "", n.Text)
	}
	for _, k := range pl.prog.Kinds {
		for _, q := range k.Quantities {
			if q.IsRule() || q.Inverse != nil { // what inputs mean stands beside them
				add(q.Source, k.Name, q.Name, pl.unitName(q.Unit), asWritten(q), q.Doc)
			}
		}
	}
	for _, c := range pl.prog.Checks {
		add(c.Source, c.Of.Name, c.Name, c.Severity.String(), c.Require.Text, strings.TrimSpace(c.Doc+" "+c.Otherwise))
	}
	for _, t := range pl.prog.Model.Tables {
		add(t.Source, "table", t.Name, "", columnList(t), t.Doc)
	}
	for i, source := range sources {
		s.text(row, 1, "source", Remark)
		s.text(row, 5, source, Remark)
		s.Set(row, 6, Cell{Value: float64(i + 1), Style: Remark})
		row++
	}
	return s
}

// asWritten is the formula of a quantity as the rules have it.
func asWritten(q *check.Quantity) string {
	switch {
	case q.Inverse != nil:
		return "inverse of " + q.To.Name + "." + q.Inverse.Name
	case q.Quantity.Start != nil:
		return q.Formula.Text + "; before the first step: " + q.Quantity.Start.Text
	}
	return q.Formula.Text
}

func columnList(t *decl.Table) string {
	var names []string
	for _, c := range t.Columns {
		names = append(names, c.Name)
	}
	return strings.Join(names, ", ")
}
