package main

import (
	"bytes"
	"cmp"
	"encoding/json"
	"math"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"

	"bankwright/engine"
	"bankwright/engine/check"
	"bankwright/engine/decl"
	"bankwright/engine/eval"
	"bankwright/engine/oracle"
	"bankwright/export/reference"
)

// TestChecked runs the scenarios of testdata/outside, whose figures are published,
// and compares with the published results, which stand beside the figures as
//
//	# source: where they were published
//	# status: how far that was seen
//	# with: TABLE: LINE
//	#= CELL VALUE UNIT to TOLERANCE
//	#= CELL is TEXT
//	#= KIND.ITEM.check.NAME passed
//
// A source and a status hold for the lines that follow, up to the next source; so
// does each line that is put in place of the scenario's, up to "# as given".
//
// rules/checked.json, which `rules --checked` shows, and rules/CHECKED.md,
// which holds what it shows, are what the scenarios of testdata/outside give now. To
// renew both:
//
//	go test ./cmd/bankwright -run TestChecked -update
func TestChecked(t *testing.T) {
	oracle.OneCore(t)
	t.Parallel()
	found, whole := checkedNow(t)
	if !whole {
		return // the page is of all files
	}
	var want bytes.Buffer
	e := json.NewEncoder(&want)
	e.SetEscapeHTML(false)
	e.SetIndent("", " ")
	if err := e.Encode(found); err != nil {
		t.Fatal(err)
	}
	data, page := filepath.Join(root, "rules", "checked.json"), filepath.Join(root, "rules", "CHECKED.md")
	if *update {
		if err := os.WriteFile(data, want.Bytes(), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	if have, err := os.ReadFile(data); err != nil || !bytes.Equal(have, want.Bytes()) {
		t.Errorf("rules/checked.json is not what the rules give (%v); go test ./cmd/bankwright -run TestChecked -update renews it", err)
	}
	var shown strings.Builder
	if err := checkedPage(&shown, want.Bytes()); err != nil {
		t.Fatal(err)
	}
	if *update {
		if err := os.WriteFile(page, []byte(shown.String()), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	if have, err := os.ReadFile(page); err != nil || string(have) != shown.String() {
		t.Errorf("rules/CHECKED.md is not what the rules give (%v); go test ./cmd/bankwright -run TestChecked -update renews it", err)
	}
	for i, line := range strings.Split(shown.String(), "\n") {
		if n := len([]rune(line)); n > 80 && strings.Contains(strings.TrimSpace(line), " ") {
			t.Errorf("line %d of rules/CHECKED.md has %d columns", i+1, n)
		}
	}
	for _, e := range reference.Evidences {
		rules, directly := found.Count(e)
		values, sources := found.Values(e)
		t.Logf("%s: %d values of %d sources; %d rules of %d, %d directly", e, values, sources, rules, len(found.Rules), directly)
	}
}

// checkedNow runs every value, those of the best evidence first, so that each rule is
// noted under it; whole says whether all files were asked for.
func checkedNow(t *testing.T) (found *reference.Checked, whole bool) {
	c := &census{byName: map[string]*reference.CheckedRule{}}
	c.list(modelOf(t, ""))
	groups, all := groupsOf(t)
	ran := 0
	for _, e := range reference.Evidences {
		for _, file := range outsideFiles(t) {
			if len(groups[file][e]) == 0 {
				continue
			}
			// the file comes first, so that it can be asked for
			t.Run(filepath.Base(file)+" "+string(e), func(t *testing.T) {
				for _, values := range groups[file][e] {
					ran++
					c.run(t, ownModel(t, file, values[0].with), filepath.Base(file), values)
				}
			})
		}
	}
	slices.SortStableFunc(c.sources, func(a, b notedSource) int {
		return cmp.Or(strings.Compare(a.File, b.File), a.line-b.line)
	})
	out := &reference.Checked{}
	for _, s := range c.sources {
		out.Sources = append(out.Sources, s.CheckedSource)
	}
	for _, r := range c.rules {
		out.Rules = append(out.Rules, *r)
	}
	return out, ran == all
}

// groupsOf are the values of every file by their evidence, those together that one
// scenario gives; all is how many such groups there are.
func groupsOf(t *testing.T) (groups map[string]map[reference.Evidence][][]published, all int) {
	groups = map[string]map[reference.Evidence][][]published{}
	for _, file := range outsideFiles(t) {
		values, err := publishedIn(file)
		if err != nil {
			t.Fatal(err)
		}
		groups[file] = map[reference.Evidence][][]published{}
		for len(values) > 0 {
			n, first := 1, values[0]
			for n < len(values) && slices.Equal(values[n].with, first.with) && values[n].evidence == first.evidence {
				n++
			}
			groups[file][first.evidence] = append(groups[file][first.evidence], values[:n])
			values = values[n:]
			all++
		}
	}
	return groups, all
}

// ownModel reads the scenario of a file with edits for a test that spoils its rules.
func ownModel(t *testing.T, file string, edits []string) *engine.Model {
	t.Helper()
	src := sources(file)
	if len(edits) > 0 {
		text, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		src.Files = overlay{src.Files, src.Scenario, []byte(edited(string(text), edits...))}
	}
	m, list, _ := engine.Load(src)
	if m == nil {
		t.Fatalf("%s: %v", file, list)
	}
	return m
}

// census collects what published values reach.
type census struct {
	rules   []*reference.CheckedRule
	byName  map[string]*reference.CheckedRule
	sources []notedSource
}

// notedSource is a source, and the line of its first value.
type notedSource struct {
	reference.CheckedSource
	line int
}

// list notes every rule of the standard rules: quantities by section, then checks.
func (c *census) list(m *engine.Model) {
	add := func(name, group, source string) {
		r := &reference.CheckedRule{Name: name, Group: group, Evidence: reference.Nothing, Reach: reference.Unreached, Because: source}
		c.rules, c.byName[name] = append(c.rules, r), r
	}
	for _, k := range m.Kinds {
		sections := []string{}
		for _, q := range k.Quantities {
			if q.Value != nil && !slices.Contains(sections, q.Section) {
				sections = append(sections, q.Section)
			}
		}
		for _, s := range sections {
			for _, q := range k.Quantities {
				if q.Value != nil && q.Section == s && isStandard(q) {
					add(ruleName(m, q), strings.TrimSuffix(k.Title+": "+s, ": "), q.Source)
				}
			}
		}
	}
	for _, ch := range m.Checks {
		add("check."+ch.Name, "Checks of "+strings.ReplaceAll(ch.Of.Plural, "_", " "), ch.Check.Source)
	}
}

func isStandard(q *check.Quantity) bool { return strings.HasPrefix(q.At.File, "rules/") }

// ruleName is kind.quantity, or check.name of what holds a check's result.
func ruleName(m *engine.Model, q *check.Quantity) string {
	for _, c := range m.Checks {
		if c.Result == q {
			return "check." + c.Name
		}
	}
	return q.Kind.Name + "." + q.Name
}

// run compares the values that one model gives, and finds out which rules they reach.
func (c *census) run(t *testing.T, m *engine.Model, file string, values []published) {
	spots := make([]spot, len(values))
	for i, p := range values {
		at, err := spotOf(m, p)
		if err != nil {
			t.Fatalf("%s:%d: %v", file, p.line, err)
		}
		spots[i] = at
		c.note(m, file, p, at)
		if v := at.in(m.Result); !p.meets(v) {
			t.Errorf("line %d: %s is %.10g %s, published %v within %v\nsource: %s (%s)", p.line, p.cell, v, p.unit, p.value, p.tolerance, p.source, p.status)
		}
		if isStandard(at.Quantity) {
			c.reach(ruleName(m, at.Quantity), p.evidence, p.directly(), file)
		}
	}
	for _, q := range rulesBelow(m, spots) {
		if name := ruleName(m, q); c.isNews(name, values[0].evidence, reference.Through) && isTold(m, q, spots, values) {
			c.reach(name, values[0].evidence, reference.Through, file)
		}
	}
}

// reaches are the ways in which a rule is reached, better ones first.
var reaches = []reference.Reach{reference.Direct, reference.Through, reference.Unreached}

// isNews reports whether a rule has not been reached as well as that: by no evidence as
// good, or by this one in a worse way.
func (c *census) isNews(name string, e reference.Evidence, how reference.Reach) bool {
	r := c.byName[name]
	if r == nil {
		return false
	}
	better := slices.Index(reference.Evidences, e) - slices.Index(reference.Evidences, r.Evidence)
	return better < 0 || better == 0 && slices.Index(reaches, how) < slices.Index(reaches, r.Reach)
}

// reach notes that a rule is reached, unless it has been reached as well.
func (c *census) reach(name string, e reference.Evidence, how reference.Reach, file string) {
	if c.isNews(name, e, how) {
		r := c.byName[name]
		r.Evidence, r.Reach, r.File = e, how, file
	}
}

// directly is how a value reaches the rule whose result it is: what stands in for the
// parts of a published total is not published itself.
func (p published) directly() reference.Reach {
	if p.evidence == reference.Consistent {
		return reference.Through
	}
	return reference.Direct
}

// note keeps a value, under its source.
func (c *census) note(m *engine.Model, file string, p published, at spot) {
	n := len(c.sources) - 1
	if n < 0 || c.sources[n].Source != p.source || c.sources[n].File != file {
		source := reference.CheckedSource{Source: p.source, Status: p.status, Evidence: p.evidence, File: file}
		c.sources = append(c.sources, notedSource{source, p.line})
		n++
	}
	ours := at.in(m.Result)
	v := reference.CheckedValue{Cell: p.cell, Label: at.Quantity.Label, With: p.with, Finding: p.finding, Text: p.text, Published: p.value, Ours: rounded(ours, 10), Tolerance: p.tolerance, Unit: p.unit}
	if at.check != nil {
		v.Label = at.check.Doc
	}
	if d := ours - p.value; math.Abs(d) > 1e-10*math.Abs(p.value) && d == d {
		v.Difference = rounded(d, 3)
	}
	c.sources[n].Values = append(c.sources[n].Values, v)
}

// rounded is a number with so many digits, so that a page is the same on every machine.
func rounded(v float64, digits int) float64 {
	out, _ := strconv.ParseFloat(strconv.FormatFloat(v, 'g', digits, 64), 64)
	return out
}

// rulesBelow are the standard rules whose results were read for the values of some
// places, those of the places among them.
func rulesBelow(m *engine.Model, spots []spot) (out []*check.Quantity) {
	seen := map[eval.Cell]bool{}
	var next []eval.Cell
	for _, at := range spots {
		next = append(next, at.Cell)
	}
	for len(next) > 0 {
		c := next[0]
		next = next[1:]
		if seen[c] {
			continue
		}
		seen[c] = true
		if q := c.Quantity; q.Value != nil && isStandard(q) && !slices.Contains(out, q) {
			out = append(out, q)
		}
		next = append(next, m.Result.Reads(c)...)
	}
	return out
}

// isTold reports whether a published value is missed once the result of a rule is
// made a tenth larger or smaller, or its opposite.
func isTold(m *engine.Model, q *check.Quantity, spots []spot, values []published) bool {
	was := q.Value
	defer func() { q.Value = was }()
	factors := []float64{1.1, 0.9}
	if was.Type == decl.Boolean || was.Type == decl.Text {
		factors = factors[:1] // there is one way only to make it another
	}
	for _, factor := range factors {
		q.Value = spoilt(was, factor)
		r := eval.Run(m.Program)
		for i, at := range spots {
			if !values[i].meets(at.in(r)) {
				return true
			}
		}
	}
	return false
}

// spoilt is an expression with another result: a factor of it, its opposite, or
// another text.
func spoilt(e *check.Expr, factor float64) *check.Expr {
	switch e.Type {
	case decl.Boolean:
		return &check.Expr{Op: check.Not, Type: decl.Boolean, Args: []*check.Expr{e}}
	case decl.Text:
		return &check.Expr{Op: check.Literal, Type: decl.Text}
	}
	return &check.Expr{Op: check.Mul, Type: e.Type, Dim: e.Dim, Args: []*check.Expr{e, {Op: check.Literal, Num: factor}}}
}
