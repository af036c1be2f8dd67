package export

import (
	"strings"

	"bankwright/engine/decl"
)

const sourcesName = "Sources and cautions"

// drawSources draws what every figure rests on: the formulas as the rules say
// them, what they mean and where they come from.
func (pl *plan) drawSources() *Sheet {
	s := pl.head(&page{name: sourcesName, title: sourcesName, lead: "Every rule as it is written in the rules files."})
	s.FreezeRows = 3
	s.Widths = []float64{14, 28, 12, 50, 60, 50}
	s.Print.RepeatRows = 3
	for i, h := range []string{"belongs to", "name", "unit", "formula", "meaning", "source"} {
		s.text(3, i+1, h, HeadText)
	}
	row := 4
	add := func(texts ...string) {
		for i, t := range texts {
			if t != "" {
				s.text(row, i+1, t, Remark)
			}
		}
		row++
	}
	for _, k := range pl.prog.Kinds {
		for _, q := range k.Quantities {
			formula := "input"
			switch {
			case q.Inverse != nil:
				formula = "inverse of " + q.To.Name + "." + q.Inverse.Name
			case q.IsRule():
				formula = q.Formula.Text
				if q.Quantity.Start != nil {
					formula += "; before the first step: " + q.Quantity.Start.Text
				}
			}
			add(k.Name, q.Name, pl.unitName(q.Unit), formula, q.Doc, q.Source)
		}
	}
	for _, c := range pl.prog.Checks {
		add(c.Of.Name, c.Name, c.Severity.String(), c.Require.Text, strings.TrimSpace(c.Doc+" "+c.Otherwise), c.Source)
	}
	for _, t := range pl.prog.Model.Tables {
		add("table", t.Name, "", columnList(t), t.Doc, t.Source)
	}
	for _, n := range pl.prog.Model.Notices {
		add("caution", n.Name, "", "", n.Text, n.Source)
	}
	return s
}

func columnList(t *decl.Table) string {
	var names []string
	for _, c := range t.Columns {
		names = append(names, c.Name)
	}
	return strings.Join(names, ", ")
}
