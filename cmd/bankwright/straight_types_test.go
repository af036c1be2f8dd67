package main

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"bankwright/engine/check"
	"bankwright/engine/decl"
)

// typeOf is the Go type of a value of a quantity.
func (w *writer) typeOf(q *check.Quantity) string {
	switch {
	case q.Type == decl.Reference || q.Type == decl.Text:
		return "int"
	case q.Type == decl.Set, q.Type == decl.Boolean && !w.may[q]:
		return "bool"
	}
	return "float64"
}

// structs writes the types of the kinds and of the model.
func (w *writer) structs(files map[string]string) {
	var model strings.Builder
	model.WriteString("// Model is all kinds with the values of their items, in base units. NaN is absent, of a\n// truth and of a text as well as of a number, which are 0 and 1, and places in texts.\ntype Model struct {\n")
	for _, k := range w.m.Kinds {
		var fields strings.Builder
		for _, q := range w.listOf(k) {
			if q.Type == decl.Points {
				for _, c := range q.Columns {
					fmt.Fprintf(&fields, "%s%s []float64\n", field(q), exported(c.Name))
				}
				continue
			}
			dims := ""
			for i, a := range q.Axes {
				n := a.Steps
				if i == len(q.Axes)-1 && q.Start != nil {
					n++
				}
				dims += fmt.Sprintf("[%d]", n)
			}
			fmt.Fprintf(&fields, "%s %s%s\n", field(q), dims, w.typeOf(q))
		}
		if fields.Len() == 0 {
			continue
		}
		name := exported(k.Name)
		files[k.Name+"_type.go"] = fmt.Sprintf("// %s is what is kept of an item of the kind %s. A series that has a value before its\n// first step holds it in front.\ntype %s struct {\n%s}\n", name, k.Name, name, fields.String())
		if k.Many {
			fmt.Fprintf(&model, "%s [%d]%s\n", name, len(k.Items), name)
		} else {
			fmt.Fprintf(&model, "%s %s\n", name, name)
		}
	}
	files["model.go"] = model.String() + "}\n"
}

// listOf are the quantities of a kind that have fields.
func (w *writer) listOf(k *check.Kind) []*check.Quantity {
	var out []*check.Quantity
	for _, q := range w.m.Quantities {
		if q.Kind == k && w.need[q] && w.stored[q] && (cells(q) > 0 || q.Type.Tabular()) {
			out = append(out, q)
		}
	}
	return out
}

// constants are the texts and tables that formulas name.
func (w *writer) constants() string {
	var b strings.Builder
	var list []int
	for i := range w.texts {
		list = append(list, i)
	}
	slices.Sort(list)
	b.WriteString("// Texts that formulas name.\nconst (\n")
	for _, i := range list {
		fmt.Fprintf(&b, "%s = %d\n", textName(w.m.Texts[i]), i)
	}
	b.WriteString(")\n\n// Columns of the tables that formulas read.\nvar (\n")
	for _, t := range w.listed {
		b.WriteString(t + "\n")
	}
	return b.String() + ")\n"
}

func textName(text string) string { return "text" + exported(strings.ReplaceAll(text, " ", "_")) }

// column is a list of numbers: a table's column, or one of an item's own table.
func (w *writer) column(e *check.Expr) string {
	if e.Table == nil {
		return w.item(e.Ref) + "." + field(e.Ref.Target) + exported(e.Ref.Target.Columns[e.Col].Name)
	}
	name := "table" + exported(e.Table.Name) + exported(e.Table.Columns[e.Col].Name)
	if w.tables[name] {
		return name
	}
	w.tables[name] = true
	var values []string
	for _, r := range e.Table.Rows {
		v := r.Numbers[e.Col]
		if e.Table.Columns[e.Col].Text {
			v = float64(slices.Index(w.m.Texts, r.Texts[e.Col]))
		}
		values = append(values, literal(v))
	}
	w.listed = append(w.listed, fmt.Sprintf("%s = []float64{%s}", name, strings.Join(values, ", ")))
	return name
}

// literal is a number as Go writes it.
func literal(v float64) string {
	if v != v {
		return "absent"
	}
	if v == math.Trunc(v) && math.Abs(v) < 1e15 {
		return fmt.Sprintf("%.0f", v)
	}
	return fmt.Sprint(v)
}
