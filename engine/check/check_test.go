package check_test

import (
	"flag"
	"fmt"
	"math"
	"os"
	"slices"
	"strings"
	"testing"
	"testing/fstest"

	"bankwright/engine/check"
	"bankwright/engine/decl"
	"bankwright/engine/diag"
)

var update = flag.Bool("update", false, "renew the golden files of testdata")

// TestResolved prints every formula of a small file of rules as it was
// resolved, in the order in which quantities are evaluated: each operation with
// its operands, each name with where it leads, each with its dimension.
//
//	go test ./engine/check -update
func TestResolved(t *testing.T) {
	m, list := decl.Load(decl.Sources{Files: os.DirFS("testdata"), Scenario: "greenhouse.toml"})
	p, more := check.Resolve(m)
	for _, d := range append(list, more...) {
		t.Error(d.Error())
	}
	if p == nil || t.Failed() {
		t.FailNow()
	}
	got := program(p)
	const golden = "testdata/greenhouse.golden"
	if *update {
		if err := os.WriteFile(golden, []byte(got), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	want, err := os.ReadFile(golden)
	if err != nil {
		t.Fatal(err)
	}
	g, w := strings.Split(got, "\n"), strings.Split(string(want), "\n")
	for i := range max(len(g), len(w)) {
		line := func(from []string) string {
			if i < len(from) {
				return from[i]
			}
			return "(nothing)"
		}
		if line(g) != line(w) {
			t.Errorf("line %d:\n got %s\nwant %s", i+1, line(g), line(w))
		}
	}
}

// program writes the order of evaluation, group by group.
func program(p *check.Program) string {
	var b strings.Builder
	for _, g := range p.Order {
		if g.Stepwise {
			fmt.Fprintln(&b, "step by step:")
		}
		for _, n := range g.Nodes {
			q := n.Quantity
			name, e := q.Kind.Name+"."+q.Name, q.Value
			if n.Item >= 0 {
				name, e = q.Kind.Name+"."+q.Kind.Items[n.Item].Name+"."+q.Name, q.Own[n.Item]
			}
			for _, a := range q.Axes {
				name += "[" + a.Name + "]"
			}
			absent := ""
			if q.MayBeAbsent {
				absent = " or absent"
			}
			fmt.Fprintf(&b, "%s: %s%s\n  = %s\n", name, typed(q.Type, q.Dim.String()), absent, tree(p, e))
			if q.Start != nil {
				fmt.Fprintf(&b, "  start %s\n", tree(p, q.Start))
			}
		}
	}
	return b.String()
}

// operations name what a tree shows by a sign of its own.
var operations = map[check.Op]string{
	check.Neg: "-", check.Not: "not", check.Add: "+", check.Sub: "-", check.Mul: "*", check.Div: "/", check.Pow: "**",
	check.Eq: "==", check.Ne: "!=", check.Lt: "<", check.Le: "<=", check.Gt: ">", check.Ge: ">=",
	check.And: "and", check.Or: "or", check.If: "if", check.Else: "else",
}

var aggregates = [...]string{"sum", "count", "any", "all", "min", "max", "mean", "first", "last", "deviation", "len"}

// tree writes an expression as (operation operands)dimension.
func tree(p *check.Program, e *check.Expr) string {
	head := operations[e.Op]
	switch e.Op {
	case check.Literal:
		if e.Type == decl.Text {
			return fmt.Sprintf("%q", p.Texts[int(e.Num)])
		}
		return fmt.Sprint(e.Num) + "{" + typed(e.Type, e.Dim.String()) + "}"
	case check.Read, check.Column:
		return way(e) + "{" + typed(e.Type, e.Dim.String()) + "}"
	case check.Step:
		return "step of " + e.Axis.Name
	case check.Call:
		head = e.Fn.Name
	case check.Fold:
		head = aggregates[e.Fold.Kind]
		if e.Fold.Items != nil {
			head += " over " + e.Fold.Items.Plural
		}
		if e.Fold.Set != nil {
			head += " in " + e.Fold.Set.Path
		}
		for _, a := range e.Fold.Over {
			head += " along " + a.Name
		}
	}
	parts := []string{head}
	for _, a := range e.Args {
		parts = append(parts, tree(p, a))
	}
	return "(" + strings.Join(parts, " ") + "){" + typed(e.Type, e.Dim.String()) + "}"
}

func typed(t decl.Type, dim string) string {
	switch t {
	case decl.Boolean:
		return "truth"
	case decl.Text:
		return "text"
	}
	return dim
}

// way writes where a name leads: origin, references on the way, target.
func way(e *check.Expr) string {
	r := e.Ref
	if r == nil {
		return e.Table.Name + "." + e.Table.Columns[e.Col].Name
	}
	var parts []string
	switch r.Origin {
	case check.Self:
		parts = append(parts, "own")
	case check.One:
		parts = append(parts, r.Kind.Name)
	case check.Fixed:
		parts = append(parts, r.Kind.Items[r.Item].Name)
	case check.Each:
		parts = append(parts, "each")
	case check.AxisItem:
		parts = append(parts, "step's "+r.Kind.Name)
	}
	for _, h := range r.Hops {
		parts = append(parts, h.Name)
	}
	parts = append(parts, r.Target.Name)
	if e.Op == check.Column {
		parts = append(parts, r.Target.Columns[e.Col].Name)
	}
	if r.Prev {
		parts = append(parts, "before")
	}
	return strings.Join(parts, ".")
}

// crates is a scenario of which the formulas of single crates and of a rule are tried.
const crates = `title = "Crates"
currency = "EUR"
standard_rules = false
[rules.kind.crate]
many    = "crates"
compare = { by = "mass", best = "lowest" }
doc     = "A crate."
[rules.crate.log]
recording = { time = "h", mass = "kg", full = "kg" }
optional  = true
doc       = "What was weighed."
[rules.axis.week]
steps = 4
doc   = "Weeks."
[rules.table.life]
columns = { deep = "", often = "" }
rows    = [[1, 100], [2, 50]]
source  = "invented"
[rules.crate.weekly]
over    = "week"
default = 1
doc     = "How often it is used."
[rules.crate.mass]
unit    = "kg"
default = "1 kg"
doc     = "Mass."
[rules.crate.tare]
unit    = "kg"
default = "1 kg"
doc     = "Mass of it alone."
`

// resolved is what becomes of crates with more behind it.
func resolved(more string) (*check.Program, diag.List) {
	m, list := decl.Load(decl.Sources{Files: fstest.MapFS{"crates.toml": {Data: []byte(crates + more)}}, Scenario: "crates.toml"})
	p, faults := check.Resolve(m)
	return p, append(list, faults...)
}

// TestOrderOfItems: what one item's formula reads of another one comes before it, however
// the file has them; what it reads of items that do not read it is no circle.
func TestOrderOfItems(t *testing.T) {
	for _, c := range []struct{ items, want string }{
		{`[crate.a]
mass = "= crates.b.mass * 2"
[crate.b]
mass = "= crates.c.mass * 2"
[crate.c]
mass = "= tare * 2"
`, "c b a"},
		{`[crate.a]
mass = "= crates.c.mass + crates.b.mass"
[crate.b]
mass = "= crates.c.tare"
[crate.c]
mass = "= crates.b.mass"
`, "b c a"},
		{`[crate.a]
mass = "= sum(crates, .tare)"
[crate.b]
tare = "= crates.d.mass"
[crate.c]
tare = "= mass"
mass = "= crates.b.tare"
[crate.d]
mass = "3 kg"
`, "b c c a"},
	} {
		p, list := resolved(c.items)
		for _, d := range list {
			t.Errorf("%s: %s", c.want, d.Error())
		}
		if p == nil {
			continue
		}
		var got []string
		for _, g := range p.Order {
			for _, n := range g.Nodes {
				got = append(got, n.Quantity.Kind.Items[n.Item].Name)
			}
		}
		if order := strings.Join(got, " "); order != c.want {
			t.Errorf("the order is %s, want %s", order, c.want)
		}
	}
	if _, list := resolved("[crate.a]\nmass = \"= crates.b.mass\"\n[crate.b]\nmass = \"= crates.a.mass\"\n"); len(list) != 1 || list[0].Code != "cycle" {
		t.Errorf("of a circle is told %v", list)
	}
}

// TestArguments: a function takes as many as it has parameters, but for those that may be
// left out and for more of the last one where it goes on.
func TestArguments(t *testing.T) {
	for _, c := range []struct{ formula, want string }{
		{"floor(2.5)", ""},
		{"floor()", "floor takes (x), but 0 are given"},
		{"floor(1, 2)", "floor takes (x), but 2 are given"},
		{"max(1, 2, 3)", ""},
		{"rainflow(weekly, life.deep, life.often, 1)", ""},
		{"rainflow(weekly * 2, life.deep, life.often, 1)", "rainflow takes the name of a series here"},
		{"rainflow(weekly, 2, life.often, 1)", "rainflow looks into a table column here"},
		{"recorded_share(log.mass)", ""},
		{"recorded_share(log.mass, log.full)", ""},
		{"recorded_share()", "recorded_share takes"},
		{"recorded_share(log.mass, log.full, log.mass)", "recorded_share takes"},
	} {
		_, list := resolved("[rules.crate.tried]\nformula = \"" + c.formula + "\"\ndoc = \"Tried.\"\n[crate.a]\n")
		got := ""
		if len(list) > 0 {
			got = list[0].Summary
		}
		if c.want == "" && len(list) > 0 || !strings.Contains(got, c.want) {
			t.Errorf("%s: told %q, want %q", c.formula, got, c.want)
		}
	}
}

// TestStepsOfAxis: a step that goes into a range but for rounding gives its end as well;
// one that does not ends before it.
func TestStepsOfAxis(t *testing.T) {
	p, list := resolved("[crate.a]\n[crate.b]\n")
	if p == nil {
		t.Fatal(list)
	}
	for _, c := range []struct {
		axis string
		want []float64
	}{
		{"crate.a.mass=0 kg..0.3 kg/step 0.1 kg", []float64{0, 0.1, 0.2, 0.3}},
		{"crate.a.mass=0.7 kg..0.9 kg/step 0.1 kg", []float64{0.7, 0.8, 0.9}},
		{"crate.a.mass=0 kg..0.35 kg/step 0.1 kg", []float64{0, 0.1, 0.2, 0.3}},
		{"crate.a.mass=1 kg..3 kg/3", []float64{1, 2, 3}},
		{"crate.a.mass=1 kg,3 kg,2 kg", []float64{1, 3, 2}},
	} {
		s, err := check.ParseSweep(p, []string{c.axis}, nil)
		if err != nil {
			t.Errorf("%s: %v", c.axis, err)
			continue
		}
		if got := s.Axes[0].Values; !slices.EqualFunc(got, c.want, func(a, b float64) bool { return math.Abs(a-b) < 1e-15 }) {
			t.Errorf("%s: %v, want %v", c.axis, got, c.want)
		}
	}
}

// TestTriangles: the most likely value lies between the others, or is one of them.
func TestTriangles(t *testing.T) {
	for triangle, want := range map[string]string{
		`"1 kg", "2 kg", "3 kg"`: "",
		`"1 kg", "1 kg", "3 kg"`: "",
		`"1 kg", "3 kg", "3 kg"`: "",
		`"1 kg", "4 kg", "3 kg"`: "4 kg does not lie between 1 kg and 3 kg",
		`"2 kg", "1 kg", "3 kg"`: "1 kg does not lie between 2 kg and 3 kg",
		`"3 kg", "3 kg", "3 kg"`: "3 kg does not lie above 3 kg",
	} {
		_, list := resolved("[crate.a]\n[crate.b]\nmass = \"2 kg\"\n[doubt.x]\ninputs = [{ input = \"crate.b.mass\", triangular = [" + triangle + "] }]\n")
		got := ""
		if len(list) > 0 {
			got = list[0].Summary
		}
		if got != want || len(list) > 1 {
			t.Errorf("%s: told %q, want %q", triangle, got, want)
		}
	}
}

// TestLongSums: formulas over all items of so many are refused before they are computed,
// by the number of items and of what is added up.
func TestLongSums(t *testing.T) {
	for _, c := range []struct {
		items, terms int
		refused      bool
	}{{5000, 1, false}, {5000, 30, true}, {500, 30, false}} {
		masses := strings.TrimSuffix(strings.Repeat("\"1 kg\", ", c.items), ", ")
		terms := strings.TrimSuffix(strings.Repeat(".mass + ", c.terms), " + ")
		_, list := resolved("[rules.crate.all]\nunit = \"kg\"\nformula = \"sum(crates, " + terms + ")\"\ndoc = \"All.\"\n[crate.a]\neach = { mass = [" + masses + "] }\n")
		if refused := len(list) == 1 && list[0].Code == "limit"; refused != c.refused || len(list) > 1 {
			t.Errorf("%d items, %d terms: told %v", c.items, c.terms, list)
		}
	}
}

// TestCellsByLabel: an item may be named by its label, but not where two have the same.
func TestCellsByLabel(t *testing.T) {
	p, list := resolved("[crate.a]\nlabel = \"Old\"\n[crate.b]\nlabel = \"New\"\n[crate.c]\nlabel = \"Old\"\n")
	if p == nil {
		t.Fatal(list)
	}
	for name, item := range map[string]int{"crate.b.mass": 1, "crate.New.mass": 1, "New.mass": 1, "crate.Old.mass": -1, "Old.mass": -1, "crate.d.mass": -1} {
		c, err := p.ParseCell(name)
		if found := err == nil; found != (item >= 0) || found && c.Item != item {
			t.Errorf("%s is crate %d, %v, want %d", name, c.Item, err, item)
		}
	}
}
