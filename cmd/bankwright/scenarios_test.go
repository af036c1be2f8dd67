package main

import (
	"maps"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"sync"
	"testing"

	"bankwright/engine"
	"bankwright/engine/decl"
	"bankwright/engine/diag"
	"bankwright/engine/oracle"
	"bankwright/rules"
	"bankwright/scenarios"
)

// stories are the embedded scenarios: which alternative is best, and which are
// no choice, by the stops and unfits that they are there to show.
var stories = map[string]struct {
	best string
	out  map[string]string
}{
	"alder_bay.toml": {"one_oak", map[string]string{
		"two_ash": "autonomy unmet_energy",
	}},
	"narrowboat.toml": {"reed_2s3p", map[string]string{
		"reed_2s2p":   "autonomy",
		"willow_2s1p": "autonomy",
		"reed_2s4p":   "string_fuse_interrupting",
		"willow_2s3p": "string_fuse_interrupting",
		"willow_2s4p": "fits_the_space fuse_interrupting string_fuse_interrupting",
		"old_and_new": "unlike_in_series",
	}},
	"quarry_house.toml": {"three_slate", map[string]string{
		"two_slate":  "autonomy charging_current",
		"aged_slate": "charging_current",
		"old_cable":  "fuse_protects_cable",
	}},
	"market_stall.toml": {"two_crates", map[string]string{
		"one_trunk":   "carried_alone",
		"one_crate":   "autonomy unmet_energy",
		"old_charger": "unmet_energy",
		"at_48v":      "touch_voltage",
	}},
	"starter.toml": {"one_large", nil},
	"bench.toml":   {"two_hazel", nil},
}

// notGiven are the inputs that no scenario gives, with the reason.
var notGiven = map[string]string{
	"site.mean_day":            "the calendar's",
	"site.month_days":          "the calendar's",
	"site.dry_touch_voltage":   "a limit of a standard",
	"site.wet_touch_voltage":   "a limit of a standard",
	"site.unit_energy_limit":   "a limit of a fire code",
	"site.indoor_energy_limit": "a limit of a fire code",
}

// warned are the warnings that scenarios are there to show, by what they say.
var warned = map[string][]string{
	"bench.toml": {"nothing was recorded for 0:01:10"},
}

// told holds the scenarios that were loaded.
var told sync.Map

// story loads an embedded scenario, which must be without fault or warning, but
// for those that it is there to show.
func story(t testing.TB, name string) *engine.Model {
	t.Helper()
	if m, ok := told.Load(name); ok {
		return m.(*engine.Model)
	}
	m, list, files := engine.Load(engine.Sources{Files: scenarios.Files, Scenario: name, Standard: rules.Files})
	expected := warned[name]
	if len(list) == len(expected) {
		for i, w := range expected {
			if list[i].Severity != diag.Warning || !strings.Contains(list[i].Summary, w) {
				expected = nil
			}
		}
	}
	if len(list) != len(expected) {
		var b strings.Builder
		diag.Write(&b, list, func(name string) []byte {
			i := slices.IndexFunc(files, func(f *decl.File) bool { return f.Name == name })
			return files[max(i, 0)].Text
		}, false, 0)
		t.Fatalf("%s:\n%s", name, b.String())
	}
	told.Store(name, m)
	return m
}

// TestScenarios: each embedded scenario loads without fault or warning, computes
// the same in a second way, has the expected winner, and what is no choice in it
// is so for the reasons that it is there to show.
func TestScenarios(t *testing.T) {
	oracle.OneCore(t)
	files, err := scenarios.Files.ReadDir(".")
	if err != nil {
		t.Fatal(err)
	}
	for _, f := range files {
		if _, ok := stories[f.Name()]; !ok && !f.IsDir() {
			t.Errorf("%s is not among the scenarios that are looked at", f.Name())
		}
	}
	for name, want := range stories {
		t.Run(name, func(t *testing.T) {
			m := story(t, name)
			if bad, cells := m.Result.Verify(); len(bad) > 0 || cells < 1000 {
				t.Errorf("%d of %d cells differ", len(bad), cells)
			}
			comparison := m.Compare()
			items := comparison.Kind.Items
			best, ok := comparison.Best()
			if !ok || items[best.Item].Name != want.best {
				t.Errorf("best is %s, %t, want %s", items[best.Item].Name, ok, want.best)
			}
			found := map[string][]string{}
			for _, o := range comparison.Outcomes {
				if o.Applicable && !o.Passed && o.Check.Severity != decl.Caution {
					found[items[o.Item].Name] = append(found[items[o.Item].Name], o.Check.Name)
				}
			}
			got := map[string]string{}
			for item, checks := range found {
				slices.Sort(checks)
				got[item] = strings.Join(checks, " ")
			}
			if !maps.Equal(got, want.out) {
				t.Errorf("no choice are %v, want %v", got, want.out)
			}
			if left := len(items) - len(got); left < 2 {
				t.Errorf("only %d alternatives can be chosen", left)
			}
		})
	}
}

// inputsOf are the inputs of a model that the standard rules declare.
func inputsOf(m *engine.Model) map[string]*decl.Quantity {
	inputs := map[string]*decl.Quantity{}
	for _, k := range m.Kinds {
		for _, q := range k.Kind.Quantities {
			// Constants belong to the rules; what a scenario declares is its own.
			if !q.Computed() && k.Name != "constant" && q.At.File != m.Model.Files[0].Name {
				inputs[k.Name+"."+q.Name] = q
			}
		}
	}
	return inputs
}

// TestScenariosGiveEveryInput: between them the scenarios give every input of the
// standard rules, optional ones and those with a default included.
func TestScenariosGiveEveryInput(t *testing.T) {
	given := map[string]bool{}
	var inputs map[string]*decl.Quantity
	for name := range stories {
		m := story(t, name)
		inputs = inputsOf(m)
		for input, q := range inputs {
			for _, it := range q.Kind.Items {
				if g := it.Given[q.Name]; g != nil && !g.Default {
					given[input] = true
				}
			}
		}
	}
	if len(inputs) < 150 {
		t.Fatalf("only %d inputs", len(inputs))
	}
	for input := range inputs {
		reason, excepted := notGiven[input]
		switch {
		case !given[input] && !excepted:
			t.Errorf("no scenario gives %s", input)
		case given[input] && excepted:
			t.Errorf("%s is given, though it is %s", input, reason)
		}
	}
	for input := range notGiven {
		if inputs[input] == nil {
			t.Errorf("there is no input %s", input)
		}
	}
}

// TestScenariosShowEveryWay: each way in which a source may run, strings may be
// joined, loads be fed and wear be counted, each family of tables and each
// severity of a check that is not met occurs in a scenario; and what a scenario
// describes is used in it.
func TestScenariosShowEveryWay(t *testing.T) {
	seen := map[string]bool{}
	ways := []string{"source.runs", "alternative.take_off", "load.supply", "site.wire_tables", "site.wear_counting", "site.energy_basis"}
	var inputs map[string]*decl.Quantity
	for name := range stories {
		m := story(t, name)
		inputs = inputsOf(m)
		used := map[string]bool{}
		for _, k := range m.Kinds {
			for _, q := range k.Kind.Quantities {
				for _, it := range k.Items {
					if g := it.Given[q.Name]; g != nil {
						for _, text := range g.Texts {
							seen[k.Name+"."+q.Name+"="+text] = true
							if q.Refers != nil {
								used[q.Refers.Name+"."+text] = true
							}
						}
					}
				}
			}
			for _, o := range m.Outcomes(k) {
				if o.Applicable && !o.Passed {
					seen[o.Check.Severity.String()] = true
				}
			}
		}
		for _, k := range m.Kinds {
			if k.Name != "battery" && k.Name != "inverter" && k.Name != "source" {
				continue
			}
			for _, it := range k.Items {
				if !used[k.Name+"."+it.Name] {
					t.Errorf("%s: no alternative uses %s.%s", name, k.Name, it.Name)
				}
			}
		}
	}
	for _, way := range ways {
		if len(inputs[way].Choices) < 2 {
			t.Errorf("%s is no choice", way)
		}
		for _, c := range inputs[way].Choices {
			if !seen[way+"="+c] {
				t.Errorf("no scenario shows %s = %q", way, c)
			}
		}
	}
	for _, s := range []decl.Severity{decl.Stop, decl.Unfit, decl.Caution} {
		if !seen[s.String()] {
			t.Errorf("in no scenario a %s is not met", s)
		}
	}
}

// pageCommand is a command that a page suggests, up to a remark in brackets.
var pageCommand = regexp.MustCompile(`(?m)^#   bankwright (.*?)(?:  +\(.*)?$`)

// TestScenariosExplainThemselves: a page of plain explanation stands at the head of
// each scenario, and the commands that it suggests run.
func TestScenariosExplainThemselves(t *testing.T) {
	oracle.OneCore(t)
	work := t.TempDir()
	if err := os.CopyFS(filepath.Join(work, "scenarios"), scenarios.Files); err != nil {
		t.Fatal(err)
	}
	t.Chdir(work)
	for name := range stories {
		text, err := scenarios.Files.ReadFile(name)
		if err != nil {
			t.Fatal(err)
		}
		var page []string
		for _, l := range strings.Split(string(text), "\n") {
			if !strings.HasPrefix(l, "#") {
				break
			}
			page = append(page, l)
		}
		head := strings.Join(page, "\n")
		if name == scenarios.Starter {
			continue // its remarks stand beside the lines; scripts and README run it
		}
		if len(page) < 25 || len(page) > 45 {
			t.Errorf("%s has %d lines of explanation at its head", name, len(page))
		}
		for _, part := range []string{"The question.", "What is asked for.", "What fills the bank.", "What is watched.", "How to read it.", "invented."} {
			if !strings.Contains(head, part) {
				t.Errorf("the page of %s does not say %q", name, part)
			}
		}
		commands := pageCommand.FindAllStringSubmatch(head, -1)
		if len(commands) < 3 {
			t.Errorf("the page of %s suggests %d commands", name, len(commands))
		}
		for _, c := range commands {
			if out := bankwright(t, strings.Fields(c[1])...); len(out) < 5 {
				t.Errorf("bankwright %s prints %q", c[1], out)
			}
		}
	}
}
