package export

import (
	"bytes"
	"encoding/json"
	"io"
	"strings"

	"bankwright/engine"
	"bankwright/engine/check"
	"bankwright/engine/decl"
	"bankwright/engine/eval"
	"bankwright/engine/sweep"
)

// object is a JSON object whose keys keep their order.
type object []member

type member struct {
	key   string
	value any
}

// MarshalJSON writes the members in order.
func (o object) MarshalJSON() ([]byte, error) {
	var b bytes.Buffer
	b.WriteByte('{')
	for i, m := range o {
		if i > 0 {
			b.WriteByte(',')
		}
		key, err := json.Marshal(m.key)
		if err != nil {
			return nil, err
		}
		value, err := plainJSON(m.value)
		if err != nil {
			return nil, err
		}
		b.Write(key)
		b.WriteByte(':')
		b.Write(value)
	}
	b.WriteByte('}')
	return b.Bytes(), nil
}

// plainJSON is JSON in which < and & stand as they are.
func plainJSON(v any) ([]byte, error) {
	var b bytes.Buffer
	e := json.NewEncoder(&b)
	e.SetEscapeHTML(false)
	err := e.Encode(v)
	return bytes.TrimSuffix(b.Bytes(), []byte("\n")), err
}

// writeJSON writes one document, indented.
func writeJSON(w io.Writer, v any) error {
	data, err := plainJSON(v)
	if err != nil {
		return err
	}
	var b bytes.Buffer
	if err := json.Indent(&b, data, "", "  "); err != nil {
		return err
	}
	b.WriteByte('\n')
	_, err = w.Write(b.Bytes())
	return err
}

// value is a quantity's value in its declared unit, nil where there is none.
func value(m *engine.Model, q *check.Quantity, item, row int) any {
	switch q.Type {
	case decl.Points:
		return pointsValue(m, q, item)
	case decl.Recording:
		return recordingValue(m, q, item)
	}
	v := m.Result.At(q, item, row)
	if v != v || !inUse(m.Result, q, item, row) {
		return nil
	}
	switch q.Type {
	case decl.Boolean:
		return v != 0
	case decl.Text:
		return m.Texts[int(v)]
	case decl.Reference:
		return q.To.Items[int(v)].Name
	case decl.Set:
		return setValue(m, q, item)
	}
	return q.Unit.FromBase(v)
}

// inUse reports whether a step is among those that its item uses; what is no
// series always is, and rules have no value beyond.
func inUse(r *eval.Result, q *check.Quantity, item, row int) bool {
	return q.IsRule() || len(q.Axes) == 0 || q.Type == decl.Set || r.InUse(eval.Cell{Quantity: q, Item: item, Row: row})
}

// setValue is the names of a set's members.
func setValue(m *engine.Model, q *check.Quantity, item int) []string {
	names := []string{}
	for i, it := range q.To.Items {
		if m.Result.At(q, item, i) == 1 {
			names = append(names, it.Name)
		}
	}
	return names
}

// pointsValue is an item's own table, column by column.
func pointsValue(m *engine.Model, q *check.Quantity, item int) any {
	cols := m.Result.PointsOf(q, item)
	if cols == nil {
		return nil
	}
	var o object
	for i, c := range q.Columns {
		values := make([]float64, len(cols[i]))
		for r, v := range cols[i] {
			values[r] = c.Unit.FromBase(v)
		}
		o = append(o, member{c.Name, object{{"values", values}, {"unit", c.Unit.In(m.Model.Currency)}}})
	}
	return o
}

// recordingValue is a recording: its file, how many rows were used, which lines
// of the file they are, and the hours that it covers and lacks.
func recordingValue(m *engine.Model, q *check.Quantity, item int) any {
	rec := m.Result.RecordingOf(q, item)
	if rec == nil {
		return nil
	}
	r := rec.Report()
	return object{{"file", rec.Name}, {"rows", r.Rows}, {"first_line", r.FirstLine}, {"last_line", r.LastLine}, {"span", r.Span}, {"missing", r.Missing}, {"unit", "h"}}
}

// measured is a value with its unit.
func measured(m *engine.Model, q *check.Quantity, item int) object {
	o := object{{"value", value(m, q, item, 0)}}
	if q.Type == decl.Number {
		o = append(o, member{"unit", q.Unit.In(m.Model.Currency)})
	}
	return o
}

// CompareJSON writes the comparison: every single value of every compared item,
// in the scenario's order, and what the checks found.
func CompareJSON(w io.Writer, m *engine.Model) error {
	c := m.Compare()
	var best any
	if s, ok := c.Best(); ok {
		best = c.Kind.Items[s.Item].Name
	}
	place, full, frontier := make([]any, len(c.Kind.Items)), make([]bool, len(c.Kind.Items)), make([]any, len(c.Kind.Items))
	for i, s := range c.Ranked {
		full[s.Item] = s.Full
		if c.Kind.Compare.Frontier != nil {
			frontier[s.Item] = s.Frontier
		}
		if s.Eligible {
			place[s.Item] = i + 1
		}
	}
	items := make([]object, len(c.Kind.Items))
	for i, it := range c.Kind.Items {
		var values object
		for _, q := range c.Kind.Quantities {
			if len(q.Axes) == 0 && !q.Type.Tabular() {
				values = append(values, member{q.Name, measured(m, q, i)})
			}
		}
		items[i] = object{{"name", it.Name}, {"label", itemLabel(it)}, {"place", place[i]}, {"shortlist", full[i]}, {"frontier", frontier[i]}, {"values", values}, {"checks", findings(c.Of(i), i)}, {"answers", answers(m, c.Kind, i)}}
	}
	return writeJSON(w, object{
		{"scenario", m.Model.Title}, {"currency", m.Model.Currency}, {"decides", c.By.Name}, {"best", best},
		{"margins", margins(m, c)}, {plural(c.Kind), items},
	})
}

// margins are how far the inputs that the rules watch may move before another item
// is best: null where nothing changes as far as was looked.
func margins(m *engine.Model, c *engine.Comparison) []object {
	out := []object{}
	for _, x := range m.Margins(c) {
		q := x.Cell.Quantity
		turn := func(t sweep.Turn) any {
			if !t.Found {
				return nil
			}
			var best any
			if t.Best != sweep.None {
				best = c.Kind.Items[t.Best].Name
			}
			return object{{"value", q.Unit.FromBase(t.At)}, {"best", best}}
		}
		out = append(out, object{{"cell", m.CellName(x.Cell)}, {"unit", q.Unit.In(m.Model.Currency)}, {"value", q.Unit.FromBase(x.Base)},
			{"from", q.Unit.FromBase(x.From)}, {"to", q.Unit.FromBase(x.To)}, {"below", turn(x.Below)}, {"above", turn(x.Above)}})
	}
	return out
}

func plural(k *check.Kind) string {
	if k.Plural != "" {
		return k.Plural
	}
	return k.Name
}

// findings are the results of an item's checks. Passed is null where a check
// does not apply.
func findings(outcomes []engine.Outcome, item int) []object {
	out := []object{}
	for _, o := range outcomes {
		if o.Item != item {
			continue
		}
		var passed any
		if o.Applicable {
			passed = o.Passed
		}
		out = append(out, object{{"name", o.Check.Name}, {"severity", o.Check.Severity.String()}, {"passed", passed}, {"text", o.Text}})
	}
	return out
}

// answers are the answers to the questions about an item.
func answers(m *engine.Model, k *check.Kind, item int) []object {
	out := []object{}
	for _, q := range m.Questions {
		if q.Kind == k {
			out = append(out, object{{"name", q.Name}, {"question", q.Ask}, {"answer", m.Sentence(q.Sentence, item)}})
		}
	}
	return out
}

// CheckJSON writes what the checks found for every item of every kind.
func CheckJSON(w io.Writer, m *engine.Model) error {
	items := []object{}
	for _, k := range m.Kinds {
		outcomes := m.Outcomes(k)
		if len(outcomes) == 0 {
			continue
		}
		for i, it := range k.Items {
			items = append(items, object{{"kind", k.Name}, {"name", it.Name}, {"checks", findings(outcomes, i)}})
		}
	}
	notices := []object{}
	for _, n := range m.Model.Notices {
		notices = append(notices, object{{"name", n.Name}, {"text", n.Text}, {"source", n.Source}})
	}
	return writeJSON(w, object{{"scenario", m.Model.Title}, {"items", items}, {"cautions", notices}})
}

// ExplainJSON writes how a cell came about: its formula and what that reads,
// down to the inputs and the places where they are written.
func ExplainJSON(w io.Writer, m *engine.Model, t *engine.Trace) error {
	given := []object{}
	for _, g := range m.GivenBelow(t.Cell) {
		given = append(given, trace(m, g))
	}
	return writeJSON(w, append(trace(m, t), member{"given", given}))
}

func trace(m *engine.Model, t *engine.Trace) object {
	q := t.Cell.Quantity
	o := object{{"cell", t.Name}, {"value", value(m, q, t.Cell.Item, t.Cell.Row)}}
	if q.Type == decl.Number {
		o = append(o, member{"unit", q.Unit.In(m.Model.Currency)})
	}
	if q.Doc != "" {
		o = append(o, member{"doc", q.Doc})
	}
	if t.Reason != "" {
		o = append(o, member{"missing", t.Reason})
	}
	if len(t.Recorded) > 0 {
		o = append(o, member{"recorded", t.Recorded})
	}
	if t.Given != nil {
		if t.Given.Default {
			o = append(o, member{"default", true})
		}
		o = append(o, member{"written", lineOnly(t.Given.At.String())})
	}
	switch {
	case t.Formula != nil:
		o = append(o, member{"formula", strings.Join(strings.Fields(t.Formula.Text), " ")}, member{"written", lineOnly(t.Formula.At.String())})
	case q.Inverse != nil:
		o = append(o, member{"inverse", q.To.Name + "." + q.Inverse.Name}, member{"written", lineOnly(q.At.String())})
	default:
		if q.Source != "" && t.Given != nil && t.Given.Default {
			o = append(o, member{"source", q.Source})
		}
		return o
	}
	if q.Source != "" {
		o = append(o, member{"source", q.Source})
	}
	if t.Cut {
		o = append(o, member{"cut", true})
	}
	from := []object{}
	for _, f := range t.From {
		from = append(from, trace(m, f))
	}
	return append(o, member{"from", from})
}

// lineOnly shortens file:line:column to file:line.
func lineOnly(at string) string {
	if strings.Count(at, ":") > 1 {
		return at[:strings.LastIndexByte(at, ':')]
	}
	return at
}

// RulesJSON writes everything that the rules declare.
func RulesJSON(w io.Writer, p *check.Program) error {
	kinds := []object{}
	for _, k := range p.Kinds {
		quantities := []object{}
		for _, q := range k.Quantities {
			quantities = append(quantities, declared(q))
		}
		kinds = append(kinds, object{{"name", k.Name}, {"many", k.Many}, {"doc", k.Doc}, {"quantities", quantities}})
	}
	checks := []object{}
	for _, c := range p.Checks {
		checks = append(checks, declaredCheck(c))
	}
	return writeJSON(w, object{{"kinds", kinds}, {"checks", checks}})
}

// CheckRuleJSON writes what the rules declare of one check.
func CheckRuleJSON(w io.Writer, c *check.Check) error { return writeJSON(w, declaredCheck(c)) }

// RuleJSON writes what the rules declare of one quantity.
func RuleJSON(w io.Writer, q *check.Quantity) error { return writeJSON(w, declared(q)) }

// ReadbackJSON writes the inputs that a workbook has otherwise than its scenario.
func ReadbackJSON(w io.Writer, m *engine.Model, book string, changes []InputChange) error {
	return writeJSON(w, object{{"workbook", book}, {"scenario", m.Model.Title}, {"currency", m.Model.Currency}, {"changes", append([]InputChange{}, changes...)}})
}

func declaredCheck(c *check.Check) object {
	return object{{"name", c.Name}, {"of", c.Of.Name}, {"severity", c.Severity.String()},
		{"require", c.Require.Text}, {"otherwise", c.Otherwise}, {"doc", c.Doc}, {"source", c.Source}}
}

var typeNames = map[decl.Type]string{
	decl.Number: "number", decl.Boolean: "boolean", decl.Text: "text", decl.Reference: "reference", decl.Set: "set", decl.Points: "points", decl.Recording: "recording",
}

func declared(q *check.Quantity) object {
	o := object{{"name", q.Kind.Name + "." + q.Name}, {"label", labelOf(q)}, {"type", typeNames[q.Type]}}
	if q.Type == decl.Number {
		o = append(o, member{"unit", q.Unit.Name})
	}
	if q.To != nil {
		o = append(o, member{"refers", q.To.Name})
	}
	if len(q.Choices) > 0 {
		o = append(o, member{"choices", q.Choices})
	}
	if len(q.Axes) > 0 && q.Type != decl.Set {
		over := []string{}
		for _, a := range q.Axes {
			over = append(over, a.Name)
		}
		o = append(o, member{"over", over})
	}
	if q.Formula != nil {
		o = append(o, member{"formula", q.Formula.Text})
	}
	if q.Inverse != nil {
		o = append(o, member{"inverse", q.To.Name + "." + q.Inverse.Name})
	}
	if q.Quantity.Start != nil {
		o = append(o, member{"start", q.Quantity.Start.Text})
	}
	if q.Default != nil {
		o = append(o, member{"default", q.Default.Written})
	}
	if q.Optional {
		o = append(o, member{"optional", true})
	}
	return append(o, member{"doc", q.Doc}, member{"source", q.Source})
}
