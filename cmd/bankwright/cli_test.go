package main

import (
	"bytes"
	"encoding/json"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"bankwright/engine/decl"
	"bankwright/scenarios"
)

// bankwright runs a command line that must succeed and returns what it prints
// to standard output.
func bankwright(t testing.TB, args ...string) string {
	t.Helper()
	var out, errs bytes.Buffer
	if status := run(args, &out, &errs); status != exitDone {
		t.Fatalf("bankwright %s: exit status %d\n%s", strings.Join(args, " "), status, errs.String())
	}
	return out.String()
}

// document runs a command line and reads the JSON document that it prints.
func document(t testing.TB, into any, args ...string) {
	t.Helper()
	d := json.NewDecoder(strings.NewReader(bankwright(t, append(args, "--json")...)))
	d.DisallowUnknownFields()
	if err := d.Decode(into); err != nil {
		t.Fatalf("bankwright %s --json: %v", strings.Join(args, " "), err)
	}
	if d.More() {
		t.Fatalf("bankwright %s --json: more than one document", strings.Join(args, " "))
	}
}

// answer is the document of compare --json for the standard rules.
type answer struct {
	Scenario     string
	Currency     string
	Decides      string
	Margins      []margin
	Best         *string // none where nothing may be recommended
	Alternatives []struct {
		Name  string
		Label string
		Place *int

		Shortlist bool
		Frontier  *bool // none where the rules ask for none
		Answers   []struct{ Name, Question, Answer string }

		Values map[string]struct {
			Value any
			Unit  string
		}
		Checks []struct {
			Name, Severity, Text string
			Passed               *bool // none where the check does not apply
		}
	}
}

// figure is a number of an alternative, which must be in the unit that is named.
func (a *answer) figure(t testing.TB, alternative, quantity, unit string) float64 {
	t.Helper()
	for _, alt := range a.Alternatives {
		if alt.Name != alternative {
			continue
		}
		v, ok := alt.Values[quantity]
		x, number := v.Value.(float64)
		if !ok || !number || v.Unit != unit {
			t.Fatalf("%s.%s is %v %s, want a number of %s", alternative, quantity, v.Value, v.Unit, unit)
		}
		return x
	}
	t.Fatalf("there is no alternative %s", alternative)
	return 0
}

// traced is the document of explain --json.
type traced struct {
	Cell    string
	Value   any
	Unit    string
	Missing string
	Default bool
	Written string
	Formula string
	Source  string
	Doc     string
	Cut     bool // it goes deeper than is shown
	From    []*traced
	Given   []any // of the root: all that is given further down
}

// each visits a cell and all that it came from.
func (c *traced) each(visit func(*traced)) {
	visit(c)
	for _, f := range c.From {
		f.each(visit)
	}
}

// explained is the number of a cell of the scenario of a file, which must be in
// the unit that is named.
func explained(t testing.TB, file, cell, unit string) float64 {
	t.Helper()
	m := modelOf(t, file)
	c, err := m.ParseCell(cell)
	if err != nil {
		t.Fatal(err)
	}
	if name := c.Quantity.Unit.In(m.Model.Currency); name != unit || c.Quantity.Type != decl.Number {
		t.Fatalf("%s is in %s, want a number of %s", cell, name, unit)
	}
	return held(t, m, cell, "")
}

// written writes a file into a new folder and returns its path.
func written(t testing.TB, name, text string) string {
	t.Helper()
	path := filepath.Join(t.TempDir(), name)
	t.Cleanup(func() { models.Delete(path) })
	if err := os.WriteFile(path, []byte(text), 0o644); err != nil {
		t.Fatal(err)
	}
	return path
}

// defaultScenario is the text of the scenario that is taken where no file is
// named.
func defaultScenario(t testing.TB) string {
	t.Helper()
	text, err := scenarios.Files.ReadFile(scenarios.Default)
	if err != nil {
		t.Fatal(err)
	}
	return string(text)
}

// atDepth writes the default scenario with another depth of discharge.
func atDepth(t testing.TB, depth string) string {
	t.Helper()
	const line = `depth_of_discharge          = "80 %"`
	text := defaultScenario(t)
	if strings.Count(text, line) != 1 {
		t.Fatalf("the default scenario has not one line %s", line)
	}
	return written(t, "depth.toml", strings.Replace(text, line, `depth_of_discharge = "`+depth+`"`, 1))
}

// agree demands that two numbers agree within a relative tolerance, or within
// the same absolute one near zero.
func agree(t testing.TB, what string, got, want, tolerance float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tolerance*max(1, math.Abs(want))) {
		t.Errorf("%s = %.17g, want %.17g within %g", what, got, want, tolerance)
	}
}

// margin is how far an input may move before another alternative is best.
type margin struct {
	Cell, Unit      string
	Value, From, To float64
	Below, Above    *struct {
		Value float64
		Best  *string
	}
}
