package decl

import (
	"os"
	"testing"
)

// TestStudies: what a scenario declares of studies is taken over as it stands;
// names and values wait for package check.
func TestStudies(t *testing.T) {
	m, diags := Load(Sources{Files: os.DirFS("testdata/good"), Scenario: "greenhouse.toml", Standard: os.DirFS("testdata/rules")})
	if len(diags) > 0 || len(m.Sweeps) != 1 || len(m.Doubts) != 1 || len(m.BreakEvens) != 1 {
		t.Fatal(diags, len(m.Sweeps), len(m.Doubts), len(m.BreakEvens))
	}
	s := m.Sweeps[0]
	if s.Name != "price_and_fuel" || s.Title != "Price and fuel" || len(s.Show) != 1 || s.Show[0].Name != "plan.cost" || len(s.Vary) != 4 {
		t.Errorf("sweep %+v", s)
	}
	if v := s.Vary[0]; v.Scaled || v.Points != 5 || v.From.Written() != "50 EUR" || v.To.Written() != "150 EUR" || v.Step != nil || v.Values != nil {
		t.Errorf("from and to: %+v", v)
	}
	if v := s.Vary[1]; v.Scaled || len(v.Values) != 2 || v.Values[1].Written() != "wood" {
		t.Errorf("values: %+v", v)
	}
	if v := s.Vary[2]; !v.Scaled || len(v.Inputs) != 2 || v.Inputs[1].Name != "heater.fan.price" || v.Step.Written() != "10 %" {
		t.Errorf("several: %+v", v)
	}
	if v := s.Vary[3]; !v.Scaled || len(v.Inputs) != 1 || len(v.Values) != 2 {
		t.Errorf("by: %+v", v)
	}
	d := m.Doubts[0]
	if d.Samples != 1000 || d.Seed != 7 || d.Title != "Market" || len(d.Inputs) != 3 || len(d.Correlated) != 1 || d.Correlated[0].By != -0.5 {
		t.Errorf("doubt %+v", d)
	}
	if u := d.Inputs[1]; u.Kind != Lognormal || len(u.Params) != 2 || u.Params[1].Written() != "10 %" {
		t.Errorf("lognormal: %+v", u)
	}
	if u := d.Inputs[2]; u.Kind != Trials || len(u.Cells) != 3 || u.Cells[1].Name != "c.d" {
		t.Errorf("trials: %+v", u)
	}
	b := m.BreakEvens[0]
	if len(b.Between) != 2 || b.Input.Name != "heater.stove.price" || b.From.Written() != "10 EUR" || b.Over == nil || b.Over.Inputs[0].Name != "house.sun[3]" {
		t.Errorf("break-even %+v", b)
	}
}
