package main

import (
	"bytes"
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
	t.Logf("%d values of %d sources; %d rules: %d directly, %d through others, %d by practice, %d not", found.Values(), len(found.Sources), len(found.Rules), found.Count(reference.Direct), found.Count(reference.Through), found.Count(reference.Practice), found.Count(reference.Unreached))
}

// checkedNow runs every published value; whole says whether all files were asked for.
func checkedNow(t *testing.T) (found *reference.Checked, whole bool) {
	c := &census{byName: map[string]*reference.CheckedRule{}}
	ran, files := 0, outsideFiles(t)
	c.list(modelOf(t, ""))
	for _, file := range files {
		t.Run(filepath.Base(file), func(t *testing.T) {
			ran++
			values, err := publishedIn(file)
			if err != nil {
				t.Fatal(err)
			}
			for len(values) > 0 {
				n := 1
				for n < len(values) && slices.Equal(values[n].with, values[0].with) && values[n].practice() == values[0].practice() {
					n++
				}
				c.run(t, ownModel(t, file, values[0].with), filepath.Base(file), values[:n])
				values = values[n:]
			}
		})
	}
	out := &reference.Checked{Sources: c.sources}
	for _, r := range c.rules {
		out.Rules = append(out.Rules, *r)
	}
	return out, ran == len(files)
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
	sources []reference.CheckedSource
}

// list notes every rule of the standard rules: quantities by section, then checks.
func (c *census) list(m *engine.Model) {
	add := func(name, group, source string) {
		r := &reference.CheckedRule{Name: name, Group: group, Reach: reference.Unreached, Because: source}
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
			c.reach(ruleName(m, at.Quantity), p.as(reference.Direct), file)
		}
	}
	how := values[0].as(reference.Through)
	for _, q := range rulesBelow(m, spots) {
		if name := ruleName(m, q); c.isNews(name, how) && isTold(m, q, spots, values) {
			c.reach(name, how, file)
		}
	}
}

// reaches are the ways in which a rule is reached, better ones first.
var reaches = []reference.Reach{reference.Direct, reference.Through, reference.Practice, reference.Unreached}

// isNews reports whether a rule has not been reached as well as that.
func (c *census) isNews(name string, how reference.Reach) bool {
	r := c.byName[name]
	return r != nil && slices.Index(reaches, how) < slices.Index(reaches, r.Reach)
}

// reach notes that a rule is reached, unless it has been reached as well.
func (c *census) reach(name string, how reference.Reach, file string) {
	if c.isNews(name, how) {
		c.byName[name].Reach, c.byName[name].File = how, file
	}
}

// practice reports whether a value is one of common practice, and as is how a rule is
// reached by such a value.
func (p published) practice() bool { return strings.HasPrefix(p.status, "common practice") }

func (p published) as(how reference.Reach) reference.Reach {
	if p.practice() {
		return reference.Practice
	}
	return how
}

// note keeps a value, under its source.
func (c *census) note(m *engine.Model, file string, p published, at spot) {
	n := len(c.sources) - 1
	if n < 0 || c.sources[n].Source != p.source || c.sources[n].File != file {
		c.sources = append(c.sources, reference.CheckedSource{Source: p.source, Status: p.status, File: file})
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
