package export

import (
	"io/fs"
	"testing"

	"bankwright/engine"
	"bankwright/rules"
	"bankwright/scenarios"
)

func load(t *testing.T, files fs.FS, scenario string, standard fs.FS) *engine.Model {
	t.Helper()
	m, list, _ := engine.Load(engine.Sources{Files: files, Scenario: scenario, Standard: standard})
	if m == nil {
		t.Fatalf("%s: %v", scenario, list)
	}
	return m
}

func TestDefault(t *testing.T) {
	m := load(t, scenarios.Files, scenarios.Default, rules.Files)
	b, err := NewBook(m)
	if err != nil {
		t.Fatal(err)
	}
	for _, s := range b.Sheets {
		t.Log(s.Name, len(s.Rows()))
	}
}
