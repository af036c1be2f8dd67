package decl

import (
	"fmt"
	"maps"
	"slices"
	"strings"
	"testing"
	"testing/fstest"

	"bankwright/engine/diag"
)

// FuzzRevise: whatever a scenario looks like, the revised text says of every item what
// the scenario said, but for what was revised; and it ends its lines as they ended.
func FuzzRevise(f *testing.F) {
	for _, text := range []string{
		"[shed.a]\nprice = \"2 EUR\"\ncurve = { at = [\"1 m\",\n \"2 m\"], load = [\"1 kg\",\n \"2 kg\"] }\n[shed.b]\nprice=\"1 EUR\"\nbeside = \"a\"",
		"shed = { a = { price = \"2 EUR\", beside = \"a\", depth = \"3 m\", open = true }, b.price = \"3 EUR\", b.open = false }\nplot = { rate = \"2 %\", width = \"2 m\" }\n",
		"shed.a.price = \"2 EUR\"\nshed.a.hours = [\"1 h\", \"2 h\", # two\n \"3 h\"]\nplot.rate = \"2 %\"\n",
		"# a\n[shed.a]\nprice = \"2 EUR\" # b\neach = { open = [true,\nfalse], depth = [\"1 m\", \"2 m\"] }\nlabel = \"{open}\"\n\n[plot]\n[shed.a.curve]\nat = [\"1 m\"]\nload = [\"1 kg\"]\n",
		"[shed.a]\nprice = \"2 EUR\"\nhours = \"1 h\"\neach.open = [true, false]\nbeside = \"a_1\"\nkeep = '''\n a.open\n '''\n",
	} {
		for _, revised := range []string{"\x00\x01\x02\x03", "\x10\x12\x14\x16\x18\x1a\x1c", "\x01\x13\x25\x07\x39", "\xff\xfe\xfd\x11\x30\x52\x76"} {
			f.Add(text, revised)
			f.Add(strings.ReplaceAll(text, "\n", "\r\n"), revised)
		}
	}
	f.Fuzz(func(t *testing.T, text, revised string) {
		windows := strings.Count(text, "\n") == strings.Count(text, "\r\n")
		if !windows && strings.Contains(text, "\r") {
			return // lines that end in two ways
		}
		whole := head + text
		if windows {
			whole = strings.TrimSuffix(head, "\n") + "\r\n" + text
		}
		m, faults := sheds(whole)
		if faults.HasErrors() {
			return
		}
		revisions, want := drawn(m, revised)
		list := diag.List{}
		got := string(m.Revise(revisions, nil, &list))
		if list.HasErrors() {
			return // what cannot be written is told
		}
		if windows && strings.Count(got, "\n") != strings.Count(got, "\r\n") || !windows && strings.Contains(got, "\r") || strings.Contains(got, "\r\r") {
			t.Fatalf("other line ends:\n%q\n%q", whole, got)
		}
		now, faults := sheds(got)
		if faults.HasErrors() {
			t.Fatalf("%v\n%q\n%q", faults, whole, got)
		}
		if said := said(now); !maps.Equal(said, want) {
			t.Fatalf("%v\n%v\n%q\n%q", said, want, whole, got)
		}
	})
}

func sheds(text string) (*Model, diag.List) {
	return Load(Sources{Files: fstest.MapFS{"x.toml": {Data: []byte(text)}}, Scenario: "x.toml", Standard: fstest.MapFS{"shed.toml": {Data: []byte(shedRules)}}})
}

// drawn are revisions, each once at most, and what the items say with them.
func drawn(m *Model, by string) (list []Revision, want map[string]string) {
	want = said(m)
	seen := map[string]bool{}
	for _, b := range []byte(by) {
		k := m.Kinds[int(b>>7)%len(m.Kinds)]
		it := k.Items[int(b>>5)%len(k.Items)]
		q := k.Quantities[int(b)%len(k.Quantities)]
		name := k.Name + "." + it.Name + "." + q.Name
		r := Revision{Kind: k.Name, Item: it.Name, Quantity: q.Name, Absent: true}
		switch {
		case seen[name]:
			continue
		case q.Type == Number && (q.Default == nil && !q.Optional || b>>4&1 == 1):
			x := float64(1 + b%5)
			r.Absent, r.Values, r.Changed = false, []float64{x}, []bool{true}
			want[name] = spoken(&Given{Values: []float64{q.Unit.ToBase(x)}})
		case q.Default != nil:
			want[name] = spoken(q.Default)
		default:
			delete(want, name)
		}
		seen[name] = true
		list = append(list, r)
	}
	return list, want
}

// said is what a model says of each item, wherever it says it.
func said(m *Model) map[string]string {
	out := map[string]string{}
	for _, k := range m.Kinds {
		for _, it := range k.Items {
			for name, g := range it.Given {
				out[k.Name+"."+it.Name+"."+name] = spoken(g)
			}
		}
	}
	return out
}

func spoken(g *Given) string {
	if g.Formula != nil {
		return g.Formula.Text
	}
	values := slices.Compact(slices.Clone(g.Values)) // one for all steps, or one for each
	return fmt.Sprint(values, g.Texts, g.Points, g.Recording != nil)
}
