package decl

import (
	"slices"
	"strings"

	"bankwright/engine/diag"
)

// constantKind is the one-kind that holds the constants.
const constantKind = "constant"

// declare turns all rules into declarations. What others refer to comes
// first, so that the order of files and tables does not matter.
func (l *loader) declare() {
	for _, r := range l.rules {
		l.eachIn(r, "kind", l.declareKind)
		l.eachIn(r, "axis", l.declareAxis)
	}
	for _, r := range l.rules {
		for _, n := range r.root.kids {
			l.section(r, n)
		}
	}
	for _, r := range l.rules {
		l.eachIn(r, "check", l.declareCheck)
		l.eachIn(r, "question", l.declareQuestion)
		l.eachIn(r, "drawing", l.declareDrawing)
		l.eachIn(r, "kind", l.nameForm)
	}
}

// eachIn calls a function for each table of a section of a rules file.
func (l *loader) eachIn(r *ruleSet, section string, declare func(r *ruleSet, n *node)) {
	n := r.root.get(section)
	if n == nil || n.kind != tableNode {
		return
	}
	for _, kid := range n.kids {
		declare(r, kid)
	}
}

// section reads a top-level table of a rules file, but for those that have
// been read before or are read later.
func (l *loader) section(r *ruleSet, n *node) {
	if n.bad {
		return
	}
	if n.kind != tableNode {
		l.diags.Errorf(n.keyAt, "unknown-key", "Put it into a table such as [kind.NAME].", "`%s` does not belong at the top of rules", n.key)
		return
	}
	switch n.key {
	case "kind", "axis", "check", "question", "drawing":
	case "constant":
		l.eachIn(r, n.key, l.declareConstant)
	case "table":
		l.eachIn(r, n.key, l.declareTable)
	case "caution":
		l.eachIn(r, n.key, l.declareNotice)
	default:
		k := l.kinds[n.key]
		if k == nil {
			l.unknownKind(n, append(slices.Clone(sections), l.kindNames()...))
			return
		}
		var under headed
		for _, kid := range n.kids {
			l.declareQuantity(r, k, kid, &under)
		}
	}
}

// unknownKind reports a table named after no kind. Where a rules file could
// not be read, it may declare the kind.
func (l *loader) unknownKind(n *node, candidates []string) {
	if l.unread {
		return
	}
	mend := l.didYouMean(n.key, candidates)
	if by := l.kindByPlural(n.key); by != nil {
		mend = "Write `" + by.Name + "`."
	}
	l.diags.Errorf(n.keyAt, "unknown-kind", mend, "there is no kind `%s`", shorten(n.key, 60))
}

func (l *loader) kindByPlural(name string) *Kind {
	for _, k := range l.model.Kinds {
		if k.Many && k.Plural == name {
			return k
		}
	}
	return nil
}

func (l *loader) kindNames() []string {
	var names []string
	for _, k := range l.model.Kinds {
		names = append(names, k.Name)
	}
	return names
}

func (l *loader) declareKind(r *ruleSet, n *node) {
	f := l.fields(n, "a kind")
	if f == nil || !l.nameOK(n.key, n.keyAt, aggregates, sections, headers) || !l.unique("the kind", n.key, n.keyAt) {
		return
	}
	k := &Kind{Name: n.key, Plural: f.text("many", false), Doc: f.text("doc", false), Title: f.text("title", false), At: n.keyAt}
	k.Many = f.has("many")
	if k.Least = f.integer("least", 1, maxItems, 0); k.Least > 0 && !k.Many {
		f.fault(n.get("least").keyAt, "conflict", "Leave it out, or give the kind a plural with `many`.", "`%s` has one item always", k.Name)
	}
	if many := n.get("many"); k.Plural != "" {
		if l.nameOK(k.Plural, many.at, aggregates, sections, headers) {
			l.unique("the kind", k.Plural, many.at)
		}
	}
	if k.Title == "" && k.Many {
		k.Title = heading(k.Plural)
	}
	if k.Title == "" {
		k.Title = heading(k.Name)
	}
	l.addKind(k)
	if c := n.get("compare"); c != nil {
		l.compare(k, c)
	}
}

func (l *loader) addKind(k *Kind) {
	l.kinds[k.Name] = k
	l.byName[k] = map[string]*Quantity{}
	l.model.Kinds = append(l.model.Kinds, k)
}

func (l *loader) compare(k *Kind, n *node) {
	f := l.fields(n, "`compare`")
	if f == nil {
		return
	}
	for _, other := range l.model.Kinds {
		if other.Compare != nil {
			l.diags.Add(diag.Diagnostic{Code: "duplicate", At: n.keyAt,
				Summary: "only one kind can be compared, and `" + other.Name + "` is already",
				Mend:    "Keep one of the two.",
				Related: []diag.Related{{At: other.Compare.At, Text: "first given here"}}})
		}
	}
	k.Compare = &Compare{
		By: f.text("by", true), Show: plain(f.texts("show", false)), Summary: f.text("summary", false), Watch: plain(f.texts("watch", false)), At: n.keyAt,
	}
	l.shortlisting(k.Compare, f)
	l.charting(k.Compare, f)
	switch best := f.text("best", false); {
	case best == "lowest":
		k.Compare.Lowest = true
	case best == "highest":
	case f.has("best") && best != "":
		f.fault(n.get("best").at, "choice", "Write \"lowest\" or \"highest\".", "`best` is either lowest or highest, not %s", best)
	case !f.has("best"):
		f.missing("best")
	}
	if !k.Many {
		f.fault(n.keyAt, "conflict", "Give the kind a plural with `many`.", "`%s` has only one item, so that there is nothing to compare", k.Name)
	}
}

// maxSteps bounds the steps of an axis, and of all axes of a series together.
const maxSteps = 100_000

func (l *loader) declareAxis(r *ruleSet, n *node) {
	f := l.fields(n, "an axis")
	if f == nil || !l.nameOK(n.key, n.keyAt) || !l.unique("the axis", n.key, n.keyAt) {
		return
	}
	if k := l.kinds[n.key]; k != nil {
		f.fault(n.keyAt, "duplicate", "Give the axis another name; the items of a kind need none of their own.",
			"`%s` is already the name of a kind", n.key)
	}
	a := &Axis{Name: n.key, Title: f.text("title", false), Doc: f.text("doc", false),
		Active: f.formula("active", false), Labels: plain(f.texts("labels", false)), At: n.keyAt}
	if a.Title == "" {
		a.Title = heading(a.Name)
	}
	switch {
	case f.has("steps"):
		a.Steps = f.integer("steps", 1, maxSteps, 1)
		if labels := n.get("labels"); a.Labels != nil && len(a.Labels) != a.Steps && f.ok {
			f.fault(labels.at, "length", "Give one label for each step.", "there are %d labels for %d steps", len(a.Labels), a.Steps)
		}
	case f.has("labels"):
		a.Steps = max(len(n.get("labels").kids), 1)
	default:
		a.Steps = 1
		f.fault(n.keyAt, "missing", "Add steps = 12, or another number.", "an axis needs `steps`")
	}
	l.axes[a.Name] = a
	l.model.Axes = append(l.model.Axes, a)
}

// axis is the axis of a name: one that is declared, or the items of a kind.
func (l *loader) axis(n *node) *Axis {
	if a := l.axes[n.text]; a != nil {
		return a
	}
	k := l.kinds[n.text]
	if k == nil || !k.Many {
		if !l.unread {
			l.diags.Errorf(n.at, "unknown-name", l.didYouMean(n.text, l.axisNames()), "there is no axis `%s`", shorten(n.text, 60))
		}
		return nil
	}
	a := &Axis{Name: k.Name, Title: k.Title, Doc: k.Doc, Kind: k, At: k.At}
	l.axes[k.Name] = a
	l.model.Axes = append(l.model.Axes, a)
	return a
}

func (l *loader) axisNames() []string {
	var names []string
	for _, a := range l.model.Axes {
		names = append(names, a.Name)
	}
	for _, k := range l.model.Kinds {
		if k.Many && l.axes[k.Name] == nil {
			names = append(names, k.Name)
		}
	}
	return names
}

// stepKinds counts the items of kinds that are axes.
func (l *loader) stepKinds() {
	for _, a := range l.model.Axes {
		if a.Kind != nil {
			a.Steps = len(a.Kind.Items)
		}
	}
}

// nearQuantity is the mend for a quantity that a kind does not have.
func (l *loader) nearQuantity(k *Kind, name string) (mend string) {
	names := quantityNames(k)
	near := l.near(name, names)
	var owners []string
	for _, other := range l.model.Kinds {
		if l.byName[other][name] != nil {
			owners = append(owners, other.Name)
		}
	}
	switch {
	case len(owners) > 0 && near == "":
		return "`" + name + "` belongs to " + strings.Join(owners, ", ") + "."
	case len(owners) > 0:
		return "`" + name + "` belongs to " + strings.Join(owners, ", ") + "; or did you mean `" + near + "`?"
	case near != "":
		return diag.Meant(name, near, "`"+near+"`")
	}
	return listing(names)
}

// nearInput is nearQuantity for what a scenario gives: nothing computed is
// proposed as long as an input is near.
func (l *loader) nearInput(k *Kind, name string) string {
	var inputs []string
	for _, q := range k.Quantities {
		if !q.Computed() {
			inputs = append(inputs, q.Name)
		}
	}
	if near := l.near(name, inputs); near != "" {
		return diag.Meant(name, near, "`"+near+"`")
	}
	for _, other := range l.model.Kinds {
		if q := l.byName[other][name]; q != nil && !q.Computed() {
			return l.nearQuantity(k, name)
		}
	}
	if q := l.labelled(k, name); q != nil && !q.Computed() {
		return "Did you mean `" + q.Name + "`?"
	}
	if alike := diag.Alike(name, inputs, 6); len(alike) > 0 {
		return "Did you mean " + ticked(alike) + "?"
	}
	if l.near(name, quantityNames(k)) != "" {
		return l.nearQuantity(k, name)
	}
	if len(inputs) > 12 {
		return "`bankwright rules " + k.Name + "` lists what there is."
	}
	return listing(inputs)
}

// labelled is the quantity of a kind whose label is nearest to a name, or nil.
func (l *loader) labelled(k *Kind, name string) *Quantity {
	var labels []string
	for _, q := range k.Quantities {
		labels = append(labels, q.Label)
	}
	near := l.near(strings.ReplaceAll(name, "_", " "), labels)
	if i := slices.Index(labels, near); i >= 0 && near != "" {
		return k.Quantities[i]
	}
	return nil
}

// ticked are names joined by "or".
func ticked(names []string) string {
	out := "`" + strings.Join(names, "`, `") + "`"
	if i := strings.LastIndex(out, ", "); i >= 0 {
		out = out[:i] + " or " + out[i+2:]
	}
	return out
}

func quantityNames(k *Kind) []string {
	var names []string
	for _, q := range k.Quantities {
		names = append(names, q.Name)
	}
	return names
}
