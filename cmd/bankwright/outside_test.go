package main

import (
	"fmt"
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
	"bankwright/engine/unit"
	"bankwright/export/reference"
)

// published is one expected result of a file of testdata/outside.
type published struct {
	source, status string
	evidence       reference.Evidence
	with           []string // edits of the scenario, see edited
	cell           string   // or ITEM.check.NAME
	value          float64  // a finding: 1 where it passes
	unit           string   // as written, none for a plain number
	tolerance      float64
	finding        bool
	text           string // a text: the value is 1 where it is this one
	line           int
}

// publishedIn reads what a file of testdata/outside expects.
func publishedIn(file string) ([]published, error) {
	text, err := os.ReadFile(file)
	if err != nil {
		return nil, err
	}
	var out []published
	var at published
	for i, line := range strings.Split(string(text), "\n") {
		if s, ok := strings.CutPrefix(line, "# source: "); ok {
			at = published{source: s}
		} else if s, ok := strings.CutPrefix(line, "# status: "); ok {
			at.status = s
			if at.evidence, ok = evidenceOf(s); !ok {
				return nil, fmt.Errorf("%s:%d: the status does not say how far the publication was seen", file, i+1)
			}
		} else if s, ok := strings.CutPrefix(line, "# with: "); ok {
			at.with = append(at.with[:len(at.with):len(at.with)], s)
		} else if line == "# as given" {
			at.with = nil
		}
		expected, ok := strings.CutPrefix(line, "#= ")
		if !ok {
			continue
		}
		p := at
		p.line = i + 1
		if err := p.parse(strings.Fields(expected)); err != nil {
			return nil, fmt.Errorf("%s:%d: %v", file, p.line, err)
		}
		if p.source == "" || p.status == "" {
			return nil, fmt.Errorf("%s:%d: no source and status stand above it", file, p.line)
		}
		out = append(out, p)
	}
	if len(out) == 0 {
		return nil, fmt.Errorf("nothing is expected of %s", file)
	}
	return out, nil
}

// evidenceOf is what a status amounts to. What is in part from memory is from memory,
// and what is in part worked out is worked out.
func evidenceOf(status string) (reference.Evidence, bool) {
	has := func(words ...string) bool {
		return slices.ContainsFunc(words, func(w string) bool { return strings.Contains(status, w) })
	}
	switch {
	case strings.HasPrefix(status, "common practice"):
		return reference.Practice, true
	case strings.HasPrefix(status, "consistent with a published total"):
		return reference.Consistent, true
	case strings.HasPrefix(status, "computed with"):
		return reference.Simulated, true
	case has("from memory"):
		return reference.Memory, true
	case !strings.HasPrefix(status, "seen"):
		return "", false
	case has("recomputed", "arithmetic", "worked", "summed", "divided"):
		return reference.Worked, true
	}
	return reference.Printed, status == "seen in a public reproduction"
}

// parse reads CELL VALUE UNIT to TOLERANCE, without a unit where it is a plain
// number, CELL is TEXT, or KIND.ITEM.check.NAME passed.
func (p *published) parse(words []string) (err error) {
	if len(words) == 2 {
		if words[1] != "passed" && words[1] != "failed" || strings.Count(words[0], ".check.") != 1 {
			return fmt.Errorf("cannot read %v", words)
		}
		p.cell, p.finding = words[0], true
		if words[1] == "passed" {
			p.value = 1
		}
		return nil
	}
	if len(words) > 2 && words[1] == "is" {
		p.cell, p.text, p.value = words[0], strings.Join(words[2:], " "), 1
		return nil
	}
	if len(words) == 5 {
		p.unit = words[2]
		words = append(words[:2:2], words[3:]...)
	}
	if len(words) != 4 || words[2] != "to" {
		return fmt.Errorf("cannot read %v", words)
	}
	p.cell = words[0]
	if p.value, err = strconv.ParseFloat(words[1], 64); err != nil {
		return err
	}
	p.tolerance, err = strconv.ParseFloat(words[3], 64)
	return err
}

// outsideFiles are the scenarios whose figures are published.
func outsideFiles(t testing.TB) []string {
	t.Helper()
	files, err := filepath.Glob(filepath.Join(root, "testdata", "outside", "*.toml"))
	if err != nil || len(files) < 4 {
		t.Fatalf("files: %v, %v", files, err)
	}
	return files
}

// spot is a cell of which a value is published, and the unit of that value.
type spot struct {
	eval.Cell
	check *check.Check // of a finding
	unit  unit.Unit
	texts []string // of a text: all there are
	text  string   // the one that is expected
}

// spotOf finds the cell of an expected result.
func spotOf(m *engine.Model, p published) (at spot, err error) {
	if p.finding {
		item, name, _ := strings.Cut(p.cell, ".check.")
		kind, item, _ := strings.Cut(item, ".")
		for _, c := range m.Checks {
			if c.Name != name || c.Of.Name != kind {
				continue
			}
			for i, it := range c.Of.Items {
				if it.Name == item || item == "" {
					return spot{Cell: eval.Cell{Quantity: c.Result, Item: i}, check: c}, nil
				}
			}
		}
		return at, fmt.Errorf("there is no %s", p.cell)
	}
	c, err := m.ParseCell(p.cell)
	if err != nil {
		return at, err
	}
	at = spot{Cell: c, unit: c.Quantity.Unit, text: p.text}
	if isText := c.Quantity.Type == decl.Text; isText != (p.text != "") {
		return at, fmt.Errorf("%s is a text, or no text is expected", p.cell)
	} else if isText {
		at.texts = m.Texts
		return at, nil
	}
	if p.unit != "" && p.unit != at.unit.In(m.Model.Currency) {
		if at.unit, err = unit.Parse(p.unit); err != nil {
			return at, err
		}
		if at.unit.Dim != c.Quantity.Unit.Dim {
			return at, fmt.Errorf("%s is not measured in %s", p.cell, p.unit)
		}
	}
	return at, nil
}

// in is the value of the place in a result, in the unit of what is published.
func (at spot) in(r *eval.Result) float64 {
	v := r.At(at.Quantity, at.Item, at.Row)
	switch {
	case at.check != nil:
		return v
	case at.texts != nil && v == v && at.texts[int(v)] == at.text:
		return 1
	case at.texts != nil:
		return 0
	}
	return at.unit.FromBase(v)
}

// meets reports whether a value is the published one.
func (p published) meets(v float64) bool { return math.Abs(v-p.value) <= p.tolerance }
