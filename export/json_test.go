package export

import (
	"bytes"
	"encoding/json"
	"os"
	"strings"
	"testing"

	"bankwright/engine"
)

func greenhouse(t *testing.T) *engine.Model {
	return load(t, os.DirFS("testdata"), "greenhouse.toml", nil)
}

func TestCompareJSON(t *testing.T) {
	var b bytes.Buffer
	if err := CompareJSON(&b, greenhouse(t)); err != nil {
		t.Fatal(err)
	}
	var doc struct {
		Scenario, Currency, Decides, Best string
		Ways                              []struct {
			Name   string
			Place  int
			Values map[string]struct {
				Value any
				Unit  *string
			}
			Checks []struct {
				Name, Severity, Text string
				Passed               *bool
			}
		}
	}
	if err := json.Unmarshal(b.Bytes(), &doc); err != nil {
		t.Fatal(err)
	}
	if doc.Best != "plain" || doc.Decides != "yearly_cost" || doc.Currency != "EUR" || len(doc.Ways) != 3 {
		t.Fatalf("%+v", doc)
	}
	plain := doc.Ways[0]
	if plain.Place != 1 || plain.Values["power"].Value != 4.0 || *plain.Values["power"].Unit != "kW" {
		t.Errorf("plain: %+v", plain)
	}
	for name, want := range map[string]any{"heater": "electric", "bonus": nil, "pipe_price": "thick", "any_quiet": true} {
		if got := plain.Values[name].Value; got != want {
			t.Errorf("%s = %v, want %v", name, got, want)
		}
	}
	for _, c := range doc.Ways[1].Checks {
		if c.Name == "quiet" && c.Passed != nil {
			t.Error("a check that does not apply says whether it passed")
		}
	}
	none := doc.Ways[2].Checks[1]
	if none.Severity != "caution" || *none.Passed || none.Text != "Not every fan is quiet: no, 900 h." {
		t.Errorf("none: %+v", none)
	}
	// The order of the values is that of the rules: further files come first.
	if s := b.String(); strings.Index(s, `"first_store": {`) > strings.Index(s, `"power": {`) || strings.Index(s, `"power": {`) > strings.Index(s, `"best_fan": {`) {
		t.Error("the values are not in the rules' order")
	}
}

func TestExplainJSON(t *testing.T) {
	m := greenhouse(t)
	c, problem := m.ParseCell("way.plain.power")
	if problem != nil {
		t.Fatal(problem)
	}
	var b bytes.Buffer
	if err := ExplainJSON(&b, m, m.Explain(c, 3)); err != nil {
		t.Fatal(err)
	}
	const want = `{
  "cell": "way.plain.power",
  "value": 4,
  "unit": "kW",
  "formula": "count * heater.power",
  "written": "greenhouse.toml:144",
  "from": [
    {
      "cell": "way.plain.count",
      "value": 2,
      "unit": "",
      "written": "greenhouse.toml:%"
    },
    {
      "cell": "heater.electric.power",
      "value": 2,
      "unit": "kW",
      "written": "greenhouse.toml:%"
    }
  ],
  "given": [
    {
      "cell": "way.plain.count",
      "value": 2,
      "unit": "",
      "written": "greenhouse.toml:%"
    },
    {
      "cell": "heater.electric.power",
      "value": 2,
      "unit": "kW",
      "written": "greenhouse.toml:%"
    }
  ]
}
`
	if got := lines(b.String()); got != lines(want) {
		t.Errorf("got %s\nwant %s", b.String(), want)
	}
}

// lines takes line numbers of files out.
func lines(s string) string {
	var out []string
	for _, l := range strings.Split(s, "\n") {
		if i := strings.Index(l, ".toml:"); i >= 0 {
			l = l[:i]
		}
		out = append(out, l)
	}
	return strings.Join(out, "\n")
}

func TestOtherJSON(t *testing.T) {
	m := greenhouse(t)
	for name, write := range map[string]func(b *bytes.Buffer) error{
		"check": func(b *bytes.Buffer) error { return CheckJSON(b, m) },
		"rules": func(b *bytes.Buffer) error { return RulesJSON(b, m.Program) },
		"rule":  func(b *bytes.Buffer) error { return RuleJSON(b, m.Kind("way").Quantity("store")) },
	} {
		var first, again bytes.Buffer
		if err := write(&first); err != nil {
			t.Fatal(name, err)
		}
		if err := write(&again); err != nil || first.String() != again.String() {
			t.Errorf("%s: written twice, it differs", name)
		}
		if !json.Valid(first.Bytes()) {
			t.Errorf("%s is not JSON", name)
		}
	}
	var b bytes.Buffer
	if err := RuleJSON(&b, m.Kind("way").Quantity("store")); err != nil {
		t.Fatal(err)
	}
	for _, want := range []string{`"name": "way.store"`, `"unit": "Wh"`, `"start": "first_store"`, `"type": "number"`} {
		if !strings.Contains(b.String(), want) {
			t.Errorf("the rule does not say %s: %s", want, b.String())
		}
	}
}
