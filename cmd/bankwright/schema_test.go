package main

import (
	"bytes"
	"io/fs"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"bankwright/engine/oracle"
	"bankwright/scenarios"
)

// shipped are the scenarios and lists that come with the program, by their path from
// the folder scenarios.
func shipped(t *testing.T) (names []string) {
	t.Helper()
	for _, pattern := range []string{"*.toml", "lists/*.toml"} {
		list, err := fs.Glob(scenarios.Files, pattern)
		if err != nil || len(list) == 0 {
			t.Fatal(pattern, err)
		}
		names = append(names, list...)
	}
	return names
}

// TestSchemaFile: the schema in the folder scenarios is that of the rules as they are,
// those of the scenarios beside it included, and each of these begins by naming it.
// To renew it:
//
//	go test ./cmd/bankwright -run TestSchemaFile -update
func TestSchemaFile(t *testing.T) {
	folder := filepath.Join(root, "scenarios")
	args := []string{"schema"}
	for _, name := range shipped(t) {
		up := strings.Repeat("../", strings.Count(name, "/"))
		text, err := fs.ReadFile(scenarios.Files, name)
		if err != nil {
			t.Fatal(err)
		}
		if first, _, _ := strings.Cut(string(text), "\n"); first != "#:schema "+up+schemaName {
			t.Errorf("%s begins with %q", name, first)
		}
		if up == "" {
			args = append(args, filepath.Join(folder, name))
		}
	}
	want := bankwright(t, args...)
	if again := bankwright(t, args...); again != want {
		t.Error("the same rules give another schema")
	}
	path := filepath.Join(folder, schemaName)
	if *update {
		if err := os.WriteFile(path, []byte(want), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	if have, err := os.ReadFile(path); err != nil || string(have) != want {
		t.Errorf("scenarios/%s is not what the rules give (%v); go test ./cmd/bankwright -run TestSchemaFile -update renews it", schemaName, err)
	}
}

// taplo is the path of the general checker of TOML by that name.
func taplo(t *testing.T) string {
	t.Helper()
	path := filepath.Join(os.Getenv("BANKWRIGHT_NODE_MODULES"), ".bin", "taplo")
	if _, err := os.Stat(path); err != nil {
		oracle.Missing(t, "BANKWRIGHT_NODE_MODULES names no folder with the package @taplo/cli")
	}
	return path
}

// lint runs the checker on files, which name their schema themselves. It returns what
// is said of each file, nothing of those that pass.
func lint(t *testing.T, folder string, files ...string) map[string]string {
	t.Helper()
	run := exec.Command(taplo(t), append([]string{"lint", "--colors", "never", "--no-auto-config"}, files...)...)
	run.Dir = folder
	out, err := run.CombinedOutput()
	said := map[string]string{}
	for _, message := range regexp.MustCompile(`(?m)^error: `).Split(string(out), -1)[1:] {
		at := regexp.MustCompile(`┌─ (.*):\d+:\d+\n`).FindStringSubmatch(message)
		if at == nil {
			t.Fatalf("it is not told where: %s", message)
		}
		first, _, _ := strings.Cut(message, "\n")
		said[filepath.Base(at[1])] += first + "\n"
	}
	if (err != nil) != (len(said) > 0) {
		t.Fatalf("%v\n%s", err, out)
	}
	return said
}

// TestSchemaPasses: the general checker of TOML finds nothing wrong with any file that
// comes with the program, nor with those of the tests, by the schemas of their own rules.
func TestSchemaPasses(t *testing.T) {
	for name, text := range lint(t, filepath.Join(root, "scenarios"), shipped(t)...) {
		t.Errorf("%s: %s", name, text)
	}
	begun := t.TempDir() // as the starter says
	bankwright(t, "new", filepath.Join(begun, "cabin"))
	bankwright(t, "schema", filepath.Join(begun, "cabin.toml"), "-o", filepath.Join(begun, schemaName))
	for name, text := range lint(t, begun, "cabin.toml") {
		t.Errorf("%s: %s", name, text)
	}
	folder, files := t.TempDir(), 0
	for _, pattern := range []string{"testdata/*.toml", "testdata/*/scenario.toml", "engine/testdata/good/*.toml"} {
		paths, err := filepath.Glob(filepath.Join(root, pattern))
		if err != nil || len(paths) == 0 {
			t.Fatal(pattern, err)
		}
		for _, path := range paths {
			files++
			text, err := os.ReadFile(path)
			if err != nil {
				t.Fatal(err)
			}
			name := filepath.Base(path)
			bankwright(t, "schema", path, "-o", filepath.Join(folder, name+".json"))
			if err := os.WriteFile(filepath.Join(folder, name), append([]byte("#:schema "+name+".json\n"), text...), 0o644); err != nil {
				t.Fatal(err)
			}
		}
	}
	for name, text := range lint(t, folder, "*.toml") {
		t.Errorf("%s: %s", name, text)
	}
	if list, _ := os.ReadDir(folder); len(list) != 2*files {
		t.Errorf("%d files for %d scenarios: two have one name", len(list), files)
	}
}

// slip is a line of testdata/schema/wrong.txt.
type slip struct{ what, old, new, word string }

func slips(t *testing.T) (list []slip) {
	t.Helper()
	for _, line := range strings.Split(file(t, "testdata/schema/wrong.txt"), "\n") {
		if line == "" || strings.HasPrefix(line, "#") {
			continue
		}
		parts := strings.Split(line, "|")
		if len(parts) != 4 {
			t.Fatalf("not four parts: %s", line)
		}
		for i, p := range parts {
			parts[i] = strings.ReplaceAll(strings.Trim(p, " "), `\n`, "\n")
		}
		list = append(list, slip{parts[0], parts[1], parts[2], parts[3]})
	}
	if len(list) < 30 {
		t.Fatalf("only %d slips", len(list))
	}
	return list
}

// in is a scenario with the slip in it.
func (s slip) in(t *testing.T, right string) string {
	t.Helper()
	if strings.Count(right, s.old) == 0 {
		t.Fatalf("%s: the scenario does not hold %q", s.what, s.old)
	}
	return strings.Replace(right, s.old, s.new, 1)
}

// TestSchemaSlips: what the schema is to mark is refused by the program.
func TestSchemaSlips(t *testing.T) {
	oracle.OneCore(t)
	right := "#:schema " + schemaName + "\n" + file(t, "testdata/wrong.toml")
	for _, s := range slips(t) {
		var out, errs bytes.Buffer
		if status := run([]string{"check", written(t, "slip.toml", s.in(t, right))}, &out, &errs); status != exitFailed {
			t.Errorf("%s: exit status %d", s.what, status)
		}
	}
}

// TestSchemaMarks: the general checker of TOML finds each slip, and says what is wrong.
func TestSchemaMarks(t *testing.T) {
	right := "#:schema " + schemaName + "\n" + file(t, "testdata/wrong.toml")
	folder := t.TempDir()
	files := map[string]string{schemaName: bankwright(t, "schema"), "right.toml": right}
	wrong := map[string]slip{}
	for _, s := range slips(t) {
		name := strings.ReplaceAll(s.what, " ", "_") + ".toml"
		wrong[name], files[name] = s, s.in(t, right)
	}
	for name, text := range files {
		if err := os.WriteFile(filepath.Join(folder, name), []byte(text), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	said := lint(t, folder, "*.toml")
	if said["right.toml"] != "" {
		t.Errorf("the right as it is: %s", said["right.toml"])
	}
	for name, s := range wrong {
		if !strings.Contains(said[name], s.word) {
			t.Errorf("%s: not told with %q, but:\n%s", s.what, s.word, said[name])
		}
	}
}
