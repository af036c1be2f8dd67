package main

import (
	"bytes"
	"cmp"
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
	"TestKilled|TestNoRoom|TestAtOnce|TestHostileFiles|" +
	"TestImports|TestDependencies|TestEngineKnowsNoTrade|TestRulesAreDocumented|TestScenarios)$"

// mutation is a line that is broken.
type mutation struct {
	File, Old, New string

	Seen string // tests of which one fails
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

// ofRules reports whether the broken line is one of the rules.
func (m mutation) ofRules() bool { return strings.HasPrefix(m.File, "rules/") }

// TestMutations breaks one line at a time, as testdata/mutations/lines.toml lists them, and
// wants one of the tests that stand beside it to fail, which pass before: those of this
// package that drive values through rules, by a broken rule; those of its own package, by
// a broken line of the engine. Where none of them fails others are looked for, so that
// it can be told which to name, or that there is none.
func TestMutations(t *testing.T) {
	if os.Getenv(breaksLines) != "1" {
		t.Skip("it takes minutes: asked for by " + breaksLines + "=1")
	}
	list, err := mutations()
	if err != nil {
		t.Fatal(err)
	}
	unbroken(t, list)
	told := make([]string, len(list))
	t.Run("line", func(t *testing.T) {
		for i, m := range list {
			t.Run(m.File, func(t *testing.T) {
				t.Parallel()
				noticed := lineNoticed
				if m.ofRules() {
					noticed = ruleNoticed
				}
				if told[i] = noticed(t, m, i, m.Seen); told[i] != "" && m.Seen != "" {
					return
				}
				if told[i] = noticed(t, m, i, ""); told[i] == "" {
					told[i] = survived
					t.Errorf("no test notices %s in place of %s", m.New, m.Old)
				} else {
					t.Errorf("write seen = '%s' (and not '%s'), which notices %s in place of %s", told[i], m.Seen, m.New, m.Old)
				}
			})
		}
	})
	plain := func(lines string) string { return strings.Join(strings.Fields(lines), " ") }
	var table strings.Builder
	broken, noticed := 0, 0
	for i, m := range list {
		if told[i] == "" { // not asked for
			continue
		}
		fmt.Fprintf(&table, "%-34s %-42s %s -> %s\n", m.File, told[i], plain(m.Old), plain(m.New))
		if broken++; told[i] != survived {
			noticed++
		}
	}
	t.Logf("of %d broken lines %d are noticed; by which test first:\n%s", broken, noticed, table.String())
}

// unbroken runs the tests that are to fail, as they are run for broken lines, with none.
func unbroken(t *testing.T, list []mutation) {
	var ofRules, ofEngine, packages []string
	for _, m := range list {
		switch {
		case m.Seen == "":
		case m.ofRules():
			ofRules = append(ofRules, m.Seen)
		default:
			ofEngine, packages = append(ofEngine, m.Seen), append(packages, "./"+path.Dir(m.File))
		}
	}
	slices.Sort(packages)
	program, err := os.Executable()
	if err != nil {
		t.Fatal(err)
	}
	tests := exec.Command(program, "-test.short", "-test.skip="+unshown, "-test.run="+strings.Join(ofRules, "|"))
	tests.Env = sparing()
	if by := failing(t, tests); by != "" {
		t.Fatalf("%s fails though nothing is broken", by)
	}
	tests = exec.Command("go", append([]string{"test", "-vet=off", "-short", "-run", strings.Join(ofEngine, "|")}, slices.Compact(packages)...)...)
	tests.Dir, tests.Env = "../..", sparing()
	if by := failing(t, tests); by != "" {
		t.Fatalf("%s fails though nothing is broken", by)
	}
}

// A pattern of all tests, and what is told in the place of one where none fails.
const (
	every    = "^(Test|Fuzz)"
	survived = "SURVIVED"
)

// ruleNoticed is which of some tests, or of all, notices a broken rule, with which the
// built-in example must still load.
func ruleNoticed(t *testing.T, m mutation, place int, seen string) string {
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
	child := exec.Command(program, "-test.short", "-test.failfast", "-test.skip="+unshown, "-test.run="+cmp.Or(seen, every))
	child.Env = append(sparing(), brokenRule+"="+strconv.Itoa(place), "GOMAXPROCS=1")
	return failing(t, child)
}

// lineNoticed is which of some tests of its package notices a broken line of the engine;
// or of all, then of those of package engine, then of those that rules are shown to.
func lineNoticed(t *testing.T, m mutation, _ int, seen string) string {
	text, err := m.apply()
	if err != nil {
		t.Fatal(err)
	}
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
	packages := []string{path.Dir(m.File)}
	if seen == "" {
		packages = slices.Compact(append(packages, "engine", "cmd/bankwright"))
	}
	for _, tests := range packages {
		skip := "^$"
		if tests == "cmd/bankwright" {
			skip = unshown
		}
		child := exec.Command("go", "test", "-vet=off", "-short", "-failfast", "-p", "1",
			"-overlay", filepath.Join(folder, "overlay.json"), "-run", cmp.Or(seen, every), "-skip", skip, "./"+tests)
		child.Dir, child.Env = top, append(sparing(), "GOMAXPROCS=1")
		if by := failing(t, child); by != "" {
			return by
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
