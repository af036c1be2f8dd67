package main

import (
	"bytes"
	"encoding/json"
	"fmt"
	"io/fs"
	"os"
	"os/exec"
	"path"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/BurntSushi/toml"

	"bankwright/engine"
	"bankwright/rules"
	"bankwright/scenarios"
)

// Environment variables: that lines are broken at all, and, for the tests of this
// package as a child process, by its place in testdata/mutations/lines.toml the rule that is
// broken in it.
const (
	breaksLines = "BANKWRIGHT_MUTATIONS"
	brokenRule  = "BANKWRIGHT_BROKEN_RULE"
)

// unshown are the tests of this package that a broken line is not shown to: those that
// hold a copy of the rules or of what is printed against them, which notice any change,
// and those that take long.
const unshown = "^(TestStraight.*|TestRulesPage|TestReadme.*|TestScripts|TestHelp|TestVersion|TestManual|TestSchema.*|" +
	"TestSweepEveryInput|TestSweepFew|TestScenariosExplainThemselves|TestStream.*|TestCatalogue.*|TestGridPoints|" +
	"TestInterrupt|TestWatch.*|TestProgress|TestNumpyCosts|TestMutations|TestCompareIsQuick|TestWrong|TestUsual|" +
	"TestImports|TestDependencies|TestEngineKnowsNoTrade|TestRulesAreDocumented|TestScenarios)$"

// mutation is a line that is broken.
type mutation struct {
	File, Old, New string

	Seen string // the tests that are run first; may be empty
}

// mutations are those of testdata/mutations/lines.toml.
func mutations() (list []mutation, err error) {
	var all struct{ Mutation []mutation }
	_, err = toml.DecodeFile("../../testdata/mutations/lines.toml", &all)
	return all.Mutation, err
}

// apply is the file with the broken line.
func (m mutation) apply() ([]byte, error) {
	text, err := os.ReadFile(filepath.Join("../..", m.File))
	if err != nil {
		return nil, err
	}
	if n := bytes.Count(text, []byte(m.Old)); n != 1 || m.Old == m.New {
		return nil, fmt.Errorf("%s has %d times %s", m.File, n, m.Old)
	}
	return bytes.Replace(text, []byte(m.Old), []byte(m.New), 1), nil
}

// standard are the standard rules with the broken one.
func (m mutation) standard() (fs.FS, error) {
	text, err := m.apply()
	return overlay{rules.Files, strings.TrimPrefix(m.File, "rules/"), text}, err
}

// breakRule puts a broken rule among the standard rules, if one is asked for.
func breakRule() error {
	place := os.Getenv(brokenRule)
	if place == "" {
		return nil
	}
	list, err := mutations()
	if err != nil {
		return err
	}
	i, err := strconv.Atoi(place)
	if err != nil || i >= len(list) {
		return fmt.Errorf("there is no mutation %s", place)
	}
	rules.Files, err = list[i].standard()
	return err
}

// TestMutations breaks one line at a time, as testdata/mutations/lines.toml lists them, and
// wants a test to fail each time. A broken rule is shown to the tests of this package
// that drive values through rules; a broken line of the engine to the tests of its own
// package, then to those of package engine, then to those that rules are shown to.
func TestMutations(t *testing.T) {
	if os.Getenv(breaksLines) != "1" {
		t.Skip("it takes minutes: asked for by " + breaksLines + "=1")
	}
	list, err := mutations()
	if err != nil {
		t.Fatal(err)
	}
	told := make([]string, len(list))
	t.Run("line", func(t *testing.T) {
		for i, m := range list {
			t.Run(m.File, func(t *testing.T) {
				t.Parallel()
				text, err := m.apply()
				if err != nil {
					t.Fatal(err)
				}
				by := ""
				if strings.HasPrefix(m.File, "rules/") {
					by = ruleNoticed(t, m, i)
				} else {
					by = lineNoticed(t, m, text)
				}
				if told[i] = by; by == "" {
					told[i] = "SURVIVED"
					t.Errorf("no test notices %s in place of %s", m.New, m.Old)
				}
			})
		}
	})
	var table strings.Builder
	for i, m := range list {
		fmt.Fprintf(&table, "%-34s %-42s %s -> %s\n", m.File, told[i], m.Old, m.New)
	}
	t.Logf("broken lines, and which test notices them first:\n%s", table.String())
}

// stages are the tests to run, one pattern after the other.
func (m mutation) stages() []string {
	if m.Seen == "" {
		return []string{"^(Test|Fuzz)"}
	}
	return []string{m.Seen, "^(Test|Fuzz)"}
}

// ruleNoticed is the test that notices a broken rule, with which the built-in example
// must still load.
func ruleNoticed(t *testing.T, m mutation, place int) string {
	standard, err := m.standard()
	if err != nil {
		t.Fatal(err)
	}
	if model, list, _ := engine.Load(engine.Sources{Files: scenarios.Files, Scenario: scenarios.Default, Standard: standard}); model == nil {
		t.Fatalf("that is no slip, but a fault that is told: %v", list)
	}
	program, err := os.Executable()
	if err != nil {
		t.Fatal(err)
	}
	for _, only := range m.stages() {
		child := exec.Command(program, "-test.short", "-test.failfast", "-test.skip="+unshown, "-test.run="+only)
		child.Env = append(sparing(), brokenRule+"="+strconv.Itoa(place), "GOMAXPROCS=1")
		if by := failing(t, child); by != "" {
			return by
		}
	}
	return ""
}

// lineNoticed is the test that notices a broken line of the engine.
func lineNoticed(t *testing.T, m mutation, text []byte) string {
	folder := t.TempDir()
	broken := filepath.Join(folder, "broken.go")
	top, err := filepath.Abs("../..")
	if err != nil {
		t.Fatal(err)
	}
	replace, err := json.Marshal(map[string]any{"Replace": map[string]string{filepath.Join(top, m.File): broken}})
	if err != nil {
		t.Fatal(err)
	}
	for name, text := range map[string][]byte{broken: text, filepath.Join(folder, "overlay.json"): replace} {
		if err := os.WriteFile(name, text, 0o644); err != nil {
			t.Fatal(err)
		}
	}
	for _, tests := range slices.Compact([]string{path.Dir(m.File), "engine", "cmd/bankwright"}) {
		skip, stages := "^$", m.stages()
		if tests == "cmd/bankwright" {
			skip = unshown
		}
		if tests != path.Dir(m.File) {
			stages = stages[len(stages)-1:]
		}
		for _, only := range stages {
			child := exec.Command("go", "test", "-vet=off", "-short", "-failfast", "-p", "1",
				"-overlay", filepath.Join(folder, "overlay.json"), "-run", only, "-skip", skip, "./"+tests)
			child.Dir, child.Env = top, append(sparing(), "GOMAXPROCS=1")
			if by := failing(t, child); by != "" {
				return by
			}
		}
	}
	return ""
}

// sparing is the environment in which tests skip what they cannot do.
func sparing() []string {
	return slices.DeleteFunc(os.Environ(), func(v string) bool {
		return strings.HasPrefix(v, "BANKWRIGHT_REQUIRE=") || strings.HasPrefix(v, breaksLines+"=")
	})
}

var failed = regexp.MustCompile(`(?m)^\s*--- FAIL: (\S+)`)

// failing runs tests and is the first that fails, "" if none.
func failing(t *testing.T, tests *exec.Cmd) string {
	out, err := tests.CombinedOutput()
	if err == nil {
		return ""
	}
	if at := failed.FindSubmatch(out); at != nil {
		return string(at[1])
	}
	if bytes.Contains(out, []byte("\nfatal error: ")) {
		return "the tests break down"
	}
	t.Fatalf("the tests do not run: %v\n%s", err, out)
	return ""
}
