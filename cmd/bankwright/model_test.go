package main

import (
	"fmt"
	"strings"
	"sync"
	"testing"

	"bankwright/engine"
	"bankwright/engine/unit"
	"bankwright/rules"
)

// models are the scenarios that tests have read, by file or text: those of the
// project as long as the tests run, those that a test has written while it runs,
// so that many do not fill the memory.
var models sync.Map

// modelOf reads the scenario of a file, which must be free of faults, once.
func modelOf(t testing.TB, file string) *engine.Model {
	t.Helper()
	return readOnce(t, file, sources(file)) // written forgets a file of its own
}

// solvedText reads a scenario, which must be free of faults, with the standard
// rules.
func solvedText(t testing.TB, text string) *engine.Model {
	t.Helper()
	const name = "scenario.toml"
	if _, held := models.Load(text); !held {
		t.Cleanup(func() { models.Delete(text) })
	}
	return readOnce(t, text, engine.Sources{Files: withLogs(name, text), Scenario: name, Standard: rules.Files})
}

// readOnce reads a scenario unless it has been read.
func readOnce(t testing.TB, key string, src engine.Sources) *engine.Model {
	t.Helper()
	if m, ok := models.Load(key); ok {
		return m.(*engine.Model)
	}
	m, list, _ := engine.Load(src)
	if m == nil {
		t.Fatalf("%v\n%s", list, key)
	}
	models.Store(key, m)
	return m
}

// held is the value of a cell in a unit, the currency's name or `money` in it
// being the same; NaN where it is absent.
func held(t testing.TB, m *engine.Model, cell, name string) float64 {
	t.Helper()
	c, err := m.ParseCell(cell)
	if err != nil {
		t.Fatal(err)
	}
	u := c.Quantity.Unit
	if name != "" && name != u.In(m.Model.Currency) {
		if u, err = unit.Parse(name); err != nil {
			t.Fatal(err)
		}
		if u.Dim != c.Quantity.Unit.Dim {
			t.Fatalf("%s is not measured in %s", cell, name)
		}
	}
	return u.FromBase(m.Result.At(c.Quantity, c.Item, c.Row))
}

// findingOf tells how a check went of an alternative, or of the item of another
// kind.
func findingOf(t testing.TB, m *engine.Model, item, check string) engine.Outcome {
	t.Helper()
	for _, k := range m.Kinds {
		for _, o := range m.Outcomes(k) {
			if o.Check.Name == check && k.Items[o.Item].Name == item {
				return o
			}
		}
	}
	t.Fatalf("there is no check %s of %s", check, item)
	return engine.Outcome{}
}

// edited replaces lines of a scenario by others of the same key, or adds them.
// An edit is the table, a colon and the line, as in `site: autonomy = "2 day"`;
// a table that the scenario has not is added.
func edited(text string, edits ...string) string {
	lines := strings.Split(strings.TrimRight(text, "\n"), "\n")
	for _, e := range edits {
		head, line, _ := strings.Cut(e, ": ")
		key, _, _ := strings.Cut(line, " =")
		begin, at := -1, -1
		for i, l := range lines {
			if l == "["+head+"]" {
				begin = i
			} else if strings.HasPrefix(l, "[") && begin >= 0 {
				break
			} else if k, _, ok := strings.Cut(l, "="); ok && begin >= 0 && strings.TrimSpace(k) == key {
				at = i
			}
		}
		switch {
		case at >= 0:
			lines[at] = line
		case begin >= 0:
			lines = append(lines[:begin+1:begin+1], append([]string{line}, lines[begin+1:]...)...)
		default:
			lines = append(lines, "["+head+"]", line)
		}
	}
	return strings.Join(lines, "\n") + "\n"
}

// justSo writes a number with all its digits.
func justSo(v float64, unit string) string { return fmt.Sprintf(`"%.17g %s"`, v, unit) }
