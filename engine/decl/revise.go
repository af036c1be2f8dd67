package decl

import (
	"cmp"
	"path"
	"path/filepath"
	"reflect"
	"slices"
	"strings"

	"bankwright/engine/diag"
)

// Revision is another value for an input of an item of a scenario. By the type of
// the quantity one of its fields holds the value; numbers are in the declared unit.
type Revision struct {
	Kind, Item, Quantity string
	At                   diag.Pos // where it stands, for messages

	Absent  bool        // it is left out
	Formula string      // without a leading "=", of what is given by a formula
	Values  []float64   // Number, and Boolean as 0 or 1: one, or one for each step; NaN: none
	Changed []bool      // which of Values differ from what the scenario gives
	Texts   []string    // Text and Reference: one; Set: the names of its members
	Points  [][]float64 // a slice for each column
}

// same reports whether two revisions say the same of two items.
func (r Revision) same(o Revision) bool {
	r.Item, r.At, o.Item, o.At = "", diag.Pos{}, "", diag.Pos{}
	return reflect.DeepEqual(r, o)
}

// mostCombinations is how many combinations of one table Revise writes out one by
// one.
const mostCombinations = 200

// Revise is the text of the scenario with other values for some inputs. Values are
// put in the place of those that the file has, what it leaves to a default is added
// to the table of its item, and what is blanked becomes a comment, so that all else
// stays as it was written. Where what changes stands in an included list, the lists
// are taken into the text. A table of combinations is written out where the values of
// only some of them change, and where `apart` names its kind.
//
// What cannot be written is told in the list; the text is then nil.
func (m *Model) Revise(revisions []Revision, apart map[string]bool, diags *diag.List) []byte {
	r := &reviser{m: m, diags: diags, items: map[*Item][]Revision{}}
	if !r.read() {
		return nil
	}
	for _, v := range revisions {
		it := m.itemNamed(v.Kind, v.Item)
		if it == nil {
			diags.Errorf(v.At, "reference", "", "there is no %s `%s` in the scenario", v.Kind, v.Item)
			return nil
		}
		r.items[it] = append(r.items[it], v)
	}
	for _, k := range m.Kinds {
		for _, it := range k.Items {
			switch {
			case it.Group != "":
				r.group(k, it.Group, apart[k.Name])
			default:
				r.table(k, it.Name, r.items[it])
			}
		}
	}
	if diags.HasErrors() {
		return nil
	}
	return []byte(r.text())
}

func (m *Model) itemNamed(kind, name string) *Item {
	for _, k := range m.Kinds {
		for _, it := range k.Items {
			if k.Name == kind && it.Name == name {
				return it
			}
		}
	}
	return nil
}

// reviser holds what is known while a scenario is revised.
type reviser struct {
	m     *Model
	docs  []*document // the scenario, then its lists
	items map[*Item][]Revision
	done  map[string]bool // groups, by kind and name
	diags *diag.List
}

// read parses the scenario and its lists anew.
func (r *reviser) read() bool {
	r.done = map[string]bool{}
	for _, f := range r.m.Files {
		if f.Rules || f.Recording {
			continue
		}
		root := parse(f.Name, f.Text, r.diags)
		if root == nil {
			return false
		}
		r.docs = append(r.docs, &document{file: f, root: root, data: f.Text, money: r.m.Currency})
	}
	return len(r.docs) > 0
}

// find is the table of an item, or of its group, and the document where it stands.
func (r *reviser) find(k *Kind, name string) (*document, *node) {
	for _, d := range r.docs {
		t := d.root.get(k.Name)
		if t != nil && k.Many {
			t = t.get(name)
		}
		if t != nil && t.kind == tableNode {
			return d, t
		}
	}
	return r.docs[0], nil
}

// table changes the table of an item.
func (r *reviser) table(k *Kind, name string, list []Revision) {
	if len(list) == 0 {
		return
	}
	d, t := r.find(k, name)
	for _, v := range list {
		edits, ok := d.set(t, k, v)
		if !ok {
			r.refuse(v)
		}
		d.edits = append(d.edits, edits...)
	}
}

func (r *reviser) refuse(v Revision) {
	r.diags.Errorf(v.At, "syntax", "Give the item a table of its own, ["+v.Kind+"."+v.Item+"], in the scenario.",
		"`%s` cannot be put into the scenario where `%s` stands", v.Quantity, v.Item)
}

// group changes a table that stands for several combinations.
func (r *reviser) group(k *Kind, name string, apart bool) {
	key := k.Name + "." + name
	if r.done[key] {
		return
	}
	r.done[key] = true
	var members []*Item
	for _, it := range k.Items {
		if it.Group == name {
			members = append(members, it)
		}
	}
	first := r.items[members[0]]
	alike, any := true, false
	for _, it := range members {
		any = any || len(r.items[it]) > 0
		alike = alike && slices.EqualFunc(r.items[it], first, Revision.same)
	}
	d, t := r.find(k, name)
	if t == nil || !any && !apart {
		return
	}
	each := t.get("each")
	for _, v := range first {
		alike = alike && each.get(v.Quantity) == nil
	}
	if alike && !apart {
		r.table(k, name, first)
		return
	}
	r.writeOut(d, t, k, members)
}

// writeOut puts a table for each combination in the place of the one for all.
func (r *reviser) writeOut(d *document, t *node, k *Kind, members []*Item) {
	at := t.keyAt
	for _, it := range members {
		for _, v := range r.items[it] {
			at = v.At
		}
	}
	if len(members) > mostCombinations {
		r.diags.Errorf(at, "limit", "Give this one a table of its own in the scenario, and leave it out of the others.",
			"`%s` stands for %d combinations, of which only some change", t.key, len(members))
		return
	}
	if !t.heading || slices.ContainsFunc(t.kids, func(n *node) bool { return n.heading }) {
		r.diags.Errorf(at, "syntax", "Write the table below one heading.", "the combinations of `%s` cannot be written one by one", t.key)
		return
	}
	_, end := d.body(t)
	var tables []string
	for _, it := range members {
		edits := append(d.dropLines(t, "each", "keep", "label"), r.rebased(d)...)
		add := func(list []edit, ok bool) {
			edits = append(edits, list...)
			if !ok {
				r.refuse(Revision{Kind: k.Name, Item: it.Name, Quantity: "each", At: at})
			}
		}
		if it.Label != "" {
			add(d.insert(t, "label", quoteTOML(it.Label)))
		}
		revised := map[string]bool{}
		for _, v := range r.items[it] {
			revised[v.Quantity] = true
		}
		for _, varied := range t.get("each").kids {
			if !revised[varied.key] {
				add(d.insert(t, varied.key, d.pick(varied, it.Given[varied.key])))
			}
		}
		for _, v := range r.items[it] {
			add(d.set(t, k, v))
		}
		tables = append(tables, "["+k.Name+"."+it.Name+"]"+apply(d.data, d.lineEnd(t.to), end, edits))
	}
	d.edits = append(d.edits, edit{d.lineStart(t.from), end, strings.Join(tables, d.newLine()+d.newLine())})
}

// pick is, as written, the value of a varied input that a combination has.
func (d *document) pick(varied *node, g *Given) string {
	for _, n := range varied.kids {
		if n.at == g.At {
			return string(d.data[n.from:n.to])
		}
	}
	return quoteTOML(strings.Join(g.Texts, "")) // one of "all"
}

// text is the scenario with all changes.
func (r *reviser) text() string {
	scenario := r.docs[0]
	touched := slices.ContainsFunc(r.docs[1:], (*document).changed)
	if touched {
		if n := scenario.root.get("include"); n != nil {
			scenario.edits = append(scenario.edits, scenario.commentOut(n)...)
		}
	}
	out := scenario.text()
	if !touched {
		return out
	}
	nl := scenario.newLine()
	lineEnds := strings.NewReplacer("\r\n", nl, "\n", nl)
	for _, d := range r.docs[1:] {
		if n := d.root.get("include"); n != nil {
			d.edits = append(d.edits, d.commentOut(n)...)
		}
		d.edits = append(d.edits, r.rebased(d)...)
		list := lineEnds.Replace(strings.TrimLeft(d.text(), "\r\n"))
		out = strings.TrimRight(out, "\r\n") + nl + nl + "# --- from " + path.Base(filepath.ToSlash(d.file.Name)) + " ---" + nl + nl + list
	}
	return out
}

// rebased are the edits that name the files of recordings from the scenario's folder,
// which a list names from its own.
func (r *reviser) rebased(d *document) (out []edit) {
	folder, err := filepath.Rel(filepath.Dir(r.docs[0].file.Name), filepath.Dir(d.file.Name))
	if err != nil || folder == "." {
		return nil
	}
	for _, k := range r.m.Kinds {
		for _, q := range k.Quantities {
			if q.Type != Recording || d.root.get(k.Name) == nil {
				continue
			}
			for _, t := range append(slices.Clone(d.root.get(k.Name).kids), d.root.get(k.Name)) {
				n := t.get(q.Name)
				if n != nil && n.kind == tableNode {
					n = n.get("file")
				}
				if n != nil && n.kind == textNode {
					out = append(out, edit{n.from, n.to, quoteTOML(path.Join(filepath.ToSlash(folder), n.text))})
				}
			}
		}
	}
	return out
}

// apply is the bytes [from, to) of a document with the edits that lie in them. Of two
// that overlap the one that begins first holds the other.
func apply(data []byte, from, to int, edits []edit) string {
	slices.SortStableFunc(edits, func(a, b edit) int { return cmp.Compare(a.from, b.from) })
	var out strings.Builder
	for _, e := range edits {
		if e.from < from || e.to > to {
			continue
		}
		out.Write(data[from:e.from])
		out.WriteString(e.text)
		from = e.to
	}
	out.Write(data[from:to])
	return out.String()
}
