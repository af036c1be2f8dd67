package decl

import (
	"strconv"
	"strings"

	"bankwright/engine/diag"
)

// fillItems reads the values of all items, puts in defaults and reports what
// is missing.
func (l *loader) fillItems() {
	l.collected = true
	told := map[*node]bool{}
	fallback := map[*Quantity]bool{}
	for _, e := range l.entries {
		said := map[*Quantity]bool{}
		for _, a := range e.values {
			said[a.q] = true
			if g := l.given(a.n, a.q, true); g != nil {
				e.item.Given[a.q.Name] = g
			}
		}
		var missing []*Quantity
		for _, q := range e.kind.Quantities {
			switch {
			case q.Computed() || said[q] || l.broken[q]:
			case q.Default != nil:
				e.item.Given[q.Name] = q.Default
				if !fallback[q] {
					fallback[q] = true
					l.defaultExists(q)
				}
			case q.Unless != nil && !said[q.Unless], !q.Optional:
				missing = append(missing, q)
			}
		}
		if len(missing) > 0 && !e.part && (e.table == nil || !told[e.table]) {
			l.missing(e, missing)
		}
		if e.table != nil {
			told[e.table] = true
		}
	}
	l.mendSlips()
}

// missing reports the inputs that an item lacks.
func (l *loader) missing(e *entry, missing []*Quantity) {
	if e.table == nil && (l.unread || l.header == nil) { // its table may stand in what could not be read, or rules alone are read
		return
	}
	var names, examples []string
	for _, q := range missing {
		name := "`" + q.Name + "`"
		if q.Unless != nil {
			name += " or `" + q.Unless.Name + "`"
		}
		names = append(names, name)
		examples = append(examples, q.Name+" = "+l.example(q))
	}
	who := e.kind.Name
	if e.kind.Many {
		who += " `" + e.table.key + "`"
	}
	mend := "Add " + shorten(strings.Join(examples, ", "), 120) + "."
	if e.table == nil {
		mend = "Add [" + e.kind.Name + "] with " + shorten(strings.Join(examples, ", "), 120) + "."
	}
	text := names[len(names)-1]
	if len(names) > 1 {
		text = strings.Join(names[:len(names)-1], ", ") + " and " + text
	}
	d := diag.Diagnostic{Code: "missing", At: e.item.At, Summary: who + " needs " + text, Mend: mend}
	for i, q := range missing {
		if i < 5 {
			d.Related = append(d.Related, diag.Related{At: q.At, Text: "`" + q.Name + "` is declared here"})
		}
	}
	l.diags.Add(d)
}

// tooFew reports kinds of which the scenario must have more items.
func (l *loader) tooFew() {
	if l.header == nil || l.unread {
		return
	}
	given := map[*Kind]int{}
	for _, e := range l.entries {
		given[e.kind]++
	}
	for _, k := range l.model.Kinds {
		if given[k] >= k.Least || l.lost[k] || len(l.presumed[k]) > 0 {
			continue
		}
		mend := "Add [" + k.Name + "." + k.Name + "_" + strconv.Itoa(given[k]+1) + "] with its values."
		l.diags.Add(diag.Diagnostic{Code: "missing", At: diag.Pos{File: l.header.at.File, Line: 1, Col: 1},
			Summary: "a scenario needs at least " + count(k.Least, k.Name), Mend: mend,
			Related: []diag.Related{{At: k.At, Text: "declared here"}}})
	}
}

// resolveUnless finds the inputs that stand for others.
func (l *loader) resolveUnless() {
	for q, n := range l.unless {
		other := l.byName[q.Kind][n.text]
		switch {
		case l.broken[q], other == nil && l.unread:
		case other == nil:
			l.diags.Errorf(n.at, "unknown-name", l.nearQuantity(q.Kind, n.text), "`%s` is not a quantity of %s", shorten(n.text, 60), q.Kind.Name)
		case other == q || !other.Optional:
			l.diags.Errorf(n.at, "conflict", "Name another input that is optional.", "`%s` is not an optional input beside `%s`", n.text, q.Name)
		default:
			q.Unless = other
		}
	}
}

// example shows how a value of a quantity is written.
func (l *loader) example(q *Quantity) string {
	switch q.Type {
	case Boolean:
		return "true"
	case Text:
		if len(q.Choices) > 0 {
			return quoted(q.Choices[0])
		}
		return `"…"`
	case Reference:
		if len(q.Refers.Items) > 0 {
			return quoted(q.Refers.Items[0].Name)
		}
		return `"…"`
	case Set:
		return `["…"]`
	case Recording:
		return `{ file = "….csv" }`
	case Points:
		return "{ " + strings.Join(columnNames(q.Columns), " = […], ") + " = […] }"
	}
	if bare(q.Unit) {
		return "…"
	}
	return `"… ` + l.unitName(q.Unit, true) + `"`
}

// defaultExists reports a default that names an item which the scenario does
// not have.
func (l *loader) defaultExists(q *Quantity) {
	if q.Type != Reference && q.Type != Set || l.unread {
		return
	}
	for _, name := range q.Default.Texts {
		if l.items[q.Refers][name] == nil {
			l.diags.Errorf(q.Default.At, "reference", "Give `"+q.Name+"` in the scenario, or add ["+q.Refers.Name+"."+name+"].",
				"there is no %s `%s`, which is the default of `%s`", q.Refers.Name, name, q.Name)
		}
	}
}
