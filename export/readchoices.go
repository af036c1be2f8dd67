package export

import (
	"slices"
	"strings"
	"unicode/utf8"

	"bankwright/engine/decl"
)

// set reads the members of a set.
func (t *typedCells) set() {
	q := t.l.q
	first, blanks, were := -1, 0, 0
	in := make([]bool, len(t.now))
	for i := range t.now {
		x, ok := t.truth(i)
		if !ok {
			continue
		}
		before := t.before(i)
		if x != x {
			blanks++
		}
		if before != before {
			were++
		}
		in[i] = x == 1
		if before == x || before != before && x != x {
			continue
		}
		if first < 0 {
			first = i
		}
		t.changed(i, t.cellName(i), t.r.pl.model.Text(q, before), t.r.pl.model.Text(q, x))
	}
	switch {
	case first < 0 || t.faulty:
	case blanks == len(t.now) && !required(q):
		t.leftOut()
		t.revise(first, decl.Revision{Absent: true})
	case blanks > 0 && were == 0:
		t.refuse(slices.IndexFunc(t.now, func(c ReturnedCell) bool { return c.Value == nil }), "missing", "Choose TRUE or FALSE.", "a member of %s is neither in nor out", t.name())
	default:
		t.revise(first, decl.Revision{Texts: t.members(in)})
	}
}

// members are the names of those that are in, in the scenario's order, new ones last.
func (t *typedCells) members(in []bool) []string {
	out := []string{}
	if g := t.l.q.GivenFor(t.l.q.Kind.Items[t.item]); g != nil {
		for _, name := range g.Texts {
			if i := t.l.q.To.Item(name); i >= 0 && in[i] {
				out = append(out, name)
			}
		}
	}
	for i, it := range t.l.q.To.Items {
		if in[i] && !slices.Contains(out, it.Name) {
			out = append(out, it.Name)
		}
	}
	return out
}

// choice reads a text, or the name of an item.
func (t *typedCells) choice() {
	q := t.l.q
	before, _ := t.then[0].Value.(string)
	now := ""
	switch v := t.now[0].Value.(type) {
	case nil:
	case string:
		now = v
	case ErrorValue:
		t.refuse(0, "number", "Type the text.", "%s has no value here: a formula gives %s", t.name(), v)
		return
	default:
		now = content(t.now[0])
	}
	if now == "" {
		t.leftOut()
	}
	for _, c := range q.Choices { // spreadsheets take a choice however large its letters are
		if strings.EqualFold(c, strings.TrimSpace(now)) {
			now = c
		}
	}
	if now == before {
		return
	}
	t.changed(0, t.cellName(0), orNone(before), orNone(now))
	switch {
	case now == "" && required(q):
		t.refuse(0, "missing", t.old(0)+".", "%s must not be empty", t.name())
	case now == "":
		t.revise(0, decl.Revision{Absent: true})
	case strings.HasPrefix(strings.TrimSpace(now), "="), strings.ContainsFunc(now, func(c rune) bool { return c < ' ' || c >= 0x7f && c < 0xa0 }), !utf8.ValidString(now):
		t.refuse(0, "text", "Type plain words.", "%s cannot be %q", t.name(), cut(now, 40))
	default:
		_, _, ok := t.r.reader.Choice(decl.ValueAt(t.r.pos(t.at[0]), now), q.Quantity)
		t.faulty = !ok
		t.revise(0, decl.Revision{Texts: []string{strings.TrimSpace(now)}})
	}
}

func orNone(s string) string {
	if s == "" {
		return "-"
	}
	return s
}

// recording refuses another recording: a workbook cannot read one.
func (t *typedCells) recording() {
	for i, c := range t.now {
		if !alike(t.then[i].Value, c.Value) {
			t.refuse(i, "computed", t.old(i)+", and name another file in the scenario.", "%s stands where %s stood: a workbook cannot read a recording", content(c), content(ReturnedCell{Value: t.then[i].Value}))
		}
	}
}
