package decl

import (
	"path"
	"slices"
	"strings"

	"bankwright/engine/diag"
	"bankwright/engine/unit"
)

// scenario reads what stands at the top of a scenario and draws in the files
// that it names.
func (l *loader) scenario(root *node) {
	l.header = root
	l.lists = []*node{root}
	f := &fields{l: l, n: root, what: "a scenario", ok: true}
	m := l.model
	m.Title, m.About, m.Question = f.title("title"), f.text("about", false), f.title("question")
	if m.Title == "" {
		m.Title = strings.TrimSuffix(path.Base(l.paths[root.at.File]), ".toml")
	}
	l.date(f)
	if c := root.get("currency"); c != nil && f.text("currency", false) != "" {
		if unit.IsCurrency(c.text) {
			m.Currency = c.text
		} else {
			l.diags.Errorf(c.at, "currency", l.nearCurrency(c.text), "`%s` is not the code of a currency", shorten(c.text, 60))
		}
	}
	l.include(root, "include")
	if n := root.get("standard_rules"); n == nil || f.truth("standard_rules") || n.kind != boolNode {
		l.readStandard()
	}
	l.include(root, "rule_files")
	if rules := root.get("rules"); rules != nil && f.kind(rules, tableNode, "holds tables of rules", "Write [rules.KIND.NAME].") {
		l.rules = append(l.rules, &ruleSet{root: rules, inline: true})
	}
}

func (l *loader) nearCurrency(code string) string {
	if near := l.near(code, unit.Currencies()); near != "" {
		return "Did you mean " + near + "?"
	}
	return "Write the three letters of ISO 4217, such as EUR or USD."
}

func (l *loader) date(f *fields) {
	n := f.n.get("date")
	switch {
	case n == nil || n.bad:
	case n.kind == dateNode:
		l.model.Date = n.written
	default:
		l.model.Date = f.text("date", false)
	}
}

// currency demands that a scenario says what money is, where rules count in it.
func (l *loader) currency() {
	if l.header == nil || l.unread || l.header.get("currency") != nil {
		return
	}
	money := false
	for _, k := range l.model.Kinds {
		for _, q := range k.Quantities {
			money = money || q.Unit.Dim.HasMoney() || slices.ContainsFunc(q.Columns, inMoney)
		}
	}
	for _, t := range l.model.Tables {
		money = money || slices.ContainsFunc(t.Columns, inMoney)
	}
	if money {
		at := diag.Pos{File: l.header.at.File, Line: 1, Col: 1}
		l.diags.Errorf(at, "currency", "Add currency = \"EUR\", or another code of ISO 4217, at the top.",
			"the scenario does not say in which currency it counts")
	}
}

func inMoney(c Column) bool { return c.Unit.Dim.HasMoney() }

// collect finds the items of all kinds in the scenario and its lists.
func (l *loader) collect() {
	for _, k := range l.model.Kinds {
		l.items[k] = map[string]*Item{}
		l.groups[k] = map[string]*Item{}
	}
	for _, root := range l.lists {
		for _, n := range root.kids {
			if n.bad {
				continue
			}
			if slices.Contains(headers, n.key) {
				if root != l.header && n.key != "include" {
					l.diags.Errorf(n.keyAt, "unknown-key", "Move it to the scenario.",
						"`%s` belongs to the scenario: an included file holds items only", n.key)
				}
				continue
			}
			l.kindTable(n)
		}
	}
	l.combineLater()
	l.readShortlist()
	for _, k := range l.model.Kinds {
		if k.Many || len(k.Items) > 0 {
			continue
		}
		at := diag.Pos{}
		if l.header != nil {
			at = l.header.at
		}
		it := &Item{Name: k.Name, Given: map[string]*Given{}, At: at}
		k.Items = []*Item{it}
		l.entries = append(l.entries, &entry{kind: k, item: it})
	}
}

// kindTable reads [KIND] or all [KIND.NAME] of a file.
func (l *loader) kindTable(n *node) {
	k := l.kinds[n.key]
	l.lost[k] = l.lost[k] || n.lost
	switch {
	case k == nil && n.kind != tableNode && !l.unread:
		l.diags.Errorf(n.keyAt, "unknown-key", l.topMend(n.key),
			"`%s` does not belong at the top of a scenario", shorten(n.key, 60))
	case k == nil:
		l.unknownKind(n, append(l.kindNames(), headers...))
		if k := l.kindMeant(n.key); k != nil && k.Many {
			for _, kid := range n.kids {
				l.presume(k, kid.key)
			}
		}
	case n.kind != tableNode && k.Many:
		l.diags.Errorf(n.keyAt, "wrong-type", "Write ["+k.Name+".NAME] for each.", "each %s has a name of its own", k.Name)
	case n.kind != tableNode:
		l.diags.Errorf(n.keyAt, "wrong-type", "Write ["+k.Name+"].", "`%s` is a table, not %s", k.Name, n.what())
	case !k.Many:
		l.one(k, n)
	default:
		nameless := false
		for _, kid := range n.kids {
			if kid.kind == tableNode && !l.isColumns(k, kid) {
				l.item(k, kid)
				continue
			}
			if l.lost[k] = true; !nameless { // told once for all that stands there
				at, name := n.keyAt, k.Name+"."+k.Name+"_1"
				if !n.heading {
					at = kid.keyAt
				}
				l.diags.Errorf(at, "wrong-type", "Give it a name of your own: ["+name+"].",
					"each %s has a name, and `%s` stands below none", k.Name, shorten(kid.key, 60))
			}
			nameless = true
		}
	}
}

// isColumns reports whether a table between braces is the value of a quantity rather
// than an item.
func (l *loader) isColumns(k *Kind, n *node) bool {
	q := l.byName[k][n.key]
	return n.braces != nil && q != nil && q.Type.Tabular()
}

// topMend is the mend for a key at the top of a scenario that does not belong
// there: the nearest that does, or where it does belong.
func (l *loader) topMend(key string) string {
	names := append(l.kindNames(), headers...)
	if near := l.near(key, names); near != "" {
		return "Did you mean `" + near + "`?"
	}
	for _, k := range l.model.Kinds {
		switch q := l.byName[k][key]; {
		case q == nil || q.Computed():
		case k.Many:
			return "It belongs to one " + k.Name + ": write it below [" + k.Name + ".NAME]."
		default:
			return "It belongs to " + k.Name + ": write it below [" + k.Name + "]."
		}
	}
	return listing(names)
}

// kindMeant is the kind that a wrong name of a table most likely means, or nil.
func (l *loader) kindMeant(name string) *Kind {
	if k := l.kindByPlural(name); k != nil {
		return k
	}
	return l.kinds[l.near(name, append(l.kindNames(), headers...))]
}

// presume notes an item whose table is at fault, so that it is not missed as well.
func (l *loader) presume(k *Kind, name string) {
	if l.presumed[k] == nil {
		l.presumed[k] = map[string]bool{}
	}
	l.presumed[k][name] = true
}

// one reads the only item of a kind.
func (l *loader) one(k *Kind, n *node) {
	again := !l.unique("the table", k.Name+" of the scenario", n.keyAt)
	e := &entry{kind: k, item: &Item{Name: k.Name, Given: map[string]*Given{}, At: n.keyAt}, table: n}
	l.assign(e, n)
	for _, key := range []string{"each", "keep"} {
		if kid := n.get(key); kid != nil && l.byName[k][key] == nil {
			l.diags.Errorf(kid.keyAt, "unknown-key", "Leave it out.", "there is only one `%s`, so that nothing can be combined", k.Name)
		}
	}
	l.entries = append(l.entries, e)
	if !again {
		k.Items = []*Item{e.item}
	}
}

// taken reports whether a name is already that of another item of a kind, and
// says so; capital letters make no difference.
func (l *loader) taken(kind string, n *node) bool {
	low := strings.ToLower(n.key)
	key := kind + " " + low
	first, again := l.named[key]
	if !again {
		l.named[key] = n.keyAt
		if !l.nameOK(n.key, n.keyAt) {
			l.presume(l.kinds[kind], suggestName(n.key))
		}
		return false
	}
	summary := "the " + kind + " `" + shorten(n.key, 60) + "` is already given at " + placed(first, n.keyAt)
	if low != n.key {
		summary += ": capital letters make no difference"
	}
	l.diags.Add(diag.Diagnostic{Code: "duplicate", At: n.keyAt, Summary: summary, Mend: "Give one of the two another name.",
		Related: []diag.Related{{At: first, Text: "first given here"}}})
	return true
}

// item reads one item, or the combinations that its table stands for.
func (l *loader) item(k *Kind, n *node) {
	again := l.taken(k.Name, n)
	l.tables++
	e := &entry{kind: k, item: &Item{Name: n.key, Given: map[string]*Given{}, At: n.keyAt}, table: n, place: l.tables}
	l.assign(e, n)
	switch each, keep := n.get("each"), n.get("keep"); {
	case each != nil && each.bad:
		e.part, l.partial[k] = true, true
		e.item.Keep = l.condition(e, keep)
	case each != nil && len(l.waits(k, each)) > 0:
		l.later = append(l.later, later{e, each, keep, again})
		return
	case each != nil:
		l.combine(e, each, keep, again)
		return
	case keep != nil:
		l.diags.Errorf(keep.keyAt, "conflict", "Leave it out, or add `each`.", "`keep` chooses among the combinations of `each`, and there is none")
	}
	l.addEntry(e, again || !l.room(k, 1, n))
}

// addEntry adds an item; one whose name was taken is only checked.
func (l *loader) addEntry(e *entry, again bool) {
	l.entries = append(l.entries, e)
	if !again {
		e.kind.Items = append(e.kind.Items, e.item)
		l.items[e.kind][e.item.Name] = e.item
	}
}
