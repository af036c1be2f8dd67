package decl

import (
	"regexp"
	"slices"
	"strings"

	"bankwright/engine/unit"
)

// maxTableRows bounds the rows of a table of published values.
const maxTableRows = 10_000

// columns reads { NAME = "UNIT" }. A table of the rules may have columns of
// text; where items give the values, a column may have limits:
// { NAME = { unit = "UNIT", min = …, max = …, falling = true } }.
func (l *loader) columns(r *ruleSet, f *fields, n *node, text bool) []Column {
	if n == nil {
		f.fault(f.n.keyAt, "missing", "Add columns = { NAME = \"UNIT\" }.", "%s needs `columns`", f.what)
		return nil
	}
	if !f.kind(n, tableNode, "is a table of names and units", "Write { NAME = \"UNIT\" }.") {
		return nil
	}
	var out []Column
	for _, kid := range n.kids {
		c := Column{Name: kid.key, Unit: unit.One}
		if !l.nameOK(kid.key, kid.keyAt) {
			f.ok = false
		}
		switch {
		case text && kid.kind == textNode && kid.text == "text":
			c.Text = true
		case !text && kid.kind == tableNode:
			l.limitedColumn(r, f, kid, &c, len(out) == 0)
		default:
			c.Unit = l.unitOf(r, f, kid)
		}
		out = append(out, c)
	}
	if len(out) == 0 {
		f.fault(n.at, "missing", "Name at least one column with its unit.", "`columns` is empty")
	}
	return out
}

// limitedColumn reads a column that has limits.
func (l *loader) limitedColumn(r *ruleSet, f *fields, n *node, c *Column, first bool) {
	own := l.fields(n, "a column")
	if own == nil {
		f.ok = false
		return
	}
	c.Unit = l.unitOf(r, own, n.get("unit"))
	if own.ok {
		c.Min, c.Max = l.span(r, own, c.Unit, c.Name)
	}
	if c.Falling = own.truth("falling"); c.Falling && first {
		own.fault(n.get("falling").keyAt, "conflict", "Give it to a later column.", "the first column always rises, as rows are sorted by it")
	}
	f.ok = f.ok && own.ok
}

func (l *loader) declareTable(r *ruleSet, n *node) {
	f := l.fields(n, "a table")
	if f == nil || !l.nameOK(n.key, n.keyAt) || !l.unique("the table", n.key, n.keyAt) {
		return
	}
	if k := l.kinds[n.key]; k != nil {
		f.fault(n.keyAt, "duplicate", "Give the table another name.", "`%s` is already the name of a kind", n.key)
	}
	t := &Table{Name: n.key, Doc: f.text("doc", false), Source: f.text("source", true), At: n.keyAt}
	head := &fields{l: l, n: n, what: f.what, ok: true}
	t.Columns = l.columns(r, head, n.get("columns"), true)
	rows := n.get("rows")
	switch {
	case rows == nil:
		f.fault(n.keyAt, "missing", "Add rows = [[…], […]].", "a table needs `rows`")
	case !f.kind(rows, listNode, "is a list of rows", "Write [[…], […]]."):
	case len(rows.kids) == 0:
		f.fault(rows.at, "missing", "Give at least one row.", "the table `%s` has no rows", t.Name)
	case len(rows.kids) > maxTableRows:
		f.fault(rows.at, "limit", "Leave out what is not needed.", "the table `%s` has more than 10,000 rows", t.Name)
	case head.ok:
		for _, row := range rows.kids {
			l.row(r, t, row)
		}
	}
	l.model.Tables = append(l.model.Tables, t)
}

// row adds a row to a table. Plain numbers are in the unit of their column.
func (l *loader) row(r *ruleSet, t *Table, n *node) {
	if n.kind != listNode {
		l.diags.Errorf(n.at, "wrong-type", "Put the row's values between [ and ].", "each row of `%s` is a list, and this is %s", t.Name, n.what())
		return
	}
	if len(n.kids) != len(t.Columns) {
		l.diags.Errorf(n.at, "length", "Give one value for each column.",
			"the row has %s, but `%s` has %s", count(len(n.kids), "value"), t.Name, count(len(t.Columns), "column"))
		return
	}
	row := Row{Numbers: make([]float64, len(t.Columns)), Texts: make([]string, len(t.Columns))}
	for i, c := range t.Columns {
		kid := n.kids[i]
		switch {
		case kid.bad:
		case c.Text && kid.kind != textNode:
			l.diags.Errorf(kid.at, "wrong-type", "Put it between quotes.", "the column `%s` holds text, and this is %s", c.Name, kid.what())
		case c.Text:
			row.Texts[i] = kid.text
		case kid.kind == numberNode:
			row.Numbers[i] = c.Unit.ToBase(kid.number)
		default:
			row.Numbers[i], _ = l.number(kid, c.Unit, c.Name, r.inline)
		}
	}
	t.Rows = append(t.Rows, row)
}

func (l *loader) declareNotice(r *ruleSet, n *node) {
	f := l.fields(n, "a caution")
	if f == nil || !l.nameOK(n.key, n.keyAt) || !l.unique("the caution", n.key, n.keyAt) {
		return
	}
	l.model.Notices = append(l.model.Notices, &Notice{
		Name: n.key, Text: f.text("text", true), Source: f.text("source", false), At: n.keyAt,
	})
}

// of is the kind whose items a check or a question is about.
func (l *loader) of(f *fields) *Kind {
	name := f.text("of", true)
	k := l.kinds[name]
	if k == nil && name != "" {
		f.ok = false
		if !l.unread {
			f.fault(f.n.get("of").at, "unknown-kind", l.didYouMean(name, l.kindNames()), "there is no kind `%s`", shorten(name, 60))
		}
	}
	return k
}

func (l *loader) declareQuestion(_ *ruleSet, n *node) {
	f := l.fields(n, "a question")
	if f == nil || !l.nameOK(n.key, n.keyAt) || !l.unique("the question", n.key, n.keyAt) {
		return
	}
	q := &Question{Name: n.key, Of: l.of(f), Ask: f.text("ask", true), Answer: f.text("answer", true), At: n.keyAt}
	if a := n.get("answer"); a != nil {
		q.AnswerAt = a.at
	}
	if f.ok {
		l.model.Questions = append(l.model.Questions, q)
	}
}

func (l *loader) declareCheck(r *ruleSet, n *node) {
	f := l.fields(n, "a check")
	if f == nil || !l.nameOK(n.key, n.keyAt) || !l.unique("the check", n.key, n.keyAt) {
		return
	}
	c := &Check{
		Name: n.key, Require: f.formula("require", true), Otherwise: f.text("otherwise", true),
		Doc: f.text("doc", false), Source: f.text("source", false), At: n.keyAt,
	}
	if n := n.get("otherwise"); n != nil {
		c.OtherwiseAt = n.at
	}
	c.Of = l.of(f)
	severity := f.text("severity", true)
	words := []string{Stop.String(), Unfit.String(), Caution.String()}
	if i := slices.Index(words, severity); i >= 0 {
		c.Severity = Severity(i)
	} else if severity != "" {
		f.fault(n.get("severity").at, "choice", l.didYouMean(severity, words), "`%s` is not a severity", shorten(severity, 60))
	}
	if c.Of != nil && c.Require != nil {
		l.model.Checks = append(l.model.Checks, c)
	}
}

// declareConstant makes a constant: an input with a default of the one-kind
// that holds them all.
func (l *loader) declareConstant(r *ruleSet, n *node) {
	f := l.fields(n, "a constant")
	if f == nil || !l.nameOK(n.key, n.keyAt, itemKeys) || !l.unique("the constant", n.key, n.keyAt) {
		return
	}
	k := l.kinds[constantKind]
	if k == nil {
		k = &Kind{Name: constantKind, Title: "Constants", Doc: "Figures that rules use by their names.", At: n.keyAt}
		l.addKind(k)
	}
	if l.axes[n.key] != nil {
		f.fault(n.keyAt, "duplicate", "Give the constant another name.", "`%s` is already the name of an axis", n.key)
	}
	q := &Quantity{Kind: k, Name: n.key, At: n.keyAt, Unit: unit.One}
	l.describe(f, q, &headed{})
	value := n.get("value")
	switch {
	case value == nil:
		f.fault(n.keyAt, "missing", "Add value = \"…\".", "a constant needs `value`")
	case value.kind == textNode && isFormula(strings.TrimSpace(value.text)):
		f.fault(value.at, "formula", "Make it a quantity with a formula.", "a constant is a figure, not a formula")
	case f.has("unit"):
		q.Unit = l.unitOf(r, f, n.get("unit"))
	case value.kind == textNode && !value.bad:
		if _, u, err := unit.ParseValue(value.text); err == nil {
			q.Unit = u
		}
	}
	l.add(q)
	if f.ok {
		l.limits(r, f, q)
		q.Default = l.given(value, q, r.inline)
		f.ok = f.ok && q.Default != nil
	}
	if !f.ok {
		l.broken[q] = true
		q.Unit = unit.Unit{Dim: unit.Any, Mul: 1, Div: 1}
		return
	}
	q.Default.Default = true
}

// limits reads what values a number may have.
func (l *loader) limits(r *ruleSet, f *fields, q *Quantity) {
	bound := func(n *node) *Bound { return l.bound(r, f, n, q.Unit, q.Name) }
	q.Min, q.Max = l.span(r, f, q.Unit, q.Name)
	if q.Whole = f.truth("whole"); q.Whole && !bare(q.Unit) {
		f.fault(f.n.get("whole").keyAt, "conflict", "Leave one of them out.", "`whole` does not go with a unit")
	}
	l.usual(f, q, bound)
}

// usual reads what a number usually is. A range in money may hold for some
// currencies alone: it is left out where the scenario counts in another.
func (l *loader) usual(f *fields, q *Quantity, bound func(*node) *Bound) {
	usual := f.n.get("usual")
	q.UsualSource = f.text("usual_by", false)
	for _, key := range []string{"usual_in", "usual_by"} {
		if usual == nil && f.has(key) {
			f.fault(f.n.get(key).keyAt, "conflict", "Leave it out, or give `usual` = [lowest, highest].", "`%s` speaks of a usual range, and there is none", key)
		}
	}
	in := f.texts("usual_in", false)
	for _, n := range in {
		if !unit.IsCurrency(n.text) {
			f.fault(n.at, "currency", l.nearCurrency(n.text), "`%s` is not the code of a currency", shorten(n.text, 60))
		}
	}
	if n := f.n.get("usual_in"); n != nil && !q.Unit.Dim.HasMoney() {
		f.fault(n.keyAt, "conflict", "Leave it out.", "`usual_in` names currencies, and `%s` is not counted in money", q.Name)
	}
	switch {
	case usual == nil || usual.bad:
	case usual.kind != listNode || len(usual.kids) != 2:
		f.fault(usual.at, "length", "Write [lowest, highest].", "`usual` is a list of two values")
	default:
		q.UsualMin, q.UsualMax = bound(usual.kids[0]), bound(usual.kids[1])
	}
	if q.UsualMin != nil && q.UsualMax != nil && q.UsualMin.Value > q.UsualMax.Value {
		f.fault(usual.at, "bounds", "Write [lowest, highest].", "the usual range of `%s` is the wrong way round", q.Name)
	}
	if q.UsualIn = plain(in); in != nil && !slices.Contains(q.UsualIn, l.model.Currency) {
		q.UsualMin, q.UsualMax = nil, nil
	}
}

// bound reads a limit; nil where there is none.
func (l *loader) bound(r *ruleSet, f *fields, n *node, u unit.Unit, name string) *Bound {
	if n == nil {
		return nil
	}
	v, ok := l.number(n, u, name, r.inline)
	if !ok {
		f.ok = false
		return nil
	}
	return &Bound{Value: v, Written: n.shown()}
}

// span reads the least and the greatest possible value.
func (l *loader) span(r *ruleSet, f *fields, u unit.Unit, name string) (least, most *Bound) {
	least, most = l.bound(r, f, f.n.get("min"), u, name), l.bound(r, f, f.n.get("max"), u, name)
	if least != nil && most != nil && least.Value > most.Value {
		f.fault(f.n.get("max").at, "bounds", "Exchange the two, or mend one.", "`max` is less than `min`")
	}
	return least, most
}

// placeholder is a name between braces in a text that is filled in.
var placeholder = regexp.MustCompile(`\{([^{}]*)\}`)

// nameForm reads the form after which combinations of a kind are named.
func (l *loader) nameForm(r *ruleSet, n *node) {
	form := n.get("name")
	k := l.kinds[n.key]
	f := &fields{l: l, n: n, what: "a kind", ok: true}
	if form == nil || k == nil || k.At != n.keyAt || !f.kind(form, textNode, "is text", "Put it between quotes.") {
		return
	}
	for _, m := range placeholder.FindAllStringSubmatchIndex(form.text, -1) {
		name := form.text[m[2]:m[3]]
		at := form.part(len([]rune(form.text[:m[2]])), len([]rune(name)))
		switch q := l.byName[k][name]; {
		case q == nil && l.unread:
		case q == nil:
			f.fault(at, "unknown-name", l.nearQuantity(k, name), "`%s` is not a quantity of %s", shorten(name, 60), k.Name)
		case q.Formula != nil || q.Type.Tabular() || q.Type == Set || len(q.Over) > 0:
			f.fault(at, "conflict", "Name an input with a single value.", "`%s` cannot be part of a name", name)
		}
	}
	if rest := placeholder.ReplaceAllString(form.text, ""); strings.ContainsAny(rest, "{}") {
		f.fault(form.at, "syntax", "Write names between { and }.", "a brace is missing in the form of the name")
	}
	if f.ok {
		k.NameForm = form.text
	}
}
