package main

import (
	"bytes"
	"flag"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"bankwright/engine/oracle"
)

var update = flag.Bool("update", false, "renew what comes out: in README.md, in the folder straight")

// TestReadme runs every `$ bankwright …` line of the pages for users and compares what
// is shown below it with what comes out, standard error included. To renew (-update of
// all tests would write the straight Go anew as well):
//
//	go test ./cmd/bankwright -run TestReadme -update
func TestReadme(t *testing.T) {
	oracle.OneCore(t)
	for _, page := range []string{"README.md", "scenarios/README.md", "rules/README.md"} {
		path, err := filepath.Abs("../../" + page)
		if err != nil {
			t.Fatal(err)
		}
		t.Run(page, func(t *testing.T) { readmePage(t, path) })
	}
}

// readmePage runs the commands of one page, one after the other in a folder of its own.
func readmePage(t *testing.T, path string) {
	text, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	t.Chdir(t.TempDir())
	lines := strings.Split(string(text), "\n")
	var renewed []string
	commands := 0
	for i := 0; i < len(lines); i++ {
		renewed = append(renewed, lines[i])
		command, ok := strings.CutPrefix(lines[i], "    $ ")
		if !ok {
			continue
		}
		var shown []string
		for i+1 < len(lines) && strings.HasPrefix(lines[i+1], "    ") && !strings.HasPrefix(lines[i+1], "    $ ") || i+2 < len(lines) && lines[i+1] == "" && strings.HasPrefix(lines[i+2], "    ") && !strings.HasPrefix(lines[i+2], "    $ ") {
			i++
			shown = append(shown, strings.TrimPrefix(lines[i], "    "))
		}
		commands++
		if file, ok := strings.CutPrefix(command, "cat >> "); ok { // what is shown is typed
			appendTo(t, file, strings.Join(shown, "\n")+"\n")
			for _, l := range shown {
				renewed = append(renewed, strings.TrimRight("    "+l, " "))
			}
			continue
		}
		got := readmeCommand(t, command)
		if len(shown) > 0 && strings.Join(shown, "\n") != strings.Join(got, "\n") {
			if !*update {
				t.Errorf("$ %s\nshown:\n%s\ncomes out:\n%s", command, strings.Join(shown, "\n"), strings.Join(got, "\n"))
			}
			shown = got
		}
		for _, l := range shown {
			renewed = append(renewed, strings.TrimRight("    "+l, " "))
		}
	}
	if commands < 3 {
		t.Errorf("%s shows only %d commands", path, commands)
	}
	if *update {
		if err := os.WriteFile(path, []byte(strings.Join(renewed, "\n")), 0o644); err != nil {
			t.Fatal(err)
		}
	}
}

// readmeCommand runs one line: a bankwright command, or sed to put a fault into
// an example.
func readmeCommand(t *testing.T, command string) []string {
	t.Helper()
	words := strings.Fields(command)
	if words[0] == "sed" { // sed -i 's/OLD/NEW/' FILE
		rule := strings.Split(strings.ReplaceAll(command, `\/`, "\x00"), "/")
		for i := range rule {
			rule[i] = strings.NewReplacer("\x00", "/", `\*`, "*", `\n`, "\n").Replace(rule[i])
		}
		file := strings.Trim(rule[3], "' ")
		text, err := os.ReadFile(file)
		if err != nil || !bytes.Contains(text, []byte(rule[1])) {
			t.Fatalf("%s: %v", command, err)
		}
		if err := os.WriteFile(file, bytes.ReplaceAll(text, []byte(rule[1]), []byte(rule[2])), 0o644); err != nil {
			t.Fatal(err)
		}
		return nil
	}
	if words[0] != "bankwright" {
		t.Fatalf("README.md shows %q, which this test cannot run", command)
	}
	var out bytes.Buffer
	run(words[1:], &out, &out)
	return strings.Split(strings.TrimRight(out.String(), "\n"), "\n")
}

// appendTo adds a text to a file that is there.
func appendTo(t *testing.T, file, text string) {
	t.Helper()
	f, err := os.OpenFile(file, os.O_APPEND|os.O_WRONLY, 0)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	if _, err := f.WriteString(text); err != nil {
		t.Fatal(err)
	}
}

// TestReadmeReturned: what README.md shows that a client changed in the starter's
// workbook is what readback lists, cells included. Renewed as the rest.
func TestReadmeReturned(t *testing.T) {
	oracle.OneCore(t)
	path, err := filepath.Abs("../../README.md")
	if err != nil {
		t.Fatal(err)
	}
	text, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	shown := regexp.MustCompile(`(?m)(^    battery\.large\.price .* -> .*!.*\n)(^    .* -> .*\n)+`).Find(text)
	t.Chdir(t.TempDir())
	readmeCommand(t, "bankwright new cabin")
	returned, err := os.ReadFile("cabin.toml")
	if err != nil {
		t.Fatal(err)
	}
	for old, new := range map[string]string{`= "640 USD"`: `= "672 USD"`, `depth_of_discharge = "80 %"`: `depth_of_discharge = "70 %"`} {
		if bytes.Count(returned, []byte(old)) != 1 {
			t.Fatalf("the starter does not hold %s once", old)
		}
		returned = bytes.ReplaceAll(returned, []byte(old), []byte(new))
	}
	if err := os.WriteFile("returned.toml", returned, 0o644); err != nil {
		t.Fatal(err)
	}
	readmeCommand(t, "bankwright book returned.toml")
	var out, errs bytes.Buffer
	run([]string{"readback", "returned.xlsx", "cabin.toml"}, &out, &errs)
	want := regexp.MustCompile(`(?m)^`).ReplaceAllString(strings.TrimSuffix(out.String(), "\n"), "    ") + "\n"
	switch {
	case len(shown) == 0:
		t.Error("README.md shows no change that comes back")
	case string(shown) == want:
	case *update:
		if err := os.WriteFile(path, bytes.Replace(text, shown, []byte(want), 1), 0o644); err != nil {
			t.Fatal(err)
		}
	default:
		t.Errorf("README.md shows\n%s\ncomes out\n%s\n%s", shown, want, errs.String())
	}
}
