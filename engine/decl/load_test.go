package decl

import (
	"bytes"
	"fmt"
	"math"
	"os"
	"reflect"
	"strings"
	"testing"
	"testing/fstest"

	"bankwright/engine/diag"
)

func loadGood(t *testing.T) *Model {
	t.Helper()
	m, diags := Load(Sources{Files: os.DirFS("testdata/good"), Scenario: "greenhouse.toml", Standard: os.DirFS("testdata/rules")})
	for _, d := range diags {
		t.Error(d.Error(), "|", d.Mend)
	}
	return m
}

func (m *Model) item(t *testing.T, path string) *Item {
	t.Helper()
	kind, name, _ := strings.Cut(path, ".")
	for _, k := range m.Kinds {
		for _, it := range k.Items {
			if k.Name == kind && it.Name == name {
				return it
			}
		}
	}
	t.Fatalf("no item %s", path)
	return nil
}

// TestValues follows what the scenario says into base units: V, A, h, m, kg,
// °C and money. Conversions are those of NIST SP 811: 1 lb is 0.45359237 kg,
// 50 °F is 10 °C, 263.15 K is -10 °C.
func TestValues(t *testing.T) {
	m := loadGood(t)
	tests := []struct {
		item, quantity, written string
		values                  []float64
	}{
		{"heater.stove", "voltage", "0.23 kV", []float64{230}},
		{"heater.stove", "price", "99 EUR", []float64{99}},
		{"heater.stove", "safe", "false", []float64{0}},
		{"heater.stove", "efficiency", "100 %", []float64{1}},
		{"heater.fan", "current", "500 mA", []float64{0.5}},
		{"heater.fan", "price", "49 money", []float64{49}},
		{"heater.fan", "efficiency", "95 %", []float64{0.95}},
		{"crate.seed", "mass", "4.4 lb", []float64{4.4 * 0.45359237}},
		{"crate.pots", "mass", "2500 g", []float64{2.5}},
		{"constant.constant", "day_length", "23 h", []float64{23}},
		{"house.house", "area", "12 m²", []float64{12}},
		{"house.house", "shelves", "4", []float64{4}},
		{"plan.fan_2x", "count", "2", []float64{2}},
		{"plan.full", "count", "3", []float64{3}},
		{"plan.odd_2", "share", `["20 %", "30 %"]`, []float64{0.2, 0.3}},
		{"house.house", "rent", "12 EUR/m²/year", []float64{12.0 / 8760}},
	}
	for _, tt := range tests {
		g := m.item(t, tt.item).Given[tt.quantity]
		if g == nil {
			t.Errorf("%s.%s is not given", tt.item, tt.quantity)
			continue
		}
		if g.Written != tt.written {
			t.Errorf("%s.%s written %q, want %q", tt.item, tt.quantity, g.Written, tt.written)
		}
		if len(g.Values) != len(tt.values) {
			t.Errorf("%s.%s = %v, want %v", tt.item, tt.quantity, g.Values, tt.values)
			continue
		}
		for i, v := range g.Values {
			if math.Abs(v-tt.values[i]) > 1e-15*math.Abs(tt.values[i]) {
				t.Errorf("%s.%s = %v, want %v", tt.item, tt.quantity, g.Values, tt.values)
			}
		}
	}
}

func TestTablesAndLists(t *testing.T) {
	m := loadGood(t)
	curve := m.item(t, "heater.stove").Given["curve"].Points
	if want := [][]float64{{-10, 10}, {500, 1000}}; fmt.Sprintf("%.9v", curve) != fmt.Sprintf("%.9v", want) {
		t.Errorf("curve = %v, want %v, sorted by the first column", curve, want)
	}
	watered := m.item(t, "house.house").Given["watered"].Values
	if len(watered) != 48 || !reflect.DeepEqual(watered[43:], []float64{1, 1, 0, 1, 0}) {
		t.Errorf("watered = %v", watered)
	}
	if got := m.item(t, "plan.full").Given["crates"].Texts; !reflect.DeepEqual(got, []string{"seed", "pots"}) {
		t.Errorf("crates = %v", got)
	}
	if got := m.item(t, "plan.odd_1").Given["crates"]; !got.Default || len(got.Texts) != 0 {
		t.Errorf("crates by default = %+v", got)
	}
	if m.item(t, "house.house").Given["coldest"] != nil {
		t.Error("an optional input that is not given has a value")
	}
}

func TestModel(t *testing.T) {
	m := loadGood(t)
	got := fmt.Sprintf("%s|%s|%s|%s|%s", m.Title, m.About, m.Question, m.Date, m.Currency)
	if want := "A cold spring|Two lines\nof story.|Which heater?|2025-03-01|EUR"; got != want {
		t.Errorf("header %q, want %q", got, want)
	}
	var names, items, files, axes []string
	for _, k := range m.Kinds {
		names = append(names, k.Name+"/"+k.Plural+"/"+k.Title)
		for _, it := range k.Items {
			items = append(items, k.Name+"."+it.Name+"/"+it.Label+"/"+it.Group)
		}
	}
	for _, f := range m.Files {
		files = append(files, fmt.Sprint(f.Name, " ", f.Rules))
	}
	for _, a := range m.Axes {
		axes = append(axes, fmt.Sprint(a.Name, " ", a.Title, " ", a.Steps, " ", a.Kind != nil))
	}
	compare(t, "kinds", names, "heater/heaters/Heaters", "crate/crates/Crates", "house//House", "plan/plans/Plans", "constant//Constants")
	compare(t, "items", items, "heater.stove/Old stove/", "heater.fan//", "crate.seed//", "crate.pots//", "house.house//",
		"plan.fan_1x//warm", "plan.fan_2x//warm", "plan.stove_1x//warm", "plan.stove_2x//warm",
		"plan.odd_1/fan at 10 %/odd", "plan.odd_2/fan at [\"20 %\", \"30 %\"]/odd", "plan.full//", "constant.constant//")
	compare(t, "files", files, "greenhouse.toml false", "lists/crates.toml false", "rules/greenhouse.toml true")
	compare(t, "axes", axes, "month Month 12 false", "shelf Shelf 4 false", "heater Heaters 2 true")

	heater := m.Kinds[0]
	var sections []string
	for _, q := range heater.Quantities {
		sections = append(sections, strings.TrimSpace(q.Name+" "+q.Section+" "+q.Sheet))
	}
	compare(t, "sections", sections, "voltage Label", "current Label", "power Label", "price Label",
		"efficiency Label", "fuel Use Running", "safe Use Running", "curve Use Running")
	if k := m.item(t, "plan.fan_1x").Keep; k == nil || k.Text != "count < 3" {
		t.Errorf("keep = %+v", k)
	}
	if row := m.Tables[0].Rows[1]; row.Numbers[0] != 0.022 || row.Numbers[1] != 4500 || row.Texts[2] != "wide" {
		t.Errorf("row = %+v", row)
	}
	if q := heater.Quantities[1]; q.Min.Value != 0 || q.Max.Written != "100 A" || q.UsualMin.Value != 0.1 {
		t.Errorf("limits of current: %+v", q)
	}
}

func compare(t *testing.T, what string, got []string, want ...string) {
	t.Helper()
	if strings.Join(got, "\n") != strings.Join(want, "\n") {
		t.Errorf("%s:\n got %q\nwant %q", what, got, want)
	}
}

// TestFormulasOfScenario looks up the places of formulas in the text itself.
func TestFormulasOfScenario(t *testing.T) {
	m := loadGood(t)
	for _, tt := range []struct {
		item, quantity, word string
	}{
		{"heater.stove", "current", "heaters"},
		{"heater.stove", "current", "fan"},
		{"heater.fan", "safe", "price"},
	} {
		f := m.item(t, tt.item).Given[tt.quantity].Formula
		at := f.Pos(strings.Index(f.Text, tt.word), len(tt.word))
		line := []rune(strings.Split(string(m.Files[0].Text), "\n")[at.Line-1])
		if got := string(line[at.Col-1 : at.Col-1+at.Len]); got != tt.word {
			t.Errorf("%q stands at %s: %q", tt.word, at, got)
		}
	}
}

func TestUnreadable(t *testing.T) {
	rules := fstest.MapFS{"a.toml": {Data: []byte("[kind.box]\nmany = \"boxes\"\n[box.mass]\nunit = \"kgs\"\n")}}
	tests := []struct {
		name  string
		files fstest.MapFS
		std   fstest.MapFS
		want  string
	}{
		{"no scenario", fstest.MapFS{}, rules, "s.toml: the file `s.toml` cannot be read; rules/a.toml:4:9: "},
		{"scenario with a syntax error", fstest.MapFS{"s.toml": {Data: []byte("a = ")}}, rules,
			"s.toml:1:4: a value is missing; rules/a.toml:4:9: "},
		{"rules with a syntax error hide nothing else, and names are not missing", fstest.MapFS{"s.toml": {Data: []byte(
			"[box.a]\nmass = 3\nwidth = 3\n[crate.b]\n[tin.C]\n[tin.c]\ntitle = 3")}},
			fstest.MapFS{"a.toml": rules["a.toml"], "b.toml": {Data: []byte("[kind")}},
			"rules/a.toml:4:9: ; rules/b.toml:1:6: "},
		{"without standard rules", fstest.MapFS{"s.toml": {Data: []byte("standard_rules = false\n[box.a]")}}, rules,
			"s.toml:2:2: there is no kind `box`"},
		{"too large", fstest.MapFS{"s.toml": {Data: bytes.Repeat([]byte("\n"), maxFileSize+1)}}, nil, "s.toml: the file is larger than 1 MB"},
		{"byte order mark", fstest.MapFS{"s.toml": {Data: []byte("\ufefftitle = 3")}}, nil, "s.toml:1:9: `title` is text"},
		{"nothing", nil, nil, "s.toml: the file `s.toml` cannot be read"},
		{"empty", fstest.MapFS{"s.toml": {}}, nil, ""},
	}
	for _, tt := range tests {
		src := Sources{Files: tt.files, Scenario: "s.toml"}
		if tt.std != nil {
			src.Standard = tt.std
		}
		m, diags := Load(src)
		if m == nil {
			t.Fatal(tt.name, "no model")
		}
		want := strings.Split(tt.want, "; ")
		if tt.want == "" {
			want = nil
		}
		ok := len(want) == len(diags)
		for i, d := range diags {
			ok = ok && strings.HasPrefix(d.At.String()+": "+d.Summary, want[i])
		}
		if !ok {
			t.Errorf("%s: got %s, want %s", tt.name, told(diags), tt.want)
		}
	}
}

func told(diags diag.List) string {
	var out []string
	for _, d := range diags {
		out = append(out, d.At.String()+": "+d.Summary)
	}
	return strings.Join(out, "; ")
}
